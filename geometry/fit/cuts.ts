import { newHit, type Shell } from '../hull/shell.ts';
import type { FootSurface } from '../lug/body.ts';
import { toShip } from '../lug/frame.ts';
import { type HeightSamples, minimaxPlane } from '../math/minimax.ts';
import { extremesOn, planeResidual, type Surveyed } from './extremes.ts';
import { cellOf, type FootField } from './footfield.ts';

/** A foot cut to a surface b = k(a, c) >= f(a, c), placed as far in as it goes. */
export interface CutFit {
  /** Largest stem gap k - f over the foot, along the stem, mm. */
  readonly maxGap: number;
  /** Largest of the shortest distances from the cut to the shell, over the foot, mm. */
  readonly maxRootOpening: number;
  readonly surface: FootSurface;
}

/** One plane k = p0 + p1 a + p2 c. */
export interface StraightCut extends CutFit {
  readonly p0: number;
  readonly p1: number;
  readonly p2: number;
  /** atan(p2), rad. */
  readonly bevel: number;
  /** atan(p1), rad. */
  readonly footSlope: number;
}

export interface Facet {
  readonly fromA: number;
  readonly toA: number;
  readonly p0: number;
  readonly p1: number;
  readonly p2: number;
  readonly bevel: number;
  readonly footSlope: number;
  readonly maxGap: number;
}

export interface FacetedCut extends CutFit {
  readonly facets: readonly Facet[];
  /** False where no number of facets keeps the tolerance: through the thickness the shell bends by more than that. */
  readonly withinTolerance: boolean;
}

export interface ScribedCut extends CutFit {
  /** How far the cut stands off the scribed line so as to clear the shell between the faces, mm. */
  readonly raised: number;
}

/** mm. The minimax planes are solved to this; far below what a torch or a feeler can tell. */
const PLANE_ACCURACY = 1e-7;

/** A foot left square and flat, pushed in until it touches. */
export function squareCut(field: FootField, shell: Shell): CutFit {
  const { high, low } = reachFrom(field, 0, 0);
  const surface = planeSurface(field, high.r, 0, 0);
  const facet = { fromA: -field.halfFoot, p0: high.r, p1: 0, p2: 0 };
  const maxRootOpening = widestOpening(field, shell, surface, gapsUnder(field, [facet]));
  return { maxGap: high.r - low.r, maxRootOpening, surface };
}

/** Farthest that the shell stands above and below a plane k = p1 a + p2 c on a stretch of the foot, nodes or not. */
const reachFrom = (field: FootField, p1: number, p2: number, fromA = -field.halfFoot, toA = field.halfFoot) =>
  extremesOn(field, planeResidual(field, p1, p2), fromA, toA);

/**
 * The plane whose largest stem gap is as small as any plane's. Clear of the shell everywhere, it is the Chebyshev plane
 * raised by its error E, and its largest gap is 2 E. Places between the grid's nodes where the shell stands farther off
 * than any node are added to the samples until there are none (the exchange method on the whole rectangle).
 */
export function straightCut(field: FootField, shell: Shell): StraightCut {
  const samples = growable(field, 64);
  const corners = cornerNodes(field);
  let best: { p1: number; p2: number; high: number; low: number } | undefined;
  for (let round = 0; round < 8; round++) {
    const { p0, p1, p2, error } = minimaxPlane(samples, corners, PLANE_ACCURACY);
    const { high, low } = reachFrom(field, p1, p2);
    if (!best || high.r - low.r < best.high - best.low) best = { p1, p2, high: high.r, low: low.r };
    const beyond = [high, low].filter((q) => Math.abs(q.r - p0) > error + PLANE_ACCURACY);
    if (beyond.length === 0 || samples.count + 2 > samples.a.length) break;
    for (const q of beyond) {
      const k = samples.count++;
      samples.a[k] = q.a;
      samples.c[k] = q.c;
      samples.f[k] = q.r + p1 * q.a + p2 * q.c;
    }
  }
  const { p1, p2, high, low } = best as NonNullable<typeof best>;
  const surface = planeSurface(field, high, p1, p2);
  return {
    p0: high,
    p1,
    p2,
    bevel: Math.atan(p2),
    footSlope: Math.atan(p1),
    maxGap: high - low,
    maxRootOpening: widestOpening(
      field,
      shell,
      surface,
      gapsUnder(field, [{ fromA: -field.halfFoot, p0: high, p1, p2 }]),
    ),
    surface,
  };
}

