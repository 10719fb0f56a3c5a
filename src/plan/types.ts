import type { Correction, InclinometerReadings, LoadAlignment } from '../../geometry/align/align.ts';
import type { CutFit, FacetedCut, ScribedCut, StraightCut } from '../../geometry/fit/cuts.ts';
import type { BevelStation, FootField } from '../../geometry/fit/footfield.ts';
import type { RootLine, Side } from '../../geometry/fit/rootline.ts';
import type { CutName, FitGrade } from '../../geometry/fit/verdict.ts';
import type { ShellPoint } from '../../geometry/hull/shell.ts';
import type { LugBody } from '../../geometry/lug/body.ts';
import type { LugFrame } from '../../geometry/lug/frame.ts';
import type { Vec3 } from '../../geometry/math/vec.ts';
import type { Phrase } from '../../geometry/phrase.ts';
import type { RootSequence } from '../../geometry/sequence/sequence.ts';
import type { Assumption, Fitting, Job } from '../job/types.ts';
import type { Advice, Check } from '../strength/check.ts';
import type { ShellGains } from '../strength/checks-shell.ts';
import type { WeldUse } from '../strength/checks-weld.ts';
import type { DesignLoad, LiftFactors } from '../strength/factors.ts';
import type { ToeVerdict } from '../strength/toes.ts';
import type { WeldMethods } from '../strength/weldmethods.ts';
import type { FilletPosition } from '../weld/position.ts';
import type { WeldPlan } from '../weld/weldPlan.ts';
import type { AsBuiltPlan } from './asbuilt.ts';
import type { SourceComparison } from './comparison.ts';
import type { StanceOffer } from './movement/stancetypes.ts';
import type { LiftPlan } from './movement/types.ts';
import type { Uncertainty } from './spreads.ts';

/**
 * All that is known about a job: what every screen and sheet is drawn from. Complete when it exists: no field starts
 * empty, no field is filled in later. Units: mm, N, MPa, rad, kg, min; positions in ship axes.
 * The plan file of the command line is written from it by `planFile`.
 */
export interface Plan {
  readonly job: Job;
  /** Unit normal of the water plane in ship axes, pointing up. */
  readonly up: Vec3;
  /** rad, positive by the stern. */
  readonly trim: number;
  readonly fittings: readonly FittingPlan[];
  /** The movement of the load; null where the job gives none. */
  readonly lift: LiftPlan | null;
  readonly assumptions: readonly Assumption[];
  /** What the hull's data leaves open, in words (what is between stations, where a flat of bottom was assumed, ...). */
  readonly hullNotes: readonly Phrase[];
  readonly pass: boolean;
  /** Other sources of the hull (`ship.compare`) laid over the one that was planned on, in the job's order. */
  readonly compare: readonly SourceComparison[];
  /** What other headings and leans would do for lugs that the movement pulls sideways; absent where it was not looked for, or nothing found. */
  readonly offers?: readonly StanceOffer[];
  /** What the job's own ± do to all this; absent where it was not sampled or nothing carries a ±. */
  readonly uncertainty?: Uncertainty;
}

export interface FittingPlan {
  readonly id: string;
  readonly input: Fitting;
  readonly anchor: ShellPoint;
  readonly frame: LugFrame;
  /** rad, between stem and n. */
  readonly slope: number;
  /** Where the load acts, ship axes. */
  readonly pin: Vec3;
  readonly field: FootField;
  readonly bevel: { readonly min: number; readonly max: number; readonly schedule: readonly BevelStation[] };
  readonly fit: Fit;
  readonly root: RootLine;
  readonly joint: Joint;
  readonly readings: InclinometerReadings;
  readonly load: LoadAlignment;
  /** Turn or tilt that would bring the load line into the plane of the lug. */
  readonly corrections: { readonly heading: Correction; readonly lean: Correction };
  readonly sequence: RootSequence;
  readonly body: LugBody;
  readonly strength: {
    /** Those of the fitting's checks that say whether it holds: plate, weld, shell, shackle, hoist. */
    readonly checks: readonly Check[];
    /** The job's load alone, as the plan file gives it. */
    readonly weldGroup: WeldGroup;
    /** The load that governs the checks (factors, sideways allowance) along the root, with the use of the weld's strength. */
    readonly use: WeldUse;
    /** The foot weld by every method side by side; the check is made by the basis's own. */
    readonly methods: WeldMethods;
    /** Which toe of the weld goes first, and how much of it the sideways part makes. */
    readonly toes: ToeVerdict;
    /** What a doubler or a member under the foot would gain for the shell. */
    readonly shell: ShellGains;
    /** Figures held against usual values that are no verdict. */
    readonly advice: readonly Advice[];
    readonly factors: LiftFactors;
    readonly load: DesignLoad;
  };
  readonly weld: WeldPlan;
  /** The lug as it was really built, held against the limits; null where nothing has been read yet. */
  readonly asBuilt: AsBuiltPlan | null;
  readonly checks: readonly Check[];
  readonly pass: boolean;
}

export interface Fit {
  /** The plate with a square, unbevelled foot, set in until it touches: what there is before any cutting. */
  readonly square: CutFit;
  readonly straight: StraightCut;
  readonly faceted: FacetedCut;
  readonly scribed: ScribedCut;
  readonly chosen: CutName;
  /** Gap up to which a fit is tight (`limits.fitGap`). */
  readonly tolerance: number;
  readonly grade: FitGrade;
  readonly verdict: Phrase;
  /** What to do, in order: which cut would fit, how much to take off where. */
  readonly remedies: readonly Phrase[];
}

export interface Joint {
  readonly perimeter: number;
  readonly dihedral: Extremes;
  readonly lowest: RootSpot;
  readonly highest: RootSpot;
  /** True where no root point lies lower than the others by more than `limits.level`. */
  readonly level: boolean;
  readonly points: readonly JointPoint[];
}

export interface Extremes {
  readonly min: number;
  readonly max: number;
}

export interface RootSpot {
  readonly s: number;
  readonly side: Side;
  /** position . up, mm */
  readonly height: number;
}

export interface JointPoint {
  readonly s: number;
  readonly side: Side;
  /** Lug frame. */
  readonly a: number;
  readonly c: number;
  readonly position: Vec3;
  readonly height: number;
  readonly dihedral: number;
  /** Slope of the root line against the horizontal, 0..pi/2. */
  readonly axisInclination: number;
  /** Straight down to the weld's face normal, seen along the axis, 0..pi; null for an axis within a degree of vertical. */
  readonly faceRotation: number | null;
  readonly weldingPosition: WeldingPosition;
  /** Root opening left by the chosen cut, mm. */
  readonly opening: number;
  /** Root opening that the square foot would leave, mm. */
  readonly openingSquare: number;
}

export type WeldingPosition = FilletPosition;

/** The weld as a line on an elastic bed: see contract of the plan file, "Weld group". */
export interface WeldGroup {
  readonly length: number;
  readonly centroid: Vec3;
  /** Line force at each joint point, N/mm, ship axes, in the order of `joint.points`. */
  readonly lineForce: readonly Vec3[];
  readonly worst: { readonly s: number; readonly side: Side; readonly force: number };
}

export type { Advice, Check, CheckUnit, Step, Term } from '../strength/check.ts';
