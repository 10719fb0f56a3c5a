import { expect, test } from 'vitest';
import { planJob } from '../../src/plan/plan.ts';
import { flatJob } from './flatbottom.ts';

/* Stresses of one kind at one point add up (mechanics of materials): what the shell carries anyhow comes on top of what the lug makes. */

const bending = (stressPresent: number) => {
  const job = flatJob({});
  const { steel } = job;
  const plan = planJob({ ...job, steel: { ...steel, shell: { ...steel.shell, stressPresent } } });
  return ['shell-bending', 'shell-bending-clamped'].map(
    (id) => plan.fittings[0]?.checks.find((check) => check.id === id)?.demand ?? Number.NaN,
  );
};

test('stress already in the shell adds itself to the bending of the panel, and nothing else', () => {
  const [free, held] = bending(0);
  const [moreFree, moreHeld] = bending(60);
  expect((moreFree ?? 0) - (free ?? 0)).toBeCloseTo(60, 9);
  expect((moreHeld ?? 0) - (held ?? 0)).toBeCloseTo(60, 9);
});
