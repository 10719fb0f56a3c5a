import { alignLoad, type LoadAlignment } from '../../../geometry/align/align.ts';
import type { LugFrame } from '../../../geometry/lug/frame.ts';
import { BOW_LIES } from '../../strength/checks-rigging.ts';
import { strengthSweep } from '../../strength/strengthChecks.ts';
import { strengthInput } from '../strength.ts';
import type { FittingPlan, Plan } from '../types.ts';
import { decidedByStance, standingAs } from './built.ts';
import { pullOn } from './cases.ts';
import type { LugPull } from './types.ts';

/** A pull of the movement that a lug does not bear as it is set, the worst across its plate of those; undefined where it bears them all. */
export type FailsUnder = (frame: LugFrame) => LugPull | undefined;

export interface UnderMovement {
  /** Sideways force and angle under every pull; strength under those alone that decide a check of the lug as planned. */
  readonly likely: FailsUnder;
  /** Everything under every pull. */
  readonly full: FailsUnder;
}

/**
 * What asks of a lug that stands otherwise than planned (its frame, mm, ship axes) whether it bears every pull of the movement, still and
 * under pushes: sideways force, angle off its plane, strength. Each pull keeps its force and its way: a pin that moves by millimetres
 * turns a line of metres by less than an angle finder shows. Undefined where the movement does not pull on the lug. N, rad.
 */
export function underMovement(plan: Plan, fitting: FittingPlan): UnderMovement | undefined {
  const { lift, job, up } = plan;
  const sweep = lift?.lugs.find(({ id }) => id === fitting.id);
  if (lift === null || job.lift === undefined || sweep?.worst === undefined) return undefined;
  const loaded = lift.cases.flatMap(({ state, push, equilibrium }): LugPull[] => {
    const pull = pullOn(fitting, lift.lines, equilibrium, up);
    return pull === null ? [] : [{ state, push, pull }];
  });
  const sideways = loaded.map(({ pull }) => pull.sideways);
  const ends = new Set([Math.min(...sideways), Math.max(...sideways)]);
  const named = [...Object.values(sweep.worst), ...sweep.checks].map(({ state, push }) => placeOf(state, push));
  const deciding = new Set(named);
  const strong = new Set(
    loaded.filter(({ state, push, pull }) => deciding.has(placeOf(state, push)) || ends.has(pull.sideways)),
  );
  const least = job.lift.limits.unhookShare * Math.max(lift.net, 0);
  const ask = { plan, fitting, loaded, least };
  return { likely: (frame) => failing(ask, frame, strong), full: (frame) => failing(ask, frame, new Set(loaded)) };
}

const placeOf = (state: number, push: string | null): string => JSON.stringify([state, push]);

interface Ask {
  readonly plan: Plan;
  readonly fitting: FittingPlan;
  readonly loaded: readonly LugPull[];
  /** N: a line with less is slack, see `sweepLug`. */
  readonly least: number;
}

/** `strong`: the pulls under which strength is looked at. */
function failing(
  { plan, fitting, loaded, least }: Ask,
  frame: LugFrame,
  strong: ReadonlySet<LugPull>,
): LugPull | undefined {
  const { job, up } = plan;
  const { sidewaysShare, offPlane } = job.limits;
  const { pinHeight } = fitting.input.lug;
  const built = loaded
    .map((of) => {
      const pull = alignLoad(frame, pinHeight, { direction: of.pull.direction }, of.pull.force) ?? of.pull;
      return { of, now: { ...of, pull } };
    })
    .sort((p, q) => Math.abs(q.now.pull.sideways) - Math.abs(p.now.pull.sideways));
  const greatest = Math.max(...loaded.map(({ pull }) => pull.force));
  const across = built.find(
    ({ now: { pull } }) =>
      Math.abs(pull.sideways) > sidewaysShare * greatest * (1 + TIE) ||
      (offPlane !== undefined && pull.force >= least && Math.abs(pull.offPlane) > offPlane * (1 + TIE)),
  );
  if (across !== undefined) return across.now;
  const { pin } = standingAs(fitting, frame);
  const input = (pull: LoadAlignment) =>
    strengthInput(job, fitting.input, fitting.anchor, frame, pin, fitting.root, pull, up);
  const verdict = strengthSweep(input((built[0] as (typeof built)[number]).now.pull));
  return built.find(({ of, now: { pull } }) => {
    if (!strong.has(of)) return false;
    const { load, inPlane, fromPlumb } = input(pull);
    const swept = { load, inPlane, offPlane: pull.offPlane, ...(fromPlumb === undefined ? {} : { fromPlumb }) };
    const slack = greatest >= least && pull.force < least;
    return verdict(swept).checks.some(({ id, pass }) => !pass && decidedByStance(id) && !(slack && BOW_LIES.has(id)));
  })?.now;
}

/** Share by which two figures that are one differ by round-off. */
const TIE = 1e-9;
