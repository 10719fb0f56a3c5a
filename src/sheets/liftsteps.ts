import { dot, length, sub } from '../../geometry/math/vec.ts';
import { pullOn } from '../plan/movement/cases.ts';
import type { LiftPlan } from '../plan/movement/types.ts';
import type { FittingPlan, Plan } from '../plan/types.ts';
import { placeOf } from '../rigging/pose.ts';
import { degrees, markStep, markUp, sharesText } from './figures.ts';
import { isFree, leanOf, turnsSaid } from './liftturns.ts';
import { forceText, hoistLength } from './liftunits.ts';
import { waySaid } from './liftway.ts';
import { plainText } from './text.ts';

type State = LiftPlan['states'][number];

/** The movement in the words of who hauls: what each hoist does, what each line then carries. */

/** Tension of line k at a step, N: null where it is off or the load is nowhere at rest, 0 where it hangs slack. */
export function tensionAt(state: State, k: number): number | null {
  if (!Number.isFinite(state.lengths[k]) || !state.rest.found) return null;
  return state.rest.equilibrium.lines[k]?.tension ?? 0;
}

/** What stands in a cell for a line at a step. */
export function pullText(plan: Plan, state: State, k: number): string {
  if (!Number.isFinite(state.lengths[k])) return 'off';
  if (!state.rest.found) return 'not at rest';
  const tension = tensionAt(state, k) ?? 0;
  return tension > 0 ? forceText(plan, tension) : 'slack';
}

/** What is done in a step: `walk aft, 3 of 8`. */
export const stepText = ({ label, part, parts }: State): string =>
  `${plainText(label)}${parts === 1 ? '' : `, ${part} of ${parts}`}`;

/** Last step of every item of the order of work, counted from 0. */
export const stepEnds = (lift: LiftPlan): number[] =>
  lift.states.flatMap((state, i) => (lift.states[i + 1]?.step === state.step ? [] : [i]));

/**
 * What each hoist does in an item of the order of work, from where the item before ended: `P: pay out 1.597 m, to 2.102 m`. Lengths are
 * from pin to load, without stretch; a line is hooked on no shorter than the load then hangs from its pin.
 */
export function hoistOrders(plan: Plan, lift: LiftPlan, before: State | undefined, after: State): string[] {
  const { display } = plan.job;
  const say = (mm: number) => hoistLength(mm, display);
  const step = markStep(display);
  // From mark to mark on the tape, so that lengths paid out add up to the lengths said.
  const mark = (mm = Number.POSITIVE_INFINITY) => Math.round(mm / step) * step;
  return lift.lines.flatMap((line, k) => {
    const [from, to] = [mark(before?.lengths[k]), mark(after.lengths[k])];
    const id = plainText(line.id);
    if (!Number.isFinite(to)) return Number.isFinite(from) ? [`${id}: take it off`] : [];
    if (!Number.isFinite(from)) {
      const at = before === undefined ? 0 : markUp(apart(lift, before, k), display);
      return [at > to ? `${id}: hook on at ${say(at)}, haul in to ${say(to)}` : `${id}: hook on, set to ${say(to)}`];
    }
    if (Math.abs(to - from) < step / 2) return [`${id}: stays at ${say(to)}`];
    return [`${id}: ${to > from ? 'pay out' : 'haul in'} ${say(Math.abs(to - from))}, to ${say(to)}`];
  });
}

/** mm from the pin of line k to where it is hooked on to the load, as the load hangs at a step; 0 where it is nowhere at rest. */
function apart(lift: LiftPlan, { rest }: State, k: number): number {
  const line = lift.lines[k];
  if (!rest.found || line === undefined) return 0;
  return length(sub(placeOf(rest.equilibrium.pose, lift.load.centre, line.attachment), line.pin));
}

/** Who bears the weight at a step: each line's part of the weight in water, `P 51 %`, and how the load hangs where it is not firm. */
export function bearers(plan: Plan, lift: LiftPlan, state: State): string[] {
  if (!state.rest.found) return ['NOT AT REST'];
  const { lines, stability } = state.rest.equilibrium;
  const on = lift.lines.flatMap((line, k) => {
    const pull = lines[k];
    if (!Number.isFinite(state.lengths[k]) || pull === undefined) return [];
    return [{ id: plainText(line.id), share: (-pull.tension * dot(pull.direction, plan.up)) / lift.net, ...pull }];
  });
  // A tenth: whole per cents that add up would be one off what the pulls beside them say.
  const shares = sharesText(
    on.map(({ share }) => share),
    1,
  ).map((text) => (text === '100.0 %' ? '100 %' : text));
  const words = on.map(({ id, tension }, i) => `${id} ${tension <= 0 ? 'slack' : shares[i]}`);
  if (words.length === 0) return ['no line is on'];
  return stability.kind === 'stable' ? words : [...words, `hangs ${stability.kind}`];
}

