import type { Vec3 } from '../../geometry/math/vec.ts';
import { type Eigen3, eigenSymmetric3, type Symmetric3 } from './symmetric3.ts';

/**
 * The weld as a line of unit throat on an even elastic bed, the lug rigid: the part of the group that no load changes.
 * Lengths in mm, any frame; inertia in mm^3 (length times distance squared).
 */
export interface WeldBed {
  readonly length: number;
  readonly centroid: Vec3;
  /** Integral of |p|^2 1 - p p^T ds, p from the centroid: [xx, yy, zz, xy, yz, zx], off-diagonals are minus the products. */
  readonly inertia: Symmetric3;
  readonly principal: Eigen3;
}

/**
 * Line force q(r) = u + w x (r - centroid) over the weld, N/mm with r in mm and the load in N.
 * `uncarried` is the part of the load's moment, N mm, about an axis the weld cannot resist (a straight weld about itself, any
 * moment on a single point): zero for every closed root line. Where it is not zero q alone is not in equilibrium with the load.
 */
export interface WeldGroupForce {
  readonly length: number;
  readonly centroid: Vec3;
  readonly u: Vec3;
  readonly w: Vec3;
  readonly uncarried: number;
}

/** Principal inertias below this share of the largest are round-off of a sum of n products, not width of a weld. */
const INERTIA_ROUND_OFF = 1e-13;
/** A moment below this share of load times distance is round-off of the cross product. */
const MOMENT_ROUND_OFF = 1e-10;

/**
 * Length, centroid and inertia of a line weld given as quadrature points (x: 3n coordinates in mm; ds: n lengths in mm).
 * Sums are taken from the first point, so that ship coordinates of many metres cost no digits.
 * Throws RangeError where the total length is not positive or the arrays do not match.
 */
export function weldBed(x: Float64Array, ds: Float64Array): WeldBed {
  const n = ds.length;
  if (x.length !== 3 * n) throw new RangeError(`weld points: ${x.length} coordinates for ${n} lengths`);
  const ox = x[0] ?? 0;
  const oy = x[1] ?? 0;
  const oz = x[2] ?? 0;
  let length = 0;
  let sx = 0;
  let sy = 0;
  let sz = 0;
  for (let i = 0; i < n; i++) {
    const l = ds[i] as number;
    length += l;
    sx += l * ((x[3 * i] as number) - ox);
    sy += l * ((x[3 * i + 1] as number) - oy);
    sz += l * ((x[3 * i + 2] as number) - oz);
  }
  if (!(length > 0)) throw new RangeError(`weld length ${length} mm`);
  const cx = ox + sx / length;
  const cy = oy + sy / length;
  const cz = oz + sz / length;
  let xx = 0;
  let yy = 0;
  let zz = 0;
  let xy = 0;
  let yz = 0;
  let zx = 0;
  for (let i = 0; i < n; i++) {
    const l = ds[i] as number;
    const px = (x[3 * i] as number) - cx;
    const py = (x[3 * i + 1] as number) - cy;
    const pz = (x[3 * i + 2] as number) - cz;
    xx += l * (py * py + pz * pz);
    yy += l * (pz * pz + px * px);
    zz += l * (px * px + py * py);
    xy -= l * px * py;
    yz -= l * py * pz;
    zx -= l * pz * px;
  }
  const inertia: Symmetric3 = [xx, yy, zz, xy, yz, zx];
  return { length, centroid: [cx, cy, cz], inertia, principal: eigenSymmetric3(inertia) };
}

/**
 * Line force of a load (N) that acts at a point (mm) on a weld bed: u = F/L; w from I w = (at - centroid) x F, by principal
 * axes, so that a weld that is a straight line is met by a pseudo-inverse and what it cannot carry is reported.
 * Source: elastic method for a rigid attachment on an even bed of springs (equilibrium of q = u + w x p, integrated).
 */
export function loadWeldBed(bed: WeldBed, force: Vec3, at: Vec3): WeldGroupForce {
  const { length, centroid, principal } = bed;
  const ax = at[0] - centroid[0];
  const ay = at[1] - centroid[1];
  const az = at[2] - centroid[2];
  const mx = ay * force[2] - az * force[1];
  const my = az * force[0] - ax * force[2];
  const mz = ax * force[1] - ay * force[0];
  const [i0, i1, i2] = principal.values;
  const least = INERTIA_ROUND_OFF * Math.max(i0, i1, i2);
  const e = principal.vectors;
  let wx = 0;
  let wy = 0;
  let wz = 0;
  let uncarried = 0;
  for (let k = 0; k < 3; k++) {
    const ex = e[k] as number;
    const ey = e[3 + k] as number;
    const ez = e[6 + k] as number;
    const m = mx * ex + my * ey + mz * ez;
    const i = principal.values[k] as number;
    if (i > least) {
      wx += (m / i) * ex;
      wy += (m / i) * ey;
      wz += (m / i) * ez;
    } else {
      uncarried = Math.hypot(uncarried, m);
    }
  }
  const small = MOMENT_ROUND_OFF * Math.hypot(force[0], force[1], force[2]) * Math.hypot(ax, ay, az, length);
  return {
    length,
    centroid,
    u: [force[0] / length, force[1] / length, force[2] / length],
    w: [wx, wy, wz],
    uncarried: uncarried > small ? uncarried : 0,
  };
}

