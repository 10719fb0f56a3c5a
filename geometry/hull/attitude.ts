import { normalize, type Vec3 } from '../math/vec.ts';

/** Unit normal of the water plane in ship axes, pointing up: drafts and lpp in mm, heel in rad, starboard down positive. */
export function upOf(ship: { lpp: number; draftAft: number; draftForward: number; heel: number }): Vec3 {
  return normalize([(ship.draftAft - ship.draftForward) / ship.lpp, Math.tan(ship.heel), 1]);
}

/**
 * Angle in the section's plane (rad, from outward-horizontal in ship axes towards up) of a tape that an inclinometer finds
 * rising at `slope` above the horizontal of the water. The tape lies along T = (0, m cos t, sin t), m = +1 to port, so
 * sin(slope) = T . up = r sin(t + phi) with r = hypot(up_y, up_z), phi = atan2(m up_y, up_z).
 * With trim no tape in the section stands plumb: a slope nearer to 90 deg than the trim is taken as the steepest there is.
 */
export function sectionAngle(slope: number, up: Vec3, side: 'port' | 'starboard'): number {
  const m = side === 'port' ? 1 : -1;
  const r = Math.hypot(up[1], up[2]);
  const phi = Math.atan2(m * up[1], up[2]);
  const sin = Math.max(-1, Math.min(1, Math.sin(slope) / r));
  const cos = Math.sqrt(1 - sin * sin) * (Math.cos(slope) < 0 ? -1 : 1);
  return Math.atan2(sin, cos) - phi;
}

/** What the inclinometer shows on such a tape: the inverse of `sectionAngle`. */
export function slopeShown(angle: number, up: Vec3, side: 'port' | 'starboard'): number {
  const m = side === 'port' ? 1 : -1;
  const sin = m * Math.cos(angle) * up[1] + Math.sin(angle) * up[2];
  const along = Math.cos(angle) * up[2] - m * Math.sin(angle) * up[1];
  return Math.atan2(sin, Math.sqrt(Math.max(0, 1 - sin * sin)) * (along < 0 ? -1 : 1));
}
