import { behindAt } from '../plan/structure.ts';
import { fromFrameAt, nearestFrame } from './behind.ts';
import { bracketWords } from './brackets.ts';
import { checkBars } from './checkbars.ts';
import type { Context } from './context.ts';
import { type Drawing, type Page, type Point, Sheet, scaled } from './drawing.ts';
import { writeDxf } from './dxf.ts';
import { fixed, gapLength, shopLength } from './figures.ts';
import { type FlatFoot, flatFoot, toeOnShell } from './flatten.ts';
import { Flow } from './flow.ts';
import { shortened } from './fonts.ts';
import { behindTable, quarrelWith } from './markout-behind.ts';
import {
  bandShort,
  behindOf,
  cleanMargin,
  extent,
  MARKOUT_LAYERS,
  markoutItems,
  markoutLines,
} from './markout-drawing.ts';
import {
  bandsIn,
  cornerMarks,
  drawPicture,
  edgesOf,
  namesOf,
  oSpot,
  type PictureLayout,
  pictureLayout,
  SIDE,
  STRIP,
  wideLayout,
} from './markout-picture.ts';
import { girthFrom, placePairs } from './markout-place.ts';
import { markoutPiece, markoutTiles } from './markout-tiles.ts';
import { beyond, roundWords } from './markout-ways.ts';
import { placeName, sideNames, sideWay } from './sides.ts';
import { plainText } from './text.ts';
import { tilesIn } from './tiles.ts';
import { cautionWith } from './warning.ts';

const TITLE = 'Hull mark-out';
/** mm. Least and greatest height of the picture of the mark-out, and of that of what is behind. */
const FIGURE = { least: 54, most: 112 };
const WIDE = { least: 70, most: 150 };
/** mm. How far what is behind is shown either way along the ship. */
const ABOUT = 850;
/** mm. A row that can be written in. */
const ROW = 8.4;

/** The pages a diver or a mark-out party works from: picture, all the measurements, what is behind; then the mark-out at true size. */
export function markoutSheet(context: Context): Drawing {
  const title = `${TITLE} ${context.id}: ${context.title}`;
  // Laid out once with the least pictures, nothing drawn: what is left on each page is theirs.
  const least = lay(context, FIGURE.least, WIDE.least);
  const figure = Math.min(FIGURE.most, least.figure + least.leftBeside);
  const wide = Math.min(WIDE.most, WIDE.least + least.leftBehind);
  const before = least.pages.length;
  const after = tilesIn(markoutPiece(context).layout);
  return {
    title,
    pages: [...lay(context, figure, wide, after).pages, ...markoutTiles(context, TITLE, before + 1, before + after)],
  };
}

interface Laid {
  readonly pages: readonly Page[];
  /** mm. Height that the picture of the mark-out has taken, and what is left under it and under the last page's text. */
  readonly figure: number;
  readonly leftBeside: number;
  readonly leftBehind: number;
}

/** mm. So as not to fill a page to the last hair. */
const SPARE = 0.5;

/**
 * @param most mm, greatest height for the picture of the mark-out
 * @param wide mm, height of the picture of what is behind
 * @param after pages that follow; absent where only the room is wanted, and no picture drawn
 */
