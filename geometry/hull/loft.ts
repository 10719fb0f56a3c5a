import { type Frame, mirrorVec } from '../math/frame.ts';
import { bracketedRoot } from '../math/roots.ts';
import { cubicSpline, intervalOf, SplineSystem } from '../math/spline.ts';
import { ROUND_OFF_MM, ROUND_OFF_UNIT } from '../math/tolerance.ts';
import { addScaled, cross, dot, length, normalize, scale, sub, type Vec3 } from '../math/vec.ts';
import type { Phrase } from '../phrase.ts';
import { Refusal } from '../refusal.ts';
import { chordLengths, smoothRuns } from './curve.ts';
import {
  type CastHit,
  type ClosestPoint,
  copyHit,
  type FootCaster,
  type HullSide,
  newHit,
  type Range,
  type Shell,
  type ShellPoint,
} from './shell.ts';
import type { SplinePoint } from './spec.ts';

/** One section of a loft: its smooth runs, each a spline over chord length. Every section has the same number of runs. */
export interface LoftSection {
  readonly station: number;
  readonly runs: readonly LoftRun[];
}

interface LoftRun {
  /** Chord length so far divided by the run's whole chord length: 0..1. */
  readonly t: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
  /** Direction in which the run starts, for each whole chord length; absent: what the points say. */
  readonly start?: { readonly y: number; readonly z: number };
}

/** mm. How close to the line a cast is brought. */
const CAST_ACCURACY = 1e-8;

/**
 * A smooth surface through sections: S(x, v) = (x, Y(x, v), Z(x, v)).
 *
 * v counts the smooth runs from the centreline outward (0..1 along the first run, 1..2 along the second, ...); within a
 * run it is the share of the run's chord length. Each section is its own cubic spline in v (not-a-knot); at equal v the
 * sections are joined by a cubic spline in x (not-a-knot). Knuckles of neighbouring sections are joined in order, so a
 * knuckle line is a line v = whole number. Between stations the surface is this interpolation and nothing more.
 *
 * On the union of all sections' knots the surface is bicubic in patches; the patches of one v-interval are made when
 * first touched and kept. v < 0 is the starboard half: S(x, -v) is S(x, v) in the mirror.
 */
export class LoftShell implements Shell {
  readonly notes: readonly Phrase[];
  readonly stations: Range;
  readonly runs: number;
  private readonly sections: readonly LoftSection[];
  private readonly x: Float64Array;
  private readonly along: SplineSystem;
  /** Union of the sections' knots, run after run: v values 0 .. runs. */
  private readonly v: Float64Array;
  /** First index into v of each run, and one past the last interval. */
  private readonly runStart: number[];
  private readonly strips: (Float64Array | undefined)[];
  /** Spline coefficients of each section's runs, four a piece, y then z. */
  private readonly curves: { y: Float64Array; z: Float64Array }[][];
  private coarse: Net | undefined;

  constructor(sections: readonly LoftSection[], notes: readonly Phrase[]) {
    this.sections = sections;
    this.notes = notes;
    const n = sections.length;
    this.x = Float64Array.from(sections, (s) => s.station);
    this.stations = { from: this.x[0] as number, to: this.x[n - 1] as number };
    this.along = new SplineSystem(this.x);
    this.runs = (sections[0] as LoftSection).runs.length;
    this.curves = sections.map((s) =>
      s.runs.map((r) => ({
        y: cubicSpline(r.t, r.y, r.start?.y ?? 'not-a-knot', 'not-a-knot'),
        z: cubicSpline(r.t, r.z, r.start?.z ?? 'not-a-knot', 'not-a-knot'),
      })),
    );
    const v: number[] = [0];
    this.runStart = [0];
    for (let k = 0; k < this.runs; k++) {
      const knots = [0, 1];
      for (const s of sections) for (const t of (s.runs[k] as LoftRun).t) knots.push(t);
      knots.sort((p, q) => p - q);
      let last = 0;
      for (const t of knots) {
        if (t - last > 1e-9 && 1 - t > 1e-9) {
          v.push(k + t);
          last = t;
        }
      }
      v.push(k + 1);
      this.runStart.push(v.length - 1);
    }
    this.v = Float64Array.from(v);
    this.strips = new Array(v.length - 1);
  }

  /** Bicubic patches of v-interval m: for each station interval 32 numbers, Y then Z, [x power][v power], local 0..1. */
  private strip(m: number): Float64Array {
    const ready = this.strips[m];
    if (ready) return ready;
    const n = this.x.length;
    const v0 = this.v[m] as number;
    const dv = (this.v[m + 1] as number) - v0;
    const k = Math.min(this.runs - 1, Math.floor(v0 + dv / 2));
    const values = new Float64Array(8 * n);
    for (let i = 0; i < n; i++) {
      const run = (this.sections[i] as LoftSection).runs[k] as LoftRun;
      const j = intervalOf(run.t, v0 - k + dv / 2);
      const h = v0 - k - (run.t[j] as number);
      const curve = this.curves[i]?.[k] as { y: Float64Array; z: Float64Array };
      shiftCubic(curve.y, 4 * j, h, dv, values, 8 * i);
      shiftCubic(curve.z, 4 * j, h, dv, values, 8 * i + 4);
    }
    const out = new Float64Array(32 * (n - 1));
    const bend = new Float64Array(n);
    for (let q = 0; q < 8; q++) {
      this.along.secondDerivatives(values, bend, q, 8);
      for (let i = 0; i + 1 < n; i++) {
        const h = (this.x[i + 1] as number) - (this.x[i] as number);
        const y0 = values[8 * i + q] as number;
        const y1 = values[8 * i + 8 + q] as number;
        const m0 = bend[i] as number;
        const m1 = bend[i + 1] as number;
        // index: 32 i + (q < 4 ? 0 : 16) + 4 * (x power) + (v power)
        const at = 32 * i + (q < 4 ? q : 12 + q);
        out[at] = y0;
        out[at + 4] = y1 - y0 - (h * h * (2 * m0 + m1)) / 6;
        out[at + 8] = (h * h * m0) / 2;
        out[at + 12] = (h * h * (m1 - m0)) / 6;
      }
    }
    this.strips[m] = out;
    return out;
  }

