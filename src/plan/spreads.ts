import type { Spread } from '../../geometry/uncertainty/spread.ts';

/** What the errors of the job's readings (its ±, a scan's scatter) do to a lug that is cut as planned and set on the shell there is. */
export interface Uncertainty {
  readonly samples: number;
  readonly seed: number;
  readonly fittings: readonly FittingUncertainty[];
}

export interface FittingUncertainty {
  readonly id: string;
  /** rad. Bevel at the middle of the foot that the shell asks for. */
  readonly bevel: Spread;
  /** mm. Largest gap of the plate cut as planned, pushed in along its stem. */
  readonly gap: Spread;
  /** rad. Load line against the plane of the lug. */
  readonly offPlane: Spread;
  /** Shares of all samples, 0..1: a tight fit, a gap that needs no new cut, a foot that found no shell. */
  readonly fits: number;
  readonly usable: number;
  readonly missed: number;
  /** mm. Metal to leave on the foot below the planned cut so that in 95 of 100 cases it can be ground to fit. */
  readonly stock: number;
  /** mm. Gap that 95 of 100 cases stay below where the foot is not ground: what it adds to the square leg. */
  readonly gap95: number;
  /** Per input, the share of the variance that it explains on its own; greatest share of the bevel's first. */
  readonly inputs: readonly {
    readonly path: string;
    readonly bevel: number;
    readonly gap: number;
    readonly offPlane: number;
  }[];
}
