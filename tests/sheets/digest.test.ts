import { describe, expect, test } from 'vitest';
import { belongsTo, digestOf } from '../../src/sheets/digest.ts';
import { fileStem, fileStems, plainText, readingRuns } from '../../src/sheets/text.ts';
import { planOf, sampleJobs, wedgeJob } from './plans.ts';

describe('the digest on every page', () => {
  test('the same job has the same digest, in mm or inches, shown either way, defaults spelt out or not', async () => {
    const job = wedgeJob(0.3);
    const digest = await digestOf(planOf(job).job);
    expect(digest).toMatch(/^[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}$/);
    expect(await digestOf(planOf({ ...job, display: 'us' }).job)).toBe(digest);
    const inches = structuredClone(job);
    inches.fittings[0].lug.thickness = `${30 / 25.4} in`;
    expect(await digestOf(planOf(inches).job)).toBe(digest);
    expect(await digestOf(planOf({ ...job, limits: { fitGap: '1.6 mm' } }).job)).toBe(digest);
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
});
