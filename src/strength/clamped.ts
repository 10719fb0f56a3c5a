import { solveDense } from './linearsolve.ts';
import { edgeSlopes, type NavierSeries, navierState } from './navier.ts';
import { addStates, type Panel, type PlateState, plateStiffness } from './platemoments.ts';

/**
 * A clamped panel: the simply supported one plus moments along its four edges that turn the edge slopes back to zero. Edge
 * moments are sine series (N mm/mm): on y = 0 and y = b by m, on x = 0 and x = a by n; negative where they hold the plate down.
 */
export interface ClampedPanel {
  readonly series: NavierSeries;
  readonly y0: Float64Array;
  readonly yb: Float64Array;
  readonly x0: Float64Array;
  readonly xa: Float64Array;
}

/** sinh and cosh of large arguments as ratios that do not overflow: [sinh(p)/sinh(q), cosh(p)/sinh(q)], 0 <= p <= q. */
function ratios(p: number, q: number): readonly [number, number] {
  const k = Math.exp(p - q) / -Math.expm1(-2 * q);
  return [-Math.expm1(-2 * p) * k, (1 + Math.exp(-2 * p)) * k];
}

/**
 * Slope of a strip of breadth b with wave number al at its edges for a unit moment on the near edge, times D: at that edge
 * and, turned the other way, at the far one. From w = P sinh(al s) + Q s cosh(al s), s from the far edge, that has no deflection on
 * either edge and no moment on the far one: Q = -1/(2 D al sinh(al b)), P = -Q b coth(al b).
 */
function stripSlopes(al: number, b: number): { readonly near: number; readonly far: number } {
  const z = al * b;
  const [, coth] = ratios(z, z);
  const inverse = 1 / Math.sinh(z); // 0 once sinh overflows: the far edge is then out of reach
  return { near: (coth - z * inverse * inverse) / (2 * al), far: ((z * coth - 1) * inverse) / (2 * al) };
}

/**
 * Clamps a panel whose simply supported solution is known. Superposition after Timoshenko and Woinowsky-Krieger, section 44,
 * with all four edges' series free, so that the load may stand anywhere. `harmonics` an edge (4 x that many unknowns).
 */
export function clampPanel(series: NavierSeries, harmonics: number): ClampedPanel {
  const { panel } = series;
  const { a, b } = panel;
  const d = plateStiffness(panel);
  const slopes = edgeSlopes(series, harmonics);
  const h = harmonics;
  const size = 4 * h;
  const matrix = new Float64Array(size * size);
  const right = new Float64Array(size);
  const put = (i: number, j: number, value: number): void => {
    matrix[i * size + j] = (matrix[i * size + j] as number) + value;
  };
  // Rows and columns: y0, yb, x0, xa. A slope is dw/dy (dw/dx) along the axis, so it changes sign on the far edge.
  for (let m = 1; m <= h; m++) {
    const i = m - 1;
    const acrossY = stripSlopes((m * Math.PI) / a, b);
    const acrossX = stripSlopes((m * Math.PI) / b, a);
    put(i, i, acrossY.near);
    put(i, h + i, acrossY.far);
    put(h + i, i, -acrossY.far);
    put(h + i, h + i, -acrossY.near);
    put(2 * h + i, 2 * h + i, acrossX.near);
    put(2 * h + i, 3 * h + i, acrossX.far);
    put(3 * h + i, 2 * h + i, -acrossX.far);
    put(3 * h + i, 3 * h + i, -acrossX.near);
    right[i] = -d * (slopes.y0[i] as number);
    right[h + i] = -d * (slopes.yb[i] as number);
    right[2 * h + i] = -d * (slopes.x0[i] as number);
    right[3 * h + i] = -d * (slopes.xa[i] as number);
  }
  for (let m = 1; m <= h; m++) {
    for (let n = 1; n <= h; n++) {
      const even = (k: number): number => (k % 2 === 0 ? 1 : -1);
      const al = (m * Math.PI) / a;
      const be = (n * Math.PI) / b;
      const k = (al * al + be * be) ** 2;
      // A moment on x = 0 of harmonic n is the load (2/a) al M_n in every m; it tilts y = 0 by be in harmonic m, and the reverse.
      const fromX = ((2 / a) * al * be) / k;
      const fromY = ((2 / b) * al * be) / k;
      put(m - 1, 2 * h + n - 1, fromX);
      put(m - 1, 3 * h + n - 1, -even(m) * fromX);
      put(h + m - 1, 2 * h + n - 1, even(n) * fromX);
      put(h + m - 1, 3 * h + n - 1, -even(n) * even(m) * fromX);
      put(2 * h + n - 1, m - 1, fromY);
      put(2 * h + n - 1, h + m - 1, -even(n) * fromY);
      put(3 * h + n - 1, m - 1, even(m) * fromY);
      put(3 * h + n - 1, h + m - 1, -even(m) * even(n) * fromY);
    }
  }
  const x = solveDense(matrix, right);
  return { series, y0: x.slice(0, h), yb: x.slice(h, 2 * h), x0: x.slice(2 * h, 3 * h), xa: x.slice(3 * h) };
}

