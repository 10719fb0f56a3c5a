import type { Vec3 } from '../../geometry/math/vec.ts';
import { directionalIncrease } from './directional.ts';
import { loadWeldBed, type WeldGroupForce, weldBed } from './weldgroup.ts';

/**
 * Load-deformation curve of a fillet of unit leg: deformations as shares of the leg, line force as a share of 0.60 F_EXX times
 * the throat. theta in degrees between force and axis, because the published constants are for degrees.
 */
export interface FilletCurve {
  readonly atMaximum: (thetaDeg: number) => number;
  readonly atFracture: (thetaDeg: number) => number;
  readonly strength: (thetaDeg: number, deformation: number) => number;
}

/** Delta_m/w = 0.209 (theta + 2)^-0.32. AISC 360 J2.4, after Lesik and Kennedy. */
export const deformationAtMaximum = (thetaDeg: number): number => 0.209 * (thetaDeg + 2) ** -0.32;

/** Delta_u/w = 1.087 (theta + 6)^-0.65, not more than 0.17. AISC 360 J2.4. */
export const deformationAtFracture = (thetaDeg: number): number => Math.min(0.17, 1.087 * (thetaDeg + 6) ** -0.65);

/** AISC 360 J2.4: (1 + 0.5 sin^1.5 theta) [p (1.9 - 0.9 p)]^0.3, p = Delta/Delta_m. */
export const LESIK_KENNEDY: FilletCurve = {
  atMaximum: deformationAtMaximum,
  atFracture: deformationAtFracture,
  strength: (thetaDeg, deformation) => {
    const p = deformation / deformationAtMaximum(thetaDeg);
    return directionalIncrease((thetaDeg * Math.PI) / 180) * Math.max(0, p * (1.9 - 0.9 * p)) ** 0.3;
  },
};

/** Ultimate line force of the older curve, kip/in of 1/4 in E60 fillet: (10 + theta)/(0.92 + 0.0603 theta). Butler, Pal and Kulak. */
export const butlerPalKulakUltimate = (thetaDeg: number): number => (10 + thetaDeg) / (0.92 + 0.0603 * thetaDeg);

/** Line force of the older curve at a deformation in inches, kip/in: R_ult (1 - e^(-mu D))^lambda. Butler, Pal and Kulak. */
export const butlerPalKulak = (thetaDeg: number, deformation: number): number =>
  butlerPalKulakUltimate(thetaDeg) *
  (1 - Math.exp(-75 * Math.exp(0.0114 * thetaDeg) * deformation)) ** (0.4 * Math.exp(0.0146 * thetaDeg));

/** A weld's straight element: its middle, unit axis and length, mm. */
export interface WeldElements {
  readonly x: Float64Array;
  readonly axis: Float64Array;
  readonly ds: Float64Array;
}

/** Elements of a polyline (vertices 3m, mm): each piece cut into equal parts not longer than `step`. */
export function weldElements(lines: readonly (readonly [Vec3, Vec3])[], step: number): WeldElements {
  const x: number[] = [];
  const axis: number[] = [];
  const ds: number[] = [];
  for (const [p, q] of lines) {
    const l = Math.hypot(q[0] - p[0], q[1] - p[1], q[2] - p[2]);
    const n = Math.max(1, Math.ceil(l / step));
    for (let i = 0; i < n; i++) {
      const f = (i + 0.5) / n;
      x.push(p[0] + f * (q[0] - p[0]), p[1] + f * (q[1] - p[1]), p[2] + f * (q[2] - p[2]));
      axis.push((q[0] - p[0]) / l, (q[1] - p[1]) / l, (q[2] - p[2]) / l);
      ds.push(l / n);
    }
  }
  return { x: Float64Array.from(x), axis: Float64Array.from(axis), ds: Float64Array.from(ds) };
}

/** `converged: false` has its own reason: the figures are then not to be used. */
export type InstantaneousResult =
  | {
      readonly converged: true;
      /** Load at which the critical element fractures, N per (0.60 F_EXX throat = 1 N/mm): multiply by that stress and throat. */
      readonly coefficient: number;
      /** Rigid motion at fracture, mm per mm of leg: translation of the stiffness centre and rotation, rad per mm of leg. */
      readonly motion: WeldGroupForce;
      readonly criticalElement: number;
      readonly rounds: number;
    }
  | { readonly converged: false; readonly reason: 'moment-not-carried' | 'rounds-used-up' };

