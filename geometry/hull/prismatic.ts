import type { Frame } from '../math/frame.ts';
import { bracketedRoot } from '../math/roots.ts';
import { ROUND_OFF_MM, ROUND_OFF_UNIT } from '../math/tolerance.ts';
import { dot, type Vec3 } from '../math/vec.ts';
import type { Phrase } from '../phrase.ts';
import { Refusal } from '../refusal.ts';
import { type CurvePoint, curveAt, lengthTo, newCurvePoint, type Piece, parameterAtLength } from './curve.ts';
import {
  type CastHit,
  type ClosestPoint,
  type FootCaster,
  type GridHits,
  type HullSide,
  newHit,
  type Range,
  type Shell,
  type ShellPoint,
} from './shell.ts';

/** One section, the same at every station: lines, arcs and spline pieces. Every cast is a crossing in the section's plane. */
export class PrismaticShell implements Shell {
  readonly notes: readonly Phrase[];
  readonly stations: Range = { from: Number.NEGATIVE_INFINITY, to: Number.POSITIVE_INFINITY };
  private readonly pieces: readonly Piece[];
  private readonly total: number;
  private readonly pt: CurvePoint = newCurvePoint();
  private readonly boxes: readonly Box[];
  /** Piece that was nearest in the last search, the mirrored ones counted after the others: where the next one starts. */
  private nearestLast = 0;

  constructor(pieces: readonly Piece[], notes: readonly Phrase[] = []) {
    this.pieces = pieces;
    this.boxes = pieces.map(boxOf);
    this.notes = notes;
    const last = pieces[pieces.length - 1] as Piece;
    this.total = last.girth + last.length;
  }

  girthRange(): Range {
    return { from: 0, to: this.total };
  }

  girthAt(_station: number, by: 'height' | 'halfBreadth', value: number): number {
    const of = (p: CurvePoint) => (by === 'height' ? p.z : p.y) - value;
    let lo = Number.POSITIVE_INFINITY;
    let hi = Number.NEGATIVE_INFINITY;
    let found: number | undefined;
    for (const piece of this.pieces) {
      let low = Number.POSITIVE_INFINITY;
      let high = Number.NEGATIVE_INFINITY;
      let before = 0;
      let t0 = 0;
      for (const t1 of searchParameters(piece)) {
        const now = of(curveAt(piece, t1, this.pt));
        low = Math.min(low, now);
        high = Math.max(high, now);
        if (found === undefined) {
          if (Math.abs(now) < ROUND_OFF_MM) found = piece.girth + lengthTo(piece, t1);
          else if (t1 > 0 && before * now < 0) {
            const t = bracketedRoot((x) => of(curveAt(piece, x, this.pt)), t0, t1, 1e-14);
            if (t !== undefined) found = piece.girth + lengthTo(piece, t);
          }
        }
        before = now;
        t0 = t1;
      }
      if (high - low < ROUND_OFF_MM && Math.abs(high) < ROUND_OFF_MM) {
        throw new Refusal(
          'ambiguous-place',
          `at.${by}`,
          [{ mm: value }],
          [
            'a girth instead: a whole stretch of the section, from ',
            { mm: piece.girth },
            ' to ',
            { mm: piece.girth + piece.length },
            ' of girth, lies there',
          ],
        );
      }
      lo = Math.min(lo, low + value);
      hi = Math.max(hi, high + value);
    }
    if (found === undefined) {
      throw new Refusal('beyond-data', `at.${by}`, [{ mm: value }], ['between ', { mm: lo }, ' and ', { mm: hi }]);
    }
    return found;
  }

