import type { Vec3 } from '../../geometry/math/vec.ts';

/** Standard gravity, m/s^2: exact by definition (3rd CGPM, 1901). */
export const GRAVITY = 9.80665;

/**
 * What hangs: a rigid body, wholly under water. Points in ship axes, mm, with the load where it is drawn; a pose says how
 * far it has moved from there. Forces N.
 */
export interface HungLoad {
  /** In air. */
  readonly weight: number;
  /** Weight of the water that it displaces. */
  readonly buoyancy: number;
  /** Centre of gravity. */
  readonly centre: Vec3;
  /** Centre of buoyancy: centre of the displaced volume. */
  readonly buoyancyCentre: Vec3;
}

/**
 * How a line gives. `axial`: tension = EA (l - L) / L with EA in N, so that a longer line is softer; `spring`: tension =
 * k (l - L) with k in N/mm, whatever its length. l is the length it has, L the length it would have with no load.
 */
export type Stretch = { readonly kind: 'axial'; readonly ea: number } | { readonly kind: 'spring'; readonly k: number };

/** A line that can only pull, without weight of its own. Ship axes, mm. */
export interface Line {
  readonly id: string;
  /** The end that stays where it is: the centre of the lug's pin. */
  readonly pin: Vec3;
  /** The end on the load, with the load where it is drawn. */
  readonly attachment: Vec3;
  readonly stretch: Stretch;
}

/** A constant force on the load (N, ship axes) at a point of it, with the load where it is drawn: current, a diver's push. */
export interface Push {
  readonly force: Vec3;
  readonly at: Vec3;
}

/** Length without load of a line that is not hooked on. */
export const UNHOOKED = Number.POSITIVE_INFINITY;

/** Stiffness of a line of the length L (mm), N/mm. */
export const stiffnessOf = (stretch: Stretch, length: number): number =>
  stretch.kind === 'axial' ? stretch.ea / length : stretch.k;

/**
 * Length without load (mm) of a line that is `l` mm long under the tension (N). Axial: l = L (1 + T/EA); spring:
 * l = L + T/k.
 */
export const lengthWithoutLoad = (stretch: Stretch, l: number, tension: number): number =>
  stretch.kind === 'axial' ? l / (1 + tension / stretch.ea) : l - tension / stretch.k;

/** Weight (N) of a mass in kg. */
export const weightOf = (mass: number): number => mass * GRAVITY;
