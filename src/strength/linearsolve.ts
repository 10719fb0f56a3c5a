/**
 * Solves A x = b in place by Gaussian elimination with partial pivoting (A: n x n, row-major). Textbook method. Throws
 * RangeError where a pivot is zero.
 */
export function solveDense(a: Float64Array, b: Float64Array): Float64Array {
  const n = b.length;
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) {
      if (Math.abs(a[i * n + k] as number) > Math.abs(a[pivot * n + k] as number)) pivot = i;
    }
    const d = a[pivot * n + k] as number;
    if (d === 0) throw new RangeError('singular matrix');
    if (pivot !== k) {
      for (let j = k; j < n; j++) {
        const t = a[k * n + j] as number;
        a[k * n + j] = a[pivot * n + j] as number;
        a[pivot * n + j] = t;
      }
      const t = b[k] as number;
      b[k] = b[pivot] as number;
      b[pivot] = t;
    }
    for (let i = k + 1; i < n; i++) {
      const f = (a[i * n + k] as number) / d;
      if (f === 0) continue;
      for (let j = k + 1; j < n; j++) a[i * n + j] = (a[i * n + j] as number) - f * (a[k * n + j] as number);
      b[i] = (b[i] as number) - f * (b[k] as number);
    }
  }
  for (let i = n - 1; i >= 0; i--) {
    let s = b[i] as number;
    for (let j = i + 1; j < n; j++) s -= (a[i * n + j] as number) * (b[j] as number);
    b[i] = s / (a[i * n + i] as number);
  }
  return b;
}