  /**
   * Point and first derivatives at (x, v), 0 <= v; x and v may lie a little outside the data (the outer patches go on).
   * `run` keeps the evaluation on one smooth run and its continuation. Finds the patch and leaves it in s.i, s.m.
   */
  private surface(x: number, v: number, run: number, s: SurfacePoint): void {
    const first = this.runStart[run] as number;
    const last = (this.runStart[run + 1] as number) - 1;
    const knots = this.v;
    // Neighbouring casts lie in neighbouring intervals: walk there from the last one.
    let m = Math.min(last, Math.max(first, s.m));
    while (m < last && v >= (knots[m + 1] as number)) m++;
    while (m > first && v < (knots[m] as number)) m--;
    s.m = m;
    const xs = this.x;
    const lastX = xs.length - 2;
    let i = s.i;
    while (i < lastX && x >= (xs[i + 1] as number)) i++;
    while (i > 0 && x < (xs[i] as number)) i--;
    s.i = i;
    const patch = this.strips[m] ?? this.strip(m);
    const x0 = xs[i] as number;
    const v0 = knots[m] as number;
    const hx = 1 / ((xs[i + 1] as number) - x0);
    const hv = 1 / ((knots[m + 1] as number) - v0);
    const p = (x - x0) * hx;
    const q = (v - v0) * hv;
    const q2 = 2 * q;
    const q3 = 3 * q * q;
    let o = 32 * i;
    // Horner in q for each x power, then in p.
    let a1 = patch[o + 1] as number;
    let a2 = patch[o + 2] as number;
    let a3 = patch[o + 3] as number;
    let r0 = (patch[o] as number) + q * (a1 + q * (a2 + q * a3));
    let d0 = a1 + q2 * a2 + q3 * a3;
    a1 = patch[o + 5] as number;
    a2 = patch[o + 6] as number;
    a3 = patch[o + 7] as number;
    let r1 = (patch[o + 4] as number) + q * (a1 + q * (a2 + q * a3));
    let d1 = a1 + q2 * a2 + q3 * a3;
    a1 = patch[o + 9] as number;
    a2 = patch[o + 10] as number;
    a3 = patch[o + 11] as number;
    let r2 = (patch[o + 8] as number) + q * (a1 + q * (a2 + q * a3));
    let d2 = a1 + q2 * a2 + q3 * a3;
    a1 = patch[o + 13] as number;
    a2 = patch[o + 14] as number;
    a3 = patch[o + 15] as number;
    let r3 = (patch[o + 12] as number) + q * (a1 + q * (a2 + q * a3));
    let d3 = a1 + q2 * a2 + q3 * a3;
    s.y = r0 + p * (r1 + p * (r2 + p * r3));
    s.yx = (r1 + p * (2 * r2 + 3 * p * r3)) * hx;
    s.yv = (d0 + p * (d1 + p * (d2 + p * d3))) * hv;
    o += 16;
    a1 = patch[o + 1] as number;
    a2 = patch[o + 2] as number;
    a3 = patch[o + 3] as number;
    r0 = (patch[o] as number) + q * (a1 + q * (a2 + q * a3));
    d0 = a1 + q2 * a2 + q3 * a3;
    a1 = patch[o + 5] as number;
    a2 = patch[o + 6] as number;
    a3 = patch[o + 7] as number;
    r1 = (patch[o + 4] as number) + q * (a1 + q * (a2 + q * a3));
    d1 = a1 + q2 * a2 + q3 * a3;
    a1 = patch[o + 9] as number;
    a2 = patch[o + 10] as number;
    a3 = patch[o + 11] as number;
    r2 = (patch[o + 8] as number) + q * (a1 + q * (a2 + q * a3));
    d2 = a1 + q2 * a2 + q3 * a3;
    a1 = patch[o + 13] as number;
    a2 = patch[o + 14] as number;
    a3 = patch[o + 15] as number;
    r3 = (patch[o + 12] as number) + q * (a1 + q * (a2 + q * a3));
    d3 = a1 + q2 * a2 + q3 * a3;
    s.z = r0 + p * (r1 + p * (r2 + p * r3));
    s.zx = (r1 + p * (2 * r2 + 3 * p * r3)) * hx;
    s.zv = (d0 + p * (d1 + p * (d2 + p * d3))) * hv;
  }

  /** Second derivatives at (x, v) on the patch that `surface` has just left in s. */
  private bend(x: number, v: number, s: SurfacePoint): void {
    const patch = this.strips[s.m] as Float64Array;
    const hx = 1 / ((this.x[s.i + 1] as number) - (this.x[s.i] as number));
    const hv = 1 / ((this.v[s.m + 1] as number) - (this.v[s.m] as number));
    const p = (x - (this.x[s.i] as number)) * hx;
    const q = (v - (this.v[s.m] as number)) * hv;
    let o = 32 * s.i;
    s.yxx = bendAlong(patch, o, p, q) * hx * hx;
    s.yxv = bendAskew(patch, o, p, q) * hx * hv;
    s.yvv = bendAcross(patch, o, p, q) * hv * hv;
    o += 16;
    s.zxx = bendAlong(patch, o, p, q) * hx * hx;
    s.zxv = bendAskew(patch, o, p, q) * hx * hv;
    s.zvv = bendAcross(patch, o, p, q) * hv * hv;
  }

  private runOf(v: number): number {
    return Math.min(this.runs - 1, Math.max(0, Math.floor(v)));
  }

  private mustHaveStation(station: number): void {
    const { from, to } = this.stations;
    if (!(station >= from - ROUND_OFF_MM && station <= to + ROUND_OFF_MM)) {
      throw new Refusal(
        'beyond-data',
        'at.station',
        [{ mm: station }],
        ['between ', { mm: from }, ' and ', { mm: to }],
      );
    }
  }

  girthRange(station: number): Range {
    this.mustHaveStation(station);
    return { from: 0, to: this.girthTable(station).girth.at(-1) as number };
  }

  private cachedTable: GirthTable | undefined;

