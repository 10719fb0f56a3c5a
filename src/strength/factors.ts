import type { Basis } from './basis.ts';
import type { Standing } from './check.ts';
import type { LugLoad } from './lugsection.ts';

/** A factor with the reason for its value. */
export interface ReasonedFactor {
  readonly value: number;
  readonly reason: string;
  readonly standing: Standing;
}

/** What multiplies the pull given in the job before anything is checked. */
export interface LiftFactors {
  readonly dynamic: ReasonedFactor;
  readonly skew: ReasonedFactor;
  readonly consequence: ReasonedFactor;
  /** From a pull to a design action: 1 where the basis works with service loads. */
  readonly load: ReasonedFactor;
  /** Least share of the pull taken across the plate at the pin, 0..1. */
  readonly sidewaysAllowance: ReasonedFactor;
}

const LOAD_FACTOR: Readonly<Record<Basis, ReasonedFactor>> = {
  'aisc-360-asd': { value: 1, reason: 'Allowable strength design works with service loads', standing: 'source' },
  'aisc-360-lrfd': {
    value: 1.6,
    reason: 'The pull taken as a live load alone: 1.2 D + 1.6 L, as in the AISC design examples',
    standing: 'source',
  },
  'en-1993': {
    value: 1.5,
    reason: 'The pull taken as a variable action, gamma_Q of EN 1990, recalled',
    standing: 'not-verified',
  },
  'bth-1': { value: 1, reason: 'The design factor Nd holds the margin', standing: 'source' },
};

/** Factors where the job gives none: the pull at hand is taken to be what the lug feels, with the basis's own load factor. */
export const defaultFactors = (basis: Basis): LiftFactors => ({
  dynamic: {
    value: 1,
    reason:
      'Nothing is added for jerks, neither to the pull in the job nor to those of a movement: hoists pulled by hand',
    standing: 'choice',
  },
  skew: {
    value: 1,
    reason: 'The pull, from the job or from a movement, already says how the weight is shared',
    standing: 'choice',
  },
  consequence: { value: 1, reason: 'None asked for by the job', standing: 'choice' },
  load: LOAD_FACTOR[basis],
  sidewaysAllowance: {
    value: API_SIDEWAYS,
    reason: 'API RP 2A-WSD: 5 % of the static pull across the plate at the pin',
    standing: 'source',
  },
});

/** API RP 2A-WSD 2.4.2: share of the static sling load that acts across a padeye, at the centre of the pinhole. */
export const API_SIDEWAYS = 0.05;

/** API RP 2A-WSD 2.4.2 minimum load factors: padeyes and members framing into them, and other members. */
export const API_LIFT_FACTORS = {
  open: { padeye: 2.0, other: 1.35 },
  sheltered: { padeye: 1.5, other: 1.15 },
} as const;

/** ND 0027 Rev 11 consequence factors: lift points and their attachments, members framing in, other members. */
export const CONSEQUENCE_FACTORS = { liftPoint: 1.3, attachment: 1.3, framingIn: 1.15, other: 1.0 } as const;

export type LiftPlace = 'onshore' | 'inshore' | 'offshore';

/** Rows of ND 0027 Rev 11 Table 5-1 above 100 t: [up to t, onshore, inshore, offshore]. */
const DYNAMIC_ROWS: readonly (readonly [number, number, number, number])[] = [
  [300, 1.05, 1.12, 1.25],
  [1000, 1.05, 1.1, 1.2],
  [2500, 1.03, 1.08, 1.15],
  [Number.POSITIVE_INFINITY, 1.03, 1.05, 1.1],
];

/**
 * Dynamic amplification factor of a lift in air by static hook load (t): ND 0027 Rev 11 Table 5-1. Up to 100 t: 1.10 onshore,
 * 1.07 + 0.05 sqrt(100/SHL) inshore, 1 + 0.25 sqrt(100/SHL) offshore; below 3 t as for 3 t.
 */
export function dynamicFactor(hookLoadTonne: number, place: LiftPlace): number {
  if (hookLoadTonne <= 100) {
    const root = Math.sqrt(100 / Math.max(3, hookLoadTonne));
    return place === 'onshore' ? 1.1 : place === 'inshore' ? 1.07 + 0.05 * root : 1 + 0.25 * root;
  }
  const row = DYNAMIC_ROWS.find(([upTo]) => hookLoadTonne <= upTo) as readonly [number, number, number, number];
  return row[place === 'onshore' ? 1 : place === 'inshore' ? 2 : 3];
}

/** Lift weight with its dynamic allowance, t, of a gross weight (t), open sea. ND 0027 Rev 5: 1.30 W to 100 t, then by steps. */
export function dynamicLiftWeight(grossTonne: number): number {
  if (grossTonne <= 100) return 1.3 * grossTonne;
  if (grossTonne <= 1000) return 130 + 1.1889 * (grossTonne - 100);
  if (grossTonne <= 2500) return 1200 + 1.1167 * (grossTonne - 1000);
  if (grossTonne <= 10_000) return 2875 + 1.0833 * (grossTonne - 2500);
  return 1.1 * grossTonne;
}

/** Pull at the pin as checked. N, lug frame. */
export interface DesignLoad extends LugLoad {
  readonly force: number;
  /** Product of the factors that were applied. */
  readonly factor: number;
  /** Sideways force that the direction of the pull itself gives, factored. */
  readonly sidewaysActual: number;
  /** Sideways force of the allowance, factored. */
  readonly sidewaysAllowed: number;
  /** True where the allowance is the worse of the two: it may then act to either side. */
  readonly allowanceGoverns: boolean;
}

/**
 * The pull in the lug frame (N) times dynamic, skew, consequence and load factor; across the plate the worse of what the
 * direction gives and the allowance (API RP 2A-WSD). `serviceOnly` leaves the load factor out.
 */
export function designLoad(load: LugLoad, f: LiftFactors, serviceOnly = false): DesignLoad {
  const factor = f.dynamic.value * f.skew.value * f.consequence.value * (serviceOnly ? 1 : f.load.value);
  const pull = Math.hypot(load.alongStem, load.alongFoot, load.sideways);
  const actual = load.sideways * factor;
  const allowed = f.sidewaysAllowance.value * pull * factor;
  const governs = allowed > Math.abs(actual);
  return {
    alongStem: load.alongStem * factor,
    alongFoot: load.alongFoot * factor,
    sideways: governs ? (actual < 0 ? -allowed : allowed) : actual,
    force: pull * factor,
    factor,
    sidewaysActual: actual,
    sidewaysAllowed: allowed,
    allowanceGoverns: governs,
  };
}

/** Side force over in-plane force and over the whole pull, and the angle off the plane (rad), of a pull in the lug frame. */
export function sideLoad(load: LugLoad): {
  readonly angle: number;
  readonly ofPull: number;
  readonly ofInPlane: number;
} {
  const inPlane = Math.hypot(load.alongStem, load.alongFoot);
  const pull = Math.hypot(inPlane, load.sideways);
  return {
    angle: Math.atan2(load.sideways, inPlane),
    ofPull: Math.abs(load.sideways) / pull,
    ofInPlane: Math.abs(load.sideways) / inPlane,
  };
}
