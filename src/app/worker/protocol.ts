import type { CutFit, FacetedCut, ScribedCut, StraightCut } from '../../../geometry/fit/cuts.ts';
import type { Vec3 } from '../../../geometry/math/vec.ts';
import type { Fault } from '../../job/types.ts';
import type { Uncertainty } from '../../plan/spreads.ts';
import type { Fit, FittingPlan, Plan } from '../../plan/types.ts';
import type { WeldPlan } from '../../weld/weldPlan.ts';
import type { JobFileSet } from '../store/heldfile.ts';
import type { FileRead, Want } from './wanted.ts';

/** One job to plan: the text of the job file and the files it names. */
export interface PlanRequest {
  readonly text: string;
  readonly files: JobFileSet;
  /** The fitting that the water shows. */
  readonly drawn: number;
}

type Plain<Cut> = Omit<Cut, 'surface'>;

/** A cut's largest gaps and angles, without the surface itself: functions do not cross to another thread. */
export type ScreenFit = Omit<Fit, 'square' | 'straight' | 'faceted' | 'scribed'> & {
  readonly square: Plain<CutFit>;
  readonly straight: Plain<StraightCut>;
  readonly faceted: Plain<FacetedCut>;
  readonly scribed: Plain<ScribedCut>;
};

/** What the weld takes, without the list of every bead's runs: only where each dive ends is shown. */
export type ScreenWeld = Omit<WeldPlan, 'work' | 'passes' | 'schedule'> & { readonly schedule: ScreenSchedule | null };

export type ScreenSchedule =
  | { readonly kind: 'planned'; readonly minutes: number; readonly dives: readonly DiveEnd[] }
  | { readonly kind: 'dive-too-short'; readonly least: number };

/** The end of a dive: the item of work in hand, and whether it was finished. */
export interface DiveEnd {
  readonly dive: number;
  readonly minutes: number;
  readonly firstNo: number;
  readonly lastNo: number;
  readonly lastTask: 'run' | 'hold';
  readonly layer: number | null;
  readonly s: number;
  readonly finishes: boolean;
}

/** A plan without what cannot cross to another thread or is never shown. */
export type ScreenFitting = Omit<FittingPlan, 'field' | 'fit' | 'weld' | 'strength'> & {
  readonly fit: ScreenFit;
  /** The checks stand with those of the fitting: what led to them is shown nowhere. */
  readonly strength: Pick<FittingPlan['strength'], 'weldGroup' | 'use'>;
  readonly weld: ScreenWeld;
};
export interface ScreenPlan extends Omit<Plan, 'fittings'> {
  readonly fittings: readonly ScreenFitting[];
}

/** A piece of shell as triangles. Ship axes, mm, less `origin`. */
export interface ShellPatch {
  readonly positions: Float32Array;
  readonly normals: Float32Array;
  /** Station and girth of each point, mm: where a hand on the surface is. */
  readonly places: Float32Array;
  readonly index: Uint32Array;
  /** mm. How far the middle of a facet's edge was found off the shell, at most. */
  readonly chord: number;
}

/** The ship around one lug. Made anew only when the lug has moved away from its middle. */
export interface Drawing {
  /** Two drawings with one key are the same drawing. */
  readonly key: string;
  readonly origin: readonly [number, number, number];
  readonly near: ShellPatch;
  readonly far: ShellPatch;
  /** The same, on the other side of the centreline. */
  readonly other: ShellPatch;
  /** Frame lines on the shell: pairs of points, as `positions`. */
  readonly frames: Float32Array;
  /** Lines of equal girth and of equal station near the lug, pairs of points. */
  readonly grid: Float32Array;
  readonly frameSpacing: number;
  /** What the job itself knows of frames, longitudinals, seams and zones to keep clear of, on this side. */
  readonly members: readonly DrawnMember[];
}

/** A member or a zone as lines on the shell. */
export interface DrawnMember {
  readonly kind: 'frame' | 'longitudinal' | 'seam' | 'keep-clear';
  readonly name: string;
  /** Pairs of points, as `positions`. */
  readonly segments: Float32Array;
  /** Where its name stands, ship axes, mm; null far from the lug. */
  readonly label: Vec3 | null;
}

export type DrawingReply =
  | { readonly kind: 'drawn'; readonly drawing: Drawing }
  /** The one sent last still holds. */
  | { readonly kind: 'same'; readonly key: string }
  | { readonly kind: 'none'; readonly reason: string };

/** A lug as triangles in its own frame, mm, trimmed to the cut it gets. */
export interface LugDrawing {
  readonly positions: Float32Array;
  readonly triangles: Uint32Array;
  /** Where it turns sharply: pairs of points. */
  readonly edges: Float32Array;
  /** Where shell, square foot and the three cuts stand on either face along the foot: b at each a, mm. */
  readonly feet: FootProfiles;
  /** Where gas freed along the root goes, by s. */
  readonly gas: readonly GasTrail[];
}

/** The way of gas under the foot from the spot at s (mm along the root) on: points in ship axes, mm. One point: it comes out where it is made. */
export interface GasTrail {
  readonly s: number;
  readonly points: Float32Array;
}

export interface FootProfiles {
  readonly a: Float32Array;
  readonly shell: FacePair;
  readonly straight: FacePair;
  readonly faceted: FacePair;
  readonly scribed: FacePair;
}

/** Heights along the foot on the face at c = -thickness/2 and at c = +thickness/2, mm. */
export interface FacePair {
  readonly minus: Float32Array;
  readonly plus: Float32Array;
}

export type PlanReply =
  | {
      readonly kind: 'planned';
      readonly plan: ScreenPlan;
      readonly lugs: readonly LugDrawing[];
      readonly drawing: DrawingReply;
      /** ms, in the worker. */
      readonly took: number;
    }
  | { readonly kind: 'refused'; readonly faults: readonly Fault[] }
  /** Files that must be read first. */
  | { readonly kind: 'wants'; readonly wants: readonly Want[]; readonly drawings: boolean }
  | { readonly kind: 'broken'; readonly message: string };

export interface PlannerWorker {
  plan(request: PlanRequest): Promise<PlanReply>;
  /** What was read of a file that it wanted. */
  takeFile(want: Want, read: FileRead): void;
  /** Faults of a job as it would be; nothing is planned beyond reading it. */
  check(request: PlanRequest): readonly Fault[];
  /** Files to take away; none where the job cannot be planned. */
  files(request: PlanRequest, sure?: Uncertainty): Promise<readonly TakeAway[]>;
  /** Which papers there are to take away. */
  papers(): Promise<readonly PaperKind[]>;
  /** The files of one kind of paper, for the fitting that is looked at. */
  paper(request: PlanRequest, kind: string, sure?: Uncertainty): Promise<readonly TakeAway[]>;
  /** Whether a sheet in hand is one of the job as it now stands, by the digest typed off it. */
  sheetInHand(request: PlanRequest, typed: string): Promise<InHand>;
}

/** `now` is the digest of the job as it now stands. */
export type InHand =
  /** `otherUnits`: printed in US units where the job is now shown in metric, or the other way round. */
  | { readonly kind: 'belongs'; readonly now: string; readonly otherUnits: boolean }
  | { readonly kind: 'other'; readonly digest: string; readonly now: string }
  | { readonly kind: 'no-digest'; readonly now: string }
  | { readonly kind: 'no-job' };

export interface PaperKind {
  readonly name: string;
  readonly title: string;
  /** Who takes it where. */
  readonly use: string;
}

export interface TakeAway {
  readonly name: string;
  readonly type: string;
  readonly content: string | Uint8Array;
}
