import { angleBetween, dot } from '../../geometry/math/vec.ts';
import type { LiftPlan } from '../plan/movement/types.ts';
import type { Plan } from '../plan/types.ts';
import { turned } from '../rigging/pose.ts';
import { degrees } from './figures.ts';

type State = LiftPlan['states'][number];

/*
 * How the load is turned about plumb: what a diver beside it sees of it besides a lean. Told from how it is drawn in the job, as seen from
 * above. A load that nothing keeps from turning may lie any way: where it came to hang so is told once, and roughly.
 */

/** rad. A turn that is told. */
export const TURN = (1.5 * Math.PI) / 180;

/** How far the load leans from how it is drawn, rad; 0 where it is nowhere at rest. A turn about plumb is no lean. */
export function leanOf({ up }: Plan, { rest }: State): number {
  return rest.found ? angleBetween(turned(rest.equilibrium.pose.turn, up), up) : 0;
}

/**
 * The turn about plumb from how the load is drawn, rad, in -pi..pi, more than 0 anticlockwise seen from above: the twist about plumb that
 * with a lean about a level axis makes the whole turn. Null where it is nowhere at rest, or lies on its head, where there is no such thing.
 */
export function turnOf(plan: Plan, state: State): number | null {
  if (!state.rest.found || leanOf(plan, state) > Math.PI / 2) return null;
  const [w, ...axis] = state.rest.equilibrium.pose.turn;
  const half = Math.atan2(dot(axis, plan.up), w);
  return 2 * (half - Math.PI * Math.round(half / Math.PI));
}

/** Whether nothing keeps the load from turning or drifting. */
export const isFree = ({ rest }: State): boolean => rest.found && rest.equilibrium.stability.kind !== 'stable';

/** A turn about plumb in words, seen from above: `49° anticlockwise`; as much of one that is free is told roughly. */
export const turnText = (rad: number, about = false): string =>
  `${about ? 'about ' : ''}${degrees(Math.abs(rad), 0)} ${rad > 0 ? 'anticlockwise' : 'clockwise'}`;

interface Turned {
  /** From 0. */
  readonly step: number;
  readonly turn: number;
  readonly free: boolean;
}

/**
 * Where the load begins to turn about plumb, goes on, and goes back, from one step to another, both counted from 0: each such way once,
 * with where it ends. `load turns to 49° anticlockwise by step 14`; `load turns back to how it is drawn by step 20`.
 */
export function turnsSaid(plan: Plan, lift: LiftPlan, from: number, to: number): string[] {
  const said: string[] = [];
  // Where the last turn that was told ended; how it is drawn comes before all.
  let told = 0;
  const tell = ({ step, turn, free }: Turned, anyhow = false): void => {
    if (Math.abs(turn - told) <= TURN && !anyhow) return;
    const back = Math.abs(turn) < Math.abs(told) && turn * told >= 0;
    const where = Math.abs(turn) < TURN ? 'how it is drawn' : turnText(turn, free);
    if (step >= from) said.push(`load turns ${back ? 'back ' : ''}to ${where} by step ${step + 1}`);
    told = turn;
  };
  let last: Turned = { step: -1, turn: 0, free: false };
  // Farthest from there since.
  let far = last;
  for (let step = 0; step <= to; step++) {
    if (step === from) tell(far);
    const state = lift.states[step] as State;
    const free = isFree(state);
    const turn = turnOf(plan, state);
    // Of a free load only the first step tells more than that it may lie any way.
    if (turn === null || (free && last.free)) continue;
    // It went the shorter way round.
    const now: Turned = { step, turn: turn - 2 * Math.PI * Math.round((turn - last.turn) / (2 * Math.PI)), free };
    if (last.free) {
      tell(far);
      tell(now, true);
    } else if (Math.abs(now.turn - far.turn) > TURN && (now.turn - far.turn) * (far.turn - told) < 0) tell(far);
    if (last.free || Math.abs(now.turn - told) > Math.abs(far.turn - told) || far.turn === told) far = now;
    last = now;
  }
  tell(far);
  return said;
}
