import { SIDES, type Side } from '../../geometry/fit/rootline.ts';
import { addScaled, dot } from '../../geometry/math/vec.ts';
import type { FittingPlan } from '../plan/types.ts';
import { nearestFrame } from './behind.ts';
import { DIVE_CAUTIONS } from './cautions.ts';
import type { Context } from './context.ts';
import { drawJointPlan, drawStandSketch, shortWay } from './divecard-picture.ts';
import { endOfFirstDive } from './dives.ts';
import { type Drawing, Sheet, THIN } from './drawing.ts';
import { cardCount, cardLength, degrees, fixed, thirtySeconds } from './figures.ts';
import { type Fonts, shortened, widthOf } from './fonts.ts';
import { cardSize } from './options.ts';
import { drawRich, heightOf, type RichLine, richLines } from './rich.ts';
import { placeName, sideNames, sideWay, wayOf } from './sides.ts';
import { plainText } from './text.ts';
import { depthOf, diverView } from './view.ts';

/** Points. Nothing on the card is smaller; every figure to act on is at least the second. */
export const LEAST_TYPE = 12;
export const LEAST_FIGURE = 16;

const MARGIN = 5.5;
const RICH = { size: LEAST_TYPE, figures: LEAST_FIGURE };
/** mm. Lower than this the picture cannot be read by a head lamp. */
const LEAST_PICTURE = 44;

interface Block {
  readonly height: number;
  draw(sheet: Sheet, top: number): void;
}

/** One side of A5 (half Letter): all a diver needs to weld this lug, to be read at arm's length by a head lamp. */
export function diveCard(context: Context): Drawing {
  const size = cardSize(context.paper);
  const sheet = new Sheet(size.width, size.height);
  const width = size.width - 2 * MARGIN;
  const before = [header(context, width), cells(context, whereCells(context, width), width), stand(context, width)];
  const after = [
    strike(context, width),
    cells(context, weldCells(context), width),
    legs(context, width),
    holds(context, width),
    blanks(context, width),
    cautions(context, width),
  ];
  const room = size.height - 2 * MARGIN;
  const used = [...before, ...after].reduce((sum, block) => sum + block.height, 0);
  const picture = Math.max(LEAST_PICTURE, Math.min(room - used, 84));
  // What is over is spread between the blocks, never squeezed out of them.
  const gap = Math.max(0, (room - used - picture) / (before.length + after.length));
  let y = size.height - MARGIN;
  const put = (block: Block): void => {
    block.draw(sheet, y);
    y -= block.height + gap;
  };
  before.forEach(put);
  put(pictureBlock(context, width, picture));
  after.forEach(put);
  return { title: `Dive card ${context.id}: ${context.title}`, pages: [sheet] };
}

function header({ fonts, fitting, id, title, digest, revision, date }: Context, width: number): Block {
  const height = 13;
  return {
    height: height + 1,
    draw(sheet, top) {
      sheet.rect(MARGIN, top - height, width, height, undefined, 0);
      const side = fitting.anchor.side.toUpperCase();
      const sideWidth = widthOf(fonts, side, LEAST_FIGURE, true);
      const name = shortened(fonts, id, 24, width * 0.52 - sideWidth, true);
      const base = top - height / 2 - 3;
      let x = MARGIN + 2;
      sheet.text(name, x, base, { size: 24, bold: true, grey: 1 });
      x += widthOf(fonts, name, 24, true) + 3;
      sheet.text(side, x, base, { size: LEAST_FIGURE, bold: true, grey: 1 });
      x += sideWidth + 4;
      const right = MARGIN + width - 2;
      const style = { size: LEAST_TYPE, align: 'right', grey: 1 } as const;
      sheet.text(shortened(fonts, title, LEAST_TYPE, right - x, true), right, top - 5.2, { ...style, bold: true });
      const mark = [digest, revision, date].filter((part) => part !== '').join(' ');
      sheet.text(shortened(fonts, mark, LEAST_TYPE, right - x), right, top - 10.8, style);
    },
  };
}

interface Cell {
  readonly label: string;
  readonly value: string;
}

/** mm. Nearer than a tape under water can tell. */
const AT_FRAME = 1;

