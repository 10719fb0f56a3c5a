import type { Context } from './context.ts';
import { lowerEdge } from './cut.ts';
import { arcOf, type Point, type Vertex } from './drawing.ts';

/** mm. What is left on the outside of the outline for dressing. */
export const stockOf = (context: Context): number => context.options.stock;

/** mm outside the net outline at which the middle of the torch runs; undefined where the job gives no kerf. */
export const torchOutside = ({ options }: Context): number | undefined =>
  options.kerf === undefined ? undefined : options.stock + options.kerf / 2;

/**
 * Outline of the plate in (a, b), mm, counterclockwise from the foot's `end-`: the lower of the two foot edges (the plate is
 * cut square through there, then bevelled), upright sides, lines to the arc, the arc as an arc. `out` moves it outward by so
 * much, square to each of its lines.
 */
export function plateOutline({ fitting }: Context, out = 0): Vertex[] {
  const { shape, touch } = fitting.body.outline;
  const { topRadius: R, pinHeight: h, shoulder } = shape;
  const half = shape.foot / 2;
  const r = R + out;
  // The line that leaves the shoulder leans at `touch` off the upright; moved outward it meets the side, moved outward too,
  // higher up by out tan(touch / 2).
  const bend = shoulder + out * Math.tan(touch / 2);
  const on = (angle: number) => ({ x: r * Math.cos(angle), y: h + r * Math.sin(angle) });
  const sweep = Math.PI - 2 * touch;
  return [
    ...below(lowerEdge(fitting), out, half),
    { x: half + out, y: bend },
    { ...on(touch), bulge: Math.tan(sweep / 4) },
    on(Math.PI - touch),
    { x: -half - out, y: bend },
  ];
}

/**
 * Area inside a closed outline with arcs, mm^2, more than nothing counterclockwise: the polygon of its corners (shoelace formula) and
 * for each arc the segment between it and its chord, r^2 (w - sin w) / 2 with w its sweep.
 */
export function areaInside(outline: readonly Vertex[]): number {
  return outline.reduce((sum, p, i) => {
    const q = outline[(i + 1) % outline.length] as Vertex;
    const polygon = (p.x * q.y - q.x * p.y) / 2;
    if (!p.bulge) return sum + polygon;
    const { radius, sweep } = arcOf(p, q);
    return sum + polygon + (radius * radius * (sweep - Math.sin(sweep))) / 2;
  }, 0);
}

/** mm. Closer corners are one corner: a line between them has no direction to move it square to. */
const SAME = 1e-6;

/** A straight line over a stretch of x, as the height at `x` of a line through p. */
interface Piece {
  readonly from: number;
  readonly to: number;
  readonly p: Point;
  readonly slope: number;
}

/**
 * The foot's edge (from -half to half) moved `out` mm downward, square to itself, and drawn out to the sides, which have moved
 * outward as much. Corners are where the moved lines meet. Beside an upright step the lower line goes on for `out`, over whatever
 * lies above it there: nowhere is less than `out` left.
 */
function below(edge: readonly Point[], out: number, half: number): Point[] {
  const points = edge.filter((p, i) => {
    const before = edge[i - 1];
    return before === undefined || Math.hypot(p.x - before.x, p.y - before.y) > SAME;
  });
  if (out === 0 || points.length < 2) return points;
  const slopeOf = (i: number): number | undefined => {
    const [p, q] = [points[i], points[i + 1]];
    return p === undefined || q === undefined || q.x - p.x < SAME ? undefined : (q.y - p.y) / (q.x - p.x);
  };
  /** x to which the line that comes to point i on this side goes on, where the other side's line is no plain neighbour. */
  const beside = (i: number, m: number | undefined, on: number | undefined, way: 1 | -1): number => {
    const p = points[i] as Point;
    if (m !== undefined && on !== undefined) return crossing(p, m, on, out);
    const q = points[i + way];
    if (q === undefined) return way * (half + out);
    return q.y > p.y ? p.x + way * out : p.x;
  };
  const pieces: Piece[] = [];
  for (let i = 0; i + 1 < points.length; i++) {
    const m = slopeOf(i);
    if (m === undefined) continue;
    const p = points[i] as Point;
    pieces.push({
      from: beside(i, slopeOf(i - 1), m, -1),
      to: beside(i + 1, m, slopeOf(i + 1), 1),
      p: { x: p.x, y: p.y - out * Math.hypot(1, m) },
      slope: m,
    });
  }
  return lowest(pieces);
}

/** x at which two lines through p, each moved down by `out` square to itself, meet; straight on, where the one line lies below p. */
const crossing = (p: Point, m0: number, m1: number, out: number): number =>
  p.x + out * (Math.abs(m1 - m0) < 1e-9 ? m0 / Math.hypot(1, m0) : (Math.hypot(1, m1) - Math.hypot(1, m0)) / (m1 - m0));

/** The lower outline of straight pieces, from left to right. */
function lowest(pieces: readonly Piece[]): Point[] {
  const at = ({ p, slope }: Piece, x: number): number => p.y + slope * (x - p.x);
  const stops = pieces.flatMap((a, i) => [
    a.from,
    a.to,
    ...pieces.slice(i + 1).flatMap((b) => {
      const x = a.p.x + (at(b, a.p.x) - a.p.y) / (a.slope - b.slope);
      return x > Math.max(a.from, b.from) && x < Math.min(a.to, b.to) ? [x] : [];
    }),
  ]);
  stops.sort((p, q) => p - q);
  const out: Point[] = [];
  let last: Piece | undefined;
  for (let i = 0; i + 1 < stops.length; i++) {
    const [x0, x1] = [stops[i] as number, stops[i + 1] as number];
    if (x1 - x0 < SAME) continue;
    const middle = (x0 + x1) / 2;
    let best: Piece | undefined;
    for (const piece of pieces) {
      if (piece.from > middle || piece.to < middle) continue;
      if (best === undefined || at(piece, middle) < at(best, middle)) best = piece;
    }
    if (best === undefined) continue;
    if (best === last) out.pop();
    else {
      const start = { x: x0, y: at(best, x0) };
      const end = out.at(-1);
      if (end === undefined || Math.hypot(end.x - start.x, end.y - start.y) > SAME) out.push(start);
    }
    out.push({ x: x1, y: at(best, x1) });
    last = best;
  }
  return out;
}
