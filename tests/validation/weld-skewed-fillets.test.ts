import { describe, expect, test } from 'vitest';
import { gapRuling } from '../../src/weld/gapRule.ts';
import {
  faceWidth,
  filletArea,
  legAlongPlate,
  legFactor,
  legSquare,
  throatLeft,
  throatOfLeg,
  weldSide,
} from '../../src/weld/legs.ts';
import { calledLeg } from '../../src/weld/sizes.ts';
import { leastDihedralOfSquareCut, squareCutGap } from '../../src/weld/squareCut.ts';

const deg = Math.PI / 180;
const inch = 25.4;

describe('AWS D1.1, skewed-joint annex: equivalent leg-size factors (table from memory; formula re-derived)', () => {
  const angles = [60, 65, 70, 75, 80, 85, 90, 95, 100, 105, 110, 115, 120, 125, 130, 135];
  const exact = [
    // biome-ignore lint/suspicious/noApproximativeNumericConstant: the figure of the table
    0.7071, 0.7599, 0.8112, 0.8609, 0.909, 0.9554, 1, 1.0427, 1.0834, 1.122, 1.1585, 1.1927, 1.2247, 1.2544, 1.2817,
    1.3066,
  ];
  const printed = [0.71, 0.76, 0.81, 0.86, 0.91, 0.96, 1, 1.03, 1.08, 1.12, 1.16, 1.19, 1.23, 1.25, 1.28, 1.31];
  test.each(angles.map((angle, i) => [angle, exact[i] as number, printed[i] as number]))(
    '%d degrees: %d, printed %d',
    (angle, four, two) => {
      // The exact row has four decimals.
      expect(Math.abs(legFactor(angle * deg) - four)).toBeLessThan(1e-4);
      // The recalled prints at 95 and 120 degrees are off the formula by up to 0.013.
      expect(Math.abs(legFactor(angle * deg) - two)).toBeLessThan(0.015);
      // The same factor from the sizes: leg square to the other part over the 90 degree leg of the same throat.
      expect(weldSide(angle * deg, 10, 0, 1.6).legSquare / 10).toBeCloseTo(
        Math.SQRT2 * Math.sin((angle * deg) / 2),
        12,
      );
    },
  );
});

describe('Isosceles triangle of throat 10 (closed form, five figures)', () => {
  test.each([
    [60, 11.547, 10.0, 11.547, 57.74],
    [75, 12.605, 12.175, 15.347, 76.73],
    [90, 14.142, 14.142, 20.0, 100.0],
    [105, 16.427, 15.867, 26.065, 130.32],
    [120, 20.0, 17.321, 34.641, 173.21],
    [135, 26.131, 18.478, 48.284, 241.42],
  ])('%d degrees: along plate %d, square %d, face %d, area %d', (angle, along, square, face, area) => {
    const psi = angle * deg;
    // Half a unit of the last digit given.
    expect(Math.abs(legAlongPlate(10, psi) - along)).toBeLessThan(5.1e-4);
    expect(Math.abs(legSquare(10, psi) - square)).toBeLessThan(5.1e-4);
    expect(Math.abs(faceWidth(10, psi) - face)).toBeLessThan(5.1e-4);
    expect(Math.abs(filletArea(10, psi) - area)).toBeLessThan(5.1e-3);
    // What is confused: the leg along the plate, seen square to the shell, is the square leg.
    expect(legAlongPlate(10, psi) * Math.sin(psi)).toBeCloseTo(legSquare(10, psi), 12);
  });
});

