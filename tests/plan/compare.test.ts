import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { HullSpec } from '../../geometry/hull/spec.ts';
import { report } from '../../src/cli/report.ts';
import { readJob } from '../../src/job/read.ts';
import { readJobFiles } from '../../src/job/readfiles.ts';
import { showPhrase } from '../../src/job/show.ts';
import type { FittingComparison } from '../../src/plan/comparison.ts';
import { planJob } from '../../src/plan/plan.ts';
import { planFile } from '../../src/plan/planfile.ts';
import { PlanRefused } from '../../src/plan/refused.ts';
import { sampleFigures } from '../../src/plan/uncertainty.ts';
import { calculation } from '../../src/sheets/calculation.ts';
import { contextsOf } from '../../src/sheets/context.ts';
import { flattened } from '../../src/sheets/drawing.ts';
import { cylinderAt, meshSpec, normalNumbers, triangleList } from '../hull/meshes.ts';
import { type Loose, plainJob } from '../job/jobs.ts';
import { fonts } from '../sheets/plans.ts';
import { jobOn } from './jobs.ts';

/* Two sources of one shell laid over each other, where the difference is known in closed form. */

const DEG = Math.PI / 180;

/** A flat of bottom, rising outward at `slope`, its first point at height `z`: one straight line, the same at every station. */
const flat = (slope: number, z = 0) => ({
  kind: 'segments',
  start: { y: '0 m', z: `${z} mm` },
  path: [{ to: { y: '3 m', z: `${z + 3000 * Math.tan(slope * DEG)} mm` } }],
});
const circle = (radius: number, rise = 0) => ({
  kind: 'segments',
  start: { y: '0 m', z: `${rise} mm` },
  path: [{ to: { y: `${radius} mm`, z: `${radius + rise} mm` }, radius: `${radius} mm` }],
});

function planOf(hull: Loose, others: Loose[], change: (job: Loose) => void = () => undefined) {
  const job = plainJob();
  job.ship = { lpp: '40 m', draftAft: '2.4 m', draftForward: '2.4 m', heel: '0 deg', hull };
  job.ship.compare = others.map((other, i) => ({ name: `source ${i + 1}`, hull: other }));
  job.fittings[0].at = { station: '10 m', side: 'port', girth: '1.5 m' };
  job.fittings[0].load = { direction: [0, 0, -1], force: '60 kN' };
  change(job);
  const reading = readJob(JSON.stringify(job), () => undefined);
  if (!reading.ok) throw new Error(reading.faults.map((f) => `${f.path}: ${f.found} | ${f.expected}`).join('\n'));
  return planJob(reading.job);
}
const comparison = (...of: Parameters<typeof planOf>) => {
  const f = planOf(...of).compare[0]?.fittings[0] as FittingComparison;
  if (!f.reached) throw new Error(showPhrase(f.words, 'metric'));
  return { ...f, text: showPhrase(f.words, 'metric') };
};
/** mm and rad against a closed form. */
const MM = 0.01;
const RAD = 0.01 * DEG;

