/** Cubic splines through points, in one variable. Plain numerical analysis; knows nothing of ships. */

/**
 * How a spline ends. `not-a-knot`: the first two (last two) pieces are one cubic, fourth-order accurate where nothing
 * is known of the end; `natural`: no curvature at the end; a number: the slope there (clamped).
 */
export type SplineEnd = 'not-a-knot' | 'natural' | number;

/**
 * The tridiagonal system of one knot sequence, factored once, for as many right-hand sides as are wanted.
 * Unknowns are the second derivatives M at the knots (C. de Boor, A Practical Guide to Splines, ch. IV; standard form):
 *   h[i-1] M[i-1] + 2 (h[i-1] + h[i]) M[i] + h[i] M[i+1] = 6 (d[i] - d[i-1]),  d = chord slopes.
 * Knots strictly ascending, at least two.
 */
export class SplineSystem {
  readonly knots: Float64Array;
  private readonly start: SplineEnd;
  private readonly end: SplineEnd;
  private readonly lower: Float64Array;
  private readonly diag: Float64Array;
  private readonly upper: Float64Array;

  constructor(knots: ArrayLike<number>, start: SplineEnd = 'not-a-knot', end: SplineEnd = start) {
    const n = knots.length;
    this.knots = Float64Array.from(knots);
    // With three points or fewer, not-a-knot asks for more pieces than there are: a parabola, then a line, is meant.
    this.start = start;
    this.end = end;
    this.lower = new Float64Array(n);
    this.diag = new Float64Array(n).fill(1);
    this.upper = new Float64Array(n);
    for (let i = 1; i < n - 1; i++) {
      const h0 = this.step(i - 1);
      const h1 = this.step(i);
      this.lower[i] = h0;
      this.diag[i] = 2 * (h0 + h1);
      this.upper[i] = h1;
    }
    if (typeof start === 'number' && n > 1) {
      this.diag[0] = 2 * this.step(0);
      this.upper[0] = this.step(0);
    } else if (start === 'not-a-knot' && n > 3) {
      const q = this.step(0) / this.step(1);
      this.diag[1] = (this.diag[1] as number) + this.step(0) * (1 + q);
      this.upper[1] = this.step(1) - this.step(0) * q;
      this.lower[1] = 0;
    }
    if (typeof end === 'number' && n > 1) {
      this.diag[n - 1] = 2 * this.step(n - 2);
      this.lower[n - 1] = this.step(n - 2);
    } else if (end === 'not-a-knot' && n > 3) {
      const q = this.step(n - 2) / this.step(n - 3);
      this.diag[n - 2] = (this.diag[n - 2] as number) + this.step(n - 2) * (1 + q);
      this.lower[n - 2] = this.step(n - 3) - this.step(n - 2) * q;
      this.upper[n - 2] = 0;
    }
    for (let i = 1; i < n; i++) {
      const m = (this.lower[i] as number) / (this.diag[i - 1] as number);
      this.lower[i] = m;
      this.diag[i] = (this.diag[i] as number) - m * (this.upper[i - 1] as number);
    }
  }

  private step(i: number): number {
    return (this.knots[i + 1] as number) - (this.knots[i] as number);
  }

  /** Second derivatives at the knots for the values y (stride and offset let a column of a larger array be used). */
  secondDerivatives(y: ArrayLike<number>, out: Float64Array, offset = 0, stride = 1): void {
    const n = this.knots.length;
    const at = (i: number) => y[offset + i * stride] as number;
    const chord = (i: number) => (at(i + 1) - at(i)) / this.step(i);
    out.fill(0, 0, n);
    if (n < 2) return;
    if (n === 3 && this.start === 'not-a-knot' && this.end === 'not-a-knot') {
      out.fill((2 * (chord(1) - chord(0))) / (this.step(0) + this.step(1)), 0, 3);
      return;
    }
    if (typeof this.start === 'number') out[0] = 6 * (chord(0) - this.start);
    for (let i = 1; i < n - 1; i++) out[i] = 6 * (chord(i) - chord(i - 1));
    if (typeof this.end === 'number') out[n - 1] = 6 * (this.end - chord(n - 2));
    for (let i = 1; i < n; i++) out[i] = (out[i] as number) - (this.lower[i] as number) * (out[i - 1] as number);
    out[n - 1] = (out[n - 1] as number) / (this.diag[n - 1] as number);
    for (let i = n - 2; i >= 0; i--) {
      out[i] = ((out[i] as number) - (this.upper[i] as number) * (out[i + 1] as number)) / (this.diag[i] as number);
    }
    if (this.start === 'not-a-knot' && n > 3) {
      const q = this.step(0) / this.step(1);
      out[0] = (out[1] as number) * (1 + q) - (out[2] as number) * q;
    }
    if (this.end === 'not-a-knot' && n > 3) {
      const q = this.step(n - 2) / this.step(n - 3);
      out[n - 1] = (out[n - 2] as number) * (1 + q) - (out[n - 3] as number) * q;
    }
  }
}

/**
 * Piece i of a cubic spline as c0 + c1 h + c2 h^2 + c3 h^3 with h measured from knot i in units of the knots,
 * written to out[4 i .. 4 i + 3].
 */
export function cubicSpline(
  knots: ArrayLike<number>,
  y: ArrayLike<number>,
  start: SplineEnd = 'not-a-knot',
  end: SplineEnd = start,
): Float64Array {
  const n = knots.length;
  const m = new Float64Array(n);
  new SplineSystem(knots, start, end).secondDerivatives(y, m);
  const out = new Float64Array(4 * Math.max(0, n - 1));
  for (let i = 0; i < n - 1; i++) {
    const h = (knots[i + 1] as number) - (knots[i] as number);
    const m0 = m[i] as number;
    const m1 = m[i + 1] as number;
    out[4 * i] = y[i] as number;
    out[4 * i + 1] = ((y[i + 1] as number) - (y[i] as number)) / h - (h * (2 * m0 + m1)) / 6;
    out[4 * i + 2] = m0 / 2;
    out[4 * i + 3] = (m1 - m0) / (6 * h);
  }
  return out;
}

/** Index i with knots[i] <= x < knots[i+1], clamped to the first and last interval; `hint` is tried first. */
export function intervalOf(knots: ArrayLike<number>, x: number, hint = 0): number {
  const last = knots.length - 2;
  if (hint >= 0 && hint <= last && x >= (knots[hint] as number) && x < (knots[hint + 1] as number)) return hint;
  let lo = 0;
  let hi = last;
  while (lo < hi) {
    const mid = (lo + hi + 1) >> 1;
    if ((knots[mid] as number) <= x) lo = mid;
    else hi = mid - 1;
  }
  return lo;
}
