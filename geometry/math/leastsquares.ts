/** Linear least squares by Householder reflections. Plain numerical analysis; knows nothing of ships. */

export interface LeastSquares {
  readonly coefficients: Float64Array;
  /** Inverse of X'WX, row by row: times the variance of an observation of weight one, the coefficients' covariance. */
  readonly covariance: Float64Array;
  /** Sum of weight x residual^2. */
  readonly squares: number;
}

/** A column shorter than this share of its own length after the others are taken out of it says nothing new. */
const DEPENDENT = 1e-10;

/**
 * Coefficients c that make the sum of weight[i] (y[i] - rows[i] . c)^2 least. `rows` holds n rows of `columns` numbers.
 * Returns `undefined` where the rows do not determine every coefficient (fewer rows than columns, or dependent columns).
 */
export function leastSquares(
  rows: ArrayLike<number>,
  columns: number,
  y: ArrayLike<number>,
  weight?: ArrayLike<number>,
): LeastSquares | undefined {
  const n = y.length;
  const m = columns;
  if (n < m) return undefined;
  const a = new Float64Array(n * m);
  const b = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const w = weight === undefined ? 1 : Math.sqrt(weight[i] as number);
    for (let j = 0; j < m; j++) a[i * m + j] = w * (rows[i * m + j] as number);
    b[i] = w * (y[i] as number);
  }
  const at = (i: number, j: number) => a[i * m + j] as number;
  for (let k = 0; k < m; k++) {
    let whole = 0;
    let below = 0;
    for (let i = 0; i < n; i++) {
      const q = at(i, k) ** 2;
      whole += q;
      if (i >= k) below += q;
    }
    if (!(below > whole * DEPENDENT ** 2) || !(below > 0)) return undefined;
    const alpha = at(k, k) > 0 ? -Math.sqrt(below) : Math.sqrt(below);
    const head = at(k, k) - alpha;
    // v = (head, a[k+1..n-1][k]); v.v / 2 = -alpha head
    const scale = 1 / (alpha * head);
    for (let j = k + 1; j <= m; j++) {
      let dot = j === m ? head * (b[k] as number) : head * at(k, j);
      for (let i = k + 1; i < n; i++) dot += at(i, k) * (j === m ? (b[i] as number) : at(i, j));
      const f = dot * scale;
      if (j === m) {
        b[k] = (b[k] as number) + f * head;
        for (let i = k + 1; i < n; i++) b[i] = (b[i] as number) + f * at(i, k);
      } else {
        a[k * m + j] = at(k, j) + f * head;
        for (let i = k + 1; i < n; i++) a[i * m + j] = at(i, j) + f * at(i, k);
      }
    }
    a[k * m + k] = alpha;
  }
  const c = new Float64Array(m);
  for (let k = m - 1; k >= 0; k--) {
    let s = b[k] as number;
    for (let j = k + 1; j < m; j++) s -= at(k, j) * (c[j] as number);
    c[k] = s / at(k, k);
  }
  let squares = 0;
  for (let i = m; i < n; i++) squares += (b[i] as number) ** 2;
  // R^-1, then R^-1 R^-T.
  const inv = new Float64Array(m * m);
  for (let j = 0; j < m; j++) {
    inv[j * m + j] = 1 / at(j, j);
    for (let i = j - 1; i >= 0; i--) {
      let s = 0;
      for (let k = i + 1; k <= j; k++) s -= at(i, k) * (inv[k * m + j] as number);
      inv[i * m + j] = s / at(i, i);
    }
  }
  const covariance = new Float64Array(m * m);
  for (let i = 0; i < m; i++) {
    for (let j = 0; j < m; j++) {
      let s = 0;
      for (let k = Math.max(i, j); k < m; k++) s += (inv[i * m + k] as number) * (inv[j * m + k] as number);
      covariance[i * m + j] = s;
    }
  }
  return { coefficients: c, covariance, squares };
}

/**
 * Sum of squares over variance that chance alone exceeds once in twenty, for `freedom` degrees (Wilson and Hilferty's
 * cube-root approximation of chi-square, Proc. Nat. Acad. Sci. 17, 1931, 684; within 3 % from one degree on).
 */
export function chiSquareLimit(freedom: number): number {
  const k = 2 / (9 * freedom);
  return freedom * (1 - k + 1.6448536269514722 * Math.sqrt(k)) ** 3;
}

/** F(1, freedom) that chance alone exceeds once in twenty: t^2 of Student's two-sided 95 % values (standard table). */
export function oneMoreLimit(freedom: number): number {
  const t = [12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228][freedom - 1];
  return (t ?? 1.96 + 2.4 / freedom + 3 / freedom ** 2) ** 2;
}