  pointAt(station: number, girth: number, side: HullSide): ShellPoint {
    if (!(girth >= -ROUND_OFF_MM && girth <= this.total + ROUND_OFF_MM)) {
      throw new Refusal(
        'beyond-data',
        'at.girth',
        [{ mm: girth }],
        ['between ', { mm: 0 }, ' and ', { mm: this.total }],
      );
    }
    const piece = this.pieceAt(girth);
    const t = parameterAtLength(piece, Math.min(piece.length, Math.max(0, girth - piece.girth)));
    const p = curveAt(piece, t, this.pt);
    const speed = Math.hypot(p.dy, p.dz);
    const m = side === 'port' ? 1 : -1;
    const tGirth: Vec3 = [0, (m * p.dy) / speed, p.dz / speed];
    const normal: Vec3 = [0, (m * p.dz) / speed, -p.dy / speed];
    return {
      position: [station, m * p.y, p.z],
      normal,
      tGirth,
      tFore: [1, 0, 0],
      station,
      girth,
      side,
      curvature: principal((p.dy * p.ddz - p.dz * p.ddy) / speed ** 3, tGirth),
    };
  }

  private pieceAt(girth: number): Piece {
    let found = this.pieces[0] as Piece;
    for (const piece of this.pieces) if (girth >= piece.girth - ROUND_OFF_MM) found = piece;
    return found;
  }

  caster(frame: Frame, halfFoot: number, halfThickness: number): FootCaster {
    return new SectionCaster(this.pieces, this.boxes, frame, halfFoot, halfThickness);
  }

  closest(p: Vec3): ClosestPoint {
    const { pieces, pt } = this;
    // Square of the least distance so far. The piece that was nearest last is tried first: it mostly rules out the others.
    let best = Number.POSITIVE_INFINITY;
    let by = 0;
    let bz = 0;
    let nearest = this.nearestLast;
    for (let k = -1; k < 2 * pieces.length; k++) {
      const half = k < 0 ? this.nearestLast : k;
      if (k === this.nearestLast) continue;
      const m = half < pieces.length ? 1 : -1;
      const i = m > 0 ? half : half - pieces.length;
      const y = m * p[1];
      const box = this.boxes[i] as Box;
      const oy = Math.max(box.y0 - y, y - box.y1, 0);
      const oz = Math.max(box.z0 - p[2], p[2] - box.z1, 0);
      if (oy * oy + oz * oz >= best) continue;
      nearestOnPiece(pieces[i] as Piece, y, p[2], pt);
      const dy = pt.y - y;
      const dz = pt.z - p[2];
      const d = dy * dy + dz * dz;
      if (d < best) {
        best = d;
        by = m * pt.y;
        bz = pt.z;
        nearest = half;
      }
    }
    this.nearestLast = nearest;
    return { position: [p[0], by, bz], distance: Math.sqrt(best) };
  }

  sectionLine(station: number, chord: number): Vec3[] {
    const first = this.pieces[0] as Piece;
    const line: Vec3[] = [[station, first.y0, first.z0]];
    for (const piece of this.pieces) {
      const n = chordCount(piece, chord);
      for (let i = 1; i <= n; i++) {
        const p = curveAt(piece, i / n, this.pt);
        line.push([station, p.y, p.z]);
      }
    }
    return line;
  }

  drawStations(from: number, to: number): number[] {
    return [from, to];
  }
}

/** Along the ship a prismatic shell is straight; the greater curvature stands first. */
function principal(girth: number, tGirth: Vec3): ShellPoint['curvature'] {
  const fore: Vec3 = [1, 0, 0];
  return girth >= 0
    ? { k1: girth, k2: 0, direction1: tGirth, direction2: fore }
    : { k1: 0, k2: girth, direction1: fore, direction2: tGirth };
}

/** Number of chords that keep within `chord` of a piece: sagitta of one chord is about (turn of tangent) x length / 8. */
function chordCount(piece: Piece, chord: number): number {
  if (piece.kind === 'line') return 1;
  if (piece.kind === 'arc') return Math.max(2, Math.ceil(piece.sweep * Math.sqrt(piece.radius / (8 * chord))));
  const p = newCurvePoint();
  let bend = 0;
  for (const t of [0, 0.25, 0.5, 0.75, 1]) {
    curveAt(piece, t, p);
    const speed = Math.max(Math.hypot(p.dy, p.dz), ROUND_OFF_UNIT);
    bend = Math.max(bend, Math.abs(p.dy * p.ddz - p.dz * p.ddy) / speed ** 3);
  }
  return Math.max(2, Math.ceil(piece.length * Math.sqrt(bend / (8 * chord))));
}

