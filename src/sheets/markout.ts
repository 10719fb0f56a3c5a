import { dot } from '../../geometry/math/vec.ts';
import { fromAftPerpendicular, showFigure } from '../job/show.ts';
import { behindAt } from '../plan/structure.ts';
import { fromFrameAt, nearestFrame } from './behind.ts';
import type { Context } from './context.ts';
import { type Drawing, type Point, Sheet, THIN } from './drawing.ts';
import { writeDxf } from './dxf.ts';
import { cardLength, degrees, fixed, shopLength } from './figures.ts';
import { flatFoot, toeOnShell } from './flatten.ts';
import { Flow } from './flow.ts';
import { behindTable, fromFramePairs, quarrelWith } from './markout-behind.ts';
import { cleanMargin, extent, MARKOUT_LAYERS, markoutItems } from './markout-drawing.ts';
import { scaled } from './plate.ts';
import { placeName, sideNames, sideWay } from './sides.ts';
import { checkBars } from './template-view.ts';
import { plainText } from './text.ts';
import { depthOf } from './view.ts';

/** mm. Height of the picture where it can have it, and the least that it is squeezed to so that all stands on one page. */
const FIGURE = 92;
const LEAST_FIGURE = 64;

/** The page a diver or a mark-out party works from: picture with corners named, and all the measurements. */
export function markoutSheet(context: Context): Drawing {
  for (let height = FIGURE; ; height -= 7) {
    const drawing = markoutPages(context, height);
    if (drawing.pages.length === 1) return drawing;
    if (height - 7 < LEAST_FIGURE) return markoutPages(context, FIGURE);
  }
}