/** rad. A lean that a diver sees. */
export const LEAN = (2 * Math.PI) / 180;

/** The gear of a lug whose working load limit a pull, with its factors, is over; undefined where it is over none. */
function limitPassed(plan: Plan, id: string | null, newton: number): string | undefined {
  const fitting = plan.fittings.find((each) => each.id === id);
  if (fitting === undefined) return undefined;
  const { dynamic, skew, consequence } = fitting.strength.factors;
  const pull = newton * dynamic.value * skew.value * consequence.value;
  const { hoist, shackle } = fitting.input;
  if (hoist !== undefined && pull > hoist.wll) return `HOIST’S ${forceText(plan, hoist.wll)}`;
  if (shackle !== undefined && pull > shackle.wll) return `SHACKLE’S ${forceText(plan, shackle.wll)}`;
  return undefined;
}

/** Where lines come taut or go slack from one step to another, both counted from 0, those that do it together in one: `P and S go slack at step 15`. */
function tautAndSlack(lift: LiftPlan, from: number, to: number): string[] {
  return lift.states.slice(from, to + 1).flatMap((state, i) => {
    const before = from + i === 0 ? undefined : lift.states[from + i - 1];
    if (before === undefined || !before.rest.found || !state.rest.found) return [];
    return [true, false].flatMap((taut) => {
      const ids = lift.lines.flatMap((line, k) => {
        const [was, is] = [before, state].map((each) => (tensionAt(each, k) ?? 0) > 0);
        return was !== is && is === taut && Number.isFinite(state.lengths[k]) ? [plainText(line.id)] : [];
      });
      if (ids.length === 0) return [];
      const does = ids.length === 1 ? ['comes taut', 'goes slack'] : ['come taut', 'go slack'];
      return [`${ids.join(' and ')} ${does[taut ? 0 : 1]} at step ${from + i + 1}`];
    });
  });
}

/**
 * What to look at from one step to another, both counted from 0: the most each line pulls on the way, from the step before on and pushes
 * included; lines that come taut or go slack, and where; which way the load goes; a lean; a turn about plumb; a load that nothing keeps from turning, or that moves by itself.
 */
export function watchFor(plan: Plan, lift: LiftPlan, from: number, to: number): string[] {
  const steps = lift.states.slice(from, to + 1);
  const most = lift.lines.map((_, k) =>
    Math.max(
      0,
      ...lift.cases
        .filter(({ state }) => state >= from - 1 && state <= to && Number.isFinite(lift.states[to]?.lengths[k]))
        .map(({ equilibrium }) => equilibrium.lines[k]?.tension ?? 0),
    ),
  );
  const pulls = lift.lines.flatMap((line, k) => {
    const newton = most[k] ?? 0;
    if (newton <= 0) return [];
    const said = `${plainText(line.id)} up to ${forceText(plan, newton)}`;
    const over = limitPassed(plan, line.fitting, newton);
    return [over === undefined ? said : `${said}: OVER THE ${over}, DO NOT DO THIS`];
  });
  const across = lift.lugs.flatMap((lug) => {
    const fitting = plan.fittings.find((each) => each.id === lug.id);
    const allowed = lug.checks.find(({ check }) => check.id === 'lift-sideways')?.check.limit;
    if (fitting === undefined || allowed === undefined) return [];
    const { sideways } = lugOver(plan, lift, fitting);
    const worst = Math.max(
      0,
      ...[sideways.values, sideways.pushed].flatMap((values) => values.slice(from, to + 1).map((v) => v ?? 0)),
    );
    if (worst <= allowed) return [];
    return [
      `lug ${plainText(lug.id)}: ${forceText(plan, worst)} ACROSS ITS PLATE, ${forceText(plan, allowed)} allowed, DO NOT DO THIS`,
    ];
  });
  const lean = Math.max(0, ...steps.map((state) => leanOf(plan, state)));
  const moves = steps.flatMap((state, i) =>
    state.failures.some(({ kind }) => kind === 'swings') ? [`MOVES BY ITSELF at step ${from + i + 1}`] : [],
  );
  const free = steps.some(isFree);
  return [
    ...pulls,
    ...across,
    ...tautAndSlack(lift, from, to),
    ...waySaid(plan, lift, from, to),
    ...(lean > LEAN ? [`load leans up to ${degrees(lean, 0)}`] : []),
    ...turnsSaid(plan, lift, from, to),
    ...(free ? ['load turns freely: tag line'] : []),
    ...moves,
  ];
}

/** Pull on a lug and the force across its plate at every step, N: at rest, and the most that a push makes of it. */
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