describe('differences that are known', () => {
  test('the same shell: nothing', () => {
    const { found, cut, text } = comparison(circle(3000), [circle(3000)]);
    for (const x of [found.least, found.most, found.rms, found.offset, found.footSlope, found.bevel, found.place])
      expect(Math.abs(x)).toBeLessThan(1e-9);
    expect(cut).toBe('tight');
    expect(text).toMatch(/finds the shell in the same place along the whole foot, and asks for the same bevel/);
  });

  test('a flat 6 mm deeper in the water: the whole of it, along a plumb stem', () => {
    // z falls by 6 mm: 6 mm farther out along the stem, which points down; 6 cos(slope) square to the shell (closed form).
    const { found, text } = comparison(flat(4), [flat(4, -6)]);
    expect(Math.abs(found.offset - 6)).toBeLessThan(MM);
    expect(Math.abs(found.rms - 6)).toBeLessThan(MM);
    expect(Math.abs(found.place - 6 * Math.cos(4 * DEG))).toBeLessThan(MM);
    expect(Math.abs(found.gapOther)).toBeLessThan(MM);
    expect(text).toMatch(/6\.0 mm farther out along the whole foot/);
    expect(text).toMatch(/the cut as planned would gap 0\.0 mm on it \(tight\)/);
  });

  test('a flat 3 degrees steeper: bevel, normal, place and the gap over the thickness', () => {
    const { found, text } = comparison(flat(4), [flat(7)]);
    expect(Math.abs(found.normal - 3 * DEG)).toBeLessThan(RAD);
    const bevels = found.along[8];
    expect(Math.abs(Math.abs(bevels?.bevelOther ?? 0) - 7 * DEG)).toBeLessThan(RAD);
    expect(Math.abs(Math.abs(bevels?.bevelOwn ?? 0) - 4 * DEG)).toBeLessThan(RAD);
    // At y = 1.5 m cos 4 the other line stands y (tan 7 - tan 4) higher: farther in. Gap: thickness x the change of slope.
    const y = 1500 * Math.cos(4 * DEG);
    const change = Math.tan(7 * DEG) - Math.tan(4 * DEG);
    expect(Math.abs(found.offset + y * change)).toBeLessThan(MM);
    expect(Math.abs(found.gapOther - 30 * change)).toBeLessThan(MM);
    expect(Math.abs(found.place + y * change * Math.cos(7 * DEG))).toBeLessThan(MM);
    expect(text).toMatch(/asks for a bevel 3\.0° steeper/);
    expect(comparison(flat(7), [flat(4)]).text).toMatch(/asks for a bevel 3\.0° flatter/);
  });

  test('circles of two radii that touch at the place: no offset, no tilt, the sagittae of the foot athwartships', () => {
    // Square to the shell, foot along the girth: f = a^2 / 2R to second order; the gap of a plane cut for one is what is left.
    const R = 3000;
    const S = 2400;
    const [y, z] = [R * Math.sin(0.5), R * (1 - Math.cos(0.5))];
    // The smaller circle through the same point with the same normal: centre moved along the normal.
    const other = {
      kind: 'segments',
      start: {
        y: `${y - S * Math.sin(0.5) + S * Math.sin(0.1)} mm`,
        z: `${z + S * Math.cos(0.5) - S * Math.cos(0.1)} mm`,
      },
      path: [
        {
          to: {
            y: `${y - S * Math.sin(0.5) + S * Math.sin(1.2)} mm`,
            z: `${z + S * Math.cos(0.5) - S * Math.cos(1.2)} mm`,
          },
          radius: `${S} mm`,
        },
      ],
    };
    const { found } = comparison(circle(R), [other], (job) => {
      job.fittings[0].at.girth = `${R * 0.5} mm`;
      job.fittings[0].stem = 'normal';
      job.fittings[0].heading = '90 deg';
      job.fittings[0].load = { direction: [0, 0.5, -1], force: '60 kN' };
    });
    const sagitta = (radius: number, a: number) => radius - Math.sqrt(radius * radius - a * a);
    expect(Math.abs(found.normal)).toBeLessThan(RAD);
    expect(Math.abs(found.place)).toBeLessThan(MM);
    // Both fall away from the tangent plane (b < 0): the smaller circle more, at the ends of the foot most.
    const end = found.along[0];
    expect(Math.abs((end?.difference ?? 0) - (sagitta(R, 150) - sagitta(S, 150)))).toBeLessThan(MM);
    expect(found.most).toBeLessThan(MM);
  });

  test('starboard is the mirror image of port', () => {
    const port = comparison(circle(3000), [circle(3100, -4)]);
    const star = comparison(circle(3000), [circle(3100, -4)], (job) => {
      job.fittings[0].at.side = 'starboard';
    });
    expect(star.found.offset).toBeCloseTo(port.found.offset, 9);
    expect(star.found.bevel).toBeCloseTo(-port.found.bevel, 9);
    expect(star.text).toBe(port.text);
  });
});

