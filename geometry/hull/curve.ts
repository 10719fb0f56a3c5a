import { cubicSpline } from '../math/spline.ts';
import { ROUND_OFF_MM } from '../math/tolerance.ts';
import { Refusal } from '../refusal.ts';
import type { HullPoint, HullSpec, SplinePoint } from './spec.ts';

/**
 * One half section as a chain of pieces from the centreline outward, in the plane (y, z), mm.
 * Outward normal is the tangent turned a quarter clockwise: (tz, -ty), for a bottom run (1, 0) it is (0, -1).
 */
export type Piece = LinePiece | ArcPiece | CubicPiece;

interface PieceBase {
  readonly y0: number;
  readonly z0: number;
  readonly y1: number;
  readonly z1: number;
  readonly length: number;
  /** Girth at the piece's start. */
  readonly girth: number;
  /** Pieces that follow each other smoothly share a region; a corner starts a new one. */
  readonly region: number;
}
export interface LinePiece extends PieceBase {
  readonly kind: 'line';
}
export interface ArcPiece extends PieceBase {
  readonly kind: 'arc';
  readonly cy: number;
  readonly cz: number;
  readonly radius: number;
  /** +1 counterclockwise (bulges into the water), -1 clockwise (hollow). */
  readonly turn: 1 | -1;
  readonly sweep: number;
}
/** y and z as cubics of h in 0..span. */
export interface CubicPiece extends PieceBase {
  readonly kind: 'cubic';
  readonly span: number;
  readonly y: readonly [number, number, number, number];
  readonly z: readonly [number, number, number, number];
}

/** Value, first and second derivative of a piece at local parameter 0..1. */
export interface CurvePoint {
  y: number;
  z: number;
  dy: number;
  dz: number;
  ddy: number;
  ddz: number;
}

/**
 * A tangent that turns by less than this at a joint is a rounded figure in the job, not a corner of the hull: an arc
 * given to the millimetre meets its neighbour within about a milliradian. rad.
 */
export const CORNER_ANGLE = 2e-3;

/** Evaluates piece at t in 0..1; derivatives by t. */
export function curveAt(piece: Piece, t: number, out: CurvePoint): CurvePoint {
  if (piece.kind === 'line') {
    out.dy = piece.y1 - piece.y0;
    out.dz = piece.z1 - piece.z0;
    out.y = piece.y0 + t * out.dy;
    out.z = piece.z0 + t * out.dz;
    out.ddy = 0;
    out.ddz = 0;
  } else if (piece.kind === 'arc') {
    const start = Math.atan2(piece.z0 - piece.cz, piece.y0 - piece.cy);
    const rate = piece.turn * piece.sweep;
    const angle = start + rate * t;
    const cos = Math.cos(angle) * piece.radius;
    const sin = Math.sin(angle) * piece.radius;
    out.y = piece.cy + cos;
    out.z = piece.cz + sin;
    out.dy = -sin * rate;
    out.dz = cos * rate;
    out.ddy = -cos * rate * rate;
    out.ddz = -sin * rate * rate;
  } else {
    const h = t * piece.span;
    const [y0, y1, y2, y3] = piece.y;
    const [z0, z1, z2, z3] = piece.z;
    const s = piece.span;
    out.y = y0 + h * (y1 + h * (y2 + h * y3));
    out.z = z0 + h * (z1 + h * (z2 + h * z3));
    out.dy = (y1 + h * (2 * y2 + 3 * h * y3)) * s;
    out.dz = (z1 + h * (2 * z2 + 3 * h * z3)) * s;
    out.ddy = (2 * y2 + 6 * h * y3) * s * s;
    out.ddz = (2 * z2 + 6 * h * z3) * s * s;
  }
  return out;
}

export const newCurvePoint = (): CurvePoint => ({ y: 0, z: 0, dy: 0, dz: 0, ddy: 0, ddz: 0 });

/** Arc length of a piece from 0 to t. Exact for lines and arcs; Gauss-Legendre with 5 points on 4 parts for cubics. */
export function lengthTo(piece: Piece, t: number): number {
  if (piece.kind !== 'cubic') return piece.length * t;
  return cubicLength(piece.y, piece.z, piece.span, t);
}

const GAUSS_X = [0, 0.5384693101056831, 0.906179845938664];
const GAUSS_W = [0.5688888888888889, 0.47862867049936647, 0.23692688505618908];

function cubicLength(
  y: readonly [number, number, number, number],
  z: readonly [number, number, number, number],
  span: number,
  t: number,
): number {
  const parts = 4;
  let sum = 0;
  for (let k = 0; k < parts; k++) {
    const mid = ((k + 0.5) * t * span) / parts;
    const half = (0.5 * t * span) / parts;
    for (let g = 0; g < 3; g++) {
      const x = (GAUSS_X[g] as number) * half;
      const w = (GAUSS_W[g] as number) * half;
      for (const h of g === 0 ? [mid] : [mid - x, mid + x]) {
        sum += w * Math.hypot(y[1] + h * (2 * y[2] + 3 * h * y[3]), z[1] + h * (2 * z[2] + 3 * h * z[3]));
      }
    }
  }
  return sum;
}

/** Local parameter of the piece at arc length `length` from its start. */
export function parameterAtLength(piece: Piece, length: number): number {
  if (piece.kind !== 'cubic') return piece.length === 0 ? 0 : length / piece.length;
  let t = length / piece.length;
  const p = newCurvePoint();
  for (let i = 0; i < 30; i++) {
    curveAt(piece, t, p);
    const step = (lengthTo(piece, t) - length) / Math.hypot(p.dy, p.dz);
    t = Math.min(1, Math.max(0, t - step));
    if (Math.abs(step) < 1e-14) break;
  }
  return t;
}