function lay(context: Context, most: number, wide: number, after?: number): Laid {
  const { fitting, plan } = context;
  const { display } = plan.job;
  const flat = flatFoot(plan, fitting);
  const say = (mm: number) => shopLength(mm, display);
  const flow = new Flow(context, TITLE);
  flow.heading(1, `${TITLE}: lug ${context.id}, ${fitting.anchor.side}`);
  flow.pairs(placePairs(context, behindOf(context, flat)), 0.3);
  const layout = pictureLayout(context, flat, flow.width, most);
  const bands = bandsIn(context, flat, layout, flow.width);
  flow.figure(layout.height, (sheet, x, y, width) => {
    if (after !== undefined) drawPicture(sheet, context, flat, layout, { x, y, width });
  });
  flow.paragraph(
    `Thick line: footprint. Thin line: weld toes. Dashed: clean metal.${bands === '' ? '' : ` ${bands}`}${layout.turned ? ` The picture is turned by a quarter: turn the page to have ${roundWords(fitting).outEdge} at the top.` : ''}`,
    { size: 8 },
  );
  if (bracketWords(display) !== '') flow.paragraph(bracketWords(display), { size: 8 });
  cornerTable(flow, context, flat);
  flow.table(
    [
      { title: 'Tape, held to shell', share: 1.8 },
      { title: 'planned', share: 1.8, align: 'right' },
      { title: 'found', share: 1.3 },
      { title: 'Tape, held to shell', share: 1.8 },
      { title: 'planned', share: 1.8, align: 'right' },
      { title: 'found', share: 1.3 },
    ],
    [
      ['1 to 2', say(flat.sides[0] as number), '', '3 to 4', say(flat.sides[2] as number), ''],
      ['2 to 3', say(flat.sides[1] as number), '', '4 to 1', say(flat.sides[3] as number), ''],
      ['diagonal 1 to 3', say(flat.diagonals[0]), '', 'diagonal 2 to 4', say(flat.diagonals[1]), ''],
    ],
    { rowHeight: ROW },
  );
  const names = sideNames(fitting);
  flow.pairs(
    [
      [
        'Weld toes from the footprint',
        fitting.weld.sides
          .map((side) => `${sideWay(names[side.side])} ${say(toeOnShell(fitting, side.side))}`)
          .join(', '),
      ],
      ['Clean metal beyond the toes', `${say(cleanMargin(context))} (a choice: the welding procedure decides)`],
      ['Flat drawing against the shell', misfit(flat, (mm) => gapLength(mm, display))],
    ],
    0.3,
  );
  const leftBeside = flow.page === 1 ? Math.max(0, flow.left - SPARE) : 0;
  behindSection(flow, context, flat, wide, after !== undefined);
  const leftBehind = flow.page === 2 ? Math.max(0, flow.left - SPARE) : 0;
  return { pages: flow.finish(after), figure: layout.height, leftBeside, leftBehind };
}

/** mm. No tape under water tells less. */
const EXACT = 0.05;

/** How true lengths on the flat are: measured between the corners, along the shell and on the flat. */
function misfit({ stretch }: FlatFoot, say: (mm: number) => string): string {
  return stretch < EXACT
    ? 'true: between the corners no length differs'
    : `between the corners lengths differ by ${say(stretch)} at most; the tape on the shell rules`;
}

function cornerTable(flow: Flow, context: Context, flat: FlatFoot): void {
  const { fitting, plan } = context;
  const ways = roundWords(fitting);
  const say = (mm: number) => shopLength(mm, plan.job.display);
  const s = [0, ...fitting.root.corners.slice(1, 4)];
  const frame = nearestFrame(plan, fitting);
  const fromFrame = (corner: Point): string => {
    const from = frame && fromFrameAt(plan, fitting, frame.name, corner);
    return from === undefined ? '' : `${say(Math.abs(from.along))} ${from.along >= 0 ? 'fwd' : 'aft'}`;
  };
  // All of them in metres where one is.
  const far = plan.job.display === 'metric' && flat.corners.some((corner) => Math.abs(corner.station) >= 10_000);
  const station = (mm: number): string => (far ? `${fixed(Math.abs(mm) / 1000, 3)} m` : say(Math.abs(mm)));
  const over = flat.corners.some((corner) => corner.girth < 0);
  const other = fitting.anchor.side === 'port' ? 'stbd' : 'port';
  const own = fitting.anchor.side === 'port' ? 'port' : 'stbd';
  flow.table(
    [
      { title: '', share: 0.4, bold: true },
      { title: 'corner', share: 1.7 },
      { title: 'along from O', share: 1.85, align: 'right' },
      { title: 'round from O', share: 2.1, align: 'right' },
      { title: frame === undefined ? 'from aft perp.' : `from ${plainText(frame.name)}`, share: 1.95, align: 'right' },
      { title: `round from ${girthFrom(context).short}`, share: 1.95, align: 'right' },
    ],
    flat.corners.map((corner, i) => [
      String(i + 1),
      placeName(fitting, s[i] as number),
      `${say(Math.abs(corner.x))} ${corner.x >= 0 ? 'fwd' : 'aft'}`,
      `${say(Math.abs(corner.y))} ${corner.y >= 0 ? ways.out : ways.in}`,
      frame === undefined ? `${station(corner.station)} ${corner.station >= 0 ? 'fwd' : 'aft'}` : fromFrame(corner),
      `${say(Math.abs(corner.girth))}${over ? ` ${corner.girth < 0 ? other : own}` : ''}`,
    ]),
  );
}

