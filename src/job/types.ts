import type { Attitude, DraftMark } from '../../geometry/hull/draftmarks.ts';
import type { HullSpec } from '../../geometry/hull/spec.ts';
import type { Vec3 } from '../../geometry/math/vec.ts';
import type { Lift } from './lifttypes.ts';
import type { Structure } from './structuretypes.ts';
import type { Kind } from './units.ts';

/**
 * A job after reading: units gone, defaults filled in. Inside the program lengths are mm, forces N, stresses MPa,
 * angles rad, masses kg, times min, currents A, potentials V.
 */
export interface Job {
  readonly title: string;
  readonly display: Display;
  readonly ship: Ship;
  readonly fittings: readonly Fitting[];
  readonly basis: Basis;
  readonly limits: Limits;
  readonly steel: Steel;
  readonly electrode: Electrode;
  readonly welding: Welding;
  readonly factors: Factors;
  readonly coefficients: Coefficients;
  /** What is done with the load; absent where the job only gives each lug its pull. */
  readonly lift?: Lift;
  /** What is said once for all papers. */
  readonly papers: Papers;
  /** Every default that was used, with its reason. */
  readonly assumptions: readonly Assumption[];
  /** Quantities that carry their own ±; absent where none does. */
  readonly uncertain?: readonly Uncertain[];
}

/** A quantity with a ±, and which figures of the job one standard deviation of it moves, and by how much. */
export interface Uncertain {
  /** Path in the job file. */
  readonly path: string;
  readonly kind: Kind;
  /** What stands after ±: two standard deviations, in internal units. */
  readonly error: number;
  readonly leaves: readonly { readonly path: readonly PropertyKey[]; readonly step: number }[];
}

/** Heading, cutting and size of the papers. mm. */
export interface Papers {
  /** As the user writes it; absent: a blank to fill in. */
  readonly revision?: string;
  /** Day as `2026-03-14`, given by the user; absent: none. */
  readonly date?: string;
  /** Width of metal that the torch or the saw takes away; absent: whoever cuts allows for it. */
  readonly kerf?: number;
  /** Metal left on the outside of plate and cheek, for edges that are dressed after cutting. */
  readonly stock: number;
  /** Clean metal beyond the weld toes. */
  readonly cleanMargin: number;
  /** Absent: A4 for a metric job, Letter for a US one. */
  readonly paper?: 'a4' | 'letter';
}

/** How figures are shown, never what they are. */
export type Display = 'metric' | 'us';
export type Basis = 'aisc-360-asd' | 'aisc-360-lrfd' | 'en-1993' | 'bth-1';

export interface Ship {
  readonly lpp: number;
  readonly draftAft: number;
  readonly draftForward: number;
  /** rad, positive with the starboard side down. */
  readonly heel: number;
  readonly hull: HullSpec;
  /** What the attitude was read from, where it was read at draft marks. */
  readonly draftMarks?: DraftReadings;
  /** Other sources for the same shell, to be laid over `hull`. */
  readonly compare?: readonly { readonly name: string; readonly hull: HullSpec }[];
  /** Frames, longitudinals, seams and zones to keep clear of; absent where the job knows of none. */
  readonly structure?: Structure;
}

/** Draft marks as read, with what the plane of water laid through them leaves of each; mm, rad. */
export interface DraftReadings {
  readonly marks: readonly (DraftMark & { readonly name?: string; readonly residual: number })[];
  /** One standard deviation of drafts and heel. */
  readonly errors: Attitude['errors'];
  readonly freedom: number;
  readonly scattered: boolean;
  readonly next: Attitude['next'];
}

export type PlaceBy = 'girth' | 'height' | 'halfBreadth';

