import { all, create } from 'mathjs';
import { describe, expect, test } from 'vitest';
import { readQuantity } from '../../src/job/quantity.ts';
import type { Kind } from '../../src/job/units.ts';

const value = (text: string, kind: Kind = 'length'): number => {
  const reading = readQuantity(text, kind);
  if (!reading.ok) throw new Error(`${JSON.stringify(text)}: expected ${reading.expected}`);
  return reading.value;
};
const refusal = (text: string, kind: Kind = 'length'): string => {
  const reading = readQuantity(text, kind);
  if (reading.ok) throw new Error(`${JSON.stringify(text)} was read as ${reading.value}`);
  return reading.expected;
};

/** Agreement of two computations in double precision. */
const ROUND_OFF = 1e-14;
const near = (actual: number, expected: number) =>
  expect(Math.abs(actual - expected), `${actual} against ${expected}`).toBeLessThanOrEqual(
    ROUND_OFF * Math.abs(expected),
  );

// NIST Special Publication 811 (2008), appendix B.8: factors printed bold are exact. 1 in = 25.4 mm, 1 ft = 0.3048 m,
// 1 lb = 0.453 592 37 kg, standard gravity 9.806 65 m/s^2: exact by definition (section B.6, and footnotes there).
const INCH = 25.4;
const POUND = 0.45359237;
const LBF = POUND * 9.80665;

test('one of each unit is what its definition says', () => {
  const exact: readonly (readonly [string, Kind, number])[] = [
    ['1 mm', 'length', 1],
    ['1 cm', 'length', 10],
    ['1 m', 'length', 1000],
    ['1 in', 'length', INCH],
    ['1 ft', 'length', 12 * INCH],
    ['180 deg', 'angle', Math.PI],
    ['1 rad', 'angle', 1],
    ['1 kg', 'mass', 1],
    ['1 t', 'mass', 1000],
    ['1 lb', 'mass', POUND],
    ['1 N', 'force', 1],
    ['1 kN', 'force', 1000],
    ['1 lbf', 'force', LBF],
    ['1 kip', 'force', 1000 * LBF],
    ['1 tonf', 'force', 2000 * LBF],
    ['1 MPa', 'stress', 1],
    ['1 psi', 'stress', LBF / INCH ** 2],
    ['1 ksi', 'stress', (1000 * LBF) / INCH ** 2],
    ['1 A', 'current', 1],
    ['1 V', 'potential', 1],
    ['1 min', 'time', 1],
    ['1 h', 'time', 60],
    ['5 %', 'share', 0.05],
  ];
  for (const [text, kind, expected] of exact) near(value(text, kind), expected);
  // The digits printed in NIST SP 811, B.8.
  expect(value('1 lbf', 'force')).toBeCloseTo(4.448222, 6);
  expect(value('1 kip', 'force')).toBeCloseTo(4448.222, 3);
  expect(value('1 ksi', 'stress')).toBeCloseTo(6.894757, 6);
});

test('the whole library, set up in its usual way, agrees on every unit it knows', () => {
  const math = create(all ?? {});
  // It holds the kip as 4448.2216 N and the psi as 6894.75729276459 Pa: rounded, by 4 in 10^9 at most.
  const rounded = ['kip', 'psi', 'ksi'];
  math.createUnit('tonf', '2000 lbf');
  math.createUnit('ksi', '1000 psi');
  const internal = { length: 'mm', angle: 'rad', mass: 'kg', force: 'N', stress: 'MPa', time: 'minute' } as const;
  const units: Readonly<Record<keyof typeof internal, readonly string[]>> = {
    length: ['mm', 'cm', 'm', 'in', 'ft'],
    angle: ['deg', 'rad'],
    mass: ['kg', 't', 'lb'],
    force: ['N', 'kN', 'lbf', 'kip', 'tonf'],
    stress: ['MPa', 'ksi', 'psi'],
    time: ['h'],
  };
  for (const [kind, names] of Object.entries(units) as [keyof typeof internal, readonly string[]][]) {
    for (const name of names) {
      const [ours, theirs] = [value(`1.37 ${name}`, kind), math.unit(1.37, name).toNumber(internal[kind])];
      if (rounded.includes(name)) expect(Math.abs(ours / theirs - 1)).toBeLessThan(4e-9);
      else near(ours, theirs);
    }
  }
});

test('a rated load may be a mass or a force; a mass weighs under standard gravity', () => {
  near(value('25 t', 'load'), 25000 * 9.80665);
  near(value('25 tonf', 'load'), 50000 * LBF);
  near(value('245.16625 kN', 'load'), 25000 * 9.80665);
  // Two 25 short-ton hoists lift about 100,000 lbf between them (common practice, no source).
  near(2 * value('25 tonf', 'load'), value('100000 lbf', 'force'));
});

test('whole numbers of units come out whole', () => {
  expect(value('310 mm')).toBe(310);
  expect(value('12 in')).toBe(304.8);
  expect(value('180 ft')).toBe(54864);
  expect(value('3.40 m')).toBe(3400);
});