/** Parameters 0..1 between which y and z of a piece are monotone: where they turn, with a few more for good measure. */
function searchParameters(piece: Piece): number[] {
  if (piece.kind === 'line') return [0, 1];
  const t = turnsOf(piece);
  for (let i = 0; i <= 16; i++) t.push(i / 16);
  return t.sort((p, q) => p - q);
}

/** Parameters between 0 and 1 at which y or z of a piece turns. */
function turnsOf(piece: Piece): number[] {
  const t: number[] = [];
  if (piece.kind === 'arc') {
    const start = Math.atan2(piece.z0 - piece.cz, piece.y0 - piece.cy);
    for (let k = -4; k <= 4; k++) {
      const x = ((k * Math.PI) / 2 - start) / (piece.turn * piece.sweep);
      if (x > 0 && x < 1) t.push(x);
    }
  } else if (piece.kind === 'cubic') {
    for (const c of [piece.y, piece.z])
      for (const h of turningPoints(c)) if (h > 0 && h < piece.span) t.push(h / piece.span);
  }
  return t;
}

/** Where c0 + c1 h + c2 h^2 + c3 h^3 turns: roots of its derivative. */
function turningPoints(c: readonly [number, number, number, number]): number[] {
  const a = 3 * c[3];
  const b = 2 * c[2];
  const k = c[1];
  const disc = b * b - 4 * a * k;
  if (disc < 0) return [];
  const q = -(b + (b < 0 ? -1 : 1) * Math.sqrt(disc)) / 2;
  const roots: number[] = [];
  if (a !== 0) roots.push(q / a);
  if (q !== 0) roots.push(k / q);
  return roots;
}

interface Box {
  readonly y0: number;
  readonly y1: number;
  readonly z0: number;
  readonly z1: number;
}

/** Least box round a piece: its ends and where y or z turn between them. */
function boxOf(piece: Piece): Box {
  const p = newCurvePoint();
  let y0 = Math.min(piece.y0, piece.y1);
  let y1 = Math.max(piece.y0, piece.y1);
  let z0 = Math.min(piece.z0, piece.z1);
  let z1 = Math.max(piece.z0, piece.z1);
  for (const t of turnsOf(piece)) {
    curveAt(piece, t, p);
    y0 = Math.min(y0, p.y);
    y1 = Math.max(y1, p.y);
    z0 = Math.min(z0, p.z);
    z1 = Math.max(z1, p.z);
  }
  return { y0, y1, z0, z1 };
}

