import { newHit } from '../hull/shell.ts';
import type { Vec3 } from '../math/vec.ts';
import { type FootField, SAME_PLACE } from './footfield.ts';

/** The four sides of the foot in the order in which s runs round it. */
export const SIDES = ['face-', 'end+', 'face+', 'end-'] as const;
export type Side = (typeof SIDES)[number];

/**
 * The closed curve in which the edge of the foot's rectangle meets the shell. s is its arc length in mm, from the corner
 * (-foot/2, -thickness/2) along `face-` towards +a, then `end+`, `face+`, `end-`. Sample arrays share one index; a corner
 * stands twice (last of one side, first of the next), a knuckle too, with the normal of either side.
 */
export interface RootLine {
  readonly count: number;
  readonly s: Float64Array;
  readonly a: Float64Array;
  readonly c: Float64Array;
  /** Foot height f at the sample, mm. */
  readonly f: Float64Array;
  /** Index into `SIDES`. */
  readonly side: Uint8Array;
  /** Three a sample, ship axes: position (mm), outward shell normal, unit tangent in the direction of s. */
  readonly position: Float64Array;
  readonly normal: Float64Array;
  readonly tangent: Float64Array;
  /** s at the four corners and, last, the perimeter. */
  readonly corners: readonly [number, number, number, number, number];
  readonly perimeter: number;
  /** The curve as points with weights for integrals over s: sum of weight x g(point) is the integral of g. */
  readonly quadrature: { readonly position: Float64Array; readonly weight: Float64Array };
}

/** Offset at which the two sides of a knuckle are looked at, mm. */
const BESIDE = 10 * SAME_PLACE;

export function rootLine(field: FootField): RootLine {
  const { a, c, f, fa, fc, n, frame, halfFoot, halfThickness } = field;
  const { origin: O, foot: A, stem: B, face: C } = frame;
  const na = a.length;
  const nc = c.length;
  const most = 2 * (na + nc) + 2 * field.knuckles.length;
  const s = new Float64Array(most);
  const pa = new Float64Array(most);
  const pc = new Float64Array(most);
  const side = new Uint8Array(most);
  const position = new Float64Array(3 * most);
  const normal = new Float64Array(3 * most);
  const tangent = new Float64Array(3 * most);
  const slope = new Float64Array(most);
  const height = new Float64Array(most);
  const smooth = field.knuckles.length === 0;
  let count = 0;
  const hit = newHit();

  const put = (
    sideIndex: number,
    x: number,
    y: number,
    b: number,
    rise: number,
    nx: number,
    ny: number,
    nz: number,
  ) => {
    const k = count++;
    side[k] = sideIndex;
    pa[k] = x;
    pc[k] = y;
    height[k] = b;
    const forward = sideIndex < 2 ? 1 : -1;
    const e = sideIndex % 2 === 0 ? A : C;
    const long = forward / Math.sqrt(1 + rise * rise);
    position[3 * k] = O[0] + x * A[0] + y * C[0] + b * B[0];
    position[3 * k + 1] = O[1] + x * A[1] + y * C[1] + b * B[1];
    position[3 * k + 2] = O[2] + x * A[2] + y * C[2] + b * B[2];
    tangent[3 * k] = (e[0] + rise * B[0]) * long;
    tangent[3 * k + 1] = (e[1] + rise * B[1]) * long;
    tangent[3 * k + 2] = (e[2] + rise * B[2]) * long;
    slope[k] = rise * forward;
    normal[3 * k] = nx;
    normal[3 * k + 1] = ny;
    normal[3 * k + 2] = nz;
  };
  const putBeside = (sideIndex: number, x: number, y: number, dx: number, dy: number, b: number) => {
    field.cast(x + dx, y + dy, hit);
    put(sideIndex, x, y, b, sideIndex % 2 === 0 ? hit.fa : hit.fc, hit.nx, hit.ny, hit.nz);
  };

  for (let sideIndex = 0; sideIndex < 4; sideIndex++) {
    const alongA = sideIndex % 2 === 0;
    const forward = sideIndex < 2;
    const len = alongA ? na : nc;
    const fixedC = sideIndex === 0 ? -halfThickness : halfThickness;
    const fixedA = sideIndex === 1 ? halfFoot : -halfFoot;
    for (let step = 0; step < len; step++) {
      const at = forward ? step : len - 1 - step;
      const i = alongA ? at : sideIndex === 1 ? na - 1 : 0;
      const j = alongA ? (sideIndex === 0 ? 0 : nc - 1) : at;
      const k = i * nc + j;
      const x = a[i] as number;
      const y = c[j] as number;
      const knuckle = smooth
        ? false
        : field.knuckles.some((q) =>
            alongA
              ? q.along === 'a' && q.c === fixedC && Math.abs(q.a - x) < SAME_PLACE
              : q.along === 'c' && q.a === fixedA && Math.abs(q.c - y) < SAME_PLACE,
          );
      if (knuckle) {
        // Either side of it; at a corner of the foot the side under the foot only.
        const w = forward ? BESIDE : -BESIDE;
        const b = f[k] as number;
        if (step > 0) putBeside(sideIndex, x, y, alongA ? -w : 0, alongA ? 0 : -w, b);
        if (step < len - 1) putBeside(sideIndex, x, y, alongA ? w : 0, alongA ? 0 : w, b);
      } else {
        const rise = (alongA ? fa[k] : fc[k]) as number;
        put(sideIndex, x, y, f[k] as number, rise, n[3 * k] as number, n[3 * k + 1] as number, n[3 * k + 2] as number);
      }
    }
  }

  // Arc length and quadrature: between samples f is a cubic through heights and slopes; Simpson's rule on it.
  const qPosition = new Float64Array(9 * count);
  const qWeight = new Float64Array(3 * count);
  let points = 0;
  const corners: [number, number, number, number, number] = [0, 0, 0, 0, 0];
  for (let k = 1; k < count; k++) {
    if (side[k] !== side[k - 1]) corners[side[k] as number] = s[k - 1] as number;
    const alongA = (side[k] as number) % 2 === 0;
    const h = alongA
      ? Math.abs((pa[k] as number) - (pa[k - 1] as number))
      : Math.abs((pc[k] as number) - (pc[k - 1] as number));
    if (side[k] !== side[k - 1] || h === 0) {
      s[k] = s[k - 1] as number;
      continue;
    }
    const m0 = slope[k - 1] as number;
    const m1 = slope[k] as number;
    const rise = (height[k] as number) - (height[k - 1] as number);
    const mid = 1.5 * (rise / h) - 0.25 * (m0 + m1);
    const w0 = (h / 6) * Math.sqrt(1 + m0 * m0);
    const wm = (h / 6) * 4 * Math.sqrt(1 + mid * mid);
    const w1 = (h / 6) * Math.sqrt(1 + m1 * m1);
    s[k] = (s[k - 1] as number) + w0 + wm + w1;
    const bMid = ((height[k] as number) + (height[k - 1] as number)) / 2 + (h / 8) * (m0 - m1);
    const aMid = ((pa[k] as number) + (pa[k - 1] as number)) / 2;
    const cMid = ((pc[k] as number) + (pc[k - 1] as number)) / 2;
    const q = 3 * points;
    for (let d = 0; d < 3; d++) qPosition[q + d] = position[3 * (k - 1) + d] as number;
    qPosition[q + 3] = O[0] + aMid * A[0] + cMid * C[0] + bMid * B[0];
    qPosition[q + 4] = O[1] + aMid * A[1] + cMid * C[1] + bMid * B[1];
    qPosition[q + 5] = O[2] + aMid * A[2] + cMid * C[2] + bMid * B[2];
    for (let d = 0; d < 3; d++) qPosition[q + 6 + d] = position[3 * k + d] as number;
    qWeight[points] = w0;
    qWeight[points + 1] = wm;
    qWeight[points + 2] = w1;
    points += 3;
  }
  const perimeter = s[count - 1] as number;
  corners[4] = perimeter;
  return {
    count,
    s: s.subarray(0, count),
    a: pa.subarray(0, count),
    c: pc.subarray(0, count),
    f: height.subarray(0, count),
    side: side.subarray(0, count),
    position: position.subarray(0, 3 * count),
    normal: normal.subarray(0, 3 * count),
    tangent: tangent.subarray(0, 3 * count),
    corners,
    perimeter,
    quadrature: { position: qPosition.subarray(0, 3 * points), weight: qWeight.subarray(0, points) },
  };
}

