import type { Vec3 } from '../../geometry/math/vec.ts';
import { cross, dot, length, normalize, scale, sub } from '../../geometry/math/vec.ts';
import { type AiscMethod, available, EN_FACTORS, RUPTURE } from './basis.ts';

/**
 * Directional strength increase of a fillet, 1 + 0.5 sin^1.5(theta), theta (rad, any quadrant) between the force and the weld's
 * axis. AISC 360 eq. J2-5. AISC allows it for welds whose elements share one deformation; an elastic analysis of an eccentric
 * group takes 1.
 */
export const directionalIncrease = (theta: number): number => 1 + 0.5 * Math.abs(Math.sin(theta)) ** 1.5;

/** Nominal stress on the throat, MPa: F_nw = 0.60 F_EXX (1 + 0.5 sin^1.5 theta). AISC 360 eq. J2-5. */
export const aiscWeldStress = (electrode: number, theta = 0): number => 0.6 * electrode * directionalIncrease(theta);

/** Available line force, N/mm, of a fillet of effective throat (mm): phi or 1/Omega (0.75, 2.00) times F_nw. AISC 360 J2.4. */
export const aiscWeldLineForce = (electrode: number, throat: number, method: AiscMethod, theta = 0): number =>
  available(method, RUPTURE) * aiscWeldStress(electrode, theta) * throat;

/**
 * Nominal strength of a concentrically loaded group with longitudinal and transverse fillets, N: the greater of R_l + R_t and
 * 0.85 R_l + 1.5 R_t, both found without directional increase. AISC 360 eq. J2-10a, J2-10b.
 */
export const aiscConcentricGroup = (longitudinal: number, transverse: number): number =>
  Math.max(longitudinal + transverse, 0.85 * longitudinal + 1.5 * transverse);

/** beta_w by the yield stress of the steel (S235 0.80, S275 0.85, S355 0.90, S420 and S460 1.00), the next lower grade. EN 1993-1-8 Table 4.1. */
export function betaW(fy: number): number {
  if (fy < 275) return 0.8;
  if (fy < 355) return 0.85;
  if (fy < 420) return 0.9;
  return 1;
}

/** Design shear strength of the weld, MPa: f_vw,d = f_u/(sqrt3 beta_w gM2), f_u the weaker part's. EN 1993-1-8 eq. 4.4. */
export const enWeldShearStrength = (fu: number, beta: number, gammaM2 = EN_FACTORS.gammaM2): number =>
  fu / (Math.sqrt(3) * beta * gammaM2);

/** Simplified method, N/mm, for a throat a (mm), whatever the direction: F_w,Rd = f_vw,d a. EN 1993-1-8 4.5.3.3. */
export const enWeldLineForce = (fu: number, beta: number, throat: number, gammaM2 = EN_FACTORS.gammaM2): number =>
  enWeldShearStrength(fu, beta, gammaM2) * throat;

/** Gain of a fillet loaded at theta (rad) to its throat plane, square to its axis: K = sqrt(3/(1 + 2 cos^2 theta)). EN 1993-1-8 4.5.3.2. */
export const enTransverseGain = (theta: number): number => Math.sqrt(3 / (1 + 2 * Math.cos(theta) ** 2));

/** Stresses on the throat plane, MPa. EN 1993-1-8 Figure 4.5. */
export interface ThroatStress {
  readonly normal: number;
  readonly acrossShear: number;
  readonly alongShear: number;
}

export interface FilletFrame {
  readonly axis: Vec3;
  readonly bisector: Vec3;
  readonly throatNormal: Vec3;
}

/**
 * Frame of a fillet at a root point, from the outward unit normals of its two parts (hull, plate), any frame: axis of the
 * weld, bisector from the root through the throat to the face, and normal of the throat plane. Plane geometry: each leg runs
 * along its own part, square to the axis, towards the side the other part's normal shows.
 */
export function filletFrame(hull: Vec3, plate: Vec3): FilletFrame {
  const axis = normalize(cross(hull, plate));
  const onHull = normalize(sub(plate, scale(hull, dot(plate, hull))));
  const onPlate = normalize(sub(hull, scale(plate, dot(plate, hull))));
  const bisector = normalize([onHull[0] + onPlate[0], onHull[1] + onPlate[1], onHull[2] + onPlate[2]]);
  return { axis, bisector, throatNormal: cross(axis, bisector) };
}

/** Line force q (N/mm) resolved on the throat plane of a fillet of throat a (mm). EN 1993-1-8 4.5.3.2(4). */
export const throatStress = (q: Vec3, throat: number, hull: Vec3, plate: Vec3): ThroatStress =>
  throatStressIn(filletFrame(hull, plate), q, throat);

/** The same where the fillet's frame is known. */
export const throatStressIn = (f: FilletFrame, q: Vec3, throat: number): ThroatStress => ({
  normal: dot(q, f.throatNormal) / throat,
  acrossShear: dot(q, f.bisector) / throat,
  alongShear: dot(q, f.axis) / throat,
});

/** Comparison stress, MPa: sqrt(s_perp^2 + 3 (t_perp^2 + t_par^2)). EN 1993-1-8 eq. 4.1. */
export const enComparisonStress = (s: ThroatStress): number =>
  Math.sqrt(s.normal ** 2 + 3 * (s.acrossShear ** 2 + s.alongShear ** 2));

/**
 * Utilisation by the directional method, share: the greater of comparison stress over f_u/(beta_w gM2) and |s_perp| over
 * 0.9 f_u/gM2. EN 1993-1-8 eq. 4.1.
 */
export const enDirectionalUtilisation = (
  s: ThroatStress,
  fu: number,
  beta: number,
  gammaM2 = EN_FACTORS.gammaM2,
): number => Math.max(enComparisonStress(s) / (fu / (beta * gammaM2)), Math.abs(s.normal) / ((0.9 * fu) / gammaM2));

/** Angle between a line force and the weld's axis, rad, 0..pi/2; 0 (no directional increase) where there is no force. */
export function angleToAxis(q: Vec3, axis: Vec3): number {
  const along = Math.abs(dot(q, axis));
  const across = length(cross(q, axis));
  return Math.atan2(across, along);
}

/** Allowable line force of a fillet, N/mm: 0.60 E_xx/(1.20 Nd) times the throat. ASME BTH-1 3-3.4.3, recalled, not read. */
export const bthWeldLineForce = (electrode: number, throat: number, designFactor: number): number =>
  ((0.6 * electrode) / (1.2 * designFactor)) * throat;

/**
 * What is left of a weld's strength made wet by a diver: product of factors a qualified procedure gives, 0..1 each. Default 1:
 * the electrode's tensile strength in the job is then the strength proved by the wet procedure's own tests.
 */
export interface WetWeldFactors {
  readonly quality: number;
  readonly startStop: number;
}

export const WET_WELD_FACTORS: WetWeldFactors = { quality: 1, startStop: 1 };
