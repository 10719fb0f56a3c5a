import { describe, expect, it } from 'vitest';
import { available, BTH_FACTORS, RUPTURE, YIELD } from '../../src/strength/basis.ts';
import {
  aiscBearing,
  aiscGrossYield,
  aiscLeastEnd,
  aiscLeastWidth,
  aiscShearArea,
  aiscShearRupture,
  aiscTensileRupture,
  effectiveEdge,
  type PinPlate,
} from '../../src/strength/pinplate-aisc.ts';
import {
  bthBearing,
  bthEffectiveWidth,
  bthFitReduction,
  bthFracture,
  bthShear,
  bthShearArea,
  bthTension,
} from '../../src/strength/pinplate-bth.ts';
import * as en from '../../src/strength/pinplate-en.ts';

/**
 * AISC Design Examples V14, Example D.7: pin-connected plate, A36 (Fy 36, Fu 58 ksi), w = 4.25, t = 0.500, pin d = 1.00, a = 2.25,
 * c = 2.50, hole 1.03 in; D = 4, L = 12 kip. Inches and kip. Three printed figures: half a unit of the last.
 */
describe('AISC Design Examples V14, D.7 (AISC 360 D5)', () => {
  const w = 4.25;
  const plate: PinPlate = {
    thickness: 0.5,
    hole: 1.03,
    pin: 1,
    end: 2.25,
    side: (w - 1.03) / 2,
    yield: 36,
    tensile: 58,
  };
  const inch = 0.63;
  const be = effectiveEdge(plate, inch);

  it('b_e = min(1.63, 1.61) in: the actual edge distance governs', () => {
    expect.soft(2 * plate.thickness + inch).toBeCloseTo(1.63, 12);
    expect.soft(be).toBeCloseTo(1.61, 12);
  });

  it('a = 2.25 >= 1.33 b_e = 2.14; w = 4.25 >= 2 b_e + d = 4.22', () => {
    expect.soft(Math.abs(aiscLeastEnd(plate, inch) - 2.14)).toBeLessThan(0.005);
    expect.soft(Math.abs(aiscLeastWidth(plate, inch) - 4.22)).toBeLessThan(0.005);
    expect.soft(plate.end).toBeGreaterThanOrEqual(aiscLeastEnd(plate, inch));
    expect.soft(w).toBeGreaterThanOrEqual(aiscLeastWidth(plate, inch));
  });

  it.each([
    ['tensile rupture', aiscTensileRupture(plate, be), 93.4, 70.0, 46.7, RUPTURE],
    ['shear rupture', aiscShearRupture(plate), 95.7, 71.8, 47.9, RUPTURE],
    ['bearing', aiscBearing(plate), 32.4, 24.3, 16.2, RUPTURE],
  ] as const)('%s: Pn, LRFD, ASD in kip', (_, nominal, pn, lrfd, asd, f) => {
    expect.soft(Math.abs(nominal - pn)).toBeLessThan(0.051);
    expect.soft(Math.abs(nominal * available('lrfd', f) - lrfd)).toBeLessThan(0.051);
    expect.soft(Math.abs(nominal * available('asd', f) - asd)).toBeLessThan(0.051);
  });

  it('gross yield: Pn 76.5 to 76.7 (A_g rounded to 2.13 in^2), 68.9 LRFD, 45.8 ASD', () => {
    const nominal = aiscGrossYield(plate, w);
    expect.soft(nominal).toBeGreaterThanOrEqual(76.5 - 1e-9);
    expect.soft(nominal).toBeLessThanOrEqual(76.7);
    expect.soft(Math.abs(nominal * available('lrfd', YIELD) - 68.9)).toBeLessThan(0.1);
    expect.soft(Math.abs(nominal * available('asd', YIELD) - 45.8)).toBeLessThan(0.051);
  });

  it('A_sf = 2.75 in^2; bearing governs; required 24.0 and 16.0 kip', () => {
    expect.soft(aiscShearArea(plate)).toBeCloseTo(2.75, 12);
    const lrfd = [aiscTensileRupture(plate, be), aiscShearRupture(plate), aiscBearing(plate)].map((p) => 0.75 * p);
    expect.soft(Math.min(...lrfd)).toBe(0.75 * aiscBearing(plate));
    expect.soft(1.2 * 4 + 1.6 * 12).toBeCloseTo(24, 12);
    expect.soft(0.75 * aiscBearing(plate)).toBeGreaterThan(24);
  });
});