export const sideAt = (root: RootLine, k: number): Side => SIDES[root.side[k] as number] as Side;

export const vecAt = (list: Float64Array, k: number): Vec3 => [
  list[3 * k] as number,
  list[3 * k + 1] as number,
  list[3 * k + 2] as number,
];

/** Outward normal of the plate on a side: -C, +A, +C, -A. */
export function plateNormal(field: { readonly frame: FootField['frame'] }, side: Side): Vec3 {
  const { foot: A, face: C } = field.frame;
  if (side === 'face-') return [-C[0], -C[1], -C[2]];
  if (side === 'face+') return C;
  if (side === 'end+') return A;
  return [-A[0], -A[1], -A[2]];
}

/** Dihedral angle through the weld metal at sample k: 180 degrees less the angle between shell and plate normals, rad. */
export function dihedralAt(root: RootLine, field: { readonly frame: FootField['frame'] }, k: number): number {
  const { foot: A, face: C } = field.frame;
  const side = root.side[k] as number;
  const m = side % 2 === 0 ? C : A;
  const outward = side === 0 || side === 3 ? -1 : 1;
  const mx = outward * m[0];
  const my = outward * m[1];
  const mz = outward * m[2];
  const nx = root.normal[3 * k] as number;
  const ny = root.normal[3 * k + 1] as number;
  const nz = root.normal[3 * k + 2] as number;
  // pi - angle(n, m); with atan2, since acos is blunt near a tee that is nearly closed or open.
  const x = ny * mz - nz * my;
  const y = nz * mx - nx * mz;
  const z = nx * my - ny * mx;
  return Math.PI - Math.atan2(Math.sqrt(x * x + y * y + z * z), nx * mx + ny * my + nz * mz);
}

/** Point of the root line at arc length s (wrapped into 0..perimeter), linear between samples. */
export function rootAt(root: RootLine, s: number): { side: Side; a: number; c: number; position: Vec3 } {
  const wrapped = s - root.perimeter * Math.floor(s / root.perimeter);
  let lo = 0;
  let hi = root.count - 1;
  while (hi - lo > 1) {
    const mid = (lo + hi) >> 1;
    if ((root.s[mid] as number) <= wrapped) lo = mid;
    else hi = mid;
  }
  const s0 = root.s[lo] as number;
  const s1 = root.s[hi] as number;
  const w = s1 > s0 ? (wrapped - s0) / (s1 - s0) : 0;
  const mix = (list: Float64Array, k0: number, k1: number) => (list[k0] as number) * (1 - w) + (list[k1] as number) * w;
  return {
    side: sideAt(root, s1 > s0 ? hi : lo),
    a: mix(root.a, lo, hi),
    c: mix(root.c, lo, hi),
    position: [
      mix(root.position, 3 * lo, 3 * hi),
      mix(root.position, 3 * lo + 1, 3 * hi + 1),
      mix(root.position, 3 * lo + 2, 3 * hi + 2),
    ],
  };
}
