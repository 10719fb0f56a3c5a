import type { Spread } from '../../geometry/uncertainty/spread.ts';
import type { Uncertainty } from './spreads.ts';

const DEG = 180 / Math.PI;

/** `uncertainty` of the plan file: the unit of a number ends its key, shares are 0..1. */
export function uncertaintyFile({ samples, seed, fittings }: Uncertainty) {
  return {
    samples,
    seed,
    fittings: fittings.map((f) => ({
      id: f.id,
      bevelDeg: spread(f.bevel, DEG),
      gapMm: spread(f.gap, 1),
      offPlaneDeg: spread(f.offPlane, DEG),
      fitsShare: f.fits,
      usableShare: f.usable,
      missedShare: f.missed,
      stockMm: f.stock,
      gap95Mm: f.gap95,
      inputs: f.inputs.map(({ path, bevel, gap, offPlane }) => ({
        path,
        bevelShare: bevel,
        gapShare: gap,
        offPlaneShare: offPlane,
      })),
    })),
  };
}

function spread({ mean, deviation, low, median, high }: Spread, factor: number) {
  return {
    mean: mean * factor,
    standardDeviation: deviation * factor,
    low95: low * factor,
    median: median * factor,
    high95: high * factor,
  };
}