/** Along the ship from the frame that the job names nearest, else from the aft perpendicular: the best way to say it first. */
function alongCells({ plan, fitting }: Context): Cell[] {
  const { display } = plan.job;
  const frame = nearestFrame(plan, fitting);
  const { station } = fitting.anchor;
  const perpendicular = {
    label: station < 0 ? 'abaft aft perp.' : 'fwd of aft perp.',
    value: cardLength(Math.abs(station), display),
  };
  if (frame === undefined || !frame.onShell) return [perpendicular];
  const bare = plainText(frame.name).replace(/^(frame|fr\.?)\s*/i, '');
  // The name whole or not at all: frame 112 cut short is another frame.
  const name = bare === '' ? plainText(frame.name) : bare;
  const fromFrame =
    Math.abs(frame.along) < AT_FRAME
      ? { label: 'AT frame', value: name }
      : {
          label: `${frame.along > 0 ? 'FWD' : 'AFT'} of frame`,
          value: `${name}: ${cardLength(Math.abs(frame.along), display)}`,
        };
  return [fromFrame, perpendicular];
}

function whereCells(context: Context, width: number): Cell[] {
  const { plan, fitting, fonts } = context;
  const { display } = plan.job;
  const others = [
    { label: 'round from keel', value: cardLength(fitting.anchor.girth, display) },
    { label: 'depth', value: cardDepth(depthOf(plan, fitting.anchor.position), display) },
  ];
  const ways = alongCells(context).map((along) => [along, ...others]);
  const fits = ways.find((list) => list.reduce((sum, cell) => sum + cellWidth(fonts, cell), 0) <= width);
  return fits ?? (ways.at(-1) as Cell[]);
}

const cardDepth = (mm: number, display: 'metric' | 'us'): string =>
  display === 'metric' ? `${fixed(mm / 1000, 1)} m` : `${fixed(mm / 304.8, 0)} ft`;

function weldCells({ plan, fitting }: Context): Cell[] {
  const { job } = plan;
  const { current, totals } = fitting.weld;
  const us = job.display === 'us';
  const gap = (mm: number) => (us ? thirtySeconds(mm) : fixed(mm, 1));
  const gaps = `${gap(job.limits.fitGap)}, ${gap(job.limits.recutGap)}`;
  const rod = us ? thirtySeconds(job.electrode.diameter) : fixed(job.electrode.diameter, 1);
  const window = current.kind === 'window' ? current.row : undefined;
  const sure = window === undefined || window.standing === 'common-practice' || window.standing === 'source';
  const amperes = window === undefined ? 'see maker' : `${window.value.amperes[0]}–${window.value.amperes[1]} A`;
  const polarity = window === undefined ? 'DC' : window.value.polarity === 'DCEP' ? 'DCEP+' : 'DCEN–';
  return [
    { label: `${us ? 'in' : 'mm'} tight, recut`, value: gaps },
    { label: sure ? 'current, electrode' : 'current: prove first', value: `${amperes} ${polarity}` },
    { label: `${job.electrode.kind} rods`, value: `${totals.electrodes}×${rod}` },
  ];
}

/** mm. */
const CELL_PAD = 1.6;

const cellWidth = (fonts: Fonts, cell: Cell): number =>
  2 * CELL_PAD + Math.max(widthOf(fonts, cell.label, LEAST_TYPE), widthOf(fonts, cell.value, LEAST_FIGURE, true));

/** Boxes in a row, each a small label over a large value; two rows where one is too narrow. */
function cells({ fonts }: Context, list: readonly Cell[], width: number): Block {
  const row = 12;
  const pad = CELL_PAD;
  const needed = (cell: Cell): number => cellWidth(fonts, cell);
  const fill = (part: readonly Cell[]): readonly { cell: Cell; width: number }[] | undefined => {
    const sum = part.reduce((total, cell) => total + needed(cell), 0);
    return sum > width ? undefined : part.map((cell) => ({ cell, width: needed(cell) + (width - sum) / part.length }));
  };
  const half = Math.ceil(list.length / 2);
  const rows = [fill(list)].every((each) => each !== undefined)
    ? [fill(list)]
    : [list.slice(0, half), list.slice(half)].map(
        (part) => fill(part) ?? part.map((cell) => ({ cell, width: width / part.length })),
      );
  return {
    height: rows.length * row + 1,
    draw(sheet, top) {
      rows.forEach((cellsOfRow, r) => {
        let x = MARGIN;
        for (const { cell, width: wide } of cellsOfRow ?? []) {
          const y = top - r * row;
          sheet.rect(x, y - row, wide, row, THIN);
          sheet.text(cell.label, x + pad, y - 4.3, { size: LEAST_TYPE });
          sheet.text(shortened(fonts, cell.value, LEAST_FIGURE, wide - pad, true), x + pad, y - row + 1.8, {
            size: LEAST_FIGURE,
            bold: true,
          });
          x += wide;
        }
      });
    },
  };
}