/** Nearest point of a piece to (y, z), left in `out`. */
function nearestOnPiece(piece: Piece, y: number, z: number, out: CurvePoint): void {
  let t: number;
  if (piece.kind === 'line') {
    const dy = piece.y1 - piece.y0;
    const dz = piece.z1 - piece.z0;
    t = ((y - piece.y0) * dy + (z - piece.z0) * dz) / (dy * dy + dz * dz);
  } else if (piece.kind === 'arc') {
    // Along the ray from the centre, if that meets the arc: it does where the ray lies within half the sweep of the middle.
    const ry = y - piece.cy;
    const rz = z - piece.cz;
    const my = (piece.y0 + piece.y1) / 2 - piece.cy;
    const mz = (piece.z0 + piece.z1) / 2 - piece.cz;
    const r = Math.sqrt(ry * ry + rz * rz);
    const half = my * my + mz * mz;
    // cos(half sweep) = |m| / R, and m points to the middle of an arc shorter than a half circle.
    // (For a half circle m is nothing: then the side of the chord that the arc bulges to decides.)
    const bulge = piece.turn * (ry * (piece.z1 - piece.z0) - rz * (piece.y1 - piece.y0));
    const within = half > 1e-9 * piece.radius ** 2 ? (ry * my + rz * mz) * piece.radius >= r * half : bulge >= 0;
    if (r > 0 && within) {
      out.y = piece.cy + (ry / r) * piece.radius;
      out.z = piece.cz + (rz / r) * piece.radius;
      return;
    }
    t = (y - piece.y0) ** 2 + (z - piece.z0) ** 2 <= (y - piece.y1) ** 2 + (z - piece.z1) ** 2 ? 0 : 1;
  } else {
    t = 0;
    let best = Number.POSITIVE_INFINITY;
    for (let i = 0; i <= 8; i++) {
      curveAt(piece, i / 8, out);
      const d = (out.y - y) ** 2 + (out.z - z) ** 2;
      if (d < best) {
        best = d;
        t = i / 8;
      }
    }
    for (let i = 0; i < 30; i++) {
      curveAt(piece, t, out);
      const g = (out.y - y) * out.dy + (out.z - z) * out.dz;
      const speed2 = out.dy * out.dy + out.dz * out.dz;
      const curved = speed2 + (out.y - y) * out.ddy + (out.z - z) * out.ddz;
      const next = Math.min(1, Math.max(0, t - g / (curved > 0.1 * speed2 ? curved : speed2)));
      const step = Math.abs(next - t);
      t = next;
      if (step < ROUND_OFF_UNIT) break;
    }
  }
  if (t <= 0) {
    out.y = piece.y0;
    out.z = piece.z0;
  } else if (t >= 1) {
    out.y = piece.y1;
    out.z = piece.z1;
  } else curveAt(piece, t, out);
}

/**
 * A stretch of the section along which the cast direction meets it once: in coordinates u (across the foot lines, in the
 * section's plane) and w (along them) it is a single-valued w(u) for lo <= u <= hi.
 */
interface Branch {
  kind: 0 | 1 | 2;
  lo: number;
  hi: number;
  region: number;
  /** No crossing on this branch can have |b| below this, for any line of the foot. */
  bound: number;
  /** +1 where the outward normal has a positive share along w. */
  out: number;
  // line: w = w0 + m (u - u0); arc: centre (u0, w0), radius m, side of the centre `arm`
  u0: number;
  w0: number;
  m: number;
  arm: number;
  /** line: share of its outward unit normal along w; arc: 1/m, signed so that it points outward. */
  k: number;
  // cubic: u and w as cubics of h between h0 and h1
  cu: Float64Array;
  cw: Float64Array;
  h0: number;
  h1: number;
}

const NONE = new Float64Array(4);

/*
 * The branches that a caster keeps stand in one array of numbers, `STRIDE` a branch: a foot's hundreds of lines run over it,
 * and numbers in an array cost the same whatever other hulls have been planned on before. Places in it, named as in `Branch`:
 */
const KIND = 0;
const LO = 1;
const HI = 2;
const BOUND = 3;
const REGION = 4;
const OUT = 5;
const U0 = 6;
const W0 = 7;
const M = 8;
const ARM = 9;
const K = 10;
const CU = 11;
const CW = 15;
const H0 = 19;
const H1 = 20;
const CLEAR_LO = 21;
const CLEAR_HI = 22;
const STRIDE = 23;

/**
 * `lo` and `hi` are let out by round-off, so that neighbours leave no chink between them. Between the two `clear` numbers
 * a line or an arc is the only branch there is.
 */
