/**
 * The geometry of a lug on a hull, usable on its own: no package, no browser, no file.
 *
 * Units: mm, N, rad. Ship axes: x forward from the aft perpendicular, y to port from the centreline, z up from the
 * baseline. Lug frame: A along the foot, B the stem from foot to pin, C = A x B across the plate.
 *
 * ```ts
 * import { footField, frameAt, rootLine, shellFrom, straightCut } from './geometry/index.ts';
 *
 * const shell = shellFrom({
 *   kind: 'segments',
 *   start: { y: 0, z: 0 },
 *   path: [{ to: { y: 1000, z: 137 } }, { to: { y: 5200, z: 2300 }, radius: 7000 }],
 * });
 * const place = shell.pointAt(6300, 2400, 'port'); // station, girth, side
 * const up = [0, 0, 1] as const; // no trim, no heel
 * const frame = frameAt(place, 0, { kind: 'plumb' }, { direction: [0, 0, -1] }, up, 0.17);
 * const field = footField(shell, frame, 300, 38); // foot, thickness
 * const cut = straightCut(field, shell);
 * console.log((cut.bevel * 180) / Math.PI, cut.maxGap, rootLine(field).perimeter);
 * ```
 */

export {
  alignLoad,
  type Correction,
  type InclinometerReadings,
  inclinometerReadings,
  type LoadAlignment,
  type Pull,
  smallestCorrection,
} from './align/align.ts';
export { frameAt, leanStem, type StemRule } from './align/stem.ts';
export {
  type CutFit,
  type Facet,
  type FacetedCut,
  facetedCut,
  rootOpening,
  type ScribedCut,
  type StraightCut,
  scribedCut,
  squareCut,
  stemGap,
  straightCut,
} from './fit/cuts.ts';
export { type BevelStation, bevelSchedule, type FootField, footField } from './fit/footfield.ts';
export { dihedralAt, plateNormal, type RootLine, rootAt, rootLine, SIDES, type Side } from './fit/rootline.ts';
export { type CutName, type FitGrade, type FitVerdict, fitVerdict } from './fit/verdict.ts';
export { type Attitude, attitudeFrom, type DraftMark } from './hull/draftmarks.ts';
export { type UnfairCell, unfairCells } from './hull/fairness.ts';
export { shellFrom } from './hull/from.ts';
export type { CastHit, ClosestPoint, FootCaster, HullSide, Range, Shell, ShellPoint } from './hull/shell.ts';
export type { HullPoint, HullSpec, SplinePoint } from './hull/spec.ts';
export {
  type FootSurface,
  type LugBody,
  type LugSolid,
  lugBody,
  lugSolid,
  SEA_WATER_DENSITY,
  STEEL_DENSITY,
} from './lug/body.ts';
export { headingDirection, type LugFrame, lugFrame, toShip } from './lug/frame.ts';
export { type LugOutline, type LugShape, outlineArea, outlineOf, outlineTop } from './lug/outline.ts';
export type { Vec3 } from './math/vec.ts';
export type { Figure, Phrase } from './phrase.ts';
export { Refusal, type RefusalCode } from './refusal.ts';
export {
  type RootRun,
  type RootSequence,
  rootSequence,
  type SequenceOptions,
  type Travel,
} from './sequence/sequence.ts';
export { type Vent, VentFinder, ventElements } from './sequence/vent.ts';
export { type Overlay, overlay } from './uncertainty/overlay.ts';
