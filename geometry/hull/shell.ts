import type { Frame } from '../math/frame.ts';
import type { Vec3 } from '../math/vec.ts';
import type { Phrase } from '../phrase.ts';

/**
 * The hull's skin, as far as its data goes. Ship axes, mm: x forward from the aft perpendicular, y to port, z up from
 * the baseline. Both sides exist: starboard is the mirror image of what was given.
 *
 * A kind of hull is one implementation of this; nothing else knows how its surface is stored.
 */
export interface Shell {
  /** What the data leaves open and how that was closed: shown with the plan. */
  readonly notes: readonly Phrase[];
  /** Stations with data; infinite both ways where one section stands for all. */
  readonly stations: Range;
  /** Girth available at a station, counted from the section's first point. Throws `Refusal` beyond the stations. */
  girthRange(station: number): Range;
  /**
   * Girth at which the section first reaches the given height (z) or half-breadth (|y|), going outward.
   * Throws `Refusal` (field `at.station`, `at.height`, `at.halfBreadth`) where the data does not reach it, or where a
   * whole stretch of the section lies at that height. `side` matters only where the two were measured each on its own.
   */
  girthAt(station: number, by: 'height' | 'halfBreadth', value: number, side?: HullSide): number;
  /** Throws `Refusal` (field `at.station` or `at.girth`) for a place beyond the data. */
  pointAt(station: number, girth: number, side: HullSide): ShellPoint;
  /** Prepared casts of the lines of a foot, |a| <= halfFoot, |c| <= halfThickness. */
  caster(frame: Frame, halfFoot: number, halfThickness: number): FootCaster;
  /** The point of the shell nearest to p. `near` (a cast close by) may be used to start the search. */
  closest(p: Vec3, near?: CastHit): ClosestPoint;
  /** What the data says of how well the surface is known at a place; absent where it says nothing of itself. */
  doubt?(p: Vec3, side: HullSide): Doubt | undefined;
  /** The section at a station as points from the centreline outward, chord error below `chord` (mm). Port side. */
  sectionLine(station: number, chord: number): Vec3[];
  /** Stations at which the shell should be drawn so that chords between them stay within `chord` of it. */
  drawStations(from: number, to: number, chord: number): number[];
}

export type HullSide = 'port' | 'starboard';

export interface Range {
  readonly from: number;
  readonly to: number;
}

export interface ShellPoint {
  readonly position: Vec3;
  /** Outward unit normal, into the water. */
  readonly normal: Vec3;
  /** Unit tangent of the transverse section, pointing outward along the girth. */
  readonly tGirth: Vec3;
  /** Unit tangent perpendicular to `tGirth`, pointing forward. */
  readonly tFore: Vec3;
  readonly station: number;
  readonly girth: number;
  readonly side: HullSide;
  /** What should be known of the shell just here: how a smooth surface was got from a scan, how well it is known. */
  readonly notes?: readonly Phrase[];
  /** Principal curvatures, 1/mm, positive where the shell bulges into the water, negative where it is hollow. */
  readonly curvature: {
    readonly k1: number;
    readonly k2: number;
    readonly direction1: Vec3;
    readonly direction2: Vec3;
  };
}

/** How well a surface is known at a place, from the scatter of what it was laid through. */
export interface Doubt {
  /** mm. One standard deviation of its height there. */
  readonly offset: number;
  /** Variance of its slope (rad^2) along a direction in the tangent plane, a unit vector in ship axes. */
  slope(direction: Vec3): number;
}

export interface ClosestPoint {
  readonly position: Vec3;
  readonly distance: number;
}

/**
 * One crossing of a foot line with the shell. Mutable on purpose: a field of some hundred casts fills the same few
 * objects over and over instead of making new ones.
 */
export interface CastHit {
  /** Foot height: the b of the crossing nearest to b = 0, mm. */
  f: number;
  /** Slope of the foot height along a and along c. */
  fa: number;
  fc: number;
  /** Outward unit normal of the shell, ship axes. */
  nx: number;
  ny: number;
  nz: number;
  /** Which smooth part of the shell was hit: two hits with different numbers have a knuckle line between them. */
  region: number;
  /** Where on the surface, in the shell's own parameters, with how they change along a and c. */
  p: number;
  q: number;
  pa: number;
  pc: number;
  qa: number;
  qc: number;
}

export const newHit = (): CastHit => ({
  f: 0,
  fa: 0,
  fc: 0,
  nx: 0,
  ny: 0,
  nz: 0,
  region: 0,
  p: 0,
  q: 0,
  pa: 0,
  pc: 0,
  qa: 0,
  qc: 0,
});

export const copyHit = (from: CastHit, to: CastHit): void => {
  to.f = from.f;
  to.fa = from.fa;
  to.fc = from.fc;
  to.nx = from.nx;
  to.ny = from.ny;
  to.nz = from.nz;
  to.region = from.region;
  to.p = from.p;
  to.q = from.q;
  to.pa = from.pa;
  to.pc = from.pc;
  to.qa = from.qa;
  to.qc = from.qc;
};

export interface FootCaster {
  /**
   * Crossing of the line (a, c) of the foot with the shell, written to `out`. `from` is a hit close by (or the seed):
   * where to start looking; it does not change which crossing is meant. False where the line meets no shell.
   */
  cast(a: number, c: number, from: CastHit, fromA: number, fromC: number, out: CastHit): boolean;
  /**
   * What `cast` finds at every node (a[i], c[j]) of a grid, in one go; only where no neighbour is needed to start from.
   * False, with the grid half filled, where a line meets no shell.
   */
  castGrid?(a: Float64Array, c: Float64Array, out: GridHits): boolean;
  /** The crossing at a = c = 0: the anchor itself. */
  readonly seed: CastHit;
}

/** Hits of a grid, node (i, j) at index i * c.length + j: heights, slopes, normals (three a node, zero to begin with), regions. */
export interface GridHits {
  readonly f: Float64Array;
  readonly fa: Float64Array;
  readonly fc: Float64Array;
  readonly n: Float64Array;
  readonly region: Int32Array;
}
