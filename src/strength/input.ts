import type { Vec3 } from '../../geometry/math/vec.ts';
import type { Basis, BthFactors, EnFactors } from './basis.ts';
import type { WetWeldFactors } from './directional.ts';
import type { LiftFactors } from './factors.ts';
import type { LugLoad, LugOutline } from './lugsection.ts';
import type { PinSteel } from './pinplate-en.ts';
import type { SideLoadBand } from './shackle.ts';

/** MPa. */
export interface PlateStrength {
  readonly yield: number;
  readonly tensile: number;
}

/** The weld's root as samples (3n coordinates, n of the rest, one index) and as quadrature; ship axes or any one frame, mm. */
export interface WeldRoot {
  readonly quadrature: { readonly position: Float64Array; readonly weight: Float64Array };
  readonly position: Float64Array;
  /** Outward unit normals of the shell, 3n. */
  readonly normal: Float64Array;
  readonly s: Float64Array;
  /** Index into face-, end+, face+, end-. */
  readonly side: Uint8Array;
}

/** Everything the strength of one fitting depends on. mm, N, MPa, rad. */
export interface StrengthInput {
  readonly basis: Basis;
  /** Pull at the pin as the job gives it, lug frame, before any factor. */
  readonly load: LugLoad;
  readonly lug: LugOutline;
  /** Two rings, one a side; `leg` is the leg of the weld round each, absent where the job does not say. */
  readonly cheek?: { readonly radius: number; readonly thickness: number; readonly leg?: number };
  readonly steel: { readonly lug: PlateStrength; readonly shell: PlateStrength & { readonly thickness: number } };
  /** A (along the foot), B (stem), C (across the plate) and the pin centre, in the frame of the root. */
  readonly frame: { readonly foot: Vec3; readonly stem: Vec3; readonly face: Vec3 };
  readonly pin: Vec3;
  readonly root: WeldRoot;
  readonly weld: {
    /** mm, the same all round or one a root sample. */
    readonly throat: number | Float64Array;
    /** MPa, tensile strength of the deposit. */
    readonly electrode: number;
    readonly wet?: WetWeldFactors;
    /** True: AISC's directional increase or EN's directional method is used; default false. */
    readonly directional?: boolean;
  };
  readonly panel: {
    readonly frameSpacing: number;
    readonly longitudinalSpacing: number;
    /** Point of the shell at the fitting's place, its normal and its two tangents, frame of the root. */
    readonly anchor: Vec3;
    readonly normal: Vec3;
    readonly fore: Vec3;
    readonly girth: Vec3;
    /** mm from the frame abaft and from the longitudinal inboard to the anchor; absent: the middle of the panel, the worst place. */
    readonly fromFrame?: number;
    readonly fromLongitudinal?: number;
    /** mm round the girth from the keel to the anchor; absent: the panel is not asked whether it crosses the keel. */
    readonly fromKeel?: number;
    /** MPa already in the shell, added to the bending; default 0. */
    readonly stressPresent?: number;
  };
  readonly shackle?: {
    /** N */
    readonly wll: number;
    readonly pin: number;
    readonly jaw: number;
    readonly insideLength?: number;
    readonly bowWidth?: number;
    readonly bar?: number;
  };
  readonly hoist?: { /** N */ readonly wll: number };
  /** rad, in the lug's plane from the stem towards A. */
  readonly inPlane: number;
  /** rad, off the lug's plane. */
  readonly offPlane: number;
  /** rad between the line of pull and plumb; for the hoist. */
  readonly fromPlumb?: number;
  /** Steel of the pin and the plates of its other half (ear thickness, gap to the lug), for the pin's own shear and bending. */
  readonly pinOwn?: { readonly steel: PinSteel; readonly ear: number; readonly gap: number };
  readonly factors?: Partial<LiftFactors>;
  readonly en?: EnFactors;
  readonly bth?: BthFactors;
  readonly sideLoadBands?: readonly SideLoadBand[];
  /** Limits the user has set on the fit of the shackle; absent: shown as advice only. */
  readonly fitLimits?: { readonly holeClearanceShare?: number; readonly jawFilledShare?: number };
}
