import type { FootField } from '../fit/footfield.ts';
import { type RootLine, rootAt, SIDES, type Side } from '../fit/rootline.ts';
import { dot, length, sub, type Vec3 } from '../math/vec.ts';
import { type VentElements, ventElements } from './vent.ts';

/** One stretch of root, welded without a planned stop, from `fromS` to `toS` in the direction of welding. mm along s. */
export interface RootRun {
  readonly run: number;
  readonly fromS: number;
  readonly toS: number;
  readonly side: Side;
  /** Heights (position . up) at its ends, mm. */
  readonly fromHeight: number;
  readonly toHeight: number;
  readonly travel: Travel;
  /** Where gas from the middle of the run comes out; `null` where it lies level or is trapped. */
  readonly ventS: number | null;
  /** True where gas from every part of the run finds its way out open when that part is welded. */
  readonly ventOpen: boolean;
  /** Length of the run welded against a closed vent, mm. */
  readonly sealed: number;
  /** Length of the run whose gas is trapped inside, whatever the order, mm. */
  readonly trapped: number;
  /** Caller's position label that holds along the run. */
  readonly label: number;
}

/** Which way the diver goes: the ship's direction that the run follows most, and how steeply it climbs. */
export interface Travel {
  readonly towards: 'forward' | 'aft' | 'outboard' | 'inboard' | 'up' | 'down';
  /** rad above the horizontal, from end to end. */
  readonly climb: number;
}

export interface RootSequence {
  readonly start: { readonly s: number; readonly side: Side };
  readonly finish: { readonly s: number; readonly side: Side };
  readonly runs: readonly RootRun[];
  /** Total length welded against a closed vent, mm. */
  readonly sealedLength: number;
  readonly trappedLength: number;
  /** High point inside the crevice where gas gathers, with the s of the highest root point, where a notch would free it. */
  readonly trap: { readonly a: number; readonly c: number; readonly height: number; readonly notchS: number } | null;
  /** True where the root has no lowest point that matters: the order is one of convenience. */
  readonly level: boolean;
  readonly elements: VentElements;
}

export interface SequenceOptions {
  /** mm. Longest run. */
  readonly runLength: number;
  /** mm. Heights that differ by less are level. */
  readonly level: number;
  /** A number per root sample; a run does not cross from one to another (welding position). */
  readonly labels: ArrayLike<number>;
  readonly lowest: { readonly s: number; readonly height: number };
  readonly highest: { readonly s: number; readonly height: number };
  /** Which way is outboard: +1 where that is +y. */
  readonly outboard: 1 | -1;
}

/** mm. Pieces shorter than this are not worth a stop of their own. */
const LEAST_PIECE = 12;

/** mm. Places whose heights differ by less serve alike as the lowest or the highest. */
const SAME_HEIGHT = 0.02;

/** A stretch between break points, before it is directed and ordered. */
interface Piece {
  s0: number;
  s1: number;
  side: number;
  label: number;
  /** +1: welded in the direction of s. */
  sense: 1 | -1;
  /** Heights where it starts and ends, and its mean, mm. */
  start: number;
  end: number;
  mean: number;
}

/**
 * Order of the root: every run goes uphill, starts at the lowest point and closes at the highest, and no run is laid
 * while another that its gas comes out through is already welded, wherever an order exists that avoids it.
 *
 * Gas of a root point comes out at a higher one. Runs are the pieces between corners, changes of position and turning
 * points of height; run i must come before run j where gas from i comes out along j. If these demands go round in a
 * circle, the runs in the circle are split where the vents fall and it is tried again: ordered point by point by height
 * no demand is broken, so splitting ends.
 */
