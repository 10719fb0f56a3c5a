import { showPhrase } from '../job/show.ts';
import type { Context } from './context.ts';
import { footEdge, torchFromEdge, torchSettings } from './cut.ts';
import { CENTRE, type Drawing, type Item, Sheet } from './drawing.ts';
import { type Layers, writeDxf } from './dxf.ts';
import { degrees, gapLength, shopLength } from './figures.ts';
import { BODY, Flow } from './flow.ts';
import { sideNames, sidesInWords, sideWay } from './sides.ts';
import { checkBars, halfWidthAt, SQUARE, sightLineAt, stockFor95, templateView } from './template-view.ts';
import { type Tiled, tileLayout, tileMap, tilePages } from './tiles.ts';

const TITLE = 'Foot template 1:1';

function faces(context: Context): [Tiled, Tiled] {
  const plus = templateView(context, 'face+');
  const minus = templateView(context, 'face-');
  return [
    { title: `${plus.name} face`, letter: 'A', items: plus.items, width: plus.width, height: plus.height },
    { title: `${minus.name} face`, letter: 'B', items: minus.items, width: minus.width, height: minus.height },
  ];
}

/** The template on A4 or Letter: what to do, a map, then the tiles of either face. */
export function tiledTemplate(context: Context): Drawing {
  const tiled = faces(context);
  const layouts = tiled.map((each) => tileLayout(context.paper, each.width, each.height));
  const count = layouts.reduce((sum, layout) => sum + layout.columns * layout.rows, 0);
  const cover = new Flow(context, TITLE);
  coverText(cover, context);
  tiled.forEach((each, i) => {
    const layout = layouts[i] as (typeof layouts)[number];
    cover.paragraph(`Map of the tiles, ${each.title} (seen from that face):`, { bold: true, keep: 60 });
    cover.figure(48, (sheet, x, y, width) => tileMap(sheet, each, layout, x, y + 1, width * 0.8, 46));
  });
  const pages = cover.finish(count);
  const of = pages.length + count;
  tiled.forEach((each, i) => {
    pages.push(...tilePages(context, each, layouts[i] as (typeof layouts)[number], TITLE, pages.length + 1, of));
  });
  return { title: `${TITLE} ${context.id}: ${context.title}`, pages };
}

function coverText(flow: Flow, context: Context): void {
  const { fitting, plan } = context;
  const { display } = plan.job;
  const names = sideNames(fitting);
  flow.heading(1, TITLE);
  flow.paragraph(sidesInWords(fitting, showPhrase(fitting.fit.verdict, display)), { bold: true });
  flow.paragraph(
    'Print at 100 %, without scaling, and measure a check bar on every page before anything is marked. Lay the pages of one face over one another so that the register crosses meet, tape them, cut along the solid edge. Lay the centre line on the centre line of the plate, the sight line at its distance from the pin centre. Each face has its own template: solid is the edge on the face it is laid on, dashed the edge on the face behind.',
  );
  flow.paragraph(
    `g is the gap along the stem that the cut leaves at a station; up to ${gapLength(plan.job.limits.fitGap, display)} the fit is tight, over ${gapLength(plan.job.limits.recutGap, display)} the foot is cut again. Stations count from the centre line, positive to the ${sideWay(names['end+'])} end. ${kerfWords(context)} Try the trial template on the hull before steel is cut.`,
  );
  const known = plan.uncertainty?.fittings.find((each) => each.id === fitting.id);
  if (plan.uncertainty !== undefined && known !== undefined) {
    const stock = stockFor95(context);
    flow.paragraph(
      `The readings are not exact. With their stated errors (${plan.uncertainty.samples} draws) a foot cut to the solid edge and not ground leaves no gap over ${gapLength(known.gap95, display)} in 95 of 100 cases. ${
        stock > 0
          ? `Shaded, down to the dotted line: how far the shell may lie below the cut. Leave ${shopLength(stock, display)} of metal to be 95 % sure that grinding makes it fit.`
          : 'No metal need be left on for grinding.'
      }`,
      { bold: true },
    );
  }
  const settings = torchSettings(fitting);
  const { kerf } = context.options;
  if (settings.length > 0) {
    flow.table(
      [
        { title: 'Cut from', share: 2, align: 'right' },
        { title: 'to', share: 2, align: 'right' },
        { title: 'Torch off square', share: 1.5, align: 'right' },
        ...(kerf === undefined ? [] : [{ title: 'Torch middle from the edge', share: 1.6, align: 'right' } as const]),
        { title: 'Bevel at right angles to the length', share: 1.7, align: 'right' },
        { title: 'Slope along the foot', share: 1.5, align: 'right' },
        { title: 'Shorter on', share: 1.6 },
      ],
      settings.map((s) => [
        shopLength(s.fromA, display),
        shopLength(s.toA, display),
        degrees(Math.abs(s.torch), 2),
        ...(kerf === undefined ? [] : [shopLength(torchFromEdge(s, kerf), display, 2)]),
        degrees(s.bevel, 2),
        degrees(s.footSlope, 2),
        Math.abs(s.torch) < SQUARE ? 'neither: square' : `${sideWay(names[s.torch >= 0 ? 'face+' : 'face-'])} face`,
      ]),
      { size: BODY - 1 },
    );
  } else flow.paragraph('A scribed cut: the bevel changes all along; take it from the stations and the bevel table.');
}

