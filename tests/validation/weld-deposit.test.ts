import { describe, expect, test } from 'vitest';
import {
  cornerVolume,
  depositMass,
  depositPerElectrode,
  electrodeMass,
  STEEL_DENSITY,
  stubFactor,
} from '../../src/weld/deposit.ts';
import { filletArea, throatOfLeg } from '../../src/weld/legs.ts';

const squareFillet = (leg: number) => filletArea(throatOfLeg(leg), Math.PI / 2);

describe('Fillet deposit and stick electrode, lb/ft at 0.283 lb/in3, 45 % lost (weldingpro.com, Techpage1a)', () => {
  test.each([
    [1 / 4, 0.106, 0.193],
    [5 / 16, 0.166, 0.302],
    // biome-ignore lint/suspicious/noApproximativeNumericConstant: a printed figure that happens to look like log10(e)
    [3 / 8, 0.239, 0.434],
    [1 / 2, 0.425, 0.773],
    [5 / 8, 0.663, 1.205],
    [3 / 4, 0.955, 1.736],
    [1, 1.698, 3.087],
  ])('%d in: %d, %d', (leg, deposit, electrode) => {
    // The same function in inches and pounds: it only multiplies.
    const pounds = depositMass(squareFillet(leg), 12, 0.283);
    // Half the table's last digit; the second column was worked from the rounded first: 0.0005/0.55 + 0.0005.
    expect(Math.abs(pounds - deposit)).toBeLessThan(5.1e-4);
    expect(Math.abs(electrodeMass(pounds, 0.45) - electrode)).toBeLessThan(0.00142);
  });

  test('1/2 in: 0.424 lb/ft (public filler-metal handbook page)', () => {
    expect(Math.abs(depositMass(squareFillet(0.5), 12, 0.283) - 0.424)).toBeLessThan(0.001);
  });

  test('density: 7850 kg/m3 is 0.283 lb/in3 and 490 lb/ft3', () => {
    const poundsPerCubicInch = (STEEL_DENSITY.value * 25.4 ** 3) / 0.45359237;
    expect(Math.abs(poundsPerCubicInch - 0.2836)).toBeLessThan(5.1e-5);
    expect(Math.abs(poundsPerCubicInch * 1728 - 490.1)).toBeLessThan(0.051);
  });
});

test.each([
  [6, 0.1413],
  [8, 0.2512],
  [10, 0.3925],
  [12, 0.5652],
])('90 degree fillet of %d mm: leg^2/2 x 7850 kg/m3 = %d kg/m (closed form)', (leg, mass) => {
  expect(depositMass(squareFillet(leg), 1000)).toBeCloseTo(mass, 10);
});

test('a skewed side: t^2 tan(psi/2) x length x density (closed form)', () => {
  expect(depositMass(filletArea(10, Math.PI / 3), 1000)).toBeCloseTo(100 * Math.tan(Math.PI / 6) * 1000 * 7.85e-6, 12);
});

test.each([
  [2, 0.8571, 0.6429],
  [3, 0.7857, 0.5893],
  [4, 0.7143, 0.5357],
  [5, 0.6429, 0.4821],
])('14 in rod with a %d in stub: %d burnt, %d at a recovery of 0.75 (closed form)', (stub, burnt, recovered) => {
  expect(Math.abs(stubFactor(14, stub) - burnt)).toBeLessThan(5.1e-5);
  const core = (Math.PI / 4) * 2.4 ** 2 * 14;
  expect(Math.abs(depositPerElectrode(2.4, 14, stub, 0.75) / core - recovered)).toBeLessThan(5.1e-5);
});

test('round a corner: a right triangle turned once about its leg is a cone, pi r^2 h / 3 (closed form)', () => {
  expect(cornerVolume((12 * 9) / 2, 12, 2 * Math.PI)).toBeCloseTo((Math.PI * 12 ** 2 * 9) / 3, 9);
});

test('shares that are none are refused', () => {
  expect(() => electrodeMass(1, 1)).toThrow(RangeError);
  expect(() => stubFactor(350, 400)).toThrow(RangeError);
  expect(() => depositPerElectrode(2.4, 350, 50, 0)).toThrow(RangeError);
});
