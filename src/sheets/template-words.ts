import type { Side } from '../../geometry/fit/rootline.ts';
import { showFigure } from '../job/show.ts';
import type { Display } from '../job/types.ts';
import type { Context } from './context.ts';
import { type Face, torchSettings } from './cut.ts';
import type { Align, Point, Sheet } from './drawing.ts';
import { degrees, shopLength } from './figures.ts';
import { shortened, widthOf, wrapped } from './fonts.ts';
import { sideWay } from './sides.ts';
import type { Span } from './tiles.ts';

/** rad. A torch cannot be set closer than this: half of the last figure printed. */
export const SQUARE = (0.05 * Math.PI) / 180;
/** Points, and mm from line to line: what is read at the bench. */
export const TYPE = 8;
export const LINE = 3.6;
/** mm. A stretch narrower than this has no words of its own where a wider one has them. */
const ROOM = 44;

/** Where the words of a face stand: mm, heights in the lug frame; `at` turns them into the page's. */
export interface Ground {
  readonly context: Context;
  readonly face: Face;
  readonly at: (a: number, b: number) => Point;
  readonly sense: 1 | -1;
  readonly names: Readonly<Record<Side, string>>;
  readonly sight: number;
  readonly topB: number;
  /** Half of the width of the plate at the title and under the sight line. */
  readonly halfWords: number;
  readonly halfSight: number;
  readonly torchY: number;
  readonly stockY: number;
  /** Whether what is said of the sight line stands over it, for want of room below. */
  readonly wordsOver: boolean;
  readonly leg: number;
  readonly stock: number;
  /** Height on the page of the leg line at x. */
  readonly legAt: (x: number) => number;
  /** What stands on the face between foot and sight line: figures of the stations, and the lines there. */
  readonly figures: readonly Box[];
}

/** mm on the page. */
export interface Box {
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
}

function endWords({ names, sense }: Ground): readonly [string, string] {
  const way = (end: 'end-' | 'end+') => sideWay(names[end]).toUpperCase();
  const [left, right] = sense === 1 ? (['end-', 'end+'] as const) : (['end+', 'end-'] as const);
  return [`◄ ${way(left)}`, `${way(right)} ►`];
}

const looks = ({ names, face }: Ground): string => `looks ${sideWay(names[face]).toUpperCase()}`;

function sightWords({ context, sight }: Ground): string {
  const { plan, fitting } = context;
  return `sight line, ${shopLength(fitting.input.lug.pinHeight - sight, plan.job.display)} from pin centre`;
}

const legWords = ({ context, leg }: Ground): string =>
  `leg line, ${shopLength(leg, context.plan.job.display)} from the edge`;

/** A thin allowance as it is measured: in US units thousandths of an inch, where 1/32 would be nothing. */
export const stockLength = (mm: number, display: Display): string => showFigure({ mm }, display);

const stockWords = ({ context, stock }: Ground): string =>
  `dotted: ${stockLength(stock, context.plan.job.display)} of metal left on; ground to the shell it then fits in 95 of 100 cases`;

/** Which face and which ends these are, sight line and leg line, within a stretch of x of the plate whose middle is at `middle`. */
export function faceWords(sheet: Sheet, ground: Ground, pane: Span, middle: number): void {
  const { context, at, halfWords, halfSight, sight, topB, wordsOver } = ground;
  const { fonts, id } = context;
  const up = at(0, 0).y;
  const within = (half: number) => ({
    from: Math.max(pane.from + 2, middle - half),
    to: Math.min(pane.to - 2, middle + half),
  });
  const { from, to } = within(halfWords);
  const room = to - from;
  if (room < ROOM) return;
  const what = `this face ${looks(ground)}`;
  const size = [10, 9, TYPE].find((each) => widthOf(fonts, `${id}: ${what}`, each, true) < room) ?? TYPE;
  const name = shortened(fonts, id, size, room - widthOf(fonts, `: ${what}`, size, true), true);
  sheet.text(`${name}: ${what}`, (from + to) / 2, up + topB - 5.5, { size, bold: true, align: 'centre' });
  const [left, right] = endWords(ground);
  const ends = widthOf(fonts, left + right, 10, true) + 4 < room ? 10 : TYPE;
  sheet.text(left, from, up + topB - 10.5, { size: ends, bold: true });
  sheet.text(right, to, up + topB - 10.5, { size: ends, bold: true, align: 'right' });

  // On either side of the centre line where both sides have room, else in the halves of the longer side.
  const all = wordsOver ? within(halfWords) : within(halfSight);
  const [before, after] = [middle - all.from, all.to - middle];
  if (before > 0 && after > 0 && Math.min(before, after) < ROOM && !wordsOver) {
    if (before < after) all.from = middle + 2;
    else all.to = middle - 2;
  }
  const apart = Math.min(before, after) >= ROOM ? middle : (all.from + all.to) / 2;
  const y = up + (wordsOver ? sight + 3 * LINE - 1.4 : sight - 3.6);
  const half = Math.min(apart - all.from, all.to - apart) - 2;
  const spot = legSpot(ground, { from: all.to - half, to: all.to }, y);
  // Under the sight line the words of the leg line stand lower: all the way across where no centre line is between.
  const alone = !wordsOver && Math.min(before, after) < ROOM && (spot?.lines.length ?? 1) === 1;
  const wide = alone ? all.to - all.from - 2 : half;
  lines(sheet, ground, sightWords(ground), { x: all.from, y }, wide, 'left', 'SIGHT_LINE');
  if (spot !== undefined) legLabel(sheet, ground, spot);
}