  /** Girth against v along the section at a station. */
  private girthTable(station: number): GirthTable {
    if (this.cachedTable?.station === station) return this.cachedTable;
    const weights = this.stationWeights(station);
    const { v, slopes } = this.girthNodes();
    const n = this.sections.length;
    const girth = new Float64Array(v.length);
    for (let j = 1, k = 0; j < v.length; j++) {
      const half = ((v[j] as number) - (v[j - 1] as number)) / 2;
      let sum = 0;
      for (let g = 0; g < 4; g++) {
        let yv = 0;
        let zv = 0;
        for (let i = 0; i < n; i++, k += 2) {
          yv += (weights[i] as number) * (slopes[k] as number);
          zv += (weights[i] as number) * (slopes[k + 1] as number);
        }
        sum += half * (GAUSS4_W[g] as number) * Math.hypot(yv, zv);
      }
      girth[j] = (girth[j - 1] as number) + sum;
    }
    this.cachedTable = { station, weights, v, girth };
    return this.cachedTable;
  }

  private cachedNodes: { readonly v: Float64Array; readonly slopes: Float64Array } | undefined;

  /**
   * Where girth is measured, whatever the station: ends v of the parts, and at the four Gauss points of each part the slopes
   * dy/dv, dz/dv of every given section. A section between is a weighted sum of these.
   */
  private girthNodes() {
    if (this.cachedNodes) return this.cachedNodes;
    // Four parts to a span of the section with most points: the splines' kinks in the third derivative do no harm there.
    const parts = Array.from(
      { length: this.runs },
      (_, k) => 4 * Math.max(...this.sections.map((s) => (s.runs[k] as LoftRun).t.length - 1)),
    );
    const count = parts.reduce((sum, n) => sum + n, 0);
    const v = new Float64Array(count + 1);
    const slopes = new Float64Array(count * 4 * this.sections.length * 2);
    const d = { y: 0, z: 0, yv: 0, zv: 0 };
    let at = 0;
    let to = 0;
    parts.forEach((n, k) => {
      for (let j = 0; j < n; j++) {
        const mid = k + (j + 0.5) / n;
        const half = 0.5 / n;
        for (let g = 0; g < 4; g++) {
          for (let i = 0; i < this.sections.length; i++) {
            this.givenAt(i, mid + half * (GAUSS4_X[g] as number), k, d);
            slopes[to++] = d.yv;
            slopes[to++] = d.zv;
          }
        }
        v[++at] = k + (j + 1) / n;
      }
    });
    this.cachedNodes = { v, slopes };
    return this.cachedNodes;
  }

  /** Weight of each given section in the section at `station`. */
  private stationWeights(station: number): Float64Array {
    const n = this.x.length;
    const i = intervalOf(this.x, station);
    const h = (this.x[i + 1] as number) - (this.x[i] as number);
    const p = (station - (this.x[i] as number)) / h;
    const unit = new Float64Array(n);
    const bend = new Float64Array(n);
    const weights = new Float64Array(n);
    for (let j = 0; j < n; j++) {
      unit.fill(0);
      unit[j] = 1;
      this.along.secondDerivatives(unit, bend);
      const m0 = bend[i] as number;
      const m1 = bend[i + 1] as number;
      const linear = (i === j ? 1 - p : 0) + (i + 1 === j ? p : 0);
      weights[j] = linear + ((h * h) / 6) * (m0 * ((1 - p) ** 3 - (1 - p)) + m1 * (p ** 3 - p));
    }
    return weights;
  }

  private sectionAt(
    weights: Float64Array,
    v: number,
    run: number,
    d: { y: number; z: number; yv: number; zv: number },
  ): void {
    let [y, z, yv, zv] = [0, 0, 0, 0];
    for (let i = 0; i < this.sections.length; i++) {
      this.givenAt(i, v, run, d);
      const w = weights[i] as number;
      y += w * d.y;
      z += w * d.z;
      yv += w * d.yv;
      zv += w * d.zv;
    }
    d.y = y;
    d.z = z;
    d.yv = yv;
    d.zv = zv;
  }

  /** Given section i at v, with its slopes by v. */
  private givenAt(i: number, v: number, run: number, d: { y: number; z: number; yv: number; zv: number }): void {
    const t = v - run;
    const r = (this.sections[i] as LoftSection).runs[run] as LoftRun;
    const c = this.curves[i]?.[run] as { y: Float64Array; z: Float64Array };
    const j = intervalOf(r.t, t);
    const h = t - (r.t[j] as number);
    const k = 4 * j;
    const y1 = c.y[k + 1] as number;
    const y2 = c.y[k + 2] as number;
    const y3 = c.y[k + 3] as number;
    const z1 = c.z[k + 1] as number;
    const z2 = c.z[k + 2] as number;
    const z3 = c.z[k + 3] as number;
    d.y = (c.y[k] as number) + h * (y1 + h * (y2 + h * y3));
    d.z = (c.z[k] as number) + h * (z1 + h * (z2 + h * z3));
    d.yv = y1 + h * (2 * y2 + 3 * h * y3);
    d.zv = z1 + h * (2 * z2 + 3 * h * z3);
  }

  girthAt(station: number, by: 'height' | 'halfBreadth', value: number): number {
    this.mustHaveStation(station);
    const table = this.girthTable(station);
    const d = { y: 0, z: 0, yv: 0, zv: 0 };
    const at = (v: number) => {
      this.sectionAt(table.weights, v, this.runOf(Math.min(v, this.runs - ROUND_OFF_UNIT)), d);
      return (by === 'height' ? d.z : d.y) - value;
    };
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    let before = 0;
    let found: number | undefined;
    for (let j = 0; j < table.v.length; j++) {
      const v = table.v[j] as number;
      const now = at(v);
      low = Math.min(low, now + value);
      high = Math.max(high, now + value);
      if (found === undefined) {
        if (Math.abs(now) < ROUND_OFF_MM) {
          const next = table.v[j + 1];
          if (next !== undefined && Math.abs(at(next)) < ROUND_OFF_MM && Math.abs(at((v + next) / 2)) < ROUND_OFF_MM) {
            const g0 = table.girth[j] as number;
            if ((table.girth[j + 1] as number) - g0 > ROUND_OFF_MM) {
              throw new Refusal(
                'ambiguous-place',
                `at.${by}`,
                [{ mm: value }],
                ['a girth instead: a whole stretch of the section, from ', { mm: g0 }, ' of girth on, lies there'],
              );
            }
          }
          found = v;
        } else if (j > 0 && before * now < 0) {
          found = bracketedRoot(at, table.v[j - 1] as number, v, 1e-14);
        }
      }
      before = now;
    }
    if (found === undefined) {
      throw new Refusal(
        'beyond-data',
        `at.${by}`,
        [{ mm: value }],
        ['between ', { mm: low }, ' and ', { mm: high }, ' at this station'],
      );
    }
    return this.girthOf(table, found);
  }

