import type { Vec3 } from '../../geometry/math/vec.ts';

/** The movement of a load as the job gives it. mm, N, rad, kg; ship axes, points of the load as it is drawn. */
export interface Lift {
  readonly load: LiftLoad;
  /** kg/m^3 */
  readonly waterDensity: number;
  readonly lines: readonly LiftLine[];
  readonly steps: readonly LiftStep[];
  readonly pushes: readonly LiftPush[];
  readonly keepClear: readonly KeepClear[];
  readonly limits: LiftLimits;
}

export interface LiftLoad {
  readonly name: string;
  /** kg in air. */
  readonly mass: number;
  /** kg of water that it displaces. */
  readonly displaced: number;
  readonly centre: Vec3;
  readonly buoyancyCentre: Vec3;
  /** Points of its outside that must stay clear; the straight lines between any two of them are looked at. */
  readonly outline: readonly Vec3[];
}

export interface LiftLine {
  readonly id: string;
  /** The fitting whose pin it hangs from, or a point of its own. */
  readonly from: { readonly fitting: string } | { readonly point: Vec3 };
  readonly to: Vec3;
  /** N for `ea` (tension = EA times the share it is stretched by), N/mm for `spring`. */
  readonly stretch: { readonly kind: 'axial'; readonly ea: number } | { readonly kind: 'spring'; readonly k: number };
  readonly shortest?: number;
  readonly longest?: number;
  /** kg in air of hoist, chain and hooks of the line, all of it on the pin; 0 where the job does not say. */
  readonly mass: number;
}

export type LiftStep = { readonly name: string; readonly parts: number } & (
  | { readonly kind: 'set'; readonly lengths: readonly { readonly line: string; readonly length: number | 'off' }[] }
  | {
      readonly kind: 'walk';
      /** The centre of gravity to a place, by so much, or so much lower in the water (less than nothing: raised). */
      readonly target: { readonly to: Vec3 } | { readonly by: Vec3 } | { readonly lower: number };
      /** Lines that are worked; absent: all that are on. */
      readonly with?: readonly string[];
    }
);

/** A push on the load: where no direction is given, level and from anywhere. */
export interface LiftPush {
  readonly name: string;
  readonly force: number;
  readonly direction?: Vec3;
  readonly at: Vec3;
}

/** With a radius a round bar from end to end, without one a block along the ship's axes between two corners. */
export interface KeepClear {
  readonly name: string;
  readonly from: Vec3;
  readonly to: Vec3;
  readonly radius?: number;
}

export interface LiftLimits {
  /** mm between the load's outline and whatever is near it. */
  readonly clearance: number;
  /** Share by which a line may stretch before it is called too short. */
  readonly stretch: number;
  /** mm by which a walk may miss its place. */
  readonly miss: number;
  /** Share of the weight in water that a line may still carry when it is taken off. */
  readonly unhookShare: number;
  /** rad. Tilt from the attitude in which it is drawn that the load may take. */
  readonly tilt: number;
}
