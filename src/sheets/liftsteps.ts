import { dot } from '../../geometry/math/vec.ts';
import { showFigure } from '../job/show.ts';
import { pullOn } from '../plan/movement/cases.ts';
import type { LiftPlan } from '../plan/movement/types.ts';
import type { FittingPlan, Plan } from '../plan/types.ts';
import { cardLength } from './figures.ts';
import { plainText } from './text.ts';

type State = LiftPlan['states'][number];

/** The movement in the words of who hauls: what each hoist does, what each line then carries. */

/** Tension of line k at a place, N: null where it is off or the load is nowhere at rest, 0 where it hangs slack. */
export function tensionAt(state: State, k: number): number | null {
  if (!Number.isFinite(state.lengths[k]) || !state.rest.found) return null;
  return state.rest.equilibrium.lines[k]?.tension ?? 0;
}

/** What stands in a cell for a line at a place. */
export function pullText(plan: Plan, state: State, k: number): string {
  if (!Number.isFinite(state.lengths[k])) return 'off';
  if (!state.rest.found) return 'not at rest';
  const tension = tensionAt(state, k) ?? 0;
  return tension > 0 ? showFigure({ newton: tension }, plan.job.display) : 'slack';
}

/** Last place of every step of the movement, counted from 0. */
export const stepEnds = (lift: LiftPlan): number[] =>
  lift.states.flatMap((state, i) => (lift.states[i + 1]?.step === state.step ? [] : [i]));

/** Lengths from pin to load, without load, that a hoist is worked by less than this are left as they are, mm. */
const STILL = 0.5;

/**
 * What each hoist does in a step, from the place where the step before ended: `P: pay out 1.597 m, to 2.102 m`. Lengths are
 * from pin to load, without stretch.
 */
export function hoistOrders(plan: Plan, lift: LiftPlan, before: State | undefined, after: State): string[] {
  const say = (mm: number) => cardLength(mm, plan.job.display);
  return lift.lines.flatMap((line, k) => {
    const from = before?.lengths[k] ?? Number.POSITIVE_INFINITY;
    const to = after.lengths[k] ?? Number.POSITIVE_INFINITY;
    const id = plainText(line.id);
    if (!Number.isFinite(to)) return Number.isFinite(from) ? [`${id}: take it off`] : [];
    if (!Number.isFinite(from)) return [`${id}: hook on, set to ${say(to)}`];
    if (Math.abs(to - from) < STILL) return [`${id}: stays at ${say(to)}`];
    return [`${id}: ${to > from ? 'pay out' : 'haul in'} ${say(Math.abs(to - from))}, to ${say(to)}`];
  });
}

/** Who bears the weight at a place: each line's part of the weight in water, `P 51 %, S 49 %`. */
export function bearers(plan: Plan, lift: LiftPlan, state: State): string {
  if (!state.rest.found) return 'no place of rest was found';
  const { lines } = state.rest.equilibrium;
  const words = lift.lines.flatMap((line, k) => {
    const pull = lines[k];
    if (!Number.isFinite(state.lengths[k]) || pull === undefined) return [];
    if (pull.tension <= 0) return [`${plainText(line.id)} slack`];
    const share = (-pull.tension * dot(pull.direction, plan.up)) / lift.net;
    return [`${plainText(line.id)} ${showFigure({ share, digits: 0 }, plan.job.display)}`];
  });
  return words.length === 0 ? 'no line is on' : words.join(', ');
}

/** Pull on a lug and the force across its plate at every place, N: at rest, and the most that a push makes of it. */
export function lugOver(plan: Plan, lift: LiftPlan, fitting: FittingPlan) {
  const sweep = lift.lugs.find((each) => each.id === fitting.id);
  const rest = sweep?.pulls ?? lift.states.map(() => null);
  const most = lift.states.map(() => ({ force: null as number | null, sideways: null as number | null }));
  for (const { state, push, equilibrium } of lift.cases) {
    const at = most[state];
    const pull = push === null ? null : pullOn(fitting, lift.lines, equilibrium, plan.up);
    if (pull === null || at === undefined) continue;
    at.force = Math.max(at.force ?? 0, pull.force);
    at.sideways = Math.max(at.sideways ?? 0, Math.abs(pull.sideways));
  }
  return {
    force: { values: rest.map((pull) => pull?.force ?? null), pushed: most.map((at) => at.force) },
    sideways: {
      values: rest.map((pull) => (pull === null ? null : Math.abs(pull.sideways))),
      pushed: most.map((at) => at.sideways),
    },
  };
}

/** A step of the movement is looked at in several places of the load: on the sheets only the job's own steps are called steps. */
export const placesSaid = (text: string): string =>
  text.replaceAll(/\b([Ss])tep(s?) (?=\d)/g, (_, s: string, many: string) => `${s === 'S' ? 'P' : 'p'}lace${many} `);
