import { addScaled, cross, dot, normalize, scale, type Vec3 } from '../../geometry/math/vec.ts';
import type { FittingPlan } from '../plan/types.ts';
import { LEAST_FIGURE, LEAST_TYPE } from './cardtype.ts';
import { openFace, SHOWN_PLUMB, shortSide, shortWay } from './cardwords.ts';
import type { Context } from './context.ts';
import type { Align, Point, Sheet, TextItem } from './drawing.ts';
import { degrees } from './figures.ts';
import { textBox, widthOf } from './fonts.ts';
import { type Bounds, type Box, discOf, gasArrows, layoutJoint } from './jointlayout.ts';
import { roundWords } from './markout-ways.ts';
import { wayOf } from './sides.ts';
import type { Standing } from './standing.ts';
import type { DiverView } from './view.ts';

/** Whether nothing touches anything, and whether it is written where runs end. */
export interface Drawn {
  readonly clear: boolean;
  readonly stops: boolean;
}

/**
 * The joint as the diver sees it who hangs before it: the foot's edge with the runs of the root numbered and pointing the
 * way to go, where to strike, which way gas goes. Along the foot to scale, across it not. Returns whether there was room.
 */
export function drawJointPlan(sheet: Sheet, context: Context, view: DiverView, box: Box, standing: Standing): Drawn {
  const { fitting, fonts, plan } = context;
  const { frame, sequence } = fitting;
  const top = box.y + box.height - 4.4;
  const low = box.y + 1.8;
  const upward = view.flat || view.edges.top === 'upper' ? shortWay(view.edges.top) : `UP, ${shortWay(view.edges.top)}`;
  const centre = box.x + box.width / 2;
  // A foot that lies has room above and below, one that stands or leans has it at the sides and in two of the corners.
  const a = { x: dot(frame.foot, view.right), y: dot(frame.foot, view.up) };
  const leans = Math.abs(a.y) > 0.15 * Math.hypot(a.x, a.y);
  const rising = a.x * a.y >= 0;
  const [left, right] = [box.x + 2, box.x + box.width - 2];
  const obstacles: Bounds[] = [];
  const label = (text: string, x: number, y: number, align: Align, bold = true): void => {
    sheet.text(text, x, y, { size: LEAST_TYPE, bold, align });
    obstacles.push(textBox(fonts, sheet.items.at(-1) as TextItem));
  };
  const beside = leans ? box.y + box.height / 2 - 1.5 : top;
  label(`◄ ${shortWay(view.edges.left)}`, left, beside, 'left');
  label(`${shortWay(view.edges.right)} ►`, right, beside, 'right');
  const [upX, upAlign, lowX, lowAlign] = (
    !leans
      ? [centre, 'centre', centre, 'centre']
      : rising
        ? [left, 'left', right, 'right']
        : [right, 'right', left, 'left']
  ) as [number, Align, number, Align];
  label(`▲ ${upward}`, upX, top, upAlign);
  label(`▼ ${shortWay(view.edges.bottom)}`, lowX, low, lowAlign);
  // Where the next electrode is struck: nowhere on the root once it is closed, nor where nobody can say what is welded.
  const done = standing.kind === 'stands' ? standing.done : 0;
  const partTo = standing.kind === 'stands' ? standing.partTo : undefined;
  const next = standing.kind === 'void' ? undefined : sequence.runs[done];
  const strikeX = leans && !rising ? right - widthOf(fonts, 'strike', LEAST_TYPE) - 3 : box.x + 4;
  if (next !== undefined) {
    sheet.circle(strikeX, low + 1.5, 1.7, undefined, 0);
    label('strike', strikeX + 3, low, 'left', false);
  }
  const unit = plan.job.display === 'us' ? 'in' : 'mm';
  const from = wayOf(scale(frame.foot, -1), fitting.anchor.side);
  const key = {
    text: `${unit} from ${shortSide(from)}`,
    x: leans && !rising ? left : right,
    y: leans ? top : low,
    align: (leans && !rising ? 'left' : 'right') as Align,
  };
  const layout = layoutJoint(context, view, box, obstacles, key);
  if (layout.stops.length > 0) label(key.text, key.x, key.y, key.align, false);

  const { at, spot } = layout;
  const { halfFoot: hf, halfThickness: ht } = fitting.field;
  sheet.path([at(-hf, -ht), at(hf, -ht), at(hf, ht), at(-hf, ht)], { width: 0.5 }, 'DRAWING', true, 0.9);
  const gasPen = { width: 0.35, dash: [1.2, 1], grey: 0.25 };
  for (const { from, to } of gasArrows(fitting, at)) sheet.arrow(from, to, gasPen, 2.4);
  sequence.runs.forEach((run, i) => {
    const way = Math.sign(run.toS - run.fromS);
    // A little short of its ends, so that two runs that meet are seen to be two.
    const inset = Math.min(0.08 * Math.abs(run.toS - run.fromS), 6) * way;
    const welded = i < done ? run.toS - inset / 2 : i === done && partTo !== undefined ? partTo : undefined;
    if (welded !== undefined) {
      const bead = [run.fromS + inset / 2, welded].map((s) => spot(s, run.side, BEAD / 2));
      sheet.path(bead, { width: BEAD });
    }
    if (i < done) return;
    // What is left of a run may be too short for an arrow of full size.
    const from = spot(welded ?? run.fromS + inset, run.side, ARROW_OFF);
    const to = spot(run.toS - inset, run.side, ARROW_OFF);
    const long = Math.hypot(to.x - from.x, to.y - from.y);
    if (long > 1) sheet.arrow(from, to, { width: 1.1 }, Math.min(3.4, long));
  });
  if (next !== undefined) {
    const strikeAt = spot(partTo ?? next.fromS + 0.01 * Math.sign(next.toS - next.fromS), next.side, ARROW_OFF);
    sheet.circle(strikeAt.x, strikeAt.y, 1.9, { width: 0.4, grey: 1 }, 0);
  }
  for (const { run, at: p } of layout.numbers) {
    const struck = run === next;
    sheet.circle(p.x, p.y, discOf(fitting), { width: 0.45 }, struck ? 0 : 1);
    sheet.text(String(run.run), p.x, p.y - 2.05, {
      size: LEAST_FIGURE,
      bold: true,
      align: 'centre',
      grey: struck ? 1 : 0,
    });
  }
  for (const { inner, outer, text, at: p } of layout.stops) {
    sheet.line(inner.x, inner.y, outer.x, outer.y, { width: 0.4 });
    sheet.text(text, p.x, p.y - 2.05, { size: LEAST_FIGURE, bold: true, align: 'centre' });
  }
  return { clear: layout.clear, stops: layout.stops.length > 0 };
}

