import Module from 'manifold-3d';
import { beforeAll, describe, expect, test } from 'vitest';
import { newHit } from '../../geometry/hull/shell.ts';
import type { HullSpec } from '../../geometry/hull/spec.ts';
import { toShip } from '../../geometry/lug/frame.ts';
import type { Vec3 } from '../../geometry/math/vec.ts';
import { cylinder, hollow } from './hulls.ts';
import { RAD, type Stand, shellOf, standLug } from './lugs.ts';

/* Foot heights against rays cast by a geometry kernel (manifold-3d) on a finely faceted prism of the section. */

/** mm. Chords of the facets stay within this of the section. */
const CHORD = 0.01;

let kernel: Awaited<ReturnType<typeof Module>>;
beforeAll(async () => {
  kernel = await Module();
  kernel.setup();
});

/** The ship between x = 8 m and 12 m as a solid: section, its mirror image, and a lid above them. */
function prism(hull: HullSpec) {
  const half = shellOf(hull)
    .sectionLine(10_000, CHORD)
    .map(([, y, z]) => [y, z] as [number, number]);
  const top = Math.max(...half.map(([, z]) => z)) + 500;
  const outline: [number, number][] = [
    ...half,
    [(half.at(-1) as [number, number])[0], top],
    [-(half.at(-1) as [number, number])[0], top],
    ...half
      .slice(half[0]?.[0] === 0 ? 1 : 0)
      .reverse()
      .map(([y, z]) => [-y, z] as [number, number]),
  ];
  // Extruded along z of the kernel: its (x, y, z) is the ship's (y, z, x).
  return kernel.Manifold.extrude([outline], 4000).translate([0, 0, 8000]);
}
const toKernel = ([x, y, z]: Vec3): [number, number, number] => [y, z, x];

const bilge: HullSpec = {
  kind: 'segments',
  start: { y: 0, z: 0 },
  path: [{ to: { y: 2000, z: 250 } }, { to: { y: 3500, z: 2300 }, radius: 1800 }, { to: { y: 3600, z: 5000 } }],
};
const spline: HullSpec = {
  kind: 'spline',
  points: [
    { y: 0, z: 0 },
    { y: 1000, z: 120 },
    { y: 2000, z: 380, knuckle: true },
    { y: 2700, z: 900 },
    { y: 3200, z: 1700 },
    { y: 3400, z: 2800 },
  ],
};

describe('Foot heights against a kernel that casts rays', () => {
  test.each<[string, HullSpec, Stand]>([
    ['cylinder, square, askew', cylinder(2000), { girth: 1500, heading: 50 * RAD }],
    ['bilge, plumb', bilge, { girth: 2600, stem: { kind: 'plumb' } }],
    [
      'bilge, plumb, athwartships, starboard',
      bilge,
      { girth: 2500, stem: { kind: 'plumb' }, heading: 90 * RAD, side: 'starboard' },
    ],
    ['hollow, leaning', hollow(1500), { girth: 900, heading: 70 * RAD, stem: { kind: 'lean', angle: 15 * RAD } }],
    ['spline over a knuckle', spline, { girth: 2050, heading: 120 * RAD, stem: { kind: 'lean', angle: -10 * RAD } }],
    ['spline at the keel', spline, { girth: 40, heading: 90 * RAD, stem: { kind: 'plumb' } }],
  ])('%s', (_, hull, change) => {
    const lug = standLug(hull, change);
    const solid = prism(hull);
    const hit = newHit();
    let seen = 0;
    for (let i = 0; i <= 20; i++) {
      for (let j = 0; j <= 4; j++) {
        const a = lug.field.halfFoot * (i / 10 - 1) * 0.999;
        const c = lug.field.halfThickness * (j / 2 - 1) * 0.999;
        lug.field.cast(a, c, hit);
        const from = toShip(lug.frame, a, hit.f + 100, c);
        const to = toShip(lug.frame, a, hit.f - 100, c);
        const hits = solid.rayCast(toKernel(from), toKernel(to));
        const heights = hits.map((h) => {
          const p: Vec3 = [h.position[2], h.position[0], h.position[1]];
          return p.reduce(
            (sum, x, d) => sum + (x - (lug.frame.origin[d] as number)) * (lug.frame.stem[d] as number),
            0,
          );
        });
        const off = Math.min(...heights.map((b) => Math.abs(b - hit.f)));
        // A facet lies within its chord of the section; along the stem that counts by the cosine between stem and normal.
        const lean = Math.abs(hit.nx * lug.frame.stem[0] + hit.ny * lug.frame.stem[1] + hit.nz * lug.frame.stem[2]);
        expect(off).toBeLessThan((1.5 * CHORD) / lean + 1e-4);
        seen++;
      }
    }
    expect(seen).toBe(105);
    solid.delete();
  });
});