export interface Fitting {
  readonly id: string;
  readonly at: {
    readonly station: number;
    readonly side: 'port' | 'starboard';
    readonly by: PlaceBy;
    readonly value: number;
  };
  readonly lug: {
    readonly foot: number;
    readonly thickness: number;
    readonly pinHeight: number;
    readonly hole: number;
    readonly topRadius: number;
    readonly shoulder: number;
    readonly cheek?: { readonly radius: number; readonly thickness: number };
  };
  readonly stem: Stem;
  readonly heading: number;
  readonly load: LoadSpec;
  /** Set where the job leaves the pull to its movement: `load` is then only where the first line ends; planning puts the greatest pull there. */
  readonly pulledByLift?: true;
  readonly weld: { readonly leg: number };
  /** Which cut the foot gets. `simplest`: straight if it fits, else faceted, else scribed. */
  readonly cut: CutChoice;
  /** Working load limits in N. Bow figures are optional: without them the bow is not checked. */
  readonly shackle?: {
    readonly wll: number;
    readonly pin: number;
    readonly jaw: number;
    readonly insideLength?: number;
    readonly bowWidth?: number;
    readonly bar?: number;
  };
  readonly hoist?: { readonly wll: number };
  /** mm from the nearest frame abaft and the nearest longitudinal inboard to the place; absent: mid-panel, the worst. */
  readonly behind?: { readonly fromFrame?: number; readonly fromLongitudinal?: number };
  /** Member that the foot has to stand over; absent: wherever it is put. */
  readonly over?: 'frame' | 'longitudinal';
  /** The record of the fit-up, typed back in. */
  readonly asBuilt?: AsBuilt;
  /** Where dives ended on the root of this lug, newest last. */
  readonly stopped?: readonly Stopped[];
}

/** The end of a dive on the root of a lug. */
export interface Stopped {
  /** Number of the run in hand, from 1. */
  readonly run: number;
  /** mm along the root. */
  readonly s: number;
  /** Mark of the order of runs it was made on: on another order nobody can say from it what is welded. */
  readonly order?: string;
  /** Day and time, as written. */
  readonly at?: string;
  readonly dive?: number;
  readonly note?: string;
}

/** What was read and felt on the tacked lug. mm, rad. */
export interface AsBuilt {
  /** Face of the plate from plumb, positive where face+ looks up. */
  readonly faceLean?: number;
  /** Foot from level, positive where end+ is the higher end. */
  readonly footRise?: number;
  /** Foot turned from its planned heading about the stem, right-handed about B. */
  readonly turned?: number;
  readonly gaps: readonly { readonly s: number; readonly gap: number }[];
}

export type CutChoice = 'simplest' | 'straight' | 'faceted' | 'scribed';

export type Stem =
  | { readonly kind: 'normal' }
  | { readonly kind: 'plumb' }
  | { readonly kind: 'toward-load' }
  | { readonly kind: 'lean'; readonly angle: number };

/** Force in N; the point in ship axes in mm, the direction of any length. */
export type LoadSpec =
  | { readonly toward: Vec3; readonly force: number }
  | { readonly direction: Vec3; readonly force: number };

/** Limits of the trade: each has a default with its reason (see `defaults.ts`), none is built into a formula. */
export interface Limits {
  /** mm. Gap up to which a fit is tight: no leg is added. */
  readonly fitGap: number;
  /** mm. Gap beyond which the foot must be cut again. */
  readonly recutGap: number;
  /** Share of the pull that may act across the plate, 0..1. */
  readonly sidewaysShare: number;
  /** rad. Angle between load line and lug plane that is accepted; absent where the share alone decides. */
  readonly offPlane?: number;
  /** rad. Steepest bevel that is cut, either way: where a better stance for a lug is looked for, it stays within. */
  readonly bevel: number;
  /** rad. Least angle between stem and tangent plane: below it the job is refused. */
  readonly stemToShell: number;
  /** mm. Root heights that differ by less are level: no way up for gas that a diver could rely on. */
  readonly level: number;
  /** mm. Length of root that may be welded against a closed vent. */
  readonly sealedLength: number;
  /** mm between the toe of a weld and a seam of the plating; absent where the job knows of no seam. */
  readonly seamClear?: number;
}

