/** Places round a closed line, mm. */
export interface Ring {
  readonly perimeter: number;
  /** Shorter way round from s to the nearest of some places; Infinity where there are none. @param others from `sorted` */
  nearest(s: number, others: Float64Array): number;
}

/** @throws RangeError for a perimeter that is no length. Plain geometry. */
export function ringOf(perimeter: number): Ring {
  if (!(perimeter > 0)) throw new RangeError(`the perimeter must be a length, got ${perimeter}`);
  return {
    perimeter,
    nearest(s, others) {
      const n = others.length;
      if (n === 0) return Number.POSITIVE_INFINITY;
      const at = wrap(s, perimeter);
      let low = 0;
      let high = n;
      while (low < high) {
        const middle = (low + high) >> 1;
        if ((others[middle] as number) < at) low = middle + 1;
        else high = middle;
      }
      const above = low < n ? (others[low] as number) : (others[0] as number) + perimeter;
      const below = low > 0 ? (others[low - 1] as number) : (others[n - 1] as number) - perimeter;
      return Math.min(above - at, at - below);
    },
  };
}

/** Places round the joint taken into 0..perimeter, rising, as `Ring.nearest` wants them. */
export function sorted(places: readonly number[], perimeter: number): Float64Array {
  const out = new Float64Array(places.length);
  for (let k = 0; k < places.length; k++) out[k] = wrap(places[k] as number, perimeter);
  return out.sort();
}

/** The same place in 0..perimeter. */
export function wrap(s: number, perimeter: number): number {
  const rest = s % perimeter;
  return rest < 0 ? rest + perimeter : rest;
}
