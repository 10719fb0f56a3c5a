import type { LugFrame } from '../lug/frame.ts';
import { clampUnit, cross, dot, normalize, rotateAbout, type Vec3 } from '../math/vec.ts';

/**
 * What a diver's inclinometer showed on the tacked lug, signed, rad. Heading is not among them: an inclinometer cannot
 * see it, so the planned one stands unless a tape says otherwise (`turned`).
 */
export interface PoseReadings {
  /** Face of the plate from plumb; positive where face+ looks up, so C . up = sin(faceLean). Absent: as planned. */
  readonly faceLean?: number;
  /** Foot from level; positive where end+ is the higher end, so A . up = sin(footRise). Absent: as planned. */
  readonly footRise?: number;
  /** Turn of the foot about the stem from its planned heading, right-handed about B. Absent: none. */
  readonly turned?: number;
}

/**
 * The lug's frame as it really stands: the planned one turned so that the readings hold. The turn about B comes first;
 * then A is brought to its reading in the plane of A and up, C to its own square to A, and B completes them.
 *
 * Exact, no small angles: A' is A turned about (A x up) by the difference of its rise; with A' known, C' lies on the circle
 * square to A', and C' . up = sin(faceLean) leaves two points on it, of which the one nearer to the planned C is meant.
 * Returns `undefined` where no such frame exists: faceLean and footRise together steeper than a right angle.
 */
export function poseFromReadings(planned: LugFrame, up: Vec3, readings: PoseReadings): LugFrame | undefined {
  const { origin, stem: B } = planned;
  const turn = readings.turned ?? 0;
  let A = rotateAbout(planned.foot, B, turn);
  let C = rotateAbout(planned.face, B, turn);
  const rise = Math.asin(clampUnit(dot(A, up)));
  const wantedRise = readings.footRise ?? rise;
  const axis = cross(A, up);
  // A foot that stands upright has no direction to be raised in: it cannot be brought to a reading.
  if (Math.hypot(axis[0], axis[1], axis[2]) > 1e-9) {
    const unit = normalize(axis);
    A = rotateAbout(A, unit, wantedRise - rise);
    C = rotateAbout(C, unit, wantedRise - rise);
  } else if (Math.abs(wantedRise - rise) > 1e-9) return undefined;
  const lean = readings.faceLean ?? Math.asin(clampUnit(dot(planned.face, up)));
  // In the plane square to A: e1 the steepest way up, e2 level. C' = cos(t) e1 + sin(t) e2, and C' . up = cos(t) |up'|.
  const across: Vec3 = [up[0] - dot(up, A) * A[0], up[1] - dot(up, A) * A[1], up[2] - dot(up, A) * A[2]];
  const steep = Math.hypot(across[0], across[1], across[2]);
  if (steep < 1e-9) return Math.abs(Math.sin(lean)) < 1e-9 ? frameOf(origin, A, C) : undefined;
  const e1 = normalize(across);
  const e2 = cross(A, e1);
  const cos = Math.sin(lean) / steep;
  if (Math.abs(cos) > 1 + 1e-12) return undefined;
  const t = Math.acos(clampUnit(cos));
  const plus = mix(e1, e2, t);
  const minus = mix(e1, e2, -t);
  return frameOf(origin, A, dot(plus, C) >= dot(minus, C) ? plus : minus);
}

const mix = (p: Vec3, q: Vec3, angle: number): Vec3 => {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  return [c * p[0] + s * q[0], c * p[1] + s * q[1], c * p[2] + s * q[2]];
};

const frameOf = (origin: Vec3, foot: Vec3, face: Vec3): LugFrame => ({ origin, foot, face, stem: cross(face, foot) });
