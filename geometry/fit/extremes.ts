import { newHit } from '../hull/shell.ts';
import { bracketedRoot, goldenMaximum } from '../math/roots.ts';
import type { FootField } from './footfield.ts';

/** A smooth function over the foot's rectangle with its slopes along a and c. */
export interface Survey {
  r: number;
  ra: number;
  rc: number;
}

/** A function over the foot: its value and slopes at the field's nodes, in their order, and anywhere. */
export interface Surveyed {
  readonly r: Float64Array;
  readonly ra: Float64Array;
  readonly rc: Float64Array;
  /** False where it is not defined. */
  at(a: number, c: number, out: Survey): boolean;
}

export interface Extreme {
  readonly a: number;
  readonly c: number;
  readonly r: number;
}

/** Residual f - p1 a - p2 c of the foot heights from a plane through b = 0. */
export function planeResidual(field: FootField, p1: number, p2: number): Surveyed {
  const { a, c, f, fa, fc } = field;
  const nc = c.length;
  const r = new Float64Array(f.length);
  const ra = new Float64Array(f.length);
  const rc = new Float64Array(f.length);
  for (let i = 0, k = 0; i < a.length; i++) {
    const rise = p1 * (a[i] as number);
    for (let j = 0; j < nc; j++, k++) {
      r[k] = (f[k] as number) - rise - p2 * (c[j] as number);
      ra[k] = (fa[k] as number) - p1;
      rc[k] = (fc[k] as number) - p2;
    }
  }
  const hit = newHit();
  return {
    r,
    ra,
    rc,
    at(x, y, out) {
      if (!field.cast(x, y, hit)) return false;
      out.r = hit.f - p1 * x - p2 * y;
      out.ra = hit.fa - p1;
      out.rc = hit.fc - p2;
      return true;
    },
  };
}

/** mm. How close the greatest value is pinned down. */
const ACCURACY = 1e-9;
/** Candidates that are looked into at most; more than a few are needed only on ridges, where any of them will do. */
const MOST_CANDIDATES = 12;

/** A place where the function is known, on the way to an extreme. */
interface Known extends Extreme, Survey {
  readonly a: number;
  readonly c: number;
  r: number;
}

/**
 * Greatest and least value on the stretch fromA..toA of the foot, between the nodes too. A summit has a node within half a
 * step; going on from there as steeply as at the node leads higher than a rounded summit is. Nodes rank by that and are
 * looked into in turn, until no other can do better.
 */
export function extremesOn(
  field: FootField,
  of: Surveyed,
  fromA: number,
  toA: number,
): { readonly high: Extreme; readonly low: Extreme } {
  const { a } = field;
  const nc = field.c.length;
  let first = 0;
  while ((a[first] as number) < fromA) first++;
  let last = a.length - 1;
  while ((a[last] as number) > toA) last--;
  const ends: Known[] = [];
  if (a[first] !== fromA) surveyColumn(field, of, fromA, ends);
  if (a[last] !== toA && toA !== fromA) surveyColumn(field, of, toA, ends);
  const stretch: Stretch = { of, field, fromA, toA, ends };
  const from = first * nc;
  const to = (last + 1) * nc;
  const { r, ra, rc } = of;
  let most = Number.NEGATIVE_INFINITY;
  let least = Number.POSITIVE_INFINITY;
  let highest = -1;
  let lowest = -1;
  for (let k = from; k < to; k++) {
    const value = r[k] as number;
    if (value > most) {
      most = value;
      highest = k;
    }
    if (value < least) {
      least = value;
      lowest = k;
    }
  }
  for (const q of ends) {
    if (q.r > most) most = q.r;
    if (q.r < least) least = q.r;
  }
  // Only then who may still beat them: two lists of a few, not of all.
  const above: number[] = [];
  const below: number[] = [];
  const halfA = field.halfFoot / (a.length - 1);
  const halfC = field.halfThickness / (nc - 1);
  for (let k = from; k < to; k++) {
    const reach = Math.abs(ra[k] as number) * halfA + Math.abs(rc[k] as number) * halfC;
    if ((r[k] as number) + reach > most + ACCURACY) above.push(k);
    if (reach - (r[k] as number) > ACCURACY - least) below.push(k);
  }
  return { high: extremeOf(stretch, 1, highest, above), low: extremeOf(stretch, -1, lowest, below) };
}

