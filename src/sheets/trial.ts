import { newHit } from '../../geometry/hull/shell.ts';
import { dot, sub } from '../../geometry/math/vec.ts';
import { Refusal } from '../../geometry/refusal.ts';
import type { Display } from '../job/types.ts';
import { internalPer } from '../job/units.ts';
import { shellOf } from '../plan/plan.ts';
import { bracketWords } from './brackets.ts';
import { checkBars } from './checkbars.ts';
import type { Context } from './context.ts';
import { boundsOf, CENTRE, type Drawing, type Item, type Point, Sheet } from './drawing.ts';
import { type Layers, writeDxf } from './dxf.ts';
import { gapLength, shopLength } from './figures.ts';
import { Flow } from './flow.ts';
import { shortened, widthOf, wrapped } from './fonts.ts';
import { roundWords } from './markout-ways.ts';
import { sideNames, sideWay } from './sides.ts';
import { clearance, fewestSheets, mapsHeight, type Piece, type Span, tileMaps, tilePages, tilesIn } from './tiles.ts';
import { cautionWith } from './warning.ts';

export const TRIAL_LAYERS: Layers = { BOARD: 1, SHELL_EDGE: 3, CENTRE_LINE: 4, CHECK_BAR: 2, TEXT: 7 };

/** mm. How far a board reaches past the foot: less where that saves a page, or a box to write in from being cut. */
const PAST = [40, 36, 32, 28, 25];
/** mm. How tall a board is, how closely its edge is drawn, and its margin on a page. */
const TALL = 56;
const STEP = 4;
const ACROSS = 160;
const PAD = 2;
/** Places to try on either side of the middle of a board. */
const MARKS = 3;
/** mm. A box to write a gap in, beside its mark and over the edge; the last mark is so far in from the end of the board. */
const BOX = { width: 17, height: 9, aside: 1.5, up: 8, inset: 20 };

export interface Board {
  readonly name: 'along board' | 'across board';
  readonly title: string;
  /** The shell as the board's edge, x along, y out of the shell, from the place itself; ascending x. mm. */
  readonly edge: readonly Point[];
  readonly left: string;
  readonly right: string;
}

/** Two boards: in the plane of the plate, and across it. They meet the shell as the plan takes it to be. */
export const boards = (context: Context): readonly Board[] => laidOut(context).boards;

/** The boards as they go on the fewest pages, and then with the cuts clearest of the places to write. */
function laidOut(context: Context): LaidOut {
  const known = made.get(context);
  if (known !== undefined) return known;
  const shell = profiles(context);
  const tries = PAST.map((past) => {
    const both = boardsPast(context, shell, past);
    const pieces = both.map((board) => boardPiece(context, board));
    const laid = fewestSheets(context.paper, [pieces, [overOneAnother(pieces)]]);
    const count = laid.reduce((sum, { layout }) => sum + tilesIn(layout), 0);
    return { boards: both, laid, count, clear: Math.min(...laid.map((each) => clearance(each.piece, each.layout))) };
  });
  const best = tries.reduce((p, q) => (q.count < p.count || (q.count === p.count && q.clear > p.clear) ? q : p));
  made.set(context, best);
  return best;
}

interface LaidOut {
  readonly boards: readonly Board[];
  readonly laid: ReturnType<typeof fewestSheets>;
  readonly count: number;
  readonly clear: number;
}

/** One layout for the paper and the DXF of the same sheet. */
const made = new WeakMap<Context, LaidOut>();