const rich = (context: Context, texts: readonly string[], width: number, bold = false): Block => {
  const lines: RichLine[] = texts.flatMap((text) => richLines(context.fonts, text, width, { ...RICH, bold }));
  return {
    height: heightOf(lines) + 1,
    draw(sheet, top) {
      drawRich(sheet, context.fonts, lines, MARGIN, top);
    },
  };
};

/** What the angle finder must show, on which face or line it lies, and which way the lug leans. */
export function standLines(context: Context): string[] {
  const { plan, fitting } = context;
  const { readings, frame, anchor } = fitting;
  const names = sideNames(fitting);
  const face = openFace(fitting);
  const lines: string[] = [];
  // Horizontal part of the stem, across the plate: the way the pin end leans.
  const level = addScaled(frame.stem, plan.up, -dot(frame.stem, plan.up));
  const across = dot(level, frame.face);
  const leans = names[across > 0 ? 'face+' : 'face-'];
  const faceWords =
    readings.faceFromPlumb < SHOWN_PLUMB
      ? 'PLUMB'
      : `${degrees(readings.faceFromPlumb)} off plumb, pin ${shortWay(sideWay(leans))}`;
  lines.push(`Finder on ${shortWay(sideWay(names[face]))} face: ${faceWords}`);
  if (readings.stemFromPlumb >= SHOWN_PLUMB) {
    const way = shortWay(wayOf(level, anchor.side));
    lines.push(`On centre line: ${degrees(readings.stemFromPlumb)} off plumb, pin ${way}`);
  }
  const rise = readings.footFromLevel;
  const higher = readings.higherEnd === 'level' ? '' : shortWay(sideWay(names[readings.higherEnd]));
  lines.push(`On sight line: ${rise < SHOWN_PLUMB ? 'LEVEL' : `${degrees(rise)} off level, ${higher} end up`}`);
  return lines;
}

/** rad. Smaller than any finder under water can show: half of the last figure printed. */
const SHOWN_PLUMB = (0.05 * Math.PI) / 180;

/** The face with the wider joint: the one with room for a hand and an instrument. */
export function openFace(fitting: FittingPlan): 'face-' | 'face+' {
  const dihedral = (side: Side) => fitting.weld.sides.find((each) => each.side === side)?.dihedral ?? 0;
  return dihedral('face+') >= dihedral('face-') ? 'face+' : 'face-';
}

const stand = (context: Context, width: number): Block => rich(context, standLines(context), width);

function pictureBlock(context: Context, width: number, height: number): Block {
  return {
    height,
    draw(sheet, top) {
      const view = diverView(context.plan, context.fitting);
      const sketch = 45;
      sheet.rect(MARGIN, top - height, width, height - 1, THIN);
      drawJointPlan(sheet, context, view, { x: MARGIN, y: top - height, width: width - sketch, height: height - 1 });
      drawStandSketch(sheet, context, {
        x: MARGIN + width - sketch,
        y: top - height,
        width: sketch,
        height: height - 1,
      });
    },
  };
}

function strike(context: Context, width: number): Block {
  return rich(context, strikeLines(context), width);
}

export function strikeLines(context: Context): string[] {
  const { fitting } = context;
  const { sequence } = fitting;
  const first = sequence.runs[0];
  const last = sequence.runs.at(-1);
  if (first === undefined || last === undefined) throw new Error('a root without runs');
  const place = (s: number) => shortPlace(placeName(fitting, s));
  const gas =
    sequence.trap !== null
      ? `GAS IS TRAPPED: relief notch at ${place(sequence.trap.notchS)}, closed last.`
      : sequence.level
        ? 'Root is LEVEL: gas has no sure way out. Watch the puddle.'
        : `GAS out: ${shortPlace(gasSide(fitting))}.`;
  return [
    `STRIKE FIRST: run ${first.run}, ${place(first.fromS)}, go ${shortWay(first.travel.towards)}.`,
    `CLOSE LAST: run ${last.run}, ${place(last.toS)}. ${gas}`,
    endOfFirstDive(context),
  ].filter((line) => line !== '');
}

