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
  const stretch: Stretch = { of, field, fromA, toA, from: first * nc, to: (last + 1) * nc, ends };
  return { high: extremeOf(stretch, 1), low: extremeOf(stretch, -1) };
}

/** A stretch of the foot: the nodes from..to that lie on it, and its ends where those lie between columns. */
interface Stretch {
  readonly of: Surveyed;
  readonly field: FootField;
  readonly fromA: number;
  readonly toA: number;
  readonly from: number;
  readonly to: number;
  readonly ends: readonly Known[];
}

function surveyColumn({ c }: FootField, of: Surveyed, x: number, out: Known[]): void {
  for (const y of c) {
    const s = { a: x, c: y, r: 0, ra: 0, rc: 0 };
    if (of.at(x, y, s)) out.push(s);
  }
}

/** Greatest (sign 1) or least (sign -1) value on a stretch. */
function extremeOf({ of, field, fromA, toA, from, to, ends }: Stretch, sign: 1 | -1): Extreme {
  const { a, c, halfThickness } = field;
  const { r, ra, rc } = of;
  const nc = c.length;
  const stepA = (2 * field.halfFoot) / (a.length - 1);
  const stepC = (2 * halfThickness) / (nc - 1);
  let most = Number.NEGATIVE_INFINITY;
  let at = -1;
  for (let k = from; k < to; k++) {
    const value = sign * (r[k] as number);
    if (value > most) {
      most = value;
      at = k;
    }
  }
  const nodeAt = (k: number): Extreme => ({
    a: a[Math.floor(k / nc)] as number,
    c: c[k % nc] as number,
    r: r[k] as number,
  });
  let best: Extreme = at < 0 ? { a: fromA, c: 0, r: Number.NEGATIVE_INFINITY * sign } : nodeAt(at);
  for (const q of ends) if (sign * q.r > sign * best.r) best = q;
  // Only then who may still beat it: a list of a few, not of all.
  const floor = sign * best.r + ACCURACY;
  const reach = (value: number, slopeA: number, slopeC: number): number =>
    sign * value + (Math.abs(slopeA) * stepA + Math.abs(slopeC) * stepC) / 2;
  const open: { readonly place: Extreme; readonly bound: number }[] = [];
  for (let k = from; k < to; k++) {
    const bound = reach(r[k] as number, ra[k] as number, rc[k] as number);
    if (bound > floor) open.push({ place: nodeAt(k), bound });
  }
  for (const q of ends) {
    const bound = reach(q.r, q.ra, q.rc);
    if (bound > floor) open.push({ place: q, bound });
  }
  open.sort((p, q) => q.bound - p.bound);
  for (const { place, bound } of open.slice(0, MOST_CANDIDATES)) {
    if (bound <= sign * best.r + ACCURACY) break;
    const top = climb(of, place, sign, stepA, stepC, fromA, toA, halfThickness);
    if (sign * top.r > sign * best.r) best = top;
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
  if (atLo > 0 && atHi < 0) return bracketedRoot(slope, lo, hi, accuracy);
  if (atLo >= 0 && atHi > 0) return hi;
  if (atLo < 0 && atHi <= 0) return lo;
  return undefined;
}
