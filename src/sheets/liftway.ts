import { addScaled, dot, sub, type Vec3 } from '../../geometry/math/vec.ts';
import type { LiftPlan } from '../plan/movement/types.ts';
import type { Plan } from '../plan/types.ts';
import { isFree } from './liftturns.ts';
import { hoistLength } from './liftunits.ts';

/** mm. A way of the load that is told. */
const WAY = 20;

/**
 * Which way the load has gone from one step to another, both counted from 0, told of its centre of gravity; before the first step it hangs as
 * drawn: `load goes 1.597 m down`, `load goes 2.272 m aft, 376 mm up`. Level ways are the ship's, laid level. Empty where it hardly
 * moves, or is nowhere at rest.
 */
export function waySaid(plan: Plan, lift: LiftPlan, from: number, to: number): string[] {
  const before = from === 0 ? undefined : lift.states[from - 1];
  const after = lift.states[to];
  if (before?.rest.found === false || after?.rest.found !== true) return [];
  const start: Vec3 = before?.rest.found === true ? before.rest.equilibrium.pose.centre : lift.load.centre;
  const way = sub(after.rest.equilibrium.pose.centre, start);
  const rise = dot(way, plan.up);
  const [along, across] = addScaled(way, plan.up, -rise);
  const parts = [
    { mm: along, words: ['forward', 'aft'] },
    { mm: across, words: ['to port', 'to starboard'] },
    { mm: rise, words: ['up', 'down'] },
  ].flatMap(({ mm, words }) =>
    Math.abs(mm) < WAY ? [] : [`${hoistLength(Math.abs(mm), plan.job.display)} ${words[mm > 0 ? 0 : 1]}`],
  );
  return parts.length === 0 ? [] : [`load goes ${isFree(after) ? 'about ' : ''}${parts.join(', ')}`];
}