export interface PlateSteel {
  readonly yield: number;
  readonly tensile: number;
}

export interface Steel {
  readonly lug: PlateSteel;
  readonly shell: PlateSteel & {
    readonly thickness: number;
    /** MPa that hull girder and water put on the shell anyhow; what the lug makes comes on top. */
    readonly stressPresent: number;
    readonly carbon: CarbonEquivalent;
  };
  readonly frameSpacing: number;
  readonly longitudinalSpacing: number;
}

export type CarbonEquivalent =
  | { readonly kind: 'given'; readonly value: number }
  | { readonly kind: 'composition'; readonly percent: Readonly<Record<string, number>> }
  | { readonly kind: 'unknown' };

export interface Electrode {
  readonly kind: 'nickel' | 'ferritic' | 'austenitic';
  readonly diameter: number;
  readonly length: number;
  /** MPa. */
  readonly tensile: number;
}

export interface Welding {
  /** mm. Longest run a diver is asked to lay without a stop. */
  readonly runLength: number;
  /** min of bottom time per dive, set by the dive supervisor; absent where nobody has said. */
  readonly bottomTime?: number;
  /** Share of the dry weld's strength credited to the wet one, for its quality class and for starts and stops; 0..1. */
  readonly quality?: number;
  readonly startStop?: number;
  /** Class of weld asked for by AWS D3.6M, and its edition where it matters: class C stands in that of 1999 alone. */
  readonly class?: 'A' | 'B' | 'O' | 'C';
  readonly edition?: '1999' | '2010' | '2017';
  /** True: strength that depends on the direction of the force in the weld is made use of. */
  readonly directional?: boolean;
  /** Crew and consumables; what is absent is taken from the defaults of the weld plan, shown with it. mm, min, V, m, C. */
  readonly stub?: number;
  readonly recovery?: number;
  readonly burn?: number;
  readonly travel?: number;
  readonly change?: number;
  readonly grindStop?: number;
  readonly cleanMetre?: number;
  readonly hold?: number;
  readonly diveOverhead?: number;
  readonly stagger?: number;
  readonly cornerClear?: number;
  readonly arcVolts?: number;
  readonly leadLength?: number;
  readonly leadDrop?: number;
}

/** What the pull of the job is multiplied by; absent: 1 (and the basis's own load factor), with the reason shown. */
export interface Factors {
  readonly dynamic?: number;
  readonly skew?: number;
  readonly consequence?: number;
  readonly load?: number;
  /** Least share of the pull taken across the plate, 0..1. */
  readonly sidewaysAllowance?: number;
}

/** Coefficients of the design bases that a user may set; absent: the usual ones, shown with their standing. */
export interface Coefficients {
  readonly bth?: {
    readonly designFactor?: number;
    readonly fractureEdge?: number;
    readonly fractureNet?: number;
    readonly bearing?: number;
  };
  readonly en?: { readonly gammaM0?: number; readonly gammaM2?: number; readonly gammaM6ser?: number };
}

/** A default that was used: what, how much, why, and how well it is known. */
export interface Assumption {
  /** Path in the job file, e.g. `limits.fitGap`. */
  readonly path: string;
  /** As it would stand in a job file, e.g. `"1.6 mm"`. */
  readonly value: string;
  readonly reason: string;
  readonly standing: Standing;
}

/** How well a figure is known. `not-verified` is never a pass/fail value without being shown as such. */
export type Standing = 'source' | 'common-practice' | 'not-verified' | 'choice';

/** One line on standard error: where, what stood there, what should. */
export interface Fault {
  /** Path of the field, e.g. `fittings[1].lug.foot`; empty for the file as a whole. */
  readonly path: string;
  readonly found: string;
  readonly expected: string;
}
