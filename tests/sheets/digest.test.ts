import { describe, expect, test } from 'vitest';
import { belongsTo, digestIn, digestOf, sheetOf } from '../../src/sheets/digest.ts';
import { fileStem, fileStems, ownLine, plainText, readingRuns } from '../../src/sheets/text.ts';
import { planOf, sampleJobs, wedgeJob } from './plans.ts';

describe('the digest on every page', () => {
  test('the same job has the same digest, given in mm or inches, defaults spelt out or not', async () => {
    const job = wedgeJob(0.3);
    const digest = await digestOf(planOf(job).job);
    expect(digest).toMatch(/^[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}$/);
    const inches = structuredClone(job);
    inches.fittings[0].lug.thickness = `${30 / 25.4} in`;
    expect(await digestOf(planOf(inches).job)).toBe(digest);
    expect(await digestOf(planOf({ ...job, limits: { fitGap: '1.6 mm' } }).job)).toBe(digest);
  });

  test('papers in the other units are told from those in hand: what is called up is rounded in each', async () => {
    const job = planOf(wedgeJob(0.3)).job;
    const us = { ...job, display: 'us' } as const;
    expect(await digestOf(us)).not.toBe(await digestOf({ ...job, display: 'metric' }));
    expect(await sheetOf(us, await digestOf({ ...job, display: 'metric' }))).toBe('other-units');
    expect(await sheetOf({ ...job, display: 'metric' }, await digestOf(us))).toBe('other-units');
    expect(await sheetOf(us, await digestOf(us))).toBe('now');
    expect(await sheetOf(us, '0000-0000-0000')).toBe('neither');
    expect(await sheetOf(us, 'no digest')).toBe('neither');
    expect(await belongsTo(us, await digestOf({ ...job, display: 'metric' }))).toBe(false);
  });

  test('any change of what is planned changes it', async () => {
    const job = wedgeJob(0.3);
    const digest = await digestOf(planOf(job).job);
    const changes: ((copy: ReturnType<typeof wedgeJob>) => void)[] = [
      (copy) => {
        copy.title = 'Grating on, lighter Plover';
      },
      (copy) => {
        copy.fittings[0].lug.thickness = '30.001 mm';
      },
      (copy) => {
        copy.fittings[0].at.side = 'starboard';
      },
      (copy) => {
        copy.ship.heel = '0.01 deg';
      },
      (copy) => {
        copy.limits = { fitGap: '1.7 mm' };
      },
    ];
    for (const change of changes) {
      const copy = structuredClone(job);
      change(copy);
      expect(await digestOf(planOf(copy).job)).not.toBe(digest);
    }
  });

  test('revision, date and size of the papers head a sheet and change nothing on it; what moves a line that is cut by does', async () => {
    const job = wedgeJob(0.3);
    const digest = await digestOf(planOf(job).job);
    const heads = { revision: 'D', date: '2026-03-14', paper: 'letter' };
    expect(await digestOf(planOf({ ...job, papers: heads }).job)).toBe(digest);
    // The defaults spelt out are the defaults.
    expect(await digestOf(planOf({ ...job, papers: { stock: '3 mm', cleanMargin: '5 cm' } }).job)).toBe(digest);
    for (const papers of [{ kerf: '2 mm' }, { stock: '4 mm' }, { cleanMargin: '60 mm' }]) {
      expect(await digestOf(planOf({ ...job, papers }).job)).not.toBe(digest);
    }
    const structured = structuredClone(job);
    structured.ship.structure = { frames: [{ name: 'frame 12', station: '9 m' }] };
    expect(await digestOf(planOf(structured).job)).not.toBe(digest);
  });

  test('where dives ended is no part of it', async () => {
    const job = wedgeJob(0.3);
    const digest = await digestOf(planOf(job).job);
    const stopped = structuredClone(job);
    Object.assign(stopped.fittings[0], { stopped: [{ run: 2, s: '120 mm', dive: 1, note: 'rods short' }] });
    expect(planOf(stopped).job.fittings[0]?.stopped).toEqual([{ run: 2, s: 120, dive: 1, note: 'rods short' }]);
    expect(await digestOf(planOf(stopped).job)).toBe(digest);
  });

  test('a digest as it is typed', () => {
    for (const typed of [
      '7f3a-01c2-04de',
      '7F3A 01C2 04DE',
      ' 7f3a–01c2—04de\n',
      '7f3aO1c2o4de',
      '7f3a-0lc2-04de',
      '７f3a.01c2_04de',
    ]) {
      expect(digestIn(typed), typed).toBe('7f3a-01c2-04de');
    }
    for (const typed of ['', '-', '7f3a-01c2-04d', '7f3a-01c2-04de0', '7f3a-01c2-04dg', 'rev B', '7f3a/01c2/04de']) {
      expect(digestIn(typed), typed).toBeUndefined();
    }
  });

  test('a sheet in hand is told from an older one, however its digest was typed', async () => {
    const { job } = planOf(wedgeJob(0.3));
    const digest = await digestOf(job);
    expect(await belongsTo(job, digest)).toBe(true);
    expect(await belongsTo(job, ` ${digest.toUpperCase().replaceAll('-', ' ')} `)).toBe(true);
    expect(
      await belongsTo(
        job,
        digest.replace(/.$/, (c) => (c === '0' ? '1' : '0')),
      ),
    ).toBe(false);
    expect(await belongsTo(job, '')).toBe(false);
  });

  test('samples all differ', async () => {
    const digests = await Promise.all(sampleJobs().map(({ job, file }) => digestOf(planOf(job, file).job)));
    expect(new Set(digests).size).toBe(digests.length);
  });
});