function markoutPages(context: Context, figure: number): Drawing {
  const { fitting, plan } = context;
  const { display } = plan.job;
  const { anchor } = fitting;
  const flat = flatFoot(plan, fitting);
  const say = (mm: number) => shopLength(mm, display);
  const tape = (mm: number) => (display === 'us' ? showFigure({ mm }, 'us') : say(mm));
  const flow = new Flow(context, 'Hull mark-out');
  flow.heading(1, `Hull mark-out, ${anchor.side}`);
  flow.pairs([
    [
      'The place O',
      `${fromAftPerpendicular(anchor.station, tape)}, ${tape(anchor.girth)} round from the first point of the section at the keel`,
    ],
    ['Depth at the drafts given', cardLength(depthOf(plan, anchor.position), display)],
    [
      'Angle finder on the bare shell at O',
      `${degrees(Math.asin(Math.abs(dot(anchor.tGirth, plan.up))))} off level round the girth, ${dot(anchor.tGirth, plan.up) >= 0 ? 'rising' : 'falling'} outboard; ${degrees(Math.asin(Math.abs(dot(anchor.tFore, plan.up))))} fore and aft, ${dot(anchor.tFore, plan.up) >= 0 ? 'rising' : 'falling'} forward`,
    ],
    ...fromFramePairs(context, tape),
  ]);
  flow.figure(figure, (sheet, x, y, width) => {
    const room = { x: width - 48, y: figure - 16 };
    const items = markoutItems(context, flat, room.x / room.y);
    const box = extent(items);
    const k = Math.min(room.x / (2 * box.x), room.y / (2 * box.y));
    const middle = { x: x + width / 2, y: y + figure / 2 };
    sheet.rect(x, y, width, figure, THIN);
    sheet.add(scaled(items, k, middle.x, middle.y));
    const bold = { size: 9, bold: true } as const;
    const [left, right] = flat.forwardSign === 1 ? ['AFT', 'FORWARD'] : ['FORWARD', 'AFT'];
    sheet.text(`◄ ${left}`, x + 2, middle.y + 1.5, bold);
    sheet.text(`${right} ►`, x + width - 2, middle.y + 1.5, { ...bold, align: 'right' });
    sheet.text('▲ OUTBOARD, round the girth', middle.x + 3, y + figure - 5, bold);
    sheet.text('▼ KEEL', middle.x + 3, y + 2.5, bold);
    sheet.text(`seen from the water; scale 1:${fixed(1 / k, 2)}, do not measure`, x + 2, y + 2, { size: 7 });
    sheet.text('solid: footprint and weld toes; dashed: clean metal', x + width - 2, y + 2, {
      size: 7,
      align: 'right',
    });
    const centre = { x: middle.x, y: middle.y };
    flat.corners.forEach((corner, i) => {
      const p = { x: middle.x + k * flat.forwardSign * corner.x, y: middle.y + k * corner.y };
      const off = 4.6;
      const at = { x: p.x + off * Math.sign(p.x - centre.x), y: p.y + off * Math.sign(p.y - centre.y) };
      sheet.circle(p.x, p.y, 0.8, undefined, 0);
      sheet.circle(at.x, at.y, 2.6, { width: 0.3 }, 1);
      sheet.text(String(i + 1), at.x, at.y - 1.25, { size: 9, bold: true, align: 'centre' });
    });
    sheet.circle(middle.x, middle.y, 0.9, undefined, 0);
    sheet.circle(middle.x + 2.9, middle.y + 2.6, 1.7, undefined, 1);
    sheet.text('O', middle.x + 1.6, middle.y + 1.4, { size: 9, bold: true });
  });
  const s = [0, ...fitting.root.corners.slice(1, 4)];
  const frame = nearestFrame(plan, fitting);
  const fromFrame = (corner: Point): string => {
    const from = frame && fromFrameAt(plan, fitting, frame.name, corner);
    return from === undefined ? '' : `${tape(Math.abs(from.along))} ${from.along >= 0 ? 'fwd' : 'aft'}`;
  };
  flow.table(
    [
      { title: 'No.', share: 0.5, bold: true },
      { title: 'which', share: 2.3 },
      { title: 'along from O', share: 1.9, align: 'right' },
      { title: 'round from O', share: 1.9, align: 'right' },
      { title: frame === undefined ? 'from aft perp.' : `from ${plainText(frame.name)}`, share: 1.8, align: 'right' },
      { title: 'round from keel', share: 1.8, align: 'right' },
    ],
    flat.corners.map((corner, i) => [
      String(i + 1),
      placeName(fitting, s[i] as number),
      `${say(Math.abs(corner.x))} ${corner.x >= 0 ? 'fwd' : 'aft'}`,
      `${say(Math.abs(corner.y))} ${corner.y >= 0 ? 'out' : 'in'}`,
      frame === undefined
        ? `${tape(Math.abs(corner.station))} ${corner.station >= 0 ? 'fwd' : 'aft'}`
        : fromFrame(corner),
      tape(corner.girth),
    ]),
  );
  flow.table(
    [
      { title: 'Tape along the shell', share: 2 },
      { title: 'planned', share: 1.9, align: 'right' },
      { title: 'measured', share: 1.25 },
      { title: 'Tape along the shell', share: 2 },
      { title: 'planned', share: 1.9, align: 'right' },
      { title: 'measured', share: 1.25 },
    ],
    [
      ['1 to 2', say(flat.sides[0] as number), '', '3 to 4', say(flat.sides[2] as number), ''],
      ['2 to 3', say(flat.sides[1] as number), '', '4 to 1', say(flat.sides[3] as number), ''],
      ['diagonal 1 to 3', say(flat.diagonals[0]), '', 'diagonal 2 to 4', say(flat.diagonals[1]), ''],
    ],
    { rowHeight: 6 },
  );
  const names = sideNames(fitting);
  flow.pairs([
    [
      'Weld toes from the footprint, on the shell',
      fitting.weld.sides
        .map((side) => `${sideWay(names[side.side])} ${say(toeOnShell(fitting, side.side))}`)
        .join(', '),
    ],
    ['Clean metal beyond the toes', `${say(cleanMargin(context))} (a choice: the welding procedure decides)`],
    ['Laid flat the shell is stretched by', `${say(flat.stretch)} at most between the corners`],
  ]);
  flow.heading(
    3,
    'Behind the plating: to be found and written down before anything is ground',
    plan.job.ship.structure === undefined ? 18 : 48,
  );
  behindTable(flow, context, flat);
  const behind = behindAt(plan.job, fitting.input, anchor);
  const spacing = `frames every ${say(behind.frameSpacing)}, longitudinals every ${say(behind.longitudinalSpacing)}`;
  const frameAt = behind.fromFrame === undefined ? '' : `frame ${say(behind.fromFrame)} abaft O; `;
  const longitudinalAt =
    behind.fromLongitudinal === undefined ? '' : `longitudinal ${say(behind.fromLongitudinal)} inboard of O; `;
  const known =
    frameAt === '' && longitudinalAt === ''
      ? `Taken in the calculation: ${spacing}, the place in the middle of a panel.`
      : `Taken in the calculation: ${frameAt}${longitudinalAt}${spacing}.`;
  flow.paragraph(known);
  const quarrel = quarrelWith(context, tape);
  if (quarrel !== undefined) flow.paragraph(quarrel, { bold: true });
  const { structure } = plan.job.ship;
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
    7.5,
  );
  flow.paragraph(
    'No weld over a seam, a butt or an old repair unless the engineer agrees. The space behind is vented and proved gas-free before an arc is struck; sea suctions, sonar and impressed-current protection near the place are shut off and locked.',
  );
  return { title: `Hull mark-out ${context.id}: ${context.title}`, pages: flow.finish() };
}

