import { outlineTop } from '../../geometry/lug/outline.ts';
import type { Context } from './context.ts';
import { chosenCut, type Face, faceAt, footEdge, gapAt, offsetPath, torchSettings } from './cut.ts';
import { CENTRE, HIDDEN, type Item, type Pen, type Point, Sheet, THIN } from './drawing.ts';
import { degrees, fixed, gapUp, inches, thirtySeconds } from './figures.ts';
import { widthOf } from './fonts.ts';
import { sideNames, sideWay } from './sides.ts';
import { stationsOf } from './stations.ts';
import { type Box, besideWords, faceWords, type Ground, LINE, TYPE, torchWords } from './template-words.ts';
import type { Span } from './tiles.ts';

/** One face of the foot at true size: origin at the lower left corner of a window of this size, mm. */
export interface TemplateView {
  /** All of it on one page. */
  readonly items: readonly Item[];
  readonly width: number;
  readonly height: number;
  /** Where the lug's own origin (a = 0, b = 0) lies in it, and which way a runs: +1 to the right. */
  readonly origin: Point;
  readonly sense: 1 | -1;
  /** `outboard`, `keel`: where this face looks. */
  readonly name: string;
  /** x that a cut between pages keeps clear of, and y at which nothing stands beside an upright cut. */
  readonly avoid: readonly number[];
  readonly clear: readonly number[];
  /** Its items with the words in the stretches of x given. */
  draw(panes: readonly Span[]): readonly Item[];
}

/** mm. Round the drawing where there is room for it. */
export const BORDER = 12;
const BELOW = 13;
const ABOVE = 14;
/** mm. The words at a station and those under the sight line. */
const STATION_TEXT = 26;
/** mm. A narrower foot has its words beside it. */
const NARROW = 110;
const BESIDE = 66;

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
  return stock < 0.1 ? 0 : gapUp(stock, plan.job.display);
}

/** mm along the plate's surface, square to the foot's edge, at which the toe of the fillet is scribed on a face. */
export const legOn = ({ fitting }: Context, face: Face): number =>
  fitting.weld.sides.find((side) => side.side === face)?.calledLegAlongPlate ?? 0;

/**
 * The line on a face for the toe of the fillet: at its true distance from the foot's edge, square to it, out to the sides of the plate.
 * (a, b), mm, ascending a.
 */
export function legLine(context: Context, face: Face): Point[] {
  const line = offsetPath(footEdge(context.fitting, face), legOn(context, face));
  const ended = (end: Point, next: Point, way: 1 | -1): Point => {
    const slope = (next.y - end.y) / (next.x - end.x);
    const at = (x: number): Point => ({ x, y: end.y + slope * (x - end.x) });
    // Over the shoulder the side leans in: where the line meets it, found by going from one to the other.
    let p = at(way * context.fitting.field.halfFoot);
    for (let k = 0; k < 40; k++) p = at(way * halfWidthAt(context, p.y));
    return p;
  };
  const first = ended(line[0] as Point, line[1] as Point, -1);
  const last = ended(line.at(-1) as Point, line.at(-2) as Point, 1);
  return [first, ...line.slice(1, -1).filter((p) => p.x > first.x && p.x < last.x), last];
}

/** Half of the plate's width at b, mm: what the sight line may be long. Upright sides, lines to the arc, the arc; 0 over its top. */
export function halfWidthAt({ fitting }: Context, b: number): number {
  const { shape, touch } = fitting.body.outline;
  const { topRadius: R, pinHeight: h, shoulder } = shape;
  const { halfFoot } = fitting.field;
  if (b <= shoulder) return halfFoot;
  const meets = { a: R * Math.cos(touch), b: h + R * Math.sin(touch) };
  if (b < meets.b) return halfFoot + ((meets.a - halfFoot) * (b - shoulder)) / (meets.b - shoulder);
  return Math.sqrt(Math.max(0, R * R - (b - h) * (b - h)));
}

