import { ROUND_OFF_MM } from '../../geometry/math/tolerance.ts';
import { type Panel, type Patch, type PlateState, plateStiffness } from './platemoments.ts';
import { Room } from './room.ts';

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

/** sin(k z)/(k z), k from 1 to n, with its limit 1 at z = 0, into `out`: what spreading a force does to its harmonics. */
function sincs(z: number, n: number, out: Float64Array): void {
  if (z === 0) {
    out.fill(1, 0, n);
    return;
  }
  sines(z, n, out);
  for (let k = 1; k <= n; k++) out[k - 1] = (out[k - 1] as number) / (k * z);
}

/** Patches that stand in line, along x or along y, so that they have the other place and the breadth there in common. */
interface Line {
  readonly at: number;
  readonly size: number;
  readonly patches: Patch[];
}

/** Lines square to x (`across: 'x'`, one x each) or to y. Places that differ by round-off are one. */
function linesOf(patches: readonly Patch[], across: 'x' | 'y'): Line[] {
  const lines: Line[] = [];
  for (const p of patches) {
    const at = across === 'x' ? p.x : p.y;
    const size = across === 'x' ? p.sizeX : p.sizeY;
    // The last lines first: patches follow each other along the weld.
    let i = lines.length - 1;
    while (i >= 0 && !(Math.abs((lines[i] as Line).at - at) <= ROUND_OFF_MM && lines[i]?.size === size)) i--;
    if (i >= 0) (lines[i] as Line).patches.push(p);
    else lines.push({ at, size, patches: [p] });
  }
  return lines;
}

