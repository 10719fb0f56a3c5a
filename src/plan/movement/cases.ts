import { alignLoad, type LoadAlignment } from '../../../geometry/align/align.ts';
import { add, length, scale, type Vec3 } from '../../../geometry/math/vec.ts';
import type { Equilibrium } from '../../rigging/equilibrium.ts';
import type { FittingPlan } from '../types.ts';
import type { LiftLinePlan } from './types.ts';

/**
 * What the lines of a fitting pull its pin with, all added up (N, lug frame); null where none pulls. Two lines on one lug pull
 * along their resultant. What a line itself weighs (`own`) is added straight down. `up`: unit normal of the water plane, ship axes.
 */
export function pullOn(
  fitting: Pick<FittingPlan, 'id' | 'frame' | 'input'>,
  lines: readonly Pick<LiftLinePlan, 'fitting' | 'own'>[],
  at: Equilibrium,
  up: Vec3,
): LoadAlignment | null {
  let sum: Vec3 = [0, 0, 0];
  lines.forEach((line, i) => {
    const pull = at.lines[i];
    if (line.fitting !== fitting.id || !pull || pull.tension <= 0) return;
    sum = add(sum, scale(pull.direction, pull.tension));
    if (line.own > 0) sum = add(sum, scale(up, -line.own));
  });
  const force = length(sum);
  if (!(force > 0)) return null;
  return alignLoad(fitting.frame, fitting.input.lug.pinHeight, { direction: sum }, force) ?? null;
}
