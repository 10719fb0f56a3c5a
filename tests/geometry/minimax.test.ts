import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { lessEq, solve } from 'yalps';
import { minimaxPlane } from '../../geometry/math/minimax.ts';

/* The Chebyshev plane against a general linear programme: minimise E with |f - p0 - p1 a - p2 c| <= E at every sample. */

const COLUMNS = 9;
const ROWS = 5;

function samplesOf(f: (a: number, c: number) => number) {
  const a: number[] = [];
  const c: number[] = [];
  for (let i = 0; i < COLUMNS; i++) {
    for (let j = 0; j < ROWS; j++) {
      a.push(-1 + (2 * i) / (COLUMNS - 1));
      c.push(-1 + (2 * j) / (ROWS - 1));
    }
  }
  return { a, c, f: a.map((x, k) => f(x, c[k] as number)), count: a.length };
}
const CORNERS = [0, ROWS * (COLUMNS - 1), ROWS * COLUMNS - 1, ROWS - 1] as const;

/** Least worst deviation by the simplex method; free variables as differences of two. */
function byLinearProgramme(s: ReturnType<typeof samplesOf>): number {
  const constraints = new Map<string, { max: number }>();
  const column = new Map<string, Map<string, number>>();
  const of = (name: string) => column.get(name) ?? column.set(name, new Map()).get(name);
  of('E')?.set('cost', 1);
  for (let i = 0; i < s.count; i++) {
    const share: [string, number][] = [
      ['p0', 1],
      ['p1', s.a[i] as number],
      ['p2', s.c[i] as number],
    ];
    for (const sign of [1, -1]) {
      const row = `${i}${sign}`;
      constraints.set(row, lessEq(sign * (s.f[i] as number)) as { max: number });
      for (const [name, k] of share) {
        of(`${name}+`)?.set(row, sign * k);
        of(`${name}-`)?.set(row, -sign * k);
      }
      of('E')?.set(row, -1);
    }
  }
  const solution = solve(
    { direction: 'minimize', objective: 'cost', constraints, variables: column },
    { precision: 1e-12, includeZeroVariables: true },
  );
  expect(solution.status).toBe('optimal');
  return solution.result;
}

function expectSame(f: (a: number, c: number) => number): void {
  const s = samplesOf(f);
  const plane = minimaxPlane(s, CORNERS, 1e-12);
  const worst = Math.max(
    ...s.f.map((v, i) => Math.abs(v - plane.p0 - plane.p1 * (s.a[i] as number) - plane.p2 * (s.c[i] as number))),
  );
  expect(plane.error).toBeCloseTo(worst, 12);
  expect(Math.abs(plane.error - byLinearProgramme(s))).toBeLessThan(1e-8);
}

describe('Minimax plane against a linear programme', () => {
  test.each<[string, (a: number, c: number) => number]>([
    ['constant', () => 3],
    ['plane', (a, c) => 1 - 2 * a + 0.5 * c],
    ['parabola along a', (a) => a * a],
    ['parabola along c', (_, c) => c * c],
    ['cubic along a', (a) => a ** 3],
    ['saddle', (a, c) => a * c],
    ['twist the other way', (a, c) => -a * c],
    ['bowl', (a, c) => a * a + c * c],
    ['crease askew', (a, c) => Math.max(0, a + 0.3 * c - 0.2)],
    ['one high corner', (a, c) => (a === 1 && c === 1 ? 1 : 0)],
    ['one high place inside', (a, c) => (a === 0 && c === 0 ? 1 : 0)],
  ])('%s', (_, f) => {
    expectSame(f);
  });

  test('known by hand: a^2 on -1..1 has E = 1/2, the saddle a c has E = 1, a^3 has its line at slope 3/4', () => {
    expect(
      minimaxPlane(
        samplesOf((a) => a * a),
        CORNERS,
        1e-12,
      ).error,
    ).toBeCloseTo(0.5, 12);
    expect(
      minimaxPlane(
        samplesOf((a, c) => a * c),
        CORNERS,
        1e-12,
      ).error,
    ).toBeCloseTo(1, 12);
    // x^3 - 3/4 x is the Chebyshev polynomial T3 / 4: E = 1/4 at -1, -1/2, 1/2, 1, all among the samples.
    const cubic = minimaxPlane(
      samplesOf((a) => a ** 3),
      CORNERS,
      1e-12,
    );
    expect(cubic.error).toBeCloseTo(0.25, 12);
    expect(cubic.p1).toBeCloseTo(0.75, 12);
  });

  test('random fields', () => {
    const value = fc.double({ min: -1, max: 1, noNaN: true });
    fc.assert(
      fc.property(fc.array(value, { minLength: 45, maxLength: 45 }), (list) => {
        let k = 0;
        expectSame(() => list[k++] as number);
      }),
      { numRuns: 40, seed: 20260101 },
    );
  });

  test('random fields with few values, so that many samples tie', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -1, max: 1 }), { minLength: 45, maxLength: 45 }), (list) => {
        let k = 0;
        expectSame(() => list[k++] as number);
      }),
      { numRuns: 40, seed: 20260102 },
    );
  });

  test('a foot of 300 x 38 mm far from the origin of heights: scaling and offset change nothing', () => {
    const s = samplesOf((a, c) => Math.cos(2 * a) + 0.1 * c * c);
    const plain = minimaxPlane(s, CORNERS, 1e-12);
    const wide = {
      a: s.a.map((x) => 150 * x),
      c: s.c.map((x) => 19 * x),
      f: s.f.map((x) => 1e4 + 5 * x),
      count: s.count,
    };
    expect(minimaxPlane(wide, CORNERS, 1e-9).error).toBeCloseTo(5 * plain.error, 8);
  });

  test('asked whether a plane lies within a bound: what comes back tells the same as the whole search', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 45, maxLength: 45 }),
        fc.double({ min: 0.2, max: 1.8, noNaN: true }),
        (f, share) => {
          const samples = { ...samplesOf(() => 0), f };
          const whole = minimaxPlane(samples, CORNERS, 1e-9).error;
          const bound = share * whole;
          const asked = minimaxPlane(samples, CORNERS, 1e-9, 0, samples.count, bound).error;
          if (whole <= bound) expect(asked).toBe(whole);
          else expect(asked).toBeGreaterThan(bound);
        },
      ),
      { numRuns: 200, seed: 20240611 },
    );
  });
});