describe('names and text from a job', () => {
  test('file names hold letters and figures only, and no two are alike', () => {
    expect(fileStem('../../etc/passwd')).toBe('etc-passwd');
    expect(fileStem('P 1/2"')).toBe('P-1-2');
    expect(fileStem('  ')).toBe('fitting');
    expect(fileStem('CON')).toBe('CON-fitting');
    expect(fileStem('Ärm 3')).toBe('Ärm-3');
    expect(fileStems(['a/b', 'A b', 'a-b'])).toEqual(['a-b', 'A-b-2', 'a-b-3']);
  });

  test('text is one line, and nothing in it turns the line about', () => {
    expect(plainText('a\nb\tc')).toBe('a b c');
    expect(plainText('x \u202E y')).toBe('x \\u202e y');
    expect(readingRuns('ab שלום לך cd').map((run) => run.trim())).toEqual(['ab', 'שלום לך', 'cd']);
    expect(readingRuns('ab').length).toBe(1);
  });

  test('a line with words from the right stands as the Unicode bidirectional algorithm (UAX #9) orders it, worked by hand', () => {
    // What is seen from left to right: letters that read from the right are turned round where the line is laid out.
    const seen = (text: string) =>
      readingRuns(text)
        .map((run) => (/[\u0590-\u06FF]/.test(run) ? [...run].reverse().join('') : run))
        .join('');
    for (const [stored, shown] of [
      ['car means אבג.', 'car means גבא.'],
      ['said אב 123, 456, גד', 'said דג ,456 ,123 בא'],
      ['אב (גד) end', '(דג) בא end'],
      ['אב 3.5 גד', 'דג 3.5 בא'],
      ['lug אב 12', 'lug 12 בא'],
      ['12 אב', '12 בא'],
      ['אב x 7', 'בא x 7'],
    ] as const)
      expect(seen(stored)).toBe(shown);
  });

  test('a name that stands alone reads the way of its first letter (UAX #9: P2, P3, N0 to N2, L2), worked by hand', () => {
    const seen = (text: string) =>
      readingRuns(ownLine(text))
        .map((run) => (/[\u0590-\u06FF]/.test(run) ? [...run].reverse().join('') : run))
        .join('');
    for (const [stored, shown] of [
      ['אב gd', 'gd בא'],
      ['אב (12) גד', 'דג (12) בא'],
      ['אב Alder (7).', '.Alder (7) בא'],
      ['12 אב', 'בא 12'],
      ['gd אב', 'gd בא'],
    ] as const)
      expect(seen(stored)).toBe(shown);
    // A line of a name broken into lines reads as the name does.
    expect(readingRuns(ownLine('gd אב', 'אב gd אב'))).toEqual([' אב', 'gd']);
    expect(ownLine('Plover')).toBe('Plover');
    expect(ownLine('12')).toBe('12');
  });
});