/** A stretch of the foot, with its ends where those lie between columns. */
interface Stretch {
  readonly of: Surveyed;
  readonly field: FootField;
  readonly fromA: number;
  readonly toA: number;
  readonly ends: readonly Known[];
}

/** A place that may lead higher than the best: how high at most, its node (-1: none), and where a climb from it ended. */
interface Rival {
  readonly place: Extreme;
  readonly bound: number;
  readonly node: number;
  top?: Extreme;
}

/** Enters a rival after those whose bound is as high or higher; no more are kept than are looked into. */
function enter(open: Rival[], rival: Rival): void {
  let at = open.length;
  while (at > 0 && (open[at - 1] as Rival).bound < rival.bound) at--;
  open.splice(at, 0, rival);
  if (open.length > MOST_CANDIDATES) open.pop();
}

function surveyColumn({ c }: FootField, of: Surveyed, x: number, out: Known[]): void {
  for (const y of c) {
    const s = { a: x, c: y, r: 0, ra: 0, rc: 0 };
    if (of.at(x, y, s)) out.push(s);
  }
}

/** Greatest (sign 1) or least (sign -1) value on a stretch, from the best of its nodes and those that may beat it. */
function extremeOf(
  { of, field, fromA, toA, ends }: Stretch,
  sign: 1 | -1,
  bestNode: number,
  rivals: readonly number[],
): Extreme {
  const { a, c, halfThickness } = field;
  const { r, ra, rc } = of;
  const nc = c.length;
  const stepA = (2 * field.halfFoot) / (a.length - 1);
  const stepC = (2 * halfThickness) / (nc - 1);
  const node = (k: number): Extreme => ({
    a: a[Math.floor(k / nc)] as number,
    c: c[k % nc] as number,
    r: r[k] as number,
  });
  let best: Extreme = bestNode < 0 ? { a: fromA, c: 0, r: Number.NEGATIVE_INFINITY * sign } : node(bestNode);
  for (const q of ends) if (sign * q.r > sign * best.r) best = q;
  const open: Rival[] = [];
  for (const k of rivals) {
    const bound = sign * (r[k] as number) + (Math.abs(ra[k] as number) * stepA + Math.abs(rc[k] as number) * stepC) / 2;
    if (open.length < MOST_CANDIDATES || bound > (open[MOST_CANDIDATES - 1] as Rival).bound) {
      enter(open, { place: node(k), bound, node: k });
    }
  }
  for (const q of ends) {
    const bound = sign * q.r + (Math.abs(q.ra) * stepA + Math.abs(q.rc) * stepC) / 2;
    enter(open, { place: q, bound, node: -1 });
  }
  const above = (q: Rival): boolean => q.bound > sign * best.r + ACCURACY;
  const topFrom = (q: Rival): Extreme => {
    q.top ??= climb(of, q.place, sign, stepA, stepC, fromA, toA, halfThickness);
    return q.top;
  };
  const beats = (top: Extreme): boolean => sign * top.r > sign * best.r;
  // Where the best is a node that nothing leads on from, and no summit near another node beats it, plain slopes lead no higher.
  const slopes = bestNode >= 0 && { r: 0, ra: ra[bestNode] as number, rc: rc[bestNode] as number };
  const ended = slopes && best.r === r[bestNode] && settled(best, slopes, sign, fromA, toA, halfThickness);
  const summit = (q: Rival): boolean => above(q) && !onSlope(field, of, q.node) && beats(topFrom(q));
  if (!ended || open.some(summit)) {
    for (const q of open) {
      if (!above(q)) break;
      const top = topFrom(q);
      if (beats(top)) best = top;
    }
  }
  const s: Survey = { r: 0, ra: 0, rc: 0 };
  for (let round = 0; round < 4; round++) {
    if (of.at(best.a, best.c, s) && settled(best, s, sign, fromA, toA, halfThickness)) break;
    const along = followRidge(of, best, sign, stepA, stepC, fromA, toA, halfThickness);
    if (sign * (along.r - best.r) < ACCURACY) break;
    best = along;
  }
  return best;
}

/**
 * True where a node and all that neighbour it rise the same way along a, and along c: near by there is no summit. Not said where
 * a knuckle has columns and rows of its own: the neighbours are then nearer than a step.
 */
