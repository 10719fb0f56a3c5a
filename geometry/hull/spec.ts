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
    };

export interface HullPoint {
  readonly y: number;
  readonly z: number;
}

export interface SplinePoint extends HullPoint {
  /** The section has a corner here; the curve on either side is smooth on its own. */
  readonly knuckle?: boolean;
}
