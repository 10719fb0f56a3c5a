import { type Panel, type Patch, type PlateState, plateStiffness } from './platemoments.ts';

/** Deflection coefficients W_mn (mm) of a double sine series, m and n from 1: index (m - 1) terms + (n - 1). */
export interface NavierSeries {
  readonly panel: Panel;
  readonly terms: number;
  readonly w: Float64Array;
}

/** sin(k t) into out[at + k - 1], k from 1 to n, by turning through t each time: n round-offs, no trigonometry a term. */
export function sines(t: number, n: number, out: Float64Array, at = 0): void {
  const c1 = Math.cos(t);
  const s1 = Math.sin(t);
  let c = c1;
  let s = s1;
  for (let k = 0; k < n; k++) {
    out[at + k] = s;
    const next = s * c1 + c * s1;
    c = c * c1 - s * s1;
    s = next;
  }
}

/** sin(k z)/(k z), k from 1, with its limit 1 at z = 0: what spreading a force does to its harmonics. */
function sincs(z: number, n: number): Float64Array {
  const out = new Float64Array(n);
  if (z === 0) return out.fill(1);
  sines(z, n, out);
  for (let k = 1; k <= n; k++) out[k - 1] = (out[k - 1] as number) / (k * z);
  return out;
}

/**
 * Navier's series for a simply supported panel under patches: q_mn = (4/(a b)) sum F sin(m pi x/a) sin(n pi y/b) sinc(m pi u/2a)
 * sinc(n pi v/2b), W_mn = q_mn/(D pi^4 (m^2/a^2 + n^2/b^2)^2). Timoshenko and Woinowsky-Krieger, sections 28 to 30; nu, E as
 * in the panel. `terms` a side, within a quarter circle of that radius; a patch of size c needs about 4 a/c of them for its moments.
 */
export function navierSeries(panel: Panel, patches: readonly Patch[], terms: number): NavierSeries {
  const { a, b } = panel;
  const w = new Float64Array(terms * terms);
  // Eight patches at a time: the series is then read and written an eighth as often. The last group is filled up with nothing.
  const count = GROUP * Math.ceil(patches.length / GROUP);
  const sx = new Float64Array(count * terms);
  const sy = new Float64Array(count * terms);
  let spreadX: Float64Array | undefined;
  let spreadY: Float64Array | undefined;
  let last: Patch | undefined;
  for (const [i, p] of patches.entries()) {
    if (!spreadX || last?.sizeX !== p.sizeX) spreadX = sincs((Math.PI * p.sizeX) / (2 * a), terms);
    if (!spreadY || last?.sizeY !== p.sizeY) spreadY = sincs((Math.PI * p.sizeY) / (2 * b), terms);
    last = p;
    const row = i * terms;
    sines((Math.PI * p.x) / a, terms, sx, row);
    sines((Math.PI * p.y) / b, terms, sy, row);
    for (let k = 0; k < terms; k++) {
      sx[row + k] = p.force * (sx[row + k] as number) * (spreadX[k] as number);
      sy[row + k] = (sy[row + k] as number) * (spreadY[k] as number);
    }
  }
  const factor = 4 / (a * b * plateStiffness(panel) * Math.PI ** 4);
  const inverse = inverseSquares(a, b, terms);
  for (let m = 0; m < terms; m++) {
    const row = m * terms;
    const long = rowLength(m, terms);
    for (let p = 0; p < count; p += GROUP) addGroup(w, row, sx, sy, p * terms, m, terms, long);
    for (let n = 0; n < long; n++) w[row + n] = (w[row + n] as number) * factor * (inverse[row + n] as number);
  }
  return { panel, terms, w };
}

const GROUP = 8;

/** Harmonics along y that row m (from 0) is summed to: within a quarter circle, whose corner beyond adds nothing that is seen. */
const rowLength = (m: number, terms: number): number => Math.floor(Math.sqrt(terms * terms - m * m));

/** Adds eight patches to row m of the series: their sines along x at m times those along y. */
function addGroup(
  w: Float64Array,
  row: number,
  sx: Float64Array,
  sy: Float64Array,
  from: number,
  m: number,
  terms: number,
  long: number,
): void {
  const p1 = from + terms;
  const p2 = p1 + terms;
  const p3 = p2 + terms;
  const p4 = p3 + terms;
  const p5 = p4 + terms;
  const p6 = p5 + terms;
  const p7 = p6 + terms;
  const f0 = sx[from + m] as number;
  const f1 = sx[p1 + m] as number;
  const f2 = sx[p2 + m] as number;
  const f3 = sx[p3 + m] as number;
  const f4 = sx[p4 + m] as number;
  const f5 = sx[p5 + m] as number;
  const f6 = sx[p6 + m] as number;
  const f7 = sx[p7 + m] as number;
  for (let n = 0; n < long; n++) {
    w[row + n] =
      (w[row + n] as number) +
      (f0 * (sy[from + n] as number) + f1 * (sy[p1 + n] as number)) +
      (f2 * (sy[p2 + n] as number) + f3 * (sy[p3 + n] as number)) +
      (f4 * (sy[p4 + n] as number) + f5 * (sy[p5 + n] as number)) +
      (f6 * (sy[p6 + n] as number) + f7 * (sy[p7 + n] as number));
  }
}

