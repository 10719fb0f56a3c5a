import { describe, expect, test } from 'vitest';
import { carbonEquivalentShort, carbonFigures, shortFormArithmetic } from '../../src/weld/steel.ts';

/**
 * Formulas: IIW, AWS annex, Pcm and CET as published on vmvcm.com and colliewelding.com. Expected figures: the formulas worked
 * by hand to four decimals. HY-80- and HSLA-80-like compositions are illustrative, from memory, no mill data.
 */
const CASES = [
  ['a', { C: 0.18, Mn: 1.2, Cr: 0.2, Mo: 0.05, Ni: 0.1, Cu: 0.15 }, 0.4467, 0.4467, 0.2625, 0.325, 0.43],
  ['A36 plate ceiling', { C: 0.25, Mn: 1.2, Si: 0.4 }, 0.45, 0.5167, 0.3233, 0.37, 0.5],
  ['A131 Gr A', { C: 0.21, Mn: 0.53 }, 0.2983, 0.2983, 0.2365, 0.263, 0.3483],
  [
    'AH36, all limits at max',
    { C: 0.18, Mn: 1.6, Si: 0.5, Cr: 0.2, Mo: 0.08, V: 0.1, Ni: 0.4, Cu: 0.35 },
    0.5727,
    0.656,
    0.3262,
    0.3855,
    0.4967,
  ],
  [
    'AH36-like heat',
    { C: 0.15, Mn: 1.4, Si: 0.3, Cr: 0.02, Mo: 0.01, V: 0.05, Ni: 0.02, Cu: 0.02 },
    0.402,
    0.452,
    0.238,
    0.2935,
    0.4333,
  ],
  ['HY-80-like', { C: 0.15, Mn: 0.25, Si: 0.25, Cr: 1.4, Mo: 0.4, Ni: 2.6 }, 0.725, 0.7667, 0.3108, 0.35, 0.2417],
  [
    'HSLA-80-like',
    { C: 0.05, Mn: 0.55, Si: 0.3, Cr: 0.7, Mo: 0.2, Ni: 0.88, Cu: 1.15 },
    0.457,
    0.507,
    0.208,
    0.2395,
    0.1917,
  ],
] as const;

describe.each(CASES)('%s', (name, percent, iiw, aws, pcm, cet, short) => {
  test('IIW, AWS, Pcm, CET and short form', () => {
    const figures = carbonFigures(percent);
    // Half a unit of the fourth decimal, and a hair for the decimals themselves.
    const near = 5.01e-5;
    expect(Math.abs(figures.iiw - iiw)).toBeLessThan(near);
    expect(Math.abs(figures.aws - aws)).toBeLessThan(near);
    expect(Math.abs(figures.pcm - pcm)).toBeLessThan(near);
    expect(Math.abs(figures.cet - cet)).toBeLessThan(near);
    expect(Math.abs(shortFormArithmetic(percent) - short)).toBeLessThan(near);
  });

  test('the short form is given only where it does not flatter', () => {
    const form = carbonEquivalentShort(percent);
    expect(form.kind).toBe(short >= iiw ? 'value' : 'refused');
    if (name === 'HY-80-like' || name === 'HSLA-80-like') expect(form.kind).toBe('refused');
  });
});

test('boron counts five times in Pcm (formula)', () => {
  expect(carbonFigures({ C: 0.1, B: 0.002 }).pcm).toBeCloseTo(0.1 + 5 * 0.002, 12);
});

test('a share that is none is refused', () => {
  expect(() => carbonFigures({ C: -0.1 })).toThrow(RangeError);
  expect(() => carbonFigures({ C: Number.NaN })).toThrow(RangeError);
});
