import { type CutFit, rootOpening } from '../../geometry/fit/cuts.ts';
import type { FootField } from '../../geometry/fit/footfield.ts';
import { dihedralAt, plateNormal, type RootLine, SIDES, sideAt, vecAt } from '../../geometry/fit/rootline.ts';
import type { Shell } from '../../geometry/hull/shell.ts';
import { clampUnit, type Vec3 } from '../../geometry/math/vec.ts';
import { weldingPosition } from '../weld/position.ts';
import type { Joint, JointPoint, RootSpot } from './types.ts';

/** Axes within a degree of vertical have no face rotation. */
const VERTICAL = Math.cos(Math.PI / 180);

/**
 * The joint point by point: what the diver meets along the root. mm, rad, ship axes. Openings are those that the chosen
 * cut and the square foot leave.
 */
export function planJoint(
  field: FootField,
  root: RootLine,
  shell: Shell,
  chosen: CutFit,
  square: CutFit,
  up: Vec3,
  level: number,
): Joint {
  const points: JointPoint[] = [];
  let min = Number.POSITIVE_INFINITY;
  let max = Number.NEGATIVE_INFINITY;
  const plates = SIDES.map((side) => plateNormal(field, side));
  for (let k = 0; k < root.count; k++) {
    const dihedral = dihedralAt(root, field, k);
    if (dihedral < min) min = dihedral;
    if (dihedral > max) max = dihedral;
    const position = vecAt(root.position, k);
    const plate = plates[root.side[k] as number] as Vec3;
    const faceRotation = rotationOf(vecAt(root.tangent, k), vecAt(root.normal, k), plate, up);
    const axisInclination = Math.asin(clampUnit(Math.abs(along(root.tangent, k, up))));
    const a = root.a[k] as number;
    const c = root.c[k] as number;
    const f = root.f[k] as number;
    points.push({
      s: root.s[k] as number,
      side: sideAt(root, k),
      a,
      c,
      position,
      height: along(root.position, k, up),
      dihedral,
      axisInclination,
      faceRotation,
      weldingPosition: weldingPosition(axisInclination, faceRotation),
      opening: rootOpening(field, shell, chosen.surface, a, c, f),
      openingSquare: rootOpening(field, shell, square.surface, a, c, f),
    });
  }
  const lowest = extreme(root, points, up, -1);
  const highest = extreme(root, points, up, 1);
  return {
    perimeter: root.perimeter,
    dihedral: { min, max },
    lowest,
    highest,
    level: highest.height - lowest.height < level,
    points,
  };
}

/** Share of vector k of a list along a direction. */
const along = (list: Float64Array, k: number, d: Vec3): number =>
  (list[3 * k] as number) * d[0] + (list[3 * k + 1] as number) * d[1] + (list[3 * k + 2] as number) * d[2];

/** Angle, seen along the weld's axis, from straight down to the bisector of the two outward normals; 0..pi, or null. */
export function rotationOf(axis: Vec3, shellNormal: Vec3, plate: Vec3, up: Vec3): number | null {
  const [tx, ty, tz] = axis;
  const rise = tx * up[0] + ty * up[1] + tz * up[2];
  if (Math.abs(rise) >= VERTICAL) return null;
  // Number by number: vectors of their own, some dozen a point, cost more than all that is done with them.
  const bx = shellNormal[0] + plate[0];
  const by = shellNormal[1] + plate[1];
  const bz = shellNormal[2] + plate[2];
  // Bisector and straight down, each without its share along the axis.
  const share = bx * tx + by * ty + bz * tz;
  const fx = bx - share * tx;
  const fy = by - share * ty;
  const fz = bz - share * tz;
  const dx = rise * tx - up[0];
  const dy = rise * ty - up[1];
  const dz = rise * tz - up[2];
  const cx = dy * fz - dz * fy;
  const cy = dz * fx - dx * fz;
  const cz = dx * fy - dy * fx;
  return Math.atan2(Math.sqrt(cx * cx + cy * cy + cz * cz), dx * fx + dy * fy + dz * fz);
}

/** Lowest (sign -1) or highest point of the root line; between samples by the height's slopes at either end. */
export function extreme(root: RootLine, points: readonly RootSpot[], up: Vec3, sign: 1 | -1): RootSpot {
  let best = points[0] as RootSpot;
  for (const p of points) if (sign * (p.height - best.height) > 1e-9) best = p;
  let spot: RootSpot = { s: best.s, side: best.side, height: best.height };
  for (let k = 1; k < root.count; k++) {
    const p = points[k - 1] as RootSpot;
    const q = points[k] as RootSpot;
    const ds = q.s - p.s;
    if (ds <= 0) continue;
    const m0 = sign * along(root.tangent, k - 1, up);
    const m1 = sign * along(root.tangent, k, up);
    if (!(m0 > 0 && m1 < 0)) continue;
    // Slope taken as linear between the samples: the height is then a parabola with its top where the slope is zero.
    const t = m0 / (m0 - m1);
    const height = p.height + sign * (m0 * t * ds - ((m0 - m1) * t * t * ds) / 2);
    if (sign * (height - spot.height) > 1e-9) spot = { s: p.s + t * ds, side: p.side, height };
  }
  return spot;
}
