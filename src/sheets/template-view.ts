import { outlineTop } from '../../geometry/lug/outline.ts';
import type { Context } from './context.ts';
import { chosenCut, type Face, faceAt, footEdge, gapAt, offsetPath, torchSettings } from './cut.ts';
import { CENTRE, HIDDEN, type Item, type Point, Sheet, THIN } from './drawing.ts';
import { degrees, fixed, inches, shopLength } from './figures.ts';
import { widthOf } from './fonts.ts';
import { sideNames, sideWay } from './sides.ts';

/** One face of the foot at true size: items with the origin at the lower left corner of a window of this size, mm. */
export interface TemplateView {
  readonly items: readonly Item[];
  readonly width: number;
  readonly height: number;
  /** Where the lug's own origin (a = 0, b = 0) lies in it, and which way a runs: +1 to the right. */
  readonly origin: Point;
  readonly sense: 1 | -1;
  /** Breaks between tiles had better not fall here. */
  readonly name: string;
}

/** rad. A torch cannot be set closer than this: half of the last figure printed. */
export const SQUARE = (0.05 * Math.PI) / 180;
const BORDER = 12;
const BELOW = 17;
/** mm. The words at a station, on end. */
const STATION_TEXT = 26;

/** b of the line scribed on both faces parallel to the foot's axis, for the angle finder: clear of the leg and the cut. */
export function sightLineAt(context: Context): number {
  const { fitting } = context;
  const highest = Math.max(...[...footEdge(fitting, 'face-'), ...footEdge(fitting, 'face+')].map((p) => p.y));
  const leg = Math.max(...fitting.weld.sides.map((side) => side.calledLegAlongPlate));
  const { shoulder, pinHeight, hole } = fitting.input.lug;
  // At a round distance from the pin centre, from which it is scribed; clear of leg and words below, of the hole above.
  const round = context.plan.job.display === 'us' ? 25.4 / 4 : 5;
  const wanted = Math.floor((pinHeight - Math.max(shoulder, highest + leg + STATION_TEXT)) / round) * round;
  const least = Math.ceil((hole / 2 + 5) / round) * round;
  return Math.max(highest + 5, pinHeight - Math.max(wanted, least));
}

/**
 * mm of metal to leave on the foot below the planned cut so that in 95 of 100 cases it can be ground to fit; 0 where the errors of the
 * readings were not followed through, or come to less than a tenth of a millimetre.
 */
export function stockFor95({ plan, fitting }: Context): number {
  const stock = plan.uncertainty?.fittings.find((each) => each.id === fitting.id)?.stock ?? 0;
  return stock < 0.1 ? 0 : stock;
}

/** Half of the plate's width at b, mm: what the sight line may be long. */
export function halfWidthAt(context: Context, b: number): number {
  const side = outlineSide(context, b);
  return b <= context.fitting.input.lug.shoulder
    ? context.fitting.field.halfFoot
    : (side.at(-1) as [number, number])[0];
}

