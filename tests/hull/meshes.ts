import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import type { HullSpec } from '../../geometry/hull/spec.ts';
import { Triangles } from '../../geometry/hull/triangles.ts';
import type { Vec3 } from '../../geometry/math/vec.ts';

/* Triangles of shells whose shape has a closed form. mm, ship axes, port side. */

/** Standard normal numbers, seeded. */
export function normalNumbers(seed: number): () => number {
  const rng = xoroshiro128plus(seed);
  const u = () => ((rng.next() >>> 0) + 0.5) / 2 ** 32;
  return () => Math.sqrt(-2 * Math.log(u())) * Math.cos(2 * Math.PI * u());
}

export interface Net {
  /** Point at (x, s) with its outward normal. */
  readonly at: (x: number, s: number) => { readonly point: Vec3; readonly normal: Vec3 };
  readonly x: readonly [from: number, to: number];
  readonly s: readonly [from: number, to: number];
  /** mm between corners along x and along s. */
  readonly step: readonly [number, number];
  /** Moves a corner along its normal, mm. */
  readonly ripple?: (x: number, s: number) => number;
  /** Leaves a triangle out. */
  readonly hole?: (p: Vec3) => boolean;
}

/** Two triangles to each cell of the net, wound outward. */
export function triangleList({ at, x, s, step, ripple, hole }: Net): number[] {
  const nx = Math.max(1, Math.round((x[1] - x[0]) / step[0]));
  const ns = Math.max(1, Math.round((s[1] - s[0]) / step[1]));
  const corner: Vec3[][] = [];
  for (let i = 0; i <= nx; i++) {
    const row: Vec3[] = [];
    for (let j = 0; j <= ns; j++) {
      const [xi, sj] = [x[0] + ((x[1] - x[0]) * i) / nx, s[0] + ((s[1] - s[0]) * j) / ns];
      const { point, normal } = at(xi, sj);
      const h = ripple?.(xi, sj) ?? 0;
      row.push([point[0] + h * normal[0], point[1] + h * normal[1], point[2] + h * normal[2]]);
    }
    corner.push(row);
  }
  const out: number[] = [];
  const triangle = (a: Vec3, b: Vec3, c: Vec3): void => {
    const middle: Vec3 = [(a[0] + b[0] + c[0]) / 3, (a[1] + b[1] + c[1]) / 3, (a[2] + b[2] + c[2]) / 3];
    if (hole?.(middle) !== true) out.push(...a, ...b, ...c);
  };
  for (let i = 0; i < nx; i++) {
    for (let j = 0; j < ns; j++) {
      const [a, b, c, d] = [corner[i]?.[j], corner[i + 1]?.[j], corner[i + 1]?.[j + 1], corner[i]?.[j + 1]] as [
        Vec3,
        Vec3,
        Vec3,
        Vec3,
      ];
      triangle(a, c, b);
      triangle(a, d, c);
    }
  }
  return out;
}

export function meshSpec(
  list: readonly number[],
  place: { station: number; girth: number; side?: 'port' | 'starboard' },
  more: object = {},
): HullSpec {
  const origin: Vec3 = [list[0] ?? 0, list[1] ?? 0, list[2] ?? 0];
  return {
    kind: 'mesh',
    triangles: new Triangles(
      Float32Array.from(list, (v, i) => v - (origin[i % 3] as number)),
      origin,
      `test ${list.length}`,
    ),
    half: true,
    reach: 152,
    places: [{ station: place.station, side: place.side ?? 'port', by: 'girth', value: place.girth }],
    notes: [],
    ...more,
  };
}

/** Quarter of a cylinder about y = 0, z = radius; s is girth from the keel. */
export const cylinderAt = (radius: number) => (x: number, s: number) => {
  const angle = s / radius;
  const normal: Vec3 = [0, Math.sin(angle), -Math.cos(angle)];
  return { point: [x, radius * Math.sin(angle), radius * (1 - Math.cos(angle))] as Vec3, normal };
};
