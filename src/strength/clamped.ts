import { type LuFactors, luFactors, solveLu } from './linearsolve.ts';
import { edgeSlopes, type NavierSeries, navierState, type Place } from './navier.ts';
import { type Panel, type PlateState, plateStiffness } from './platemoments.ts';
import { Room } from './room.ts';

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

/** coth(z), z > 0, without overflow. */
const coth = (z: number): number => (1 + Math.exp(-2 * z)) / -Math.expm1(-2 * z);

/**
 * Slope of a strip of breadth b with wave number al at its edges for a unit moment on the near edge, times D: at that edge
 * and, turned the other way, at the far one. From w = P sinh(al s) + Q s cosh(al s), s from the far edge, that has no deflection on
 * either edge and no moment on the far one: Q = -1/(2 D al sinh(al b)), P = -Q b coth(al b).
 */
function stripSlopes(al: number, b: number): { readonly near: number; readonly far: number } {
  const z = al * b;
  const inverse = 1 / Math.sinh(z); // 0 once sinh overflows: the far edge is then out of reach
  return { near: (coth(z) - z * inverse * inverse) / (2 * al), far: ((z * coth(z) - 1) * inverse) / (2 * al) };
}

/** What of a clamped panel depends on its breadths alone: the equations of its edge moments, factored. */
interface EdgeEquations {
  readonly a: number;
  readonly b: number;
  readonly harmonics: number;
  readonly factors: LuFactors;
}

/** The panels met last: a ship has few frame spacings, and a lug that is moved stays on its panel. */
const MET = 8;
const met: EdgeEquations[] = [];

function edgeEquations(a: number, b: number, harmonics: number): LuFactors {
  const known = met.find((each) => each.a === a && each.b === b && each.harmonics === harmonics);
  if (known) return known.factors;
  const factors = luFactors(edgeMatrix(a, b, harmonics), 4 * harmonics);
  met.unshift({ a, b, harmonics, factors });
  if (met.length > MET) met.pop();
  return factors;
}

