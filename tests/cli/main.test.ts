import { describe, expect, test } from 'vitest';
import { demandAgainstLimit } from '../../src/cli/checktext.ts';
import { plainFitting, plainJob } from '../job/jobs.ts';
import { runJob, runOn } from './system.ts';

/** A pull along the stem: nothing to fail it. */
function trueJob() {
  const job = plainJob();
  job.fittings = [{ ...plainFitting('A'), stem: 'toward-load', load: { direction: [0, 0.2, -1], force: '20 kN' } }];
  return job;
}

/** A pull far out of the plane of the plate. */
function sidewaysJob() {
  const job = plainJob();
  job.fittings = [{ ...plainFitting('A'), load: { direction: [0, 1, -1], force: '60 kN' } }];
  return job;
}

describe('exit status and streams', () => {
  test('0: planned, every check passes; the report on standard output, nothing on standard error', async () => {
    const { status, out, err } = await runJob(trueJob());
    expect([status, err]).toEqual([0, '']);
    expect(out).toContain('every check passes');
  });

  test('1: planned, some check fails, and the report shows the limit and its source', async () => {
    const { status, out, err } = await runJob(sidewaysJob());
    expect([status, err]).toEqual([1, '']);
    expect(out).toMatch(/FAILS/);
    expect(out).toMatch(/against 5\.0 %/);
    expect(out.replaceAll(/\s+/g, ' ')).toContain('API RP 2A-WSD');
  });

  test('2: a line for each fault, with file, path, found and expected; standard output stays empty', async () => {
    const job = plainJob();
    job.fittings.push({ ...plainFitting('B'), heading: 'north' });
    job.fittings[1].lug.foot = 12;
    const { status, out, err } = await runJob(job, ['--json', '--out', 'x']);
    expect([status, out]).toEqual([2, '']);
    expect(err.trimEnd().split('\n').sort()).toEqual([
      'job.json: fittings[1].heading: found "north", expected an angle with its unit, like "0 deg"',
      'job.json: fittings[1].lug.foot: found 12, expected a length with its unit, like "310 mm"',
    ]);
  });

  test('2: what only the geometry can tell is refused with the path of its field', async () => {
    const job = trueJob();
    job.fittings.unshift({ ...plainFitting('off'), at: { station: '10 m', side: 'port', girth: '90 m' } });
    job.fittings.push({ ...plainFitting('flat'), stem: 'toward-load', load: { direction: [1, 0, 0], force: '1 kN' } });
    const { status, out, err, written } = await runJob(job, ['--json', '--out', 'x']);
    expect([status, out, written]).toEqual([2, '', []]);
    const lines = err.trimEnd().split('\n');
    expect(lines).toHaveLength(2);
    expect(lines[0]).toMatch(/^job\.json: fittings\[0\]\.at\.girth: found .*, expected /);
    expect(lines[1]).toMatch(/^job\.json: fittings\[2\]\.stem: found .*, expected /);
  });

  test('2: arguments', async () => {
    for (const args of [
      [],
      ['--json'],
      ['a.json', 'b.json'],
      ['--what', 'a.json'],
      ['a.json', '--out'],
      ['a.json', '--json=x'],
      ['none.json'],
      ['job.json', '--out', ''],
      ['job.json', '--sheet'],
      ['job.json', '--sheet', ''],
      ['job.json', '--sheet', '7f3a-91c2-04d'],
      ['job.json', '--sheet', 'rev B'],
      ['job.json', '--sheet', '7f3a-91c2-04de', '--json'],
      ['job.json', '--sheet', '7f3a-91c2-04de', '--out', 'x'],
      ['none.json', '--sheet', '7f3a-91c2-04de'],
    ]) {
      const { status, out, err } = await runOn({ 'job.json': JSON.stringify(trueJob()) }, args);
      expect([status, out, err.trimEnd().split('\n').length], args.join(' ')).toEqual([2, '', 1]);
    }
  });

  test('--help', async () => {
    const { status, out, err } = await runOn({}, ['--help']);
    expect([status, err]).toEqual([0, '']);
    for (const word of ['JOB.json', '--json', '--out DIR', '--sheet DIGEST', '0 ', '1 ', '2 ', '3 '])
      expect(out).toContain(word);
  });

  test('--sheet: a sheet in hand is of the job as it now stands (0) or not (1), in one line, and nothing is planned', async () => {
    const job = trueJob();
    // The digest as it stands on a sheet that was written, not as it is computed here.
    const { written } = await runJob(job, ['--out', 'x']);
    const dxf = written.find(({ name }) => name === 'A-plate.dxf')?.content;
    const printed = /job digest ([0-9a-f-]{14})/.exec(new TextDecoder().decode(dxf as Uint8Array))?.[1] ?? '';
    for (const typed of [
      printed,
      printed.toUpperCase(),
      ` ${printed.replaceAll('-', ' – ')}`,
      printed.replaceAll('0', 'O'),
    ]) {
      const { status, out, err } = await runJob(job, ['--sheet', typed]);
      expect([status, out, err], typed).toEqual([0, `${printed}: belongs to the job as it now stands\n`, '']);
    }
    const us = await runJob({ ...job, display: 'us' }, ['--sheet', printed]);
    expect([us.status, us.err]).toEqual([0, '']);
    expect(us.out).toMatch(
      /belongs to the job as it now stands, printed in metric units: not to be mixed with US sheets/,
    );
    job.fittings[0].lug.thickness = '31 mm';
    const older = await runJob(job, ['--sheet', printed]);
    expect([older.status, older.out, older.err, older.written]).toEqual([
      1,
      `${printed}: of an older job or another one: do not use it\n`,
      '',
      [],
    ]);
    // A job that cannot be planned still has its digest; one that cannot be read has none.
    job.fittings[0].at.girth = '90 m';
    expect((await runJob(job, ['--sheet', printed])).status).toBe(1);
    job.fittings[0].lug.thickness = 31;
    expect(await runJob(job, ['--sheet', printed])).toMatchObject({ status: 2, out: '' });
  });

  test('--json prints the plan file and nothing else', async () => {
    const { out } = await runJob(trueJob(), ['--json']);
    expect(JSON.parse(out)).toMatchObject({ format: 'lugwright.plan', version: 1, pass: true });
  });

  test('--out makes every deliverable, the same on every run', async () => {
    const [one, two] = [await runJob(trueJob(), ['--out', 'x']), await runJob(trueJob(), ['--json', '--out', 'x'])];
    expect(one.written.map((file) => file.name)).toEqual(
      expect.arrayContaining(['plan.json', 'report.txt', 'A-bevel-table.csv', 'A-dive-card.pdf']),
    );
    expect(two.written).toEqual(one.written);
    const content = (name: string) => String(one.written.find((file) => file.name === name)?.content);
    expect(content('plan.json')).toBe(two.out);
    expect(content('report.txt')).toBe(one.out);
  });
});