/**
 * The fewest planes, side by side along a, that keep the largest stem gap within `tolerance` (mm).
 *
 * Fewest, because a plane that keeps the tolerance on a stretch keeps it on any part of the stretch: going as far as
 * each plane reaches, from one end, no other way of dividing the foot can be ahead after as many planes. With the number
 * known, the joints are moved to even out the gaps.
 */
export function facetedCut(field: FootField, shell: Shell, tolerance: number, straight: StraightCut): FacetedCut {
  let facets: Facet[] = [
    {
      fromA: -field.halfFoot,
      toA: field.halfFoot,
      p0: straight.p0,
      p1: straight.p1,
      p2: straight.p2,
      bevel: straight.bevel,
      footSlope: straight.footSlope,
      maxGap: straight.maxGap,
    },
  ];
  let withinTolerance = straight.maxGap <= tolerance;
  if (!withinTolerance) {
    const all = new FacetFinder(
      field,
      Array.from(field.c, (_, j) => j),
    );
    const floor = all.worstColumn();
    withinTolerance = floor <= tolerance;
    // Where the shell bends through the thickness, more facets do not help: keep what can be kept.
    const kept = withinTolerance ? tolerance : floor * 1.05 + 0.01;
    facets = fewestFacets(field, all, floor, kept);
  }
  const breaks = [...facets.map((q) => q.fromA), field.halfFoot];
  const surface: FootSurface = {
    breaks,
    height(a, c, fromLeft = false) {
      let q = facets[0] as Facet;
      for (const next of facets) if (fromLeft ? a > next.fromA : a >= next.fromA) q = next;
      return q.p0 + q.p1 * a + q.p2 * c;
    },
  };
  return {
    facets,
    withinTolerance,
    maxGap: Math.max(...facets.map((q) => q.maxGap)),
    maxRootOpening: widestOpening(field, shell, surface, gapsUnder(field, facets)),
    surface,
  };
}

/** The facet raised until it clears the shell between the grid's nodes too. */
function settled(field: FootField, q: Facet): Facet {
  const { high, low } = reachFrom(field, q.p1, q.p2, q.fromA, q.toA);
  return { ...q, p0: high.r, maxGap: high.r - low.r };
}

/** Fewest facets that keep `kept`, then the joints (on grid columns) moved to even out the gaps. */
function fewestFacets(field: FootField, all: FacetFinder, floor: number, kept: number): Facet[] {
  const { halfFoot } = field;
  // Faces and mid-thickness tell nearly all of a facet's gap; the finished facet is measured on the whole.
  const few = new FacetFinder(field, [0, (field.c.length - 1) >> 1, field.c.length - 1]);
  const finished = (q: Facet) => settled(field, all.facet(q.fromA, q.toA));
  let facets: Facet[] = [];
  for (let from = -halfFoot; from < halfFoot; from = (facets.at(-1) as Facet).toA) {
    // What stands out between rows and columns is allowed for where it breaks the tolerance.
    let allowance = 0;
    let next = finished(few.reach(from, kept, true));
    for (let round = 0; round < 8 && next.maxGap > kept + PLANE_ACCURACY && kept - allowance > floor; round++) {
      allowance += next.maxGap - kept + PLANE_ACCURACY;
      next = finished(few.reach(from, kept - allowance, true));
    }
    facets.push(next);
  }
  let lo = floor;
  let hi = kept;
  let evened: Facet[] | undefined;
  for (let i = 0; i < 5 && facets.length > 1; i++) {
    const mid = (lo + hi) / 2;
    const tried = few.greedy(mid, facets.length);
    if ((tried.at(-1) as Facet).toA === halfFoot) {
      evened = tried;
      hi = mid;
    } else lo = mid;
  }
  const widest = (list: readonly Facet[]) => Math.max(...list.map((q) => q.maxGap));
  if (evened) {
    const even = evened.map(finished);
    if (widest(even) <= widest(facets)) facets = even;
  }
  return facets;
}

