/** What many samples of one figure look like; the figure's own unit. */
export interface Spread {
  readonly mean: number;
  readonly deviation: number;
  /** Between `low` and `high` lie 95 of 100 samples, half of the rest on either side. */
  readonly low: number;
  readonly median: number;
  readonly high: number;
}

/** Spread of samples; at least two. */
export function spreadOf(samples: Float64Array): Spread {
  const n = samples.length;
  const sorted = samples.slice().sort();
  let mean = 0;
  for (const x of sorted) mean += x / n;
  let square = 0;
  for (const x of sorted) square += (x - mean) ** 2;
  return {
    mean,
    deviation: Math.sqrt(square / (n - 1)),
    low: quantile(sorted, 0.025),
    median: quantile(sorted, 0.5),
    high: quantile(sorted, 0.975),
  };
}

/** Quantile of an ascending list, linear between its members (Hyndman and Fan's definition 7; Am. Stat. 50, 1996, 361). */
export function quantile(sorted: Float64Array, share: number): number {
  const at = share * (sorted.length - 1);
  const i = Math.floor(at);
  const next = Math.min(i + 1, sorted.length - 1);
  return (sorted[i] as number) + (at - i) * ((sorted[next] as number) - (sorted[i] as number));
}

/**
 * Share of a figure's variance that each independent input explains on its own, by a straight line through the samples:
 * the square of their correlation. For a linear figure the shares sum to one; what is missing is bend and interplay.
 * @param inputs sample by sample, `count` numbers each
 */
export function contributions(inputs: Float64Array, count: number, figure: Float64Array): number[] {
  const n = figure.length;
  let mean = 0;
  for (const y of figure) mean += y / n;
  let syy = 0;
  for (const y of figure) syy += (y - mean) ** 2;
  return Array.from({ length: count }, (_, k) => {
    let mx = 0;
    for (let i = 0; i < n; i++) mx += (inputs[i * count + k] as number) / n;
    let sxx = 0;
    let sxy = 0;
    for (let i = 0; i < n; i++) {
      const x = (inputs[i * count + k] as number) - mx;
      sxx += x * x;
      sxy += x * ((figure[i] as number) - mean);
    }
    return sxx > 0 && syy > 0 ? (sxy * sxy) / (sxx * syy) : 0;
  });
}