export function rootSequence(field: FootField, root: RootLine, up: Vec3, options: SequenceOptions): RootSequence {
  const elements = ventElements(field, root, up);
  const heightAt = (s: number) => dot(rootAt(root, s).position, up);
  const level = options.highest.height - options.lowest.height < options.level;
  const breaks = firstBreaks(root, up, options, level);
  let order: Order | undefined;
  for (let round = 0; round < 8; round++) {
    const pieces = piecesBetween(root, breaks, options, heightAt, level);
    const tried = orderOf(pieces, elements, options, level);
    if (!order || tried.sealed < order.sealed - 1e-9) order = tried;
    if (tried.sealed <= 1e-9 || tried.splits.length === 0) break;
    const count = breaks.length;
    for (const s of tried.splits) if (breaks.every((b) => Math.abs(b - s) > 1e-6)) breaks.push(s);
    breaks.sort((p, q) => p - q);
    if (breaks.length === count) break;
  }
  const best = order as Order;

  const runs: RootRun[] = best.sequence.map((p, k) => {
    const piece = best.pieces[p] as Piece;
    const fromS = piece.sense > 0 ? piece.s0 : piece.s1;
    const toS = piece.sense > 0 ? piece.s1 : piece.s0;
    const sealed = best.sealedOf[p] as number;
    let trapped = 0;
    let ventS: number | null = null;
    let nearest = Number.POSITIVE_INFINITY;
    for (let e = 0; e < elements.count; e++) {
      if (best.pieceOf[e] !== p) continue;
      const vent = elements.vents[e] as VentElements['vents'][number];
      const mid = ((elements.s0[e] as number) + (elements.s1[e] as number)) / 2;
      if (vent.kind === 'trapped') trapped += (elements.s1[e] as number) - (elements.s0[e] as number);
      const off = Math.abs(mid - (piece.s0 + piece.s1) / 2);
      if (off < nearest) {
        nearest = off;
        ventS = vent.kind === 'out' || vent.kind === 'self' ? vent.s : null;
      }
    }
    const p0 = rootAt(root, fromS + 1e-9 * piece.sense).position;
    const p1 = rootAt(root, toS - 1e-9 * piece.sense).position;
    return {
      run: k + 1,
      fromS,
      toS,
      side: SIDES[piece.side] as Side,
      fromHeight: dot(p0, up),
      toHeight: dot(p1, up),
      travel: travelOf(p0, p1, up, options.outboard),
      ventS,
      ventOpen: sealed <= 1e-9 && trapped === 0,
      sealed,
      trapped,
      label: piece.label,
    };
  });
  const first = runs[0] as RootRun;
  const last = runs[runs.length - 1] as RootRun;
  const trappedLength = runs.reduce((sum, r) => sum + r.trapped, 0);
  return {
    start: { s: onCurve(root, first.fromS), side: first.side },
    finish: { s: onCurve(root, last.toS), side: last.side },
    runs,
    sealedLength: best.sealed,
    trappedLength,
    trap: trapOf(elements, field, up, options),
    level,
    elements,
  };
}

/** The corner where s closes has one name: 0. */
const onCurve = (root: RootLine, s: number): number => (Math.abs(s - root.perimeter) < 1e-9 ? 0 : s);

function trapOf(elements: VentElements, field: FootField, up: Vec3, options: SequenceOptions): RootSequence['trap'] {
  for (const vent of elements.vents) {
    if (vent.kind !== 'trapped') continue;
    const { origin: O, foot: A, stem: B, face: C } = field.frame;
    const i = nearestIndex(field.a, vent.a);
    const j = nearestIndex(field.c, vent.c);
    const f = field.f[i * field.c.length + j] as number;
    const height = dot(O, up) + vent.a * dot(A, up) + vent.c * dot(C, up) + f * dot(B, up);
    return { a: vent.a, c: vent.c, height, notchS: options.highest.s };
  }
  return null;
}

function nearestIndex(list: Float64Array, x: number): number {
  let best = 0;
  for (let i = 1; i < list.length; i++) {
    if (Math.abs((list[i] as number) - x) < Math.abs((list[best] as number) - x)) best = i;
  }
  return best;
}

