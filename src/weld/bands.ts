import { ROUND_OFF_RAD } from '../../geometry/math/tolerance.ts';
import { degrees, type Sourced } from './sourced.ts';

/**
 * How a skewed fillet is sized at its dihedral angle.
 * none: no throat is credited; z-loss: the leg grows by what does not fuse at the root; acute, obtuse: the leg is computed
 * for the angle; square: sized as a 90 degree fillet; beyond: no plain fillet.
 */
export type AngleBand = 'none' | 'z-loss' | 'acute' | 'square' | 'obtuse' | 'beyond';

/** Edges between the bands, rad. */
export interface BandEdges {
  readonly noThroat: number;
  readonly plainFrom: number;
  readonly squareFrom: number;
  readonly squareTo: number;
  readonly plainTo: number;
}

/** Range of a plain fillet: outside it a side fails. rad. */
export const PLAIN_FILLET: Sourced<{ readonly from: number; readonly to: number }> = {
  value: { from: degrees(60), to: degrees(135) },
  source:
    'Range of skewed fillets 60 to 135 degrees: D. K. Miller, "Designing Fillet Welds for Skewed T-joints - Part 1", Fig. 1; leg increased by the Z-loss below 60: AWS D1.1/D1.1M:2010, 2.4.2.6',
  standing: 'source',
};

/** Below this no throat is credited. rad. A default to change: it tells, it does not judge (the plain range does). */
export const NO_THROAT_BELOW: Sourced<number> = {
  value: degrees(30),
  source: 'AWS D1.1, no effective throat below 30 degrees; from memory, not verified',
  standing: 'not-verified',
};

/** Between these the throat is that of the ordinary 90 degree diagram. rad. */
export const SQUARE_FILLET: Sourced<{ readonly from: number; readonly to: number }> = {
  value: { from: degrees(80), to: degrees(100) },
  source: 'AWS D1.1/D1.1M:2010, 2.4.2.6',
  standing: 'source',
};

/** Range in which fusion faces make a fillet by EN 1993-1-8, rad: shown beside the limits, from memory. */
export const EN_FILLET: Sourced<{ readonly from: number; readonly to: number }> = {
  value: { from: degrees(60), to: degrees(120) },
  source: 'EN 1993-1-8, 4.3.2.1; from memory, not verified',
  standing: 'not-verified',
};

/** The edges as printed. */
export const BAND_EDGES: BandEdges = {
  noThroat: NO_THROAT_BELOW.value,
  plainFrom: PLAIN_FILLET.value.from,
  squareFrom: SQUARE_FILLET.value.from,
  squareTo: SQUARE_FILLET.value.to,
  plainTo: PLAIN_FILLET.value.to,
};

/**
 * Band of a dihedral angle (rad, 0..pi). An edge belongs to the band nearer the right angle: 60 degrees is acute, not z-loss;
 * 135 is obtuse, not beyond. Sources: `PLAIN_FILLET`, `NO_THROAT_BELOW`, `SQUARE_FILLET`.
 */
export function angleBand(dihedral: number, edges: BandEdges = BAND_EDGES): AngleBand {
  const least = dihedral + ROUND_OFF_RAD;
  const most = dihedral - ROUND_OFF_RAD;
  if (least < edges.noThroat) return 'none';
  if (least < edges.plainFrom) return 'z-loss';
  if (least < edges.squareFrom) return 'acute';
  if (most <= edges.squareTo) return 'square';
  if (most <= edges.plainTo) return 'obtuse';
  return 'beyond';
}