test('fractions, feet and inches', () => {
  const readings: readonly (readonly [string, number])[] = [
    ['3/8 in', 3 / 8],
    ['1 1/2 in', 1.5],
    ['1-1/2 in', 1.5],
    ['1½ in', 1.5],
    ['½ in', 0.5],
    ['2 ⅞"', 2.875],
    ['1\u2044' + '2 in', 0.5],
    ['5 ft 6 1/2 in', 66.5],
    ['5\' 6 1/2"', 66.5],
    ['5\'-6 1/2"', 66.5],
    ['5\' - 6½"', 66.5],
    ['5′ 6½″', 66.5],
    ['5’ 6½”', 66.5],
    ["5' 6''", 66],
    ['5ft6in', 66],
    ['9 1/2 ft', 114],
    ['-5 ft 6 in', -66],
    ['3 FT 4 IN', 40],
    ['.5 in', 0.5],
    ['1 inch', 1],
    ['2 inches', 2],
  ];
  for (const [text, inches] of readings) near(value(text), inches * INCH);
});

test('spaces, minus signs, decimal marks and groups of digits as people and programs write them', () => {
  const readings: readonly (readonly [string, number])[] = [
    ['1\u202F234 mm', 1234],
    ['1\u00A0234,5\u00A0mm', 1234.5],
    ['12 345 mm', 12345],
    ['1 234.5 mm', 1234.5],
    ['1,234.5 mm', 1234.5],
    ['1.234,5 mm', 1234.5],
    ['123,456,000 mm', Number.NaN],
    ['1,5 m', 1500],
    ['1,25 m', 1250],
    ['0,234 m', 234],
    ['1234,567 mm', 1234.567],
    ['1 234,567 mm', 1234.567],
    ['1.234 m', 1234],
    ['\u2212' + '3 m', -3000],
    ['\u2013 3 m', -3000],
    ['+3 m', 3000],
    ['-0 mm', 0],
    ['1e3 mm', 1000],
    ['1.5E-1 m', 150],
    ['  7   mm ', 7],
    ['7mm', 7],
    ['１２ mm', 12],
    ['12 MM', 12],
  ];
  for (const [text, mm] of readings) {
    if (Number.isNaN(mm)) expect(refusal(text)).toContain('not beyond 1 km');
    else near(value(text), mm);
  }
  expect(Object.is(value('-0 mm'), 0)).toBe(true);
});

test('what can be read two ways is refused with both readings', () => {
  expect(refusal('1,234 m')).toContain('one of 1.234 and 1234');
  expect(refusal('12,345 mm')).toContain('one of 12.345 and 12345');
  expect(refusal('25 ton', 'load')).toMatch(/tonf \(2000 lbf\) or t \(1000 kg\)/);
});

test('what is no quantity of its kind is refused', () => {
  const wrong = [
    ...['', ' ', '12', 'mm', '-', '12 furlong', '12 mm mm', '12 mm 5', 'NaN mm', 'Infinity mm', '0x10 mm', '1__0 mm'],
    ...[
      '1 23 mm',
      '1,23,4 mm',
      '1..2 m',
      '1.2.3 m',
      '1.234.5 m',
      '3/0 in',
      '1 3/2 in',
      '3 ft 4',
      '12 in 3 ft',
      '1 m 20 cm',
    ],
    ...[
      '5.5 ft 6 in',
      '5 ft 12 in',
      '5 ft 6 in 2 in',
      '5 ft -6 in',
      '--5 mm',
      '1e999 mm',
      '1e9 m',
      '12 kg',
      '12 deg',
      '5 %',
    ],
    ...['12\u200Bmm', '12 mm\u0000', '1'.repeat(200), '9'.repeat(99), '5 Mm', '1 2 3 mm', '1/2/3 in', '1 1 / 2 / 3 in'],
  ];
  for (const text of wrong) refusal(text);
  expect(refusal('25 t', 'force')).toContain('t is a mass');
  expect(refusal('11000 lb', 'force')).toContain('write lbf');
  expect(refusal('5 Mn', 'force')).toContain('a force with its unit');
  expect(refusal('400 deg', 'angle')).toContain('360 deg');
  expect(refusal('101 %', 'share')).toContain('100 %');
});

test('reading takes no time that grows out of hand with the text', () => {
  const started = performance.now();
  for (const piece of ['1', '1 ', '1,', '1.', '1/', '1-', "1'", '1 1/', ' ', 'e', 'mm ', '½']) {
    for (const end of ['', ' mm', 'x']) readQuantity(piece.repeat(100).slice(0, 95) + end, 'length');
  }
  // 36 texts of a hundred characters: milliseconds, unless a pattern tries every way to part them.
  expect(performance.now() - started).toBeLessThan(1000);
});

describe('±', () => {
  test.each([
    ['2.2 m ± 20 mm', 'length', 2200, 20],
    ['2.2 m +/- 20 mm', 'length', 2200, 20],
    ['14.5 ± 0.5 deg', 'angle', (14.5 * Math.PI) / 180, (0.5 * Math.PI) / 180],
    ['-0.7 deg ±0.2 deg', 'angle', (-0.7 * Math.PI) / 180, (0.2 * Math.PI) / 180],
    ['1 1/2 in ± 1/16 in', 'length', 38.1, 1.5875],
    ['5 ft 6 in +- 1 in', 'length', 1676.4, 25.4],
  ] as const)('%s', (text, kind, value, error) => {
    const got = readQuantity(text, kind);
    expect(got.ok && got.value).toBeCloseTo(value, 9);
    expect(got.ok && got.error).toBeCloseTo(error, 9);
  });
  test.each(['2 m ±', '± 2 mm', '2 m ± 3 kN', '2 m ± -3 mm', '2 m ± 1 mm ± 1 mm', '2 ± 3'])('refused: %s', (text) => {
    expect(readQuantity(text, 'length').ok).toBe(false);
  });
});