/** Corners; lowest and highest point; turning points of height that stand out; changes of label. */
function firstBreaks(root: RootLine, up: Vec3, options: SequenceOptions, level: boolean): number[] {
  const breaks: number[] = [...root.corners];
  const add = (s: number, least: number) => {
    if (breaks.every((b) => Math.abs(b - s) >= least)) breaks.push(s);
  };
  const height = (k: number) => {
    const p = root.position;
    return up[0] * (p[3 * k] as number) + up[1] * (p[3 * k + 1] as number) + up[2] * (p[3 * k + 2] as number);
  };
  if (!level) {
    for (const spot of [options.lowest, options.highest]) {
      // Where a break already lies as low (as high), that one serves.
      const served = breaks.some((b) => {
        for (let k = 0; k < root.count; k++) {
          if (Math.abs((root.s[k] as number) - b) < 1e-9 && Math.abs(height(k) - spot.height) < SAME_HEIGHT)
            return true;
        }
        return false;
      });
      if (!served) add(spot.s, 1e-3);
    }
    // Turning points on each side that stand out by more than what counts as level.
    let from = 0;
    for (let k = 1; k <= root.count; k++) {
      if (k < root.count && root.side[k] === root.side[from]) continue;
      for (const s of turningPoints(root, height, from, k - 1, options.level)) add(s, LEAST_PIECE);
      from = k;
    }
  }
  for (let k = 1; k < root.count; k++) {
    if (root.side[k] === root.side[k - 1] && options.labels[k] !== options.labels[k - 1]) {
      add(((root.s[k] as number) + (root.s[k - 1] as number)) / 2, LEAST_PIECE);
    }
  }
  return breaks.sort((p, q) => p - q);
}

/** Samples from..to: places where the height turns by more than `least`. */
function turningPoints(
  root: RootLine,
  height: (k: number) => number,
  from: number,
  to: number,
  least: number,
): number[] {
  const out: number[] = [];
  let low = from;
  let high = from;
  let way = 0;
  for (let k = from + 1; k <= to; k++) {
    const h = height(k);
    if (h > height(high)) high = k;
    if (h < height(low)) low = k;
    if (way >= 0 && height(high) - h > least) {
      if (high > from) out.push(root.s[high] as number);
      way = -1;
      low = k;
      high = k;
    } else if (way <= 0 && h - height(low) > least) {
      if (low > from) out.push(root.s[low] as number);
      way = 1;
      high = k;
      low = k;
    }
  }
  return out;
}

function piecesBetween(
  root: RootLine,
  breaks: readonly number[],
  options: SequenceOptions,
  heightAt: (s: number) => number,
  level: boolean,
): Piece[] {
  const pieces: Piece[] = [];
  for (let i = 0; i + 1 < breaks.length; i++) {
    const from = breaks[i] as number;
    const to = breaks[i + 1] as number;
    if (to - from < 1e-9) continue;
    const n = Math.max(1, Math.ceil((to - from) / options.runLength - 1e-9));
    for (let k = 0; k < n; k++) {
      const s0 = from + ((to - from) * k) / n;
      const s1 = from + ((to - from) * (k + 1)) / n;
      const inset = 1e-6 * (s1 - s0);
      const h0 = heightAt(s0 + inset);
      const h1 = heightAt(s1 - inset);
      const mid = (s0 + s1) / 2;
      // A level run has no uphill: it starts where the root is lowest, if that is one of its ends.
      const endsAtLowest = Math.abs(h1 - h0) < SAME_HEIGHT && Math.abs(onCurve(root, s1) - options.lowest.s) < 1e-6;
      const side = SIDES.indexOf(rootAt(root, mid).side);
      pieces.push({
        s0,
        s1,
        side,
        label: labelAt(root, options.labels, mid),
        sense: level || (h1 >= h0 - 1e-9 && !endsAtLowest) ? 1 : -1,
        start: Math.min(h0, h1),
        end: Math.max(h0, h1),
        mean: (h0 + heightAt(mid) + h1) / 3,
      });
    }
  }
  return pieces;
}

