import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CheckInput, check, NO_CAPACITY_RATIO, ratioOf } from '../../src/strength/check.ts';

const input = (demand: number, limit: number): CheckInput => ({
  id: 'x',
  title: 'x',
  demand,
  limit,
  unit: 'N',
  basis: 'trade',
  source: 'definition',
  standing: 'source',
  formula: 'F <= F',
  terms: [],
});

describe('A check derives its ratio and its verdict', () => {
  it.each([
    [0, 0, 0, true],
    [0, 10, 0, true],
    [5, 10, 0.5, true],
    [10, 10, 1, true],
    [12, 10, 1.2, false],
    [1, 0, NO_CAPACITY_RATIO, false],
    [1, -3, NO_CAPACITY_RATIO, false],
    [Number.NaN, 10, NO_CAPACITY_RATIO, false],
    [1, Number.NaN, NO_CAPACITY_RATIO, false],
    [Number.POSITIVE_INFINITY, 10, NO_CAPACITY_RATIO, false],
  ])('%d against %d', (demand, limit, ratio, pass) => {
    const c = check(input(demand, limit));
    expect(c.ratio).toBe(ratio);
    expect(c.pass).toBe(pass);
    expect(Number.isFinite(c.ratio)).toBe(true);
  });

  it('passes exactly where the demand does not exceed the limit', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1e9, noNaN: true }),
        fc.double({ min: 1e-3, max: 1e9, noNaN: true }),
        (d, l) => {
          expect(ratioOf(d, l) <= 1).toBe(d / l <= 1);
        },
      ),
      { seed: 20_117, verbose: true },
    );
  });
});
