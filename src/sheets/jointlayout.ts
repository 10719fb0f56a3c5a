import { rootAt, SIDES, type Side } from '../../geometry/fit/rootline.ts';
import { dot, type Vec3 } from '../../geometry/math/vec.ts';
import type { RootRun } from '../../geometry/sequence/sequence.ts';
import type { FittingPlan } from '../plan/types.ts';
import { LEAST_FIGURE, LEAST_TYPE } from './cardtype.ts';
import type { Context } from './context.ts';
import type { Align, Point } from './drawing.ts';
import { cardCount } from './figures.ts';
import { textBox, widthOf } from './fonts.ts';
import { toSegment } from './planar.ts';
import { alongSide } from './sides.ts';
import type { DiverView } from './view.ts';

/** mm. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface Bounds {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

/** mm. Radius of a run's number of one figure, of two and more; its edge is so far off the edge of the plate. */
const DISC = 3.9;
const WIDE_DISC = 4.9;
const DISC_OFF = 2.7;

/** mm. Radius of the numbers of the runs: all alike, wide enough for the longest. */
export const discOf = ({ sequence }: FittingPlan): number => (sequence.runs.length > 9 ? WIDE_DISC : DISC);
/** mm. Length of the line across the joint at a stop. */
const TICK = 4;

/** Where everything of the joint stands on the card: nothing over another, nothing outside the box. mm on the page. */
export interface JointLayout {
  /** A place of the foot (a, c), moved outward by so much along or across it. */
  readonly at: (a: number, c: number, outAlong?: number, outAcross?: number) => Point;
  /** The root at s, moved off the side by so much. */
  readonly spot: (s: number, side: Side, off: number) => Point;
  readonly numbers: readonly { readonly run: RootRun; readonly at: Point }[];
  /** Stops within a face with their distance from the `end-` end; empty where there is no room to write them. */
  readonly stops: readonly {
    readonly inner: Point;
    readonly outer: Point;
    readonly text: string;
    readonly at: Point;
  }[];
}

/** Whether nothing of it touches anything: not so where the box is too small for whatever was tried. */
export interface FoundLayout extends JointLayout {
  readonly clear: boolean;
}

/**
 * The foot as large as it can be drawn, with its numbers and stops, clear of what is written already (`obstacles`). Smaller and
 * smaller until nothing touches; without the distances of the stops where they cannot be had.
 */
export function layoutJoint(
  context: Context,
  view: DiverView,
  box: Box,
  obstacles: readonly Bounds[],
  key: { readonly text: string; readonly x: number; readonly y: number; readonly align: Align },
): FoundLayout {
  const { fonts } = context;
  const keyBox = textBox(fonts, {
    kind: 'text',
    layer: '',
    text: key.text,
    at: { x: key.x, y: key.y },
    size: LEAST_TYPE,
    align: key.align,
    rotation: 0,
    bold: false,
    italic: false,
    grey: 0,
  });
  const keyFits = !obstacles.some((each) => touches(each, keyBox, 0.5));
  for (const [wide, stops, least] of [
    [16, 'between', 34],
    [16, 'beyond', 34],
    [12, 'between', 28],
    [12, 'beyond', 28],
    [16, 'inside', 34],
    [14, 'none', 26],
    [10, 'none', 8],
  ] as const) {
    const ticks = stops !== 'none';
    if (ticks && !keyFits) continue;
    for (let long = 96; long >= least; long -= 2) {
      const layout = place(context, view, box, long, wide, stops);
      if (ticks && layout.stops.length === 0) break;
      if (clear(context, layout, box, ticks ? [...obstacles, keyBox] : obstacles)) return { ...layout, clear: true };
    }
  }
  return { ...place(context, view, box, 8, 10, 'none'), clear: false };
}

/** Distances of the stops between the numbers of the runs, farther out than they, on the plate, or left away. */
type StopRow = 'between' | 'beyond' | 'inside' | 'none';