describe('whether they agree', () => {
  const unsure = (slope: number, error: number) => ({
    kind: 'readings',
    start: { y: '0.9 m', z: '63 mm' },
    girth: [0, 300, 600, 900, 1200].map((at) => ({ at: `${at} mm`, slope: `${slope} deg ± ${error} deg` })),
    fore: { gaps: ['-500 mm', '500 mm'].map((at) => ({ at, gap: '0 mm' })) },
  });
  // A line through five slopes, in their middle: sigma / sqrt 5 (closed form); sigma is half of what stands after ±.
  const at = (job: Loose) => {
    job.fittings[0].at.girth = `${900 / Math.cos(4 * DEG) + 600} mm`;
  };
  test('within what the readings say of themselves, and beyond it', () => {
    const near = comparison(flat(4), [unsure(4.15, 0.6)], at);
    expect(near.agreement).toBe('within');
    expect(Math.abs(near.errors.bevel - (0.3 / Math.sqrt(5)) * DEG)).toBeLessThan(0.1 * (0.3 / Math.sqrt(5)) * DEG);
    expect(near.text).toMatch(/Within what the two say of themselves/);
    const far = comparison(flat(4), [unsure(5.5, 0.6)], at);
    expect(far.agreement).toBe('beyond');
    expect(far.text).toMatch(/MORE than the two say of themselves .* most so in bevel/);
  });
  test('a scan says it by its own scatter', () => {
    const R = 1500;
    const g = normalNumbers(3);
    const list = triangleList({
      at: cylinderAt(R),
      x: [9650, 10_350],
      s: [500, 1300],
      step: [10, 10],
      ripple: () => g(),
    });
    const at = { by: 'height', value: R * (1 - Math.cos(0.6)) } as const;
    const places = [{ station: 10_000, side: 'port', ...at }];
    const scan = meshSpec(list, { station: 10_000, girth: 0 }, { places });
    const circleOf = (radius: number): HullSpec => ({
      kind: 'segments',
      start: { y: 0, z: 0 },
      path: [{ to: { y: radius, z: radius }, radius }],
    });
    const compared = (radius: number) => {
      const job = jobOn(circleOf(radius), { at, stem: { kind: 'plumb' } }, { compare: [{ name: 'scan', hull: scan }] });
      const f = planJob(job).compare[0]?.fittings[0];
      if (f?.reached !== true) throw new Error('not reached');
      return f;
    };
    const near = compared(R);
    expect(near.agreement).toBe('within');
    // A plane through some 1500 points of 1 mm: hundredths of a degree, hundredths of a millimetre.
    expect(near.errors.bevel).toBeGreaterThan(0.005 * DEG);
    expect(near.errors.bevel).toBeLessThan(0.05 * DEG);
    expect(near.errors.offset).toBeLessThan(0.2);
    expect(compared(R + 30).agreement).toBe('beyond');
  });
  test('nothing said of either', () => {
    expect(comparison(flat(4), [flat(5)]).agreement).toBe('unstated');
  });
  test('an error of what both share cancels: heel moves readings, not a drawing', () => {
    const heeled = comparison(flat(4), [flat(5)], (job) => {
      job.ship.heel = '0 deg ± 1 deg';
    });
    expect(heeled.agreement).toBe('unstated');
    const read = comparison(flat(4), [unsure(4, 0.01)], (job) => {
      at(job);
      job.ship.heel = '0 deg ± 1 deg';
    });
    expect(Math.abs(read.errors.bevel - 0.5 * DEG)).toBeLessThan(0.02 * DEG);
  });
});

test('ends that differ are named: a shell that runs in going forward', () => {
  // Two stations 20 m apart, the forward one 100 mm deeper: 5 mm a metre, over a foot of 300 mm (closed form).
  const at = (station: string, z: number) => ({
    station,
    points: [0, 1000, 2000, 3000].map((y) => ({ y: `${y} mm`, z: `${z + y * 0.1} mm` })),
  });
  const { found, text } = comparison(flat(Math.atan(0.1) / DEG), [
    { kind: 'sections', sections: [at('0 m', 50), at('10 m', 0), at('20 m', -50)] },
  ]);
  expect(Math.abs(found.footSlope - 0.005)).toBeLessThan(1e-5);
  expect(Math.abs((found.along[16]?.difference ?? 0) - 0.75)).toBeLessThan(MM);
  expect(text).toMatch(/0\.8 mm farther out at the forward end, 0\.8 mm farther in at the aft end/);
});

