import { describe, expect, it } from 'vitest';
import { dot, normalize, type Vec3 } from '../../geometry/math/vec.ts';
import {
  API_LIFT_FACTORS,
  API_SIDEWAYS,
  CONSEQUENCE_FACTORS,
  defaultFactors,
  designLoad,
  dynamicFactor,
  dynamicLiftWeight,
  sideLoad,
} from '../../src/strength/factors.ts';

/** API RP 2A-WSD lift factors and side force; El-Reedy, Offshore Structures, p. 356. */
describe('API RP 2A-WSD', () => {
  it('side force 5 %; padeyes 2.0, other 1.35; sheltered 1.5 and 1.15', () => {
    expect(API_SIDEWAYS).toBe(0.05);
    expect(API_LIFT_FACTORS).toEqual({ open: { padeye: 2, other: 1.35 }, sheltered: { padeye: 1.5, other: 1.15 } });
  });

  it('a side load of 5 % of the in-plane pull is 2.8624 deg off the plane (atan 0.05)', () => {
    expect((sideLoad({ alongStem: 1, alongFoot: 0, sideways: 0.05 }).angle * 180) / Math.PI).toBeCloseTo(2.8624, 4);
  });
});

/** ND 0027 Rev 11, consequence factors and Table 5-1. Printed to three decimals by hand from the table's formulas. */
describe('ND 0027 Rev 11', () => {
  it('consequence factors: lift points and attachments 1.30, framing in 1.15, other 1.00', () => {
    expect(CONSEQUENCE_FACTORS).toEqual({ liftPoint: 1.3, attachment: 1.3, framingIn: 1.15, other: 1 });
  });

  it.each([
    [3, 2.443, 1.359],
    [10, 1.791, 1.228],
    [25, 1.5, 1.17],
    [50, 1.354, 1.141],
    [100, 1.25, 1.12],
  ])('Table 5-1, SHL %d t: offshore %f, inshore %f, onshore 1.10', (shl, offshore, inshore) => {
    expect.soft(Math.abs(dynamicFactor(shl, 'offshore') - offshore)).toBeLessThan(5.1e-4);
    expect.soft(Math.abs(dynamicFactor(shl, 'inshore') - inshore)).toBeLessThan(5.1e-4);
    expect.soft(dynamicFactor(shl, 'onshore')).toBe(1.1);
  });

  it.each([
    [200, 1.05, 1.12, 1.25],
    [300, 1.05, 1.12, 1.25],
    [600, 1.05, 1.1, 1.2],
    [2000, 1.03, 1.08, 1.15],
    [5000, 1.03, 1.05, 1.1],
  ])('Table 5-1, SHL %d t: onshore %f, inshore %f, offshore %f', (shl, onshore, inshore, offshore) => {
    expect.soft(dynamicFactor(shl, 'onshore')).toBe(onshore);
    expect.soft(dynamicFactor(shl, 'inshore')).toBe(inshore);
    expect.soft(dynamicFactor(shl, 'offshore')).toBe(offshore);
  });

  it('below 3 t as for 3 t', () => expect(dynamicFactor(0.5, 'offshore')).toBe(dynamicFactor(3, 'offshore')));
});

/** ND 0027 Rev 5: gross weight to lift weight, t. */
describe('ND 0027 Rev 5, lift weight', () => {
  it.each([
    [100, 130],
    [500, 605.56],
    [1500, 1758.35],
    [5000, 5583.25],
    [1000, 1200.0],
    [2500, 2875.05],
    [20000, 22000],
  ])('%d t: %f t', (gross, lift) => expect(Math.abs(dynamicLiftWeight(gross) - lift)).toBeLessThan(0.011));

  it('dynamic factor 1.2111, 1.1722, 1.1167', () => {
    for (const [gross, factor] of [
      [500, 1.2111],
      [1500, 1.1722],
      [5000, 1.1167],
    ] as const) {
      expect.soft(Math.abs(dynamicLiftWeight(gross) / gross - factor)).toBeLessThan(1e-4);
    }
  });
});

/** Load line u against the lug plane with normal n, closed form: angle asin|u.n|, side F|u.n|, in-plane F sqrt(1 - (u.n)^2). */
describe('Load line against the plane of the lug', () => {
  const t = (10 * Math.PI) / 180;
  it.each([
    { u: [0, 0, 1] as Vec3, angle: 0, side: 0, ratio: 0 },
    { u: [Math.sin(t), 0, Math.cos(t)] as Vec3, angle: 10, side: 0.17365, ratio: 0.17633 },
    { u: normalize([1, 2, 2]), angle: 19.4712, side: 0.33333, ratio: 0.35355 },
    { u: normalize([0.05, 0, 1]), angle: 2.8624, side: 0.04994, ratio: 0.05 },
  ])('u = $u', ({ u, angle, side, ratio }) => {
    const load = {
      sideways: dot(u, [1, 0, 0]),
      alongFoot: dot(u, [0, 1, 0]),
      alongStem: dot(u, [0, 0, 1]),
    };
    const s = sideLoad(load);
    expect.soft(Math.abs((s.angle * 180) / Math.PI - angle)).toBeLessThan(5.1e-5);
    expect.soft(Math.abs(s.ofPull - side)).toBeLessThan(5.1e-6);
    expect.soft(Math.abs(s.ofInPlane - ratio)).toBeLessThan(5.1e-6);
  });
});

describe('The worse of side load and allowance governs', () => {
  const factors = defaultFactors('aisc-360-asd');
  it('a pull in the plane still gets 5 %', () => {
    const d = designLoad({ alongStem: 80_000, alongFoot: 60_000, sideways: 0 }, factors);
    expect(d.sideways).toBeCloseTo(5000, 9);
    expect(d.allowanceGoverns).toBe(true);
  });
  it('a pull 10 deg out keeps its own, with its sign', () => {
    const d = designLoad({ alongStem: 98_480.8, alongFoot: 0, sideways: -17_364.8 }, factors);
    expect(d.sideways).toBe(-17_364.8);
    expect(d.allowanceGoverns).toBe(false);
  });
  it('factors multiply: 1.30 x 1.2 x 1.1 of the pull, and 1.6 more with load factors (LRFD), none of it at service load', () => {
    const own = {
      ...defaultFactors('aisc-360-lrfd'),
      consequence: { value: 1.3, reason: 'ND 0027', standing: 'source' as const },
      dynamic: { value: 1.2, reason: 'given', standing: 'choice' as const },
      skew: { value: 1.1, reason: 'given', standing: 'choice' as const },
    };
    const load = { alongStem: 1000, alongFoot: 0, sideways: 0 };
    expect(designLoad(load, own).force).toBeCloseTo(1000 * 1.3 * 1.2 * 1.1 * 1.6, 9);
    expect(designLoad(load, own, true).force).toBeCloseTo(1000 * 1.3 * 1.2 * 1.1, 9);
  });
});
