import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/job/defaults.ts';
import { readJob } from '../../src/job/read.ts';
import type { Job } from '../../src/job/types.ts';
import { fullJob, type Loose, plainFitting, plainJob } from './jobs.ts';

const OFFSETS = 'st,0,1,2\n0,0.5,1,1.5\n10,1,2,2.5\n';
const noFile = () => undefined;

function read(raw: Loose, file: (name: string) => string | undefined = noFile): Job {
  const reading = readJob(typeof raw === 'string' ? raw : JSON.stringify(raw), file);
  if (!reading.ok) throw new Error(reading.faults.map((f) => `${f.path}: ${f.found} | ${f.expected}`).join('\n'));
  return reading.job;
}

/** Faults as `path: found | expected`. */
function faults(raw: Loose, file: (name: string) => string | undefined = noFile): string[] {
  const reading = readJob(typeof raw === 'string' ? raw : JSON.stringify(raw), file);
  if (reading.ok) throw new Error('the job was read');
  return reading.faults.map((f) => `${f.path}: ${f.found} | ${f.expected}`);
}

/** The plain job with a change made to it. */
function changed(change: (job: Loose) => void): Loose {
  const job = plainJob();
  change(job);
  return job;
}

describe('a job as read', () => {
  test('the full job arrives in mm, N, MPa and rad, with no default used', () => {
    const job = read(fullJob());
    const LBF = 0.45359237 * 9.80665;
    expect(job.ship).toMatchObject({ lpp: 40000, draftAft: 2400, draftForward: 2200, heel: (0.5 * Math.PI) / 180 });
    expect(job.fittings[0]).toMatchObject({
      at: { station: 10000, side: 'port', by: 'girth', value: 2600 },
      lug: { foot: 300, cheek: { radius: 70, thickness: 10 } },
      stem: { kind: 'plumb' },
      load: { toward: [10200, 1500, -4000], force: 60000 },
      cut: 'scribed',
      shackle: { wll: 25000 * 9.80665, pin: 48, jaw: 74 },
    });
    expect(job.fittings[0]?.hoist?.wll).toBeCloseTo(50000 * LBF, 6);
    expect(job.fittings[1]).toMatchObject({
      at: { by: 'height', value: 200 },
      stem: { kind: 'lean', angle: (-4 * Math.PI) / 180 },
      heading: Math.PI / 2,
      load: { direction: [0, 0.1, -1] },
    });
    expect(job.limits).toEqual({
      fitGap: 2,
      recutGap: 5,
      sidewaysShare: 0.04,
      offPlane: (3 * Math.PI) / 180,
      bevel: (40 * Math.PI) / 180,
      stemToShell: (15 * Math.PI) / 180,
      level: 2,
      sealedLength: 0,
    });
    expect(job.steel.shell).toMatchObject({ yield: 235, thickness: 11, carbon: { kind: 'given', value: 0.38 } });
    expect(job.electrode).toMatchObject({ kind: 'ferritic', diameter: 3.175 });
    expect(job.electrode.tensile).toBeCloseTo((70000 * LBF) / 25.4 ** 2, 6);
    expect(job.welding.runLength).toBe(120);
    expect(job.assumptions).toEqual([]);
  });

  test('every default that is used is told, with value, reason and standing', () => {
    const { assumptions, ...job } = read(plainJob());
    const paths = Object.keys(DEFAULTS)
      // Those of a movement and of seams stand only in a job that has such.
      .filter((path) => !path.startsWith('lift.') && path !== 'limits.seamClear')
      .map((path) => (path === 'cut' ? 'fittings[0].cut' : path));
    expect(assumptions.map((a) => a.path).sort()).toEqual(paths.sort());
    for (const { reason, standing, value } of assumptions) {
      expect(reason.length).toBeGreaterThan(20);
      expect(['source', 'common-practice', 'not-verified', 'choice']).toContain(standing);
      expect(value).not.toBe('');
    }
    // 1/16 in and 3/16 in (AWS D1.1 as quoted in print) are 1.5875 and 4.7625 mm, which the trade rounds up.
    expect(job.limits.fitGap).toBe(1.6);
    expect(job.limits.recutGap).toBe(4.8);
    // Side force 5 % of the static sling load: API RP 2A-WSD.
    expect(job.limits.sidewaysShare).toBe(0.05);
    // ASTM A36: 36 and 58 ksi, that is 248 and 400 MPa; 250 and 400 as the metric grade is printed.
    expect(job.steel.lug).toEqual({ yield: 250, tensile: 400 });
    expect(job.limits.offPlane).toBeUndefined();
  });

  test('written out, a default gives the same job', () => {
    const job = plainJob();
    job.limits = {
      fitGap: DEFAULTS['limits.fitGap'].value,
      sidewaysShare: 0.05,
      level: DEFAULTS['limits.level'].value,
    };
    const [plain, written] = [read(plainJob()), read(job)];
    expect({ ...written, assumptions: [] }).toEqual({ ...plain, assumptions: [] });
    expect(plain.assumptions.length - written.assumptions.length).toBe(3);
  });

  test('US and metric units make the same job', () => {
    const metric = changed((j) => {
      j.fittings[0].lug.foot = '304.8 mm';
      j.fittings[0].load.force = '97.860875535731 kN';
    });
    const us = changed((j) => {
      j.fittings[0].lug.foot = "1'";
      j.fittings[0].load.force = '11 tonf';
    });
    expect(read(us)).toEqual(read(metric));
  });

  test('hull kinds', () => {
    const point = (y: string, z: string, knuckle?: boolean) => ({
      y,
      z,
      ...(knuckle === undefined ? {} : { knuckle }),
    });
    const points = [point('0 m', '0 m'), point('2 m', '0.4 m', true), point('3 m', '2 m')];
    const spline = read(changed((j) => (j.ship.hull = { kind: 'spline', points })));
    expect(spline.ship.hull).toEqual({
      kind: 'spline',
      points: [
        { y: 0, z: 0 },
        { y: 2000, z: 400, knuckle: true },
        { y: 3000, z: 2000 },
      ],
    });
    const sections = [
      { station: '9 m', points },
      { station: '3 m', points },
    ];
    const lofted = read(changed((j) => (j.ship.hull = { kind: 'sections', sections })));
    expect(lofted.ship.hull).toMatchObject({ sections: [{ station: 3000 }, { station: 9000 }] });
    const offsets = changed((j) => (j.ship.hull = { kind: 'offsets', file: 'lines/plover.csv', unit: 'm' }));
    const table = read(offsets, (name) => (name === 'lines/plover.csv' ? OFFSETS : undefined));
    expect(table.ship.hull).toMatchObject({ kind: 'offsets', stations: [0, 10000], waterlines: [0, 1000, 2000] });
    expect(read(plainJob()).ship.hull).toMatchObject({ path: [{}, { radius: 2200 }, {}] });
  });

  test('composition of the plating, and a carbon equivalent that is not known', () => {
    const shell = (fields: Loose) => read(changed((j) => (j.steel = { shell: fields }))).steel.shell.carbon;
    expect(shell({ composition: { C: 0.15, Mn: 1.2 } })).toEqual({
      kind: 'composition',
      percent: { C: 0.15, Mn: 1.2 },
    });
    expect(shell({ carbonEquivalent: 'unknown' })).toEqual({ kind: 'unknown' });
    expect(shell({ composition: 'unknown' })).toEqual({ kind: 'unknown' });
    const told = read(changed((j) => (j.steel = { shell: { carbonEquivalent: 'unknown' } })));
    expect(told.assumptions.map((a) => a.path)).not.toContain('steel.shell.carbonEquivalent');
  });

  test('byte order mark, an editor’s $schema, and odd titles', () => {
    const job = { $schema: './lugwright.job.schema.json', ...plainJob(), title: 'Ruder "ab"\n<b>\u202E' };
    expect(read(`\uFEFF${JSON.stringify(job)}`).title).toBe(job.title);
  });
});