/** mm that a leader keeps off figures either side of it, and the size of its head. */
const OFF = 0.8;
const HEAD = 1.8;
/** mm. Figures nearer than this beside the words would be read on from them. */
const BESIDE = 4;

interface LegSpot {
  readonly lines: readonly string[];
  /** Middle of the words, the base line of the last of them, and where the leader goes down. */
  readonly middle: number;
  readonly base: number;
  readonly x: number;
}

/**
 * Where the words of the leg line stand within a stretch: right over the figures of the stations, next to a leader that comes down between
 * two of them on the line itself. Over the sight line (`high`) where what is said of it stands there too. On a stretch without such a way
 * down the leader is where it crosses least.
 */
function legSpot(ground: Ground, stretch: Span, high: number): LegSpot | undefined {
  const { context, figures, legAt, wordsOver } = ground;
  const { fonts } = context;
  const words = wrapped(fonts, legWords(ground), TYPE, stretch.to - stretch.from);
  const wide = Math.max(...words.map((text) => widthOf(fonts, text, TYPE)));
  const count = Math.ceil((stretch.to - stretch.from) / 0.5);
  const ways = Array.from({ length: count }, (_, k) => stretch.to - 2 - 0.5 * k).filter((x) => x > stretch.from + 1);
  const crossed = (x: number) => figures.filter((box) => x > box.x0 - OFF && x < box.x1 + OFF).length;
  const [x] = ways.sort((p, q) => crossed(p) - crossed(q) || q - p);
  if (x === undefined) return undefined;
  const middle = Math.max(stretch.from + wide / 2, Math.min(stretch.to - wide / 2, x));
  if (wordsOver) return { lines: words, middle, base: high - (words.length - 1) * LINE, x };
  const under = figures.filter((box) => box.x1 > middle - wide / 2 - BESIDE && box.x0 < middle + wide / 2 + BESIDE);
  const base = Math.max(legAt(middle) + 2.5, ...under.map((box) => box.y1 + 1.4));
  return { lines: words, middle, base, x };
}

function legLabel(sheet: Sheet, { legAt }: Ground, { lines: words, middle, base, x }: LegSpot): void {
  words.forEach((text, i) => {
    const style = { size: TYPE, align: 'centre', layer: 'LEG_LINE' } as const;
    sheet.text(text, middle, base + (words.length - 1 - i) * LINE, style);
  });
  sheet.arrow({ x, y: base - 1 }, { x, y: legAt(x) }, { width: 0.18 }, HEAD, 'LEG_LINE');
}

