import { goldenMaximum } from '../../geometry/math/roots.ts';
import { addScaled, distance, dot, sub, type Vec3 } from '../../geometry/math/vec.ts';

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

/**
 * Shortest distance of two segments, mm: the quadratic |p + s u - q - t v|^2 over the square 0 <= s, t <= 1, its minimum inside
 * or on an edge.
 */
export function distanceBetween(p: Segment, q: Segment): number {
  const u = sub(p.to, p.from);
  const v = sub(q.to, q.from);
  const w = sub(p.from, q.from);
  const a = dot(u, u);
  const b = dot(u, v);
  const c = dot(v, v);
  const d = dot(u, w);
  const e = dot(v, w);
  const candidates: [number, number][] = [];
  const unit = (x: number): number => (Number.isFinite(x) ? Math.max(0, Math.min(1, x)) : 0);
  const det = a * c - b * b;
  if (det > 1e-14 * a * c) {
    const s = (b * e - c * d) / det;
    const t = (a * e - b * d) / det;
    if (s >= 0 && s <= 1 && t >= 0 && t <= 1) candidates.push([s, t]);
  }
  for (const s of [0, 1]) candidates.push([s, unit((e + s * b) / c)]);
  for (const t of [0, 1]) candidates.push([unit((t * b - d) / a), t]);
  return Math.min(...candidates.map(([s, t]) => distance(addScaled(p.from, u, s), addScaled(q.from, v, t))));
}

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