function onSlope(field: FootField, { ra, rc }: Surveyed, k: number): boolean {
  if (k < 0 || field.knuckles.length > 0) return false;
  const nc = field.c.length;
  const j = k % nc;
  const here = k - j;
  const riseA = ra[k] as number;
  const riseC = rc[k] as number;
  for (let row = Math.max(0, here - nc); row <= here + nc && row < ra.length; row += nc) {
    for (let q = row + Math.max(0, j - 1); q <= row + Math.min(nc - 1, j + 1); q++) {
      if (!((ra[q] as number) * riseA > 0 && (rc[q] as number) * riseC > 0)) return false;
    }
  }
  return true;
}

/** A slope that is nothing: with the curvature of any shell met here, what is left to climb is below 1e-9 mm. */
const FLAT = 1e-6;

/** True on a rounded summit, or where an edge is all that keeps from climbing on: then no ridge need be followed. */
function settled(p: Extreme, s: Survey, sign: 1 | -1, fromA: number, toA: number, halfThickness: number): boolean {
  const ra = sign * s.ra;
  const rc = sign * s.rc;
  const inA = Math.abs(ra) < FLAT || (p.a === toA && ra > 0) || (p.a === fromA && ra < 0);
  const inC = Math.abs(rc) < FLAT || (p.c === halfThickness && rc > 0) || (p.c === -halfThickness && rc < 0);
  return inA && inC;
}

/**
 * Where a ridge (a knuckle line, the crown of a bilge) runs askew under the foot, no step along a or along c alone climbs
 * it: for each a near by the best c is found, and the best a of those.
 */
function followRidge(
  of: Surveyed,
  start: Extreme,
  sign: 1 | -1,
  stepA: number,
  stepC: number,
  fromA: number,
  toA: number,
  halfThickness: number,
): Extreme {
  const s: Survey = { r: 0, ra: 0, rc: 0 };
  const lo = Math.max(-halfThickness, start.c - stepC);
  const hi = Math.min(halfThickness, start.c + stepC);
  const bestC = (u: number) => turn((v) => (of.at(u, v, s) ? sign * s.rc : 0), lo, hi, 1e-8 * stepC) ?? start.c;
  const value = (u: number) => (of.at(u, bestC(u), s) ? sign * s.r : Number.NEGATIVE_INFINITY);
  const a = goldenMaximum(value, Math.max(fromA, start.a - stepA), Math.min(toA, start.a + stepA), 1e-5 * stepA);
  const c = bestC(a);
  return of.at(a, c, s) ? { a, c, r: s.r } : start;
}

/** From a place to the extreme near by: along a, along c, and again, each to where the slope changes sign. */
function climb(
  of: Surveyed,
  start: Extreme,
  sign: 1 | -1,
  stepA: number,
  stepC: number,
  fromA: number,
  toA: number,
  halfThickness: number,
): Extreme {
  const s: Survey = { r: 0, ra: 0, rc: 0 };
  let { a: x, c: y, r } = start;
  for (let sweep = 0; sweep < 12; sweep++) {
    const before = r;
    const byA = turn(
      (v) => (of.at(v, y, s) ? sign * s.ra : 0),
      Math.max(fromA, x - stepA),
      Math.min(toA, x + stepA),
      1e-7 * stepA,
    );
    const byC = (u: number) =>
      turn(
        (v) => (of.at(u, v, s) ? sign * s.rc : 0),
        Math.max(-halfThickness, y - stepC),
        Math.min(halfThickness, y + stepC),
        1e-7 * stepC,
      );
    const u = byA ?? x;
    const v = byC(u) ?? y;
    if (!of.at(u, v, s) || sign * s.r <= sign * r) break;
    x = u;
    y = v;
    r = s.r;
    if (Math.abs(r - before) < ACCURACY) break;
  }
  return { a: x, c: y, r };
}

/** Where a slope goes from rising to falling between lo and hi; an end, where it rises or falls throughout. */
function turn(slope: (x: number) => number, lo: number, hi: number, accuracy: number): number | undefined {
  const atLo = slope(lo);
  const atHi = slope(hi);
  if (atLo > 0 && atHi < 0) return bracketedRoot(slope, lo, hi, accuracy, atLo, atHi);
  if (atLo >= 0 && atHi > 0) return hi;
  if (atLo < 0 && atHi <= 0) return lo;
  return undefined;
}
