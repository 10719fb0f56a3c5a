import type { LiftPlan } from '../plan/movement/types.ts';
import type { Plan } from '../plan/types.ts';
import type { Context } from './context.ts';
import { type Pen, type Point, type Sheet, THIN } from './drawing.ts';
import { degrees } from './figures.ts';
import type { Flow } from './flow.ts';
import { shortened, widthOf, wrapped } from './fonts.ts';
import { drawLabels, type Frame, type Label, placeLabels } from './labels.ts';
import { centres, NAME, pushes, scaleBar } from './liftmarks.ts';
import {
  type KeyStep,
  keptClear,
  keySteps,
  type LiftView,
  liftViews,
  lugIn,
  pathIn,
  sceneAt,
  shellIn,
  waterIn,
} from './liftscene.ts';
import { LEAN, pullText, stepText } from './liftsteps.ts';
import { isFree, leanOf, TURN, turnOf, turnText } from './liftturns.ts';
import { forceText, hoistLength } from './liftunits.ts';
import { clipped, comesInto, within } from './planar.ts';
import { plainText } from './text.ts';
import { depthOf } from './view.ts';

const SHELL: Pen = { width: 0.6 };
const LUG: Pen = { width: 0.25 };
const LOAD: Pen = { width: 0.4 };
const TAUT: Pen = { width: 0.5 };
const SLACK: Pen = { width: 0.3, dash: [1.6, 1.2] };
const CLEAR: Pen = { width: 0.25, dash: [2.4, 1] };
/** mm. Dots of the way that the load goes, from one to the next. */
const DOT = 0.2;
const DOTS_APART = 1.1;
const WATER: Pen = { width: 0.25, dash: [6, 1.2, 1, 1.2] };
const FRAME: Pen = { width: 0.15, grey: 0.6 };

/** One mm on paper is so many on the ship. */
const SCALES = [5, 10, 15, 20, 25, 30, 40, 50, 60, 75, 100, 125, 150, 200, 250, 300, 400, 500, 750, 1000, 1500, 2000];
/** mm on paper. Room at the sides of what is drawn, and above and below it. */
const ASIDE = 15;
const ABOVE = 4;
const BELOW = 9.5;
const GAP = 4;
const CAPTION = 8;
/** mm on paper. Lowest, for the words to have room, and highest picture. */
const LOWEST = 48;
const HIGHEST = 70;
/** mm of the ship shown above the lugs at the least. */
const SHELL_ABOVE = 350;

/** The lift to scale at its key steps, from starboard and from aft, one step to a row, all rows in one scale. */
export function liftPictures(flow: Flow, context: Context, lift: LiftPlan): void {
  const { plan } = context;
  const key = keySteps(lift);
  const views = liftViews(plan.up);
  const frames = views.map((view) => frameOf(plan, lift, key, view));
  const page = context.paper.height - 36.5;
  // Three to a page.
  const height = Math.min(HIGHEST, (page - 17) / Math.min(key.length, 3) - CAPTION - 4.5);
  const width = (flow.width - GAP) / 2;
  const scale = SCALES.find((s) => frames.every((f) => fits(f, s, width, height))) ?? (SCALES.at(-1) as number);
  flow.heading(2, 'The lift to scale', CAPTION + 60);
  flow.paragraph(
    `All at 1 : ${scale}, the water level. Full lines pull, dashed ones hang slack, each with its pull at rest; dotted: the way of the centre of gravity (CG) over the whole movement. CB is the centre of buoyancy.${(plan.job.lift?.load.outline.length ?? 0) < 3 ? ' The job gives no outline of the load: only CG, CB and where the lines end are drawn.' : ''}`,
    { size: 8 },
  );
  const tall = Math.max(LOWEST, Math.max(...frames.map((f) => (f.y1 - f.y0) / scale)) + ABOVE + BELOW);
  for (const each of key) {
    const caption = captionOf(context, lift, each, flow.width);
    const head = caption.length * 3.7 + 1.5;
    const without: string[] = [];
    flow.figure(tall + head + 2, (sheet, x, y) => {
      caption.forEach((line, i) => {
        sheet.text(line, x, y + tall + head - 2 - i * 3.7, { size: i === 0 ? 9 : 8, bold: i === 0 });
      });
      views.forEach((view, k) => {
        const box = { x0: x + k * (width + GAP), y0: y + 1, x1: x + k * (width + GAP) + width, y1: y + 1 + tall };
        without.push(...picture(sheet, context, lift, each.step, view, frames[k] as Frame, box, scale, k === 0));
      });
    });
    if (without.length > 0)
      flow.paragraph(`Without room in the picture: ${[...new Set(without)].join('; ')}.`, { size: 8 });
  }
}