/** The foot as it shows on a face of the plate, seen from that face: its own edge solid, the one behind dashed. */
export function templateView(context: Context, face: Face): TemplateView {
  const { fitting, plan, fonts } = context;
  const { display } = plan.job;
  const { halfFoot } = fitting.field;
  const names = sideNames(fitting);
  const far: Face = face === 'face+' ? 'face-' : 'face+';
  const sense = face === 'face+' ? 1 : -1;
  const nearEdge = footEdge(fitting, face);
  const farEdge = footEdge(fitting, far);
  const all = [...nearEdge, ...farEdge];
  const lowest = Math.min(...all.map((p) => p.y));
  const sight = sightLineAt(context);
  const topB = sight + 14;
  const width = 2 * halfFoot + 2 * BORDER;
  // How far below the cut the shell may really lie, where the errors of the readings were followed through.
  const stock = stockFor95(context);
  const low = lowest - stock;
  const height = topB - low + BELOW;
  const origin = { x: width / 2, y: BELOW - low };
  const sheet = new Sheet(width, height);
  const at = (a: number, b: number): Point => ({ x: origin.x + sense * a, y: origin.y + b });
  const line = (p: Point, q: Point, pen: typeof THIN, layer: string) => sheet.line(p.x, p.y, q.x, q.y, pen, layer);

  // Sides of the plate up to the top of the template.
  const sides = outlineSide(context, topB);
  for (const s of [1, -1]) {
    const edge = s === 1 ? (nearEdge.at(-1) as Point) : (nearEdge[0] as Point);
    sheet.path([at(s * halfFoot, edge.y), ...sides.map(([a, b]) => at(s * a, b))], { width: 0.35 }, 'PLATE_SIDES');
  }
  if (stock > 0) {
    const below = nearEdge.map((p) => at(p.x, p.y - stock));
    sheet.path([...nearEdge.map((p) => at(p.x, p.y)), ...below.toReversed()], undefined, 'STOCK', true, 0.9);
    sheet.path(below, { width: 0.35, dash: [0.6, 1.2] }, 'STOCK');
    sheet.text(
      `dotted: ${shopLength(stock, display)} of metal left on; ground to the shell it then fits in 95 of 100 cases`,
      at(0, 0).x + 3,
      at(0, low - 14).y,
      { size: 7, align: 'centre', layer: 'STOCK' },
    );
  }
  sheet.path(
    farEdge.map((p) => at(p.x, p.y)),
    HIDDEN,
    'FOOT_EDGE_FAR',
  );
  sheet.path(
    nearEdge.map((p) => at(p.x, p.y)),
    { width: 0.5 },
    'FOOT_EDGE_NEAR',
  );
  const leg = fitting.weld.sides.find((side) => side.side === face)?.calledLegAlongPlate ?? 0;
  sheet.path(
    offsetPath(nearEdge, leg).map((p) => at(p.x, p.y)),
    { width: 0.25, dash: [1.5, 1] },
    'LEG_LINE',
  );
  line(at(0, low - 6), at(0, sight + 2), CENTRE, 'CENTRE_LINE');
  line(at(0, topB - 2.5), at(0, topB), CENTRE, 'CENTRE_LINE');
  const wide = halfWidthAt(context, sight);
  line(at(-wide, sight), at(wide, sight), { width: 0.25 }, 'SIGHT_LINE');

  // Stations: place along the foot, bevel of the cut, gap that the cut leaves on this face.
  const { surface } = chosenCut(fitting);
  const c = faceAt(fitting, face);
  const stations = thinned(
    fitting.bevel.schedule.map((station) => station.a),
    halfFoot,
  );
  for (const a of stations) {
    const foot = surface.height(a, c);
    const across = (surface.height(a, c) - surface.height(a, -c)) / (2 * c);
    line(at(a, foot), at(a, foot + leg + 2), THIN, 'STATIONS');
    const place = display === 'us' ? fixed(inches(a), 2) : fixed(a, 0);
    const gap = Math.max(0, gapAt(fitting, a, c));
    const gapText = display === 'us' ? fixed(inches(gap), 3) : fixed(gap, 1);
    const text = `${place}  ${degrees(Math.atan(across))}  g ${gapText}`;
    const p = at(a, foot + leg + 3.5);
    // Over its line; beside it where another line goes up: at the ends of the foot and in its middle.
    const end = Math.abs(a) > halfFoot - 1;
    const beside = end ? -2 * sense * Math.sign(a) : Math.abs(a) < 3 ? 2.6 : 0;
    sheet.text(text, p.x + 0.8 + beside, p.y, { size: 6, rotation: Math.PI / 2, layer: 'STATIONS' });
  }
  for (const setting of torchSettings(fitting)) {
    const mid = (setting.fromA + setting.toA) / 2;
    if (setting.fromA > -halfFoot + 1e-6) {
      const y = Math.min(surface.height(setting.fromA, c), surface.height(setting.fromA, c, true));
      line(at(setting.fromA, y - 8), at(setting.fromA, sight), { width: 0.3, dash: [4, 1, 1, 1] }, 'FACETS');
    }
    const shorter = sideWay(names[setting.torch >= 0 ? 'face+' : 'face-']).toUpperCase();
    const square = Math.abs(setting.torch) < SQUARE;
    const text = square
      ? 'cut square'
      : `torch ${degrees(Math.abs(setting.torch))} off square, ${shorter} face shorter`;
    const size = 7.5;
    const room = setting.toA - setting.fromA;
    const fits = widthOf(fonts, text, size) < room;
    const p = at(mid, low - 9);
    if (fits) sheet.text(text, p.x, p.y, { size, align: 'centre', layer: 'FACETS' });
    else sheet.text(degrees(Math.abs(setting.torch)), p.x, p.y, { size, align: 'centre', layer: 'FACETS' });
  }
  if (fitting.fit.chosen === 'scribed') {
    sheet.text('scribed cut: bevel as at the stations', at(0, 0).x, at(0, low - 9).y, {
      size: 7.5,
      align: 'centre',
      layer: 'FACETS',
    });
  }

  // Words that tell which end and which face this is.
  const endName = (end: 'end-' | 'end+') => sideWay(names[end]).toUpperCase();
  const [leftEnd, rightEnd] = sense === 1 ? (['end-', 'end+'] as const) : (['end+', 'end-'] as const);
  const y = origin.y + sight + 4;
  const inset = halfWidthAt(context, topB) - 3;
  const left = origin.x - inset;
  const right = origin.x + inset;
  sheet.text(`◄ ${endName(leftEnd)}`, left, y + 3, { size: 10, bold: true });
  sheet.text(`${endName(rightEnd)} ►`, right, y + 3, { size: 10, bold: true, align: 'right' });
  const title = `${context.id}: this face looks ${sideWay(names[face]).toUpperCase()}`;
  const size = widthOf(fonts, title, 10, true) < 2 * halfFoot - 70 ? 10 : 7.5;
  sheet.text(title, origin.x + 3, y + 3, { size, bold: true, align: 'centre' });
  const sightText = `sight line, ${shopLength(fitting.input.lug.pinHeight - sight, display)} from pin centre`;
  sheet.text(sightText, left, y - 3, { size: 6.5, layer: 'SIGHT_LINE' });
  sheet.text(`leg line ${shopLength(leg, display)} from the edge`, right, y - 3, {
    size: 6.5,
    align: 'right',
    layer: 'LEG_LINE',
  });
  return { items: sheet.items, width, height, origin, sense, name: sideWay(names[face]) };
}

