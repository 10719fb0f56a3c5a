import type { Context } from './context.ts';
import { type Item, type Page, type Point, Sheet, scaled } from './drawing.ts';
import { shopLength } from './figures.ts';
import { type FlatFoot, flatFoot } from './flatten.ts';
import { widthOf } from './fonts.ts';
import {
  bandShort,
  cleanMargin,
  cleanReach,
  KEEL_LINE,
  type MarkoutLines,
  markoutLines,
  seenBy,
} from './markout-drawing.ts';
import { cornerMarks, crosses, namesOf, oSpot } from './markout-picture.ts';
import { roundWords } from './markout-ways.ts';
import { type Piece, type Span, type TileLayout, tileLayout, tilePages, tilesIn } from './tiles.ts';

/* The mark-out at true size on paper that any printer takes: joined by its crosses it is laid on the shell, its centre lines on those there. */

/** mm beyond the weld toes that are shown at the least: words and arrows stand there. */
const BAND = 20;
/** rad. A foot that lies askew by less is drawn as it lies. */
const ASKEW = Math.PI / 180;

/** rad. A foot that stands steeper than this on the picture is brought down by a turn to the right. */
const STEEP = Math.PI / 3;

/** The pages of the mark-out at true size, numbered from `firstPage` of `of`. */
export function markoutTiles(context: Context, title: string, firstPage: number, of: number): Page[] {
  const { piece, layout } = markoutPiece(context);
  return tilePages(context, piece, layout, title, firstPage, of);
}

/**
 * Turn (rad, to the left) that brings the foot to lie across the page: by the shorter way, a foot that runs round the girth by about a
 * quarter to the right, as in the picture on the first page.
 */
export function turnToLie(flat: FlatFoot): number {
  const seen = seenBy(flat);
  const [p, q, r, s] = flat.corners.map(seen) as [Point, Point, Point, Point];
  // Which end is first does not matter: from -90 to 90 degrees.
  const angle = Math.atan2(q.y + r.y - p.y - s.y, q.x + r.x - p.x - s.x);
  const lies = angle - Math.PI * Math.round(angle / Math.PI);
  if (Math.abs(lies) > STEEP) return lies > 0 ? -lies : -lies - Math.PI;
  return Math.abs(lies) < ASKEW ? 0 : -lies;
}

/** The drawing that goes on the tiles: all of the clean metal where that takes no more pages than the weld toes do, else as much of it. */
export function markoutPiece(context: Context): { readonly piece: Piece; readonly layout: TileLayout } {
  const flat = flatFoot(context.plan, context.fitting);
  const turn = turnToLie(flat);
  const clean = cleanReach(context, flat, turn);
  const margin = cleanMargin(context);
  const shown = (band: number): Point => ({ x: clean.x - margin + band, y: clean.y - margin + band });
  const layoutOf = (reach: Point) => tileLayout(context.paper, { width: 2 * reach.x, height: 2 * reach.y });
  const fewest = tilesIn(layoutOf(shown(BAND)));
  let band = Math.max(margin + 4, BAND);
  while (band > BAND && tilesIn(layoutOf(shown(band))) > fewest) band = Math.max(BAND, band - 1);
  const reach = shown(band);
  const lines = markoutLines(context, flat, turn, reach);
  const toe = { x: reach.x - band, y: reach.y - band };
  const marks = cornerMarks(flat, lines, 1);
  const middle = (reach.y + toe.y) / 2;
  const piece: Piece = {
    title: 'true size',
    width: 2 * reach.x,
    height: 2 * reach.y,
    avoid: [0, ...marks.map(({ corner }) => corner.x)].map((x) => x + reach.x),
    clear: [reach.y - middle, reach.y + middle],
    outlines: [],
    draw: (panes) => drawPiece(context, flat, lines, toe, panes),
  };
  return { piece, layout: tileLayout(context.paper, piece) };
}

