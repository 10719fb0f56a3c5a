import type { ShellPoint } from '../hull/shell.ts';
import { headingDirection, type LugFrame, lugFrame } from '../lug/frame.ts';
import { clampUnit, dot, length, normalize, rotateAbout, scale, sub, type Vec3 } from '../math/vec.ts';
import { Refusal } from '../refusal.ts';
import type { Pull } from './align.ts';

/** Which way the stem points. `lean`: the normal turned about the heading by `angle` rad. */
export type StemRule =
  | { readonly kind: 'normal' }
  | { readonly kind: 'plumb' }
  | { readonly kind: 'toward-load' }
  | { readonly kind: 'lean'; readonly angle: number };

/**
 * The normal turned about h, positive towards `tGirth`; where h runs along `tGirth`, positive towards `tFore`.
 * With w the in-plane perpendicular of h on that side, B = cos(angle) n + sin(angle) w.
 */
export function leanStem(place: ShellPoint, heading: number, from: Vec3, angle: number): Vec3 {
  const h = headingDirection(place.tFore, place.tGirth, heading);
  const across = Math.cos(heading);
  const side = Math.abs(across) > 1e-9 ? Math.sign(across) : -Math.sign(Math.sin(heading));
  // w = side * (-sin(heading) tFore + cos(heading) tGirth); turning n towards w is a turn about +-h.
  const w = scale(headingDirection(place.tFore, place.tGirth, heading + Math.PI / 2), side);
  const axis = h;
  const sense = Math.sign(dot(rotateAbout(place.normal, axis, 0.1), w)) || 1;
  return rotateAbout(from, axis, sense * angle);
}

/**
 * Frame of a lug at a place. `up`: unit normal of the water plane, ship axes. `least`: smallest angle between stem and
 * tangent plane that is accepted, rad. `tilt` leans the stem further about the heading (see `leanStem`).
 * Throws `Refusal` (field `stem`): `stem-along-shell` within `least` of the tangent plane, `stem-into-shell` pointing in.
 */
export function frameAt(
  place: ShellPoint,
  heading: number,
  stem: StemRule,
  pull: Pull,
  up: Vec3,
  least: number,
  tilt = 0,
): LugFrame {
  let B: Vec3;
  if (stem.kind === 'normal') B = place.normal;
  else if (stem.kind === 'plumb') B = dot(up, place.normal) >= 0 ? up : scale(up, -1);
  else if (stem.kind === 'lean') B = leanStem(place, heading, place.normal, stem.angle);
  else {
    const d = 'toward' in pull ? sub(pull.toward, place.position) : pull.direction;
    if (!(length(d) > 0)) {
      throw new Refusal('load-at-pin', 'load.toward', ['the place of the lug itself'], ['a point away from it']);
    }
    B = normalize(d);
  }
  if (tilt !== 0) B = leanStem(place, heading, B, tilt);
  const rise = dot(B, place.normal);
  const angle = Math.asin(clampUnit(rise));
  if (Math.abs(angle) < least) {
    throw new Refusal(
      'stem-along-shell',
      'stem',
      ['a stem ', { rad: Math.abs(angle) }, ' from the shell'],
      ['at least ', { rad: least }, ' between stem and shell'],
    );
  }
  if (rise < 0) {
    throw new Refusal(
      'stem-into-shell',
      'stem',
      ['a stem that points into the hull'],
      ['one that points into the water'],
    );
  }
  return lugFrame(place.position, headingDirection(place.tFore, place.tGirth, heading), B);
}