/** Change of the coefficient from round to round, relative, that ends the iteration unless the caller asks otherwise. */
export const IC_TOLERANCE = 1e-9;
const IC_ROUNDS = 2000;
/** Elements closer to the instantaneous centre than this share of the critical deformation take its stiffness: avoids 0/0. */
const AT_CENTRE = 1e-9;

/**
 * Strength of a fillet group under an eccentric load by the instantaneous centre of rotation: the lug moves as a rigid body,
 * each element resists against its own motion with the force of its curve, the group fails when the first element reaches its
 * deformation at fracture. AISC 360 J2.4 and Manual Part 8. Solved with secant stiffnesses: a group whose springs are
 * force over deformation is an elastic group, so each round is one elastic solution; at rest the two agree.
 * `direction` (any length) and `at` (mm) give the load; uniform leg. Meant and validated for a load in the weld's own plane.
 */
export function instantaneousCentre(
  weld: WeldElements,
  direction: Vec3,
  at: Vec3,
  curve: FilletCurve = LESIK_KENNEDY,
  tolerance = IC_TOLERANCE,
): InstantaneousResult {
  const n = weld.ds.length;
  const size = Math.hypot(direction[0], direction[1], direction[2]);
  const force: Vec3 = [direction[0] / size, direction[1] / size, direction[2] / size];
  const stiffness = new Float64Array(n).fill(1);
  const weighted = new Float64Array(n);
  let last = 0;
  for (let round = 1; round <= IC_ROUNDS; round++) {
    for (let i = 0; i < n; i++) weighted[i] = (weld.ds[i] as number) * (stiffness[i] as number);
    const motion = loadWeldBed(weldBed(weld.x, weighted), force, at);
    if (motion.uncarried > 0) return { converged: false, reason: 'moment-not-carried' };
    const { scale, critical, thetas, moves } = deformations(weld, motion, curve);
    for (let i = 0; i < n; i++) {
      const d = Math.max((moves[i] as number) * scale, AT_CENTRE);
      stiffness[i] = curve.strength(thetas[i] as number, d) / d;
    }
    if (round > 1 && Math.abs(scale - last) <= tolerance * scale) {
      return {
        converged: true,
        coefficient: scale,
        motion: scaled(motion, scale),
        criticalElement: critical,
        rounds: round,
      };
    }
    last = scale;
  }
  return { converged: false, reason: 'rounds-used-up' };
}

/** Deformation of each element for one unit of load, its angle to the axis, and the scale at which the first one fractures. */
function deformations(weld: WeldElements, motion: WeldGroupForce, curve: FilletCurve) {
  const n = weld.ds.length;
  const thetas = new Float64Array(n);
  const moves = new Float64Array(n);
  const { u, w, centroid } = motion;
  let scale = Number.POSITIVE_INFINITY;
  let critical = 0;
  for (let i = 0; i < n; i++) {
    const px = (weld.x[3 * i] as number) - centroid[0];
    const py = (weld.x[3 * i + 1] as number) - centroid[1];
    const pz = (weld.x[3 * i + 2] as number) - centroid[2];
    const dx = u[0] + w[1] * pz - w[2] * py;
    const dy = u[1] + w[2] * px - w[0] * pz;
    const dz = u[2] + w[0] * py - w[1] * px;
    const tx = weld.axis[3 * i] as number;
    const ty = weld.axis[3 * i + 1] as number;
    const tz = weld.axis[3 * i + 2] as number;
    const along = Math.abs(dx * tx + dy * ty + dz * tz);
    const across = Math.hypot(dy * tz - dz * ty, dz * tx - dx * tz, dx * ty - dy * tx);
    const move = Math.hypot(along, across);
    const theta = (Math.atan2(across, along) * 180) / Math.PI;
    moves[i] = move;
    thetas[i] = theta;
    const share = move > 0 ? curve.atFracture(theta) / move : Number.POSITIVE_INFINITY;
    if (share < scale) {
      scale = share;
      critical = i;
    }
  }
  return { scale, critical, thetas, moves };
}

const scaled = (m: WeldGroupForce, k: number): WeldGroupForce => ({
  ...m,
  u: [m.u[0] * k, m.u[1] * k, m.u[2] * k],
  w: [m.w[0] * k, m.w[1] * k, m.w[2] * k],
});

/**
 * Instantaneous centre of a motion in the x-y plane, mm: where u + w x (r - centroid) = 0; null for a pure translation (the
 * centre is at infinity).
 */
export function centreOfRotation(motion: WeldGroupForce): Vec3 | null {
  const w = motion.w[2];
  if (w === 0) return null;
  const [cx, cy, cz] = motion.centroid;
  return [cx - motion.u[1] / w, cy + motion.u[0] / w, cz];
}