function kerfWords({ plan, fitting, options }: Context): string {
  const { kerf } = options;
  if (kerf === undefined) return 'The edges are net: kerf is the cutter’s to allow for.';
  return `The edges are net: with a kerf of ${shopLength(kerf, plan.job.display)} the middle of the torch runs outside them, on the side that falls off, ${torchSettings(fitting).length > 0 ? 'as far as the table says' : 'by half of it, square to the bevel'}.`;
}

/** Both faces on one page as large as they need. */
export function largeTemplate(context: Context): Drawing {
  const tiled = faces(context);
  const margin = 15;
  const width = Math.max(...tiled.map((each) => each.width), 190) + 2 * margin;
  const foot = 30;
  const height = tiled.reduce((sum, each) => sum + each.height + 8, 0) + foot + margin;
  const sheet = new Sheet(width, height);
  let y = height - margin;
  for (const each of tiled) {
    y -= each.height;
    const x = (width - each.width) / 2;
    sheet.items.push({
      kind: 'window',
      dx: x,
      dy: y,
      clip: { x: 0, y: 0, width, height },
      items: each.items,
    });
    sheet.rect(x, y, each.width, each.height, { width: 0.1, grey: 0.55 }, undefined, 'TEXT');
    y -= 8;
  }
  checkBars(sheet, margin, foot - 10);
  const mark = [context.id, TITLE, `job digest ${context.digest}`, context.revision, context.date, context.title];
  sheet.text(mark.filter((part) => part !== '').join('   '), margin, 8, { size: 7 });
  sheet.text(
    'A planning aid: a competent engineer checks every figure. Print at 100 %, measure a bar first.',
    margin,
    4,
    { size: 7 },
  );
  return { title: `${TITLE} ${context.id}: ${context.title}`, pages: [sheet] };
}

export const FOOT_LAYERS: Layers = {
  FOOT_EDGE_FACE_PLUS: 1,
  FOOT_EDGE_FACE_MINUS: 3,
  PLATE_SIDES: 7,
  CENTRE_LINE: 4,
  SIGHT_LINE: 4,
  FACETS: 5,
  CHECK_BAR: 2,
  TEXT: 7,
};

/**
 * The foot in the plate's own coordinates for a drawing program: x is a (along the foot), y is b (towards the pin), origin at
 * the anchor, seen from `face+`. Both edges, each on its own layer.
 */
export function templateDxf(context: Context): string {
  const { fitting, plan } = context;
  const { kerf } = context.options;
  const { display } = plan.job;
  const { halfFoot } = fitting.field;
  const names = sideNames(fitting);
  const sheet = new Sheet(0, 0);
  sheet.path(footEdge(fitting, 'face+'), { width: 0.5 }, 'FOOT_EDGE_FACE_PLUS');
  sheet.path(footEdge(fitting, 'face-'), { width: 0.5 }, 'FOOT_EDGE_FACE_MINUS');
  const shoulder = fitting.input.lug.shoulder;
  const sight = sightLineAt(context);
  const lowest = Math.min(...[...footEdge(fitting, 'face+'), ...footEdge(fitting, 'face-')].map((p) => p.y));
  for (const s of [-1, 1]) sheet.line(s * halfFoot, lowest, s * halfFoot, shoulder, { width: 0.35 }, 'PLATE_SIDES');
  sheet.line(0, lowest - 6, 0, fitting.input.lug.pinHeight, CENTRE, 'CENTRE_LINE');
  const wide = halfWidthAt(context, sight);
  sheet.line(-wide, sight, wide, sight, CENTRE, 'SIGHT_LINE');
  for (const setting of torchSettings(fitting)) {
    if (setting.fromA > -halfFoot + 1e-6) sheet.line(setting.fromA, lowest, setting.fromA, sight, CENTRE, 'FACETS');
    const aside =
      kerf === undefined ? '' : `, its middle ${shopLength(torchFromEdge(setting, kerf), display, 2)} outside the edge`;
    sheet.text(`torch ${degrees(setting.torch, 2)} off square${aside}`, (setting.fromA + setting.toA) / 2, lowest - 8, {
      size: 9,
      align: 'centre',
      layer: 'FACETS',
    });
  }
  checkBars(sheet, -halfFoot, lowest - 22);
  const words = [
    `${context.id} seen from the ${sideWay(names['face+'])} face; right is the ${sideWay(names['end+'])} end`,
    `${context.title}; job digest ${context.digest} ${context.revision} ${context.date}`,
    'A planning aid: a competent engineer checks every figure.',
  ];
  words.forEach((text, i) => {
    sheet.text(text, -halfFoot, lowest - 32 - 5 * i, { size: 8 });
  });
  return writeDxf(sheet.items as Item[], FOOT_LAYERS, display === 'us' ? 'in' : 'mm');
}