/** The shell along and across the foot as far as any board reaches. */
function profiles(context: Context): { along: (reach: number) => Point[]; across: Point[]; girthwise: boolean } {
  const { fitting, plan } = context;
  const { frame, anchor, field } = fitting;
  const shell = shellOf(plan.job.ship.hull);
  const most = field.halfFoot + Math.max(...PAST);
  const caster = shell.caster(frame, most, field.halfThickness);
  const hit = newHit();
  const cast = (a: number): Point[] =>
    reached(() => caster.cast(a, 0, caster.seed, 0, 0, hit)) ? [{ x: a, y: hit.f }] : [];
  const n = Math.floor(most / STEP);
  const inner = Array.from({ length: 2 * n + 1 }, (_, k) => cast((k - n) * STEP)).flat();
  const girthwise = Math.abs(dot(frame.foot, anchor.tGirth)) < Math.abs(dot(frame.foot, anchor.tFore));
  const across: Point[] = [];
  const m = Math.ceil(ACROSS / STEP);
  for (let k = -m; k <= m; k++) {
    const t = (ACROSS * k) / m;
    reached(() => {
      const p = girthwise
        ? shell.pointAt(anchor.station, anchor.girth + t, anchor.side)
        : shell.pointAt(anchor.station + t, anchor.girth, anchor.side);
      const d = sub(p.position, anchor.position);
      across.push({ x: dot(d, girthwise ? anchor.tGirth : anchor.tFore), y: dot(d, anchor.normal) });
      return true;
    });
  }
  const along = (reach: number): Point[] => [
    ...cast(-reach),
    ...inner.filter((p) => Math.abs(p.x) < reach - 1e-3),
    ...cast(reach),
  ];
  return { along, across: connected(across), girthwise };
}

function boardsPast(
  context: Context,
  { along, across, girthwise }: ReturnType<typeof profiles>,
  past: number,
): Board[] {
  const names = sideNames(context.fitting);
  const ways = roundWords(context.fitting);
  return [
    {
      name: 'along board',
      title: 'along the foot, in the plane of the plate',
      edge: connected(along(context.fitting.field.halfFoot + past)),
      left: sideWay(names['end-']),
      right: sideWay(names['end+']),
    },
    {
      name: 'across board',
      title: girthwise ? 'round the girth, square to the shell' : 'fore and aft, square to the shell',
      edge: across,
      left: girthwise ? ways.inEdge.toLowerCase() : 'aft',
      right: girthwise ? ways.outEdge.toLowerCase() : 'forward',
    },
  ];
}

/** Whether there is shell: beyond the data there is none to draw, and the board ends. */
function reached(look: () => boolean): boolean {
  try {
    return look();
  } catch (e) {
    if (e instanceof Refusal) return false;
    throw e;
  }
}

/** The stretch about x = 0 without a hole in it. */
function connected(edge: readonly Point[]): Point[] {
  const apart = 2.5 * STEP;
  const middle = edge.findIndex((p) => p.x >= -1e-9);
  let from = middle;
  let to = middle;
  while (from > 0 && Math.abs((edge[from] as Point).x - (edge[from - 1] as Point).x) < apart) from--;
  while (to + 1 < edge.length && Math.abs((edge[to + 1] as Point).x - (edge[to] as Point).x) < apart) to++;
  return edge.slice(from, to + 1);
}

/** Places to try along a board, at round distances from its centre line, which is one of them; ascending x, mm. */
export function marksOf({ edge }: Board, display: Display): Point[] {
  const round = display === 'us' ? internalPer('in') / 4 : 5;
  const side = (way: 1 | -1): number[] => {
    const room = way * (edge.at(way === 1 ? -1 : 0) as Point).x - BOX.inset;
    const count = Math.max(0, Math.min(MARKS, Math.floor(room / (BOX.width + round))));
    const step = Math.floor(room / count / round) * round;
    return Array.from({ length: count }, (_, k) => way * (k + 1) * step);
  };
  return [...side(-1).reverse(), 0, ...side(1)].map((x) => ({ x, y: heightOn(edge, x) }));
}

