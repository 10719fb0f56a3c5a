/** The plane that lies nearest to a height field in the worst-case sense. Plain approximation theory. */

/** Growing set of samples (a, c, f) of a height field; plain arrays, so that a field's grid can be handed over as it is. */
export interface HeightSamples {
  readonly a: ArrayLike<number>;
  readonly c: ArrayLike<number>;
  readonly f: ArrayLike<number>;
  readonly count: number;
}

export interface MinimaxPlane {
  /** f is approximated by p0 + p1 a + p2 c. */
  readonly p0: number;
  readonly p1: number;
  readonly p2: number;
  /** Largest |f - plane| over the samples. */
  readonly error: number;
  /** The four samples that hold the plane where it is, with the sign of f - plane at each. */
  readonly basis: readonly number[];
  readonly signs: readonly number[];
}

/**
 * Chebyshev plane: minimise over p the largest |f_i - p0 - p1 a_i - p2 c_i|.
 *
 * A linear programme in four unknowns (p0, p1, p2, E). Solved by the exchange method, which is the simplex method on the
 * dual: four samples hold the plane (their multipliers l_i >= 0, sum 1, with sum sign_i l_i (1, a_i, c_i) = 0), the
 * sample that violates most comes in, the ratio test says which leaves, and E never falls
 * (E. W. Cheney, Introduction to Approximation Theory, ch. 2; E. Stiefel 1959). It ends when no sample violates by more
 * than `accuracy` (unit of f), so the plane's error exceeds the true minimum by at most that.
 *
 * A plane whose error is known to exceed `hopeless`, for E is a bound from below, is not looked for any further: what has been
 * found by then comes back. For who only asks whether there is a plane that near.
 *
 * `from`, `to` restrict the samples to from <= i < to. `corners` are four samples to start from, spread in the (a, c) plane
 * and no three of them in a line (the corners of the foot, or of what there is).
 */
export function minimaxPlane(
  samples: HeightSamples,
  corners: readonly [number, number, number, number],
  accuracy: number,
  from = 0,
  to = samples.count,
  hopeless = Number.POSITIVE_INFINITY,
): MinimaxPlane {
  const { a, c, f } = samples;
  const A = (i: number) => a[i] as number;
  const C = (i: number) => c[i] as number;
  const F = (i: number) => f[i] as number;
  // Scale (a, c) to about unit size, or the 4 x 4 systems would mix 1 with hundreds.
  const a0 = (A(corners[0]) + A(corners[2])) / 2;
  const c0 = (C(corners[0]) + C(corners[2])) / 2;
  const f0 = F(corners[0]);
  const sa = Math.abs(A(corners[1]) - A(corners[3])) / 2 || 1;
  const sc = Math.abs(C(corners[1]) - C(corners[3])) / 2 || 1;

  const basis = [...corners] as number[];
  const { signs, lambda } = radonStart(
    basis.map((i) => (A(i) - a0) / sa),
    basis.map((i) => (C(i) - c0) / sc),
  );
  let twist = 0;
  for (let k = 0; k < 4; k++) twist += (signs[k] as number) * (lambda[k] as number) * F(basis[k] as number);
  if (twist < 0) for (let k = 0; k < 4; k++) signs[k] = -(signs[k] as number);

  const m = new Float64Array(20);
  const p = new Float64Array(4);
  let best: MinimaxPlane | undefined;
  for (let round = 0; round < 400; round++) {
    // Primal: p0 + p1 a + p2 c + sign E = f at the four basis samples.
    for (let k = 0; k < 4; k++) {
      const i = basis[k] as number;
      m[5 * k] = 1;
      m[5 * k + 1] = (A(i) - a0) / sa;
      m[5 * k + 2] = (C(i) - c0) / sc;
      m[5 * k + 3] = signs[k] as number;
      m[5 * k + 4] = F(i) - f0;
    }
    if (!solve4(m, p)) break;
    const q0 = p[0] as number;
    const q1 = p[1] as number;
    const q2 = p[2] as number;
    const level = p[3] as number;
    // The scan is nearly all of the work: no division in it, and no more than two differences.
    const perA = q1 / sa;
    const perC = q2 / sc;
    const middle = f0 + q0;
    let worst = 0;
    let enter = -1;
    for (let i = from; i < to; i++) {
      const r = F(i) - middle - perA * (A(i) - a0) - perC * (C(i) - c0);
      const size = r < 0 ? -r : r;
      if (size > worst) {
        worst = size;
        enter = r < 0 ? -i - 1 : i + 1;
      }
    }
    if (!best || worst < best.error) {
      best = {
        p0: f0 + q0 - (q1 * a0) / sa - (q2 * c0) / sc,
        p1: q1 / sa,
        p2: q2 / sc,
        error: worst,
        basis: [...basis],
        signs: [...signs],
      };
    }
    if (enter === 0 || worst - level <= accuracy || level > hopeless) break;
    const e = Math.abs(enter) - 1;
    const sign = enter > 0 ? 1 : -1;
    // Dual: the entering column in terms of the basis columns (sign, sign a, sign c, 1).
    for (let k = 0; k < 4; k++) {
      const i = basis[k] as number;
      const s = signs[k] as number;
      m[k] = s;
      m[5 + k] = (s * (A(i) - a0)) / sa;
      m[10 + k] = (s * (C(i) - c0)) / sc;
      m[15 + k] = 1;
    }
    m[4] = sign;
    m[9] = (sign * (A(e) - a0)) / sa;
    m[14] = (sign * (C(e) - c0)) / sc;
    m[19] = 1;
    if (!solve4(m, p)) break;
    let leave = -1;
    let theta = Number.POSITIVE_INFINITY;
    for (let k = 0; k < 4; k++) {
      const d = p[k] as number;
      if (d > 1e-12) {
        const ratio = (lambda[k] as number) / d;
        if (ratio < theta) {
          theta = ratio;
          leave = k;
        }
      }
    }
    if (leave < 0) break;
    for (let k = 0; k < 4; k++) lambda[k] = Math.max(0, (lambda[k] as number) - theta * (p[k] as number));
    lambda[leave] = theta;
    basis[leave] = e;
    signs[leave] = sign;
  }
  return best as MinimaxPlane;
}