function tableOf(branches: readonly Branch[]): Float64Array {
  const t = new Float64Array(STRIDE * branches.length);
  branches.forEach((b, i) => {
    const o = STRIDE * i;
    t[o + KIND] = b.kind;
    t[o + LO] = b.lo - ROUND_OFF_MM;
    t[o + HI] = b.hi + ROUND_OFF_MM;
    t[o + BOUND] = b.bound;
    t[o + REGION] = b.region;
    t[o + OUT] = b.out;
    t[o + U0] = b.u0;
    t[o + W0] = b.w0;
    t[o + M] = b.m;
    t[o + ARM] = b.arm;
    t[o + K] = b.k;
    t.set(b.cu, o + CU);
    t.set(b.cw, o + CW);
    t[o + H0] = b.h0;
    t[o + H1] = b.h1;
  });
  for (let o = 0; o < t.length; o += STRIDE) {
    let lo = t[o + LO] as number;
    let hi = t[o + KIND] === 2 ? lo : (t[o + HI] as number);
    for (let p = 0; p < t.length; p += STRIDE) {
      if (p === o || (t[p + LO] as number) > hi || (t[p + HI] as number) < lo) continue;
      if ((t[p + LO] as number) > lo) hi = t[p + LO] as number;
      else lo = t[p + HI] as number;
    }
    t[o + CLEAR_LO] = lo;
    t[o + CLEAR_HI] = hi;
  }
  return t;
}

class SectionCaster implements FootCaster {
  readonly seed: CastHit = newHit();
  private readonly table: Float64Array;
  private readonly u0: number;
  private readonly ua: number;
  private readonly uc: number;
  private readonly w0: number;
  private readonly wa: number;
  private readonly wc: number;
  private readonly perB: number;
  private readonly ey: number;
  private readonly ez: number;
  private readonly met = new Float64Array(3);

  constructor(pieces: readonly Piece[], boxes: readonly Box[], frame: Frame, halfFoot: number, halfThickness: number) {
    const { origin: O, foot: A, stem: B, face: C } = frame;
    const run = Math.hypot(B[1], B[2]);
    const ey = B[1] / run;
    const ez = B[2] / run;
    this.ey = ey;
    this.ez = ez;
    this.perB = 1 / run;
    this.w0 = O[1] * ey + O[2] * ez;
    this.wa = A[1] * ey + A[2] * ez;
    this.wc = C[1] * ey + C[2] * ez;
    this.u0 = O[1] * ez - O[2] * ey;
    this.ua = A[1] * ez - A[2] * ey;
    this.uc = C[1] * ez - C[2] * ey;
    const du = Math.abs(this.ua) * halfFoot + Math.abs(this.uc) * halfThickness;
    const dw = Math.abs(this.wa) * halfFoot + Math.abs(this.wc) * halfThickness;
    const branches: Branch[] = [];
    for (let m = 1; m >= -1; m -= 2) {
      for (let i = 0; i < pieces.length; i++) {
        // Most of the section stands nowhere near the foot: its box tells.
        const { y0, y1, z0, z1 } = boxes[i] as Box;
        const low = Math.min(m * y0 * ez, m * y1 * ez) - Math.max(z0 * ey, z1 * ey) - ROUND_OFF_MM;
        const high = Math.max(m * y0 * ez, m * y1 * ez) - Math.min(z0 * ey, z1 * ey) + ROUND_OFF_MM;
        if (low > this.u0 + du || high < this.u0 - du) continue;
        for (const b of branchesOf(pieces[i] as Piece, m, ey, ez)) {
          if (b.lo > this.u0 + du || b.hi < this.u0 - du) continue;
          const [least, most] = branchReach(b);
          b.bound = Math.max(0, least - (this.w0 + dw), this.w0 - dw - most) * this.perB;
          branches.push(b);
        }
      }
    }
    this.table = tableOf(branches.sort((p, q) => p.bound - q.bound));
    this.cast(0, 0, this.seed, 0, 0, this.seed);
  }