/** For each a a straight line through the thickness that meets f on both faces, raised as a whole until it clears. */
export function scribedCut(field: FootField, shell: Shell): ScribedCut {
  const { halfFoot } = field;
  const bulge = throughThickness(field);
  const { high, low } = extremesOn(field, bulge, -halfFoot, halfFoot);
  const raised = Math.max(0, high.r);
  const deepest = Math.min(0, low.r);
  const surface: FootSurface = {
    breaks: Array.from(field.a),
    height: (x, y) => bulge.chord(x, y) + raised,
  };
  const maxRootOpening = widestOpening(field, shell, surface, gapsUnderChords(field, raised));
  return { raised, maxGap: raised - deepest, maxRootOpening, surface };
}

/** Foot height less the straight line through the thickness between the two faces, with that line itself. */
function throughThickness(field: FootField): Surveyed & { chord(x: number, y: number): number } {
  const { a, c, f, fa, fc, halfThickness: half } = field;
  const nc = c.length;
  const r = new Float64Array(f.length);
  const ra = new Float64Array(f.length);
  const rc = new Float64Array(f.length);
  for (let i = 0; i < a.length; i++) {
    const k = i * nc;
    const e = k + nc - 1;
    const slope = ((f[e] as number) - (f[k] as number)) / (2 * half);
    for (let j = 0; j < nc; j++) {
      const w = ((c[j] as number) + half) / (2 * half);
      r[k + j] = (f[k + j] as number) - ((1 - w) * (f[k] as number) + w * (f[e] as number));
      ra[k + j] = (fa[k + j] as number) - ((1 - w) * (fa[k] as number) + w * (fa[e] as number));
      rc[k + j] = (fc[k + j] as number) - slope;
    }
  }
  const minus = newHit();
  const plus = newHit();
  const here = newHit();
  let column = Number.NaN;
  let faces = false;
  return {
    r,
    ra,
    rc,
    at(x, y, out) {
      // A search goes along the thickness half the time: the faces then stay as they were.
      if (x !== column) faces = field.cast(x, -half, minus) && field.cast(x, half, plus);
      column = x;
      if (!faces || !field.cast(x, y, here)) return false;
      const w = (y + half) / (2 * half);
      out.r = here.f - (1 - w) * minus.f - w * plus.f;
      out.ra = here.fa - (1 - w) * minus.fa - w * plus.fa;
      out.rc = here.fc - (plus.f - minus.f) / (2 * half);
      return true;
    },
    chord(x, y) {
      const w = (y + half) / (2 * half);
      const i = cellOf(a, x);
      const k = a[i] === x ? i : a[i + 1] === x ? i + 1 : -1;
      if (k >= 0) return (1 - w) * (f[k * nc] as number) + w * (f[k * nc + nc - 1] as number);
      column = Number.NaN;
      field.cast(x, -half, minus);
      field.cast(x, half, plus);
      return (1 - w) * minus.f + w * plus.f;
    },
  };
}

/** Shortest distance from the foot's cut at (a, c) to the shell, mm; f is the foot height there. */
export function rootOpening(
  field: FootField,
  shell: Shell,
  surface: FootSurface,
  a: number,
  c: number,
  f: number,
): number {
  const k = surface.height(a, c);
  if (k - f <= PLANE_ACCURACY) return 0;
  field.near(a, c, nearby);
  return shell.closest(toShip(field.frame, a, k, c), nearby).distance;
}

const nearby = newHit();

/**
 * Widest root opening over the foot, from the stem gaps at its nodes. Near the shell the shortest distance is the stem gap times the cosine between stem
 * and normal, so that picks the candidates; the distance itself is then measured at the best few.
 */
