/**
 * Solves L L^T x = b for a lower triangular factor L of a symmetric positive definite matrix (n x n, row by row; what stands
 * above the diagonal is not read): forward, then back. Plain linear algebra; units are the caller's.
 */
export function solveByFactor(l: Float64Array, b: ArrayLike<number>, n: number): Float64Array {
  const x = Float64Array.from(b);
  for (let i = 0; i < n; i++) {
    let s = x[i] as number;
    for (let k = 0; k < i; k++) s -= (l[i * n + k] as number) * (x[k] as number);
    x[i] = s / (l[i * n + i] as number);
  }
  for (let i = n - 1; i >= 0; i--) {
    let s = x[i] as number;
    for (let k = i + 1; k < n; k++) s -= (l[k * n + i] as number) * (x[k] as number);
    x[i] = s / (l[i * n + i] as number);
  }
  return x;
}
