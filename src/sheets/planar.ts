import type { Point } from './drawing.ts';

/* Plane geometry of lines on a sheet. Millimetres. */

/** Shortest distance from p to the straight line between a and b. */
export function toSegment(p: Point, a: Point, b: Point): number {
  const [ux, uy] = [b.x - a.x, b.y - a.y];
  const long = ux * ux + uy * uy;
  const t = long === 0 ? 0 : Math.min(1, Math.max(0, ((p.x - a.x) * ux + (p.y - a.y) * uy) / long));
  return Math.hypot(p.x - a.x - t * ux, p.y - a.y - t * uy);
}

/** Twice the area of a, b, c: more than nothing where c lies on the left of the way from a to b. */
const turn = (a: Point, b: Point, c: Point): number => (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);

/** Shortest distance between two straight lines with ends; 0 where they cross. */
function betweenSegments(a: Point, b: Point, c: Point, d: Point): number {
  if (turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0) return 0;
  return Math.min(toSegment(a, c, d), toSegment(b, c, d), toSegment(c, a, b), toSegment(d, a, b));
}

/** Whether p lies inside a closed outline (even-odd rule). */
export function inside(p: Point, outline: readonly Point[]): boolean {
  let odd = false;
  outline.forEach((a, i) => {
    const b = outline[(i + 1) % outline.length] as Point;
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) * (b.x - a.x)) / (b.y - a.y)) odd = !odd;
  });
  return odd;
}

/** Shortest distance from a line of points (one point alone: that point) to a closed outline; 0 where it crosses it or lies in it. */
export function clearance(line: readonly Point[], outline: readonly Point[]): number {
  if (line.some((p) => inside(p, outline))) return 0;
  let least = Infinity;
  const parts = line.length === 1 ? [[line[0], line[0]]] : line.slice(1).map((q, i) => [line[i], q]);
  for (const [p, q] of parts as [Point, Point][]) {
    outline.forEach((a, i) => {
      least = Math.min(least, betweenSegments(p, q, a, outline[(i + 1) % outline.length] as Point));
    });
  }
  return least;
}

/** The parts of a line of points that lie in the rectangle |x| <= reach.x, |y| <= reach.y. */
export function clipped(line: readonly Point[], reach: Point): Point[][] {
  const parts: Point[][] = [];
  let open = false;
  for (let i = 0; i + 1 < line.length; i++) {
    const [p, q] = [line[i], line[i + 1]] as [Point, Point];
    // Liang and Barsky: the stretch of the way from p to q that is on the inner side of all four edges.
    let [from, to] = [0, 1];
    for (const [way, room] of [
      [p.x - q.x, p.x + reach.x],
      [q.x - p.x, reach.x - p.x],
      [p.y - q.y, p.y + reach.y],
      [q.y - p.y, reach.y - p.y],
    ] as const) {
      if (way === 0) {
        if (room < 0) to = -1;
      } else if (way < 0) from = Math.max(from, room / way);
      else to = Math.min(to, room / way);
    }
    const at = (t: number): Point =>
      t === 0 ? p : t === 1 ? q : { x: p.x + t * (q.x - p.x), y: p.y + t * (q.y - p.y) };
    if (from < to) {
      if (open && from === 0) parts.at(-1)?.push(at(to));
      else parts.push([at(from), at(to)]);
    }
    open = from < to && to === 1;
  }
  return parts;
}

/** Whether a line of points comes into the box about `middle` that reaches `half` to either side. */
export const comesInto = (line: readonly Point[], middle: Point, half: Point): boolean =>
  clipped(
    line.map(({ x, y }) => ({ x: x - middle.x, y: y - middle.y })),
    half,
  ).length > 0;

/** The part of a convex outline that lies in the rectangle |x| <= reach.x, |y| <= reach.y (Sutherland and Hodgman). */
export function within(outline: readonly Point[], reach: Point): Point[] {
  let points = [...outline];
  for (const room of [
    (p: Point) => p.x + reach.x,
    (p: Point) => reach.x - p.x,
    (p: Point) => p.y + reach.y,
    (p: Point) => reach.y - p.y,
  ]) {
    points = points.flatMap((p, i) => {
      const q = points[(i + 1) % points.length] as Point;
      const [a, b] = [room(p), room(q)];
      const kept = a >= 0 ? [p] : [];
      if (a * b >= 0) return kept;
      const t = a / (a - b);
      return [...kept, { x: p.x + t * (q.x - p.x), y: p.y + t * (q.y - p.y) }];
    });
  }
  return points;
}

/** The outline of all places within `radius` of a straight line from a to b: two lines and two half circles of chords. */
export function band(a: Point, b: Point, radius: number, chords = 48): Point[] {
  const angle = Math.atan2(b.y - a.y, b.x - a.x);
  const half = (at: Point, from: number): Point[] =>
    Array.from({ length: chords + 1 }, (_, k) => {
      const w = from + (Math.PI * k) / chords;
      return { x: at.x + radius * Math.cos(w), y: at.y + radius * Math.sin(w) };
    });
  return [...half(b, angle - Math.PI / 2), ...half(a, angle + Math.PI / 2)];
}