/**
 * ASME BTH-1 3-3.3. C_r values and the five cases worked by hand from the formulas (no published example was at hand); kip and in, a
 * square top edge. Half of the last printed digit, and a twentieth of that for figures that were rounded from rounded ones.
 */
describe('ASME BTH-1 3-3.3, worked by hand', () => {
  it.each([
    [0.5, 0.7618],
    [0.6, 0.78],
    [0.7, 0.8036],
    [0.8, 0.835],
    [0.85, 0.8551],
    [0.9, 0.8801],
    [0.9001, 1],
  ])('C_r at Dp/Dh = %f is %f', (k, cr) => expect(Math.abs(bthFitReduction(k, 1) - cr)).toBeLessThan(5.1e-5));

  const a36 = { yield: 36, tensile: 58, thickness: 1, hole: 1.5, side: 2.25, end: 3 - 0.75 };
  const cases = [
    {
      name: 'A36, Dp 1.38, Nd 2',
      plate: { ...a36, pin: 1.38 },
      nd: 2,
      v: [1.776, 1, 85.83, 81.45, 5.004, 84.65, 31.05],
    },
    { name: 'A36, Dp 1.38, Nd 3', plate: { ...a36, pin: 1.38 }, nd: 3, v: [1.776, 1, 57.22, 54.3, 5.004, 56.44, 20.7] },
    {
      name: 'A36, Dp 1.25, Nd 2',
      plate: { ...a36, pin: 1.25 },
      nd: 2,
      v: [1.776, 0.848, 72.79, 69.07, 4.879, 82.54, 28.13],
    },
    {
      name: 'A36, Dp 1.25, Nd 3',
      plate: { ...a36, pin: 1.25 },
      nd: 3,
      v: [1.776, 0.848, 48.52, 46.05, 4.879, 55.03, 18.75],
    },
    {
      name: 'Fy 50, Fu 65, t 0.75, Nd 3',
      plate: { yield: 50, tensile: 65, thickness: 0.75, hole: 1.0625, pin: 1, side: 1.5, end: 2.03 - 1.0625 / 2 },
      nd: 3,
      v: [0.985, 1, 26.67, 30.68, 2.534, 32.03, 15.63],
    },
  ];
  it.each(cases)('$name: b_eff, C_r, Pt, Pb, Av, Pv, Pp', ({ plate, nd, v }) => {
    const f = { ...BTH_FACTORS, designFactor: nd };
    const got = [
      bthEffectiveWidth(plate),
      bthFitReduction(plate.pin, plate.hole),
      bthTension(plate, f),
      bthFracture(plate, f),
      bthShearArea(plate, f),
      bthShear(plate, f),
      bthBearing(plate, f),
    ];
    for (const [i, digits] of [5e-4, 5e-4, 5e-3, 5e-3, 5e-4, 5e-3, 5e-3].entries()) {
      expect.soft(Math.abs((got[i] as number) - (v[i] as number)), `column ${i}`).toBeLessThan(digits * 1.05);
    }
  });

  it('SI: Fy 345, Fu 470, t 25, Dp 35, Dh 38, be 41, R 60, Nd 3', () => {
    const p = { yield: 345, tensile: 470, thickness: 25, hole: 38, pin: 35, side: 41, end: 41 };
    expect.soft(Math.abs(bthEffectiveWidth(p) - 32.264)).toBeLessThan(5e-4);
    expect.soft(Math.abs(bthTension(p) / 1000 - 210.6)).toBeLessThan(0.05);
    expect.soft(Math.abs(bthFracture(p) / 1000 - 210.4)).toBeLessThan(0.05);
    expect.soft(Math.abs(bthShearArea(p) - 2370.3)).toBeLessThan(0.05);
    expect.soft(Math.abs(bthShear(p) / 1000 - 216.6)).toBeLessThan(0.05);
    expect.soft(Math.abs(bthBearing(p) / 1000 - 125.8)).toBeLessThan(0.05);
  });

  it('a thin plate: b_eff stops at 4 t', () => {
    const p = { yield: 250, tensile: 400, thickness: 10, hole: 60, pin: 55, side: 90, end: 90 };
    expect(bthEffectiveWidth(p)).toBe(40);
  });

  it('a round top ends the shear planes sooner: plane geometry of a chord', () => {
    const p = { yield: 345, tensile: 470, thickness: 25, hole: 38, pin: 35, side: 41, end: 41 };
    const offset = (35 / 2) * Math.sin((55 * Math.PI * 35) / (180 * 38));
    const lost = 60 - Math.sqrt(60 ** 2 - offset ** 2);
    expect(bthShearArea(p) - bthShearArea(p, BTH_FACTORS, 60)).toBeCloseTo(2 * 25 * lost, 9);
  });
});

