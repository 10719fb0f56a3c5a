import { dot } from '../../geometry/math/vec.ts';
import { Refusal } from '../../geometry/refusal.ts';
import { planAsBuilt } from '../plan/asbuilt.ts';
import { underMovement } from '../plan/movement/builtpulls.ts';
import type { LugPull } from '../plan/movement/types.ts';
import type { FittingPlan, Plan } from '../plan/types.ts';

/** What an angle finder may show on the tacked lug, rad, signed as the job's `asBuilt` is read: see `AsBuilt`. */
export interface ReadingLimits {
  readonly planned: number;
  /** Least and greatest reading within limits; absent where what was planned is past them already. */
  readonly within?: { readonly from: number; readonly to: number };
  /** Whether each limit was met before `REACH`: where not, something else decides (the gaps, the mark-out). */
  readonly binds: { readonly from: boolean; readonly to: boolean };
  /** What sets the limits, each once: the pull planned, or a pull of the movement. */
  readonly by?: readonly Decides[];
}

/** `planned`: the pull that the job has of the lug itself. */
export type Decides = 'planned' | LugPull;

export type Reading = 'faceLean' | 'footRise' | 'turned';

/** rad. How far off the plan a reading is followed: a lug farther off is set anew whatever the figures say. */
const REACH = (5 * Math.PI) / 180;
/** rad. Finer than an angle finder reads. */
const CLOSE = (0.04 * Math.PI) / 180;

const made = new WeakMap<FittingPlan, Readonly<Record<Reading, ReadingLimits>>>();

/**
 * How far each reading may be off with the other two as planned, before a check of the lug as built fails (share of the pull across the
 * plate, strength): the same checks that the plan makes of the record typed back in, asked at one reading after another, and where a
 * movement pulls on the lug the checks of the movement under every pull of it.
 */
export function readingLimits(plan: Plan, fitting: FittingPlan): Readonly<Record<Reading, ReadingLimits>> {
  const known = made.get(fitting);
  if (known !== undefined) return known;
  const { frame } = fitting;
  const rise = (v: number) => Math.asin(Math.max(-1, Math.min(1, v)));
  const planned: Readonly<Record<Reading, number>> = {
    faceLean: rise(dot(frame.face, plan.up)),
    footRise: rise(dot(frame.foot, plan.up)),
    turned: 0,
  };
  const decides = deciderOf(plan, fitting);
  // As planned is as planned, whichever reading is asked.
  const here = decides('faceLean')(planned.faceLean, true);
  const limits = (reading: Reading): ReadingLimits =>
    here === undefined
      ? limitsAround(planned[reading], decides(reading))
      : { planned: planned[reading], binds: { from: true, to: true }, by: [here] };
  const all = { faceLean: limits('faceLean'), footRise: limits('footRise'), turned: limits('turned') };
  made.set(fitting, all);
  return all;
}

/** What fails at a reading of such a value; undefined where nothing does. `whole`: looked at under every pull, else the likely ones. */
type Decider = (value: number, whole: boolean) => Decides | undefined;

function deciderOf(plan: Plan, fitting: FittingPlan): (reading: Reading) => Decider {
  const { frame, anchor, root } = fitting;
  const movement = underMovement(plan, fitting);
  return (reading) => (value, whole) => {
    try {
      const built = planAsBuilt(
        plan.job,
        fitting.input,
        { [reading]: value, gaps: [] },
        { frame, anchor, root, openingAt: () => 0 },
        plan.up,
      );
      if (!built.checks.every((check) => check.pass)) return 'planned';
      return whole ? movement?.full(built.frame) : movement?.likely(built.frame);
    } catch (error) {
      // Readings that no plate can show together are none that may be found.
      if (error instanceof Refusal) return 'planned';
      throw error;
    }
  };
}

function limitsAround(at: number, decides: Decider): ReadingLimits {
  const reach = (way: 1 | -1, whole = false): { reach: number; by?: Decides } => {
    // Every check grows either way from where the pull meets it best: what passes at both ends of a stretch passes along it.
    let by = decides(at + way * REACH, whole);
    let [good, bad] = [0, REACH];
    if (by === undefined) good = REACH;
    while (by !== undefined && bad - good > CLOSE) {
      const middle = (good + bad) / 2;
      const failing = decides(at + way * middle, whole);
      if (failing === undefined) good = middle;
      else [bad, by] = [middle, failing];
    }
    // Another pull of the movement may fail there than those that decide as planned.
    if (!whole && decides(at + way * good, true) !== undefined) return reach(way, true);
    return by === undefined ? { reach: good } : { reach: good, by };
  };
  const [down, up] = [reach(-1), reach(1)];
  return {
    planned: at,
    within: { from: at - down.reach, to: at + up.reach },
    binds: { from: down.by !== undefined, to: up.by !== undefined },
    by: [down.by, up.by].flatMap((by) => (by === undefined ? [] : [by])),
  };
}