/** A board in its own coordinates, the place itself at the origin; words in the stretches of x given. */
function boardItems(context: Context, board: Board, panes: readonly Span[]): Item[] {
  const { fonts, id } = context;
  const low = Math.min(...board.edge.map((p) => p.y));
  const high = Math.max(...board.edge.map((p) => p.y));
  const [x0, x1] = [(board.edge[0] as Point).x, (board.edge.at(-1) as Point).x];
  const sheet = new Sheet(0, 0);
  const top = high + TALL;
  sheet.path(
    [...board.edge.map((p) => ({ ...p })), { x: x1, y: top }, { x: x0, y: top }],
    { width: 0.5 },
    'BOARD',
    true,
  );
  const marks = marksOf(board, context.plan.job.display);
  const boxTop = Math.max(...marks.map((p) => p.y)) + BOX.up + BOX.height;
  sheet.line(0, low - 6, 0, boxTop + 3, CENTRE, 'CENTRE_LINE');
  sheet.line(0, top - 3, 0, top, CENTRE, 'CENTRE_LINE');
  for (const pane of panes) {
    const [from, to] = [Math.max(pane.from, x0) + 4, Math.min(pane.to, x1) - 4];
    if (to - from < 60) continue;
    const middle = (from + to) / 2;
    const title = `${board.name}, ${board.title}`;
    const name = shortened(fonts, id, 9, (to - from) / 2, true);
    wrapped(fonts, `${name}: ${title}`, 9, to - from, true)
      .slice(0, 2)
      .forEach((line, i) => {
        sheet.text(line, middle, top - 7 - 4.2 * i, { size: 9, bold: true, align: 'centre' });
      });
    sheet.text(`◄ ${board.left.toUpperCase()}`, from, top - 17, { size: 10, bold: true });
    sheet.text(`${board.right.toUpperCase()} ►`, to, top - 17, { size: 10, bold: true, align: 'right' });
    const what = ['the edge below lies on the shell;', 'write in each box the gap found at its mark'];
    const oneLine = widthOf(fonts, what.join(' '), 8) < to - from;
    (oneLine ? [what.join(' ')] : what).forEach((line, i) => {
      sheet.text(line, middle, top - 21.5 - 3.6 * i, { size: 8, align: 'centre' });
    });
  }
  marks.forEach((at, k) => {
    sheet.line(at.x, at.y, at.x, at.y + BOX.up + BOX.height - 4, { width: 0.25 }, 'SHELL_EDGE');
    const left = at.x + BOX.aside;
    sheet.rect(left, at.y + BOX.up - 4, BOX.width, BOX.height, { width: 0.25 }, undefined, 'SHELL_EDGE');
    sheet.text(`${k + 1}`, left + 1, at.y + BOX.up - 4 + BOX.height - 3.4, { size: 8, bold: true });
  });
  return sheet.items;
}

/** Height of a line of ascending x at x. */
function heightOn(edge: readonly Point[], x: number): number {
  const i = Math.max(
    1,
    edge.findIndex((p) => p.x >= x),
  );
  const [p, q] = [edge[i - 1] as Point, edge[i] as Point];
  return p.y + ((q.y - p.y) * (x - p.x)) / (q.x - p.x);
}

/** A board on pages, and where its centre line stands in it, mm. */
type BoardPiece = Piece & { readonly centre: number };

function boardPiece(context: Context, board: Board): BoardPiece {
  const box = boundsOf(boardItems(context, board, []));
  const [dx, dy] = [PAD - box.x0, PAD - box.y0];
  const width = box.x1 - box.x0 + 2 * PAD;
  const height = box.y1 - box.y0 + 2 * PAD;
  return {
    title: board.name,
    width,
    height,
    centre: dx,
    avoid: marksOf(board, context.plan.job.display).map((p) => p.x + dx + BOX.aside + BOX.width / 2),
    clear: [height - PAD - 17, dy + Math.max(...board.edge.map((p) => p.y)) + 6],
    outlines: [{ name: board.name, x: 0, y: 0, width, height }],
    draw: (panes) => {
      const own = panes.map((pane) => ({ from: pane.from - dx, to: pane.to - dx }));
      return [{ kind: 'window', dx, dy, clip: { x: 0, y: 0, width, height }, items: boardItems(context, board, own) }];
    },
  };
}

/** Both boards in one drawing, the first on top, their centre lines in line. */
function overOneAnother([a, b]: readonly BoardPiece[]): Piece {
  if (a === undefined || b === undefined) throw new Error('two boards');
  const centre = Math.max(a.centre, b.centre);
  const placed = [
    { piece: a, x: centre - a.centre, y: b.height + 4 },
    { piece: b, x: centre - b.centre, y: 0 },
  ];
  const width = Math.max(...placed.map(({ piece, x }) => x + piece.width));
  const height = b.height + 4 + a.height;
  return {
    title: 'both boards',
    width,
    height,
    avoid: placed.flatMap(({ piece, x }) => piece.avoid.map((each) => each + x)),
    clear: placed.flatMap(({ piece, y }) => piece.clear.map((each) => each + y)),
    outlines: placed.flatMap(({ piece, x, y }) => piece.outlines.map((o) => ({ ...o, x: o.x + x, y: o.y + y }))),
    draw: (panes) =>
      placed.map(({ piece, x, y }) => ({
        kind: 'window',
        dx: x,
        dy: y,
        clip: { x: 0, y: 0, width, height },
        items: piece.draw(panes.map((pane) => ({ from: pane.from - x, to: pane.to - x }))),
      })),
  };
}

