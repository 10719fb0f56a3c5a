import { internalPer } from '../job/units.ts';
import type { Context } from './context.ts';

/** mm. A station no nearer than this to an end of the foot: two rows of a table, or two labels, that say the same. */
const APART = 6;

/**
 * Stations along the foot (a, mm, ascending, both ends and the middle among them): those of the plan's bevel schedule; in US units
 * every inch from the centre line, where a rule is laid on.
 */
export function stationsOf({ plan, fitting }: Context): readonly number[] {
  if (plan.job.display !== 'us') return fitting.bevel.schedule.map((station) => station.a);
  const half = fitting.field.halfFoot;
  const inch = internalPer('in');
  const most = Math.floor((half - APART) / inch);
  const inner = Array.from({ length: 2 * most + 1 }, (_, i) => (i - most) * inch);
  return [-half, ...(most < 0 ? [0] : inner), half];
}