test('the sample: drawing over tape and tape over drawing are one another turned round', async () => {
  const folder = 'samples/n-drawing-against-the-tape';
  const read = async (name: string) => {
    const reading = await readJobFiles(readFileSync(`${folder}/${name}`, 'utf8'), {
      text: (file) => readFileSync(`${folder}/${file}`, 'utf8'),
      bytes: () => undefined,
    });
    if (!reading.ok) throw new Error(JSON.stringify(reading.faults));
    const f = planJob(reading.job).compare[0]?.fittings[0];
    if (f?.reached !== true) throw new Error('not reached');
    return f;
  };
  const [tape, drawing] = [await read('tape.json'), await read('drawing.json')];
  // Each is looked at where its own shell lies: the same place to a few millimetres.
  expect(Math.abs(tape.found.offset + drawing.found.offset)).toBeLessThan(0.5);
  expect(Math.abs(tape.found.bevel + drawing.found.bevel)).toBeLessThan(0.1 * DEG);
  expect([tape.agreement, drawing.agreement]).toEqual(['beyond', 'beyond']);
});

describe('where it ends up', () => {
  test('a source that does not reach the foot says so; one that makes no surface is refused by its path', () => {
    const short = {
      kind: 'readings',
      start: { y: '0 m', z: '0 m' },
      girth: [0, 200].map((a) => ({ at: `${a} mm`, slope: '4 deg' })),
      fore: { gaps: [{ at: '500 mm', gap: '0 mm' }] },
    };
    const f = planOf(flat(4), [short]).compare[0]?.fittings[0] as FittingComparison;
    expect(f.reached).toBe(false);
    expect(showPhrase(f.words, 'metric')).toMatch(/^"source 1" gives no shell under the whole foot: /);
    const bare = { ...short, girth: [{ at: '0 mm', slope: '4 deg' }] };
    try {
      planOf(flat(4), [bare]);
      throw new Error('planned');
    } catch (e) {
      if (!(e instanceof PlanRefused)) throw e;
      expect(e.faults.map((fault) => fault.path)).toEqual(['ship.compare[0].hull.girth']);
    }
  });

  test('in the plan file, every figure a number; and no plan without other sources carries the key', () => {
    const file = JSON.parse(JSON.stringify(planFile(planOf(flat(4), [flat(7), flat(4, -6)]))));
    expect(file.compare.map((c: { name: string }) => c.name)).toEqual(['source 1', 'source 2']);
    expect(file.compare[1].fittings[0].offsetMm).toBeCloseTo(6, 2);
    expect(JSON.stringify(file.compare)).not.toContain('null');
    const plain = planOf(flat(4), [flat(4)], (job) => {
      delete job.ship.compare;
    });
    expect('compare' in planFile(plain)).toBe(false);
  });

  test('in the calculation and in the report, and only where another source is named', async () => {
    const plan = planOf(flat(4), [flat(7)]);
    const alone = { ...plan, compare: [] };
    const pages = async (of: typeof plan) =>
      (await contextsOf(of, { fonts }))
        .flatMap((context) => calculation(context).pages)
        .flatMap((page) => flattened(page.items))
        .flatMap((item) => (item.kind === 'text' ? [item.text] : []))
        .join('\n');
    const text = await pages(plan);
    expect(text).toContain('The shell by other sources');
    expect(text).toContain('3.00°');
    expect(await pages(alone)).not.toContain('The shell by other sources');
    expect(report(plan)).toMatch(/^Against {3}"source 1" finds the shell/m);
    expect(report(alone)).not.toContain('Against');
  });

  test('sampling leaves the other source as it is', () => {
    const plan = planOf(flat(4), [flat(5)], (job) => {
      job.ship.compare[0].hull.start.z = '0 mm ± 40 mm';
      job.fittings[0].at.girth = '1.5 m ± 20 mm';
    });
    const before = JSON.stringify(plan.job.ship);
    sampleFigures(plan, 3, 0, 20);
    expect(JSON.stringify(plan.job.ship)).toBe(before);
  });
});