  private girthOf(table: GirthTable, v: number): number {
    const j = intervalOf(table.v, v);
    const from = table.v[j] as number;
    const run = this.runOf((from + (table.v[j + 1] as number)) / 2);
    const d = { y: 0, z: 0, yv: 0, zv: 0 };
    const half = (v - from) / 2;
    let sum = table.girth[j] as number;
    for (let g = 0; g < 4; g++) {
      this.sectionAt(table.weights, from + half * (1 + (GAUSS4_X[g] as number)), run, d);
      sum += half * (GAUSS4_W[g] as number) * Math.hypot(d.yv, d.zv);
    }
    return sum;
  }

  private vAtGirth(table: GirthTable, girth: number): number {
    const total = table.girth.at(-1) as number;
    if (!(girth >= -ROUND_OFF_MM && girth <= total + ROUND_OFF_MM)) {
      throw new Refusal(
        'beyond-data',
        'at.girth',
        [{ mm: girth }],
        ['between ', { mm: 0 }, ' and ', { mm: total }, ' at this station'],
      );
    }
    const j = intervalOf(table.girth, girth);
    const v0 = table.v[j] as number;
    const v1 = table.v[j + 1] as number;
    const root = bracketedRoot((v) => this.girthOf(table, v) - girth, v0, v1, 1e-13);
    return root ?? (girth <= (table.girth[j] as number) ? v0 : v1);
  }

  pointAt(station: number, girth: number, side: HullSide): ShellPoint {
    this.mustHaveStation(station);
    const v = this.vAtGirth(this.girthTable(station), girth);
    const s = newSurfacePoint();
    this.surface(station, v, this.runOf(Math.min(v, this.runs - ROUND_OFF_UNIT)), s);
    this.bend(station, v, s);
    const speed = Math.hypot(s.yv, s.zv);
    if (speed < ROUND_OFF_MM) {
      throw new Refusal(
        'degenerate-hull',
        'at.girth',
        [{ mm: girth }],
        ['a place where the section is not drawn together to a point'],
      );
    }
    const su: Vec3 = [1, s.yx, s.zx];
    const sv: Vec3 = [0, s.yv, s.zv];
    const normal = normalize(cross(sv, su));
    const tGirth = scale(sv, 1 / speed);
    const tFore = cross(normal, tGirth);
    const c = principal(s, su, sv, normal);
    const m = side === 'port' ? (p: Vec3) => p : mirrorVec;
    return {
      position: m([station, s.y, s.z]),
      normal: m(normal),
      tGirth: m(tGirth),
      tFore: m(tFore),
      station,
      girth,
      side,
      curvature: { k1: c.k1, k2: c.k2, direction1: m(c.direction1), direction2: m(c.direction2) },
    };
  }

  caster(frame: Frame, halfFoot: number, halfThickness: number): FootCaster {
    return new LoftCaster(this, frame, halfFoot, halfThickness);
  }

  /** Point and first derivatives for signed v (v < 0: starboard), on one run and its continuation. For the caster. */
  evaluate(x: number, v: number, run: number, s: SurfacePoint): void {
    if (run >= 0) {
      this.surface(x, v, run, s);
      return;
    }
    // y(v) = -Y(-v) and z(v) = Z(-v).
    this.surface(x, -v, -1 - run, s);
    s.y = -s.y;
    s.yx = -s.yx;
    s.zv = -s.zv;
  }

  /** The same with second derivatives. */
  evaluateBend(x: number, v: number, run: number, s: SurfacePoint): void {
    this.evaluate(x, v, run, s);
    this.bend(x, Math.abs(v), s);
    if (run < 0) {
      s.yxx = -s.yxx;
      s.yvv = -s.yvv;
      s.zxv = -s.zxv;
    }
  }

  /** Signed run that holds v: 0, 1, ... to port, -1, -2, ... to starboard. */
  signedRun(v: number): number {
    return v >= 0 ? this.runOf(v) : -1 - this.runOf(-v);
  }

  /** Coarse net over the port half, for starting searches and for seeing what else lies near. Columns fill as they are asked for. */
  net(): Net {
    if (this.coarse) return this.coarse;
    const n = this.x.length;
    const perX = 3;
    const perRun = 12;
    const nx = (n - 1) * perX + 1;
    const nv = this.runs * perRun + 1;
    const xs = new Float64Array(nx);
    for (let i = 0; i < nx; i++) {
      const k = Math.min(n - 2, Math.floor(i / perX));
      const x0 = this.x[k] as number;
      xs[i] = x0 + ((this.x[k + 1] as number) - x0) * ((i - k * perX) / perX);
    }
    const columns: (Float64Array | undefined)[] = new Array(nx);
    const d = { y: 0, z: 0, yv: 0, zv: 0 };
    const column = (i: number): Float64Array => {
      const ready = columns[i];
      if (ready) return ready;
      const weights = this.stationWeights(xs[i] as number);
      const out = new Float64Array(2 * nv);
      for (let j = 0; j < nv; j++) {
        this.sectionAt(weights, j / perRun, Math.min(this.runs - 1, Math.floor(j / perRun)), d);
        out[2 * j] = d.y;
        out[2 * j + 1] = d.z;
      }
      columns[i] = out;
      return out;
    };
    this.coarse = { nx, nv, xs, column, perRun };
    return this.coarse;
  }

