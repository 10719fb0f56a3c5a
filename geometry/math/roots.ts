/** Root and minimum of a function of one variable. Plain numerical analysis; knows nothing of ships. */

/**
 * Root of g in [lo, hi], where g(lo) and g(hi) have different signs (or one is zero): regula falsi with the Illinois
 * step, safeguarded by bisection. Stops when the bracket is shorter than `accuracy` (same unit as x).
 * Returns `undefined` when the ends do not bracket a root: that is the caller's question to answer. Who knows g at the ends
 * says so.
 */
export function bracketedRoot(
  g: (x: number) => number,
  lo: number,
  hi: number,
  accuracy: number,
  atLo = g(lo),
  atHi = g(hi),
): number | undefined {
  let a = lo;
  let b = hi;
  let ga = atLo;
  let gb = atHi;
  if (ga === 0) return a;
  if (gb === 0) return b;
  if (!(ga * gb < 0)) return undefined;
  let sameSide = 0;
  for (let i = 0; i < 200 && Math.abs(b - a) > accuracy; i++) {
    let x = (a * gb - b * ga) / (gb - ga);
    if (!(x > Math.min(a, b) && x < Math.max(a, b)) || i % 3 === 2) x = (a + b) / 2;
    const gx = g(x);
    if (gx === 0) return x;
    if (gx * gb < 0) {
      a = b;
      ga = gb;
      b = x;
      gb = gx;
      sameSide = 0;
    } else {
      b = x;
      gb = gx;
      if (++sameSide > 1) ga /= 2;
    }
  }
  return Math.abs(ga) < Math.abs(gb) ? a : b;
}

/**
 * Where a function with one maximum in [lo, hi] is greatest (golden section). Works on kinks, where a parabola through
 * three points would not. Returns the place to within `accuracy`.
 */
export function goldenMaximum(g: (x: number) => number, lo: number, hi: number, accuracy: number): number {
  const k = (Math.sqrt(5) - 1) / 2;
  let a = lo;
  let b = hi;
  let x = b - k * (b - a);
  let y = a + k * (b - a);
  let gx = g(x);
  let gy = g(y);
  while (b - a > accuracy) {
    if (gx > gy) {
      b = y;
      y = x;
      gy = gx;
      x = b - k * (b - a);
      gx = g(x);
    } else {
      a = x;
      x = y;
      gx = gy;
      y = a + k * (b - a);
      gy = g(y);
    }
  }
  return (a + b) / 2;
}