function labelAt(root: RootLine, labels: ArrayLike<number>, s: number): number {
  let lo = 0;
  let hi = root.count - 1;
  while (hi - lo > 1) {
    const mid = (lo + hi) >> 1;
    if ((root.s[mid] as number) <= s) lo = mid;
    else hi = mid;
  }
  return (s - (root.s[lo] as number) < (root.s[hi] as number) - s ? labels[lo] : labels[hi]) as number;
}

interface Order {
  readonly pieces: readonly Piece[];
  readonly sequence: readonly number[];
  readonly pieceOf: Int32Array;
  readonly sealedOf: Float64Array;
  readonly sealed: number;
  /** Where splitting would help, as arc lengths. */
  readonly splits: readonly number[];
}

function orderOf(pieces: readonly Piece[], elements: VentElements, options: SequenceOptions, level: boolean): Order {
  const n = pieces.length;
  const at = (s: number, prefer: number): number => {
    const p = pieces[prefer] as Piece;
    if (s >= p.s0 - 1e-9 && s <= p.s1 + 1e-9) return prefer;
    for (let i = 0; i < n; i++) {
      const q = pieces[i] as Piece;
      if (s >= q.s0 - 1e-9 && s <= q.s1 + 1e-9) return i;
    }
    return n - 1;
  };
  const pieceOf = new Int32Array(elements.count);
  const ventPiece = new Int32Array(elements.count).fill(-1);
  const ventS = new Float64Array(elements.count);
  // before[i * n + j]: length of run i whose gas comes out along run j.
  const before = new Float64Array(n * n);
  for (let e = 0; e < elements.count; e++) {
    const mid = ((elements.s0[e] as number) + (elements.s1[e] as number)) / 2;
    const i = at(mid, e > 0 ? (pieceOf[e - 1] as number) : 0);
    pieceOf[e] = i;
    const vent = elements.vents[e] as VentElements['vents'][number];
    if (vent.kind !== 'out') continue;
    const j = at(vent.s, i);
    ventPiece[e] = j;
    ventS[e] = vent.s;
    if (j !== i)
      before[i * n + j] = (before[i * n + j] as number) + (elements.s1[e] as number) - (elements.s0[e] as number);
  }
  // Low runs first; the one that starts lowest at the very start, the one that ends highest at the very end.
  const startsLowest = level ? -1 : startingRun(pieces);
  const endsHighest = level ? -1 : closingRun(pieces);
  const done = new Uint8Array(n);
  const sequence: number[] = [];
  let lastEnd = Number.NaN;
  const sideMean = meanBySide(pieces);
  for (let k = 0; k < n; k++) {
    let best = -1;
    let bestCost = Number.POSITIVE_INFINITY;
    let bestRank = Number.POSITIVE_INFINITY;
    for (let j = 0; j < n; j++) {
      if (done[j]) continue;
      let cost = 0;
      for (let i = 0; i < n; i++) if (!done[i] && i !== j) cost += before[i * n + j] as number;
      const p = pieces[j] as Piece;
      // Side by side from the lowest up, and low runs first on each: the diver finishes one side before going to the next.
      let rank = level ? j : (sideMean[p.side] as number) + 1e-6 * p.mean;
      if (j === startsLowest) rank = Number.NEGATIVE_INFINITY;
      else if (j === endsHighest && n - k > 1) rank = Number.MAX_VALUE;
      // Among runs about as high, go on from where the last one stopped.
      else if (!level && Math.abs(startOf(p) - lastEnd) < 1e-6) rank -= options.level;
      if (cost < bestCost - 1e-9 || (cost < bestCost + 1e-9 && rank < bestRank)) {
        best = j;
        bestCost = cost;
        bestRank = rank;
      }
    }
    done[best] = 1;
    sequence.push(best);
    lastEnd = endOf(pieces[best] as Piece);
  }
  const place = new Int32Array(n);
  sequence.forEach((p, k) => {
    place[p] = k;
  });
  const sealedOf = new Float64Array(n);
  const splits: number[] = [];
  let sealed = 0;
  for (let e = 0; e < elements.count; e++) {
    const j = ventPiece[e] as number;
    if (j < 0) continue;
    const i = pieceOf[e] as number;
    const len = (elements.s1[e] as number) - (elements.s0[e] as number);
    const mid = ((elements.s0[e] as number) + (elements.s1[e] as number)) / 2;
    const out = ventS[e] as number;
    const self = out >= (elements.s0[e] as number) - 1e-9 && out <= (elements.s1[e] as number) + 1e-9;
    let closed = false;
    if (i === j) closed = !self && (pieces[i] as Piece).sense * (out - mid) < 0;
    else closed = (place[j] as number) < (place[i] as number);
    if (!closed) continue;
    sealedOf[i] = (sealedOf[i] as number) + len;
    sealed += len;
    splits.push(elements.s0[e] as number, elements.s1[e] as number, out);
  }
  return { pieces, sequence, pieceOf, sealedOf, sealed, splits: thin(splits) };
}

