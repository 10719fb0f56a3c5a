import { describe, expect, test } from 'vitest';
import { readJob } from '../../src/job/read.ts';
import { showPhrase } from '../../src/job/show.ts';
import { planJob } from '../../src/plan/plan.ts';
import { uncertaintyOf } from '../../src/plan/uncertainty.ts';
import { type Loose, plainJob } from './jobs.ts';

/* The attitude of a job from draft marks instead of drafts at the perpendiculars and a heel. */

const DEG = 180 / Math.PI;

function marked(draftMarks: Loose, more: Loose = {}): Loose {
  const job = plainJob();
  const { lpp, hull } = job.ship;
  job.ship = { lpp, hull, draftMarks, ...more };
  return job;
}

const read = (job: Loose) => {
  const reading = readJob(JSON.stringify(job), () => undefined);
  if (!reading.ok) throw new Error(reading.faults.map((f) => `${f.path}: ${f.found} | ${f.expected}`).join('\n'));
  return reading.job;
};
const faults = (job: Loose) => {
  const reading = readJob(JSON.stringify(job), () => undefined);
  return reading.ok ? [] : reading.faults.map((f) => `${f.path}: ${f.found} | ${f.expected}`);
};

/** Water plane z = Ta + (Tf - Ta) x / lpp - y tan(heel) of a ship of 40 m: 2.6 m aft, 2.2 m forward, 1 deg to starboard. */
const depth = (x: number, y: number) => 2600 - (400 * x) / 40_000 - y * Math.tan(1 / DEG);
const mark = (station: number, y: number, error = '') => ({
  station: `${station} mm`,
  ...(y === 0 ? {} : { side: y > 0 ? 'port' : 'starboard', halfBreadth: `${Math.abs(y)} mm` }),
  draft: `${depth(station, y)} mm${error}`,
});
/** Marks stand where the ship has room for them, not at the perpendiculars. */
const FIVE = [mark(2000, 2500), mark(2000, -2500), mark(20_000, 4000), mark(20_000, -4000), mark(37_000, 0)];

describe('marks that tell', () => {
  test('drafts at the perpendiculars and heel come out as they were put in', () => {
    const { ship } = read(marked(FIVE));
    expect(ship.draftAft).toBeCloseTo(2600, 6);
    expect(ship.draftForward).toBeCloseTo(2200, 6);
    expect(ship.heel * DEG).toBeCloseTo(1, 9);
    for (const { residual } of ship.draftMarks?.marks ?? []) expect(residual).toBeCloseTo(0, 6);
  });
  test('the plan is that of the same ship with its drafts given', () => {
    const given = plainJob();
    given.ship = { ...given.ship, draftAft: '2600 mm', draftForward: '2200 mm', heel: '1 deg' };
    const [a, b] = [planJob(read(marked(FIVE))), planJob(read(given))];
    expect(a.fittings[0]?.bevel.max).toBeCloseTo(b.fittings[0]?.bevel.max ?? 0, 9);
    expect(a.up[1]).toBeCloseTo(b.up[1], 12);
  });
  test('two marks on the centreline and a heel read apart', () => {
    const { ship } = read(marked([mark(2000, 0), mark(37_000, 0)], { heel: '1 deg' }));
    expect(ship.draftAft).toBeCloseTo(2600, 6);
    expect(ship.heel * DEG).toBeCloseTo(1, 9);
  });
  test('a wrong reading shows in the notes, by name', () => {
    const wrong = FIVE.map((m, i) => (i === 4 ? m : { ...m }));
    wrong.push({ ...mark(37_000, 0), draft: `${depth(37_000, 0) + 300} mm`, name: 'stem, port' } as Loose);
    const notes = planJob(read(marked(wrong)))
      .hullNotes.map((n) => showPhrase(n, 'metric'))
      .join('\n');
    expect(notes).toMatch(/6 draft marks by least squares/);
    expect(notes).toMatch(/more than the readings' errors explain/);
    expect(notes).toMatch(/Farthest off: "stem, port"/);
  });
});

test('the ± of the marks reaches the samples: heel from two marks a breadth apart', () => {
  // tan(heel) = (d_starboard - d_port) / breadth, each with sigma 10 mm: sigma 10 sqrt(2) / 8000 (closed form). On a circular
  // section a plumb lug's bevel moves as much as the heel does, to first order.
  const job = marked([mark(20_000, 4000, ' ± 20 mm'), mark(20_000, -4000, ' ± 20 mm'), mark(2000, 0), mark(38_000, 0)]);
  job.ship.hull = {
    kind: 'segments',
    start: { y: '0 m', z: '0 m' },
    path: [{ to: { y: '3 m', z: '3 m' }, radius: '3 m' }],
  };
  job.fittings[0].at = { station: '10 m', side: 'port', girth: '1.5 m' };
  job.fittings[0].load = { direction: [0, 0, -1], force: '60 kN' };
  const got = uncertaintyOf(planJob(read(job)), { samples: 4000 })?.fittings[0];
  const sigma = (10 * Math.SQRT2) / 8000;
  expect((got?.bevel.deviation ?? 0) / sigma).toBeGreaterThan(0.95);
  expect((got?.bevel.deviation ?? 0) / sigma).toBeLessThan(1.05);
  expect(got?.inputs.map((i) => i.path).sort()).toEqual(['ship.draftMarks[0].draft', 'ship.draftMarks[1].draft']);
});

describe('marks that do not tell', () => {
  test('the reading that would help most is named', () => {
    // All at one station: the other end.
    expect(faults(marked([mark(38_000, 2000), mark(38_000, -2000), mark(38_000, 0)]))).toEqual([
      'ship.draftMarks: 3 draft marks that leave trim or heel open | one more draft, best at station 0.0 mm on the centreline',
    ]);
    // All down one side: the other side, where the marks say how broad the ship is.
    expect(faults(marked([mark(2000, 3000), mark(38_000, 3000)]))[0]).toMatch(
      /best at station (2\.000 m|38\.000 m), 3\.000 m to starboard$/,
    );
    // On the centreline alone: heel, or a mark to the side.
    expect(faults(marked([mark(2000, 0), mark(38_000, 0)]))).toEqual([
      'ship.heel: nothing, and draft marks on the centreline alone | the heel read, or a draft mark to the side: as far out as there is one',
    ]);
  });
  test('either marks or drafts, not both, not neither', () => {
    expect(faults(marked(FIVE, { draftAft: '2.6 m' }))[0]).toMatch(
      /^ship\.draftAft: "2\.6 m" \| nothing beside draftMarks/,
    );
    expect(faults(marked(FIVE, { heel: '1 deg' }))[0]).toMatch(
      /^ship\.heel: "1 deg" \| nothing beside draft marks that tell the heel/,
    );
    expect(faults(marked(undefined))).toEqual([
      'ship.draftAft: nothing | a length with its unit, like "3.40 m"',
      'ship.draftForward: nothing | a length with its unit, like "3.05 m"',
      'ship.heel: nothing | an angle with its unit, like "0.7 deg"',
    ]);
    expect(faults(marked([{ ...mark(0, 0), side: 'port' }, mark(10_000, 0)], { heel: '0 deg' }))[0]).toMatch(
      /^ship\.draftMarks\[0\]: side \| side and halfBreadth together/,
    );
  });
});