function place(context: Context, view: DiverView, box: Box, long: number, wide: number, stopRow: StopRow): JointLayout {
  const { fitting, plan, fonts } = context;
  const { root, sequence, frame } = fitting;
  const disc = discOf(fitting);
  const discRow = disc + DISC_OFF;
  const { halfFoot, halfThickness } = fitting.field;
  const { e1, e2 } = directions(frame.foot, frame.face, view);
  const middle = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
  const at = (a: number, c: number, outAlong = 0, outAcross = 0): Point => {
    const u = (a / halfFoot) * (long / 2) + outAlong;
    const v = (c / halfThickness) * (wide / 2) + outAcross;
    return { x: middle.x + e1.x * u + e2.x * v, y: middle.y + e1.y * u + e2.y * v };
  };
  const out = (side: Side, off: number): [number, number] =>
    side === 'face-' ? [0, -off] : side === 'face+' ? [0, off] : side === 'end+' ? [off, 0] : [-off, 0];
  const spot = (s: number, side: Side, off: number): Point => {
    const p = rootAt(root, s);
    return at(p.a, p.c, ...out(side, off));
  };
  const numbers: { run: RootRun; at: Point }[] = [];
  const stops: { inner: Point; outer: Point; text: string; at: Point }[] = [];
  for (const side of SIDES) {
    const face = side === 'face-' || side === 'face+';
    const runs = sequence.runs.filter((run) => run.side === side);
    const places = numberPlaces(
      runs.map((run) => shareAlong(fitting, run)),
      face ? long : wide,
      disc,
    );
    runs.forEach((run, i) => {
      const { share, row } = places[i] as { share: number; row: number };
      const off = discRow + row * (2 * disc + 0.6);
      const p = face
        ? at((2 * share - 1) * halfFoot, side === 'face+' ? halfThickness : -halfThickness, ...out(side, off))
        : at(side === 'end+' ? halfFoot : -halfFoot, (2 * share - 1) * halfThickness, ...out(side, off));
      numbers.push({ run, at: p });
    });
    if (!face || stopRow === 'none') continue;
    for (const s of stopsWithin(fitting, side)) {
      const text = cardCount(alongSide(fitting, s).distance, plan.job.display);
      const half = widthOf(fonts, text, LEAST_FIGURE, true) / 2;
      const reach = Math.abs(e2.x) * half + Math.abs(e2.y) * 2.3;
      const off =
        stopRow === 'inside' ? -(1.2 + reach) : reach + (stopRow === 'between' ? TICK + 0.8 : discRow + disc + 0.8);
      stops.push({ inner: spot(s, side, 0), outer: spot(s, side, TICK), text, at: spot(s, side, off) });
    }
  }
  return { at, spot, numbers, stops };
}

/** The foot's two directions on the page. */
function directions(A: Vec3, C: Vec3, view: DiverView): { e1: Point; e2: Point } {
  const on = (v: Vec3): Point => ({ x: dot(v, view.right), y: dot(v, view.up) });
  const a = on(A);
  const long = Math.hypot(a.x, a.y);
  let e1 = { x: a.x / long, y: a.y / long };
  // A degree or two off the level is not seen, only looks careless.
  if (Math.abs(e1.y) < 0.06) e1 = { x: Math.sign(e1.x), y: 0 };
  if (Math.abs(e1.x) < 0.06) e1 = { x: 0, y: Math.sign(e1.y) };
  const c = on(C);
  const left = { x: -e1.y, y: e1.x };
  const e2 = left.x * c.x + left.y * c.y >= 0 ? left : { x: -left.x, y: -left.y };
  return { e1, e2 };
}

const touches = (p: Bounds, q: Bounds, gap: number): boolean =>
  p.x0 < q.x1 + gap && q.x0 < p.x1 + gap && p.y0 < q.y1 + gap && q.y0 < p.y1 + gap;

