import type { Context } from './context.ts';
import { type Face, footEdge, lowerEdge } from './cut.ts';
import { CENTRE, HIDDEN, type Item, type Pen, type Point, Sheet } from './drawing.ts';
import type { Layers } from './dxf.ts';
import { plateOutline, stockOf, torchOutside } from './plate-shape.ts';
import { halfWidthAt, sightLineAt } from './template-view.ts';

export const PLATE_LAYERS: Layers = {
  CUT_NET: 1,
  CUT_WITH_STOCK: 30,
  TORCH_CENTRE: 2,
  HOLE: 1,
  CHEEK_CUT: 1,
  CHEEK_BORE: 6,
  CHEEK_ON_PLATE: 6,
  FOOT_EDGE_FACE_PLUS: 5,
  FOOT_EDGE_FACE_MINUS: 3,
  MARKING: 4,
  TEXT: 7,
};

const TORCH: Pen = { width: 0.25, dash: [0.6, 1.2] };

/**
 * The plate to cut, in its own coordinates: x is a, y is b, origin at the anchor, seen from `face+`; cheek plates beside it. What
 * is cut and what is only marked lie on layers of their own. mm.
 * @param words whether the cheek plates are named; a drawing to a smaller scale has no room for it there
 */
export function plateItems(context: Context, words = true): Item[] {
  const { fitting } = context;
  const { lug } = fitting.input;
  const sheet = new Sheet(0, 0);
  sheet.path(plateOutline(context), { width: 0.5 }, 'CUT_NET', true);
  const stock = stockOf(context);
  if (stock > 0) sheet.path(plateOutline(context, stock), HIDDEN, 'CUT_WITH_STOCK', true);
  const torch = torchOutside(context);
  if (torch !== undefined) sheet.path(plateOutline(context, torch), TORCH, 'TORCH_CENTRE', true);
  sheet.circle(0, lug.pinHeight, lug.hole / 2, { width: 0.5 }, undefined, 'HOLE');
  const bevelled = bevelledFaces(context);
  for (const [face, pen, layer] of [
    ['face+', { width: 0.25 }, 'FOOT_EDGE_FACE_PLUS'],
    ['face-', { width: 0.25, dash: [2, 1] }, 'FOOT_EDGE_FACE_MINUS'],
  ] as const) {
    if (bevelled.includes(face)) sheet.path(footEdge(fitting, face), pen, layer);
  }
  const sight = sightLineAt(context);
  sheet.line(0, -5, 0, lug.pinHeight + lug.topRadius + 5, CENTRE, 'MARKING');
  sheet.line(-lug.topRadius, lug.pinHeight, lug.topRadius, lug.pinHeight, CENTRE, 'MARKING');
  const wide = halfWidthAt(context, sight);
  sheet.line(-wide, sight, wide, sight, CENTRE, 'MARKING');
  if (lug.cheek) {
    sheet.circle(0, lug.pinHeight, lug.cheek.radius, { width: 0.25, dash: [2, 1] }, undefined, 'CHEEK_ON_PLATE');
    const round = outermost(context);
    const x = cheekAcross(context);
    for (const [k, y] of cheekHeights(context).entries()) {
      sheet.circle(x, y, lug.cheek.radius, { width: 0.5 }, undefined, 'CHEEK_CUT');
      sheet.circle(x, y, lug.hole / 2, { width: 0.25, dash: [2, 1] }, undefined, 'CHEEK_BORE');
      if (stock > 0) sheet.circle(x, y, lug.cheek.radius + stock, HIDDEN, undefined, 'CUT_WITH_STOCK');
      if (torch !== undefined) sheet.circle(x, y, lug.cheek.radius + torch, TORCH, undefined, 'TORCH_CENTRE');
      if (words) sheet.text(`cheek ${k + 1} of 2`, x, y - lug.cheek.radius - round - 5, { size: 8, align: 'centre' });
    }
  }
  return sheet.items;
}

/** Where the cheek plates stand beside the plate: clear of it and of one another by 20 mm and more, cuts and all. */
export const cheekAcross = (context: Context): number =>
  context.fitting.input.lug.foot / 2 + 2 * outermost(context) + 20 + (context.fitting.input.lug.cheek?.radius ?? 0);
export const cheekHeights = (context: Context): readonly number[] => {
  const reach = (context.fitting.input.lug.cheek?.radius ?? 0) + outermost(context);
  return [reach, 3 * reach + 20];
};

/** Faces whose edge of the foot is not that of the square cut: nothing is drawn twice. */
export function bevelledFaces({ fitting }: Context): Face[] {
  const cut = lowerEdge(fitting);
  return (['face+', 'face-'] as const).filter((face) => {
    const edge = footEdge(fitting, face);
    const onCut = (p: Point, i: number) => Math.hypot(p.x - (cut[i]?.x ?? 0), p.y - (cut[i]?.y ?? 0)) < 1e-6;
    return edge.length !== cut.length || !edge.every(onCut);
  });
}

/** mm outside the net outline up to which metal is needed or taken away: stock and the whole width of the cut. */
export const outermost = (context: Context): number => stockOf(context) + (context.options.kerf ?? 0);
