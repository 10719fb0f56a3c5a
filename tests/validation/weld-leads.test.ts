import { describe, expect, test } from 'vitest';
import {
  gaugeArea,
  gaugeDiameter,
  heatInput,
  leadFor,
  necResistanceAt,
  powerLost,
  resistancePerMetre,
  resistancePerMetre20C,
  voltageDrop,
  type WireGauge,
} from '../../src/weld/leads.ts';

const METRES_PER_1000_FT = 304.8;
/** A circular mil: pi/4 (0.001 in)^2, in mm2. */
const CIRCULAR_MIL = (Math.PI / 4) * 0.0254 ** 2;

describe('Copper leads: HyperPhysics wire table at 20 C; NEC Ch. 9 Table 8 at 75 C (from memory, re-derived)', () => {
  test.each([
    ['2', 0.2576, 66373, 0.1563, 0.194, 0.1938],
    ['1', 0.2893, 83694, 0.124, 0.154, 0.1537],
    ['1/0', 0.3249, 105530, 0.0983, 0.122, 0.1219],
    ['2/0', 0.3648, 133080, 0.0779, 0.0967, 0.0967],
    ['3/0', 0.4096, 167810, 0.0618, 0.0766, 0.0767],
    ['4/0', 0.46, 211600, 0.049, 0.0608, 0.0608],
  ] as const)('%s: %d in, %d cmil, %d and %d ohm per 1000 ft', (gauge, inches, mils, cold, nec, warm) => {
    expect(Math.abs(gaugeDiameter(gauge) / 25.4 - inches)).toBeLessThan(5.1e-5);
    // Five figures printed.
    expect(Math.abs(gaugeArea(gauge) / CIRCULAR_MIL / mils - 1)).toBeLessThan(5e-5);
    // One unit of the fourth decimal: the table's own last digit wavers (0.1240 for 0.12392).
    expect(Math.abs(resistancePerMetre20C(gaugeArea(gauge)) * METRES_PER_1000_FT - cold)).toBeLessThan(1e-4);
    const at75 = resistancePerMetre(gaugeArea(gauge), 75) * METRES_PER_1000_FT;
    expect(Math.abs(at75 - warm)).toBeLessThan(1e-4);
    // NEC prints three figures.
    expect(Math.abs(at75 / nec - 1)).toBeLessThan(0.0025);
  });

  test.each([
    ['2/0', 6.23, 7.74],
    ['3/0', 4.94, 6.13],
    ['4/0', 3.92, 4.86],
  ] as readonly (readonly [WireGauge, number, number])[])(
    '%s, 200 A, 400 ft of both leads: %d V at 20 C, %d V at 75 C (Ohm)',
    (gauge, cold, warm) => {
      const metres = 400 * 0.3048;
      // The expected drops were worked from resistances of four decimals per 1000 ft: 200 x 0.4 x 0.00005.
      expect(Math.abs(voltageDrop(200, resistancePerMetre20C(gaugeArea(gauge)), metres) - cold)).toBeLessThan(0.0091);
      expect(Math.abs(voltageDrop(200, resistancePerMetre(gaugeArea(gauge), 75), metres) - warm)).toBeLessThan(0.0091);
    },
  );

  test('2/0 at 20 C loses 1246 W of 200 A over 400 ft (Joule)', () => {
    // 200 A times a drop known to 0.005 V.
    expect(Math.abs(powerLost(200, resistancePerMetre20C(gaugeArea('2/0')), 400 * 0.3048) - 1246)).toBeLessThan(1.1);
  });

  test('NEC temperature rule, R2 = R1 (1 + 0.00323 (T - 75))', () => {
    expect(necResistanceAt(0.0967, 75)).toBe(0.0967);
    expect(necResistanceAt(0.0967, 20)).toBeCloseTo(0.0967 * (1 - 0.00323 * 55), 12);
    // Both rules describe one metal: at 20 C they differ by what their rounded coefficients allow, half a per cent.
    const direct = resistancePerMetre(gaugeArea('2/0'), 20) * METRES_PER_1000_FT;
    expect(Math.abs(necResistanceAt(0.0967, 20) / direct - 1)).toBeLessThan(0.005);
  });
});

describe('Lead for the job: at least 2/0 (US Navy S0300-BB-MAN-010, App. D-8)', () => {
  test('a short lead is still 2/0; a long one gets thicker; a longer one finds none', () => {
    expect(leadFor(90, 20, 8, 75)).toMatchObject({ kind: 'gauge', gauge: '2/0' });
    // 200 A over 400 ft at 75 C: 7.74, 6.13, 4.86 V.
    expect(leadFor(200, 121.92, 7, 75)).toMatchObject({ kind: 'gauge', gauge: '3/0' });
    expect(leadFor(200, 121.92, 5, 75)).toMatchObject({ kind: 'gauge', gauge: '4/0' });
    expect(leadFor(200, 121.92, 4, 75)).toMatchObject({ kind: 'none-thick-enough' });
  });
});

describe('Heat input H = 60 E I / S (from memory, re-derived)', () => {
  test('170 A, 28 V, 8 in/min: 35.70 kJ/in = 1.4055 kJ/mm; 1.1244 with k = 0.8 (EN 1011-1, stick)', () => {
    const perMm = heatInput(28, 170, 8 * 25.4);
    expect(Math.abs(perMm * 25.4 - 35.7)).toBeLessThan(0.005);
    expect(Math.abs(perMm - 1.4055)).toBeLessThan(5.1e-5);
    expect(Math.abs(heatInput(28, 170, 8 * 25.4, 0.8) - 1.1244)).toBeLessThan(5.1e-5);
  });

  test('no travel is refused', () => {
    expect(() => heatInput(28, 170, 0)).toThrow(RangeError);
  });
});
