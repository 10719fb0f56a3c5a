import { showFigure } from '../job/show.ts';
import type { Context } from './context.ts';
import { footEdge, torchFromEdge, torchSettings } from './cut.ts';
import { boundsOf, CENTRE, type Drawing, HIDDEN, type Item, type Pen, Sheet, THIN } from './drawing.ts';
import { type Layers, writeDxf } from './dxf.ts';
import { degrees, shopLength } from './figures.ts';
import { Flow } from './flow.ts';
import { plateOutline, stockOf, torchOutside } from './plate-shape.ts';
import { sideNames, sideWay } from './sides.ts';
import { halfWidthAt, sightLineAt } from './template-view.ts';

export const PLATE_LAYERS: Layers = {
  CUT_NET: 1,
  CUT_WITH_STOCK: 30,
  TORCH_CENTRE: 2,
  HOLE: 1,
  CHEEK_CUT: 1,
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
 */
function plateItems(context: Context): Item[] {
  const { fitting } = context;
  const { lug } = fitting.input;
  const sheet = new Sheet(0, 0);
  sheet.path(plateOutline(context), { width: 0.5 }, 'CUT_NET', true);
  const stock = stockOf(context);
  if (stock > 0) sheet.path(plateOutline(context, stock), HIDDEN, 'CUT_WITH_STOCK', true);
  const torch = torchOutside(context);
  if (torch !== undefined) sheet.path(plateOutline(context, torch), TORCH, 'TORCH_CENTRE', true);
  sheet.circle(0, lug.pinHeight, lug.hole / 2, { width: 0.5 }, undefined, 'HOLE');
  sheet.path(footEdge(fitting, 'face+'), { width: 0.25 }, 'FOOT_EDGE_FACE_PLUS');
  sheet.path(footEdge(fitting, 'face-'), { width: 0.25, dash: [2, 1] }, 'FOOT_EDGE_FACE_MINUS');
  const sight = sightLineAt(context);
  sheet.line(0, -5, 0, lug.pinHeight + lug.topRadius + 5, CENTRE, 'MARKING');
  sheet.line(-lug.topRadius, lug.pinHeight, lug.topRadius, lug.pinHeight, CENTRE, 'MARKING');
  const wide = halfWidthAt(context, sight);
  sheet.line(-wide, sight, wide, sight, CENTRE, 'MARKING');
  if (lug.cheek) {
    sheet.circle(0, lug.pinHeight, lug.cheek.radius, { width: 0.25, dash: [2, 1] }, undefined, 'CHEEK_ON_PLATE');
    const round = outermost(context);
    const x = lug.foot / 2 + round + 20 + lug.cheek.radius;
    for (const [k, y] of [lug.cheek.radius + round, 3 * (lug.cheek.radius + round) + 20].entries()) {
      sheet.circle(x, y, lug.cheek.radius, { width: 0.5 }, undefined, 'CHEEK_CUT');
      sheet.circle(x, y, lug.hole / 2, { width: 0.5 }, undefined, 'CHEEK_CUT');
      if (stock > 0) sheet.circle(x, y, lug.cheek.radius + stock, HIDDEN, undefined, 'CUT_WITH_STOCK');
      if (torch !== undefined) sheet.circle(x, y, lug.cheek.radius + torch, TORCH, undefined, 'TORCH_CENTRE');
      sheet.text(`cheek ${k + 1} of 2`, x, y - lug.cheek.radius - round - 5, { size: 8, align: 'centre' });
    }
  }
  return sheet.items;
}

/** mm outside the net outline up to which metal is needed or taken away: stock and the whole width of the cut. */
const outermost = (context: Context): number => stockOf(context) + (context.options.kerf ?? 0);

/** Rectangle that a plate with its stock, and with the cut round it, is nested in, mm. */
export function nestingSize(context: Context): { width: number; height: number } {
  const sheet = new Sheet(0, 0);
  sheet.path(plateOutline(context, outermost(context)), THIN, 'CUT_WITH_STOCK', true);
  const { x0, y0, x1, y1 } = boundsOf(sheet.items);
  return { width: x1 - x0, height: y1 - y0 };
}

/** What the lines outside the net outline are, or that there is none. */
function torchWords(context: Context): string {
  const { display } = context.plan.job;
  const { kerf } = context.options;
  const stock = stockOf(context);
  const dashed = stock > 0 ? `stock on the dashed outline ${shopLength(stock, display)}` : 'no stock';
  const torch = torchOutside(context);
  if (kerf === undefined || torch === undefined) return `${dashed}; kerf is the cutter’s to allow for`;
  return `${dashed}; kerf ${shopLength(kerf, display)}: middle of the torch on the dotted outline, ${shopLength(torch, display)} outside the net one`;
}

export function plateDxf(context: Context): string {
  const { plan, fitting, id, title, digest, revision, date } = context;
  const { display } = plan.job;
  const { lug } = fitting.input;
  const sheet = new Sheet(0, 0);
  sheet.add(plateItems(context));
  const names = sideNames(fitting);
  const words = [
    `${id}: plate ${shopLength(lug.thickness, display)}, 1 off, ${showFigure({ kg: fitting.body.mass }, display)}`,
    `seen from the ${sideWay(names['face+'])} face; right is the ${sideWay(names['end+'])} end`,
    torchWords(context),
    `${title}; job digest ${digest} ${revision} ${date}`,
    'A planning aid: a competent engineer checks every figure.',
  ];
  words.forEach((text, i) => {
    sheet.text(text, -lug.foot / 2, -70 - 6 * i, { size: 9 });
  });
  return writeDxf(sheet.items, PLATE_LAYERS, display === 'us' ? 'in' : 'mm');
}

/** The plate on paper, to read; the cutting file is the DXF. Scaled down where it does not fit, and said so. */
export function plateSheet(context: Context): Drawing {
  const { fitting, plan } = context;
  const { display } = plan.job;
  const { lug } = fitting.input;
  const { steel } = plan.job;
  const names = sideNames(fitting);
  const flow = new Flow(context, 'Plate');
  flow.heading(1, 'Plate and cheek plates');
  const nest = nestingSize(context);
  const stress = (mpa: number) => showFigure({ mpa }, display);
  flow.pairs([
    ['Thickness', shopLength(lug.thickness, display)],
    [
      'Steel taken in the calculation',
      `yield ${stress(steel.lug.yield)}, tensile ${stress(steel.lug.tensile)}: check the mill sheet`,
    ],
    [
      'Weight as cut, with cheek plates',
      `${showFigure({ kg: fitting.body.mass, digits: 2 }, display)}; in sea water ${showFigure({ kg: fitting.body.massInWater, digits: 2 }, display)}`,
    ],
    [
      `Rectangle to nest, with stock${context.options.kerf === undefined ? '' : ' and kerf'}`,
      `${shopLength(nest.width, display)} × ${shopLength(nest.height, display)}`,
    ],
    ['Stock and kerf', torchWords(context)],
  ]);
  flow.figure(Math.min(150, flow.left - 60), (sheet, x, y, width) => {
    const items = plateItems(context);
    const box = boundsOf(items);
    const room = { width: width - 56, height: Math.min(150, 150) - 26 };
    const k = Math.min(1, room.width / (box.x1 - box.x0), room.height / (box.y1 - box.y0));
    const dx = x + 28 + (room.width - k * (box.x1 - box.x0)) / 2 - k * box.x0;
    const dy = y + 16 + (room.height - k * (box.y1 - box.y0)) / 2 - k * box.y0;
    sheet.add(scaled(items, k, dx, dy));
    const at = (a: number, b: number) => ({ x: dx + k * a, y: dy + k * b });
    const half = lug.foot / 2;
    const low = Math.min(...[...footEdge(fitting, 'face-'), ...footEdge(fitting, 'face+')].map((p) => p.y));
    const say = (mm: number) => shopLength(mm, display);
    const below = dy + k * (low - outermost(context)) - 7;
    sheet.dimension({ x: at(-half, 0).x, y: below }, { x: at(half, 0).x, y: below }, say(lug.foot));
    sheet.dimension(
      { x: at(-half, 0).x - 7, y: at(0, 0).y },
      { x: at(-half, 0).x - 7, y: at(0, lug.pinHeight).y },
      `pin ${say(lug.pinHeight)}`,
    );
    sheet.dimension({ x: at(half, 0).x + 7, y: at(0, 0).y }, { x: at(half, 0).x + 7, y: at(0, lug.shoulder).y }, '');
    // Beside its line: in inches it is longer than the shoulder is high.
    const middle = at(half, lug.shoulder / 2);
    for (const [i, part] of say(lug.shoulder)
      .split(/ (?=\()/)
      .entries())
      sheet.text(part, middle.x + 8.5, middle.y - 1 - 3.4 * i, { size: 8 });
    const angle = 0.9;
    const rim = at(lug.topRadius * Math.cos(angle), lug.pinHeight + lug.topRadius * Math.sin(angle));
    sheet.arrow({ x: rim.x + 12, y: rim.y + 9 }, rim, THIN, 2);
    sheet.text(`R ${say(lug.topRadius)}`, rim.x + 13, rim.y + 9, { size: 8 });
    const bore = at((lug.hole / 2) * Math.cos(2.3), lug.pinHeight + (lug.hole / 2) * Math.sin(2.3));
    sheet.arrow({ x: bore.x - 26, y: bore.y + 18 }, bore, THIN, 2);
    sheet.text(`⌀ ${say(lug.hole)}`, bore.x - 27, bore.y + 18, { size: 8, align: 'right' });
    const [left, right] = [sideWay(names['end-']), sideWay(names['end+'])];
    sheet.text(`◄ ${left.toUpperCase()}`, x, y + 1, { size: 9, bold: true });
    sheet.text(`${right.toUpperCase()} ►`, x + width, y + 1, { size: 9, bold: true, align: 'right' });
    const scale = k === 1 ? '1:1' : `1:${(1 / k).toFixed(2)}, do not measure`;
    sheet.text(`seen from the ${sideWay(names['face+'])} face; scale ${scale}`, x + width / 2, y + 1, {
      size: 8,
      align: 'centre',
    });
  });
  flow.paragraph(
    'Solid: net outline, cut square through the plate at the lower of the two foot edges; the hole is bored to size. Thin and dashed in the foot: where the edges of the two faces come to lie after bevelling. Chain lines are marked on both faces and punched: centre line, pin centre, sight line.',
  );
  const settings = torchSettings(fitting);
  const { kerf } = context.options;
  if (settings.length > 0) {
    flow.table(
      [
        { title: 'Foot from', share: 1, align: 'right' },
        { title: 'to', share: 1, align: 'right' },
        { title: 'torch off square', share: 1, align: 'right' },
        ...(kerf === undefined ? [] : [{ title: 'torch middle from the edge', share: 1.2, align: 'right' } as const]),
        { title: 'shorter on', share: 1 },
      ],
      settings.map((s) => [
        shopLength(s.fromA, display),
        shopLength(s.toA, display),
        degrees(Math.abs(s.torch), 2),
        ...(kerf === undefined ? [] : [shopLength(torchFromEdge(s, kerf), display, 2)]),
        `${sideWay(names[s.torch >= 0 ? 'face+' : 'face-'])} face`,
      ]),
    );
  } else flow.paragraph('The foot is scribed: cut and ground to the foot template, bevel by the bevel table.');
  if (lug.cheek) {
    flow.paragraph(
      `Cheek plates: 2 off, ⌀ ${shopLength(2 * lug.cheek.radius, display)}, ${shopLength(lug.cheek.thickness, display)} thick; hole bored through all three after welding.`,
    );
  }
  return { title: `Plate ${context.id}: ${context.title}`, pages: flow.finish() };
}

/** Items about the origin made smaller by k and moved. Text keeps its size. */
export function scaled(items: readonly Item[], k: number, dx: number, dy: number): Item[] {
  return items.map((item): Item => {
    switch (item.kind) {
      case 'path':
        return { ...item, points: item.points.map((p) => ({ ...p, x: dx + k * p.x, y: dy + k * p.y })) };
      case 'circle':
        return { ...item, radius: k * item.radius, centre: { x: dx + k * item.centre.x, y: dy + k * item.centre.y } };
      case 'text':
        return { ...item, at: { x: dx + k * item.at.x, y: dy + k * item.at.y } };
      default:
        return item;
    }
  });
}

/** The plate alone on a page as large as it needs, true size, for a plotter. */
export function plateDrawing(context: Context): Drawing {
  const items = plateItems(context);
  const { x0, y0, x1, y1 } = boundsOf(items);
  const margin = 15;
  const sheet = new Sheet(Math.max(x1 - x0, 160) + 2 * margin, y1 - y0 + 2 * margin + 14);
  sheet.add(scaled(items, 1, margin - x0, margin + 14 - y0));
  const mark = [context.id, 'plate 1:1', `job digest ${context.digest}`, context.revision, context.date, context.title];
  sheet.text(mark.filter((part) => part !== '').join('   '), margin, 10, { size: 7 });
  sheet.text('A planning aid: a competent engineer checks every figure.', margin, 6, { size: 7 });
  return { title: `Plate ${context.id}: ${context.title}`, pages: [sheet] };
}
