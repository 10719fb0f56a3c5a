import { BTH_FACTORS, type BthFactors } from './basis.ts';
import type { PinPlate } from './pinplate-aisc.ts';

/** Dp/Dh above which a pin counts as a close fit. ASME BTH-1 3-3.3.1. */
const CLOSE_FIT = 0.9;

/** C_r = 1 - 0.275 sqrt(1 - (Dp/Dh)^2), and 1 where Dp/Dh > 0.90 (a step, as written). ASME BTH-1 3-3.3.1. */
export function bthFitReduction(pin: number, hole: number): number {
  const k = pin / hole;
  return k > CLOSE_FIT ? 1 : 1 - 0.275 * Math.sqrt(1 - k * k);
}

/**
 * b_eff, mm: the smaller of 4t and 0.6 (Fu/Fy) sqrt(Dh/be) be, not more than be. The 4t keeps the plate beyond the pin from
 * dishing. ASME BTH-1 3-3.3.1.
 */
export const bthEffectiveWidth = (p: PinPlate): number =>
  Math.min(4 * p.thickness, 0.6 * (p.tensile / p.yield) * Math.sqrt(p.hole / p.side) * p.side, p.side);

/** Tension through the pin hole, allowable, N: P_t = C_r Fu/(1.20 Nd) 2 t b_eff. ASME BTH-1 3-3.3.1. */
export const bthTension = (p: PinPlate, f: BthFactors = BTH_FACTORS): number =>
  ((bthFitReduction(p.pin, p.hole) * p.tensile) / (1.2 * f.designFactor)) * 2 * p.thickness * bthEffectiveWidth(p);

/**
 * Fracture on one plane beyond the hole, allowable, N: P_b = C_r Fu/(1.20 Nd) [1.13 (R - Dh/2) + 0.92 be/(1 + be/Dh)] t, with R
 * from the hole's centre to the edge in the direction of the force (so R - Dh/2 is `end`). ASME BTH-1 3-3.3.1; 1.13 and 0.92
 * recalled, not read.
 */
export const bthFracture = (p: PinPlate, f: BthFactors = BTH_FACTORS): number =>
  ((bthFitReduction(p.pin, p.hole) * p.tensile) / (1.2 * f.designFactor)) *
  (f.fractureEdge * p.end + (f.fractureNet * p.side) / (1 + p.side / p.hole)) *
  p.thickness;

/**
 * Area of the two shear planes, mm^2: A_v = 2 [a + Dp/2 (1 - cos phi)] t, phi = 55 deg Dp/Dh (recalled, not read). Where the
 * edge is an arc of `edgeRadius` about the pin centre the planes, Dp/2 sin phi off the centre line, end sooner by
 * r - sqrt(r^2 - (Dp/2 sin phi)^2) (plane geometry). ASME BTH-1 3-3.3.1.
 */
export function bthShearArea(p: PinPlate, f: BthFactors = BTH_FACTORS, edgeRadius = Number.POSITIVE_INFINITY): number {
  const phi = (f.shearPlaneAngle * p.pin) / p.hole;
  const offset = (p.pin / 2) * Math.sin(phi);
  const sagitta = Number.isFinite(edgeRadius) ? edgeRadius - Math.sqrt(edgeRadius ** 2 - offset ** 2) : 0;
  return 2 * (p.end + (p.pin / 2) * (1 - Math.cos(phi)) - sagitta) * p.thickness;
}

/** Double-plane shear, allowable, N: P_v = 0.70 Fu/(1.20 Nd) A_v. ASME BTH-1 3-3.3.1. */
export const bthShear = (p: PinPlate, f: BthFactors = BTH_FACTORS, edgeRadius = Number.POSITIVE_INFINITY): number =>
  ((0.7 * p.tensile) / (1.2 * f.designFactor)) * bthShearArea(p, f, edgeRadius);

/** Bearing, allowable, N: P_p = 1.25 Fy/Nd Dp t (0.63 where the pin turns under load). ASME BTH-1 3-3.3.4, recalled. */
export const bthBearing = (p: PinPlate, f: BthFactors = BTH_FACTORS): number =>
  ((f.bearing * p.yield) / f.designFactor) * p.pin * p.thickness;
