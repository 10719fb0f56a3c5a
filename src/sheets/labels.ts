import { MM_PER_POINT as MM, type Point, type Sheet, THIN } from './drawing.ts';
import { CAP_HEIGHT, type Fonts, widthOf } from './fonts.ts';
import { clipped, toSegment } from './planar.ts';

/** A box on the page, mm. */
export interface Frame {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

/** Words that belong to a point of a drawing. */
export interface Label {
  readonly text: string;
  readonly at: Point;
  /** Other points that say the same, as along a line. */
  readonly or?: readonly Point[];
  readonly bold?: boolean;
}

export interface Placed extends Label {
  readonly box: Frame;
}

/** Points of 1/72 in. */
export const LABEL_SIZE = 8;
/** mm. Air round a word. */
const AIR = 0.7;
/** mm. A word farther off its point than this gets a line that leads to it. */
const LEADER = 3.2;
const RINGS = [1.4, 2.6, 4, 6, 8.5, 11.5, 15, 19, 24, 30, 37, 45];
const WAYS = 16;
/** What it costs to lie over a line, to be led over another word or line, or along a line, in mm farther off. */
const OVER_LINE = 22;
const OVER_WORD = 40;
const LED_OVER_LINE = 3;
const LED_OVER_LED = 30;
const ALONG_LED = 60;
const ALONG_LINE = 4;
/** What it costs to stand beside a point with a line between that is not its own: it would be read as that one's. */
const PARTED = 12;
/** mm. Lines nearer than this over more than that lie along one another; a line nearer than this to its point is its own. */
const NEAR = 0.6;
const OVER_MORE = 1;
/** mm. Radius of the dot in which a line that leads ends. */
const TIP = 0.4;

/**
 * Words beside their points, one after the other, each where it lies nearest without covering a word that is there already, over as
 * few lines as may be, all of it inside the frame and clear of what is `taken`. What finds no room comes back in `left`.
 */
export function placeLabels(
  fonts: Fonts,
  labels: readonly Label[],
  lines: readonly (readonly Point[])[],
  frame: Frame,
  taken: readonly Frame[] = [],
): { readonly placed: readonly Placed[]; readonly left: readonly Label[] } {
  const segments = lines.flatMap((line) => line.slice(1).map((q, i) => [line[i] as Point, q] as const));
  const placed: Placed[] = [];
  const left: Label[] = [];
  for (const label of labels) {
    const width = widthOf(fonts, label.text, LABEL_SIZE, label.bold) + 2 * AIR;
    const height = LABEL_SIZE * MM + 2 * AIR;
    let best: { at: Point; box: Frame; cost: number } | undefined;
    for (const ring of RINGS) {
      if (best !== undefined && best.cost <= ring) break;
      for (const at of [label.at, ...(label.or ?? [])]) {
        for (let k = 0; k < WAYS; k++) {
          const box = boxBeside(at, (2 * Math.PI * k) / WAYS, ring, width, height);
          if (box.x0 < frame.x0 || box.x1 > frame.x1 || box.y0 < frame.y0 || box.y1 > frame.y1) continue;
          if (taken.some((other) => overlap(box, other)) || placed.some((other) => overlap(box, other.box))) continue;
          const over = segments.filter(([p, q]) => crosses(p, q, box)).length;
          if (best !== undefined && ring + OVER_LINE * Math.min(over, 3) >= best.cost) continue;
          const cost = ring + OVER_LINE * Math.min(over, 3) + leading({ ...label, at, box }, placed, segments);
          if (best === undefined || cost < best.cost) best = { at, box, cost };
        }
      }
    }
    if (best === undefined) left.push(label);
    else placed.push({ ...label, at: best.at, box: best.box });
  }
  return { placed, left };
}

/** A box whose edge is `ring` away from a point along a way (rad). */
function boxBeside(at: Point, way: number, ring: number, width: number, height: number): Frame {
  const [c, s] = [Math.cos(way), Math.sin(way)];
  const reach = Math.min(width / 2 / Math.max(Math.abs(c), 1e-9), height / 2 / Math.max(Math.abs(s), 1e-9));
  const x = at.x + c * (reach + ring);
  const y = at.y + s * (reach + ring);
  return { x0: x - width / 2, y0: y - height / 2, x1: x + width / 2, y1: y + height / 2 };
}

/** What it costs to lead this one to its point over words and lines, and under the lines that lead others to theirs. */
function leading(label: Placed, placed: readonly Placed[], segments: readonly (readonly [Point, Point])[]): number {
  const leaders = placed.filter(isLed).map(leaderOf);
  const under = leaders.filter(([p, q]) => crosses(p, q, label.box));
  const [at, near] = leaderOf(label);
  const lines = segments.filter(([p, q]) => meet(at, near, p, q) && toSegment(at, p, q) > NEAR / 4);
  if (!isLed(label)) return OVER_WORD * under.length + PARTED * lines.length;
  const words = placed.filter((other) => crosses(at, near, other.box));
  const led = leaders.filter(([p, q]) => meet(at, near, p, q));
  const along = (stretches: readonly (readonly [Point, Point])[]): number =>
    stretches.filter((stretch) => liesAlong([at, near], stretch)).length;
  return (
    OVER_WORD * (under.length + words.length) +
    LED_OVER_LINE * lines.length +
    LED_OVER_LED * led.length +
    ALONG_LED * along(leaders) +
    ALONG_LINE * along(segments)
  );
}

/** From the point to the nearest of the word. */
const leaderOf = ({ at, box }: Placed): readonly [Point, Point] => [at, nearest(box, at)];

/** Whether a stretch runs along another so near to it, and so far, that the two read as one. */
export function liesAlong([a, b]: readonly [Point, Point], [p, q]: readonly [Point, Point]): boolean {
  const apart = (u: number, v: number, w: number, z: number): boolean =>
    Math.max(u, v) + NEAR < Math.min(w, z) || Math.max(w, z) + NEAR < Math.min(u, v);
  if (apart(a.x, b.x, p.x, q.x) || apart(a.y, b.y, p.y, q.y) || cutsClear(a, b, p, q)) return false;
  const long = Math.hypot(b.x - a.x, b.y - a.y);
  const pieces = Math.max(1, Math.ceil(long / 0.25));
  let close = 0;
  for (let i = 0; i <= pieces; i++) {
    const t = i / pieces;
    if (toSegment({ x: a.x + t * (b.x - a.x), y: a.y + t * (b.y - a.y) }, p, q) < NEAR) close++;
  }
  return (close / (pieces + 1)) * long > OVER_MORE;
}

/** Whether two stretches cut at an angle at which they are told apart: 30 degrees and more. */
function cutsClear(a: Point, b: Point, p: Point, q: Point): boolean {
  const [u, v] = [
    { x: b.x - a.x, y: b.y - a.y },
    { x: q.x - p.x, y: q.y - p.y },
  ];
  return Math.abs(u.x * v.y - u.y * v.x) > 0.5 * Math.hypot(u.x, u.y) * Math.hypot(v.x, v.y);
}

/** Whether two stretches cross between their ends. */
function meet(a: Point, b: Point, p: Point, q: Point): boolean {
  const side = (u: Point, v: Point, w: Point) => (v.x - u.x) * (w.y - u.y) - (v.y - u.y) * (w.x - u.x);
  return side(a, b, p) * side(a, b, q) < 0 && side(p, q, a) * side(p, q, b) < 0;
}

/** Draws them, white behind the words so that a line under one does not spoil it. */
export function drawLabels(sheet: Sheet, placed: readonly Placed[], layer = 'TEXT'): void {
  for (const label of placed) {
    if (!isLed(label)) continue;
    const [at, near] = leaderOf(label);
    sheet.line(at.x, at.y, near.x, near.y, THIN, 'LEADERS');
    // Of several lines that it crosses the one it ends on is meant.
    sheet.circle(at.x, at.y, TIP, undefined, 0, 'LEADER TIPS');
  }
  for (const { text, bold, box } of placed) {
    sheet.rect(box.x0 + 0.3, box.y0 + 0.3, box.x1 - box.x0 - 0.6, box.y1 - box.y0 - 0.6, undefined, 1, 'PAPER');
    sheet.text(text, (box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2 - (CAP_HEIGHT * LABEL_SIZE * MM) / 2, {
      size: LABEL_SIZE,
      align: 'centre',
      layer,
      ...(bold === undefined ? {} : { bold }),
    });
  }
}

const isLed = ({ box, at }: Placed): boolean => {
  const near = nearest(box, at);
  return Math.hypot(near.x - at.x, near.y - at.y) > LEADER;
};

const nearest = (box: Frame, p: Point): Point => ({
  x: Math.min(Math.max(p.x, box.x0), box.x1),
  y: Math.min(Math.max(p.y, box.y0), box.y1),
});

const overlap = (p: Frame, q: Frame): boolean => p.x0 < q.x1 && q.x0 < p.x1 && p.y0 < q.y1 && q.y0 < p.y1;

/** Whether a straight line from p to q passes through a box. */
function crosses(p: Point, q: Point, box: Frame): boolean {
  // Most lie wholly to one side of it.
  if (Math.max(p.x, q.x) < box.x0 || Math.min(p.x, q.x) > box.x1) return false;
  if (Math.max(p.y, q.y) < box.y0 || Math.min(p.y, q.y) > box.y1) return false;
  const [x, y] = [(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2];
  const line = [p, q].map((end) => ({ x: end.x - x, y: end.y - y }));
  return clipped(line, { x: (box.x1 - box.x0) / 2, y: (box.y1 - box.y0) / 2 }).length > 0;
}