describe('faults', () => {
  const A = 'fittings[0]';
  /** A change, and the one fault it must bring: its path, and pieces of its text. */
  const single: readonly (readonly [string, (job: Loose) => void, string, ...string[]])[] = [
    ['format', (j) => (j.format = 'other'), 'format', 'found|"other"', '"lugwright.job"'],
    ['version of tomorrow', (j) => (j.version = 2), 'version', '2 |', '1 or lower'],
    ['version of none', (j) => (j.version = 0), 'version', '0 |'],
    ['version as text', (j) => (j.version = '1'), 'version', '"1" |'],
    ['no version', (j) => delete j.version, 'version', 'nothing |'],
    ['no title', (j) => delete j.title, 'title', 'nothing |'],
    ['empty title', (j) => (j.title = ''), 'title', '"" |'],
    ['display', (j) => (j.display = 'imperial'), 'display', '"imperial"', '"metric", "us"'],
    [
      'bare number',
      (j) => (j.fittings[0].lug.foot = 12),
      `${A}.lug.foot`,
      '12 |',
      'a length with its unit, like "310 mm"',
    ],
    ['no unit', (j) => (j.fittings[0].lug.foot = '12'), `${A}.lug.foot`, '"12" |', 'a length with its unit'],
    ['wrong kind', (j) => (j.fittings[0].lug.foot = '12 kg'), `${A}.lug.foot`, '"12 kg" |', 'a length'],
    ['null', (j) => (j.fittings[0].lug.foot = null), `${A}.lug.foot`, 'null |'],
    ['list', (j) => (j.fittings[0].lug.foot = ['12 mm']), `${A}.lug.foot`, '["12 mm"] |'],
    ['zero', (j) => (j.fittings[0].lug.foot = '0 mm'), `${A}.lug.foot`, '"0 mm" |', 'greater than zero'],
    ['negative', (j) => (j.fittings[0].lug.thickness = '-3 mm'), `${A}.lug.thickness`, 'greater than zero'],
    ['huge', (j) => (j.fittings[0].lug.foot = '1e300 mm'), `${A}.lug.foot`, 'not beyond 1 km'],
    ['too large for a lug', (j) => (j.fittings[0].lug.foot = '6 m'), `${A}.lug.foot`, 'at most 5 m'],
    ['ambiguous', (j) => (j.fittings[0].lug.foot = '1,234 m'), `${A}.lug.foot`, 'one of 1.234 and 1234'],
    ['missing', (j) => delete j.fittings[0].lug.hole, `${A}.lug.hole`, 'nothing |'],
    ['missing group', (j) => delete j.fittings[0].lug, `${A}.lug`, 'nothing |', 'a group of fields'],
    ['group as list', (j) => (j.fittings[0].lug = []), `${A}.lug`, 'an empty list |'],
    ['negative girth', (j) => (j.fittings[0].at.girth = '-1 m'), `${A}.at.girth`, 'zero or more'],
    ['side', (j) => (j.fittings[0].at.side = 'left'), `${A}.at.side`, '"port", "starboard"'],
    ['two places', (j) => (j.fittings[0].at.height = '1 m'), `${A}.at`, 'girth and height |', 'exactly one of'],
    ['no place', (j) => delete j.fittings[0].at.girth, `${A}.at`, 'none of them |', 'exactly one of'],
    ['stem', (j) => (j.fittings[0].stem = 'up'), `${A}.stem`, '"up" |', '"normal", "plumb", "toward-load"'],
    ['stem as number', (j) => (j.fittings[0].stem = 5), `${A}.stem`, '5 |', '{"lean": "6 deg"}'],
    ['lean', (j) => (j.fittings[0].stem = { lean: 5 }), `${A}.stem.lean`, '5 |', 'an angle'],
    [
      'lean right over',
      (j) => (j.fittings[0].stem = { lean: '90 deg' }),
      `${A}.stem.lean`,
      'between -90 deg and 90 deg',
    ],
    ['heading', (j) => (j.fittings[0].heading = '400 deg'), `${A}.heading`, '360 deg'],
    ['heel', (j) => (j.ship.heel = '90 deg'), 'ship.heel', 'between -90 deg and 90 deg'],
    ['force as mass', (j) => (j.fittings[0].load.force = '6 t'), `${A}.load.force`, 't is a mass'],
    ['no pull', (j) => (j.fittings[0].load.force = '0 kN'), `${A}.load.force`, 'greater than zero'],
    ['two loads', (j) => (j.fittings[0].load.direction = [0, 0, -1]), `${A}.load`, 'toward and direction |'],
    ['no load', (j) => delete j.fittings[0].load.toward, `${A}.load`, 'none of them |'],
    ['point of two', (j) => j.fittings[0].load.toward.pop(), `${A}.load.toward`, 'three lengths'],
    ['point of numbers', (j) => (j.fittings[0].load.toward[1] = 3), `${A}.load.toward[1]`, '3 |', 'a length'],
    [
      'no direction',
      (j) => (j.fittings[0].load = { direction: [0, 0, 0], force: '1 kN' }),
      `${A}.load.direction`,
      '[0, 0, 0] |',
      'not all zero',
    ],
    [
      'direction of text',
      (j) => (j.fittings[0].load = { direction: [0, '1', 0], force: '1 kN' }),
      `${A}.load.direction[1]`,
      '"1" |',
      'a bare number',
    ],
    ['cut', (j) => (j.fittings[0].cut = 'square'), `${A}.cut`, '"simplest"'],
    [
      'rated load',
      (j) => (j.fittings[0].hoist = { wll: '25 ton' }),
      `${A}.hoist.wll`,
      'tonf (2000 lbf) or t (1000 kg)',
    ],
    ['no fittings', (j) => (j.fittings = []), 'fittings', 'an empty list |', 'at least 1'],
    ['fittings as group', (j) => (j.fittings = { 0: plainFitting('A') }), 'fittings', 'a group of fields |'],
    [
      'same id',
      (j) => j.fittings.push(plainFitting('A')),
      'fittings[1].id',
      '"A" |',
      'another id than that of fittings[0]',
    ],
    ['empty id', (j) => (j.fittings[0].id = ''), `${A}.id`, '"" |'],
    [
      'unknown field',
      (j) => (j.fittings[0].lug.footLenght = '3 mm'),
      `${A}.lug.footLenght`,
      '"footLenght" |',
      'did you mean foot?',
    ],
    ['slip', (j) => (j.fittings[0].lug.shuolder = '3 mm'), `${A}.lug.shuolder`, 'did you mean shoulder?'],
    ['unknown, far off', (j) => (j.ship.colour = 'red'), 'ship.colour', '"colour" |', 'one of lpp, draftAft'],
    ['odd name', (j) => (j['a\n\u202Eb'] = 1), '["a\\n\\u202eb"]', '"a\\n\\u202eb" |'],
    ['hull kind', (j) => (j.ship.hull = { kind: 'lines' }), 'ship.hull.kind', '"lines" |', '"segments", "spline"'],
    ['no hull kind', (j) => (j.ship.hull = {}), 'ship.hull.kind', 'nothing |'],
    ['hull as text', (j) => (j.ship.hull = 'round'), 'ship.hull', '"round" |'],
    ['no path', (j) => (j.ship.hull.path = []), 'ship.hull.path', 'an empty list |', 'at least 1'],
    ['no radius', (j) => (j.ship.hull.path[1].radius = '0 m'), 'ship.hull.path[1].radius', 'other than zero'],
    ['inside out', (j) => (j.ship.hull.path[1].to.y = '-2 m'), 'ship.hull.path[1].to.y', 'zero or more'],
    [
      'few points',
      (j) => (j.ship.hull = { kind: 'spline', points: [{ y: '0 m', z: '0 m' }] }),
      'ship.hull.points',
      'at least 2 points',
    ],
    ['one gap over the other', (j) => (j.limits = { fitGap: '6 mm' }), 'limits.fitGap', 'no more than limits.recutGap'],
    ['recut below fit', (j) => (j.limits = { recutGap: '1 mm' }), 'limits.recutGap', 'no less than limits.fitGap'],
    ['finer than a feeler', (j) => (j.limits = { fitGap: '0.01 mm' }), 'limits.fitGap', 'at least 0.05 mm'],
    ['run of nothing', (j) => (j.welding = { runLength: '1 mm' }), 'welding.runLength', 'at least 20 mm'],
    [
      'stub as long as the electrode',
      (j) => {
        j.electrode = { length: '120 mm' };
        j.welding = { stub: '120 mm' };
      },
      'welding.stub',
      '"120 mm" |',
      'shorter than the electrode',
    ],
    ['leg beyond reason', (j) => (j.fittings[0].weld.leg = '1.4 m'), `${A}.weld.leg`, 'from 1 mm to 60 mm'],
    ['electrode of nothing', (j) => (j.electrode = { diameter: '0.1 mm' }), 'electrode.diameter', 'from 1 mm to 10 mm'],
    ['share', (j) => (j.limits = { sidewaysShare: 5 }), 'limits.sidewaysShare', '5 |', '"5 %"'],
    ['share as text', (j) => (j.limits = { sidewaysShare: '120 %' }), 'limits.sidewaysShare', 'not beyond 100 %'],
    ['negative share', (j) => (j.limits = { sidewaysShare: '-1 %' }), 'limits.sidewaysShare', 'zero or more'],
    [
      'carbon equivalent',
      (j) => (j.steel = { shell: { carbonEquivalent: '0.4' } }),
      'steel.shell.carbonEquivalent',
      'a bare number',
    ],
    [
      'element',
      (j) => (j.steel = { shell: { composition: { C: 0.1, Mm: 1 } } }),
      'steel.shell.composition.Mm',
      'did you mean Mn?',
    ],
    ['no carbon', (j) => (j.steel = { shell: { composition: { Mn: 1 } } }), 'steel.shell.composition', 'at least C'],
    [
      'two carbons',
      (j) => (j.steel = { shell: { composition: { C: 0.1 }, carbonEquivalent: 0.3 } }),
      'steel.shell',
      'carbonEquivalent and composition |',
    ],
  ];

  test.each(single.map(([name, change, path, ...pieces]) => ({ name, change, path, pieces })))('$name', (fault) => {
    const { change, path, pieces } = fault;
    const found = faults(changed(change));
    expect(found).toHaveLength(1);
    expect(found[0]?.startsWith(`${path}: `), found[0]).toBe(true);
    for (const piece of pieces) expect(found[0]).toContain(piece.replace('found|', ''));
  });

  test('a mesh, which text alone cannot bring, is refused at its kind, in one line', () => {
    const mesh = {
      kind: 'mesh',
      file: 'scan.stl',
      unit: 'mm',
      axes: { forward: '-x', port: 'y', up: 'z' },
      origin: ['0 m', '0 m', '0 m'],
      half: true,
    };
    const found = faults(changed((j) => (j.ship.hull = mesh)));
    expect(found).toHaveLength(1);
    expect(found[0]).toMatch(
      /^ship\.hull\.kind: "mesh" \| a hull a fitting can be planned on(?: here)?: segments, spline, sections/,
    );
  });

  test('two sections at one station', () => {
    const points = [
      { y: '0 m', z: '0 m' },
      { y: '2 m', z: '1 m' },
    ];
    const hull = { kind: 'sections', sections: ['1 m', '3 m', '100 cm'].map((station) => ({ station, points })) };
    expect(faults(changed((j) => (j.ship.hull = hull)))).toEqual([
      'ship.hull.sections[2].station: "100 cm" | another station than that of sections[0]',
    ]);
  });

  test('a file may not be named outside the folder of the job', () => {
    for (const file of [
      '../a.csv',
      '/etc/a.csv',
      'a/../../b.csv',
      'C:\\a.csv',
      'c:/a.csv',
      '~/a.csv',
      './a.csv',
      'a//b.csv',
      'a\\b.csv',
      ' a.csv',
      'a\u0000.csv',
      'http://x/a.csv',
    ]) {
      let asked = false;
      const found = faults(
        changed((j) => (j.ship.hull = { kind: 'offsets', file, unit: 'm' })),
        () => {
          asked = true;
          return OFFSETS;
        },
      );
      expect(found, file).toHaveLength(1);
      expect(found[0]).toContain('ship.hull.file: ');
      expect(asked, file).toBe(false);
    }
  });

  test('a file that is not there, and one that is no table', () => {
    const job = changed((j) => (j.ship.hull = { kind: 'offsets', file: 'a.csv', unit: 'm' }));
    expect(faults(job)).toEqual(['ship.hull.file: "a.csv" | a file that can be read beside the job file']);
    const found = faults(job, () => OFFSETS.replace('2.5', 'x').replace('0.5', 'y'));
    expect(found).toHaveLength(2);
    expect(found[0]).toContain('ship.hull.file: "a.csv", row 2, column 2: "y" | a half-breadth');
  });

  test('all faults come in one go: wrong fields, cross-checks and the table', () => {
    const job = changed((j) => {
      j.ship.lpp = 7;
      j.ship.hull = { kind: 'offsets', file: 'a.csv', unit: 'm' };
      j.fittings.push(plainFitting('A'));
      j.fittings[1].at.height = '1 m';
      j.fittings[1].heading = 'north';
      j.limits = { recutGap: '1 mm' };
      j.shp = {};
    });
    const paths = faults(job, () => 'x').map((line) => line.split(': ')[0]);
    const expected = [
      'ship.lpp',
      'ship.hull.file',
      'fittings[1].id',
      'fittings[1].at',
      'fittings[1].heading',
      'limits.recutGap',
      'shp',
    ];
    expect(paths.sort()).toEqual(expected.sort());
  });

  test('what is no JSON, or no job at all, is one line', () => {
    expect(faults('{"format": "lugwright.job",\n "version": 1,}')).toEqual([
      ': line 2, column 15: "}" | the name of a field in double quotes',
    ]);
    for (const text of ['', 'null', '[]', '7', '"job"', 'lugwright', '\u0000', '{'])
      expect(faults(text)).toHaveLength(1);
    expect(faults('{"a": 1, "a": 2}')[0]).toContain('"a" a second time');
    expect(faults(' '.repeat(6e6))[0]).toContain('at most 5000000');
  });
});
