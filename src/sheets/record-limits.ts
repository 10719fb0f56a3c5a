import { dot } from '../../geometry/math/vec.ts';
import { Refusal } from '../../geometry/refusal.ts';
import { planAsBuilt } from '../plan/asbuilt.ts';
import type { FittingPlan, Plan } from '../plan/types.ts';

/** What an angle finder may show on the tacked lug, rad, signed as the job's `asBuilt` is read: see `AsBuilt`. */
export interface ReadingLimits {
  readonly planned: number;
  /** Least and greatest reading within limits; absent where what was planned is past them already. */
  readonly within?: { readonly from: number; readonly to: number };
  /** Whether each limit was met before `REACH`: where not, something else decides (the gaps, the mark-out). */
  readonly binds: { readonly from: boolean; readonly to: boolean };
}

export type Reading = 'faceLean' | 'footRise' | 'turned';

/** rad. How far off the plan a reading is followed: a lug farther off is set anew whatever the figures say. */
const REACH = (5 * Math.PI) / 180;
/** rad. Finer than an angle finder reads. */
const CLOSE = (0.04 * Math.PI) / 180;

const made = new WeakMap<FittingPlan, Readonly<Record<Reading, ReadingLimits>>>();

/**
 * How far each reading may be off with the other two as planned, before a check of the lug as built fails (share of the pull across the
 * plate, strength): the same checks that the plan makes of the record typed back in, asked at one reading after another.
 */
export function readingLimits(plan: Plan, fitting: FittingPlan): Readonly<Record<Reading, ReadingLimits>> {
  const known = made.get(fitting);
  if (known !== undefined) return known;
  const { frame, anchor, root } = fitting;
  const passes = (reading: Reading, value: number): boolean => {
    try {
      const built = planAsBuilt(
        plan.job,
        fitting.input,
        { [reading]: value, gaps: [] },
        { frame, anchor, root, openingAt: () => 0 },
        plan.up,
      );
      return built.checks.every((check) => check.pass);
    } catch (error) {
      // Readings that no plate can show together are none that may be found.
      if (error instanceof Refusal) return false;
      throw error;
    }
  };
  const rise = (v: number) => Math.asin(Math.max(-1, Math.min(1, v)));
  const planned: Readonly<Record<Reading, number>> = {
    faceLean: rise(dot(frame.face, plan.up)),
    footRise: rise(dot(frame.foot, plan.up)),
    turned: 0,
  };
  const limits = (reading: Reading): ReadingLimits => {
    const at = planned[reading];
    if (!passes(reading, at)) return { planned: at, binds: { from: true, to: true } };
    const reach = (way: 1 | -1): number => {
      // Every check grows either way from where the pull meets it best: what passes at both ends of a stretch passes along it.
      if (passes(reading, at + way * REACH)) return REACH;
      let [good, bad] = [0, REACH];
      while (bad - good > CLOSE) {
        const middle = (good + bad) / 2;
        if (passes(reading, at + way * middle)) good = middle;
        else bad = middle;
      }
      return good;
    };
    const [down, up] = [reach(-1), reach(1)];
    return { planned: at, within: { from: at - down, to: at + up }, binds: { from: down < REACH, to: up < REACH } };
  };
  const all = { faceLean: limits('faceLean'), footRise: limits('footRise'), turned: limits('turned') };
  made.set(fitting, all);
  return all;
}