function behindSection(flow: Flow, context: Context, flat: FlatFoot, height: number, drawn: boolean): void {
  const { fitting, plan } = context;
  const { display } = plan.job;
  const { structure } = plan.job.ship;
  const say = (mm: number) => shopLength(mm, display);
  flow.newPage();
  flow.heading(2, 'Behind the plating: found and written down before anything is ground', 18);
  const wide = wideLayout(context, flat, flow.width, height, ABOUT);
  const bands = bandsIn(context, flat, wide, flow.width);
  flow.paragraph(
    `Drawn in: what the job knows, as far as the picture reaches. To be drawn in: what is found. Squares of ${display === 'us' ? '4 in' : '100 mm'} on the shell, along and round from O.${bands === '' ? '' : ` ${bands}`}`,
    { size: 8 },
  );
  flow.figure(wide.height, (sheet, x, y, width) => {
    if (!drawn) return;
    squares(sheet, wide, display === 'us' ? 101.6 : 100, { x, y, width });
    drawPicture(sheet, context, flat, wide, { x, y, width }, false);
  });
  flow.space(1.5);
  behindTable(flow, context, flat);
  const ways = roundWords(fitting);
  const behind = behindAt(plan.job, fitting.input, fitting.anchor);
  const every = (spacing: 'frameSpacing' | 'longitudinalSpacing'): string => {
    const assumed = plan.assumptions.some(({ path }) => path === `steel.${spacing}`);
    return `every ${say(behind[spacing])}${assumed && behind[spacing] === plan.job.steel[spacing] ? ' (assumed)' : ''}`;
  };
  const spacing = `frames ${every('frameSpacing')}, longitudinals ${every('longitudinalSpacing')}`;
  const near = (off: number, what: string, way: string) =>
    off < EXACT ? `${what} at O; ` : `${what} ${say(off)} ${way} O; `;
  // As the calculation has it: half a spacing where nobody has found the member.
  const frameAt =
    behind.fromFrame === undefined
      ? 'O half-way between two frames, for the job gives none; '
      : near(behind.fromFrame, 'frame', 'abaft');
  const longitudinalAt =
    behind.fromLongitudinal === undefined
      ? 'O half-way between two longitudinals, for the job gives none; '
      : near(behind.fromLongitudinal, 'longitudinal', beyond(ways.in));
  const { fromFrame, fromLongitudinal } = behind;
  const known =
    fromFrame === undefined && fromLongitudinal === undefined
      ? 'O in the middle of a panel, for the job gives neither frame nor longitudinal; '
      : `${frameAt}${longitudinalAt}`;
  flow.paragraph(
    `Taken in the calculation: ${known}${spacing}.${fromFrame === undefined || fromLongitudinal === undefined ? ' What is found here goes into the job, and the plan is made again.' : ''}`,
    { bold: fromFrame === undefined || fromLongitudinal === undefined },
  );
  const quarrel = quarrelWith(context, say);
  if (quarrel !== undefined) flow.paragraph(quarrel, { bold: true });
  const blank = (list: readonly unknown[] | undefined, word: string) => ((list?.length ?? 0) > 0 ? [] : [word]);
  flow.blanks(
    [
      ...blank(structure?.frames, 'frame found at'),
      ...blank(structure?.longitudinals, 'longitudinal found at'),
      ...blank(structure?.seams, 'seam or butt at'),
      'plate thickness by gauge',
      'tank or space behind',
      'proved gas-free by',
    ],
    2,
    ROW,
  );
  flow.paragraph(
    'No weld over a seam, a butt or an old repair unless the engineer agrees. The space behind is vented and proved gas-free before an arc is struck; sea suctions, sonar and impressed-current protection near the place are shut off and locked.',
  );
}

/** Light squares about the place, to read distances by and to draw in. */
function squares(
  sheet: Sheet,
  { scale, height }: PictureLayout,
  mesh: number,
  { x, y, width }: { readonly x: number; readonly y: number; readonly width: number },
): void {
  const pen = { width: 0.1, grey: 0.7 };
  const half = { x: width / 2 - SIDE, y: height / 2 - STRIP };
  const middle = { x: x + width / 2, y: y + height / 2 };
  const step = mesh / scale;
  for (let k = -Math.floor(half.x / step); k <= half.x / step; k++)
    sheet.line(middle.x + k * step, middle.y - half.y, middle.x + k * step, middle.y + half.y, pen);
  for (let k = -Math.floor(half.y / step); k <= half.y / step; k++)
    sheet.line(middle.x - half.x, middle.y + k * step, middle.x + half.x, middle.y + k * step, pen);
}