  /**
   * Crossing nearest to b = 0 of the line at u that starts at w, left in `met`: b, and the outward normal's shares along u
   * and w. Returns its branch's place in the table, -1 where there is none.
   */
  private meet(u: number, w: number): number {
    const { met, table: t, perB } = this;
    let best = Number.POSITIVE_INFINITY;
    let hit = -1;
    let hitW = 0;
    let h = 0;
    for (let o = 0; o < t.length; o += STRIDE) {
      if ((t[o + BOUND] as number) >= best) break;
      if (u < (t[o + LO] as number) || u > (t[o + HI] as number)) continue;
      let at: number;
      let atH = 0;
      const x = u - (t[o + U0] as number);
      if (t[o + KIND] === 0) at = (t[o + W0] as number) + (t[o + M] as number) * x;
      else if (t[o + KIND] === 1) {
        const under = (t[o + M] as number) * (t[o + M] as number) - x * x;
        at = (t[o + W0] as number) + (under > 0 ? (t[o + ARM] as number) * Math.sqrt(under) : 0);
      } else {
        atH = parameterOn(t, o, u);
        at = cubicAt(t, o + CW, atH);
      }
      const b = (at - w) * perB;
      const size = b < 0 ? -b : b;
      if (size < best) {
        best = size;
        hit = o;
        hitW = at;
        h = atH;
        met[0] = b;
      }
    }
    if (hit < 0) return hit;
    const k = t[hit + K] as number;
    if (t[hit + KIND] === 0) {
      met[1] = -(t[hit + M] as number) * k;
      met[2] = k;
    } else if (t[hit + KIND] === 1) {
      met[1] = (u - (t[hit + U0] as number)) * k;
      met[2] = (hitW - (t[hit + W0] as number)) * k;
    } else {
      const du = cubicSlope(t, hit + CU, h);
      const dw = cubicSlope(t, hit + CW, h);
      const outward = ((t[hit + OUT] as number) * (du < 0 ? -1 : 1)) / Math.hypot(du, dw);
      met[1] = -dw * outward;
      met[2] = du * outward;
    }
    return hit;
  }

  cast(a: number, c: number, _from: CastHit, _fromA: number, _fromC: number, out: CastHit): boolean {
    const { met } = this;
    const hit = this.meet(this.u0 + a * this.ua + c * this.uc, this.w0 + a * this.wa + c * this.wc);
    if (hit < 0) return false;
    const nu = met[1] as number;
    const nw = met[2] as number;
    // The slope of w(u) follows from the normal and stays right where the branch runs steep.
    const slope = nw === 0 ? Number.MAX_VALUE : -nu / nw;
    out.f = met[0] as number;
    out.fa = (slope * this.ua - this.wa) * this.perB;
    out.fc = (slope * this.uc - this.wc) * this.perB;
    out.nx = 0;
    out.ny = nw * this.ey + nu * this.ez;
    out.nz = nw * this.ez - nu * this.ey;
    out.region = this.table[hit + REGION] as number;
    return true;
  }

  castGrid(a: Float64Array, c: Float64Array, out: GridHits): boolean {
    const { met, table: t, u0, ua, uc, w0, wa, wc, perB, ey, ez } = this;
    const { f, fa, fc, n, region } = out;
    // The branch of the node before, and the stretch of u where it is the only one: there no other need be looked at.
    let o = 0;
    let lo = 0;
    let hi = 0;
    let k = 0;
    for (let i = 0; i < a.length; i++) {
      const ui = u0 + (a[i] as number) * ua;
      const wi = w0 + (a[i] as number) * wa;
      for (let j = 0; j < c.length; j++) {
        const u = ui + (c[j] as number) * uc;
        const w = wi + (c[j] as number) * wc;
        let nu: number;
        let nw: number;
        if (u > lo && u < hi) {
          const x = u - (t[o + U0] as number);
          const m = t[o + M] as number;
          const out = t[o + K] as number;
          let rise: number;
          if (t[o + KIND] === 0) {
            rise = m * x;
            nu = -m * out;
            nw = out;
          } else {
            rise = (t[o + ARM] as number) * Math.sqrt(Math.max(0, m * m - x * x));
            nu = x * out;
            nw = rise * out;
          }
          f[k] = ((t[o + W0] as number) + rise - w) * perB;
        } else {
          o = this.meet(u, w);
          if (o < 0) return false;
          lo = t[o + CLEAR_LO] as number;
          hi = t[o + CLEAR_HI] as number;
          f[k] = met[0] as number;
          nu = met[1] as number;
          nw = met[2] as number;
        }
        const slope = nw === 0 ? Number.MAX_VALUE : -nu / nw;
        fa[k] = (slope * ua - wa) * perB;
        fc[k] = (slope * uc - wc) * perB;
        n[3 * k + 1] = nw * ey + nu * ez;
        n[3 * k + 2] = nw * ez - nu * ey;
        region[k] = t[o + REGION] as number;
        k++;
      }
    }
    return true;
  }
}