  closest(p: Vec3, near?: CastHit): ClosestPoint {
    const s = newSurfacePoint();
    let x: number;
    let v: number;
    if (near) {
      x = near.p;
      v = near.q;
    } else {
      const net = this.net();
      let best = Number.POSITIVE_INFINITY;
      x = 0;
      v = 0;
      for (let m = 1; m >= -1; m -= 2) {
        for (let i = 0; i < net.nx; i++) {
          const column = net.column(i);
          for (let j = 0; j < net.nv; j++) {
            const d =
              ((net.xs[i] as number) - p[0]) ** 2 +
              (m * (column[2 * j] as number) - p[1]) ** 2 +
              ((column[2 * j + 1] as number) - p[2]) ** 2;
            if (d < best) {
              best = d;
              x = net.xs[i] as number;
              v = (m * j) / net.perRun;
            }
          }
        }
      }
    }
    let best: ClosestPoint | undefined;
    const home = this.signedRun(v);
    for (const run of [home, home - 1, home + 1]) {
      if (run < -this.runs || run >= this.runs) continue;
      const q = this.closestOnRun(p, x, v, run, s);
      if (!best || q.distance < best.distance) best = q;
      if (near && run === home && Math.abs(v - Math.round(v)) > 0.2) break;
    }
    return best as ClosestPoint;
  }

  /** Newton's method for the foot of the perpendicular, kept within the run and the stations. */
  private closestOnRun(p: Vec3, x0: number, v0: number, run: number, s: SurfacePoint): ClosestPoint {
    const lo = run;
    const hi = run + 1;
    let x = Math.min(this.stations.to, Math.max(this.stations.from, x0));
    let v = Math.min(hi, Math.max(lo, v0));
    for (let it = 0; it < 40; it++) {
      this.evaluateBend(x, v, run, s);
      const rx = x - p[0];
      const ry = s.y - p[1];
      const rz = s.z - p[2];
      const g1 = rx + ry * s.yx + rz * s.zx;
      const g2 = ry * s.yv + rz * s.zv;
      const e = 1 + s.yx * s.yx + s.zx * s.zx;
      const f = s.yx * s.yv + s.zx * s.zv;
      const g = s.yv * s.yv + s.zv * s.zv;
      let h11 = e + ry * s.yxx + rz * s.zxx;
      let h12 = f + ry * s.yxv + rz * s.zxv;
      let h22 = g + ry * s.yvv + rz * s.zvv;
      if (!(h11 > 0.1 * e && h11 * h22 - h12 * h12 > 0.05 * (e * g - f * f))) {
        h11 = e;
        h12 = f;
        h22 = g;
      }
      const det = h11 * h22 - h12 * h12;
      let dx = det > 0 ? (-g1 * h22 + g2 * h12) / det : -g1 / e;
      let dv = det > 0 ? (g1 * h12 - g2 * h11) / det : 0;
      // At a border only the step along it is free.
      if ((v <= lo && dv < 0) || (v >= hi && dv > 0)) {
        dv = 0;
        dx = -g1 / h11;
      }
      if ((x <= this.stations.from && dx < 0) || (x >= this.stations.to && dx > 0)) {
        dx = 0;
        if (dv !== 0) dv = -g2 / h22;
      }
      const nx = Math.min(this.stations.to, Math.max(this.stations.from, x + dx));
      const nv = Math.min(hi, Math.max(lo, v + dv));
      const moved = Math.abs(nx - x) + Math.abs(nv - v) * Math.sqrt(g);
      x = nx;
      v = nv;
      if (moved < CAST_ACCURACY) break;
    }
    this.evaluate(x, v, run, s);
    return { position: [x, s.y, s.z], distance: Math.hypot(x - p[0], s.y - p[1], s.z - p[2]) };
  }

  sectionLine(station: number, chord: number): Vec3[] {
    this.mustHaveStation(station);
    const weights = this.stationWeights(station);
    const d = { y: 0, z: 0, yv: 0, zv: 0 };
    const line: Vec3[] = [];
    const at = (v: number, run: number): Vec3 => {
      this.sectionAt(weights, v, run, d);
      return [station, d.y, d.z];
    };
    const split = (v0: number, p0: Vec3, v1: number, p1: Vec3, run: number, depth: number): void => {
      const q = at((v0 + v1) / 2, run);
      const off = length(sub(q, scale([p0[0] + p1[0], p0[1] + p1[1], p0[2] + p1[2]], 0.5)));
      if (depth > 0 && off > chord) {
        split(v0, p0, (v0 + v1) / 2, q, run, depth - 1);
        split((v0 + v1) / 2, q, v1, p1, run, depth - 1);
      } else line.push(p1);
    };
    line.push(at(0, 0));
    for (let k = 0; k < this.runs; k++) {
      for (let j = 0; j < 4; j++) {
        split(k + j / 4, at(k + j / 4, k), k + (j + 1) / 4, at(k + (j + 1) / 4, k), k, 10);
      }
    }
    return line;
  }

  drawStations(from: number, to: number, chord: number): number[] {
    const lo = Math.max(from, this.stations.from);
    const hi = Math.min(to, this.stations.to);
    const out = [lo];
    const a = { y: 0, z: 0, yv: 0, zv: 0 };
    const samples = Array.from({ length: 8 * this.runs + 1 }, (_, j) => j / 8);
    const shape = (x: number) => {
      const w = this.stationWeights(x);
      return samples.map((v) => {
        this.sectionAt(w, v, this.runOf(Math.min(v, this.runs - ROUND_OFF_UNIT)), a);
        return [a.y, a.z] as const;
      });
    };
    type Shape = ReturnType<typeof shape>;
    const split = (x0: number, s0: Shape, x1: number, s1: Shape, depth: number): void => {
      const mid = (x0 + x1) / 2;
      const s = shape(mid);
      const off = Math.max(
        ...s.map((q, i) => {
          const p0 = s0[i] as readonly [number, number];
          const p1 = s1[i] as readonly [number, number];
          return Math.hypot(q[0] - (p0[0] + p1[0]) / 2, q[1] - (p0[1] + p1[1]) / 2);
        }),
      );
      if (depth > 0 && off > chord) {
        split(x0, s0, mid, s, depth - 1);
        split(mid, s, x1, s1, depth - 1);
      } else out.push(x1);
    };
    if (hi > lo) split(lo, shape(lo), hi, shape(hi), 8);
    return out;
  }
}