describe('the report', () => {
  test('fits a screen and carries the cautions', async () => {
    for (const display of ['metric', 'us']) {
      const { out } = await runJob({ ...sidewaysJob(), display });
      const lines = out.split('\n');
      const failed = lines.filter((line) => line.startsWith('FAILS')).length;
      // A screen, and a few lines for each check that fails: nothing that fails is left out for want of room.
      expect(lines.length).toBeLessThanOrEqual(60 + 7 * failed);
      for (const line of lines) expect(line.length, line).toBeLessThanOrEqual(100);
      const text = out.replaceAll(/\s+/g, ' ');
      for (const caution of [
        'planning aid',
        'engineer',
        'class society',
        'dive supervisor',
        'direct current only',
        'knife switch',
        'Locked out',
        'propellers',
        'impressed-current',
        'Gas trapped behind plating',
        'No dive table',
      ]) {
        expect(text).toContain(caution);
      }
      expect(text).toMatch(/Strike first on the [a-z]+ (side|end) at s /);
      expect(text).toContain(display === 'us' ? ' kip' : ' kN');
    }
  });

  test('names from the job can do no harm in it', async () => {
    const job = { ...trueJob(), title: 'a\n\u001B[2Jb\u202E' };
    job.fittings[0].id = '=1+2\n\u0007';
    const { out, written } = await runJob(job, ['--out', 'x']);
    // biome-ignore lint/suspicious/noControlCharactersInRegex: that none is left is the point
    expect(out).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u202e]/);
    const csv = written.find((file) => file.name.endsWith('bevel-table.csv'));
    expect(csv?.name).toMatch(/^[\w.-]+$/);
    expect(new TextDecoder().decode(csv?.content as Uint8Array)).not.toMatch(/(^|,)"?=1\+2/m);
  });

  test('a figure over its limit never looks equal to it', () => {
    const text = (demand: number, limit: number, unit: 'share' | 'mm' | 'rad' | 'N mm') =>
      demandAgainstLimit({ demand, limit, unit }, 'us');
    expect(text(0.05001, 0.05, 'share')).toBe('5.001 % against 5.000 %');
    expect(text(1.6, 1.6, 'mm')).toMatch(/^0\.0629921\d+ in against 0\.0629921\d+ in$/);
    expect(demandAgainstLimit({ demand: 1.62, limit: 1.6, unit: 'mm' }, 'metric')).toBe('1.62 mm against 1.60 mm');
    expect(demandAgainstLimit({ demand: 2e6, limit: 1e6, unit: 'N mm' }, 'metric')).toBe('2.00 kN m against 1.00 kN m');
    // 1 kip in = 4448.2216 N x 25.4 mm = 112 984.83 N mm.
    expect(text(112984.83, 225969.66, 'N mm')).toBe('1.0 kip in against 2.0 kip in');
  });
});
