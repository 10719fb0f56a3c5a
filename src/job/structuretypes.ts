/** A place on the shell: mm forward of the aft perpendicular, mm of girth from the first point of the section there. */
export interface ShellSpot {
  readonly station: number;
  readonly girth: number;
}

/** Absent: on both sides of the ship. */
type OnSide = { readonly side?: 'port' | 'starboard' };

/** A transverse frame: the whole section at its station. */
export interface Frame {
  readonly name: string;
  readonly station: number;
}

/** A longitudinal: at one girth, from one station to another where they are given, else all along. */
export type Longitudinal = OnSide & {
  readonly name: string;
  readonly girth: number;
  readonly from?: number;
  readonly to?: number;
};

/** A seam or butt of the plating: straight in station and girth between its ends. */
export type Seam = OnSide & { readonly name: string; readonly from: ShellSpot; readonly to: ShellSpot };

/** A disc, or a band along a straight line in station and girth, within `radius` mm of which nothing may be welded. */
export type KeepClearZone = OnSide & {
  readonly name: string;
  readonly from: ShellSpot;
  readonly to?: ShellSpot;
  readonly radius: number;
};

/** What is behind and on the plating, as far as the job knows it. mm. Frames from aft forward. */
export interface Structure {
  readonly frames: readonly Frame[];
  readonly longitudinals: readonly Longitudinal[];
  readonly seams: readonly Seam[];
  readonly keepClear: readonly KeepClearZone[];
}