const within = (p: Bounds, box: Box, gap: number): boolean =>
  p.x0 > box.x + gap && p.y0 > box.y + gap && p.x1 < box.x + box.width - gap && p.y1 < box.y + box.height - gap;

/** Whether nothing stands over anything. */
function clear(context: Context, layout: JointLayout, box: Box, obstacles: readonly Bounds[]): boolean {
  const { fonts, fitting } = context;
  const { halfFoot: hf, halfThickness: ht } = fitting.field;
  const disc = discOf(fitting);
  const discs = layout.numbers.map(({ at }) => at);
  const labels = layout.stops.map(({ text, at }) => {
    const half = widthOf(fonts, text, LEAST_FIGURE, true) / 2;
    return { x0: at.x - half, x1: at.x + half, y0: at.y - 3.5, y1: at.y + 2.2 };
  });
  const around = (p: Point, r: number): Bounds => ({ x0: p.x - r, x1: p.x + r, y0: p.y - r, y1: p.y + r });
  const off = (p: Point, b: Bounds): number =>
    Math.hypot(p.x - Math.max(b.x0, Math.min(p.x, b.x1)), p.y - Math.max(b.y0, Math.min(p.y, b.y1)));
  if (discs.some((p) => !within(around(p, disc), box, 0.4))) return false;
  if (labels.some((label) => !within(label, box, 0.4))) return false;
  if (discs.some((p, i) => discs.slice(i + 1).some((q) => Math.hypot(p.x - q.x, p.y - q.y) < 2 * disc + 0.2)))
    return false;
  const arrows = gasArrows(fitting, layout.at);
  if (labels.some((label) => arrows.some((arrow) => crosses(arrow, label)))) return false;
  const taken = [...obstacles, ...labels];
  if (discs.some((p) => taken.some((each) => off(p, each) < disc + 0.3))) return false;
  if (labels.some((p, i) => [...obstacles, ...labels.slice(i + 1)].some((each) => touches(p, each, 0.5)))) return false;
  // The arrows run beside the plate: its rim with them must keep off what is written.
  const rim: Point[] = [];
  for (let k = 0; k <= 12; k++) {
    const w = k / 6 - 1;
    for (const sign of [-1, 1]) {
      rim.push(layout.at(w * hf, sign * ht, 3 * w, 3 * sign), layout.at(sign * hf, w * ht, 3 * sign, 3 * w));
    }
  }
  return rim.every((p) => within(around(p, 0.5), box, 0) && obstacles.every((each) => off(p, each) > 0.4));
}

/** mm. Shorter than this an arrow shows no way. */
const LEAST_ARROW = 3.5;
/** mm. An arrow of gas keeps so far inside the outline of the foot: its head is seen clear of the line. */
const OFF_RIM = 2.2;
/** mm. Nearer to another than this an arrow lies on it. */
const APART = 1;

export interface GasArrow {
  readonly from: Point;
  readonly to: Point;
}

/**
 * Ways of the gas of each run through the crevice, from the middle of the run to where it comes out, both as far inside the foot's outline
 * (mm on the page) as an arrow is seen beside a line. One that lies on a longer one of the same way is left to that.
 */
