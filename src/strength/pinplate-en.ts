import { EN_FACTORS, type EnFactors } from './basis.ts';

/** Young's modulus of steel, MPa. EN 1993-1-1 3.2.6. */
export const STEEL_E = 210_000;

/**
 * Least distances from the edge of the hole, mm, for a given thickness t: a = F gM0/(2 t fy) + 2 d0/3 in the direction of the
 * force, c = F gM0/(2 t fy) + d0/3 square to it. F in N (design value). EN 1993-1-8 Table 3.9, type A.
 */
export function enLeastEdges(force: number, thickness: number, fy: number, hole: number, gammaM0 = EN_FACTORS.gammaM0) {
  const band = (force * gammaM0) / (2 * thickness * fy);
  return { a: band + (2 * hole) / 3, c: band + hole / 3 };
}

/** Least thickness for a given shape, mm: t = 0.7 sqrt(F gM0/fy), with d0 <= 2.5 t. EN 1993-1-8 Table 3.9, type B. */
export const enLeastThickness = (force: number, fy: number, gammaM0 = EN_FACTORS.gammaM0): number =>
  0.7 * Math.sqrt((force * gammaM0) / fy);

/** Bearing of plate and pin, N: F_b,Rd = 1.5 t d fy/gM0, fy the lower of plate and pin. EN 1993-1-8 Table 3.10. */
export const enBearing = (thickness: number, pin: number, fy: number, f: EnFactors = EN_FACTORS): number =>
  (1.5 * thickness * pin * fy) / f.gammaM0;

/** Bearing where the pin is to be replaceable, at service load, N: 0.6 t d fy/gM6,ser. EN 1993-1-8 Table 3.10. */
export const enBearingReplaceable = (thickness: number, pin: number, fy: number, f: EnFactors = EN_FACTORS): number =>
  (0.6 * thickness * pin * fy) / f.gammaM6ser;

/** Steel of the pin itself, MPa. */
export interface PinSteel {
  readonly yield: number;
  readonly tensile: number;
}

/** Shear of the pin, one plane, N: F_v,Rd = 0.6 A f_up/gM2. EN 1993-1-8 Table 3.10. */
export const enPinShear = (pin: number, steel: PinSteel, f: EnFactors = EN_FACTORS): number =>
  (0.6 * ((Math.PI * pin * pin) / 4) * steel.tensile) / f.gammaM2;

/** Bending of the pin, N mm: M_Rd = 1.5 W_el f_yp/gM0. EN 1993-1-8 Table 3.10. */
export const enPinBending = (pin: number, steel: PinSteel, f: EnFactors = EN_FACTORS): number =>
  (1.5 * ((Math.PI * pin ** 3) / 32) * steel.yield) / f.gammaM0;

/** Bending of a replaceable pin at service load, N mm: 0.8 W_el f_yp/gM6,ser. EN 1993-1-8 Table 3.10. */
export const enPinBendingReplaceable = (pin: number, steel: PinSteel, f: EnFactors = EN_FACTORS): number =>
  (0.8 * ((Math.PI * pin ** 3) / 32) * steel.yield) / f.gammaM6ser;

/**
 * Moment in the pin, N mm: M = F/8 (b + 4c + 2a), with b the middle plate's thickness, a one outer plate's, c the gap between
 * them, mm. EN 1993-1-8 Figure 3.11.
 */
export const enPinMoment = (force: number, a: number, b: number, c: number): number =>
  (force / 8) * (b + 4 * c + 2 * a);

/** Shear and bending of the pin together, share: (M/M_Rd)^2 + (F/F_Rd)^2 <= 1. EN 1993-1-8 Table 3.10. */
export const enPinInteraction = (moment: number, momentLimit: number, shear: number, shearLimit: number): number =>
  (moment / momentLimit) ** 2 + (shear / shearLimit) ** 2;

/**
 * Contact pressure of a replaceable pin at service load, MPa: 0.591 sqrt(E F (d0 - d)/(d^2 t)). EN 1993-1-8 eq. 3.15.
 * Lengths mm, F in N.
 */
export const enContact = (force: number, pin: number, hole: number, thickness: number): number =>
  0.591 * Math.sqrt((STEEL_E * force * (hole - pin)) / (pin * pin * thickness));

/** Limit on it, MPa: 2.5 fy/gM6,ser. EN 1993-1-8 eq. 3.16. */
export const enContactLimit = (fy: number, f: EnFactors = EN_FACTORS): number => (2.5 * fy) / f.gammaM6ser;
