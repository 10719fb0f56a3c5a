import { addScaled, dot, length, sub, type Vec3 } from '../../geometry/math/vec.ts';
import type { LiftPlan } from '../plan/movement/types.ts';
import type { Plan } from '../plan/types.ts';
import { isFree } from './liftturns.ts';
import { hoistLength } from './liftunits.ts';

/** mm. A way of the load that is told. */
const WAY = 20;

/** Share of the way of an item of several steps from which on one of them is told to make it. */
const ALL_OF_IT = 0.9;

/** The step, from 0, that makes all of the way of an item of several steps, nearly. */
function suddenAt(lift: LiftPlan, from: number, to: number, start: Vec3): number | undefined {
  if (to === from) return undefined;
  let last = start;
  const ways = lift.states.slice(from, to + 1).map(({ rest }) => {
    if (!rest.found) return 0;
    const { centre } = rest.equilibrium.pose;
    const way = length(sub(centre, last));
    last = centre;
    return way;
  });
  const most = Math.max(...ways);
  return most > ALL_OF_IT * ways.reduce((sum, way) => sum + way, 0) ? from + ways.indexOf(most) : undefined;
}

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
  if (parts.length === 0) return [];
  const at = suddenAt(lift, from, to, start);
  return [
    `load goes ${isFree(after) ? 'about ' : ''}${parts.join(', ')}${at === undefined ? '' : `, at step ${at + 1}`}`,
  ];
}
