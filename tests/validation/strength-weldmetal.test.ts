// biome-ignore-all lint/suspicious/noApproximativeNumericConstant: printed digits of tables stay as printed

import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../geometry/math/vec.ts';
import {
  aiscConcentricGroup,
  aiscWeldLineForce,
  aiscWeldStress,
  betaW,
  directionalIncrease,
  enComparisonStress,
  enDirectionalUtilisation,
  enTransverseGain,
  enWeldLineForce,
  enWeldShearStrength,
  throatStress,
} from '../../src/strength/directional.ts';

const rad = (deg: number): number => (deg * Math.PI) / 180;
const KSI_KIP_IN = 1; // the formulas hold in any consistent units: here ksi, in, kip

/** AISC 360 eq. J2-5, 1 + 0.5 sin^1.5 theta, as stated in Haque, Weld Connections; four decimals worked out by hand. */
describe('AISC 360 J2-5, directional strength increase', () => {
  it.each([
    [0, 1.0],
    [10, 1.0362],
    [15, 1.0658],
    [20, 1.1],
    [30, 1.1768],
    [40, 1.2577],
    [45, 1.2973],
    [50, 1.3352],
    [60, 1.403],
    [70, 1.4555],
    [75, 1.4747],
    [80, 1.4886],
    [90, 1.5],
  ])('%d deg: %f', (deg, k) => expect(Math.abs(directionalIncrease(rad(deg)) - k)).toBeLessThan(5.1e-5));
});

describe('AISC Design Examples V14, E70 electrodes', () => {
  it('J.1: 3/16 in fillet, longitudinal: 5.57 kip/in nominal; 47.9 in for 200 kip LRFD, 47.8 in for 133 kip ASD', () => {
    const throat = (3 / 16) * 0.707;
    const nominal = aiscWeldStress(70) * throat * KSI_KIP_IN;
    expect.soft(Math.abs(nominal - 5.57)).toBeLessThan(0.005);
    expect.soft(Math.abs(200 / aiscWeldLineForce(70, throat, 'lrfd') - 47.9)).toBeLessThan(0.05);
    expect.soft(Math.abs(133 / aiscWeldLineForce(70, throat, 'asd') - 47.8)).toBeLessThan(0.05);
  });

  it('J.2: 5/16 in fillets at 60 deg, Pu = 300 kip: 58.92 ksi, 13.02 kip/in, 30.72 in LRFD and ASD', () => {
    const throat = (5 / 16) * 0.707;
    const theta = rad(60);
    expect.soft(Math.abs(aiscWeldStress(70, theta) - 58.92)).toBeLessThan(0.01);
    expect.soft(Math.abs(aiscWeldStress(70, theta) * throat - 13.02)).toBeLessThan(0.005);
    expect.soft(1.2 * 50 + 1.6 * 150).toBeCloseTo(300, 12);
    expect.soft(Math.abs(300 / aiscWeldLineForce(70, throat, 'lrfd', theta) - 30.72)).toBeLessThan(0.01);
    expect.soft(Math.abs((50 + 150) / aiscWeldLineForce(70, throat, 'asd', theta) - 30.72)).toBeLessThan(0.01);
  });
});

describe('Haque, Weld Connections, E70 electrodes', () => {
  // The sheet takes 0.707 for the throat: 200.4 printed to four figures.
  const throat = 0.75 * 0.707;

  it('3/4 in fillet, 8 in long: phi Rn = 133.62 kip longitudinal, 200.4 kip transverse', () => {
    expect.soft(Math.abs(8 * aiscWeldLineForce(70, throat, 'lrfd') - 133.62)).toBeLessThan(0.01);
    expect.soft(Math.abs(8 * aiscWeldLineForce(70, throat, 'lrfd', rad(90)) - 200.4)).toBeLessThan(0.05);
  });

  it('3/16 in, 2 x 10 in longitudinal and 8 in transverse: 111.35 + 44.54 = 155.89; J2-10b 161.46 governs; x 0.75 = 121.1', () => {
    const t = (3 / 16) * 0.707;
    const longitudinal = 20 * aiscWeldStress(70) * t;
    const transverse = 8 * aiscWeldStress(70) * t;
    expect.soft(Math.abs(longitudinal - 111.35)).toBeLessThan(0.01);
    expect.soft(Math.abs(transverse - 44.54)).toBeLessThan(0.01);
    expect.soft(Math.abs(longitudinal + transverse - 155.89)).toBeLessThan(0.01);
    expect.soft(Math.abs(aiscConcentricGroup(longitudinal, transverse) - 161.46)).toBeLessThan(0.01);
    expect.soft(Math.abs(0.75 * aiscConcentricGroup(longitudinal, transverse) - 121.1)).toBeLessThan(0.05);
  });

  it('where the plain sum is the greater it governs: all longitudinal', () => {
    expect(aiscConcentricGroup(100, 10)).toBeCloseTo(110, 12);
  });
});