const fits = (f: Frame, scale: number, width: number, height: number): boolean =>
  (f.x1 - f.x0) / scale <= width - 2 * ASIDE && (f.y1 - f.y0) / scale <= height - ABOVE - BELOW;

/** What has to be seen in a view, mm of the ship: lugs with shell about them, the load at every key step, the water where it is near. */
function frameOf(plan: Plan, lift: LiftPlan, key: readonly KeyStep[], view: LiftView): Frame {
  const lugs = plan.fittings.map((fitting) => lugIn(fitting, view));
  const scenes = key.map(({ step }) => sceneAt(plan, lift, step, view));
  const points = [
    ...lugs.flat(),
    ...scenes.flatMap((s) => [
      ...s.load,
      ...s.ends,
      ...s.lines.map((line) => line.from),
      ...[s.centre, s.buoyancy].filter((p) => p !== null),
    ]),
  ];
  const xs = points.map((p) => p.x);
  const ys = points.map((p) => p.y);
  const [y0, top] = [Math.min(...ys), Math.max(...ys, ...lugs.flat().map((p) => p.y + SHELL_ABOVE))];
  const water = waterIn(plan, view);
  const side = 0.04 * (Math.max(...xs) - Math.min(...xs));
  return {
    x0: Math.min(...xs) - side,
    x1: Math.max(...xs) + side,
    y0,
    y1: water > top && water < top + 0.3 * (top - y0) ? water : top,
  };
}

/** Which step, why it is drawn, how deep the load hangs, and how it leans and is turned. */
function captionOf(context: Context, lift: LiftPlan, { step, why }: KeyStep, width: number): string[] {
  const { plan } = context;
  const { display } = plan.job;
  const state = lift.states[step] as LiftPlan['states'][number];
  const force = (newton: number) => forceText(plan, newton);
  const by = (push: string | null) => (push === null ? 'at rest' : `under the push “${plainText(push)}”`);
  const reasons = why.map((reason) => {
    switch (reason.kind) {
      case 'first':
        return 'first step';
      case 'last':
        return 'last step';
      case 'fails':
        return 'the first that CANNOT BE DONE as written';
      case 'pull': {
        const line = `line ${plainText(lift.lines[reason.line]?.id ?? '')}`;
        const most = `${force(reason.newton)} ${by(reason.push)}`;
        return reason.at === step
          ? `hardest pull of all: ${line}, ${most}`
          : `within 1 % of the hardest pull of all: ${line}, ${most} at step ${reason.at + 1}`;
      }
      case 'line':
        return `line ${plainText(lift.lines[reason.line]?.id ?? '')} pulls`;
      default:
        return `worst across a plate for what it may take: lug ${plainText(reason.lug)}, ${force(reason.newton)} ${by(reason.push)}`;
    }
  });
  const where = state.rest.found
    ? [
        `CG ${hoistLength(depthOf(plan, state.rest.equilibrium.pose.centre), display)} below the water`,
        ...standsText(plan, state),
      ]
    : ['the load is nowhere at rest'];
  const title = `Step ${step + 1} of ${lift.states.length}: ${stepText(state)}`;
  return [
    ...wrapped(context.fonts, title, 9, width, true).slice(0, 1),
    ...wrapped(context.fonts, [...reasons, ...where].join('; '), 8, width),
  ];
}

/** How a load at rest leans and is turned from how it is drawn, as far as anyone would see it. */
function standsText(plan: Plan, state: LiftPlan['states'][number]): string[] {
  const lean = leanOf(plan, state);
  const turn = turnOf(plan, state);
  const free = isFree(state);
  const leans = lean > LEAN ? [`leans ${degrees(lean, 0)}`] : [];
  if (turn === null || Math.abs(turn) <= TURN) return free ? [...leans, 'free to turn'] : leans;
  const turned = `turned ${turnText(turn, free)}, seen from above, from how it is drawn`;
  return [...leans, free ? `${turned}, and free to turn` : turned];
}