function widestOpening(field: FootField, shell: Shell, surface: FootSurface, gaps: Float64Array): number {
  const { a, c, f, facing } = field;
  const nc = c.length;
  // The greatest so far with their nodes, in falling order.
  const sizes = new Float64Array(MEASURED);
  const nodes = new Int32Array(MEASURED);
  let found = 0;
  for (let k = 0; k < f.length; k++) {
    const size = (gaps[k] as number) * (facing[k] as number);
    if (size <= (sizes[MEASURED - 1] as number)) continue;
    if (found < MEASURED) found++;
    let at = found - 1;
    for (; at > 0 && (sizes[at - 1] as number) < size; at--) {
      sizes[at] = sizes[at - 1] as number;
      nodes[at] = nodes[at - 1] as number;
    }
    sizes[at] = size;
    nodes[at] = k;
  }
  let widest = 0;
  for (let at = 0; at < found; at++) {
    const k = nodes[at] as number;
    const opening = rootOpening(
      field,
      shell,
      surface,
      a[Math.floor(k / nc)] as number,
      c[k % nc] as number,
      f[k] as number,
    );
    widest = Math.max(widest, opening);
  }
  return widest;
}

/** Places at which the widest root opening is measured. */
const MEASURED = 5;

/** Stem gaps at the nodes under planes side by side along a. */
function gapsUnder({ a, c, f }: FootField, facets: readonly Pick<Facet, 'fromA' | 'p0' | 'p1' | 'p2'>[]): Float64Array {
  const out = new Float64Array(f.length);
  let q = 0;
  for (let i = 0, k = 0; i < a.length; i++) {
    const x = a[i] as number;
    while (q + 1 < facets.length && x >= (facets[q + 1] as Facet).fromA) q++;
    const { p0, p1, p2 } = facets[q] as Facet;
    for (let j = 0; j < c.length; j++, k++) out[k] = p0 + p1 * x + p2 * (c[j] as number) - (f[k] as number);
  }
  return out;
}

/** Stem gaps at the nodes under the straight lines from face to face, raised. */
function gapsUnderChords({ a, c, f, halfThickness: half }: FootField, raised: number): Float64Array {
  const out = new Float64Array(f.length);
  const nc = c.length;
  for (let i = 0, k = 0; i < a.length; i++) {
    const minus = f[i * nc] as number;
    const plus = f[i * nc + nc - 1] as number;
    for (let j = 0; j < nc; j++, k++) {
      const w = ((c[j] as number) + half) / (2 * half);
      out[k] = (1 - w) * minus + w * plus + raised - (f[k] as number);
    }
  }
  return out;
}

function planeSurface(field: FootField, p0: number, p1: number, p2: number): FootSurface {
  return {
    breaks: [-field.halfFoot, field.halfFoot],
    height: (a, c) => p0 + p1 * a + p2 * c,
  };
}

interface Growable extends HeightSamples {
  readonly a: Float64Array;
  readonly c: Float64Array;
  readonly f: Float64Array;
  count: number;
}

/** Samples of a stretch with their slopes along a and the smooth part of the shell that they lie on. */
interface Stretch extends Growable {
  readonly fa: Float64Array;
  readonly region: Int32Array;
}

/** The grid as a list of samples, with room for more. */
function growable(field: FootField, more: number): Growable {
  const na = field.a.length;
  const nc = field.c.length;
  const size = na * nc;
  const a = new Float64Array(size + more);
  const c = new Float64Array(size + more);
  const f = new Float64Array(size + more);
  f.set(field.f);
  for (let i = 0; i < na; i++) {
    for (let j = 0; j < nc; j++) {
      a[i * nc + j] = field.a[i] as number;
      c[i * nc + j] = field.c[j] as number;
    }
  }
  return { a, c, f, count: size };
}

/** Nodes of the four corners, round the rectangle. */
function cornerNodes(field: FootField): [number, number, number, number] {
  const nc = field.c.length;
  const last = (field.a.length - 1) * nc;
  return [0, last, last + nc - 1, nc - 1];
}

/** Planes on stretches of the foot, by the rows that are asked for. Scratch arrays are made once. */
class FacetFinder {
  private readonly field: FootField;
  private readonly rows: readonly number[];
  /** The grid's rows, column by column, as a list of samples: a stretch between columns is a part of it. */
  private readonly grid: Stretch;
  private readonly scratch: Stretch;
  private readonly hit = newHit();