/**
 * Signs and multipliers with sum sign l (1, a, c) = 0 for four points of the plane: by Radon's theorem there always are such,
 * and they are the minors of the 3 x 4 matrix of the points. Round a rectangle they are +1/4, -1/4, +1/4, -1/4.
 */
function radonStart(a: readonly number[], c: readonly number[]): { signs: number[]; lambda: number[] } {
  const minor = (skip: number): number => {
    const [i, j, k] = [0, 1, 2, 3].filter((q) => q !== skip) as [number, number, number];
    const x = (q: number) => a[q] as number;
    const y = (q: number) => c[q] as number;
    return (x(j) - x(i)) * (y(k) - y(i)) - (x(k) - x(i)) * (y(j) - y(i));
  };
  const n = [minor(0), -minor(1), minor(2), -minor(3)];
  const sum = n.reduce((total, q) => total + Math.abs(q), 0) || 1;
  return { signs: n.map((q) => (q < 0 ? -1 : 1)), lambda: n.map((q) => Math.abs(q) / sum) };
}

/** Solves the 4 x 4 system in rows of five (the last column is the right-hand side); false where it is singular. */
function solve4(m: Float64Array, out: Float64Array): boolean {
  for (let k = 0; k < 4; k++) {
    let pivot = k;
    for (let r = k + 1; r < 4; r++) {
      if (Math.abs(m[5 * r + k] as number) > Math.abs(m[5 * pivot + k] as number)) pivot = r;
    }
    const d = m[5 * pivot + k] as number;
    if (Math.abs(d) < 1e-13) return false;
    if (pivot !== k) {
      for (let j = k; j < 5; j++) {
        const t = m[5 * k + j] as number;
        m[5 * k + j] = m[5 * pivot + j] as number;
        m[5 * pivot + j] = t;
      }
    }
    for (let r = k + 1; r < 4; r++) {
      const q = (m[5 * r + k] as number) / d;
      if (q !== 0) for (let j = k; j < 5; j++) m[5 * r + j] = (m[5 * r + j] as number) - q * (m[5 * k + j] as number);
    }
  }
  for (let k = 3; k >= 0; k--) {
    let v = m[5 * k + 4] as number;
    for (let j = k + 1; j < 4; j++) v -= (m[5 * k + j] as number) * (out[j] as number);
    out[k] = v / (m[5 * k + k] as number);
  }
  return true;
}
