import { expect, test } from 'vitest';
import { planJob } from '../../../src/plan/plan.ts';
import type { Plan } from '../../../src/plan/types.ts';
import { sample } from './jobs.ts';

/*
 * Two lines that carry a load alone and end above its centre hang plumb (statics). A plate whose face leans by an angle then takes that
 * angle's sine of the pull across itself (plain geometry).
 */

const DEG = Math.PI / 180;
const PLUMB_STEP = 6;

const leant = (degrees: number): Plan =>
  planJob(
    sample('h-slack-line', (raw) => {
      raw.limits = { ...raw.limits, offPlane: '2.9 deg' };
      raw.fittings[0].asBuilt = { face: { fromPlumb: `${degrees} deg`, looksUp: 'face+' } };
    }),
  );

const checkOf = (plan: Plan, id: string) =>
  plan.lift?.lugs.find((lug) => lug.id === 'P')?.checks.find(({ check }) => check.id === id);

test.each([
  [2.8, true],
  [3, false],
])('a face found to lean by %f degrees takes its sine of the greatest pull of the movement', (degrees, passes) => {
  const plan = leant(degrees);
  const greatest = plan.lift?.lugs.find(({ id }) => id === 'P')?.worst?.tension;
  expect(greatest?.state).toBe(PLUMB_STEP);
  const found = checkOf(plan, 'lift-as-built-sideways');
  expect(found?.state).toBe(PLUMB_STEP);
  expect(found?.check.demand).toBeCloseTo((greatest?.pull.force ?? 0) * Math.sin(degrees * DEG), 1);
  expect(found?.check.limit).toBeCloseTo(0.05 * (greatest?.pull.force ?? 0), 6);
  expect(found?.check.pass).toBe(passes);
  // Plumb lines: the angle off the plane is the lean itself.
  expect(checkOf(plan, 'lift-as-built-off-plane')?.check.demand).toBeGreaterThanOrEqual(degrees * DEG - 1e-6);
  expect(checkOf(plan, 'lift-as-built-off-plane')?.check.limit).toBeCloseTo(2.9 * DEG, 9);
  expect(checkOf(plan, 'lift-as-built-strength')?.check.ratio).toBeGreaterThanOrEqual(
    Math.max(...['weld', 'lug-bearing'].map((id) => checkOf(plan, id)?.check.ratio ?? 0)) - 1e-6,
  );
});

test('as planned nothing is said of how it stands; as it was planned to, what the movement says', () => {
  const plan = planJob(sample('h-slack-line'));
  expect(checkOf(plan, 'lift-as-built-sideways')).toBeUndefined();
  const same = leant(0);
  const [built, planned] = ['lift-as-built-sideways', 'lift-sideways'].map(
    (id) => checkOf(same, id)?.check.demand ?? NaN,
  );
  expect(built).toBeCloseTo(planned as number, 3);
});
