import { describe, expect, test } from 'vitest';
import { curveAt, newCurvePoint, splinePieces } from '../../geometry/hull/curve.ts';
import type { SplinePoint } from '../../geometry/hull/spec.ts';
import { deg, standLug } from './lugs.ts';

/* A section through points: how fast it closes in on a circle, and what a knuckle does. */

const R = 2000;
const quarter = (n: number): SplinePoint[] =>
  Array.from({ length: n }, (_, k) => {
    const angle = (Math.PI / 2) * (k / (n - 1));
    return { y: R * Math.sin(angle), z: R - R * Math.cos(angle) };
  });

describe('Spline section of a quarter circle of 2 m radius', () => {
  const errors = (n: number) => {
    const p = newCurvePoint();
    let [off, turn, length] = [0, 0, 0];
    for (const piece of splinePieces(quarter(n))) {
      length += piece.length;
      for (let k = 0; k <= 32; k++) {
        curveAt(piece, k / 32, p);
        off = Math.max(off, Math.abs(Math.hypot(p.y, p.z - R) - R));
        const square = p.dy * p.y + p.dz * (p.z - R);
        turn = Math.max(turn, Math.abs(square) / (R * Math.hypot(p.dy, p.dz)));
      }
    }
    return { off, turn, girth: Math.abs(length - (R * Math.PI) / 2) };
  };

  test('fourth order in position and girth, third in direction', () => {
    const [coarse, fine] = [errors(9), errors(17)];
    const order = (p: number, q: number) => Math.log2(p / q);
    console.log(
      [5, 9, 17, 33]
        .map((n) => ({ n, ...errors(n) }))
        .map(
          (e) =>
            `${e.n} points: ${e.off.toExponential(1)} mm, ${deg(e.turn).toExponential(1)} deg, girth ${e.girth.toExponential(1)} mm`,
        )
        .join('\n'),
    );
    expect(order(coarse.off, fine.off)).toBeGreaterThan(3.5);
    expect(order(coarse.turn, fine.turn)).toBeGreaterThan(2.5);
    expect(order(coarse.girth, fine.girth)).toBeGreaterThan(3.5);
    expect(fine.off).toBeLessThan(0.1);
    expect(deg(fine.turn)).toBeLessThan(0.05);
  });

  test('a lug on it stands as on the circle, within what the spline allows', () => {
    const exact = R - Math.sqrt(R * R - 150 * 150);
    const lug = standLug({ kind: 'spline', points: quarter(17) }, { girth: 1500, heading: Math.PI / 2 });
    expect(Math.abs(lug.cuts.straight.maxGap - exact)).toBeLessThan(0.05);
    expect(Math.abs(deg(lug.cuts.straight.bevel))).toBeLessThan(0.01);
  });
});

describe('Knuckles', () => {
  const points: SplinePoint[] = [
    { y: 0, z: 0 },
    { y: 500, z: 50 },
    { y: 1000, z: 100 },
    { y: 1500, z: 150, knuckle: true },
    { y: 1700, z: 550 },
    { y: 1900, z: 950 },
    { y: 2100, z: 1350 },
  ];

  test('straight runs between knuckles stay straight to the last digit', () => {
    const p = newCurvePoint();
    for (const piece of splinePieces(points)) {
      for (let k = 0; k <= 8; k++) {
        curveAt(piece, k / 8, p);
        const off = p.y <= 1500 ? p.z - p.y / 10 : p.z - 150 - 2 * (p.y - 1500);
        expect(Math.abs(off)).toBeLessThan(1e-9);
      }
    }
  });

  test('without the mark the same points round the corner', () => {
    const smooth = splinePieces(points.map(({ y, z }) => ({ y, z })));
    expect(new Set(smooth.map((q) => q.region)).size).toBe(1);
    expect(new Set(splinePieces(points).map((q) => q.region)).size).toBe(2);
  });
});
