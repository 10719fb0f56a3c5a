// biome-ignore-all lint/suspicious/noApproximativeNumericConstant: printed digits of tables stay as printed

import { describe, expect, it } from 'vitest';
import {
  buoyancyFactor,
  fieldRuleTonnes,
  fieldRuleTons,
  holeForPin,
  linePull,
  plateForJaw,
  SHACKLES,
  STANDARD_GRAVITY,
  shackleSize,
  sideLoadShare,
} from '../../src/strength/shackle.ts';

const rad = (deg: number): number => (deg * Math.PI) / 180;

/**
 * US Federal Specification RR-C-271, inch rows (bow bar, pin, jaw), against the metric rows of a hardware catalogue: within 1 mm
 * (jaw of 9.5 t: 45.97 against 47, so 1.05). The 2 1/2 in bow is 63.5 mm and is listed as 65.
 */
describe('RR-C-271 inch sizes against the metric table', () => {
  it.each([
    [3.25, 5 / 8, 3 / 4, 1.06],
    [4.75, 3 / 4, 7 / 8, 1.25],
    [6.5, 7 / 8, 1, 1.44],
    [8.5, 1, 1 + 1 / 8, 1.69],
    [9.5, 1 + 1 / 8, 1 + 1 / 4, 1.81],
    [12, 1 + 1 / 4, 1 + 3 / 8, 2.03],
    [13.5, 1 + 3 / 8, 1 + 1 / 2, 2.25],
    [17, 1 + 1 / 2, 1 + 5 / 8, 2.38],
    [25, 1 + 3 / 4, 2, 2.88],
    [35, 2, 2 + 1 / 4, 3.25],
    [55, 2 + 1 / 2, 2 + 3 / 4, 4.13],
  ])('%f t: bow, pin and jaw', (wll, bow, pin, jaw) => {
    const row = SHACKLES.find((s) => s.wllTonne === wll);
    expect.soft(row).toBeDefined();
    expect.soft(Math.abs((row?.bar ?? 0) - bow * 25.4)).toBeLessThanOrEqual(wll === 55 ? 1.5 : 1);
    expect.soft(Math.abs((row?.pin ?? 0) - pin * 25.4)).toBeLessThanOrEqual(1);
    expect.soft(Math.abs((row?.jaw ?? 0) - jaw * 25.4)).toBeLessThanOrEqual(1.05);
  });

  it('every column grows with the size, the pin is over the bow bar, the bow is wider than the jaw', () => {
    for (const [i, row] of SHACKLES.entries()) {
      expect.soft(row.pin).toBeGreaterThan(row.bar);
      expect.soft(row.bowWidth).toBeGreaterThan(row.jaw);
      expect.soft(row.insideBow).toBeGreaterThan(row.insideDee);
      const next = SHACKLES[i + 1];
      if (next)
        for (const key of Object.keys(row) as (keyof typeof row)[]) expect.soft(next[key]).toBeGreaterThan(row[key]);
    }
  });

  it('a 25 t shackle with a 50 mm pin is found, one with a 60 mm pin is not', () => {
    expect(shackleSize(25_000 * STANDARD_GRAVITY, 50)?.jaw).toBe(74);
    expect(shackleSize(25_000 * STANDARD_GRAVITY, 60)).toBeUndefined();
  });
});

/** Side load on shackles: in line 100 %, 45 deg 70 %, 90 deg 50 % (makers' tables); bands to 5, 45, 90 deg. */
describe('Side load on a shackle', () => {
  it.each([
    [0, 1],
    [5, 1],
    [5.1, 0.7],
    [45, 0.7],
    [45.1, 0.5],
    [90, 0.5],
    [90.1, 0],
    [-30, 0.7],
  ])('%f deg: %f of WLL', (deg, share) => expect(sideLoadShare(rad(deg))).toBe(share));
});

/** Fit of a 12 t shackle, jaw 51, pin 35 mm: arithmetic of the usual shares. */
describe('Fit in the jaw', () => {
  it.each([
    [0.6, 30.6],
    [0.75, 38.25],
    [0.8, 40.8],
  ])('%f of the jaw: %f mm plate', (share, plate) => expect(plateForJaw(51, share)).toBeCloseTo(plate, 10));
  it('6 % of a 35 mm pin: 37.1 mm hole', () => expect(holeForPin(35, 0.06)).toBeCloseTo(37.1, 10));
});

/** NAVEDTRA 14251: SWL (short tons) = 3 D^2, D in inches; 0.417 D^2 tonnes, D in cm. */
describe('NAVEDTRA 14251, field rule', () => {
  it('5/8 in: 1.1719 short tons = 2343.8 lb; 1.59 cm: 1.05 t', () => {
    expect(Math.abs(fieldRuleTons(5 / 8) - 1.1719)).toBeLessThan(5.1e-5);
    expect(Math.abs(fieldRuleTons(5 / 8) * 2000 - 2343.8)).toBeLessThan(0.051);
    expect(Math.abs(fieldRuleTonnes(1.59) - 1.05)).toBeLessThan(0.005);
  });
});

/** Sling factors 1/sin of the angle from level, a trade table (four decimals); here the angle is from plumb. */
describe('Pull in a line off plumb', () => {
  it.each([
    [90, 1],
    [60, 1.1547],
    [45, 1.4142],
    [30, 2],
    [15, 3.8637],
    [5, 11.4737],
  ])('%d deg from level: %f', (level, factor) =>
    expect(Math.abs(linePull(1, rad(90 - level)) - factor)).toBeLessThan(5.1e-5),
  );
  it('2000 lb on two legs at 60, 45, 30 deg: 1154.7, 1414.2, 2000.0 lb each', () => {
    for (const [level, pull] of [
      [60, 1154.7],
      [45, 1414.2],
      [30, 2000],
    ] as const) {
      expect.soft(Math.abs(linePull(1000, rad(90 - level)) - pull)).toBeLessThan(0.051);
    }
  });
});

describe('Weight in water', () => {
  it('steel 7850 in sea water 1025 kg/m^3: 0.86943 of the weight in air', () => {
    expect(Math.abs(buoyancyFactor() - 0.86943)).toBeLessThan(5.1e-6);
  });
});