/** One view of one step in its box on the page. Gives back the words that found no room in it. */
function picture(
  sheet: Sheet,
  context: Context,
  lift: LiftPlan,
  step: number,
  view: LiftView,
  frame: Frame,
  box: Frame,
  scale: number,
  figures: boolean,
): string[] {
  const { plan, fonts } = context;
  // What is drawn stands in the middle of the room between the words along the edges.
  const spare = box.y1 - box.y0 - ABOVE - BELOW - (frame.y1 - frame.y0) / scale;
  const up = frame.y1 + (ABOVE + spare / 2) * scale;
  const middle = { x: (frame.x0 + frame.x1) / 2, y: up - ((box.y1 - box.y0) * scale) / 2 };
  const centre = { x: (box.x0 + box.x1) / 2, y: (box.y0 + box.y1) / 2 };
  const reach = { x: (box.x1 - box.x0) / 2, y: (box.y1 - box.y0) / 2 };
  // From the middle of the box first, so that it can be cut to it, then on the page.
  const near = (p: Point): Point => ({ x: (p.x - middle.x) / scale, y: (p.y - middle.y) / scale });
  const on = (p: Point): Point => ({ x: p.x + centre.x, y: p.y + centre.y });
  const cut = (line: readonly Point[]): Point[][] => clipped(line.map(near), reach).map((part) => part.map(on));
  const area = (outline: readonly Point[]): Point[] => within(outline.map(near), reach).map(on);
  const drawn: Point[][] = [];
  const labels: Label[] = [];
  const taken: Frame[] = [];
  const name = (text: string): string => shortened(fonts, plainText(text), 8, NAME);
  const stroke = (line: readonly Point[], pen: Pen, layer: string): Point[][] => {
    const parts = cut(line);
    for (const part of parts) {
      sheet.path(part, pen, layer);
      drawn.push(part);
    }
    return parts;
  };
  sheet.rect(box.x0, box.y0, box.x1 - box.x0, box.y1 - box.y0, FRAME, undefined, 'FRAME');
  const [left, right] = [middle.x - reach.x * scale, middle.x + reach.x * scale];
  for (const { name: solid, outline } of keptClear(plan, view)) {
    const shape = area(outline);
    if (shape.length < 3) continue;
    sheet.path(shape, CLEAR, 'KEEP CLEAR', true, 0.93);
    drawn.push([...shape, shape[0] as Point]);
    labels.push({ text: name(solid), at: centreOf(shape) });
  }
  const scene = sceneAt(plan, lift, step, view);
  const load = area(scene.load);
  if (load.length > 2) sheet.path(load, LOAD, 'LOAD', true, 0.88);
  if (load.length > 2) drawn.push([...load, load[0] as Point]);
  let seen: Point[][] = [];
  for (const line of shellIn(plan, view, left, right)) {
    const parts = cut(line);
    if (parts.length === 0 || seen.some((other) => alike(other, parts.flat()))) continue;
    seen = [...seen, parts.flat()];
    stroke(line, seen.length === 1 || view.left !== 'aft' ? SHELL : { width: 0.3 }, 'SHELL');
  }
  const water = waterIn(plan, view);
  const ends = [left, right].map((x) => ({ x, y: water }));
  const others = [...drawn];
  const surface = stroke(ends, WATER, 'WATER')[0]?.[0];
  if (surface !== undefined) {
    const wordAt = (x: number): Frame => boxAbout({ x, y: surface.y }, 5.5, 1.8);
    const x = [box.x1 - 8, box.x0 + 8, box.x1 - 22, box.x0 + 22].find((each) => !crosses(others, wordAt(each)));
    const at = x ?? box.x1 - 8;
    taken.push(wordAt(at));
    sheet.rect(at - 5.2, surface.y - 1.4, 10.4, 2.8, undefined, 1, 'PAPER');
    sheet.text('water', at, surface.y - 1, { size: 8, align: 'centre' });
  }
  for (const fitting of plan.fittings) {
    const plate = area(lugIn(fitting, view));
    if (plate.length < 2) continue;
    sheet.path(plate, LUG, 'LUGS', true, 0.55);
    drawn.push([...plate, plate[0] as Point]);
    const at = centreOf(plate);
    const same = labels.findIndex((label) => label.text.startsWith('lug') && apart(label.at, at) < 2);
    const id = name(fitting.id);
    const known = labels[same];
    if (known === undefined) labels.push({ text: `lug ${id}`, at });
    else labels[same] = { ...known, text: `${known.text.replace(/^lug /, 'lugs ')}, ${id}` };
  }
  const path = pathIn(lift, view);
  if (path.length > 1) {
    const dots: Point[] = [];
    for (const part of cut(path)) {
      dotted(part, dots);
      drawn.push(part);
    }
    for (const { x, y } of dots) sheet.circle(x, y, DOT, undefined, 0, 'WAY OF THE LOAD');
  }
  const state = lift.states[step] as LiftPlan['states'][number];
  for (const { index, from, to, taut } of scene.lines) {
    const [p, q] = [on(near(from)), on(near(to))];
    stroke([from, to], taut ? TAUT : SLACK, 'LINES');
    sheet.circle(p.x, p.y, 0.7, { width: 0.25 }, 1, 'PINS');
    sheet.circle(q.x, q.y, 0.6, undefined, 0, 'LINE ENDS');
    taken.push(boxAbout(p, 0.8), boxAbout(q, 0.7));
    const text = `${name(lift.lines[index]?.id ?? '')} ${pullText(plan, state, index)}`;
    const along = (t: number): Point => ({ x: p.x + t * (q.x - p.x), y: p.y + t * (q.y - p.y) });
    labels.push({ text, at: along(0.5), or: [0.35, 0.65, 0.25, 0.75].map(along), bold: true });
  }
  if (load.length < 3 && scene.centre !== null) {
    // Of a load without an outline, what holds its ends together.
    for (const end of scene.ends) stroke([end, scene.centre], THIN, 'LOAD');
  }
  for (const arrow of pushes(sheet, fonts, plan, scene, (p) => on(near(p)), labels)) {
    drawn.push(arrow);
    for (const p of arrow) taken.push(boxAbout(p, 0.8));
  }
  for (const arrow of centres(sheet, plan, lift, scene, (p) => on(near(p)), figures, labels)) {
    drawn.push(arrow);
    for (const p of arrow) taken.push(boxAbout(p, 1.2));
  }
  if (surface === undefined) {
    // Off the picture: how far, from its upper edge.
    const off = water - (middle.y + reach.y * scale);
    const above = hoistLength(off, plan.job.display);
    const spots = [`↑ water ${above} above the upper edge`, `↑ water ${above} above top`].flatMap((text) => {
      const wide = widthOf(fonts, text, 8) + 2;
      return [box.y1 - 3.5, box.y0 + 6.5, box.y0 + 10.5].flatMap((low) =>
        [box.x1 - wide - 0.4, box.x0 + 0.4].map((x0) => ({
          text,
          room: { x0, x1: x0 + wide, y0: low - 0.9, y1: low + 3.2 } satisfies Frame,
        })),
      );
    });
    // Where nothing is drawn: a shell would be cut in two there.
    const { text, room } = spots.find((each) => !crosses(drawn, each.room)) ?? (spots[0] as (typeof spots)[number]);
    sheet.rect(room.x0, room.y0, room.x1 - room.x0, room.y1 - room.y0, undefined, 1, 'PAPER');
    sheet.text(text, room.x0 + 1, room.y0 + 0.9, { size: 8 });
    taken.push(room);
  }
  if (scene.centre === null) sheet.text('NOT AT REST', centre.x, centre.y, { size: 11, bold: true, align: 'centre' });
  // Along the lower edge: the ways, from where it is seen, scale bar.
  const low = box.y0 + 1.4;
  sheet.text(`← ${view.left}, ${view.name}`, box.x0 + 1.2, low, { size: 8 });
  sheet.text(`${view.rightward} →`, box.x1 - 1.2, low, { size: 8, align: 'right' });
  scaleBar(sheet, plan.job.display, { x: centre.x + 1, y: low }, scale);
  const room = { x0: box.x0 + 0.6, x1: box.x1 - 0.6, y0: box.y0 + 4.8, y1: box.y1 - 0.6 };
  const { placed, left: without } = placeLabels(fonts, labels, drawn, room, taken);
  drawLabels(sheet, placed);
  return without.map((label) => label.text);
}

