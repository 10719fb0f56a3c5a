import type { Frame } from '../math/frame.ts';
import { addScaled, cross, dot, normalize, scale, type Vec3 } from '../math/vec.ts';

/** The lug's frame, origin at the anchor on the shell. */
export type LugFrame = Frame;

/**
 * Frame from the heading direction h in the tangent plane and the stem B: A is h with its share along B taken out.
 * h must not run along B (a stem at least a few degrees off the tangent plane cannot).
 */
export function lugFrame(origin: Vec3, h: Vec3, stem: Vec3): LugFrame {
  const foot = normalize(addScaled(h, stem, -dot(h, stem)));
  return { origin, foot, stem, face: cross(foot, stem) };
}

/** Ship axes of the lug point (a, b, c), mm. */
export function toShip(frame: LugFrame, a: number, b: number, c: number): Vec3 {
  const { origin: o, foot: A, stem: B, face: C } = frame;
  return [
    o[0] + a * A[0] + b * B[0] + c * C[0],
    o[1] + a * A[1] + b * B[1] + c * C[1],
    o[2] + a * A[2] + b * B[2] + c * C[2],
  ];
}

/** Unit heading direction in the tangent plane: 0 is forward, a quarter turn points outward along the girth. */
export function headingDirection(tFore: Vec3, tGirth: Vec3, heading: number): Vec3 {
  return addScaled(scale(tFore, Math.cos(heading)), tGirth, Math.sin(heading));
}