type Raw =
  | { kind: 'line'; from: HullPoint; to: HullPoint }
  | { kind: 'arc'; from: HullPoint; to: HullPoint; radius: number }
  | {
      kind: 'cubic';
      from: HullPoint;
      to: HullPoint;
      span: number;
      y: [number, number, number, number];
      z: [number, number, number, number];
    };

/** Pieces of a section of lines and arcs. Throws `Refusal` (field `hull.path[i]...`) where no such arc exists. */
export function segmentPieces(spec: Extract<HullSpec, { kind: 'segments' }>): Piece[] {
  const raw: Raw[] = [];
  let from = spec.start;
  spec.path.forEach((step, i) => {
    const chord = Math.hypot(step.to.y - from.y, step.to.z - from.z);
    if (chord < ROUND_OFF_MM) {
      throw new Refusal(
        'degenerate-hull',
        `hull.path[${i}].to`,
        ['the same point as the one before it'],
        ['a point some way on'],
      );
    }
    if (step.radius === undefined) raw.push({ kind: 'line', from, to: step.to });
    else {
      if (Math.abs(step.radius) < chord / 2 - ROUND_OFF_MM) {
        throw new Refusal(
          'degenerate-hull',
          `hull.path[${i}].radius`,
          [{ mm: step.radius }],
          ['at least half the way between its ends, ', { mm: chord / 2 }],
        );
      }
      raw.push({ kind: 'arc', from, to: step.to, radius: step.radius });
    }
    from = step.to;
  });
  return chain(raw);
}

/** Pieces of a section through points, smooth between knuckles: cubic spline over chord length, not-a-knot ends. */
export function splinePieces(points: readonly SplinePoint[], field = 'hull.points'): Piece[] {
  const raw: Raw[] = [];
  for (const run of smoothRuns(points)) {
    const t = chordLengths(points, run.from, run.to, field);
    const ys = points.slice(run.from, run.to + 1).map((p) => p.y);
    const zs = points.slice(run.from, run.to + 1).map((p) => p.z);
    const cy = cubicSpline(t, ys);
    const cz = cubicSpline(t, zs);
    for (let i = 0; i + 1 < t.length; i++) {
      const k = 4 * i;
      const quad = (c: Float64Array): [number, number, number, number] => [
        c[k] as number,
        c[k + 1] as number,
        c[k + 2] as number,
        c[k + 3] as number,
      ];
      raw.push({
        kind: 'cubic',
        from: points[run.from + i] as SplinePoint,
        to: points[run.from + i + 1] as SplinePoint,
        span: (t[i + 1] as number) - (t[i] as number),
        y: quad(cy),
        z: quad(cz),
      });
    }
  }
  return chain(raw);
}

/** Index ranges of the points between knuckles, ends included. */
export function smoothRuns(points: readonly SplinePoint[]): { from: number; to: number }[] {
  const runs: { from: number; to: number }[] = [];
  let from = 0;
  for (let i = 1; i < points.length; i++) {
    if (points[i]?.knuckle === true || i === points.length - 1) {
      runs.push({ from, to: i });
      from = i;
    }
  }
  return runs;
}

/** Chord length from points[from] to each point up to points[to]. Throws `Refusal` where two points coincide. */
export function chordLengths(points: readonly SplinePoint[], from: number, to: number, field: string): Float64Array {
  const t = new Float64Array(to - from + 1);
  for (let i = from + 1; i <= to; i++) {
    const p = points[i - 1] as SplinePoint;
    const q = points[i] as SplinePoint;
    const chord = Math.hypot(q.y - p.y, q.z - p.z);
    if (chord < ROUND_OFF_MM) {
      throw new Refusal(
        'degenerate-hull',
        `${field}[${i}]`,
        ['the same point as the one before it'],
        ['a point some way on'],
      );
    }
    t[i - from] = (t[i - from - 1] as number) + chord;
  }
  return t;
}

function chain(raw: readonly Raw[]): Piece[] {
  const pieces: Piece[] = [];
  let girth = 0;
  let region = 0;
  let lastTangent: readonly [number, number] | undefined;
  const p = newCurvePoint();
  for (const r of raw) {
    const base = { y0: r.from.y, z0: r.from.z, y1: r.to.y, z1: r.to.z, girth, region };
    const chord = Math.hypot(base.y1 - base.y0, base.z1 - base.z0);
    let piece: Piece;
    if (r.kind === 'line') piece = { ...base, kind: 'line', length: chord };
    else if (r.kind === 'arc') {
      const radius = Math.abs(r.radius);
      const rise = Math.sqrt(Math.max(0, radius * radius - (chord * chord) / 4));
      const turn = r.radius > 0 ? 1 : -1;
      const cy = (base.y0 + base.y1) / 2 - ((base.z1 - base.z0) / chord) * rise * turn;
      const cz = (base.z0 + base.z1) / 2 + ((base.y1 - base.y0) / chord) * rise * turn;
      const sweep = 2 * Math.asin(Math.min(1, chord / 2 / radius));
      piece = { ...base, kind: 'arc', cy, cz, radius, turn, sweep, length: radius * sweep };
    } else {
      piece = { ...base, kind: 'cubic', span: r.span, y: r.y, z: r.z, length: cubicLength(r.y, r.z, r.span, 1) };
    }
    curveAt(piece, 0, p);
    if (lastTangent) {
      const turn = Math.atan2(
        lastTangent[0] * p.dz - lastTangent[1] * p.dy,
        lastTangent[0] * p.dy + lastTangent[1] * p.dz,
      );
      if (Math.abs(turn) > CORNER_ANGLE) region++;
    }
    pieces.push({ ...piece, region });
    girth += piece.length;
    curveAt(piece, 1, p);
    lastTangent = [p.dy, p.dz];
  }
  return pieces;
}