interface GirthTable {
  readonly station: number;
  readonly weights: Float64Array;
  readonly v: Float64Array;
  readonly girth: Float64Array;
}

export interface Net {
  readonly nx: number;
  readonly nv: number;
  readonly xs: Float64Array;
  /** y, z of the net points of column i, from the centreline outward. */
  readonly column: (i: number) => Float64Array;
  /** Net intervals to a run: point j has v = j / perRun. */
  readonly perRun: number;
}

/** Position and derivatives at (x, v); `i` and `m` remember the patch. */
export interface SurfacePoint {
  y: number;
  z: number;
  yx: number;
  zx: number;
  yv: number;
  zv: number;
  yxx: number;
  zxx: number;
  yxv: number;
  zxv: number;
  yvv: number;
  zvv: number;
  i: number;
  m: number;
}

export const newSurfacePoint = (): SurfacePoint => ({
  y: 0,
  z: 0,
  yx: 0,
  zx: 0,
  yv: 0,
  zv: 0,
  yxx: 0,
  zxx: 0,
  yxv: 0,
  zxv: 0,
  yvv: 0,
  zvv: 0,
  i: 0,
  m: 0,
});

const GAUSS4_X = [-0.8611363115940526, -0.3399810435848563, 0.3399810435848563, 0.8611363115940526];
const GAUSS4_W = [0.34785484513745385, 0.6521451548625461, 0.6521451548625461, 0.34785484513745385];

/** Value, slope and second derivative at q of the cubic in v that stands at t[j..j + 3]. */
function cubicAt(t: Float64Array, j: number, q: number): number {
  return (t[j] as number) + q * ((t[j + 1] as number) + q * ((t[j + 2] as number) + q * (t[j + 3] as number)));
}
function cubicSlope(t: Float64Array, j: number, q: number): number {
  return (t[j + 1] as number) + q * (2 * (t[j + 2] as number) + 3 * q * (t[j + 3] as number));
}
function cubicBend(t: Float64Array, j: number, q: number): number {
  return 2 * (t[j + 2] as number) + 6 * q * (t[j + 3] as number);
}

/** Second derivatives of the bicubic patch at t[o..o + 15], [x power][v power], at local (p, q): xx, xv, vv. */
function bendAlong(t: Float64Array, o: number, p: number, q: number): number {
  return 2 * cubicAt(t, o + 8, q) + 6 * p * cubicAt(t, o + 12, q);
}
function bendAskew(t: Float64Array, o: number, p: number, q: number): number {
  return cubicSlope(t, o + 4, q) + p * (2 * cubicSlope(t, o + 8, q) + 3 * p * cubicSlope(t, o + 12, q));
}
function bendAcross(t: Float64Array, o: number, p: number, q: number): number {
  const e = (k: number) => cubicBend(t, o + 4 * k, q);
  return e(0) + p * (e(1) + p * (e(2) + p * e(3)));
}

/** Cubic c[at..at+3] in h, re-written in q where h = shift + q * span. */
function shiftCubic(c: Float64Array, at: number, shift: number, span: number, out: Float64Array, to: number): void {
  const c0 = c[at] as number;
  const c1 = c[at + 1] as number;
  const c2 = c[at + 2] as number;
  const c3 = c[at + 3] as number;
  out[to] = c0 + shift * (c1 + shift * (c2 + shift * c3));
  out[to + 1] = (c1 + shift * (2 * c2 + 3 * shift * c3)) * span;
  out[to + 2] = (c2 + 3 * shift * c3) * span * span;
  out[to + 3] = c3 * span * span * span;
}

/**
 * Principal curvatures from the fundamental forms (do Carmo, Differential Geometry of Curves and Surfaces, 3-3; standard),
 * positive where the surface bends away from the side the normal points to.
 */
function principal(s: SurfacePoint, su: Vec3, sv: Vec3, n: Vec3) {
  const e1 = normalize(su);
  const e2 = normalize(addScaled(sv, e1, -dot(sv, e1)));
  // Shape operator in the orthonormal basis e1, e2.
  const E = dot(su, su);
  const F = dot(su, sv);
  const G = dot(sv, sv);
  const L = -(n[1] * s.yxx + n[2] * s.zxx);
  const M = -(n[1] * s.yxv + n[2] * s.zxv);
  const N = -(n[1] * s.yvv + n[2] * s.zvv);
  // e1 = su / sqrt(E); e2 = (sv - (F/E) su) / sqrt(G - F^2/E)
  const r = Math.sqrt(E);
  const t = Math.sqrt(Math.max(G - (F * F) / E, ROUND_OFF_UNIT));
  const a = L / E;
  const b = (M - (F / E) * L) / (r * t);
  const d = (N - 2 * (F / E) * M + (F / E) ** 2 * L) / (t * t);
  const mean = (a + d) / 2;
  const dev = Math.hypot((a - d) / 2, b);
  const angle = 0.5 * Math.atan2(2 * b, a - d);
  const direction1 = addScaled(scale(e1, Math.cos(angle)), e2, Math.sin(angle));
  return { k1: mean + dev, k2: mean - dev, direction1, direction2: cross(n, direction1) };
}

/** Casts on a loft: Newton's method on (x, v), started from the neighbouring cast. */
class LoftCaster implements FootCaster {
  readonly seed: CastHit = newHit();
  private readonly shell: LoftShell;
  private readonly frame: Frame;
  private readonly s: SurfacePoint = newSurfacePoint();
  private readonly trial: CastHit = newHit();
  /** Starting places on other parts of the shell that some line of the foot may cross nearer to b = 0; mostly none. */
  private others: { p: number; q: number }[] | undefined;
  private readonly halfFoot: number;
  private readonly halfThickness: number;

  constructor(shell: LoftShell, frame: Frame, halfFoot: number, halfThickness: number) {
    this.shell = shell;
    this.frame = frame;
    this.halfFoot = halfFoot;
    this.halfThickness = halfThickness;
    this.findSeed();
  }