/** Cubic c0 + h (c1 + h (c2 + h c3)) whose coefficients stand at t[at..at + 3], and its derivative by h. */
function cubicAt(t: Float64Array, at: number, h: number): number {
  return (t[at] as number) + h * ((t[at + 1] as number) + h * ((t[at + 2] as number) + h * (t[at + 3] as number)));
}
function cubicSlope(t: Float64Array, at: number, h: number): number {
  return (t[at + 1] as number) + h * (2 * (t[at + 2] as number) + 3 * h * (t[at + 3] as number));
}

/** h with u(h) = u on a monotone cubic branch: Newton kept inside its bracket. */
function parameterOn(t: Float64Array, o: number, u: number): number {
  const from = t[o + LO] as number;
  const c = o + CU;
  let lo = t[o + H0] as number;
  let hi = t[o + H1] as number;
  const rising = cubicAt(t, c, hi) > cubicAt(t, c, lo);
  const share = (u - from) / ((t[o + HI] as number) - from);
  let h = rising ? lo + share * (hi - lo) : hi - share * (hi - lo);
  for (let i = 0; i < 60; i++) {
    const g = cubicAt(t, c, h) - u;
    if (g > 0 === rising) hi = h;
    else lo = h;
    let next = h - g / cubicSlope(t, c, h);
    if (!(next >= lo && next <= hi)) next = (lo + hi) / 2;
    const step = next - h;
    h = next;
    if (step < ROUND_OFF_MM * 1e-3 && step > -ROUND_OFF_MM * 1e-3) break;
  }
  return h;
}

/** Least and greatest w on a branch. */
function branchReach(b: Branch): [number, number] {
  if (b.kind === 0) {
    const p = b.w0 + b.m * (b.lo - b.u0);
    const q = b.w0 + b.m * (b.hi - b.u0);
    return [Math.min(p, q), Math.max(p, q)];
  }
  if (b.kind === 1) return b.arm > 0 ? [b.w0, b.w0 + b.m] : [b.w0 - b.m, b.w0];
  // The control points of a Bezier cubic enclose it.
  const at = (h: number) =>
    (b.cw[0] as number) + h * ((b.cw[1] as number) + h * ((b.cw[2] as number) + h * (b.cw[3] as number)));
  const rate = (h: number) => (b.cw[1] as number) + h * (2 * (b.cw[2] as number) + 3 * h * (b.cw[3] as number));
  const third = (b.h1 - b.h0) / 3;
  const points = [at(b.h0), at(b.h0) + third * rate(b.h0), at(b.h1) - third * rate(b.h1), at(b.h1)];
  return [Math.min(...points), Math.max(...points)];
}

