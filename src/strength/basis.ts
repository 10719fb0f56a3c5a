/** Design bases the checks can be made to; the same words as the job file's `basis`. */
export type Basis = 'aisc-360-asd' | 'aisc-360-lrfd' | 'en-1993' | 'bth-1';

/** AISC 360: allowable strength (ASD, nominal over Omega) or design strength (LRFD, phi times nominal). */
export type AiscMethod = 'asd' | 'lrfd';

/** phi and Omega of one limit state. */
export interface PhiOmega {
  readonly phi: number;
  readonly omega: number;
}

/** Rupture, bearing and weld metal: AISC 360 D5.1, J7, J2.4. */
export const RUPTURE: PhiOmega = { phi: 0.75, omega: 2.0 };
/** Yield in tension and bending: AISC 360 D2(a), F1. */
export const YIELD: PhiOmega = { phi: 0.9, omega: 1.67 };
/** Shear yield of connecting elements: AISC 360 J4.2(a); the same pair as for webs in G2.1. */
export const SHEAR_YIELD: PhiOmega = { phi: 1.0, omega: 1.5 };

/** Available over nominal strength: phi for LRFD, 1/Omega for ASD. AISC 360 B3.1 and B3.2. */
export const available = (method: AiscMethod, f: PhiOmega): number => (method === 'lrfd' ? f.phi : 1 / f.omega);

/** Partial factors of EN 1993: changeable, since a national annex may set others. */
export interface EnFactors {
  readonly gammaM0: number;
  readonly gammaM2: number;
  readonly gammaM6ser: number;
}

/** EN 1993-1-1 6.1 and EN 1993-1-8 Table 2.1, recommended values. */
export const EN_FACTORS: EnFactors = { gammaM0: 1.0, gammaM2: 1.25, gammaM6ser: 1.0 };

/**
 * Coefficients of ASME BTH-1 that were recalled and not read in the standard. Each can be changed; a check that uses one has
 * the standing `not-verified`.
 */
export interface BthFactors {
  /** Nominal design factor Nd: 2.00 category A, 3.00 category B, 6.00 category C (later editions). */
  readonly designFactor: number;
  /** First and second coefficient of the single-plane fracture strength. */
  readonly fractureEdge: number;
  readonly fractureNet: number;
  /** rad. Angle of the shear planes at Dp = Dh. */
  readonly shearPlaneAngle: number;
  /** Bearing: 1.25, or 0.63 where the pin turns under load for many cycles. */
  readonly bearing: number;
}

export const BTH_FACTORS: BthFactors = {
  designFactor: 3,
  fractureEdge: 1.13,
  fractureNet: 0.92,
  shearPlaneAngle: (55 * Math.PI) / 180,
  bearing: 1.25,
};

/** What turns a nominal strength into a limit, for whichever basis: the basis and its changeable factors. */
export interface Design {
  readonly basis: Basis;
  readonly en: EnFactors;
  readonly bth: BthFactors;
}

export const designFor = (basis: Basis, en: EnFactors = EN_FACTORS, bth: BthFactors = BTH_FACTORS): Design => ({
  basis,
  en,
  bth,
});

/**
 * Limit on an elastic direct or equivalent stress, MPa, for a yield stress fy, MPa: fy/1.67 (AISC ASD), 0.90 fy (AISC LRFD),
 * fy/gammaM0 (EN 1993-1-1 6.2.1), fy/Nd (BTH-1 3-2.1; its higher bending limits are not used).
 */
export function stressLimit(design: Design, fy: number): number {
  switch (design.basis) {
    case 'aisc-360-asd':
      return fy * available('asd', YIELD);
    case 'aisc-360-lrfd':
      return fy * available('lrfd', YIELD);
    case 'en-1993':
      return fy / design.en.gammaM0;
    case 'bth-1':
      return fy / design.bth.designFactor;
  }
}

/**
 * Limit on a mean shear stress at yield, MPa: 0.60 fy/1.50 or 0.60 fy (AISC J4.2), fy/(sqrt3 gammaM0) (EN 1993-1-1 6.2.6),
 * fy/(sqrt3 Nd) (BTH-1 3-2.3.6).
 */
export function shearLimit(design: Design, fy: number): number {
  switch (design.basis) {
    case 'aisc-360-asd':
      return 0.6 * fy * available('asd', SHEAR_YIELD);
    case 'aisc-360-lrfd':
      return 0.6 * fy * available('lrfd', SHEAR_YIELD);
    case 'en-1993':
      return fy / (Math.sqrt(3) * design.en.gammaM0);
    case 'bth-1':
      return fy / (Math.sqrt(3) * design.bth.designFactor);
  }
}

/** Where `stressLimit` comes from, for the `source` of a check. */
export const stressSource = (basis: Basis): string =>
  basis === 'en-1993'
    ? 'EN 1993-1-1 6.2.1 (elastic)'
    : basis === 'bth-1'
      ? 'ASME BTH-1 3-2 (yield over Nd; Nd recalled)'
      : 'AISC 360 D2(a), F1 (yield)';

/** Where `shearLimit` comes from. */
export const shearSource = (basis: Basis): string =>
  basis === 'en-1993'
    ? 'EN 1993-1-1 6.2.6 (shear)'
    : basis === 'bth-1'
      ? 'ASME BTH-1 3-2 (shear yield over Nd; Nd recalled)'
      : 'AISC 360 J4.2(a) (shear yield)';