/** The breadths met last with 1/(m^2/a^2 + n^2/b^2)^2 by m and n: a ship has few frame spacings. */
const MET = 8;
const met: { readonly a: number; readonly b: number; readonly terms: number; readonly inverse: Float64Array }[] = [];

function inverseSquares(a: number, b: number, terms: number): Float64Array {
  const known = met.find((each) => each.a === a && each.b === b && each.terms === terms);
  if (known) return known.inverse;
  const inverse = new Float64Array(terms * terms);
  for (let m = 0; m < terms; m++) {
    for (let n = 0; n < terms; n++) inverse[m * terms + n] = 1 / (((m + 1) / a) ** 2 + ((n + 1) / b) ** 2) ** 2;
  }
  met.unshift({ a, b, terms, inverse });
  if (met.length > MET) met.pop();
  return inverse;
}

/** sin(n pi y/b), n pi/b cos, (n pi/b)^2 sin: what a row of the series is summed with. Kept from call to call, filled anew in each. */
const rowSums = { sin: new Float64Array(0), cos: new Float64Array(0), square: new Float64Array(0) };

/**
 * Deflection and moments of a double sine series at (x, y), mm: mx = -D (w_xx + nu w_yy), my, mxy = -D (1 - nu) w_xy.
 */
export function navierState(series: NavierSeries, x: number, y: number): PlateState {
  const { panel, terms, w } = series;
  const { a, b, nu } = panel;
  const d = plateStiffness(panel);
  if (rowSums.sin.length < terms) {
    rowSums.sin = new Float64Array(terms);
    rowSums.cos = new Float64Array(terms);
    rowSums.square = new Float64Array(terms);
  }
  const { sin, cos, square } = rowSums;
  const step = Math.PI / b;
  const cy1 = Math.cos(step * y);
  const sy1 = Math.sin(step * y);
  let cy = cy1;
  let sy = sy1;
  for (let n = 0; n < terms; n++) {
    const be = (n + 1) * step;
    sin[n] = sy;
    cos[n] = cy * be;
    square[n] = sy * be * be;
    const next = sy * cy1 + cy * sy1;
    cy = cy * cy1 - sy * sy1;
    sy = next;
  }
  const cx1 = Math.cos((Math.PI * x) / a);
  const sx1 = Math.sin((Math.PI * x) / a);
  let cx = cx1;
  let sx = sx1;
  let deflection = 0;
  let wxx = 0;
  let wyy = 0;
  let wxy = 0;
  for (let m = 0; m < terms; m++) {
    const al = ((m + 1) * Math.PI) / a;
    let s = 0;
    let sn = 0;
    let c = 0;
    const row = m * terms;
    const long = rowLength(m, terms);
    for (let n = 0; n < long; n++) {
      const wmn = w[row + n] as number;
      s += wmn * (sin[n] as number);
      sn += wmn * (square[n] as number);
      c += wmn * (cos[n] as number);
    }
    deflection += sx * s;
    wxx -= al * al * sx * s;
    wyy -= sx * sn;
    wxy += al * cx * c;
    const next = sx * cx1 + cx * sx1;
    cx = cx * cx1 - sx * sx1;
    sx = next;
  }
  return { deflection, mx: -d * (wxx + nu * wyy), my: -d * (wyy + nu * wxx), mxy: -d * (1 - nu) * wxy };
}

/** Slopes along the four edges as sine coefficients: dw/dy on y = 0 and y = b (by m), dw/dx on x = 0 and x = a (by n). */
export function edgeSlopes(series: NavierSeries, harmonics: number) {
  const { panel, terms, w } = series;
  const y0 = new Float64Array(harmonics);
  const yb = new Float64Array(harmonics);
  const x0 = new Float64Array(harmonics);
  const xa = new Float64Array(harmonics);
  const few = Math.min(terms, harmonics);
  const perX = Math.PI / panel.a;
  const perY = Math.PI / panel.b;
  for (let m = 1; m <= terms; m++) {
    const row = (m - 1) * terms;
    if (m <= few) {
      // Odd and even harmonics apart: they add at one edge and work against each other at the other.
      let odd = 0;
      let even = 0;
      for (let n = 1; n <= terms; n += 2) odd += n * (w[row + n - 1] as number);
      for (let n = 2; n <= terms; n += 2) even += n * (w[row + n - 1] as number);
      y0[m - 1] = (odd + even) * perY;
      yb[m - 1] = (even - odd) * perY;
    }
    const away = m % 2 === 0 ? m : -m;
    for (let n = 0; n < few; n++) {
      const wmn = w[row + n] as number;
      x0[n] = (x0[n] as number) + m * wmn;
      xa[n] = (xa[n] as number) + away * wmn;
    }
  }
  for (let n = 0; n < few; n++) {
    x0[n] = (x0[n] as number) * perX;
    xa[n] = (xa[n] as number) * perX;
  }
  return { y0, yb, x0, xa };
}
