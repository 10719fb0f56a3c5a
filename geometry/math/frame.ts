import type { Vec3 } from './vec.ts';

/**
 * A lug's own axes, right-handed; unit vectors and origin in ship axes, mm.
 * `foot` (A) along the foot, `stem` (B) from foot to pin, `face` (C) = A x B across the plate. Coordinates (a, b, c).
 */
export interface Frame {
  readonly origin: Vec3;
  readonly foot: Vec3;
  readonly stem: Vec3;
  readonly face: Vec3;
}

/** The same vector in the mirror of the centreline plane. */
export const mirrorVec = (p: Vec3): Vec3 => [p[0], -p[1], p[2]];