/** Half of the outline from the shoulder up to b = top as (a, b), for a > 0. */
function outlineSide({ fitting }: Context, top: number): [number, number][] {
  const points = outlineTop(fitting.body.outline, 0.05);
  const out: [number, number][] = [];
  for (let i = 0; i < points.length; i++) {
    const [a, b] = points[i] as [number, number];
    if (b >= top || a < 0) {
      const before = out.at(-1);
      if (before === undefined) out.push([a, top]);
      else out.push([before[0] + ((a - before[0]) * (top - before[1])) / (b - before[1]), top]);
      break;
    }
    out.push([a, b]);
  }
  return out;
}

/** Stations that leave room for their text, the ends always among them. */
function thinned(stations: readonly number[], halfFoot: number): number[] {
  const out: number[] = [];
  for (const a of stations) {
    if (out.length === 0 || a - (out.at(-1) as number) >= 11 || a > halfFoot - 1e-6) out.push(a);
  }
  return out;
}

/** Bars of 100 mm and 4 in, end to end over one another: if they do not measure true, the print is not 1:1. */
export function checkBars(sheet: Sheet, x: number, y: number): void {
  for (const [long, text, up] of [
    [100, '100 mm', 3.2],
    [101.6, '4 in', -3.2],
  ] as const) {
    sheet.line(x, y + up, x + long, y + up, { width: 0.3 }, 'CHECK_BAR');
    for (const at of [0, long]) sheet.line(x + at, y + up - 1.8, x + at, y + up + 1.8, { width: 0.3 }, 'CHECK_BAR');
    sheet.text(text, x + long + 2, y + up - 0.9, { size: 7, layer: 'CHECK_BAR' });
  }
}
