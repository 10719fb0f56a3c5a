import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { shellFrom } from '../../geometry/hull/from.ts';
import { addScaled, distance, sub, type Vec3 } from '../../geometry/math/vec.ts';
import { HullProbe } from '../../src/rigging/hullprobe.ts';
import { clearanceOf, distanceBetween, type Segment } from '../../src/rigging/solids.ts';

const point = fc.tuple(
  fc.double({ min: -1000, max: 1000, noNaN: true }),
  fc.double({ min: -1000, max: 1000, noNaN: true }),
  fc.double({ min: -1000, max: 1000, noNaN: true }),
);

const along = ({ from, to }: Segment, t: number): Vec3 => addScaled(from, sub(to, from), t);

describe('distances', () => {
  test('of two segments almost side by side, where the products of their directions lose their figures', () => {
    const alongX = { from: [0, 0, 0], to: [1000, 0, 0] } as const;
    // They cross in the middle at 1e-7 rad; they open by 1e-8 mm over their length; one is a point on the other.
    expect(distanceBetween(alongX, { from: [0, 5e-5, 0], to: [1000, -5e-5, 0] })).toBeLessThan(1e-12);
    expect(distanceBetween(alongX, { from: [1000, 3, 0], to: [0, 3 + 1e-8, 0] })).toBeCloseTo(3, 12);
    expect(distanceBetween(alongX, { from: [0, 5e-5, 0], to: [1000, 2e-5, 0] })).toBeCloseTo(2e-5, 12);
    expect(distanceBetween(alongX, { from: [400, 0, 0], to: [400, 0, 0] })).toBe(0);
    expect(distanceBetween(alongX, { from: [1003, 4, 0], to: [2000, 4, 0] })).toBeCloseTo(5, 12);
  });

  test('of two segments against a fine search', () => {
    fc.assert(
      fc.property(point, point, point, point, (a, b, c, d) => {
        const p = { from: a, to: b };
        const q = { from: c, to: d };
        const got = distanceBetween(p, q);
        let least = Number.POSITIVE_INFINITY;
        for (let i = 0; i <= 200; i++)
          for (let j = 0; j <= 200; j++) least = Math.min(least, distance(along(p, i / 200), along(q, j / 200)));
        expect(got).toBeLessThanOrEqual(least + 1e-9);
        expect(least - got).toBeLessThan(25);
      }),
      { numRuns: 40 },
    );
  });

  test('known ones: crossing, side by side, end to end, points', () => {
    const x = { from: [-1, 0, 0], to: [1, 0, 0] } as const;
    expect(distanceBetween(x, { from: [0, -1, 3], to: [0, 1, 3] })).toBe(3);
    expect(distanceBetween(x, { from: [-5, 2, 0], to: [5, 2, 0] })).toBe(2);
    expect(distanceBetween(x, { from: [4, 4, 0], to: [9, 4, 0] })).toBe(5);
    expect(distanceBetween({ from: [0, 3, 4], to: [0, 3, 4] }, { from: [0, 0, 0], to: [0, 0, 0] })).toBe(5);
  });

  test('to a block: above a face, beside an edge, through it', () => {
    const block = { kind: 'block', name: 'b', from: [0, 0, 0], to: [10, 20, 30] } as const;
    expect(clearanceOf({ from: [2, 2, 35], to: [8, 8, 40] }, block)).toBeCloseTo(5, 4);
    expect(clearanceOf({ from: [13, 10, -4], to: [13, 10, -4] }, block)).toBeCloseTo(5, 9);
    expect(clearanceOf({ from: [5, 10, -10], to: [5, 10, 50] }, block)).toBeCloseTo(-5, 4);
  });
});

describe('clearance of the hull', () => {
  test('of a round bilge: distance to the arc, negative inside, the same at every station and on either side', () => {
    // Flat bottom to y 2000, then a quarter circle of 1000 about (2000, 1000), then a plumb side to 4000.
    const shell = shellFrom({
      kind: 'segments',
      start: { y: 0, z: 0 },
      path: [{ to: { y: 2000, z: 0 } }, { to: { y: 3000, z: 1000 }, radius: 1000 }, { to: { y: 3000, z: 4000 } }],
    });
    const probe = new HullProbe(shell);
    for (const side of [1, -1])
      for (const x of [0, 7321]) {
        expect(probe.clearance([x, 500 * side, -70])).toBeCloseTo(70, 6);
        expect(probe.clearance([x, 500 * side, 70])).toBeCloseTo(-70, 6);
        expect(probe.clearance([x, 3040 * side, 2000])).toBeCloseTo(40, 6);
        const s = Math.SQRT1_2;
        expect(probe.clearance([x, (2000 + 1100 * s) * side, 1000 - 1100 * s])).toBeCloseTo(100, 6);
        expect(probe.clearance([x, (2000 + 900 * s) * side, 1000 - 900 * s])).toBeCloseTo(-100, 6);
      }
    const line = probe.along({ from: [0, 0, -500], to: [0, 3500, 700] });
    expect(line?.clearance).toBeLessThan(0);
    expect(probe.along({ from: [0, 0, -500], to: [0, 3500, -400] })?.clearance).toBeGreaterThan(250);
  });

  test('of a hull through sections: nothing is said of where it has no data; between them it narrows aft', () => {
    const section = (k: number) => [0, 0.25, 0.5, 0.75, 1].map((t) => ({ y: 3000 * k * t, z: 3000 * t * t }));
    const shell = shellFrom({
      kind: 'sections',
      sections: [
        { station: 0, points: section(0.2) },
        { station: 5000, points: section(0.7) },
        { station: 10_000, points: section(1) },
      ],
    });
    const probe = new HullProbe(shell);
    expect(probe.clearance([-1, 0, 0])).toBeUndefined();
    expect(probe.clearance([10_000, 500, 1500])).toBeLessThan(0);
    expect(probe.clearance([0, 500, 1500])).toBeGreaterThan(0);
    const near: Vec3 = [4970, 2000, 2700];
    const got = probe.clearance(near);
    expect(Math.abs(got ?? 1e9)).toBeCloseTo(shell.closest(near).distance, 6);
  });
});