/** Setting of the torch for each stretch of the foot, and what is dotted, under the foot; once in every stretch of x that has room. */
export function torchWords(sheet: Sheet, ground: Ground, panes: readonly Span[]): void {
  const { context, at, names, stock, torchY, stockY } = ground;
  const { fitting, fonts } = context;
  const { halfFoot } = fitting.field;
  const settings = torchSettings(fitting);
  const stretches: readonly {
    readonly from: number;
    readonly to: number;
    readonly words: string;
    readonly few: string;
  }[] =
    settings.length === 0
      ? [{ from: -halfFoot, to: halfFoot, words: 'scribed cut: bevel as at the stations', few: 'scribed' }]
      : settings.map((setting) => {
          const angle = degrees(Math.abs(setting.torch));
          const shorter = sideWay(names[setting.torch >= 0 ? 'face+' : 'face-']).toUpperCase();
          const square = Math.abs(setting.torch) < SQUARE;
          return {
            from: setting.fromA,
            to: setting.toA,
            words: square ? 'cut square' : `torch ${angle} off square, ${shorter} face shorter`,
            few: square ? 'square' : angle,
          };
        });
  for (const { from, to, words, few } of stretches) {
    const [x0, x1] = [Math.min(at(from, 0).x, at(to, 0).x), Math.max(at(from, 0).x, at(to, 0).x)];
    const parts = panes
      .map((pane) => ({ from: Math.max(x0, pane.from), to: Math.min(x1, pane.to) }))
      .filter((part) => part.to > part.from);
    const roomy = parts.filter((part) => widthOf(fonts, words, TYPE) + 3 < part.to - part.from);
    const some = parts.filter((part) => widthOf(fonts, few, TYPE) + 1 < part.to - part.from);
    const chosen = roomy.length > 0 ? roomy : some.slice(0, 1);
    for (const part of chosen) {
      sheet.text(roomy.length > 0 ? words : few, (part.from + part.to) / 2, at(0, torchY).y, {
        size: TYPE,
        align: 'centre',
        layer: 'FACETS',
      });
    }
  }
  if (stock <= 0) return;
  for (const pane of panes) {
    const [from, to] = [Math.max(pane.from + 2, at(0, 0).x - halfFoot), Math.min(pane.to - 2, at(0, 0).x + halfFoot)];
    if (to - from < ROOM + 20) continue;
    const at0 = { x: (from + to) / 2, y: at(0, stockY).y };
    lines(sheet, ground, stockWords(ground), at0, to - from, 'centre', 'GRINDING_STOCK');
  }
}

/** Everything said of a narrow foot, in a column beside it from its upper left corner; on the plate itself which lug, face and ends. */
export function besideWords(sheet: Sheet, ground: Ground, corner: Point, width: number): void {
  const { context, at, names, stock, topB, halfWords, halfSight } = ground;
  const { fitting, fonts } = context;
  const settings = torchSettings(fitting);
  const [left, right] = endWords(ground);
  const said: [string, string, boolean][] = [
    [`${shortened(fonts, context.id, TYPE, width - 4, true)}: this face ${looks(ground)}`, 'TEXT', true],
    [`${left}   ${right}`, 'TEXT', true],
    [sightWords(ground), 'SIGHT_LINE', false],
    [legWords(ground), 'LEG_LINE', false],
    ...(settings.length === 0
      ? [['scribed cut: bevel as at the stations', 'FACETS', false] as [string, string, boolean]]
      : settings.map((setting): [string, string, boolean] => {
          const shorter = sideWay(names[setting.torch >= 0 ? 'face+' : 'face-']).toUpperCase();
          const stretch =
            settings.length === 1
              ? ''
              : `, ${shopLength(setting.fromA, context.plan.job.display)} to ${shopLength(setting.toA, context.plan.job.display)}`;
          return [
            Math.abs(setting.torch) < SQUARE
              ? `cut square${stretch}`
              : `torch ${degrees(Math.abs(setting.torch))} off square, ${shorter} face shorter${stretch}`,
            'FACETS',
            false,
          ];
        })),
    ...(stock > 0 ? [[stockWords(ground), 'GRINDING_STOCK', false] as [string, string, boolean]] : []),
  ];
  let y = corner.y;
  for (const [text, layer, bold] of said) {
    const n = lines(sheet, ground, text, { x: corner.x, y }, width, 'left', layer, bold);
    y -= n * LINE + 1.2;
  }
  // What is cut out of the paper still tells which lug, which face and which ends it is of.
  const name = shortened(fonts, `${context.id}:`, TYPE, 2 * halfWords, true);
  const on = wrapped(fonts, `${name} ${looks(ground)}`, TYPE, 2 * halfWords, true);
  on.slice(0, 2).forEach((text, i) => {
    sheet.text(text, at(0, 0).x, at(0, topB).y - 5.5 - i * LINE, { size: TYPE, bold: true, align: 'centre' });
  });
  const base = at(0, ground.sight).y + (ground.wordsOver ? 1.4 + LINE : -LINE);
  const apart = Math.max(...[left, right].map((text) => widthOf(fonts, text, TYPE, true))) > halfSight - 1 ? LINE : 0;
  sheet.text(left, at(0, 0).x - halfSight, base, { size: TYPE, bold: true });
  sheet.text(right, at(0, 0).x + halfSight, base - apart, { size: TYPE, bold: true, align: 'right' });
}

function lines(
  sheet: Sheet,
  { context }: Ground,
  text: string,
  from: Point,
  width: number,
  align: Align,
  layer: string,
  bold = false,
): number {
  const all = wrapped(context.fonts, text, TYPE, width, bold);
  all.forEach((line, i) => {
    sheet.text(line, from.x, from.y - i * LINE, { size: TYPE, align, bold, layer });
  });
  return all.length;
}
