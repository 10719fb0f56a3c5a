import type { Vec3 } from '../math/vec.ts';
import type { Phrase } from '../phrase.ts';
import type { Triangles } from './triangles.ts';

/** A hull as handed to `shellFrom`: lengths in mm, ship axes (z up from the baseline, x from the aft perpendicular). */
export type HullSpec =
  | {
      readonly kind: 'segments';
      readonly start: HullPoint;
      readonly path: readonly { readonly to: HullPoint; readonly radius?: number }[];
    }
  | { readonly kind: 'spline'; readonly points: readonly SplinePoint[] }
  | {
      readonly kind: 'sections';
      readonly sections: readonly { readonly station: number; readonly points: readonly SplinePoint[] }[];
    }
  | {
      readonly kind: 'offsets';
      readonly stations: readonly number[];
      readonly waterlines: readonly number[];
      /** [station][waterline], `null` where there is no shell. */
      readonly halfBreadths: readonly (readonly (number | null)[])[];
      /** What closes the sections below the lowest waterline and above the last; straight from one given station to the next. */
      readonly keel?: readonly { readonly station: number; readonly z: number }[];
      readonly deck?: readonly { readonly station: number; readonly y: number; readonly z: number }[];
      /** Half-breadth out to which the bottom is flat, at the keel's height. */
      readonly flatBottom?: readonly { readonly station: number; readonly y: number }[];
      /** Height from which the side is flat, at the breadth of the last waterline. */
      readonly flatSide?: readonly { readonly station: number; readonly z: number }[];
    }
  | {
      /** Tape, inclinometer and straight bar at one place. mm, rad; slopes and gaps as read. */
      readonly kind: 'readings';
      /** Where the tape's zero lies. */
      readonly start: HullPoint;
      /** Slope of the shell along the tape above the horizontal of the water; `error`: one standard deviation. */
      readonly girth: readonly { readonly at: number; readonly slope: number; readonly error?: number }[];
      readonly fore: {
        /** `at` along the bar from its middle, positive forward. */
        readonly gaps: readonly { readonly at: number; readonly gap: number; readonly error?: number }[];
        readonly touch: 'middle' | 'ends';
        /** Of the bar, forward end up, above the horizontal of the water. */
        readonly slope?: number;
        /** Of the bar, where it touches at both ends. */
        readonly length?: number;
      };
      /** Unit normal of the water plane, ship axes, and the side on which the readings were taken: heel shows on them. */
      readonly up: Vec3;
      readonly side: 'port' | 'starboard';
      /** Station of the tape. */
      readonly station: number;
      /** Where on the tape the lug will stand, if that is known: the bar is held there. */
      readonly place?: { readonly girth: number };
    }
  | {
      /** A scan or a model as triangles. */
      readonly kind: 'mesh';
      readonly triangles: Triangles;
      /** One side only: the other is its mirror image. */
      readonly half: boolean;
      /** Half the diagonal of the largest foot, mm, and the places of the lugs: there the surface is made smooth. */
      readonly reach: number;
      readonly places: readonly {
        readonly station: number;
        readonly side: 'port' | 'starboard';
        readonly by: 'girth' | 'height' | 'halfBreadth';
        readonly value: number;
      }[];
      /** Radius of the piece that is made smooth round a place, mm; absent: from the foot. */
      readonly patch?: number;
      /** What was found in the file. */
      readonly notes: readonly Phrase[];
    };

export interface HullPoint {
  readonly y: number;
  readonly z: number;
}

export interface SplinePoint extends HullPoint {
  /** The section has a corner here; the curve on either side is smooth on its own. */
  readonly knuckle?: boolean;
}