describe('EN 1993-1-8 4.5.3', () => {
  it.each([
    [235, 0.8],
    [275, 0.85],
    [355, 0.9],
    [420, 1],
    [460, 1],
  ])('Table 4.1: beta_w of a steel of %d MPa is %f', (fy, beta) => expect(betaW(fy)).toBe(beta));

  it.each([
    ['S235', 360, 0.8, 207.85],
    ['S275', 410, 0.85, 222.79],
    ['S355 (470)', 470, 0.9, 241.2],
    ['S355 (490)', 490, 0.9, 251.47],
    ['S460', 540, 1, 249.42],
  ] as const)('unit strength %s', (_, fu, beta, mpa) =>
    expect(Math.abs(enWeldShearStrength(fu, beta) - mpa)).toBeLessThan(0.0051),
  );

  it.each([
    [0, 1],
    [30, 1.0954],
    [45, 1.2247],
    [60, 1.4142],
    [90, 1.7321],
  ])('gain at %d deg to the throat plane: %f', (deg, k) =>
    expect(Math.abs(enTransverseGain(rad(deg)) - k)).toBeLessThan(5.1e-5),
  );

  /**
   * SCI P363 ("Blue Book"), fillet resistances, kN/mm to two decimals: longitudinal and transverse. f_u 410 (S275) and 470 (S355).
   * Tolerance: half the last digit, 0.005, and 0.001 for the table's own rounding of K to 1.225.
   */
  it.each([
    [4.2, 0.94, 1.15, 1.01, 1.24],
    [5.6, 1.25, 1.53, 1.35, 1.65],
    [7.0, 1.56, 1.91, 1.69, 2.07],
    [8.4, 1.87, 2.29, 2.03, 2.48],
    [10.5, 2.34, 2.87, 2.53, 3.1],
  ])('Blue Book, throat %f mm', (a, l275, t275, l355, t355) => {
    const k = enTransverseGain(rad(45));
    const s275 = enWeldLineForce(410, 0.85, a) / 1000;
    const s355 = enWeldLineForce(470, 0.9, a) / 1000;
    expect.soft(Math.abs(s275 - l275)).toBeLessThan(0.006);
    expect.soft(Math.abs(k * s275 - t275)).toBeLessThan(0.006);
    expect.soft(Math.abs(s355 - l355)).toBeLessThan(0.006);
    expect.soft(Math.abs(k * s355 - t355)).toBeLessThan(0.006);
  });

  /** Two fillets a = 5, l = 200 mm, F = 400 kN in the plate's plane at theta to the weld's axis; f_u 490, beta_w 0.9. Closed form. */
  it.each([
    [0, 0, 200, 346.41, 0.7953],
    [30, 70.71, 173.21, 331.66, 0.7615],
    [45, 100, 141.42, 316.23, 0.726],
    [60, 122.47, 100, 300, 0.6888],
    [90, 141.42, 0, 282.84, 0.6494],
  ])('directional, theta %d deg', (deg, perp, par, equivalent, use) => {
    const q: Vec3 = [1000 * Math.cos(rad(deg)), 0, 1000 * Math.sin(rad(deg))];
    for (const plate of [
      [0, 1, 0],
      [0, -1, 0],
    ] as Vec3[]) {
      const s = throatStress(q, 5, [0, 0, 1], plate);
      expect.soft(Math.abs(Math.abs(s.normal) - perp)).toBeLessThan(0.006);
      expect.soft(Math.abs(Math.abs(s.acrossShear) - perp)).toBeLessThan(0.006);
      expect.soft(Math.abs(Math.abs(s.alongShear) - par)).toBeLessThan(0.006);
      expect.soft(Math.abs(enComparisonStress(s) - equivalent)).toBeLessThan(0.011); // 282.84 printed from 282.843
      expect.soft(Math.abs(enDirectionalUtilisation(s, 490, 0.9) - use)).toBeLessThan(5.1e-5);
    }
    expect.soft(Math.abs(1000 / enWeldLineForce(490, 0.9, 5) - 0.7953)).toBeLessThan(5.1e-5);
    expect.soft(Math.abs(490 / (0.9 * 1.25) - 435.56)).toBeLessThan(0.005);
    expect.soft(Math.abs((0.9 * 490) / 1.25 - 352.8)).toBeLessThan(1e-9);
  });

  it('a force square to the throat plane is held by 0.9 f_u/gamma_M2 too', () => {
    // Closed form: s_perp = q/a alone. The comparison stress allows f_u/(beta gamma), so beta above 1/0.9 lets the second limit rule.
    const s = { normal: 300, acrossShear: 0, alongShear: 0 };
    expect(enDirectionalUtilisation(s, 490, 1)).toBeCloseTo(300 / ((0.9 * 490) / 1.25), 12);
  });
});
