/**
 * Slopes at the knots of a cubic interpolant that never overshoots its data: weighted harmonic mean of the neighbouring
 * chords, zero where they turn (F. N. Fritsch and J. Butland, SIAM J. Sci. Stat. Comput. 5, 1984, 300); at the ends the
 * chord's own slope. Knots strictly ascending, at least two.
 */
export function monotoneSlopes(x: ArrayLike<number>, y: ArrayLike<number>): Float64Array {
  const n = x.length;
  const m = new Float64Array(n);
  const h = (i: number) => (x[i + 1] as number) - (x[i] as number);
  const d = (i: number) => ((y[i + 1] as number) - (y[i] as number)) / h(i);
  m[0] = d(0);
  m[n - 1] = d(n - 2);
  for (let i = 1; i < n - 1; i++) {
    const a = d(i - 1);
    const b = d(i);
    if (a * b > 0) {
      const w = (h(i - 1) + 2 * h(i)) / (3 * (h(i - 1) + h(i)));
      m[i] = (a * b) / (w * b + (1 - w) * a);
    }
  }
  return m;
}
