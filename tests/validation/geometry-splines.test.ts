import { describe, expect, test } from 'vitest';
import { cubicSpline, type SplineEnd } from '../../geometry/math/spline.ts';

/*
 * R. L. Burden, J. D. Faires, Numerical Analysis, cubic spline examples; S. C. Chapra, Applied Numerical Methods, spline
 * example (from memory, re-derived); a quiz of CMU 15-462 (data found, answer derived). Printed digits stand here.
 */

const spline = (x: readonly number[], y: readonly number[], start: SplineEnd, end: SplineEnd = start) => {
  const c = cubicSpline(x, y, start, end);
  return x.slice(1).map((_, i) => Array.from(c.subarray(4 * i, 4 * i + 4)));
};

function near(got: readonly (readonly number[])[], want: readonly (readonly number[])[], tolerance: number): void {
  expect(got.length).toBe(want.length);
  want.forEach((row, i) => {
    row.forEach((w, k) => {
      expect(Math.abs((got[i]?.[k] as number) - w)).toBeLessThanOrEqual(tolerance);
    });
  });
}

const EXP = [1, Math.E, Math.E ** 2, Math.E ** 3];

describe('Cubic splines against textbooks', () => {
  test('Burden and Faires: natural through (1,2) (2,3) (3,5)', () => {
    const want = [
      [2, 3 / 4, 0, 1 / 4],
      [3, 3 / 2, 3 / 4, -1 / 4],
    ];
    near(spline([1, 2, 3], [2, 3, 5], 'natural'), want, 1e-14);
  });

  test('Burden and Faires: natural through e^x at 0, 1, 2, 3, and its integral 19.55229', () => {
    const got = spline([0, 1, 2, 3], EXP, 'natural');
    const want = [
      [1, 1.466, 0, 0.25228],
      // biome-ignore lint/suspicious/noApproximativeNumericConstant: the digits as printed
      [2.71828, 2.22285, 0.75685, 1.69107],
      [7.38906, 8.80977, 5.83007, -1.94336],
    ];
    near(got, want, 6e-6);
    const area = got.reduce((sum, [a, b, c, d]) => sum + (a ?? 0) + (b ?? 0) / 2 + (c ?? 0) / 3 + (d ?? 0) / 4, 0);
    expect(area).toBeCloseTo(19.55229, 5);
  });

  test('Burden and Faires: clamped through e^x at 0, 1, 2, 3', () => {
    const want = [
      [1, 1, 0.44468, 0.2736],
      // biome-ignore lint/suspicious/noApproximativeNumericConstant: the digits as printed
      [2.71828, 2.71016, 1.26548, 0.69513],
      [7.38906, 7.32652, 3.35087, 2.01909],
    ];
    near(spline([0, 1, 2, 3], EXP, 1, Math.E ** 3), want, 6e-6);
  });

  test('Chapra: natural through (3,2.5) (4.5,1) (7,2.5) (9,0.5), f(5) = 1.102889734', () => {
    const [, piece] = spline([3, 4.5, 7, 9], [2.5, 1, 2.5, 0.5], 'natural');
    const [a, b, c, d] = piece as [number, number, number, number];
    expect(a + 0.5 * (b + 0.5 * (c + 0.5 * d))).toBeCloseTo(1.102889734, 9);
  });

  test('CMU quiz: natural through (0,0.1) (0.4,0.6) (1,0.2)', () => {
    const [first, second] = spline([0, 0.4, 1], [0.1, 0.6, 0.2], 'natural');
    near([first ?? []], [[0.1, 1.633333, 0, -2.395833]], 1e-6);
    // The answer's second piece is in t itself: re-written about t = 0.4.
    const f = (t: number) => 1.597222 * t ** 3 - 4.791667 * t ** 2 + 3.55 * t - 0.155556;
    const [a, b, c, d] = second as [number, number, number, number];
    for (const t of [0.4, 0.6, 0.8, 1]) {
      const h = t - 0.4;
      expect(Math.abs(a + h * (b + h * (c + h * d)) - f(t))).toBeLessThan(3e-6);
    }
  });

  test('natural through (0,1) (1,3) (2,4): f(0.5) = 2.09375, f(1.5) = 3.59375, derived by hand', () => {
    const want = [
      [1, 2.25, 0, -0.25],
      [3, 1.5, -0.75, 0.25],
    ];
    near(spline([0, 1, 2], [1, 3, 4], 'natural'), want, 1e-14);
  });

  test('not-a-knot gives any cubic back exactly, and through three points the parabola', () => {
    const cubic = (x: number) => 2 - x + 3 * x ** 2 - 0.5 * x ** 3;
    const x = [0, 0.7, 1.1, 2.9, 4];
    for (const [i, piece] of spline(x, x.map(cubic), 'not-a-knot').entries()) {
      const [a, b, c, d] = piece as [number, number, number, number];
      const h = ((x[i + 1] as number) - (x[i] as number)) * 0.37;
      expect(a + h * (b + h * (c + h * d))).toBeCloseTo(cubic((x[i] as number) + h), 11);
    }
    const parabola = (t: number) => 1 + t - 2 * t ** 2;
    const [p, q] = spline([0, 1, 3], [0, 1, 3].map(parabola), 'not-a-knot');
    near(
      [p ?? [], q ?? []],
      [
        [1, 1, -2, 0],
        [0, -3, -2, 0],
      ],
      1e-12,
    );
  });
});