  /** The anchor lies on the shell: find its (x, v). */
  private findSeed(): void {
    const O = this.frame.origin;
    const side = O[1] < 0 ? -1 : 1;
    const net = this.shell.net();
    let best = Number.POSITIVE_INFINITY;
    let q = 0;
    let i = 0;
    while (i < net.nx - 2 && (net.xs[i + 1] as number) < O[0]) i++;
    const x0 = net.xs[i] as number;
    const f = (O[0] - x0) / ((net.xs[i + 1] as number) - x0);
    const column = net.column(i);
    const next = net.column(i + 1);
    for (let j = 0; j < net.nv; j++) {
      const y = (column[2 * j] as number) * (1 - f) + (next[2 * j] as number) * f;
      const z = (column[2 * j + 1] as number) * (1 - f) + (next[2 * j + 1] as number) * f;
      const d = (side * y - O[1]) ** 2 + (z - O[2]) ** 2;
      if (d < best) {
        best = d;
        q = (side * j) / net.perRun;
      }
    }
    const start = newHit();
    start.p = O[0];
    start.q = q;
    if (!this.local(0, 0, start, 0, 0, this.seed)) {
      // A knuckle or a tight bilge between the net's points: try the neighbours.
      for (const dq of [0.04, -0.04, 0.08, -0.08]) {
        start.q = q + dq;
        if (this.local(0, 0, start, 0, 0, this.seed)) break;
      }
    }
  }

  cast(a: number, c: number, from: CastHit, fromA: number, fromC: number, out: CastHit): boolean {
    const found = this.local(a, c, from, fromA, fromC, out);
    if (this.others === undefined) this.others = this.lookAround();
    if (this.others.length === 0) return found;
    let best = found ? Math.abs(out.f) : Number.POSITIVE_INFINITY;
    let any = found;
    const start = newHit();
    for (const o of this.others) {
      start.p = o.p;
      start.q = o.q;
      if (this.local(a, c, start, a, c, this.trial) && Math.abs(this.trial.f) < best - CAST_ACCURACY) {
        best = Math.abs(this.trial.f);
        copyHit(this.trial, out);
        any = true;
      }
    }
    return any;
  }

  /**
   * What else of the shell stands in the prism over the foot, as high as the foot reaches: cells of the net whose box,
   * grown by half its size for the bulge between net points, meets the prism and whose lines are not those of the
   * anchor's own neighbourhood.
   */
  private lookAround(): { p: number; q: number }[] {
    const net = this.shell.net();
    const { origin: O, foot: A, stem: B, face: C } = this.frame;
    // The foot's own part, by its four corners and the middles of its sides.
    const hit = newHit();
    const prev = newHit();
    let reach = 0;
    let p0 = this.seed.p;
    let p1 = this.seed.p;
    let q0 = this.seed.q;
    let q1 = this.seed.q;
    let complete = true;
    for (const sa of [1, -1]) {
      for (const sc of [1, 0, -1]) {
        copyHit(this.seed, prev);
        let pa = 0;
        for (let k = 1; k <= 4; k++) {
          const a = (sa * this.halfFoot * k) / 4;
          const c = (sc * this.halfThickness * k) / 4;
          if (!this.local(a, c, prev, pa, (sc * this.halfThickness * (k - 1)) / 4, hit)) {
            complete = false;
            break;
          }
          pa = a;
          copyHit(hit, prev);
          reach = Math.max(reach, Math.abs(hit.f));
          p0 = Math.min(p0, hit.p);
          p1 = Math.max(p1, hit.p);
          q0 = Math.min(q0, hit.q);
          q1 = Math.max(q1, hit.q);
        }
      }
    }
    if (!complete) reach = Math.max(reach, this.halfFoot);
    const found: { p: number; q: number }[] = [];
    const lo = [0, 0, 0];
    const hi = [0, 0, 0];
    const halfX = Math.abs(A[0]) * this.halfFoot + Math.abs(C[0]) * this.halfThickness + Math.abs(B[0]) * reach;
    for (let i = 0; i + 1 < net.nx; i++) {
      const xa = net.xs[i] as number;
      const xb = net.xs[i + 1] as number;
      // A net column and its neighbours: farther along the ship nothing reaches in here.
      if (xb + (xb - xa) < O[0] - halfX || xa - (xb - xa) > O[0] + halfX) continue;
      const columns = [net.column(i), net.column(i + 1)] as const;
      for (let m = 1; m >= -1; m -= 2) {
        for (let j = 0; j + 1 < net.nv; j++) {
          lo.fill(Number.POSITIVE_INFINITY);
          hi.fill(Number.NEGATIVE_INFINITY);
          for (let corner = 0; corner < 4; corner++) {
            const column = columns[corner & 1] as Float64Array;
            const k = 2 * (j + (corner >> 1));
            const x = (net.xs[i + (corner & 1)] as number) - O[0];
            const y = m * (column[k] as number) - O[1];
            const z = (column[k + 1] as number) - O[2];
            const a = x * A[0] + y * A[1] + z * A[2];
            const b = x * B[0] + y * B[1] + z * B[2];
            const c = x * C[0] + y * C[1] + z * C[2];
            lo[0] = Math.min(lo[0] as number, a);
            hi[0] = Math.max(hi[0] as number, a);
            lo[1] = Math.min(lo[1] as number, b);
            hi[1] = Math.max(hi[1] as number, b);
            lo[2] = Math.min(lo[2] as number, c);
            hi[2] = Math.max(hi[2] as number, c);
          }
          const grow =
            0.15 *
            Math.max(
              (hi[0] as number) - (lo[0] as number),
              (hi[1] as number) - (lo[1] as number),
              (hi[2] as number) - (lo[2] as number),
            );
          if ((lo[0] as number) - grow > this.halfFoot || (hi[0] as number) + grow < -this.halfFoot) continue;
          if ((lo[2] as number) - grow > this.halfThickness || (hi[2] as number) + grow < -this.halfThickness) continue;
          if ((lo[1] as number) - grow > reach || (hi[1] as number) + grow < -reach) continue;
          const va = (m * j) / net.perRun;
          const vb = (m * (j + 1)) / net.perRun;
          // Next to the foot's own part: the same sheet, which `local` follows.
          const slackP = xb - xa;
          const slackQ = 1 / net.perRun;
          const own =
            xb >= p0 - slackP &&
            xa <= p1 + slackP &&
            Math.max(va, vb) >= q0 - slackQ &&
            Math.min(va, vb) <= q1 + slackQ;
          if (own && complete) continue;
          found.push({ p: (xa + xb) / 2, q: (va + vb) / 2 });
        }
      }
    }
    return found;
  }

