import { solveByFactor } from '../../geometry/math/cholesky.ts';

/** Largest number of sweeps; a symmetric matrix of this size settles in six or seven. */
const MOST_SWEEPS = 40;

/** Eigenvalues, ascending, and for each its unit eigenvector. */
export interface Eigen {
  readonly values: Float64Array;
  readonly vectors: readonly Float64Array[];
}

/**
 * Eigenvalues and eigenvectors of a symmetric matrix of size n (row by row): cyclic Jacobi rotations, which keep small
 * eigenvalues accurate.
 */
export function symmetricEigen(matrix: Float64Array, n: number): Eigen {
  const a = Float64Array.from(matrix);
  // Rows are eigenvectors in the end: a rotation then runs along two rows.
  const v = new Float64Array(n * n);
  for (let i = 0; i < n; i++) v[i * n + i] = 1;
  for (let sweep = 0; sweep < MOST_SWEEPS; sweep++) {
    let off = 0;
    let all = 0;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        const x = a[i * n + j] as number;
        all += x * x;
        if (i !== j) off += x * x;
      }
    }
    if (off <= 1e-30 * all) break;
    for (let p = 0; p < n - 1; p++) {
      for (let q = p + 1; q < n; q++) {
        const apq = a[p * n + q] as number;
        if (apq === 0) continue;
        const theta = ((a[q * n + q] as number) - (a[p * n + p] as number)) / (2 * apq);
        const t = (theta >= 0 ? 1 : -1) / (Math.abs(theta) + Math.sqrt(theta * theta + 1));
        const c = 1 / Math.sqrt(t * t + 1);
        const s = t * c;
        for (let k = 0; k < n; k++) {
          const kp = k * n + p;
          const kq = k * n + q;
          const x = a[kp] as number;
          const y = a[kq] as number;
          a[kp] = c * x - s * y;
          a[kq] = s * x + c * y;
        }
        turnRows(a, p * n, q * n, n, c, s);
        turnRows(v, p * n, q * n, n, c, s);
      }
    }
  }
  const order = Array.from({ length: n }, (_, i) => i).sort(
    (i, j) => (a[i * n + i] as number) - (a[j * n + j] as number),
  );
  return {
    values: Float64Array.from(order, (i) => a[i * n + i] as number),
    vectors: order.map((i) => v.slice(i * n, i * n + n)),
  };
}

function turnRows(m: Float64Array, p: number, q: number, n: number, c: number, s: number): void {
  for (let k = 0; k < n; k++) {
    const x = m[p + k] as number;
    const y = m[q + k] as number;
    m[p + k] = c * x - s * y;
    m[q + k] = s * x + c * y;
  }
}

/**
 * x of A x = b for a symmetric positive definite A of size n (row by row), by Cholesky's factors; undefined where a pivot is not
 * greater than `least`, so that A is not definite enough to trust.
 */
export function solveDefinite(
  matrix: Float64Array,
  b: Float64Array,
  n: number,
  least: number,
): Float64Array | undefined {
  const l = Float64Array.from(matrix);
  for (let j = 0; j < n; j++) {
    let d = l[j * n + j] as number;
    for (let k = 0; k < j; k++) d -= (l[j * n + k] as number) ** 2;
    if (!(d > least)) return undefined;
    const root = Math.sqrt(d);
    l[j * n + j] = root;
    for (let i = j + 1; i < n; i++) {
      let x = l[i * n + j] as number;
      for (let k = 0; k < j; k++) x -= (l[i * n + k] as number) * (l[j * n + k] as number);
      l[i * n + j] = x / root;
    }
  }
  return solveByFactor(l, b, n);
}
