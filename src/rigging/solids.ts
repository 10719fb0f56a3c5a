import { goldenMaximum } from '../../geometry/math/roots.ts';
import { addScaled, dot, length, sub, type Vec3 } from '../../geometry/math/vec.ts';

/** A space to keep out of, ship axes, mm. */
export type Solid =
  /** A round bar with round ends: a shaft, a strut, a rudder horn, a pipe. */
  | { readonly kind: 'bar'; readonly name: string; readonly from: Vec3; readonly to: Vec3; readonly radius: number }
  /** A block along the ship's axes between two opposite corners. */
  | { readonly kind: 'block'; readonly name: string; readonly from: Vec3; readonly to: Vec3 };

/** A straight piece between two points; the point itself where they are the same. */
export interface Segment {
  readonly from: Vec3;
  readonly to: Vec3;
}

/** mm between a segment and a solid; negative inside it (by how far for a bar, by the shortest way out for a block). */
export function clearanceOf(segment: Segment, solid: Solid): number {
  return solid.kind === 'bar'
    ? distanceBetween(segment, solid) - solid.radius
    : blockClearance(segment, solid.from, solid.to);
}

/** Shortest distance of two segments, mm. */
export function distanceBetween(p: Segment, q: Segment): number {
  return pieceDistance([...p.from, ...p.to], 0, [...q.from, ...q.to], 0);
}

/**
 * Shortest distance of two straight pieces, mm: six numbers each (from, to), from index i of p and j of q on. Plain geometry: the
 * nearest points of the two lines where those lie on the pieces, else the end is held and the other line asked, as long as it helps.
 */
export function pieceDistance(p: ArrayLike<number>, i: number, q: ArrayLike<number>, j: number): number {
  const px = p[i] as number;
  const py = p[i + 1] as number;
  const pz = p[i + 2] as number;
  const ux = (p[i + 3] as number) - px;
  const uy = (p[i + 4] as number) - py;
  const uz = (p[i + 5] as number) - pz;
  const vx = (q[j + 3] as number) - (q[j] as number);
  const vy = (q[j + 4] as number) - (q[j + 1] as number);
  const vz = (q[j + 5] as number) - (q[j + 2] as number);
  const wx = px - (q[j] as number);
  const wy = py - (q[j + 1] as number);
  const wz = pz - (q[j + 2] as number);
  const a = ux * ux + uy * uy + uz * uz;
  const b = ux * vx + uy * vy + uz * vz;
  const c = vx * vx + vy * vy + vz * vz;
  const d = ux * wx + uy * wy + uz * wz;
  const e = vx * wx + vy * wy + vz * wz;
  // Where the lines come nearest, by cross products: a c - b b would lose all its figures on pieces that run almost side by side.
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  const det = nx * nx + ny * ny + nz * nz;
  // Side by side, or without length, it is an end of one of the two that decides.
  if (!(det > 1e-24 * a * c + Number.MIN_VALUE / Number.EPSILON))
    return sideBySide([ux, uy, uz], [vx, vy, vz], [wx, wy, wz]);
  let s = unit(((vy * wz - vz * wy) * nx + (vz * wx - vx * wz) * ny + (vx * wy - vy * wx) * nz) / det);
  let t = unit((e + s * b) / c);
  s = unit((t * b - d) / a);
  t = unit((e + s * b) / c);
  const x = wx + s * ux - t * vx;
  const y = wy + s * uy - t * vy;
  const z = wz + s * uz - t * vz;
  return Math.sqrt(x * x + y * y + z * z);
}

/** The same for pieces u and v side by side, or without length, whose starts lie w apart: of the ends of either, the nearest to the other. */
function sideBySide(u: Vec3, v: Vec3, w: Vec3): number {
  const c = dot(v, v);
  const a = dot(u, u);
  const facing = (s: number): number => (c > 0 ? unit((dot(v, w) + s * dot(u, v)) / c) : 0);
  const back = (t: number): number => (a > 0 ? unit((t * dot(u, v) - dot(u, w)) / a) : 0);
  const apart = (s: number, t: number): number => length(addScaled(addScaled(w, u, s), v, -t));
  return Math.min(apart(0, facing(0)), apart(1, facing(1)), apart(back(0), 0), apart(back(1), 1));
}

const unit = (x: number): number => Math.max(0, Math.min(1, x));

function blockClearance({ from, to }: Segment, corner: Vec3, opposite: Vec3): number {
  const run = sub(to, from);
  const at = (t: number): number => pointToBlock(addScaled(from, run, t), corner, opposite);
  // The signed distance to a convex body is a convex function of the point: along a straight line it has one minimum.
  const t = goldenMaximum((x) => -at(x), 0, 1, 1e-6);
  return Math.min(at(0), at(1), at(t));
}

function pointToBlock(p: Vec3, corner: Vec3, opposite: Vec3): number {
  let outside = 0;
  let inside = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < 3; i++) {
    const x = p[i] as number;
    const lo = Math.min(corner[i] as number, opposite[i] as number);
    const hi = Math.max(corner[i] as number, opposite[i] as number);
    const beyond = Math.max(lo - x, x - hi);
    if (beyond > 0) outside += beyond * beyond;
    inside = Math.max(inside, beyond);
  }
  return outside > 0 ? Math.sqrt(outside) : inside;
}