describe('AWS D1.1, skewed-joint annex, worked example (from memory; re-derived)', () => {
  // 75 degrees, root opening 1/16 in (1.6 mm), as strong as a 5/16 in (8 mm) 90 degree fillet.
  test('US: 0.332 in, rounded up to 3/8 in; exact factor 0.3315 in', () => {
    const leg = legFactor(75 * deg) * (5 / 16) * inch + (1 / 16) * inch;
    expect(Math.abs(leg / inch - 0.3315)).toBeLessThan(5.1e-5);
    // 0.86 x 0.313 + 0.063: the factor is rounded to two digits, the fractions to three decimals.
    expect(Math.abs(leg / inch - 0.332)).toBeLessThan(0.001);
    expect(calledLeg(leg, 'us') / inch).toBeCloseTo(3 / 8, 12);
  });

  test('SI: 8.48 mm, rounded up to 9 mm; exact factor 8.487 mm', () => {
    // An opening that counts as over the tight fit adds itself.
    const side = weldSide(75 * deg, 8, 1.6, 1.5);
    expect(Math.abs(side.legSquare - 8.487)).toBeLessThan(5.1e-4);
    expect(Math.abs(side.legSquare - 8.48)).toBeLessThan(0.01);
    expect(calledLeg(side.legSquare)).toBe(9);
  });

  test('the throat left over the opening is the wanted one: t = (w - R) / (2 sin(psi/2))', () => {
    const side = weldSide(75 * deg, 8, 1.6, 1.5);
    expect(throatLeft(side.legSquare, 1.6, 75 * deg)).toBeCloseTo(throatOfLeg(8), 12);
    expect(throatLeft(1, 1.6, 75 * deg)).toBe(0);
  });
});

describe('AWS D1.1, fillet fit-up, as quoted on a public AWS forum', () => {
  test.each([
    ['5/16 in leg, gap 1/16 in: nothing added', 5 / 16, 1 / 16, 5 / 16],
    ['5/16 in leg, gap 1/8 in: 7/16 in', 5 / 16, 1 / 8, 7 / 16],
    ['1/4 in leg, gap 3/16 in: 7/16 in', 1 / 4, 3 / 16, 7 / 16],
  ])('%s', (_, leg, gap, wanted) => {
    const ruling = gapRuling(leg * inch, gap * inch);
    expect(ruling.kind).toBe('weld');
    if (ruling.kind === 'weld') expect(ruling.leg / inch).toBeCloseTo(wanted, 12);
  });

  test('gap 0.20 in: cut again', () => {
    expect(gapRuling((5 / 16) * inch, 0.2 * inch)).toEqual({ kind: 'recut' });
  });

  test('the leg of a skewed side grows by the whole gap once it is over the tight fit, the throat does not', () => {
    const tight = weldSide(70 * deg, 12, 1.6, 1.6);
    const open = weldSide(70 * deg, 12, 1.7, 1.6);
    expect(tight.addedForGap).toBe(0);
    expect(open.addedForGap).toBe(1.7);
    expect(open.legSquare - tight.legSquare).toBeCloseTo(1.7, 12);
    expect(open.throat).toBe(tight.throat);
    expect(open.legAlongPlate).toBe(tight.legAlongPlate);
  });
});

describe('Gap of a square-cut plate, T cos(psi) (closed form)', () => {
  test.each([
    [0.375, [0.1875, 0.1283, 0.0971, 0.0651, 0.0327], 60.0],
    [0.5, [0.25, 0.171, 0.1294, 0.0868, 0.0436], 67.98],
    [0.75, [0.375, 0.2565, 0.1941, 0.1302, 0.0654], 75.52],
    [1, [0.5, 0.342, 0.2588, 0.1736, 0.0872], 79.19],
  ])('T = %d in', (thickness, gaps, least) => {
    [60, 70, 75, 80, 85].forEach((angle, i) => {
      expect(Math.abs(squareCutGap(thickness, angle * deg) - (gaps[i] as number))).toBeLessThan(5.1e-5);
    });
    expect(Math.abs(leastDihedralOfSquareCut(thickness, 3 / 16) / deg - least)).toBeLessThan(5.1e-3);
  });

  test('a gap wider than the plate is never reached', () => {
    expect(leastDihedralOfSquareCut(4, 5)).toBe(0);
  });
});

test('input that nothing can be computed from is refused', () => {
  expect(() => weldSide(0, 8, 0, 1.6)).toThrow(RangeError);
  expect(() => weldSide(Math.PI, 8, 0, 1.6)).toThrow(RangeError);
  expect(() => weldSide(1, 0, 0, 1.6)).toThrow(RangeError);
  expect(() => weldSide(1, 8, -0.1, 1.6)).toThrow(RangeError);
  expect(() => weldSide(1, 8, Number.NaN, 1.6)).toThrow(RangeError);
});
