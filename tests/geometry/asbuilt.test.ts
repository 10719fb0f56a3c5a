import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { solve } from 'yalps';
import { grindMap } from '../../geometry/asbuilt/grind.ts';
import { poseFromReadings } from '../../geometry/asbuilt/pose.ts';
import { lugFrame } from '../../geometry/lug/frame.ts';
import { cross, dot, normalize, type Vec3 } from '../../geometry/math/vec.ts';

const deg = Math.PI / 180;
const unit = fc
  .tuple(
    fc.double({ min: -1, max: 1, noNaN: true }),
    fc.double({ min: -1, max: 1, noNaN: true }),
    fc.double({ min: -1, max: 1, noNaN: true }),
  )
  .filter((v) => Math.hypot(...v) > 0.2)
  .map((v) => normalize(v as Vec3));

describe('pose from readings', () => {
  const plumb = lugFrame([0, 0, 0], [1, 0, 0], [0, 0, -1]);
  const up: Vec3 = [0, 0, 1];

  test('a plumb lug that leans by what the instrument reads (closed form)', () => {
    const pose = poseFromReadings(plumb, up, { faceLean: 2 * deg, footRise: 0 });
    expect(pose).toBeDefined();
    if (!pose) return;
    expect(Math.asin(dot(pose.face, up)) / deg).toBeCloseTo(2, 9);
    // The stem turns about the foot by the same 2 degrees.
    expect(Math.acos(-dot(pose.stem, up)) / deg).toBeCloseTo(2, 9);
    expect(pose.foot[0]).toBeCloseTo(1, 12);
  });

  test('readings that no plate can show are answered with nothing', () => {
    expect(poseFromReadings(plumb, up, { faceLean: 60 * deg, footRise: 60 * deg })).toBeUndefined();
  });

  test('whatever the readings, the pose shows them and stays a right-handed frame (property)', () => {
    fc.assert(
      fc.property(
        unit,
        unit,
        fc.double({ min: -0.05, max: 0.05, noNaN: true }),
        fc.double({ min: -0.05, max: 0.05, noNaN: true }),
        (h, stem, dLean, dRise) => {
          fc.pre(Math.abs(dot(h, stem)) < 0.9);
          const frame = lugFrame([0, 0, 0], h, stem);
          const lean = Math.asin(Math.max(-1, Math.min(1, dot(frame.face, up))));
          const rise = Math.asin(Math.max(-1, Math.min(1, dot(frame.foot, up))));
          fc.pre(
            Math.abs(rise) < 1.3 && Math.sin(Math.abs(lean) + 0.06) ** 2 + Math.sin(Math.abs(rise) + 0.06) ** 2 < 1,
          );
          const pose = poseFromReadings(frame, up, { faceLean: lean + dLean, footRise: rise + dRise });
          expect(pose).toBeDefined();
          if (!pose) return;
          expect(Math.asin(dot(pose.face, up))).toBeCloseTo(lean + dLean, 8);
          expect(Math.asin(dot(pose.foot, up))).toBeCloseTo(rise + dRise, 8);
          expect(dot(pose.foot, pose.face)).toBeCloseTo(0, 9);
          expect(dot(cross(pose.foot, pose.stem), pose.face)).toBeCloseTo(1, 9);
        },
      ),
    );
  });

  test('the planned readings give the planned frame back', () => {
    const frame = lugFrame([5, 6, 7], normalize([1, 0.2, 0.1]), normalize([0.1, -0.2, -1]));
    const pose = poseFromReadings(frame, up, {});
    expect(pose).toBeDefined();
    for (const key of ['foot', 'stem', 'face'] as const) {
      frame[key].forEach((x, i) => {
        expect(pose?.[key][i]).toBeCloseTo(x, 12);
      });
    }
  });
});

describe('grinding map', () => {
  test('gaps that are one plane need no grinding: the plate is set in anew', () => {
    const gaps = [-150, 0, 150].flatMap((a) => [-19, 19].map((c) => ({ a, c, gap: 2 + 0.01 * a + 0.02 * c })));
    const map = grindMap(gaps, 1.6);
    expect(map?.reseatOnly).toBe(true);
    expect(Math.max(...(map?.spots.map((s) => s.left) ?? []))).toBeLessThan(1e-9);
  });

  test('a crown in the middle of the foot: half its height comes off less half of what is tolerated (closed form)', () => {
    // Gap 5 mm at the ends, 0 in the middle: Chebyshev error 2.5, so 2 x 2.5 - 1.6 = 3.4 mm must come off the middle.
    const gaps = [-150, 0, 150].flatMap((a) => [-19, 19].map((c) => ({ a, c, gap: a === 0 ? 0 : 5 })));
    const map = grindMap(gaps, 1.6);
    expect(map?.most).toBeCloseTo(3.4, 9);
    map?.spots.forEach((s, i) => {
      expect(s.grind).toBeCloseTo(gaps[i]?.a === 0 ? 3.4 : 0, 9);
      expect(s.left).toBeCloseTo(gaps[i]?.a === 0 ? 0 : 1.6, 9);
    });
  });

  test('no other way of setting the plate takes off less at the worst spot (linear programme of an independent solver)', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            a: fc.integer({ min: -150, max: 150 }),
            c: fc.constantFrom(-19, 19),
            gap: fc.double({ min: 0, max: 6, noNaN: true }),
          }),
          { minLength: 4, maxLength: 14 },
        ),
        (gaps) => {
          const map = grindMap(gaps, 1);
          fc.pre(map !== undefined);
          if (!map) return;
          // minimise G over the plane d: gap - d <= 1, d - gap <= G, G >= 0. Free variables are split in two.
          const variables: Record<string, Record<string, number>> = { G: { G: 1 } };
          const constraints: Record<string, { min?: number; max?: number }> = {};
          const names = ['w0', 'w1', 'w2'] as const;
          for (const n of names) for (const s of ['+', '-']) variables[n + s] = {};
          gaps.forEach((g, i) => {
            const row = [1, g.a / 100, g.c / 10];
            names.forEach((n, k) => {
              for (const [s, sign] of [
                ['+', 1],
                ['-', -1],
              ] as const) {
                const v = variables[n + s] as Record<string, number>;
                v[`reach${i}`] = sign * (row[k] as number);
                v[`pass${i}`] = sign * (row[k] as number);
              }
            });
            (variables.G as Record<string, number>)[`pass${i}`] = -1;
            constraints[`reach${i}`] = { min: g.gap - 1 };
            constraints[`pass${i}`] = { max: g.gap };
          });
          const best = solve({ direction: 'minimize', objective: 'G', constraints, variables }, { precision: 1e-12 });
          expect(map.most).toBeCloseTo(best.result, 6);
          for (const s of map.spots) {
            expect(s.left).toBeLessThanOrEqual(1 + 1e-9);
            expect(s.grind).toBeLessThanOrEqual(map.most + 1e-9);
          }
        },
      ),
    );
  });

  test('fewer than three gaps, or gaps in one line, say nothing', () => {
    expect(grindMap([{ a: 0, c: 0, gap: 1 }], 1)).toBeUndefined();
    expect(
      grindMap(
        [-1, 0, 1].map((a) => ({ a, c: 19, gap: 1 })),
        1,
      ),
    ).toBeUndefined();
  });
});