/** The boards at true size on A4 or Letter, with what to do with them. */
export function trialTemplate(context: Context): Drawing {
  const { plan } = context;
  const { display } = plan.job;
  const title = 'Trial template 1:1';
  const { boards: both, laid, count } = laidOut(context);
  const cover = new Flow(context, title);
  cover.heading(1, title);
  cover.paragraph(
    'Two boards of thin stuff, to be tried on the hull before steel is cut. Print at 100 %, measure a check bar on every page, lay pages that join over one another so that the register crosses meet, and tape them. The along board stands where the plate will stand, along the foot and leaning as the plate will; the across board stands across it, square to the shell. Hold each with its centre line on the marked place of the lug and feel along the edge at each mark: the plan takes the shell to touch there, gap 0. Where a board rocks or stands off, the shell is not as planned.',
  );
  const { fitGap, recutGap } = plan.job.limits;
  cover.paragraph(
    `A gap over ${gapLength(fitGap, display)} anywhere under the along board, or a board that rocks: measure the shell again and plan again before cutting. Over ${gapLength(recutGap, display)} the foot as planned will not do.`,
    { bold: true },
  );
  if (bracketWords(display) !== '') cover.paragraph(bracketWords(display), { size: 8 });
  cover.figure(12, (sheet, x, y) => checkBars(sheet, x, y + 5.5));
  cover.heading(3, 'Map of the pages that follow', 60);
  cover.figure(mapsHeight(laid, cover.width), (sheet, x, y, width) => tileMaps(laid, sheet, x, y, width));
  cover.heading(3, 'Gaps found, at the marks of the boards');
  const [a, b] = both.map((board) => ({ ...board, marks: marksOf(board, display) }));
  if (a === undefined || b === undefined) throw new Error('two boards');
  const from = (mark: Point | undefined) => (mark === undefined ? 'none' : shopLength(mark.x, display, 0));
  cover.table(
    [
      { title: 'Mark', share: 0.6, align: 'right' },
      { title: `Along board: from the centre line, plus is ${a.right}`, share: 2, align: 'right' },
      { title: 'gap found', share: 1.6 },
      { title: `Across board: from the centre line, plus is ${b.right}`, share: 2, align: 'right' },
      { title: 'gap found', share: 1.6 },
    ],
    Array.from({ length: Math.max(a.marks.length, b.marks.length) }, (_, k) => [
      `${k + 1}`,
      from(a.marks[k]),
      '',
      from(b.marks[k]),
      '',
    ]),
    { rowHeight: 6.5 },
  );
  cover.blanks(['tried by', 'date', 'accepted by', 'plan again: yes / no'], 2);
  const pages = cover.finish(count);
  const of = pages.length + count;
  for (const { piece, layout } of laid) {
    pages.push(...tilePages(context, piece, layout, title, pages.length + 1, of));
  }
  return { title: `${title} ${context.id}: ${context.title}`, pages };
}

/** Both boards one above the other in one file; each with its place at x = 0. */
export function trialDxf(context: Context): string {
  const sheet = new Sheet(0, 0);
  const both = boards(context);
  let y = 0;
  for (const board of both) {
    const items = boardItems(context, board, [{ from: -1e4, to: 1e4 }]);
    const box = boundsOf(items);
    const clip = { x: -1e4, y: -1e4, width: 2e4, height: 2e4 };
    sheet.items.push({ kind: 'window', dx: 0, dy: y - box.y0, clip, items });
    y += box.y1 - box.y0 + 20;
  }
  const left = Math.min(...both.map((board) => (board.edge[0] as Point).x));
  checkBars(sheet, left, -16);
  sheet.text(`${context.title}; job digest ${context.digest} ${context.revision} ${context.date}`, left, -30, {
    size: 8,
  });
  sheet.text(cautionWith(context), left, -35, { size: 8 });
  return writeDxf(sheet.items, TRIAL_LAYERS, context.plan.job.display === 'us' ? 'in' : 'mm');
}
