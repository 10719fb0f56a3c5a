import type { HullSide, Range, Shell } from '../../../geometry/hull/shell.ts';
import type { Vec3 } from '../../../geometry/math/vec.ts';

/** mm inside the end of the data, where the end itself gives no point. */
const NUDGE = 0.5;

export const within = (x: number, r: Range): number => Math.min(Math.max(x, r.from), r.to);

export interface Sample {
  readonly position: Vec3;
  readonly normal: Vec3;
  readonly girth: number;
}

/** A point of the shell, pulled onto the data where the girth there is shorter. */
export function sample(shell: Shell, station: number, girth: number, side: HullSide): Sample {
  const range = shell.girthRange(station);
  const inside = within(girth, range);
  try {
    const p = shell.pointAt(station, inside, side);
    return { position: p.position, normal: p.normal, girth: inside };
  } catch {
    const nudged = within(inside, { from: range.from + NUDGE, to: range.to - NUDGE });
    const p = shell.pointAt(station, nudged, side);
    return { position: p.position, normal: p.normal, girth: nudged };
  }
}
