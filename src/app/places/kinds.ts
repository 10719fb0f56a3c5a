import type { HullSide } from '../../../geometry/hull/shell.ts';
import type { Vec3 } from '../../../geometry/math/vec.ts';
import type { Phrase } from '../../../geometry/phrase.ts';
import type { MapReach } from '../../plan/movement/ask.ts';
import type { MapGrid, SpotVerdict } from '../../plan/movement/map.ts';
import type { StanceFreedom } from '../../plan/movement/stancetypes.ts';
import type { PlanRequest } from '../worker/protocol.ts';

/** What is asked of the thread that does slow work about other places and other stances, and what it answers. mm, rad, N. */

/** Over places on the shell (columns stations, rows girths), or over ways to stand at one (columns headings, rows leans). */
export type Over = 'place' | 'stance';

export interface MapAsk {
  readonly request: PlanRequest;
  readonly fitting: number;
  readonly over: Over;
  /** How far a map of places goes, either way. */
  readonly reach: MapReach;
  readonly columns: number;
  readonly rows: number;
  /** The axes of the map that is on the screen: kept, so that nothing jumps while the lug is moved within it. */
  readonly keep?: MapGrid | undefined;
}

/** A spot of the map, with no more limits than a person reads. */
export interface MapSpot {
  readonly column: number;
  readonly row: number;
  readonly station: number;
  readonly girth: number;
  readonly heading: number;
  /** Of the stem from the normal of the shell; null in a map of places, where the stem follows its rule. */
  readonly lean: number | null;
  readonly verdict: SpotVerdict;
  /** The place on the shell, ship axes; null where the hull's data do not go. */
  readonly point: Vec3 | null;
}

/** A piece of shell to paint a map on: rows of points, station by station. Ship axes less `origin`; `share` runs 0..1 over the map. */
export interface MapSkin {
  readonly origin: Vec3;
  readonly positions: Float32Array;
  readonly share: Float32Array;
  readonly index: Uint32Array;
}

export type MapStep =
  | { readonly kind: 'grid'; readonly grid: MapGrid; readonly side: HullSide }
  | {
      readonly kind: 'spots';
      readonly stride: number;
      readonly spots: readonly MapSpot[];
      /** Share of the map that is known, 0..1. */
      readonly done: number;
    }
  | { readonly kind: 'skin'; readonly skin: MapSkin };

export type MapEnd = { readonly kind: 'mapped' } | Refused;

/** Why nothing can be said about the job as it is. */
export interface Refused {
  readonly kind: 'refused';
  readonly reason: string;
}

export interface BestAsk {
  readonly request: PlanRequest;
  readonly ids: readonly string[];
  readonly freedom: StanceFreedom;
}

/** How a lug stands, and the worst that its pulls come to there. */
export interface StanceFigures {
  readonly station: number;
  readonly girth: number;
  readonly heading: number;
  /** Of the stem from the normal of the shell, without a sign. */
  readonly lean: number;
  readonly sideways: number;
  /** Sideways force over the greatest pull. */
  readonly share: number;
  /** Of the pull with the greatest sideways force, out of the plane of the lug. */
  readonly offPlane: number;
  /** That pull itself, N. */
  readonly force: number;
  /** Step of the movement from 0; -1 for the one pull of the fitting. */
  readonly state: number;
  readonly push: string | null;
}

export type BestLug = { readonly id: string; readonly reason: Phrase } & (
  | { readonly found: false }
  | {
      readonly found: true;
      readonly before: StanceFigures;
      readonly after: StanceFigures;
      /** Whether the sideways force is within the share that the job allows. */
      readonly saves: boolean;
    }
);

export type BestEnd =
  | Refused
  | {
      readonly kind: 'looked';
      /** The job file in which the lugs stand so, figures rounded as they are written: `after` belongs to it. */
      readonly text: string;
      readonly lugs: readonly BestLug[];
    };
