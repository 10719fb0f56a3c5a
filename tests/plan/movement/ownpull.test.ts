import { describe, expect, test } from 'vitest';
import { planJob } from '../../../src/plan/plan.ts';
import { PlanRefused } from '../../../src/plan/refused.ts';
import { sample } from './jobs.ts';

// biome-ignore lint/suspicious/noExplicitAny: a test takes files apart at will
const leftToIt = (change: (raw: any) => void = () => undefined) =>
  sample('g-rudder-walked-aft', (raw) => {
    for (const fitting of raw.fittings) delete fitting.load;
    change(raw);
  });

describe('a lug whose pull is left to the movement', () => {
  test('gets the greatest pull of its sweep, and says so', () => {
    const plan = planJob(leftToIt());
    plan.fittings.forEach((fitting, i) => {
      const worst = plan.lift?.lugs.find(({ id }) => id === fitting.id)?.worst?.tension;
      expect(fitting.load.force).toBeCloseTo(worst?.pull.force ?? Number.NaN, 4);
      expect(fitting.load.offPlane).toBeCloseTo(worst?.pull.offPlane ?? Number.NaN, 6);
      const told = plan.assumptions.find(({ path }) => path === `fittings[${i}].load`);
      expect(told?.reason).toContain(`step ${(worst?.state ?? Number.NaN) + 1}`);
      // The checks of the lug by itself are then those of that step, and no worse than the sweep's.
      for (const { id, ratio } of fitting.strength.checks) {
        const swept = plan.lift?.lugs
          .find((lug) => lug.id === fitting.id)
          ?.checks.find(({ check }) => check.id === id)?.check;
        if (swept !== undefined) expect(ratio, id).toBeLessThanOrEqual(swept.ratio + 1e-9);
      }
    });
    // Nothing else of the movement is changed by it.
    expect(plan.lift?.lines.map((line) => line.greatest)).toEqual(
      planJob(sample('g-rudder-walked-aft')).lift?.lines.map((line) => line.greatest),
    );
  });

  test('planned again from its own plan it is the same', () => {
    const plan = planJob(leftToIt());
    const again = planJob(plan.job);
    expect(again.fittings.map((f) => f.load)).toEqual(plan.fittings.map((f) => f.load));
  });

  test('two lines on one lug: along their resultant', () => {
    const plan = planJob(
      leftToIt((raw) => {
        raw.lift.lines[1].fitting = 'P';
        raw.fittings = raw.fittings.filter((f: { id: string }) => f.id !== 'S');
      }),
    );
    const worst = plan.lift?.lugs.find(({ id }) => id === 'P')?.worst?.tension;
    expect(plan.fittings[0]?.load.force).toBeCloseTo(worst?.pull.force ?? Number.NaN, 4);
  });

  test('is refused by its field where no line hangs from it, and where its stem has nothing to point to', () => {
    expect(() =>
      leftToIt((raw) => {
        raw.lift.lines[1].fitting = 'P';
      }),
    ).toThrow(/fittings\[1\]\.load.*a line of lift that hangs from this fitting/);
    expect(() =>
      leftToIt((raw) => {
        raw.fittings[0].stem = 'toward-load';
      }),
    ).toThrow(/fittings\[0\]\.load.*for the stem to point to/);
    expect(() => sample('a-plumb-lug-rounded-bottom', (raw) => delete raw.fittings[0].load)).toThrow(
      /fittings\[0\]\.load/,
    );
  });

  test('is refused where the movement never pulls on it', () => {
    const job = leftToIt((raw) => {
      // The hand-over to A is left out, and A never hooked on.
      raw.lift.steps = [raw.lift.steps[0]];
    });
    let refused: unknown;
    try {
      planJob(job);
    } catch (e) {
      refused = e;
    }
    expect(refused).toBeInstanceOf(PlanRefused);
    expect((refused as PlanRefused).faults.map(({ path }) => path)).toEqual(['fittings[2].load']);
  });
});