/**
 * Weld group under one load: points x (3n, mm), their lengths ds (n, mm), force (N) acting at a point (mm), one frame for all.
 * For a sweep over many loads take `weldBed` once and `loadWeldBed` for each. Throws RangeError as `weldBed` does.
 */
export function elasticWeldGroup(x: Float64Array, ds: Float64Array, force: Vec3, at: Vec3): WeldGroupForce {
  return loadWeldBed(weldBed(x, ds), force, at);
}

/** Line force q(r) = u + w x (r - centroid) at a point r (mm), N/mm, in the group's frame. */
export function lineForceAt(group: WeldGroupForce, r: Vec3): Vec3 {
  const { u, w, centroid } = group;
  const px = r[0] - centroid[0];
  const py = r[1] - centroid[1];
  const pz = r[2] - centroid[2];
  return [u[0] + w[1] * pz - w[2] * py, u[1] + w[2] * px - w[0] * pz, u[2] + w[0] * py - w[1] * px];
}

/** The same at every one of many points (3n, mm): 3n, N/mm. */
export function lineForcesAt(group: WeldGroupForce, points: Float64Array): Float64Array {
  const { u, w, centroid } = group;
  const out = new Float64Array(points.length);
  for (let i = 0; i < points.length; i += 3) {
    const px = (points[i] as number) - centroid[0];
    const py = (points[i + 1] as number) - centroid[1];
    const pz = (points[i + 2] as number) - centroid[2];
    out[i] = u[0] + w[1] * pz - w[2] * py;
    out[i + 1] = u[1] + w[2] * px - w[0] * pz;
    out[i + 2] = u[2] + w[0] * py - w[1] * px;
  }
  return out;
}

/**
 * Where |q| is greatest among points (3n, mm): index and size, N/mm. The first of equals.
 * |q|^2 is a convex quadratic of r, so on a straight piece it is greatest at an end: corners must be among the points.
 */
export function worstLineForce(
  group: WeldGroupForce,
  points: Float64Array,
): { readonly index: number; readonly force: number } {
  const { u, w, centroid } = group;
  let index = 0;
  let most = -1;
  for (let i = 0; 3 * i < points.length; i++) {
    const px = (points[3 * i] as number) - centroid[0];
    const py = (points[3 * i + 1] as number) - centroid[1];
    const pz = (points[3 * i + 2] as number) - centroid[2];
    const qx = u[0] + w[1] * pz - w[2] * py;
    const qy = u[1] + w[2] * px - w[0] * pz;
    const qz = u[2] + w[0] * py - w[1] * px;
    const q = qx * qx + qy * qy + qz * qz;
    if (q > most) {
      most = q;
      index = i;
    }
  }
  return { index, force: Math.sqrt(Math.max(0, most)) };
}

/**
 * Quadrature of a polyline (vertices: 3m, mm; closed: the last vertex joins the first): two Gauss points a piece, exact for
 * length, centroid and inertia of straight pieces. Pieces of no length are left out.
 */
export function polylineQuadrature(
  vertices: Float64Array,
  closed: boolean,
): { readonly x: Float64Array; readonly ds: Float64Array } {
  const m = vertices.length / 3;
  const x: number[] = [];
  const ds: number[] = [];
  const half = 0.5 / Math.sqrt(3);
  for (let i = 0; i < (closed ? m : m - 1); i++) {
    const p = vertices.subarray(3 * i, 3 * i + 3) as unknown as Vec3;
    const j = (i + 1) % m;
    const q = vertices.subarray(3 * j, 3 * j + 3) as unknown as Vec3;
    const l = Math.hypot(q[0] - p[0], q[1] - p[1], q[2] - p[2]);
    if (l === 0) continue;
    for (const f of [0.5 - half, 0.5 + half]) {
      x.push(p[0] + f * (q[0] - p[0]), p[1] + f * (q[1] - p[1]), p[2] + f * (q[2] - p[2]));
      ds.push(l / 2);
    }
  }
  return { x: Float64Array.from(x), ds: Float64Array.from(ds) };
}
