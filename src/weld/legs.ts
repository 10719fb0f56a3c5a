import { within } from './sourced.ts';

/** The weld on one side of the foot. Lengths mm, area mm2. */
export interface WeldSideSize {
  /** Root to face, the same on every side. */
  readonly throat: number;
  /** Root to toe measured on the plate: throat / cos(psi/2). */
  readonly legAlongPlate: number;
  /** Toe on the plate square to the shell: 2 throat sin(psi/2), plus what a gap adds. The leg a gauge reads. */
  readonly legSquare: number;
  /** Part of `legSquare` owed to the root opening, 0 where the fit is tight. */
  readonly addedForGap: number;
  /** throat^2 tan(psi/2): the fillet without what fills the gap. */
  readonly area: number;
}

/**
 * Sizes of an equal-leg, flat-faced fillet that gives on a skewed side the throat of the ordinary 90 degree one.
 *
 * Plain geometry: the fillet is an isosceles triangle with the dihedral at its apex and the throat as its height; so the
 * leg along a fusion face is b = t / cos(psi/2), a toe stands b sin(psi) = 2 t sin(psi/2) from the other part, the face is
 * 2 t tan(psi/2) wide. The gap rule (an opening over what counts as tight adds itself to the leg) is AWS D1.1 on fillet
 * fit-up, as quoted on a public AWS forum; the leg with an opening is w = 2 t sin(psi/2) + R of its skewed-joint annex.
 *
 * @param dihedral rad, 0..pi exclusive: angle through the weld metal between plate face and shell.
 * @param leg90 mm, > 0: leg of the 90 degree fillet with the wanted throat.
 * @param rootOpening mm, >= 0.
 * @param fitGap mm, >= 0: opening up to which the fit is tight.
 * @throws RangeError where a figure is outside its range. The angle bands are `angleBand`'s business, not refused here.
 */
export function weldSide(dihedral: number, leg90: number, rootOpening: number, fitGap: number): WeldSideSize {
  fillet(dihedral);
  within('leg90', leg90, Number.MIN_VALUE, Number.MAX_VALUE);
  within('rootOpening', rootOpening, 0, Number.MAX_VALUE);
  within('fitGap', fitGap, 0, Number.MAX_VALUE);
  const throat = throatOfLeg(leg90);
  const addedForGap = legAddedForGap(rootOpening, fitGap);
  return {
    throat,
    legAlongPlate: legAlongPlate(throat, dihedral),
    legSquare: legSquare(throat, dihedral) + addedForGap,
    addedForGap,
    area: filletArea(throat, dihedral),
  };
}

/** Throat of a 90 degree equal-leg fillet, mm: leg / sqrt(2). Plain geometry. */
export function throatOfLeg(leg90: number): number {
  return leg90 / Math.SQRT2;
}

/** Root to toe along the plate, mm: t / cos(psi/2). Plain geometry, see `weldSide`. */
export function legAlongPlate(throat: number, dihedral: number): number {
  return throat / Math.cos(dihedral / 2);
}

/** Throat that a leg measured along the plate leaves, mm: b cos(psi/2). Plain geometry, `legAlongPlate` the other way about. */
export function throatOfLegAlongPlate(leg: number, dihedral: number): number {
  return leg * Math.cos(dihedral / 2);
}

/** A toe's distance square to the other part, mm: 2 t sin(psi/2). Plain geometry, see `weldSide`. */
export function legSquare(throat: number, dihedral: number): number {
  return 2 * throat * Math.sin(dihedral / 2);
}

/** Width of the flat face, mm: 2 t tan(psi/2). Plain geometry, see `weldSide`. */
export function faceWidth(throat: number, dihedral: number): number {
  return 2 * throat * Math.tan(dihedral / 2);
}

/** Cross-section, mm2: t^2 tan(psi/2). Plain geometry, see `weldSide`. */
export function filletArea(throat: number, dihedral: number): number {
  return throat * throat * Math.tan(dihedral / 2);
}

/**
 * Leg of a skewed fillet over the leg of the 90 degree fillet of the same throat, both square to the other part:
 * sqrt(2) sin(psi/2). AWS D1.1, table of equivalent leg-size factors in the skewed-joint annex (re-derived).
 */
export function legFactor(dihedral: number): number {
  return Math.SQRT2 * Math.sin(dihedral / 2);
}

/**
 * Throat, mm, that a leg measured square to the other part leaves over a root opening: (w - R) / (2 sin(psi/2)), not below 0.
 * AWS D1.1, skewed-joint annex (from memory, re-derived).
 */
export function throatLeft(legMeasured: number, rootOpening: number, dihedral: number): number {
  return Math.max(0, legMeasured - rootOpening) / (2 * Math.sin(dihedral / 2));
}

/**
 * Leg added for a root opening, mm: nothing up to `fitGap`, the whole opening above it.
 * AWS D1.1 on fillet fit-up as quoted on a public AWS forum.
 */
export function legAddedForGap(rootOpening: number, fitGap: number): number {
  return rootOpening > fitGap ? rootOpening : 0;
}

function fillet(dihedral: number): void {
  if (!(dihedral > 0 && dihedral < Math.PI))
    throw new RangeError(`dihedral must lie between 0 and pi, got ${dihedral}`);
}