/** Whether one of the lines comes into a box. */
const crosses = (lines: readonly (readonly Point[])[], { x0, x1, y0, y1 }: Frame): boolean =>
  lines.some((line) => comesInto(line, { x: (x0 + x1) / 2, y: (y0 + y1) / 2 }, { x: (x1 - x0) / 2, y: (y1 - y0) / 2 }));

const boxAbout = ({ x, y }: Point, wide: number, high = wide): Frame => ({
  x0: x - wide,
  x1: x + wide,
  y0: y - high,
  y1: y + high,
});

const apart = (p: Point, q: Point): number => Math.hypot(p.x - q.x, p.y - q.y);

const centreOf = (points: readonly Point[]): Point => ({
  x: points.reduce((sum, p) => sum + p.x, 0) / points.length,
  y: points.reduce((sum, p) => sum + p.y, 0) / points.length,
});

/** mm on paper. Lines nearer than this all along are drawn once. */
const SAME = 0.3;

const alike = (p: readonly Point[], q: readonly Point[]): boolean =>
  p.length === q.length && p.every((at, i) => apart(at, q[i] as Point) < SAME);

/** Puts dots along a way, none where there is one already: a way gone twice looks as if gone once. */
function dotted(way: readonly Point[], dots: Point[]): void {
  let left = 0;
  way.slice(1).forEach((to, i) => {
    const from = way[i] as Point;
    const long = Math.hypot(to.x - from.x, to.y - from.y);
    for (; left <= long; left += DOTS_APART) {
      const share = long > 0 ? left / long : 0;
      const dot = { x: from.x + share * (to.x - from.x), y: from.y + share * (to.y - from.y) };
      if (dots.every(({ x, y }) => Math.hypot(x - dot.x, y - dot.y) > 0.8 * DOTS_APART)) dots.push(dot);
    }
    left -= long;
  });
}