function drawPiece(
  context: Context,
  flat: FlatFoot,
  lines: MarkoutLines,
  toe: Point,
  panes: readonly Span[],
): readonly Item[] {
  const { fonts } = context;
  const { reach } = lines;
  const sheet = new Sheet(0, 0);
  sheet.add(lines.items);
  const marks = cornerMarks(flat, lines, 1);
  for (const { number, corner, at } of marks) {
    sheet.circle(corner.x, corner.y, 0.7, undefined, 0);
    sheet.circle(at.x, at.y, 3, { width: 0.3 }, 1);
    sheet.text(number, at.x, at.y - 1.4, { size: 10, bold: true, align: 'centre' });
  }
  sheet.circle(0, 0, 0.8, undefined, 0);
  const o = oSpot(lines, 1);
  sheet.text('O', o.x, o.y - 1.4, { size: 10, bold: true, align: 'centre' });
  const margin = shopLength(cleanMargin(context), context.plan.job.display);
  const legend = [
    'thick: footprint',
    'thin: weld toes',
    // Named at one end of it only, which may be on another page.
    ...(lines.names.some(({ words }) => words === KEEL_LINE) ? [`one line right across: ${KEEL_LINE}`] : []),
    ...bandShort(lines),
    `dashed: clean metal, ${margin} beyond`,
    ...(runsOn(lines) ? ['it runs on past this drawing: set it off'] : []),
  ];
  const words = Math.max(...legend.map((text) => widthOf(fonts, text, TYPE)));
  const taken = marks.map(({ at }) => ({ x0: at.x - 3, y0: at.y - 3, x1: at.x + 3, y1: at.y + 3 }));
  for (const pane of panes) {
    // In the band beyond the toes, clear of its rounded corners and of the centre lines.
    const from = Math.max(pane.from - reach.x, -toe.x) + 3;
    const to = Math.min(pane.to - reach.x, toe.x) - 3;
    const low = toe.y + 2.3;
    const first = Math.max(toe.y + 15, low + 1 + 3.9 * (legend.length - 1));
    const x = freeSpot(from, to, words, [low, first + 3], lines);
    legend.forEach((text, i) => {
      sheet.text(text, x, first - 3.9 * i, { size: TYPE });
    });
    taken.push({ x0: x, y0: low, x1: x + words, y1: first + 3 });
    const left = freeSpot(from, to, COMPASS, [-toe.y - 19, -toe.y - 3], lines);
    compass(sheet, lines, { x: left + COMPASS / 2, y: -toe.y - 11 }, roundWords(context.fitting).outEdge);
    taken.push({ x0: left, y0: -toe.y - 19, x1: left + COMPASS, y1: -toe.y - 3 });
  }
  sheet.add(namesOf(fonts, lines, 1, taken, false));
  return scaled(sheet.items, 1, reach.x, reach.y);
}

/** Whether some of the clean metal lies beyond what is drawn. */
export const runsOn = ({ reach, outlines }: Pick<MarkoutLines, 'reach' | 'outlines'>): boolean =>
  outlines.clean.some((p) => Math.abs(p.x) > reach.x || Math.abs(p.y) > reach.y);

/** Points. */
const TYPE = 8;
/** mm. Width that the two arrows take with their words. */
const COMPASS = 66;

/** Left end of something so long between two places, over no line where that is possible, as far left as that allows. */
function freeSpot(
  from: number,
  to: number,
  long: number,
  [y0, y1]: readonly [number, number],
  { reach, names, outlines, centres }: MarkoutLines,
): number {
  const lines = [...centres, ...names.map((name) => name.line), outlines.clean];
  for (let x = from; x <= to - long; x += 2) {
    if (lines.every((line) => !crosses(line, { x0: x - 2, y0, x1: x + long + 2, y1 }, 1))) return x;
  }
  return Math.max(-reach.x + 1, Math.min(to - from < long ? (from + to - long) / 2 : from, reach.x - long - 1));
}

/** Two arrows with their words: which way is forward, which outward along the girth. */
function compass(sheet: Sheet, { seen }: MarkoutLines, hub: Point, outward: string): void {
  for (const [way, words] of [
    [{ x: 1, y: 0 }, 'FORWARD'],
    [{ x: 0, y: 1 }, outward],
  ] as const) {
    const at = seen(way);
    const o = seen({ x: 0, y: 0 });
    const [x, y] = [at.x - o.x, at.y - o.y];
    const flatWay = Math.abs(x) > 0.7;
    const long = flatWay ? 11 : 7;
    sheet.arrow(hub, { x: hub.x + long * x, y: hub.y + long * y }, { width: 0.5 }, 2.5, 'TEXT');
    // Beyond the head of an arrow that lies, beside one that stands: on the side away from the other.
    const other = seen(way.x === 1 ? { x: 0, y: 1 } : { x: 1, y: 0 });
    const right = flatWay ? x > 0 : other.x < 0;
    const place = flatWay
      ? { x: hub.x + (long + 1) * x, y: hub.y + long * y - 1.3 }
      : { x: hub.x + 0.6 * long * x + (right ? 1.5 : -1.5), y: hub.y + 0.7 * long * y - 1.2 };
    sheet.text(words, place.x, place.y, { size: 9, bold: true, align: right ? 'left' : 'right' });
  }
}