/** A load as a sum of products: harmonics along x (row k of `x`, `terms` long) times harmonics along y (row k of `y`). */
interface LoadHarmonics {
  readonly count: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/**
 * sum F sinc sin(m pi x/a) sinc sin(n pi y/b) as few products: a patch is one, and so is a line of patches, as they share one
 * of the two factors. A foot that runs along the ship, or across it, lays its weld in two lines and its ends.
 */
function loadHarmonics(panel: Panel, patches: readonly Patch[], terms: number): LoadHarmonics {
  const { a, b } = panel;
  const alike = { x: linesOf(patches, 'x'), y: linesOf(patches, 'y') };
  const across = alike.x.length < alike.y.length ? 'x' : 'y';
  const lines = alike[across];
  const count = lines.length;
  const shared = sharedRoom.list(count * terms);
  const summed = summedRoom.zeros(count * terms);
  const [breadth, length] = across === 'x' ? [a, b] : [b, a];
  const spreadAcross = spreading(breadth, terms, acrossRoom);
  const spreadAlong = spreading(length, terms, alongRoom);
  const each = eachRoom.list(terms);
  lines.forEach((line, i) => {
    const row = i * terms;
    sines((Math.PI * line.at) / breadth, terms, shared, row);
    const spread = spreadAcross(line.size);
    for (let k = 0; k < terms; k++) shared[row + k] = (shared[row + k] as number) * (spread[k] as number);
    for (const p of line.patches) {
      sines((Math.PI * (across === 'x' ? p.y : p.x)) / length, terms, each);
      const spread = spreadAlong(across === 'x' ? p.sizeY : p.sizeX);
      for (let k = 0; k < terms; k++) {
        summed[row + k] = (summed[row + k] as number) + p.force * (each[k] as number) * (spread[k] as number);
      }
    }
  });
  return { count, x: across === 'x' ? shared : summed, y: across === 'x' ? summed : shared };
}

/** The harmonics of one load at a time. */
const sharedRoom = new Room();
const summedRoom = new Room();
const acrossRoom = new Room();
const alongRoom = new Room();
const eachRoom = new Room();

/** What spreading over a size does to the harmonics of a span; patches next to each other mostly have one size. */
function spreading(span: number, terms: number, room: Room): (size: number) => Float64Array {
  let last = Number.NaN;
  const spread = room.list(terms);
  return (size) => {
    if (size !== last) sincs((Math.PI * size) / (2 * span), terms, spread);
    last = size;
    return spread;
  };
}

/**
 * Navier's series for a simply supported panel under patches: q_mn = (4/(a b)) sum F sin(m pi x/a) sin(n pi y/b) sinc(m pi u/2a)
 * sinc(n pi v/2b), W_mn = q_mn/(D pi^4 (m^2/a^2 + n^2/b^2)^2). Timoshenko and Woinowsky-Krieger, sections 28 to 30; nu, E as
 * in the panel. `terms` a side, within a quarter circle of that radius; a patch of size c needs about 4 a/c of them for its moments.
 * With a `room` the series stands there, until the next one does.
 */
export function navierSeries(panel: Panel, patches: readonly Patch[], terms: number, room = new Room()): NavierSeries {
  const { a, b } = panel;
  const { count, x, y } = loadHarmonics(panel, patches, terms);
  const w = room.list(terms * terms);
  const sum = rowRoom.list(terms);
  const factor = 4 / (a * b * plateStiffness(panel) * Math.PI ** 4);
  const inverse = inverseSquares(a, b, terms);
  for (let m = 0; m < terms; m++) {
    const row = m * terms;
    const long = rowLength(m, terms);
    // Many products at a time: the row is then read and written the less often.
    sum.fill(0, 0, long);
    let p = 0;
    for (; p + 8 <= count; p += 8) addEight(sum, x, y, p * terms, m, terms, long);
    for (; p + 4 <= count; p += 4) addFour(sum, x, y, p * terms, m, terms, long);
    for (; p < count; p++) addOne(sum, x, y, p * terms, m, long);
    for (let n = 0; n < long; n++) w[row + n] = (sum[n] as number) * factor * (inverse[row + n] as number);
    w.fill(0, row + long, row + terms);
  }
  return { panel, terms, w };
}

/** One row of a series at a time. */
const rowRoom = new Room();

/** Harmonics along y that row m (from 0) is summed to: within a quarter circle, whose corner beyond adds nothing that is seen. */
const rowLength = (m: number, terms: number): number => Math.floor(Math.sqrt(terms * terms - m * m));

/** Adds eight products to the sum of row m: their sines along x at m times those along y. */
function addEight(
  sum: Float64Array,
  x: Float64Array,
  y: Float64Array,
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
  const f0 = x[from + m] as number;
  const f1 = x[p1 + m] as number;
  const f2 = x[p2 + m] as number;
  const f3 = x[p3 + m] as number;
  const f4 = x[p4 + m] as number;
  const f5 = x[p5 + m] as number;
  const f6 = x[p6 + m] as number;
  const f7 = x[p7 + m] as number;
  for (let n = 0; n < long; n++) {
    sum[n] =
      (sum[n] as number) +
      (f0 * (y[from + n] as number) + f1 * (y[p1 + n] as number)) +
      (f2 * (y[p2 + n] as number) + f3 * (y[p3 + n] as number)) +
      (f4 * (y[p4 + n] as number) + f5 * (y[p5 + n] as number)) +
      (f6 * (y[p6 + n] as number) + f7 * (y[p7 + n] as number));
  }
}

/** The same for four. */
function addFour(
  sum: Float64Array,
  x: Float64Array,
  y: Float64Array,
  from: number,
  m: number,
  terms: number,
  long: number,
): void {
  const p1 = from + terms;
  const p2 = p1 + terms;
  const p3 = p2 + terms;
  const f0 = x[from + m] as number;
  const f1 = x[p1 + m] as number;
  const f2 = x[p2 + m] as number;
  const f3 = x[p3 + m] as number;
  for (let n = 0; n < long; n++) {
    sum[n] =
      (sum[n] as number) +
      (f0 * (y[from + n] as number) + f1 * (y[p1 + n] as number)) +
      (f2 * (y[p2 + n] as number) + f3 * (y[p3 + n] as number));
  }
}

/** The same for one. */
function addOne(sum: Float64Array, x: Float64Array, y: Float64Array, from: number, m: number, long: number): void {
  const f = x[from + m] as number;
  for (let n = 0; n < long; n++) sum[n] = (sum[n] as number) + f * (y[from + n] as number);
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

/** A place on a panel, mm. */
export interface Place {
  readonly x: number;
  readonly y: number;
}

/** Deflection and moments of a double sine series at (x, y), mm: mx = -D (w_xx + nu w_yy), my, mxy = -D (1 - nu) w_xy. */
export const navierState = (series: NavierSeries, x: number, y: number): PlateState =>
  navierStates(series, [{ x, y }])[0] as PlateState;

/**
 * The same at many places. The series is summed once over n for places that have y in common, or once over m for places that
 * have x in common, whichever are fewer.
 */
export function navierStates(series: NavierSeries, places: readonly Place[]): PlateState[] {
  const { panel, terms } = series;
  const { a, b, nu } = panel;
  const d = plateStiffness(panel);
  const states: PlateState[] = new Array(places.length);
  const [xs, ys] = [distinct(places, 'x'), distinct(places, 'y')];
  const across = xs.length < ys.length ? 'x' : 'y';
  const sums = sumsRoom.list(3 * terms);
  const first = firstRoom.list(3 * terms);
  const second = secondRoom.list(3 * terms);
  for (const { at, members } of across === 'x' ? xs : ys) {
    if (across === 'x') {
      harmonicsAt(at, a, terms, first);
      sumOverM(series, first, sums);
    } else {
      harmonicsAt(at, b, terms, first);
      sumOverN(series, first, sums);
    }
    for (const i of members) {
      const place = places[i] as Place;
      harmonicsAt(across === 'x' ? place.y : place.x, across === 'x' ? b : a, terms, second);
      let deflection = 0;
      let along = 0;
      let over = 0;
      let twist = 0;
      for (let k = 0; k < terms; k++) {
        const s = sums[k] as number;
        deflection += s * (second[k] as number);
        along -= s * (second[2 * terms + k] as number);
        over -= (sums[2 * terms + k] as number) * (second[k] as number);
        twist += (sums[terms + k] as number) * (second[terms + k] as number);
      }
      const [wxx, wyy] = across === 'x' ? [over, along] : [along, over];
      states[i] = { deflection, mx: -d * (wxx + nu * wyy), my: -d * (wyy + nu * wxx), mxy: -d * (1 - nu) * twist };
    }
  }
  return states;
}

/** The sums of one series at a time. */
const sumsRoom = new Room();
const firstRoom = new Room();
const secondRoom = new Room();

/** Places (by index) that have one of their coordinates in common. */
interface Alike {
  readonly at: number;
  readonly members: number[];
}

/** Places by one of their coordinates; round-off apart is alike. */
function distinct(places: readonly Place[], of: 'x' | 'y'): Alike[] {
  const out: Alike[] = [];
  places.forEach((place, i) => {
    const at = place[of];
    let k = out.length - 1;
    while (k >= 0 && !(Math.abs((out[k] as Alike).at - at) <= ROUND_OFF_MM)) k--;
    if (k >= 0) (out[k] as Alike).members.push(i);
    else out.push({ at, members: [i] });
  });
  return out;
}

/** sin(k pi u/span), k pi/span cos, (k pi/span)^2 sin, k from 1, one after the other. */
function harmonicsAt(u: number, span: number, terms: number, out: Float64Array): void {
  const step = Math.PI / span;
  const c1 = Math.cos(step * u);
  const s1 = Math.sin(step * u);
  let c = c1;
  let s = s1;
  for (let k = 0; k < terms; k++) {
    const wave = (k + 1) * step;
    out[k] = s;
    out[terms + k] = c * wave;
    out[2 * terms + k] = s * wave * wave;
    const next = s * c1 + c * s1;
    c = c * c1 - s * s1;
    s = next;
  }
}

/** Sums of each row of the series with three lists of harmonics along y. */
function sumOverN({ terms, w }: NavierSeries, of: Float64Array, out: Float64Array): void {
  for (let m = 0; m < terms; m++) {
    const row = m * terms;
    const long = rowLength(m, terms);
    // Odd and even harmonics in sums of their own: no addition then waits for the one before.
    let s = 0;
    let c = 0;
    let q = 0;
    let s2 = 0;
    let c2 = 0;
    let q2 = 0;
    for (let n = 1; n < long; n += 2) {
      const odd = w[row + n - 1] as number;
      const even = w[row + n] as number;
      s += odd * (of[n - 1] as number);
      s2 += even * (of[n] as number);
      c += odd * (of[terms + n - 1] as number);
      c2 += even * (of[terms + n] as number);
      q += odd * (of[2 * terms + n - 1] as number);
      q2 += even * (of[2 * terms + n] as number);
    }
    if (long % 2 === 1) {
      const last = w[row + long - 1] as number;
      s += last * (of[long - 1] as number);
      c += last * (of[terms + long - 1] as number);
      q += last * (of[2 * terms + long - 1] as number);
    }
    out[m] = s + s2;
    out[terms + m] = c + c2;
    out[2 * terms + m] = q + q2;
  }
}

/** Sums of each column of the series with three lists of harmonics along x. */
function sumOverM({ terms, w }: NavierSeries, of: Float64Array, out: Float64Array): void {
  out.fill(0, 0, 3 * terms);
  for (let m = 0; m < terms; m++) {
    const row = m * terms;
    const long = rowLength(m, terms);
    const s = of[m] as number;
    const c = of[terms + m] as number;
    const q = of[2 * terms + m] as number;
    for (let n = 0; n < long; n++) {
      const wmn = w[row + n] as number;
      out[n] = (out[n] as number) + wmn * s;
      out[terms + n] = (out[terms + n] as number) + wmn * c;
      out[2 * terms + n] = (out[2 * terms + n] as number) + wmn * q;
    }
  }
}

/**
 * Slopes along the four edges as sine coefficients, into `out`, one after the other: dw/dy on y = 0 and on y = b (by m), dw/dx on x = 0
 * and on x = a (by n).
 */
export function edgeSlopes(series: NavierSeries, harmonics: number, out: Float64Array): void {
  const { panel, terms, w } = series;
  const yb = harmonics;
  const x0 = 2 * harmonics;
  const xa = 3 * harmonics;
  const few = Math.min(terms, harmonics);
  const perX = Math.PI / panel.a;
  const perY = Math.PI / panel.b;
  out.fill(0, 0, 4 * harmonics);
  for (let m = 1; m <= terms; m++) {
    const row = (m - 1) * terms;
    const long = rowLength(m - 1, terms);
    if (m <= few) {
      // Odd and even harmonics apart: they add at one edge and work against each other at the other.
      let odd = 0;
      let even = 0;
      for (let n = 1; n < long; n += 2) {
        odd += n * (w[row + n - 1] as number);
        even += (n + 1) * (w[row + n] as number);
      }
      if (long % 2 === 1) odd += long * (w[row + long - 1] as number);
      out[m - 1] = (odd + even) * perY;
      out[yb + m - 1] = (even - odd) * perY;
    }
    const away = m % 2 === 0 ? m : -m;
    for (let n = 0; n < few; n++) {
      const wmn = w[row + n] as number;
      out[x0 + n] = (out[x0 + n] as number) + m * wmn;
      out[xa + n] = (out[xa + n] as number) + away * wmn;
    }
  }
  for (let n = 0; n < few; n++) {
    out[x0 + n] = (out[x0 + n] as number) * perX;
    out[xa + n] = (out[xa + n] as number) * perX;
  }
}