/** mm. Arrows run so far off the plate; what is welded already is drawn as a bar of this width against it. */
const ARROW_OFF = 2;
const BEAD = 2.6;

/** Sine of the rise of the foot beyond which the lug is shown face on: end on, plumb would not be seen. */
const STEEP_FOOT = 0.6;

/** The lug end on (face on where its foot climbs steeply), plumb up the page: shell, plate, plumb line, and the angle finder. */
export function drawStandSketch(sheet: Sheet, context: Context, box: Box): void {
  const { fitting, plan } = context;
  const { frame, anchor, input, readings } = fitting;
  const faceOn = Math.abs(dot(frame.foot, plan.up)) > STEEP_FOOT;
  const look = faceOn ? lookAcross(fitting) : lookAlong(fitting);
  const up = normalize(addScaled(plan.up, look, -dot(plan.up, look)));
  const right = cross(look, up);
  const side = anchor.side;
  const label = { size: LEAST_TYPE, bold: true };
  sheet.line(box.x, box.y, box.x, box.y + box.height, { width: 0.18 });
  // On a steep side the keel lies down, not in: there inboard is no way to the keel.
  const steep = roundWords(fitting).outEdge !== 'OUTBOARD';
  const word = (v: Vec3): string => {
    const way = wayOf(v, side);
    return way === 'keel' && steep ? 'INB’D' : shortWay(way);
  };
  sheet.text(`◄ ${word(scale(right, -1))}`, box.x + 1.5, box.y + box.height - 4.4, label);
  sheet.text(`${word(right)} ►`, box.x + box.width - 1.5, box.y + 1.8, { ...label, align: 'right' });
  const on = (v: Vec3): Point => ({ x: dot(v, right), y: dot(v, up) });
  const b = on(frame.stem);
  const n = on(anchor.normal);
  const nLong = Math.hypot(n.x, n.y);
  const out = { x: n.x / nLong, y: n.y / nLong };
  const along = { x: -out.y, y: out.x };
  const c = on(faceOn ? frame.foot : frame.face);
  const { pinHeight, topRadius, shoulder } = input.lug;
  const across = faceOn ? input.lug.foot : input.lug.thickness;
  const tall = pinHeight + topRadius;
  const room = { width: box.width - 6, height: box.height - 20 };
  // The plate and as much again of shell on either hand have to fit.
  const reachX = Math.abs(b.x) * tall + Math.abs(c.x) * across;
  const reachY = Math.abs(b.y) * tall + 0.35 * tall * Math.abs(along.y) + Math.abs(c.y) * across;
  const k = Math.min(room.height / Math.max(reachY, 1), room.width / Math.max(reachX + 0.5 * tall, 1));
  const centre = {
    x: box.x + box.width / 2 - (k * b.x * tall) / 2,
    y: box.y + 6 + room.height / 2 + 3.5 - (k * b.y * tall) / 2,
  };
  const at = (stem: number, face: number): Point => ({
    x: centre.x + k * (stem * b.x + face * c.x),
    y: centre.y + k * (stem * b.y + face * c.y),
  });
  // The shell keeps off the words above and below.
  const clearOf = Math.min(box.y + box.height - 7 - centre.y, centre.y - box.y - 7);
  const half = Math.min(box.width / 2 - 2, 0.55 * tall * k, Math.max(4, clearOf / Math.max(Math.abs(along.y), 1e-6)));
  const shellAt = (t: number, depth = 0): Point => ({
    x: centre.x + t * along.x - depth * out.x,
    y: centre.y + t * along.y - depth * out.y,
  });
  sheet.path([shellAt(-half), shellAt(half)], { width: 0.9 });
  for (let t = -half + 1.5; t < half; t += 3) {
    const p = shellAt(t);
    const q = shellAt(t + 1.6, 2);
    sheet.line(p.x, p.y, q.x, q.y, { width: 0.25 });
  }
  // Foot cut along the shell: where each face's line meets it.
  const meet = (face: number): number => (-face * (c.x * out.x + c.y * out.y)) / (b.x * out.x + b.y * out.y);
  const h = across / 2;
  const top = faceOn
    ? [
        at(shoulder, -h),
        at(pinHeight, -topRadius),
        at(tall, -0.5 * topRadius),
        at(tall, 0.5 * topRadius),
        at(pinHeight, topRadius),
        at(shoulder, h),
      ]
    : [at(tall, -h), at(tall, h)];
  sheet.path([at(meet(-h), -h), ...top, at(meet(h), h)], { width: 0.5 }, 'DRAWING', true, 0.85);
  const pin = at(pinHeight, 0);
  if (faceOn) sheet.circle(pin.x, pin.y, Math.max(0.8, (k * input.lug.hole) / 2), { width: 0.4 }, 1);
  else {
    const [p, q] = [at(pinHeight, -1.6 * h), at(pinHeight, 1.6 * h)];
    sheet.line(p.x, p.y, q.x, q.y, { width: 0.3, dash: [2, 0.8, 0.6, 0.8] });
  }
  // Plumb line through the pin, and the finder on the open face (face on: on the centre line).
  sheet.line(pin.x, box.y + 7, pin.x, box.y + box.height - 7, { width: 0.3, dash: [2.5, 1.2] });
  const sign = openFace(fitting) === 'face+' ? 1 : -1;
  const lies = faceOn ? 0 : sign * h;
  const f0 = at(pinHeight * (faceOn ? 0.15 : 0.45), lies);
  const f1 = at(pinHeight * (faceOn ? 0.65 : 0.95), lies);
  const thick = { x: sign * c.x * 3, y: sign * c.y * 3 };
  const finder = [f0, f1, { x: f1.x + thick.x, y: f1.y + thick.y }, { x: f0.x + thick.x, y: f0.y + thick.y }];
  sheet.path(finder, { width: 0.4 }, 'DRAWING', true, 0);
  const reading = faceOn ? readings.stemFromPlumb : readings.faceFromPlumb;
  const text = reading < SHOWN_PLUMB ? 'plumb' : degrees(reading);
  const isFigure = /\d/.test(text);
  sheet.text(text, box.x + box.width - 1.5, box.y + box.height - (isFigure ? 5 : 4.4), {
    size: isFigure ? LEAST_FIGURE : LEAST_TYPE,
    bold: true,
    align: 'right',
  });
}

/** Along the foot: forward where it runs fore and aft, else inboard. */
function lookAlong(fitting: FittingPlan): Vec3 {
  const A = fitting.frame.foot;
  const flat = normalize([A[0], A[1], 0]);
  const forward = Math.abs(flat[0]) >= Math.SQRT1_2;
  const inboard: Vec3 = [0, fitting.anchor.side === 'port' ? -1 : 1, 0];
  const towards = forward ? dot(A, [1, 0, 0]) : dot(A, inboard);
  return towards >= 0 ? A : scale(A, -1);
}

/** Across the plate: forward where it faces fore and aft, else inboard. */
function lookAcross(fitting: FittingPlan): Vec3 {
  const C = fitting.frame.face;
  const inboard: Vec3 = [0, fitting.anchor.side === 'port' ? -1 : 1, 0];
  const towards = Math.abs(C[0]) >= Math.abs(C[1]) ? C[0] : dot(C, inboard);
  return towards >= 0 ? C : scale(C, -1);
}
