import { SIDES } from '../../geometry/fit/rootline.ts';
import { toShip } from '../../geometry/lug/frame.ts';
import { outlineTop } from '../../geometry/lug/outline.ts';
import { addScaled, cross, dot, normalize, type Vec3 } from '../../geometry/math/vec.ts';
import type { Context } from './context.ts';
import { footEdge } from './cut.ts';
import type { Point, Sheet } from './drawing.ts';
import type { Box } from './jointlayout.ts';
import { sideNames } from './sides.ts';

/** The lug on the shell in parallel projection, water plane level, with its axes, the shell's normal, up, and the pull. */
export function calculationSketch(sheet: Sheet, context: Context, box: Box): void {
  const { fitting, plan } = context;
  const { frame, anchor, input, load } = fitting;
  const { lug } = input;
  const out = anchor.side === 'port' ? 1 : -1;
  // From outboard, somewhat aft and from below or above, whichever side of the shell the lug hangs on.
  const below = dot(frame.stem, plan.up) < 0 ? 0.35 : -0.35;
  const look = normalize([0.55, -out * 0.8, below]);
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
  const axis = (name: string, tip: Vec3, from: Point = O): void => {
    const p = on(tip);
    sheet.arrow(from, p, { width: 0.3 }, 2.4);
    const long = Math.hypot(p.x - from.x, p.y - from.y) || 1;
    // The stem's letter stands beside its arrow: the pull often runs along it.
    const off =
      name === 'B'
        ? { x: (-4 * (p.y - from.y)) / long, y: (4 * (p.x - from.x)) / long }
        : { x: (2.6 * (p.x - from.x)) / long, y: (2.6 * (p.y - from.y)) / long };
    sheet.text(name, p.x + off.x, p.y + off.y - 1.2, {
      size: 10,
      bold: true,
      italic: true,
      align: 'centre',
    });
  };
  axis('A', tips.A);
  axis('B', tips.B);
  axis('C', tips.C);
  axis('n', tips.n);
  const pin = on(fitting.pin);
  const tip = on(pullTip);
  sheet.arrow(pin, tip, { width: 0.9 }, 4);
  sheet.text('pull', tip.x + 2, tip.y - 3, { size: 9, bold: true });
  sheet.circle(O.x, O.y, 0.8, undefined, 0);
  sheet.text('O', O.x + 1.5, O.y + 1.5, { size: 9, bold: true });
  const corner = { x: box.x + 20, y: box.y + 9 };
  sheet.arrow(corner, { x: corner.x, y: corner.y + 10 }, { width: 0.35 }, 2.4);
  sheet.text('up', corner.x - 1.5, corner.y + 11, { size: 8, align: 'centre' });
  const fore = flatOn([1, 0, 0]);
  sheet.arrow(corner, { x: corner.x + 10 * fore.x, y: corner.y + 10 * fore.y }, { width: 0.35 }, 2.4);
  sheet.text('fwd', corner.x + 13 * fore.x, corner.y + 13 * fore.y - 1, { size: 8, align: 'centre' });
  sheet.text(`C points to the ${sideNames(fitting)['face+']}; parallel projection`, box.x + box.width - 2, box.y + 2, {
    size: 8,
    align: 'right',
  });
}