/** The single-valued branches of a piece (m = -1: of its mirror image) for lines along (ey, ez). */
function branchesOf(piece: Piece, m: number, ey: number, ez: number): Branch[] {
  const U = (y: number, z: number) => m * y * ez - z * ey;
  const W = (y: number, z: number) => m * y * ey + z * ez;
  const region = m > 0 ? piece.region : -1 - piece.region;
  const blank = { region, bound: 0, u0: 0, w0: 0, m: 0, arm: 0, k: 0, cu: NONE, cw: NONE, h0: 0, h1: 0 };
  // Outward normal of the half section at a tangent (ty, tz) is (tz, -ty), mirrored in y; its share along w:
  const outward = (ty: number, tz: number) => (m * tz * ey - ty * ez >= 0 ? 1 : -1);
  if (piece.kind === 'line') {
    const ua = U(piece.y0, piece.z0);
    const ub = U(piece.y1, piece.z1);
    if (Math.abs(ub - ua) <= ROUND_OFF_MM) return [];
    const wa = W(piece.y0, piece.z0);
    const wb = W(piece.y1, piece.z1);
    const out = outward(piece.y1 - piece.y0, piece.z1 - piece.z0);
    const slope = (wb - wa) / (ub - ua);
    const k = out / Math.sqrt(1 + slope * slope);
    return [{ ...blank, kind: 0, lo: Math.min(ua, ub), hi: Math.max(ua, ub), out, u0: ua, w0: wa, m: slope, k }];
  }
  if (piece.kind === 'arc') {
    const uc = U(piece.cy, piece.cz);
    const wc = W(piece.cy, piece.cz);
    const R = piece.radius;
    // Angle in (u, w) of start; the mirror image runs the other way round.
    const start = Math.atan2(W(piece.y0, piece.z0) - wc, U(piece.y0, piece.z0) - uc);
    const sign = piece.turn * m;
    const cuts = [0];
    for (let k = -4; k <= 4; k++) {
      const x = sign * (k * Math.PI - start);
      if (x > ROUND_OFF_UNIT && x < piece.sweep - ROUND_OFF_UNIT) cuts.push(x);
    }
    cuts.sort((p, q) => p - q);
    cuts.push(piece.sweep);
    const list: Branch[] = [];
    for (let i = 0; i + 1 < cuts.length; i++) {
      const from = start + sign * (cuts[i] as number);
      const to = start + sign * (cuts[i + 1] as number);
      // The joints' own coordinates, so that neighbours share them to the last digit.
      const ua = i === 0 ? U(piece.y0, piece.z0) : uc + R * Math.round(Math.cos(from));
      const ub = i + 2 === cuts.length ? U(piece.y1, piece.z1) : uc + R * Math.round(Math.cos(to));
      const arm = Math.sin((from + to) / 2) >= 0 ? 1 : -1;
      // Bulging arcs have the water outside the circle, hollow ones inside.
      list.push({
        ...blank,
        kind: 1,
        lo: Math.min(ua, ub),
        hi: Math.max(ua, ub),
        out: piece.turn * arm,
        u0: uc,
        w0: wc,
        m: R,
        arm,
        k: (piece.turn * arm * arm) / R,
      });
    }
    return list;
  }
  const cu = new Float64Array(4);
  const cw = new Float64Array(4);
  for (let k = 0; k < 4; k++) {
    cu[k] = U(piece.y[k] as number, piece.z[k] as number);
    cw[k] = W(piece.y[k] as number, piece.z[k] as number);
  }
  const cuts = [0];
  for (const h of turningPoints([cu[0] as number, cu[1] as number, cu[2] as number, cu[3] as number])) {
    if (h > ROUND_OFF_UNIT * piece.span && h < piece.span) cuts.push(h);
  }
  cuts.sort((p, q) => p - q);
  cuts.push(piece.span);
  const u = (h: number) =>
    (cu[0] as number) + h * ((cu[1] as number) + h * ((cu[2] as number) + h * (cu[3] as number)));
  const list: Branch[] = [];
  for (let i = 0; i + 1 < cuts.length; i++) {
    const h0 = cuts[i] as number;
    const h1 = cuts[i + 1] as number;
    const ua = h0 === 0 ? U(piece.y0, piece.z0) : u(h0);
    const ub = h1 === piece.span ? U(piece.y1, piece.z1) : u(h1);
    if (Math.abs(ub - ua) <= ROUND_OFF_MM) continue;
    const mid = curveAt(piece, (h0 + h1) / 2 / piece.span, newCurvePoint());
    list.push({
      ...blank,
      kind: 2,
      lo: Math.min(ua, ub),
      hi: Math.max(ua, ub),
      out: outward(mid.dy, mid.dz),
      cu,
      cw,
      h0,
      h1,
    });
  }
  return list;
}

/** Cosine between a hit's normal and a direction. */
export const facing = (hit: CastHit, d: Vec3): number => dot([hit.nx, hit.ny, hit.nz], d);