/** Moment (N mm/mm) along an edge: square to it, at a distance along it, mm. Negative: tension on the loaded side. */
export function edgeMoment(clamped: ClampedPanel, edge: 'y0' | 'yb' | 'x0' | 'xa', along: number): number {
  const { panel } = clamped.series;
  const span = edge === 'y0' || edge === 'yb' ? panel.a : panel.b;
  let sum = 0;
  clamped[edge].forEach((moment, i) => {
    sum += moment * Math.sin(((i + 1) * Math.PI * along) / span);
  });
  return sum;
}

/** State inside the clamped panel at (x, y), mm: the simply supported one (given where known) plus the four edges' strips in closed form. */
export function clampedState(
  clamped: ClampedPanel,
  x: number,
  y: number,
  supported: PlateState = navierState(clamped.series, x, y),
): PlateState {
  const { panel } = clamped.series;
  const { a, b } = panel;
  let state = supported;
  state = addStates(state, stripState(panel, clamped.y0, a, b, x, b - y, -1));
  state = addStates(state, stripState(panel, clamped.yb, a, b, x, y, 1));
  const left = stripState(panel, clamped.x0, b, a, y, a - x, -1);
  const right = stripState(panel, clamped.xa, b, a, y, x, 1);
  const swap = (s: PlateState): PlateState => ({ ...s, mx: s.my, my: s.mx });
  return addStates(addStates(state, swap(left)), swap(right));
}

/**
 * State of a strip with edge moments M_m sin(al u) on the edge at s = breadth, from w = sum (P sinh(al s) + Q s cosh(al s))
 * sin(al u); u along the edge, s from the opposite edge; `sense` the sign of ds against the axis. mx is along u.
 */
function stripState(
  panel: Panel,
  moments: Float64Array,
  span: number,
  breadth: number,
  u: number,
  s: number,
  sense: 1 | -1,
): PlateState {
  const d = plateStiffness(panel);
  let deflection = 0;
  let wuu = 0;
  let wss = 0;
  let wus = 0;
  moments.forEach((moment, i) => {
    const al = ((i + 1) * Math.PI) / span;
    const z = al * breadth;
    const [sh, ch] = ratios(al * s, z);
    const [, coth] = ratios(z, z);
    // Q sinh(z) and P sinh(z), so that only ratios to sinh(z) appear below.
    const q = -moment / (2 * d * al);
    const p = -q * breadth * coth;
    const w = p * sh + q * s * ch;
    const slope = p * al * ch + q * (ch + s * al * sh);
    const sin = Math.sin(al * u);
    deflection += w * sin;
    wuu -= al * al * w * sin;
    wss += (al * al * w + 2 * al * q * sh) * sin;
    wus += sense * slope * al * Math.cos(al * u);
  });
  const { nu } = panel;
  return { deflection, mx: -d * (wuu + nu * wss), my: -d * (wss + nu * wuu), mxy: -d * (1 - nu) * wus };
}
