import type { LoadAlignment } from '../../../geometry/align/align.ts';
import type { Vec3 } from '../../../geometry/math/vec.ts';
import type { Phrase } from '../../../geometry/phrase.ts';
import type { Equilibrium } from '../../rigging/equilibrium.ts';
import type { HungLoad, Line } from '../../rigging/load.ts';
import type { State } from '../../rigging/movement.ts';
import type { Swing } from '../../rigging/path.ts';
import type { Check } from '../../strength/check.ts';

/** The movement of the load, worked out. Forces N, lengths mm, angles rad; positions in ship axes. */
export interface LiftPlan {
  /** What it is called in the job. */
  readonly name: string;
  readonly load: HungLoad;
  /** Weight in water. */
  readonly net: number;
  /** kg/m^3 of the water it hangs in. */
  readonly waterDensity: number;
  readonly lines: readonly LiftLinePlan[];
  /** The load at every point of the movement that is looked at, in order. */
  readonly states: readonly State[];
  /** Every pose at rest of the movement, still and under each push. */
  readonly cases: readonly LiftCase[];
  /** What each push does to each state at rest, the worst of its directions. */
  readonly pushes: readonly PushPlan[];
  readonly lugs: readonly LugSweep[];
  /** Of the movement itself: every step can be done, each line within its reach. */
  readonly checks: readonly Check[];
  /** What is worth knowing and fails nothing. */
  readonly notes: readonly Phrase[];
  readonly pass: boolean;
}

export interface LiftLinePlan extends Line {
  /** Id of the fitting it hangs from; null for a point of its own. */
  readonly fitting: string | null;
  /** N: what hoist, chain and hooks of the line weigh in air, all of it taken to hang from the pin while the line pulls. */
  readonly own: number;
  /** Greatest tension over the movement, with pushes, and the state where it is; null where it never pulls. */
  readonly greatest: { readonly tension: number; readonly state: number; readonly push: string | null } | null;
}

/** The worst answer to one push. */
export interface PushPlan {
  readonly name: string;
  readonly force: number;
  /** State and direction (unit vector, ship axes) in which it moves the load farthest; null where the load is nowhere at rest. */
  readonly worst: { readonly state: number; readonly direction: Vec3; readonly swing: Swing } | null;
}

/** A pull on a lug at one point of the movement, still or under a push. */
export interface LugPull {
  readonly state: number;
  /** Name of the push; null for the load at rest. */
  readonly push: string | null;
  readonly pull: LoadAlignment;
}

/** One lug over the whole movement. */
export interface LugSweep {
  readonly id: string;
  /** The pull at each state at rest; null where none of its lines pulls, or where there is no pose. */
  readonly pulls: readonly (LoadAlignment | null)[];
  /** Where each figure is greatest over states and pushes; absent where the lug never carries anything. */
  readonly worst?: {
    readonly tension: LugPull;
    readonly sideways: LugPull;
    /** Among pulls that count (`lift.limits.unhookShare` of the weight and more). */
    readonly offPlane: LugPull;
    readonly inPlane: LugPull;
  };
  /** The worst of every check over the movement, and where. */
  readonly checks: readonly SweptCheck[];
  /** The answer in one line. */
  readonly summary: Phrase;
  readonly pass: boolean;
}

export interface SweptCheck {
  readonly check: Check;
  readonly state: number;
  readonly push: string | null;
}

/** The load at rest at one point of the movement, still or under a push. */
export interface LiftCase {
  readonly state: number;
  readonly push: string | null;
  readonly equilibrium: Equilibrium;
}
