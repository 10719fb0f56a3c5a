import { checkBars } from './checkbars.ts';
import type { Context } from './context.ts';
import { footEdge, torchFromEdge, torchSettings } from './cut.ts';
import { CENTRE, type Item, Sheet, THIN, type Vertex } from './drawing.ts';
import { type Layers, writeDxf } from './dxf.ts';
import { degrees, shopLength } from './figures.ts';
import { kerfWords } from './foottemplate.ts';
import { sideNames, sideWay } from './sides.ts';
import { stationsOf } from './stations.ts';
import { halfWidthAt, legLine, sightLineAt, stockFor95, templateView } from './template-view.ts';
import { stockLength } from './template-words.ts';
import { cautionWith } from './warning.ts';

export const FOOT_LAYERS: Layers = {
  FOOT_EDGE_FACE_PLUS: 1,
  FOOT_EDGE_FACE_MINUS: 3,
  TEMPLATE_FACE_PLUS: 1,
  TEMPLATE_FACE_MINUS: 3,
  LEG_LINE_FACE_PLUS: 6,
  LEG_LINE_FACE_MINUS: 6,
  GRINDING_STOCK_FACE_PLUS: 30,
  GRINDING_STOCK_FACE_MINUS: 30,
  CENTRE_LINE: 4,
  SIGHT_LINE: 4,
  STATIONS: 8,
  FACETS: 5,
  CHECK_BAR: 2,
  TEXT: 7,
};

/**
 * The foot in the plate's own coordinates for a drawing program: x is a (along the foot), y is b (towards the pin), origin at
 * the anchor, seen from `face+`. Each face on layers of its own: the edge of the cut, the template to cut out of board as a closed
 * line, the leg line, and the metal to leave for grinding where the errors of the readings were followed through.
 */
export function templateDxf(context: Context): string {
  const { fitting, plan } = context;
  const { kerf } = context.options;
  const { display } = plan.job;
  const { halfFoot } = fitting.field;
  const names = sideNames(fitting);
  const sheet = new Sheet(0, 0);
  const stock = stockFor95(context);
  const sight = sightLineAt(context);
  const lowest = Math.min(...[...footEdge(fitting, 'face+'), ...footEdge(fitting, 'face-')].map((p) => p.y)) - stock;
  for (const [face, end] of [
    ['face+', 'FACE_PLUS'],
    ['face-', 'FACE_MINUS'],
  ] as const) {
    const edge = footEdge(fitting, face);
    const { height, origin } = templateView(context, face);
    sheet.path(edge, { width: 0.5 }, `FOOT_EDGE_${end}`);
    sheet.path([...edge, ...overFoot(context, height - origin.y)], { width: 0.35 }, `TEMPLATE_${end}`, true);
    sheet.path(legLine(context, face), { width: 0.25 }, `LEG_LINE_${end}`);
    if (stock > 0) {
      const below = edge.map((p) => ({ x: p.x, y: p.y - stock }));
      sheet.path(below, { width: 0.35 }, `GRINDING_STOCK_${end}`);
    }
  }
  sheet.line(0, lowest - 6, 0, fitting.input.lug.pinHeight, CENTRE, 'CENTRE_LINE');
  const wide = halfWidthAt(context, sight);
  sheet.line(-wide, sight, wide, sight, CENTRE, 'SIGHT_LINE');
  for (const a of stationsOf(context)) sheet.line(a, lowest - 3, a, lowest, THIN, 'STATIONS');
  const settings = torchSettings(fitting);
  // A line of words for each setting, one under the other: beside one another they would run together.
  settings.forEach((setting, i) => {
    if (setting.fromA > -halfFoot + 1e-6) sheet.line(setting.fromA, lowest, setting.fromA, sight, CENTRE, 'FACETS');
    const aside =
      kerf === undefined ? '' : `, its middle ${shopLength(torchFromEdge(setting, kerf), display, 2)} outside the edge`;
    const stretch = `${shopLength(setting.fromA, display)} to ${shopLength(setting.toA, display)}`;
    sheet.text(`${stretch}: torch ${degrees(setting.torch, 2)} off square${aside}`, -halfFoot, lowest - 9 - 5 * i, {
      size: 9,
      layer: 'FACETS',
    });
  });
  const under = lowest - 5 * settings.length;
  checkBars(sheet, -halfFoot, under - 14);
  const words = [
    `${context.id} seen from the ${sideWay(names['face+'])} face; right is the ${sideWay(names['end+'])} end`,
    `FACE_PLUS: the face that looks ${sideWay(names['face+'])}; FACE_MINUS: the face that looks ${sideWay(names['face-'])}, here seen through the plate`,
    ...(settings.length === 0 ? [] : [`torch: with a plus the ${sideWay(names['face+'])} face is the shorter`]),
    kerfWords(context),
    ...(stock > 0
      ? [
          `GRINDING_STOCK: ${stockLength(stock, display)} of metal left on; ground to the shell it then fits in 95 of 100 cases`,
        ]
      : []),
    `${context.title}; job digest ${context.digest} ${context.revision} ${context.date}`,
    cautionWith(context),
  ];
  words.forEach((text, i) => {
    sheet.text(text, -halfFoot, under - 26 - 5 * i, { size: 8 });
  });
  return writeDxf(sheet.items as Item[], FOOT_LAYERS, display === 'us' ? 'in' : 'mm');
}

/** The plate over its foot as high as b = top, from `end+` round to `end-`: sides, lines to the arc, of the arc what lies below. */
function overFoot({ fitting }: Context, top: number): Vertex[] {
  const { shape, touch } = fitting.body.outline;
  const { topRadius: R, pinHeight: h, shoulder } = shape;
  const half = shape.foot / 2;
  const meets = { x: R * Math.cos(touch), y: h + R * Math.sin(touch) };
  if (top <= shoulder) {
    return [
      { x: half, y: top },
      { x: -half, y: top },
    ];
  }
  const mirrored = ({ x, y }: Vertex): Vertex => ({ x: -x, y });
  const bend = { x: half, y: shoulder };
  if (top <= meets.y) {
    const end = { x: half + ((meets.x - half) * (top - shoulder)) / (meets.y - shoulder), y: top };
    return [bend, end, mirrored(end), mirrored(bend)];
  }
  const last = Math.asin(Math.min(1, (top - h) / R));
  const end = { x: R * Math.cos(last), y: h + R * Math.sin(last) };
  const bulge = Math.tan((last - touch) / 4);
  return [bend, { ...meets, bulge }, end, { ...mirrored(end), bulge }, mirrored(meets), mirrored(bend)];
}
