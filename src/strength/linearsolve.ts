/** LU factors of a square matrix with the order of its rows: PA = LU, the unit diagonal of L not stored. */
export interface LuFactors {
  readonly lu: Float64Array;
  readonly rows: Int32Array;
}

/**
 * Factors A (n x n, row-major, left as it is) by Gaussian elimination with partial pivoting. Textbook method. Throws RangeError
 * where a pivot is zero.
 */
export function luFactors(matrix: Float64Array, n: number): LuFactors {
  const lu = Float64Array.from(matrix);
  const rows = Int32Array.from({ length: n }, (_, i) => i);
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) {
      if (Math.abs(lu[i * n + k] as number) > Math.abs(lu[pivot * n + k] as number)) pivot = i;
    }
    const d = lu[pivot * n + k] as number;
    if (d === 0) throw new RangeError('singular matrix');
    if (pivot !== k) {
      for (let j = 0; j < n; j++) {
        const t = lu[k * n + j] as number;
        lu[k * n + j] = lu[pivot * n + j] as number;
        lu[pivot * n + j] = t;
      }
      const t = rows[k] as number;
      rows[k] = rows[pivot] as number;
      rows[pivot] = t;
    }
    for (let i = k + 1; i < n; i++) {
      const f = (lu[i * n + k] as number) / d;
      lu[i * n + k] = f;
      if (f === 0) continue;
      for (let j = k + 1; j < n; j++) lu[i * n + j] = (lu[i * n + j] as number) - f * (lu[k * n + j] as number);
    }
  }
  return { lu, rows };
}

/** Solves A x = b with the factors of A; b (n) is left as it is. */
export function solveLu({ lu, rows }: LuFactors, b: Float64Array): Float64Array {
  const n = rows.length;
  const x = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let s = b[rows[i] as number] as number;
    for (let j = 0; j < i; j++) s -= (lu[i * n + j] as number) * (x[j] as number);
    x[i] = s;
  }
  for (let i = n - 1; i >= 0; i--) {
    let s = x[i] as number;
    for (let j = i + 1; j < n; j++) s -= (lu[i * n + j] as number) * (x[j] as number);
    x[i] = s / (lu[i * n + i] as number);
  }
  return x;
}