export function gasArrows(fitting: FittingPlan, at: JointLayout['at']): readonly GasArrow[] {
  const { halfFoot, halfThickness } = fitting.field;
  const middle = at(0, 0);
  const reach = (p: Point): number => Math.hypot(p.x - middle.x, p.y - middle.y);
  const [long, wide] = [reach(at(halfFoot, 0)), reach(at(0, halfThickness))];
  const inside = (share: number, half: number): number => {
    const most = Math.max(0, half - OFF_RIM);
    return Math.max(-most, Math.min(most, share * half));
  };
  const place = (s: number): Point => {
    const p = rootAt(fitting.root, s);
    return at(0, 0, inside(p.a / halfFoot, long), inside(p.c / halfThickness, wide));
  };
  const all = fitting.sequence.runs.flatMap((run): GasArrow[] => {
    if (run.ventS === null) return [];
    const [from, to] = [place((run.fromS + run.toS) / 2), place(run.ventS)];
    return lengthOf({ from, to }) > LEAST_ARROW ? [{ from, to }] : [];
  });
  const kept: GasArrow[] = [];
  for (const arrow of [...all].sort((p, q) => lengthOf(q) - lengthOf(p))) {
    const lies = (other: GasArrow) =>
      toSegment(arrow.from, other.from, other.to) < APART &&
      toSegment(arrow.to, other.from, other.to) < APART &&
      sameWay(arrow, other);
    if (!kept.some(lies)) kept.push(arrow);
  }
  return kept;
}

const lengthOf = ({ from, to }: GasArrow): number => Math.hypot(to.x - from.x, to.y - from.y);

const sameWay = (p: GasArrow, q: GasArrow): boolean =>
  (p.to.x - p.from.x) * (q.to.x - q.from.x) + (p.to.y - p.from.y) * (q.to.y - q.from.y) > 0;

/** Whether an arrow runs through a box, its head counted in: looked at point by point. */
function crosses({ from, to }: GasArrow, box: Bounds): boolean {
  const n = Math.ceil(Math.hypot(to.x - from.x, to.y - from.y) / 0.5);
  const pad = 0.9;
  for (let k = 0; k <= n; k++) {
    const x = from.x + ((to.x - from.x) * k) / n;
    const y = from.y + ((to.y - from.y) * k) / n;
    if (x > box.x0 - pad && x < box.x1 + pad && y > box.y0 - pad && y < box.y1 + pad) return true;
  }
  return false;
}

/** Middle of a run along its side, 0 at -a or -c, 1 at the other end. */
function shareAlong(fitting: FittingPlan, run: RootRun): number {
  const p = rootAt(fitting.root, (run.fromS + run.toS) / 2);
  return run.side.startsWith('face')
    ? (p.a / fitting.field.halfFoot + 1) / 2
    : (p.c / fitting.field.halfThickness + 1) / 2;
}

/** Where the numbers of a side stand so that none covers another: pushed apart, in two rows where one is too short. */
export function numberPlaces(shares: readonly number[], length: number, disc = DISC): { share: number; row: number }[] {
  const least = 2 * disc + 0.5;
  const order = shares.map((share, i) => ({ at: share * length, i })).sort((p, q) => p.at - q.at);
  const rows = order.length * least > length + 2 * disc ? 2 : 1;
  const out: { share: number; row: number }[] = shares.map((share) => ({ share, row: 0 }));
  for (let row = 0; row < rows; row++) {
    const here = order.filter((_, k) => k % rows === row);
    for (let round = 0; round < 60; round++) {
      for (let k = 1; k < here.length; k++) {
        const p = here[k - 1] as { at: number };
        const q = here[k] as { at: number };
        const over = least - (q.at - p.at);
        if (over > 0) {
          p.at -= over / 2;
          q.at += over / 2;
        }
      }
    }
    for (const { at, i } of here) out[i] = { share: at / length, row };
  }
  return out;
}

/** Ends of runs that lie on a side, away from its corners: mm along the root. */
export function stopsWithin(fitting: FittingPlan, side: Side): number[] {
  const { root, sequence } = fitting;
  const k = SIDES.indexOf(side);
  const start = root.corners[k] as number;
  const end = root.corners[k + 1] as number;
  const stops = sequence.runs
    .flatMap((run) => [run.fromS, run.toS])
    .map((s) => s - root.perimeter * Math.floor(s / root.perimeter))
    .filter((s) => s > start + 5 && s < end - 5)
    .sort((p, q) => p - q);
  return stops.filter((s, i) => i === 0 || s - (stops[i - 1] as number) > 3);
}