  constructor(field: FootField, rows: readonly number[]) {
    this.field = field;
    this.rows = rows;
    const nc = field.c.length;
    const size = field.a.length * rows.length;
    const blank = (n: number): Stretch => ({
      a: new Float64Array(n),
      c: new Float64Array(n),
      f: new Float64Array(n),
      fa: new Float64Array(n),
      region: new Int32Array(n),
      count: 0,
    });
    this.grid = blank(size);
    this.scratch = blank(size + 2 * rows.length);
    for (let i = 0; i < field.a.length; i++) {
      for (const j of rows) {
        const k = this.grid.count++;
        this.grid.a[k] = field.a[i] as number;
        this.grid.c[k] = field.c[j] as number;
        this.grid.f[k] = field.f[i * nc + j] as number;
        this.grid.fa[k] = field.fa[i * nc + j] as number;
        this.grid.region[k] = field.region[i * nc + j] as number;
      }
    }
  }

  /** Least gap that a straight line through the thickness leaves at the worst column: no facet can do better there. */
  worstColumn(): number {
    const { a, c, f } = this.field;
    const nc = c.length;
    let worst = 0;
    for (let i = 0; i < a.length; i++) worst = Math.max(worst, lineGap(c, f.subarray(i * nc, (i + 1) * nc)));
    return worst;
  }

  /** Facets from a = -foot/2 on, each as long as the tolerance lets it be, joints on grid columns, `most` at most. */
  greedy(tolerance: number, most: number): Facet[] {
    const { halfFoot } = this.field;
    const facets: Facet[] = [];
    for (let from = -halfFoot; from < halfFoot && facets.length < most; from = (facets.at(-1) as Facet).toA) {
      facets.push(this.reach(from, tolerance, false));
    }
    return facets;
  }

  /** The facet from `from` on that is as long as the tolerance lets it be; its end on a grid column unless `exact`. */
  reach(from: number, tolerance: number, exact: boolean): Facet {
    const { a, halfFoot } = this.field;
    const most = tolerance + PLANE_ACCURACY;
    const keeps = (q: Facet) => q.maxGap <= most;
    let good = this.facet(from, halfFoot, most);
    if (keeps(good)) return good;
    let lo = 0;
    while (lo < a.length && (a[lo] as number) <= from) lo++;
    let hi = a.length - 1;
    let next = this.facet(from, a[lo] as number, most);
    let bad = a[hi] as number;
    if (!keeps(next)) bad = a[lo] as number;
    else {
      good = next;
      while (hi - lo > 1) {
        const mid = (lo + hi) >> 1;
        next = this.facet(from, a[mid] as number, most);
        if (keeps(next)) {
          lo = mid;
          good = next;
        } else {
          hi = mid;
          bad = a[mid] as number;
        }
      }
    }
    if (!exact && keeps(good)) return good;
    let reach = keeps(good) ? good.toA : from;
    for (let i = 0; i < 24 && bad - reach > 0.01; i++) {
      const mid = (reach + bad) / 2;
      next = this.facet(from, mid, most);
      if (keeps(next)) {
        reach = mid;
        good = next;
      } else bad = mid;
    }
    // A stretch that cannot be kept at all is taken whole rather than cut into slivers.
    return reach === from ? this.facet(from, a[Math.min(a.length - 1, lo)] as number) : good;
  }

  /**
   * Best plane on a stretch. Ends on grid columns are taken from the grid, others are cast. Where none keeps its gap within
   * `most`, any that does not.
   */
  facet(fromA: number, toA: number, most = Number.POSITIVE_INFINITY): Facet {
    const { a } = this.field;
    const rows = this.rows.length;
    let i0 = 0;
    while ((a[i0] as number) < fromA) i0++;
    let i1 = a.length - 1;
    while ((a[i1] as number) > toA) i1--;
    if (a[i0] === fromA && a[i1] === toA) return this.planeOn(this.grid, i0 * rows, (i1 + 1) * rows, fromA, toA, most);
    const { scratch } = this;
    scratch.count = 0;
    if (a[i0] !== fromA) this.castColumn(fromA);
    const n = scratch.count;
    for (const key of ['a', 'c', 'f', 'fa', 'region'] as const) {
      scratch[key].set(this.grid[key].subarray(i0 * rows, (i1 + 1) * rows), n);
    }
    scratch.count = n + Math.max(0, i1 + 1 - i0) * rows;
    if (a[i1] !== toA) this.castColumn(toA);
    return this.planeOn(scratch, 0, scratch.count, fromA, toA, most);
  }

