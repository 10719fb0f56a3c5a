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
  for (let i = 0; i < n; i++) x[i] = (b[rows[i] as number] as number) - rowTimes(lu, i * n, x, 0, i);
  for (let i = n - 1; i >= 0; i--) {
    x[i] = ((x[i] as number) - rowTimes(lu, i * n, x, i + 1, n)) / (lu[i * n + i] as number);
  }
  return x;
}

/** Sum of row entries times x over from..to, in four sums: no addition then waits for the one before. */
function rowTimes(lu: Float64Array, row: number, x: Float64Array, from: number, to: number): number {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let j = from;
  for (; j + 4 <= to; j += 4) {
    s0 += (lu[row + j] as number) * (x[j] as number);
    s1 += (lu[row + j + 1] as number) * (x[j + 1] as number);
    s2 += (lu[row + j + 2] as number) * (x[j + 2] as number);
    s3 += (lu[row + j + 3] as number) * (x[j + 3] as number);
  }
  for (; j < to; j++) s0 += (lu[row + j] as number) * (x[j] as number);
  return s0 + s1 + (s2 + s3);
}
