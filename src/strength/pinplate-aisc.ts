/** One plate of a pin connection. mm and MPa. All distances are to the edge of the hole, not to the pin's centre. */
export interface PinPlate {
  readonly thickness: number;
  readonly hole: number;
  readonly pin: number;
  /** a: from the edge of the hole to the edge of the plate, in the direction of the force. */
  readonly end: number;
  /** b: from the edge of the hole to the edge of the plate, square to the force. */
  readonly side: number;
  readonly yield: number;
  readonly tensile: number;
}

/** 0.63 in in the inch edition of AISC 360 D5.1, 16 mm in the metric one. */
export const AISC_EDGE_ALLOWANCE = 16;

/**
 * b_e, mm: 2t + 16 mm (0.63 in), but not more than the actual distance b to the edge. AISC 360 D5.1(a).
 * `allowance` is the 16 mm; an example in inches takes 0.63 in.
 */
export const effectiveEdge = (p: PinPlate, allowance = AISC_EDGE_ALLOWANCE): number =>
  Math.min(2 * p.thickness + allowance, p.side);

/** Least steel beyond the hole over b_e. AISC 360 D5.2. */
const END_OVER_EDGE = 1.33;

/**
 * b_e that a plate with little steel beyond the hole may count, mm: no more than a/1.33. A round top about the pin has a = b, which
 * D5.2 (a >= 1.33 b_e) does not admit as it stands; but it contains a narrower plate that D5.2 does admit, and is no weaker.
 */
export const admittedEdge = (p: PinPlate, allowance = AISC_EDGE_ALLOWANCE): number =>
  Math.min(effectiveEdge(p, allowance), p.end / END_OVER_EDGE);

/** Tensile rupture on the net effective area, nominal, N: P_n = F_u 2 t b_e. AISC 360 eq. D5-1. */
export const aiscTensileRupture = (p: PinPlate, be: number): number => p.tensile * 2 * p.thickness * be;

/** A_sf = 2t(a + d/2), mm^2, d the pin's diameter. AISC 360 D5.1(b). */
export const aiscShearArea = (p: PinPlate): number => 2 * p.thickness * (p.end + p.pin / 2);

/** Shear rupture on the effective area, nominal, N: P_n = 0.6 F_u A_sf. AISC 360 eq. D5-2. */
export const aiscShearRupture = (p: PinPlate): number => 0.6 * p.tensile * aiscShearArea(p);

/** Bearing on the projected area d t, nominal, N: R_n = 1.8 F_y A_pb. AISC 360 eq. J7-1. */
export const aiscBearing = (p: PinPlate): number => 1.8 * p.yield * p.pin * p.thickness;

/** Yield of the gross section, nominal, N: P_n = F_y w t, w (mm) the plate's width. AISC 360 D5.1(d), eq. D2-1. */
export const aiscGrossYield = (p: PinPlate, width: number): number => p.yield * width * p.thickness;

/** Least distance beyond the hole, mm: a >= 1.33 b_e. AISC 360 D5.2. */
export const aiscLeastEnd = (p: PinPlate, allowance = AISC_EDGE_ALLOWANCE): number =>
  END_OVER_EDGE * effectiveEdge(p, allowance);

/** Least width at the pin hole, mm: w >= 2 b_e + d, d the pin's diameter. AISC 360 D5.2. */
export const aiscLeastWidth = (p: PinPlate, allowance = AISC_EDGE_ALLOWANCE): number =>
  2 * effectiveEdge(p, allowance) + p.pin;
