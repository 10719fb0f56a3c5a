import { type CutFit, rootOpening } from '../../geometry/fit/cuts.ts';
import type { FootField } from '../../geometry/fit/footfield.ts';
import { dihedralAt, plateNormal, type RootLine, sideAt, vecAt } from '../../geometry/fit/rootline.ts';
import type { Shell } from '../../geometry/hull/shell.ts';
import { addScaled, clampUnit, cross, dot, length, type Vec3 } from '../../geometry/math/vec.ts';
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
  for (let k = 0; k < root.count; k++) {
    const dihedral = dihedralAt(root, field, k);
    min = Math.min(min, dihedral);
    max = Math.max(max, dihedral);
    const position = vecAt(root.position, k);
    const axis = vecAt(root.tangent, k);
    const side = sideAt(root, k);
    const faceRotation = rotationOf(axis, vecAt(root.normal, k), plateNormal(field, side), up);
    const axisInclination = Math.asin(clampUnit(Math.abs(dot(axis, up))));
    const a = root.a[k] as number;
    const c = root.c[k] as number;
    points.push({
      s: root.s[k] as number,
      side,
      a,
      c,
      position,
      height: dot(position, up),
      dihedral,
      axisInclination,
      faceRotation,
      weldingPosition: weldingPosition(axisInclination, faceRotation),
      opening: rootOpening(field, shell, chosen.surface, a, c, root.f[k] as number),
      openingSquare: rootOpening(field, shell, square.surface, a, c, root.f[k] as number),
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

/** Angle, seen along the weld's axis, from straight down to the bisector of the two outward normals; 0..pi, or null. */
function rotationOf(axis: Vec3, shellNormal: Vec3, plate: Vec3, up: Vec3): number | null {
  if (Math.abs(dot(axis, up)) >= VERTICAL) return null;
  const bisector: Vec3 = [shellNormal[0] + plate[0], shellNormal[1] + plate[1], shellNormal[2] + plate[2]];
  const face = addScaled(bisector, axis, -dot(bisector, axis));
  const down = addScaled([-up[0], -up[1], -up[2]], axis, dot(up, axis));
  return Math.atan2(length(cross(down, face)), dot(down, face));
}

/** Lowest (sign -1) or highest point of the root line; between samples by the height's slopes at either end. */
function extreme(root: RootLine, points: readonly JointPoint[], up: Vec3, sign: 1 | -1): RootSpot {
  let best = points[0] as JointPoint;
  for (const p of points) if (sign * (p.height - best.height) > 1e-9) best = p;
  let spot: RootSpot = { s: best.s, side: best.side, height: best.height };
  for (let k = 1; k < root.count; k++) {
    const p = points[k - 1] as JointPoint;
    const q = points[k] as JointPoint;
    const ds = q.s - p.s;
    if (ds <= 0) continue;
    const m0 = sign * dot(vecAt(root.tangent, k - 1), up);
    const m1 = sign * dot(vecAt(root.tangent, k), up);
    if (!(m0 > 0 && m1 < 0)) continue;
    // Slope taken as linear between the samples: the height is then a parabola with its top where the slope is zero.
    const t = m0 / (m0 - m1);
    const height = p.height + sign * (m0 * t * ds - ((m0 - m1) * t * t * ds) / 2);
    if (sign * (height - spot.height) > 1e-9) spot = { s: p.s + t * ds, side: p.side, height };
  }
  return spot;
}
