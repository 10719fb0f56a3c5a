/** Least way round between one of some places and one of others, mm; Infinity where there are none. @param places, others from `sorted` */
export function leastApart(places: readonly number[], others: readonly number[], perimeter: number): number {
  const n = others.length;
  let least = Number.POSITIVE_INFINITY;
  if (n === 0) return least;
  let k = 0;
  for (const s of places) {
    while (k < n && (others[k] as number) < s) k++;
    const above = k < n ? (others[k] as number) : (others[0] as number) + perimeter;
    const below = k > 0 ? (others[k - 1] as number) : (others[n - 1] as number) - perimeter;
    least = Math.min(least, above - s, s - below);
  }
  return least;
}

/** Places round the joint taken into 0..perimeter, rising, each once. */
export function sorted(places: readonly number[], perimeter: number): number[] {
  const rising: number[] = [];
  for (const place of places) {
    const s = wrap(place, perimeter);
    // Most come in order: their place is looked for from the end.
    let k = rising.length;
    while (k > 0 && (rising[k - 1] as number) > s) k--;
    if (k === rising.length) {
      if (rising[k - 1] !== s) rising.push(s);
    } else if (rising[k - 1] !== s) rising.splice(k, 0, s);
  }
  return rising;
}

/** The same place in 0..perimeter. */
export function wrap(s: number, perimeter: number): number {
  // Most places lie within a turn, where the remainder, which is exact, takes no division.
  if (s >= 0 && s < 2 * perimeter) return s < perimeter ? s : s - perimeter;
  if (s < 0 && s > -perimeter) return s + perimeter;
  const rest = s % perimeter;
  return rest < 0 ? rest + perimeter : rest;
}
