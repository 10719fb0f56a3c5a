import { newHit } from '../../geometry/hull/shell.ts';
import { dot, sub } from '../../geometry/math/vec.ts';
import { Refusal } from '../../geometry/refusal.ts';
import { shellOf } from '../plan/plan.ts';
import type { Context } from './context.ts';
import { boundsOf, CENTRE, type Drawing, type Item, type Point, Sheet } from './drawing.ts';
import { type Layers, writeDxf } from './dxf.ts';
import { gapLength } from './figures.ts';
import { Flow } from './flow.ts';
import { widthOf } from './fonts.ts';
import { sideNames, sideWay } from './sides.ts';
import { checkBars } from './template-view.ts';
import { type Tiled, tileLayout, tileMap, tilePages } from './tiles.ts';

export const TRIAL_LAYERS: Layers = { BOARD: 1, SHELL_EDGE: 3, CENTRE_LINE: 4, CHECK_BAR: 2, TEXT: 7 };

/** mm. How far a board reaches past the foot, how tall it is, and how closely its edge is drawn. */
const PAST = 40;
const TALL = 70;
const STEP = 4;
const ACROSS = 160;

export interface Board {
  readonly letter: string;
  readonly title: string;
  /** The shell as the board's edge, x along, y out of the shell, from the place itself; ascending x. mm. */
  readonly edge: readonly Point[];
  readonly left: string;
  readonly right: string;
}

/** Two boards: in the plane of the plate, and across it. They meet the shell as the plan takes it to be. */
export function boards(context: Context): Board[] {
  const { fitting, plan } = context;
  const { frame, anchor, field } = fitting;
  const shell = shellOf(plan.job.ship.hull);
  const names = sideNames(fitting);
  const reach = field.halfFoot + PAST;
  const caster = shell.caster(frame, reach, field.halfThickness);
  const along: Point[] = [];
  const hit = newHit();
  const n = Math.ceil(reach / STEP);
  for (let k = -n; k <= n; k++) {
    const a = (reach * k) / n;
    if (reached(() => caster.cast(a, 0, caster.seed, 0, 0, hit))) along.push({ x: a, y: hit.f });
  }
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
  return [
    {
      letter: 'A',
      title: 'along the foot, in the plane of the plate',
      edge: connected(along),
      left: sideWay(names['end-']),
      right: sideWay(names['end+']),
    },
    {
      letter: 'B',
      title: girthwise ? 'round the girth, square to the shell' : 'fore and aft, square to the shell',
      edge: connected(across),
      left: girthwise ? 'keel' : 'aft',
      right: girthwise ? 'outboard' : 'forward',
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

function boardItems(context: Context, board: Board): { items: Item[]; width: number; height: number } {
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
  sheet.line(0, low - 6, 0, high + 34, CENTRE, 'CENTRE_LINE');
  sheet.line(0, top - 4, 0, top + 4, CENTRE, 'CENTRE_LINE');
  sheet.text(`${context.id} ${board.letter}: trial board ${board.title}`, (x0 + x1) / 2, top - 9, {
    size: 9,
    bold: true,
    align: 'centre',
  });
  sheet.text(`◄ ${board.left.toUpperCase()}`, x0 + 4, top - 18, { size: 10, bold: true });
  sheet.text(`${board.right.toUpperCase()} ►`, x1 - 4, top - 18, { size: 10, bold: true, align: 'right' });
  sheet.text('shell edge below; write the gap found at each mark', (x0 + x1) / 2, top - 25, {
    size: 7.5,
    align: 'centre',
  });
  const marks = 7;
  for (let k = 0; k < marks; k++) {
    const at = board.edge[Math.round((k * (board.edge.length - 1)) / (marks - 1))] as Point;
    const shift = k === 0 ? 9 : k === marks - 1 ? -9 : Math.abs(at.x) < STEP ? 10 : 0;
    sheet.line(at.x, at.y, at.x, at.y + 9, { width: 0.25 }, 'SHELL_EDGE');
    const text = 'gap ____';
    const x = at.x + shift - widthOf(context.fonts, text, 8) / 2;
    sheet.text(text, x, at.y + 14, { size: 8 });
  }
  const pad = 8;
  const box = boundsOf(sheet.items);
  const moved: Item[] = [
    {
      kind: 'window',
      dx: pad - box.x0,
      dy: pad - box.y0,
      clip: { x: -1e4, y: -1e4, width: 2e4, height: 2e4 },
      items: sheet.items,
    },
  ];
  return { items: moved, width: box.x1 - box.x0 + 2 * pad, height: box.y1 - box.y0 + 2 * pad };
}

/** The boards at true size on A4 or Letter, with what to do with them. */
export function trialTemplate(context: Context): Drawing {
  const { plan } = context;
  const title = 'Trial template 1:1';
  const tiled: Tiled[] = boards(context).map((board) => ({
    title: `board ${board.letter}`,
    letter: board.letter,
    ...boardItems(context, board),
  }));
  const layouts = tiled.map((each) => tileLayout(context.paper, each.width, each.height));
  const count = layouts.reduce((sum, layout) => sum + layout.columns * layout.rows, 0);
  const cover = new Flow(context, title);
  cover.heading(1, title);
  cover.paragraph(
    'Two boards of thin stuff, to be tried on the hull before steel is cut. Board A stands where the plate will stand, along the foot and leaning as the plate will; board B stands across it, square to the shell. Hold each with its mark on O and feel along the edge: where it rocks or stands off, the shell is not what the plan takes it to be.',
  );
  const { fitGap, recutGap } = plan.job.limits;
  cover.paragraph(
    `A gap over ${gapLength(fitGap, plan.job.display)} anywhere under board A, or a board that rocks: measure the shell again and plan again before cutting. Over ${gapLength(recutGap, plan.job.display)} the foot as planned will not do.`,
    { bold: true },
  );
  tiled.forEach((each, i) => {
    cover.paragraph(`Map of the tiles, ${each.title}:`, { bold: true, keep: 56 });
    cover.figure(44, (sheet, x, y, width) =>
      tileMap(sheet, each, layouts[i] as (typeof layouts)[number], x, y + 1, width * 0.8, 42),
    );
  });
  cover.blanks(['tried by', 'date', 'accepted by', 'plan again: yes / no'], 2);
  const pages = cover.finish(count);
  const of = pages.length + count;
  tiled.forEach((each, i) => {
    pages.push(...tilePages(context, each, layouts[i] as (typeof layouts)[number], title, pages.length + 1, of));
  });
  return { title: `${title} ${context.id}: ${context.title}`, pages };
}

/** Both boards one above the other in one file; each with its place at x = 0. */
export function trialDxf(context: Context): string {
  const sheet = new Sheet(0, 0);
  let y = 0;
  for (const board of boards(context)) {
    const { items } = boardItems(context, board);
    const inner = items[0];
    if (inner?.kind !== 'window') throw new Error('a board is drawn in a window of its own');
    const box = boundsOf(inner.items);
    sheet.items.push({ ...inner, dx: 0, dy: y - box.y0 });
    y += box.y1 - box.y0 + 20;
  }
  const left = Math.min(...boards(context).map((board) => (board.edge[0] as Point).x));
  checkBars(sheet, left, -16);
  sheet.text(`${context.title}; job digest ${context.digest} ${context.revision} ${context.date}`, left, -30, {
    size: 8,
  });
  sheet.text('A planning aid: a competent engineer checks every figure.', left, -35, { size: 8 });
  return writeDxf(sheet.items, TRIAL_LAYERS, context.plan.job.display === 'us' ? 'in' : 'mm');
}