function edgeMatrix(a: number, b: number, h: number): Float64Array {
  const size = 4 * h;
  const matrix = new Float64Array(size * size);
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
  }
  const even = (k: number): number => (k % 2 === 0 ? 1 : -1);
  for (let m = 1; m <= h; m++) {
    for (let n = 1; n <= h; n++) {
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
  return matrix;
}

/**
 * Clamps a panel whose simply supported solution is known. Superposition after Timoshenko and Woinowsky-Krieger, section 44,
 * with all four edges' series free, so that the load may stand anywhere. `harmonics` an edge (4 x that many unknowns).
 */
export function clampPanel(series: NavierSeries, harmonics: number): ClampedPanel {
  const { a, b } = series.panel;
  const d = plateStiffness(series.panel);
  const h = harmonics;
  const right = slopesRoom.list(4 * h);
  edgeSlopes(series, h, right);
  for (let i = 0; i < 4 * h; i++) right[i] = -d * (right[i] as number);
  const x = solveLu(edgeEquations(a, b, h), right);
  return {
    series,
    y0: x.subarray(0, h),
    yb: x.subarray(h, 2 * h),
    x0: x.subarray(2 * h, 3 * h),
    xa: x.subarray(3 * h),
  };
}

/** The edges of one panel at a time. */
const slopesRoom = new Room();

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
export const clampedState = (
  clamped: ClampedPanel,
  x: number,
  y: number,
  supported: PlateState = navierState(clamped.series, x, y),
): PlateState => clampedStates(clamped, [{ x, y }], [supported])[0] as PlateState;

/** The same at many places whose simply supported states are known. */
export function clampedStates(
  clamped: ClampedPanel,
  places: readonly Place[],
  supported: readonly PlateState[],
): PlateState[] {
  const { panel } = clamped.series;
  const { a, b } = panel;
  const y0 = stripOf(clamped.y0, a, b, y0Room);
  const yb = stripOf(clamped.yb, a, b, ybRoom);
  const x0 = stripOf(clamped.x0, b, a, x0Room);
  const xa = stripOf(clamped.xa, b, a, xaRoom);
  return places.map(({ x, y }, i) => {
    const sum = { ...(supported[i] as PlateState) };
    addStrip(sum, panel, y0, x, b - y, -1, false);
    addStrip(sum, panel, yb, x, y, 1, false);
    addStrip(sum, panel, x0, y, a - x, -1, true);
    addStrip(sum, panel, xa, y, x, 1, true);
    return sum;
  });
}

/** The strips of one panel at a time. */
const y0Room = new Room();
const ybRoom = new Room();
const x0Room = new Room();
const xaRoom = new Room();

type Sum = { -readonly [K in keyof PlateState]: PlateState[K] };

/**
 * A strip with edge moments M_m sin(al u) on the edge at s = breadth, u along the edge, s from the opposite edge:
 * w = sum (P sinh(al s) + Q s cosh(al s)) sin(al u). Each harmonic's P and Q times D sinh(al breadth), and
 * 1/(1 - e^(-2 al breadth)).
 */
interface Strip {
  readonly span: number;
  readonly breadth: number;
  readonly harmonics: number;
  /** P, Q and the inverse, harmonic by harmonic. */
  readonly factors: Float64Array;
}

function stripOf(moments: Float64Array, span: number, breadth: number, room: Room): Strip {
  const n = moments.length;
  const factors = room.list(3 * n);
  const step = Math.PI / span;
  const twice1 = Math.exp(-2 * step * breadth);
  let twice = twice1;
  for (let i = 0; i < n; i++) {
    const inverse = 1 / (1 - twice);
    const qi = -(moments[i] as number) / (2 * ((i + 1) * step));
    factors[3 * i] = -qi * breadth * (1 + twice) * inverse;
    factors[3 * i + 1] = qi;
    factors[3 * i + 2] = inverse;
    twice *= twice1;
  }
  return { span, breadth, harmonics: n, factors };
}

/**
 * Adds the state of a strip at (u, s); `sense` the sign of ds against the axis; `turned` where u is y. Every exponential is a
 * power of e^(-pi .../span), every sine the last one turned by pi u/span: none is computed a term.
 */
function addStrip(sum: Sum, panel: Panel, strip: Strip, u: number, s: number, sense: 1 | -1, turned: boolean): void {
  const { span, breadth, harmonics, factors } = strip;
  const { nu } = panel;
  const step = Math.PI / span;
  const near1 = Math.exp(-step * (breadth - s));
  const far1 = Math.exp(-step * (breadth + s));
  const c1 = Math.cos(step * u);
  const s1 = Math.sin(step * u);
  let near = near1;
  let far = far1;
  let cos = c1;
  let sin = s1;
  // All but the twist times D.
  let w = 0;
  let wuu = 0;
  let wss = 0;
  let wus = 0;
  for (let i = 0; i < harmonics; i++) {
    const al = (i + 1) * step;
    const pi = factors[3 * i] as number;
    const qi = factors[3 * i + 1] as number;
    const under = factors[3 * i + 2] as number;
    const sh = (near - far) * under; // sinh(al s)/sinh(al breadth)
    const ch = (near + far) * under;
    const here = pi * sh + qi * s * ch;
    const slope = pi * al * ch + qi * (ch + s * al * sh);
    const bent = al * al * here;
    w += here * sin;
    wuu -= bent * sin;
    wss += (bent + 2 * al * qi * sh) * sin;
    wus += slope * al * cos;
    near *= near1;
    far *= far1;
    const next = sin * c1 + cos * s1;
    cos = cos * c1 - sin * s1;
    sin = next;
  }
  const along = -(wuu + nu * wss);
  const across = -(wss + nu * wuu);
  sum.deflection += w / plateStiffness(panel);
  sum.mx += turned ? across : along;
  sum.my += turned ? along : across;
  sum.mxy -= (1 - nu) * sense * wus;
}