/** The foot as it shows on a face of the plate, seen from that face: its own edge solid, the one behind dashed. */
export function templateView(context: Context, face: Face, border = BORDER): TemplateView {
  const { fitting } = context;
  const { halfFoot } = fitting.field;
  const names = sideNames(fitting);
  const far: Face = face === 'face+' ? 'face-' : 'face+';
  const sense = face === 'face+' ? 1 : -1;
  const nearEdge = footEdge(fitting, face);
  const farEdge = footEdge(fitting, far);
  const all = [...nearEdge, ...farEdge];
  const lowest = Math.min(...all.map((p) => p.y));
  const highest = Math.max(...nearEdge.map((p) => p.y));
  const leg = legOn(context, face);
  const sight = sightLineAt(context);
  // With a pin close to the foot there is no room between leg and sight line: figures go under the foot, words over the sight line.
  const close = sight < highest + leg + STATION_TEXT - 2;
  const narrow = 2 * halfFoot < NARROW;
  const topB = Math.max(sight, highest + leg) + ABOVE + (close ? (narrow ? 2 : 3) * LINE : 0);
  // How far below the cut the shell may really lie, where the errors of the readings were followed through.
  const stock = stockFor95(context);
  const low = lowest - stock;
  const below = BELOW + (stock > 0 && !narrow ? 2 * LINE : 0) + (close ? 3 * LINE + 2 : 0);
  const width = 2 * halfFoot + 2 * border + (narrow ? BESIDE : 0);
  const height = topB - low + below;
  const origin = { x: border + halfFoot, y: below - low };
  const at = (a: number, b: number): Point => ({ x: origin.x + sense * a, y: origin.y + b });
  const stations = roomyStations(context, face, close);
  const facets = torchSettings(fitting)
    .map((setting) => setting.fromA)
    .filter((a) => a > -halfFoot + 1e-6);

  const draw = (panes: readonly Span[]): readonly Item[] => {
    const sheet = new Sheet(width, height);
    const line = (p: Point, q: Point, pen: Pen, layer: string) => sheet.line(p.x, p.y, q.x, q.y, pen, layer);
    const path = (points: readonly Point[], pen: Pen, layer: string) =>
      sheet.path(
        points.map((p) => at(p.x, p.y)),
        pen,
        layer,
      );
    if (stock > 0) {
      const depth = nearEdge.map((p) => at(p.x, p.y - stock));
      sheet.path([...nearEdge.map((p) => at(p.x, p.y)), ...depth.toReversed()], undefined, 'GRINDING_STOCK', true, 0.9);
      sheet.path(depth, { width: 0.35, dash: [0.6, 1.2] }, 'GRINDING_STOCK');
    }
    // Sides of the plate up to the top of the template.
    const sides = outlineSide(context, topB);
    for (const s of [1, -1]) {
      const edge = s === 1 ? (nearEdge.at(-1) as Point) : (nearEdge[0] as Point);
      const side = [{ x: s * halfFoot, y: edge.y }, ...sides.map(([a, b]) => ({ x: s * a, y: b }))];
      path(side, { width: 0.35 }, 'PLATE_SIDES');
    }
    path(farEdge, HIDDEN, 'FOOT_EDGE_FAR');
    path(nearEdge, { width: 0.5 }, 'FOOT_EDGE_NEAR');
    const legged = legLine(context, face).map((p) => at(p.x, p.y));
    sheet.path(legged, { width: 0.25, dash: [1.5, 1] }, 'LEG_LINE');
    const wide = halfWidthAt(context, sight);
    line(at(-wide, sight), at(wide, sight), { width: 0.25 }, 'SIGHT_LINE');

    // Stations: place along the foot, bevel of the cut, gap that the cut leaves on this face.
    let clearOfFigures = low - 6;
    const figures: Box[] = [];
    for (const { a, x: aside, words, align } of stations) {
      const foot = heightAt(context, face, a);
      const top = foot + leg + 2;
      // At the ends the side of the plate is the line.
      if (Math.abs(a) < halfFoot - 1e-6) line(at(a, foot), at(a, top), THIN, 'STATIONS');
      const p = at(0, close ? low - 3 : top + 1.5 + words.length * LINE);
      const x = p.x + aside + (align === 'left' ? 0.8 : align === 'right' ? -0.8 : 0);
      words.forEach((text, i) => {
        const y = p.y - 0.75 * LINE - i * LINE;
        sheet.text(text, x, y, { size: TYPE, align, bold: i === 0, layer: 'STATIONS' });
      });
      const wideAt = Math.max(...words.map((text, i) => widthOf(context.fonts, text, TYPE, i === 0)));
      const x0 = align === 'left' ? x : align === 'right' ? x - wideAt : x - wideAt / 2;
      if (!close) figures.push({ x0, x1: x0 + wideAt, y0: p.y - words.length * LINE, y1: p.y });
      if (Math.abs(a) < halfFoot - 1e-6)
        figures.push({ x0: at(a, 0).x, x1: at(a, 0).x, y0: at(a, foot).y, y1: at(a, top).y });
      if (Math.abs(a) < 1e-6) {
        // The centre line makes room for the figures that stand on it.
        if (!close) line(at(0, low - 6), at(0, top), CENTRE, 'CENTRE_LINE');
        clearOfFigures = close ? low - 2 : top + 2 + words.length * LINE;
      }
    }
    if (sight > clearOfFigures) line(at(0, clearOfFigures), at(0, sight + 1), CENTRE, 'CENTRE_LINE');
    line(at(0, topB - 2.5), at(0, topB), CENTRE, 'CENTRE_LINE');
    for (const a of facets) {
      const { surface } = chosenCut(fitting);
      const c = faceAt(fitting, face);
      const [left, right] = [surface.height(a, c, true), surface.height(a, c)];
      const dash = { width: 0.3, dash: [4, 1, 1, 1] };
      line(at(a, Math.min(left, right) - 5), at(a, Math.max(left, right) + leg + 2), dash, 'FACETS');
      line(at(a, sight), at(a, sight + 2.5), { width: 0.3 }, 'FACETS');
    }

    const ground: Ground = {
      context,
      face,
      at,
      sense,
      names,
      sight,
      topB,
      // Between the sight line and the middle of the title, as wide as the plate is there.
      halfWords: halfWidthAt(context, topB) - 3,
      halfSight: wide - 2,
      // Base lines of what is said of torch and stock.
      torchY: low - (close ? 3 * LINE + 7 : 9.5),
      stockY: low - (close ? 3 * LINE + 7 : 9.5) - LINE - 0.4,
      wordsOver: close,
      leg,
      stock,
      legAt: (x) => heightOn(legged, x),
      figures,
    };
    if (narrow) besideWords(sheet, ground, { x: origin.x + halfFoot + 6, y: origin.y + topB - 4 }, BESIDE - 8);
    else {
      for (const pane of panes) faceWords(sheet, ground, pane, origin.x);
      torchWords(sheet, ground, panes);
    }
    return sheet.items;
  };

  let whole: readonly Item[] | undefined;
  return {
    get items() {
      whole ??= draw([{ from: 0, to: width }]);
      return whole;
    },
    width,
    height,
    origin,
    sense,
    name: sideWay(names[face]),
    avoid: [...stations.map(({ a }) => at(a, 0).x), ...facets.map((a) => at(a, 0).x), origin.x],
    clear: [origin.y + topB - ABOVE / 2, origin.y + low - (close ? 3 * LINE + 8 : 8)],
    draw,
  };
}