/** At true size, to be printed on film and laid on the hull. */
export function markoutLarge(context: Context): Drawing {
  const flat = flatFoot(context.plan, context.fitting);
  const items = markoutItems(context, flat);
  const box = extent(items);
  const margin = 14;
  // Beside the picture stands which way it lies.
  const beside = 30;
  const width = Math.max(2 * box.x + 2 * beside, 180) + 2 * margin;
  const height = 2 * box.y + 2 * margin + 26;
  const sheet = new Sheet(width, height);
  const middle = { x: width / 2, y: 26 + margin + box.y };
  sheet.add(scaled(items, 1, middle.x, middle.y));
  const [left, right] = flat.forwardSign === 1 ? ['AFT', 'FORWARD'] : ['FORWARD', 'AFT'];
  const bold = { size: 12, bold: true } as const;
  sheet.text(`◄ ${left}`, margin, middle.y + 3, bold);
  sheet.text(`${right} ►`, width - margin, middle.y + 3, { ...bold, align: 'right' });
  sheet.text('▲ OUTBOARD', middle.x + 3, height - margin, bold);
  sheet.text(context.id, middle.x + 4, middle.y + 4, { size: 14, bold: true });
  flat.corners.forEach((corner, i) => {
    const p = { x: middle.x + flat.forwardSign * corner.x, y: middle.y + corner.y };
    sheet.text(String(i + 1), p.x + 2, p.y + 2, { size: 10, bold: true });
  });
  checkBars(sheet, margin, 18);
  const mark = [
    context.id,
    'hull mark-out 1:1',
    `job digest ${context.digest}`,
    context.revision,
    context.date,
    context.title,
  ];
  sheet.text(mark.filter((part) => part !== '').join('   '), margin, 9, { size: 7 });
  sheet.text(
    'A planning aid: a competent engineer checks every figure. Print at 100 %, measure a bar first.',
    margin,
    5,
    { size: 7 },
  );
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
    `${context.id}: shell laid flat about the place, seen from the water; up is outboard, right is ${right}`,
    `${context.title}; job digest ${context.digest} ${context.revision} ${context.date}`,
    'A planning aid: a competent engineer checks every figure.',
  ].forEach((text, i) => {
    sheet.text(text, -box.x, -box.y - 8 - 6 * i, { size: 9 });
  });
  checkBars(sheet, -box.x, -box.y - 34);
  return writeDxf(sheet.items, MARKOUT_LAYERS, context.plan.job.display === 'us' ? 'in' : 'mm');
}