/** At true size on one page as large as it needs, for a plotter: to be printed on film and laid on the hull. */
export function markoutLarge(context: Context): Drawing {
  const flat = flatFoot(context.plan, context.fitting);
  const lines = markoutLines(context, flat);
  const margin = 14;
  // Beside the picture stands which way it lies.
  const beside = 30;
  const width = Math.max(2 * lines.reach.x + 2 * beside, 180) + 2 * margin;
  const height = 2 * lines.reach.y + 2 * margin + 34;
  const sheet = new Sheet(width, height);
  const middle = { x: width / 2, y: 27 + margin + lines.reach.y };
  const marks = cornerMarks(flat, lines, 1);
  const around = ({ x, y }: Point, r: number) => ({ x0: x - r, y0: y - r, x1: x + r, y1: y + r });
  const o = oSpot(lines, 1);
  const taken = [...marks.map(({ at }) => around(at, 3)), around(o, 2)];
  sheet.add(scaled([...lines.items, ...namesOf(context.fonts, lines, 1, taken)], 1, middle.x, middle.y));
  for (const { number, corner, at } of marks) {
    sheet.circle(middle.x + corner.x, middle.y + corner.y, 0.7, undefined, 0);
    sheet.circle(middle.x + at.x, middle.y + at.y, 3, { width: 0.3 }, 1);
    sheet.text(number, middle.x + at.x, middle.y + at.y - 1.4, { size: 10, bold: true, align: 'centre' });
  }
  sheet.circle(middle.x, middle.y, 0.8, undefined, 0);
  sheet.text('O', middle.x + o.x, middle.y + o.y - 1.4, { size: 10, bold: true, align: 'centre' });
  const [, right, , left] = edgesOf(context, flat, false, lines.reach.y);
  const bold = { size: 12, bold: true } as const;
  sheet.text(`◄ ${left}`, margin, middle.y + 3, bold);
  sheet.text(`${right} ►`, width - margin, middle.y + 3, { ...bold, align: 'right' });
  sheet.text(`▲ ${roundWords(context.fitting).outEdge}`, middle.x, height - margin + 1, { ...bold, align: 'centre' });
  sheet.text(context.id, margin, height - margin + 1, { size: 14, bold: true });
  checkBars(sheet, margin, 22);
  const margins = shopLength(cleanMargin(context), context.plan.job.display);
  const room = width - 2 * margin;
  const warned = context.warning.length > 0;
  [
    [
      'thick: footprint',
      'thin: weld toes',
      `dashed: clean metal, ${margins} beyond`,
      ...bandShort(lines),
      'seen from the water',
    ].join('; '),
    [`hull mark-out 1:1`, `job digest ${context.digest}`, context.revision, context.date, context.title]
      .filter((part) => part !== '')
      .join('   '),
    cautionWith(context, ' Print at 100 %, measure a bar first.'),
  ].forEach((text, i) => {
    sheet.text(shortened(context.fonts, text, 8, room), margin, 13 - 4 * i, { size: 8, bold: warned && i === 2 });
  });
  return { title: `Hull mark-out ${context.id}: ${context.title}`, pages: [sheet] };
}

export function markoutDxf(context: Context): string {
  const flat = flatFoot(context.plan, context.fitting);
  const sheet = new Sheet(0, 0);
  // Lines only: the shade of a zone is for paper.
  sheet.add(markoutItems(context, flat).filter((item) => item.kind !== 'path' || item.pen !== undefined));
  const box = extent(sheet.items);
  const right = flat.forwardSign === 1 ? 'forward' : 'aft';
  [
    `${context.id}: shell laid flat about the place, seen from the water; the top is ${roundWords(context.fitting).out}, right is ${right}`,
    `${context.title}; job digest ${context.digest} ${context.revision} ${context.date}`,
    cautionWith(context),
  ].forEach((text, i) => {
    sheet.text(text, -box.x, -box.y - 8 - 6 * i, { size: 9 });
  });
  checkBars(sheet, -box.x, -box.y - 34);
  return writeDxf(sheet.items, MARKOUT_LAYERS, context.plan.job.display === 'us' ? 'in' : 'mm');
}