  /** The crossing on the sheet that `from` lies on. */
  private local(a: number, c: number, from: CastHit, fromA: number, fromC: number, out: CastHit): boolean {
    const da = a - fromA;
    const dc = c - fromC;
    const x = from.p + from.pa * da + from.pc * dc;
    const v = from.q + from.qa * da + from.qc * dc;
    const run = this.shell.signedRun(from.q);
    // On the run that `from` is on; where that leads across a knuckle, on the next one.
    if (this.newton(a, c, x, v, run, out)) return true;
    const aim = this.shell.signedRun(v);
    const order = [aim, run - 1, run + 1, aim - 1, aim + 1];
    for (let k = 0; k < order.length; k++) {
      const r = order[k] as number;
      if (r === run || r < -this.shell.runs || r >= this.shell.runs) continue;
      const start = Math.min(r + 1, Math.max(r, v));
      if (this.newton(a, c, x, start, r, out)) return true;
    }
    return false;
  }

  private newton(a: number, c: number, x0: number, v0: number, run: number, out: CastHit): boolean {
    const { origin: O, foot: A, stem: B, face: C } = this.frame;
    const s = this.s;
    const shell = this.shell;
    const { from: xMin, to: xMax } = shell.stations;
    const span = xMax - xMin;
    let x = x0;
    let v = v0;
    const vLo = run - 0.25;
    const vHi = run + 1.25;
    for (let it = 0; it < 30; it++) {
      if (x < xMin - 0.02 * span) x = xMin - 0.02 * span;
      if (x > xMax + 0.02 * span) x = xMax + 0.02 * span;
      if (v < vLo) v = vLo;
      if (v > vHi) v = vHi;
      shell.evaluate(x, v, run, s);
      const rx = x - O[0];
      const ry = s.y - O[1];
      const rz = s.z - O[2];
      const r1 = rx * A[0] + ry * A[1] + rz * A[2] - a;
      const r2 = rx * C[0] + ry * C[1] + rz * C[2] - c;
      const j11 = A[0] + s.yx * A[1] + s.zx * A[2];
      const j12 = s.yv * A[1] + s.zv * A[2];
      const j21 = C[0] + s.yx * C[1] + s.zx * C[2];
      const j22 = s.yv * C[1] + s.zv * C[2];
      const det = j11 * j22 - j12 * j21;
      if (det === 0 || Number.isNaN(det)) return false;
      const dx = (r1 * j22 - r2 * j12) / det;
      const dv = (r2 * j11 - r1 * j21) / det;
      if (r1 < CAST_ACCURACY && r1 > -CAST_ACCURACY && r2 < CAST_ACCURACY && r2 > -CAST_ACCURACY) {
        if (x < xMin - ROUND_OFF_MM || x > xMax + ROUND_OFF_MM) return false;
        if (v < run - ROUND_OFF_UNIT || v > run + 1 + ROUND_OFF_UNIT) return false;
        const j31 = B[0] + s.yx * B[1] + s.zx * B[2];
        const j32 = s.yv * B[1] + s.zv * B[2];
        out.f = rx * B[0] + ry * B[1] + rz * B[2] - (j31 * dx + j32 * dv);
        out.p = x;
        out.q = v;
        out.pa = j22 / det;
        out.pc = -j12 / det;
        out.qa = -j21 / det;
        out.qc = j11 / det;
        out.fa = j31 * out.pa + j32 * out.qa;
        out.fc = j31 * out.pc + j32 * out.qc;
        // sv x su, outward on both halves because v runs outward on one and inward on the other.
        const nx = s.yv * s.zx - s.zv * s.yx;
        const ny = s.zv;
        const nz = -s.yv;
        const k = 1 / Math.sqrt(nx * nx + ny * ny + nz * nz);
        out.nx = nx * k;
        out.ny = ny * k;
        out.nz = nz * k;
        out.region = run;
        return true;
      }
      // A step is kept within a fifth of a run and a tenth of the ship: farther, the local picture means nothing.
      const k = Math.min(1, 0.2 / Math.max(Math.abs(dv), 1e-300), (0.1 * span) / Math.max(Math.abs(dx), 1e-300));
      x -= k * dx;
      v -= k * dv;
    }
    return false;
  }
}

/** Sections prepared for the loft. `field` names the hull in refusals. Sections in any order; at least two stations. */
export function loftSections(
  sections: readonly { readonly station: number; readonly points: readonly SplinePoint[] }[],
): LoftSection[] {
  const indexed = sections.map((s, i) => ({ ...s, i })).sort((p, q) => p.station - q.station);
  const out: LoftSection[] = [];
  let runs: number | undefined;
  for (let k = 0; k < indexed.length; k++) {
    const s = indexed[k] as (typeof indexed)[number];
    const before = indexed[k - 1];
    if (before && s.station - before.station < ROUND_OFF_MM) {
      throw new Refusal(
        'degenerate-hull',
        `hull.sections[${s.i}].station`,
        [{ mm: s.station }],
        ['a station of its own'],
      );
    }
    const parts = smoothRuns(s.points);
    if (runs !== undefined && parts.length !== runs) {
      throw new Refusal(
        'degenerate-hull',
        `hull.sections[${s.i}].points`,
        [{ count: parts.length - 1 }, ' knuckles'],
        [
          { count: runs - 1 },
          ' as in the section before it: a knuckle line runs through every section; where it fades, mark the point it passes through as a knuckle too',
        ],
      );
    }
    runs = parts.length;
    out.push({
      station: s.station,
      runs: parts.map((r) => {
        const t = chordLengths(s.points, r.from, r.to, `hull.sections[${s.i}].points`);
        const total = t[t.length - 1] as number;
        return {
          t: t.map((x) => x / total),
          y: Float64Array.from(s.points.slice(r.from, r.to + 1), (p) => p.y),
          z: Float64Array.from(s.points.slice(r.from, r.to + 1), (p) => p.z),
        };
      }),
    });
  }
  return out;
}
