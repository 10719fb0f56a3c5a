import { SIDES } from '../../geometry/fit/rootline.ts';
import { toShip } from '../../geometry/lug/frame.ts';
import { outlineTop } from '../../geometry/lug/outline.ts';
import { addScaled, angleBetween, cross, dot, normalize, type Vec3 } from '../../geometry/math/vec.ts';
import type { Context } from './context.ts';
import { footEdge } from './cut.ts';
import type { Point, Sheet } from './drawing.ts';
import { widthOf } from './fonts.ts';
import type { Box } from './jointlayout.ts';
import { drawLabels, LABEL_SIZE, type Label, placeLabels } from './labels.ts';
import { sideNames } from './sides.ts';

/** The lug on the shell in parallel projection, water plane level, with its axes, the shell's normal, up, and the pull. */
export function calculationSketch(sheet: Sheet, context: Context, box: Box): void {
  const { fitting, plan } = context;
  const { frame, anchor, input, load } = fitting;
  const { lug } = input;
  const look = viewOf(context);
  const upOnPage = normalize(addScaled(plan.up, look, -dot(plan.up, look)));
  const right = cross(look, upOnPage);
  const half = lug.foot / 2;
  const tall = lug.pinHeight + lug.topRadius;
  const pullTip = addScaled(fitting.pin, load.direction, 0.75 * tall);
  const flatOn = (p: Vec3): Point => ({ x: dot(p, right), y: dot(p, upOnPage) });
  const patch: Vec3[] = [];
  for (const [u, v] of [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ] as const) {
    const p = addScaled(anchor.position, anchor.tFore, u * lug.foot * 0.8);
    patch.push(addScaled(p, anchor.tGirth, v * lug.foot * 0.6));
  }
  const tips = {
    A: toShip(frame, half + 0.35 * lug.foot, 0, 0),
    B: toShip(frame, 0, tall + 0.3 * lug.foot, 0),
    C: toShip(frame, 0, 0, lug.thickness / 2 + 0.4 * lug.foot),
    n: addScaled(anchor.position, anchor.normal, 0.55 * lug.foot),
  };
  const all = [...patch, pullTip, ...Object.values(tips)].map(flatOn);
  const x0 = Math.min(...all.map((p) => p.x));
  const x1 = Math.max(...all.map((p) => p.x));
  const y0 = Math.min(...all.map((p) => p.y));
  const y1 = Math.max(...all.map((p) => p.y));
  const k = Math.min((box.width - 30) / (x1 - x0), (box.height - 20) / (y1 - y0));
  const on = (p: Vec3): Point => {
    const q = flatOn(p);
    return {
      x: box.x + box.width / 2 + k * (q.x - (x0 + x1) / 2),
      y: box.y + box.height / 2 + k * (q.y - (y0 + y1) / 2),
    };
  };
  sheet.rect(box.x, box.y, box.width, box.height, { width: 0.15, grey: 0.5 });
  sheet.path(patch.map(on), { width: 0.25 }, 'DRAWING', true, 0.93);
  const ring = SIDES.flatMap((side) => fitting.joint.points.filter((p) => p.side === side).map((p) => on(p.position)));
  sheet.path(ring, { width: 0.6 }, 'DRAWING', true);
  // The far face, then the near one over it.
  const towards = dot(frame.face, look) < 0 ? 1 : -1;
  for (const sign of [-towards, towards]) {
    const face = sign > 0 ? 'face+' : 'face-';
    const c = (sign * lug.thickness) / 2;
    const loop: Vec3[] = [
      ...footEdge(fitting, face).map((p) => toShip(frame, p.x, p.y, c)),
      ...outlineTop(fitting.body.outline, 1).map(([a, b]) => toShip(frame, a, b, c)),
    ];
    sheet.path(loop.map(on), { width: sign === towards ? 0.5 : 0.2 }, 'DRAWING', true, sign === towards ? 0.82 : 0.9);
  }
  const hole: Point[] = [];
  for (let i = 0; i < 40; i++) {
    const angle = (2 * Math.PI * i) / 40;
    const c = (towards * lug.thickness) / 2;
    hole.push(on(toShip(frame, (lug.hole / 2) * Math.cos(angle), lug.pinHeight + (lug.hole / 2) * Math.sin(angle), c)));
  }
  sheet.path(hole, { width: 0.4 }, 'DRAWING', true, 1);
  const O = on(anchor.position);
  const arrows: (readonly [Point, Point])[] = [];
  const labels: Label[] = [];
  const arrow = (text: string, from: Point, to: Point, width: number, head: number): void => {
    sheet.arrow(from, to, { width }, head);
    arrows.push([from, to], ...headOf(from, to, head));
    labels.push({ text, at: to, bold: true });
  };
  arrow('pull', on(fitting.pin), on(pullTip), 0.9, 4);
  for (const name of ['A', 'B', 'C', 'n'] as const) arrow(name, O, on(tips[name]), 0.3, 2.4);
  sheet.circle(O.x, O.y, 0.8, undefined, 0);
  labels.push({ text: 'O', at: O, bold: true });
  const corner = { x: box.x + 20, y: box.y + 9 };
  const fore = flatOn([1, 0, 0]);
  arrow('up', corner, { x: corner.x, y: corner.y + 10 }, 0.35, 2.4);
  arrow('fwd', corner, { x: corner.x + 10 * fore.x, y: corner.y + 10 * fore.y }, 0.35, 2.4);
  const words = `C points to the ${sideNames(fitting)['face+']}; parallel projection`;
  const edge = box.x + box.width - 2;
  sheet.text(words, edge, box.y + 2, { size: LABEL_SIZE, align: 'right' });
  const taken = { x0: edge - widthOf(context.fonts, words, LABEL_SIZE), y0: box.y, x1: edge, y1: box.y + 6 };
  const frameOf = { x0: box.x + 1, y0: box.y + 1, x1: box.x + box.width - 1, y1: box.y + box.height - 1 };
  drawLabels(
    sheet,
    placeLabels(context.fonts, labels, [...arrows, [...ring, ...ring.slice(0, 1)]], frameOf, [taken]).placed,
  );
}