/** A place said with as few letters as the card has room for: `keel side, FWD corner`. */
export const shortPlace = (name: string): string =>
  name
    .replaceAll(/forward|outboard/g, (way) => shortWay(way))
    .replaceAll(/\b(keel|aft|upper|lower)\b/g, (way) => way.toUpperCase());

/** The side along which most of the root's gas comes out. */
function gasSide(fitting: FittingPlan): string {
  const { elements } = fitting.sequence;
  const length = new Map<Side, number>();
  elements.vents.forEach((vent, e) => {
    if (vent.kind !== 'out') return;
    const { corners } = fitting.root;
    const k = corners.findIndex((corner, i) => i < 4 && vent.s >= corner && vent.s <= (corners[i + 1] as number));
    const side = SIDES[Math.max(0, k)] as Side;
    length.set(side, (length.get(side) ?? 0) + (elements.s1[e] as number) - (elements.s0[e] as number));
  });
  const most = [...length].sort((p, q) => q[1] - p[1])[0];
  return sideNames(fitting)[most?.[0] ?? fitting.sequence.finish.side];
}

/** The legs to weld, square by square: what the gauge must show along the plate. */
function legs(context: Context, width: number): Block {
  const { fitting, plan } = context;
  const { display } = plan.job;
  const names = sideNames(fitting);
  const words = fitting.weld.sides.map(
    (side) => `${shortWay(sideWay(names[side.side]))} ${cardCount(side.calledLegAlongPlate, display)}`,
  );
  const layers = Math.max(...fitting.weld.sides.map((side) => side.layers));
  const unit = display === 'us' ? 'in' : 'mm';
  return rich(context, [`LEG ${unit}: ${words.join(', ')}; ${layers} layers`], width);
}

function holds({ fitting, fonts }: Context, width: number): Block {
  const height = 7.6;
  return {
    height: height + 0.5,
    draw(sheet, top) {
      const base = top - 5.4;
      sheet.text('HOLD', MARGIN, base, { size: LEAST_TYPE, bold: true });
      let x = MARGIN + widthOf(fonts, 'HOLD ', LEAST_TYPE, true) + 2;
      const names = fitting.weld.holds.map((hold) => hold.hold);
      const words = names.reduce((sum, name) => sum + widthOf(fonts, `${name} OK`, LEAST_TYPE), 0);
      const each = (MARGIN + width - x - words - names.length * 7) / Math.max(1, names.length);
      for (const name of names) {
        sheet.rect(x, base - 1, 5, 5, { width: 0.4 });
        sheet.text(`${name} OK`, x + 6.5, base, { size: LEAST_TYPE });
        x += 7 + widthOf(fonts, `${name} OK`, LEAST_TYPE) + each;
      }
    },
  };
}

function blanks({ fonts }: Context, width: number): Block {
  const row = 7.8;
  const rows = [
    ['Stopped at run', 1, 'and', 1.2, 'from corner', 1.2],
    ['Diver', 2.2, 'Dive no.', 1, 'Date', 1.6],
  ] as const;
  return {
    height: rows.length * row,
    draw(sheet, top) {
      rows.forEach((parts, r) => {
        const base = top - r * row - 5.8;
        const words = parts.filter((part) => typeof part === 'string');
        const shares = parts.filter((part) => typeof part === 'number');
        const fixedWidth = words.reduce((sum, word) => sum + widthOf(fonts, `${word} `, LEAST_TYPE) + 1, 0);
        const unit = (width - fixedWidth) / shares.reduce((sum, share) => sum + share, 0);
        let x = MARGIN;
        for (const part of parts) {
          if (typeof part === 'string') {
            sheet.text(part, x, base, { size: LEAST_TYPE });
            x += widthOf(fonts, `${part} `, LEAST_TYPE);
          } else {
            sheet.line(x, base - 0.8, x + unit * part - 1, base - 0.8, { width: 0.3 });
            x += unit * part + 1;
          }
        }
      });
    },
  };
}

function cautions(context: Context, width: number): Block {
  const pad = 1.4;
  const lines = richLines(context.fonts, DIVE_CAUTIONS, width - 2 * pad, RICH);
  const height = heightOf(lines) + 2 * pad - 1;
  return {
    height,
    draw(sheet, top) {
      sheet.rect(MARGIN, top - height, width, height, { width: 0.7 });
      drawRich(sheet, context.fonts, lines, MARGIN + pad, top - pad + 0.4);
    },
  };
}