/** EN 1993-1-8 3.13, Tables 3.9 and 3.10: F 200 kN, fy 345, t 25, d 35, d0 38, gamma 1.0; worked by hand from the clauses. */
describe('EN 1993-1-8 3.13, worked by hand', () => {
  const pin = { yield: 640, tensile: 800 };

  it('Table 3.9 type A: a >= 36.93, c >= 24.26 mm; type B: t >= 16.85 mm', () => {
    const edges = en.enLeastEdges(200_000, 25, 345, 38);
    expect.soft(Math.abs(edges.a - 36.93)).toBeLessThan(0.005);
    expect.soft(Math.abs(edges.c - 24.26)).toBeLessThan(0.005);
    expect.soft(Math.abs(en.enLeastThickness(200_000, 345) - 16.85)).toBeLessThan(0.005);
  });

  it('Table 3.10: F_b,Rd 452.8 kN, at service load 181.1 kN', () => {
    expect.soft(Math.abs(en.enBearing(25, 35, 345) / 1000 - 452.8)).toBeLessThan(0.05);
    expect.soft(Math.abs(en.enBearingReplaceable(25, 35, 345) / 1000 - 181.1)).toBeLessThan(0.05);
  });

  it('pin f_up 800, f_yp 640: F_v,Rd 369.5 kN, M_Rd 4.041 and 2.155 kN m; moment 1.675 kN m', () => {
    expect.soft(Math.abs(en.enPinShear(35, pin) / 1000 - 369.5)).toBeLessThan(0.05);
    expect.soft(Math.abs(en.enPinBending(35, pin) / 1e6 - 4.041)).toBeLessThan(5e-4);
    expect.soft(Math.abs(en.enPinBendingReplaceable(35, pin) / 1e6 - 2.155)).toBeLessThan(5e-4);
    expect.soft(Math.abs(en.enPinMoment(200_000, 17, 25, 2) / 1e6 - 1.675)).toBeLessThan(1e-9);
    const both = en.enPinInteraction(1.675, 4.041, 100, 369.5);
    expect.soft(both).toBeCloseTo((1.675 / 4.041) ** 2 + (100 / 369.5) ** 2, 12);
  });

  it('contact at 150 kN: 1038.2 MPa against 862.5: not enough', () => {
    expect.soft(Math.abs(en.enContact(150_000, 35, 38, 25) - 1038.2)).toBeLessThan(0.05);
    expect.soft(en.enContactLimit(345)).toBeCloseTo(862.5, 12);
    expect.soft(en.enContact(150_000, 35, 38, 25)).toBeGreaterThan(en.enContactLimit(345));
  });
});