/**
 * From outboard, somewhat aft and from below or above, whichever side of the shell the lug hangs on; from elsewhere where a pull that leans off
 * the stem would lie on it in the picture.
 */
function viewOf({ fitting, plan }: Context): Vec3 {
  const { frame, anchor, load } = fitting;
  const out = anchor.side === 'port' ? 1 : -1;
  const below = dot(frame.stem, plan.up) < 0 ? 0.35 : -0.35;
  const views = [0.55, 0.95, -0.55, 0.2].map((aft) => normalize([aft, -out * 0.8, below]));
  const usual = views[0] as Vec3;
  const seen = (p: Vec3, look: Vec3) => normalize(addScaled(p, look, -dot(p, look)));
  const apart = (look: Vec3) => angleBetween(seen(frame.stem, look), seen(load.direction, look));
  if (angleBetween(frame.stem, load.direction) < TOLD_APART) return usual;
  return views.find((look) => apart(look) >= TOLD_APART) ?? usual;
}

/** rad. Two arrows from one place that differ by less look like one. */
const TOLD_APART = (4 * Math.PI) / 180;

/** The two edges of an arrow's head, mm long. */
function headOf(from: Point, to: Point, long: number): (readonly [Point, Point])[] {
  const way = Math.atan2(to.y - from.y, to.x - from.x);
  return [-1, 1].map((side) => {
    const turn = way + Math.PI + side * HEAD;
    return [to, { x: to.x + long * Math.cos(turn), y: to.y + long * Math.sin(turn) }] as const;
  });
}

/** rad. Half the angle of an arrow's head, taken wide. */
const HEAD = 0.35;