/** y of a line of which x goes one way at x, between its points; the end's beyond an end. */
function heightOn(line: readonly Point[], x: number): number {
  const up = line.toSorted((p, q) => p.x - q.x);
  const k = Math.max(
    1,
    Math.min(
      up.length - 1,
      up.findIndex((p) => p.x >= x),
    ),
  );
  const [p, q] = [up[k - 1] as Point, up[k] as Point];
  const w = q.x > p.x ? Math.max(0, Math.min(1, (x - p.x) / (q.x - p.x))) : 0;
  return p.y + w * (q.y - p.y);
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

/** b of the cut on a face, mm; at the `end+` end, where nothing follows, that of the last facet. */
const heightAt = ({ fitting }: Context, face: Face, a: number): number =>
  chosenCut(fitting).surface.height(a, faceAt(fitting, face), a > fitting.field.halfFoot - 1e-9);

interface Station {
  readonly a: number;
  /** Where its words stand, to the right of the centre line on the page, mm. */
  readonly x: number;
  /** Place, bevel, gap; on lines of their own. */
  readonly words: readonly string[];
  readonly align: 'left' | 'centre' | 'right';
}

/** Stations whose figures do not run into one another: both ends and the middle first. */
function roomyStations(context: Context, face: Face, underFoot: boolean): Station[] {
  const { fitting, plan, fonts } = context;
  const { display } = plan.job;
  const { halfFoot } = fitting.field;
  const c = faceAt(fitting, face);
  const sense = face === 'face+' ? 1 : -1;
  const all = stationsOf(context).map((a) => {
    const across = heightAt(context, face, a) - heightAt(context, face === 'face+' ? 'face-' : 'face+', a);
    const gap = Math.max(0, gapAt(fitting, a, c));
    const words = [
      display === 'us' ? thirtySeconds(a) : fixed(a, 0),
      degrees(Math.atan(across / (2 * c))),
      `g ${display === 'us' ? fixed(inches(gap), 3).replace(/^0/, '') : fixed(gap, 1)}`,
    ];
    const end = Math.abs(a) > halfFoot - 1e-6 ? Math.sign(a) * sense : 0;
    const wide = Math.max(...words.map((text, i) => widthOf(fonts, text, TYPE, i === 0)));
    // Where the plate's side leans in over the foot, its figures stand as far in.
    const top = heightAt(context, face, a) + legOn(context, face) + 4 + words.length * LINE;
    const inside = underFoot ? halfFoot : halfWidthAt(context, top);
    const reach = inside - (end === 0 ? wide / 2 + 1 : 0);
    const x = Math.max(-reach, Math.min(reach, sense * a));
    const box = end === 0 ? [x - wide / 2, x + wide / 2] : end < 0 ? [x, x + wide + 1] : [x - wide - 1, x];
    const align = end === 0 ? 'centre' : end < 0 ? 'left' : 'right';
    return { a, x, words, align, from: box[0] as number, to: box[1] as number } as const;
  });
  const first = all.filter(({ a }) => Math.abs(a) > halfFoot - 1e-6 || Math.abs(a) < 1e-6);
  const kept: (typeof all)[number][] = [];
  for (const station of [...first, ...all]) {
    if (kept.every((each) => station.from > each.to + 1.5 || station.to < each.from - 1.5)) kept.push(station);
  }
  return kept.sort((p, q) => p.a - q.a);
}