  private castColumn(x: number): void {
    const { scratch, field } = this;
    for (const j of this.rows) {
      const y = field.c[j] as number;
      field.cast(x, y, this.hit);
      const k = scratch.count++;
      scratch.a[k] = x;
      scratch.c[k] = y;
      scratch.f[k] = this.hit.f;
      scratch.fa[k] = this.hit.fa;
      scratch.region[k] = this.hit.region;
    }
  }

  private planeOn(samples: Stretch, from: number, to: number, fromA: number, toA: number, most: number): Facet {
    const rows = this.rows.length;
    const corners = [from, to - rows, to - 1, from + rows - 1] as const;
    // The gap is twice the error at least.
    const plane = minimaxPlane(samples, corners, PLANE_ACCURACY, from, to, most / 2);
    const { p1, p2 } = plane;
    const { a, c, f, fa, region } = samples;
    let high = Number.NEGATIVE_INFINITY;
    let low = Number.POSITIVE_INFINITY;
    const see = (r: number) => {
      if (r > high) high = r;
      if (r < low) low = r;
    };
    for (let i = from; i < to; i++) {
      const r = (f[i] as number) - p1 * (a[i] as number) - p2 * (c[i] as number);
      see(r);
      const k = i + rows;
      if (k >= to || region[k] !== region[i]) continue;
      // Between two columns on one smooth part: a cubic by heights and slopes, looked at where it turns.
      const m0 = (fa[i] as number) - p1;
      const m1 = (fa[k] as number) - p1;
      if (m0 * m1 < 0) {
        const h = (a[k] as number) - (a[i] as number);
        see(cubicTurn(r, (f[k] as number) - p1 * (a[k] as number) - p2 * (c[k] as number), m0 * h, m1 * h));
      }
    }
    return { fromA, toA, p0: high, p1, p2, bevel: Math.atan(p2), footSlope: Math.atan(p1), maxGap: high - low };
  }
}

/** Turning value, between 0 and 1, of the cubic with values y0, y1 and slopes m0, m1 of different signs there. */
function cubicTurn(y0: number, y1: number, m0: number, m1: number): number {
  const c2 = 3 * (y1 - y0) - 2 * m0 - m1;
  const c3 = m0 + m1 - 2 * (y1 - y0);
  // m0 + 2 c2 t + 3 c3 t^2 = 0 has one root in 0..1, as the slope changes sign there.
  const q = -(c2 + (c2 < 0 ? -1 : 1) * Math.sqrt(Math.max(0, c2 * c2 - 3 * c3 * m0)));
  const t1 = q / (3 * c3);
  const t = t1 >= 0 && t1 <= 1 ? t1 : m0 / q;
  return y0 + t * (m0 + t * (c2 + t * c3));
}

/** Largest gap left by the best straight line above the points (c_j, f_j): their width in the f direction. */
function lineGap(c: Float64Array, f: Float64Array): number {
  // Best line: parallel to one chord of the upper or lower hull; with a handful of points, all chords are tried.
  let best = Number.POSITIVE_INFINITY;
  const n = f.length;
  for (let i = 0; i < n; i++) {
    for (let j = i + 1; j < n; j++) {
      const m = ((f[j] as number) - (f[i] as number)) / ((c[j] as number) - (c[i] as number));
      let high = Number.NEGATIVE_INFINITY;
      let low = Number.POSITIVE_INFINITY;
      for (let k = 0; k < n; k++) {
        const r = (f[k] as number) - m * (c[k] as number);
        if (r > high) high = r;
        if (r < low) low = r;
      }
      if (high - low < best) best = high - low;
    }
  }
  return best;
}

/** Height of the plate's edge above the shell along the stem at (a, c): for drawing and for tests. */
export function stemGap(field: FootField, surface: FootSurface, a: number, c: number): number {
  const hit = newHit();
  field.cast(a, c, hit);
  return surface.height(a, c) - hit.f;
}