/** A few of the proposed splits, spread out: all of them at once would chop the root to pieces. */
function thin(splits: readonly number[]): number[] {
  const sorted = [...splits].sort((p, q) => p - q);
  const out: number[] = [];
  for (const s of sorted) if (out.length === 0 || s - (out[out.length - 1] as number) > LEAST_PIECE / 2) out.push(s);
  return out;
}

/** Mean height of the pieces of each side, by length. */
function meanBySide(pieces: readonly Piece[]): Float64Array {
  const sum = new Float64Array(4);
  const len = new Float64Array(4);
  for (const p of pieces) {
    sum[p.side] = (sum[p.side] as number) + p.mean * (p.s1 - p.s0);
    len[p.side] = (len[p.side] as number) + p.s1 - p.s0;
  }
  return sum.map((x, i) => x / (len[i] as number));
}

const startOf = (p: Piece): number => (p.sense > 0 ? p.s0 : p.s1);
const endOf = (p: Piece): number => (p.sense > 0 ? p.s1 : p.s0);

/** Among the runs that start as low as any, the one that lies lowest: the side nearest the keel, not one that climbs away from it. */
function startingRun(pieces: readonly Piece[]): number {
  const bottom = Math.min(...pieces.map((p) => p.start)) + SAME_HEIGHT;
  let best = -1;
  pieces.forEach((p, i) => {
    if (p.start <= bottom && (best < 0 || p.mean < (pieces[best] as Piece).mean - SAME_HEIGHT)) best = i;
  });
  return best;
}

/** Among the runs that end as high as any, the one that lies highest: on a side that is level, not the end that leads up to it. */
function closingRun(pieces: readonly Piece[]): number {
  const top = Math.max(...pieces.map((p) => p.end)) - SAME_HEIGHT;
  let best = -1;
  pieces.forEach((p, i) => {
    if (p.end >= top && (best < 0 || p.mean > (pieces[best] as Piece).mean + SAME_HEIGHT)) best = i;
  });
  return best;
}

function travelOf(p0: Vec3, p1: Vec3, up: Vec3, outboard: 1 | -1): Travel {
  const d = sub(p1, p0);
  const run = length(d);
  const climb = Math.asin(Math.max(-1, Math.min(1, dot(d, up) / run)));
  const steep = Math.abs(climb) > Math.PI / 4;
  if (steep) return { towards: climb > 0 ? 'up' : 'down', climb };
  if (Math.abs(d[0]) >= Math.abs(d[1])) return { towards: d[0] >= 0 ? 'forward' : 'aft', climb };
  return { towards: d[1] * outboard >= 0 ? 'outboard' : 'inboard', climb };
}
