import type { Side } from '../../geometry/fit/rootline.ts';
import { addScaled, dot } from '../../geometry/math/vec.ts';
import { nearestFrame } from './behind.ts';
import { LEAST_FIGURE, LEAST_TYPE } from './cardtype.ts';
import { bareSide, cardSpot, gasSide, openFace, SHOWN_PLUMB, shortPlace, shortWay } from './cardwords.ts';
import { DIVE_CAUTIONS } from './cautions.ts';
import type { Context } from './context.ts';
import { type Drawn, drawJointPlan, drawStandSketch } from './divecard-picture.ts';
import { nextDive } from './dives.ts';
import { type Drawing, Sheet, THIN } from './drawing.ts';
import { cardCount, cardLength, degrees, fixed, thirtySeconds } from './figures.ts';
import { flatFoot } from './flatten.ts';
import { type Fonts, lacksLetters, shortened, widthOf, wrapped } from './fonts.ts';
import { stopsWithin } from './jointlayout.ts';
import { behindOf } from './markout-drawing.ts';
import { cardSize } from './options.ts';
import { drawRich, heightOf, type RichLine, richLines } from './rich.ts';
import { alongSide, sideNames, sideWay, wayOf } from './sides.ts';
import { divesToCome, type Standing, standingOf } from './standing.ts';
import { ownLine, plainText } from './text.ts';
import { depthOf, diverView } from './view.ts';

const MARGIN = 5.5;
const RICH = { size: LEAST_TYPE, figures: LEAST_FIGURE };
/** mm. Lower than this the picture cannot be read by a head lamp. */
const LEAST_PICTURE = 44;
const LOW_PICTURE = 39;

interface Block {
  readonly height: number;
  draw(sheet: Sheet, top: number): void;
}

/** One side of A5 (half Letter): all a diver needs to weld this lug, to be read at arm's length by a head lamp. */
export function diveCard(context: Context): Drawing {
  const card = (sheet: Sheet): Drawing => ({ title: `Dive card ${context.id}: ${context.title}`, pages: [sheet] });
  let bare: Sheet | undefined;
  for (const tight of TIGHT) {
    const drawn = cardPage(context, tight, false);
    if (!drawn.fits) continue;
    if (drawn.shown) return card(drawn.sheet);
    // Where the runs end stands in the picture, else in a line: before it is left out, the card gives up what it can.
    const worded = cardPage(context, tight, true);
    if (worded.fits) return card(worded.sheet);
    bare ??= drawn.sheet;
  }
  return card(bare ?? cardPage(context, 4, false).sheet);
}

/**
 * What a full card gives up, one after the other: the second line of the name of the job and of the legs, some of the height of the
 * picture, a line of its own for each thing said of the runs; in the end, where a warning stands on it, all of the name of the job but
 * its end, where the ship is named.
 */
const TIGHT = [0, 1, 2, 3, 4] as const;
type Tight = (typeof TIGHT)[number];

function cardPage(
  context: Context,
  tight: Tight,
  stopsInWords: boolean,
): { sheet: Sheet; shown: boolean; fits: boolean } {
  const size = cardSize(context.paper);
  const sheet = new Sheet(size.width, size.height);
  const width = size.width - 2 * MARGIN;
  const stops = stopsInWords ? stopLine(context) : '';
  const before = [
    header(context, width, tight > 0, tight > 3),
    cells(context, whereCells(context, width), width),
    stand(context, width),
  ];
  const after = [
    ...(stops === '' ? [] : [rich(context, [stops], width)]),
    strike(context, width, tight > 2),
    cells(context, weldCells(context), width),
    legs(context, width, tight === 0),
    holds(context, width),
    blanks(context, width),
    cautions(context, width),
  ];
  const room = size.height - 2 * MARGIN;
  const used = [...before, ...after].reduce((sum, block) => sum + block.height, 0);
  const least = tight > 1 || stops !== '' ? LOW_PICTURE : LEAST_PICTURE;
  const picture = Math.max(least, Math.min(room - used, 84));
  // What is over is spread between the blocks, never squeezed out of them.
  const gap = Math.max(0, (room - used - picture) / (before.length + after.length));
  let y = size.height - MARGIN;
  const put = (block: Block): void => {
    block.draw(sheet, y);
    y -= block.height + gap;
  };
  before.forEach(put);
  const drawn = drawPicture(sheet, context, width, picture, y);
  y -= picture + gap;
  after.forEach(put);
  return { sheet, shown: drawn.stops, fits: drawn.clear && used + picture <= room };
}

/** Where runs end within a face, for a picture that has no room for it; empty where all end at corners. */
function stopLine({ fitting, plan }: Context): string {
  const { display } = plan.job;
  const names = sideNames(fitting);
  const unit = display === 'us' ? 'in' : 'mm';
  const faces = (['face-', 'face+'] as const).flatMap((face) => {
    const list = stopsWithin(fitting, face)
      .map((s) => alongSide(fitting, s).distance)
      .sort((p, q) => p - q)
      .map((mm) => cardCount(mm, display));
    return list.length === 0 ? [] : [{ side: shortPlace(names[face]), list: list.join(', ') }];
  });
  const [first, second] = faces;
  if (first === undefined) return '';
  const same = second !== undefined && first.list === second.list;
  const words = same ? first.list : faces.map(({ side, list }) => `${side} ${list}`).join('; ');
  return `RUNS END, ${unit} from ${bareSide(names['end-'])}: ${words}.`;
}

/** The name of the job on one line: whole, or without what stands after a colon, or its end, where the ship is named. */
const inOneLine = (fonts: Fonts, title: string, room: number, bold: boolean): string =>
  endInOneLine(fonts, title, room, bold) ?? atWord(shortened(fonts, title, LEAST_TYPE, room, bold));

/** As much of the end as fits, of two words at the least; undefined where that is too long. */
function endInOneLine(fonts: Fonts, title: string, room: number, bold: boolean): string | undefined {
  const [bare = title] = title.split(': ');
  const words = bare.split(' ');
  const ends = words.slice(1, -1).map((_, k) => `… ${words.slice(k + 1).join(' ')}`);
  return [title, bare, ...ends].find((text) => widthOf(fonts, text, LEAST_TYPE, bold) <= room);
}

/** A warning as full as it can be with the end of the name of the job beside it; where there is no room for both, the warning alone. */
function warnedAndNamed(fonts: Fonts, wordings: readonly string[], title: string, room: number): [string, string] {
  const wide = (text: string) => widthOf(fonts, text, LEAST_TYPE, true) + 3;
  // What is not to be done is worth more than what it is that fails.
  const bare = wordings.at(-1) as string;
  for (const each of [...wordings.slice(0, -1), `${bare.split(' ').at(-1)}: do not use`, bare]) {
    const name = endInOneLine(fonts, title, room - wide(each) - 2, false);
    if (name !== undefined) return [each, name];
  }
  return [wordings.find((each) => wide(each) <= room) ?? (wordings.at(-1) as string), ''];
}

function header(
  { fonts, fitting, id, title, digest, revision, date, warning }: Context,
  width: number,
  oneLine: boolean,
  untitled: boolean,
): Block {
  const full = fitting.anchor.side.toUpperCase();
  const sideWidth = (side: string) => widthOf(fonts, side, LEAST_FIGURE, true);
  const nameRoom = width * 0.58 - sideWidth(full);
  // Smaller rather than cut: the name is what tells one card from the next.
  const size = [24, 20, LEAST_FIGURE].find((pt) => widthOf(fonts, id, pt, true) <= nameRoom) ?? LEAST_FIGURE;
  const name = shortened(fonts, id, size, nameRoom, true);
  const nameWidth = widthOf(fonts, name, size, true);
  const roomBeside = (side: string) => width - 11 - nameWidth - sideWidth(side);
  const titleWidth = (bold: boolean) => widthOf(fonts, title, LEAST_TYPE, bold);
  // The usual short word, then a lighter face, then a second line, where the name of the job would else be cut.
  const side = full === 'STARBOARD' && titleWidth(true) > roomBeside(full) ? 'STBD' : full;
  const room = roomBeside(side);
  const bold = titleWidth(true) <= room || (titleWidth(false) > room && !oneLine);
  const [first = '', ...rest] = oneLine
    ? [inOneLine(fonts, title, room, bold)]
    : wrapped(fonts, title, LEAST_TYPE, room, bold);
  const second = atWord(shortened(fonts, rest.join(' '), LEAST_TYPE, room, bold));
  const lines = rest.length === 0 ? [first] : [first, second];
  // How many fail is for the papers that are read in the dry.
  const wordings = warning.filter((each) => !/\d/.test(each));
  const warned = wordings.find((each) => widthOf(fonts, each, LEAST_TYPE, true) <= width - 5) ?? wordings.at(-1);
  // Lug, side, ship and digest tell the card from others; the warning then has most of the place of the name of the job.
  const inside = untitled && warned !== undefined;
  const own = inside ? 13 : 13 + (lines.length - 1) * TITLE_LINE;
  const height = own + (warned === undefined || inside ? 0 : WARNING_LINE);
  const strange = [title, id].some((text) => lacksLetters(fonts, text, true));
  return {
    height: height + 1 + (strange ? STRANGE_LINE : 0),
    draw(sheet, top) {
      sheet.rect(MARGIN, top - height, width, height, undefined, 0);
      const base = top - own / 2 - 3;
      const x = MARGIN + 2;
      sheet.text(ownLine(name, id), x, base, { size, bold: true, grey: 1 });
      sheet.text(side, x + nameWidth + 3, base, { size: LEAST_FIGURE, bold: true, grey: 1 });
      const right = MARGIN + width - 2;
      const style = { size: LEAST_TYPE, align: 'right', grey: 1 } as const;
      (inside ? [] : lines).forEach((line, i) => {
        sheet.text(ownLine(line, title), right, top - 5.2 - i * TITLE_LINE, { ...style, bold });
      });
      const mark = [digest, revision, date].filter((part) => part !== '').join(' ');
      sheet.text(shortened(fonts, mark, LEAST_TYPE, room), right, top - own + 2.2, style);
      if (inside) {
        const [short, ship] = warnedAndNamed(fonts, wordings, title, room);
        const wide = widthOf(fonts, short, LEAST_TYPE, true) + 3;
        if (ship !== '') sheet.text(ownLine(ship, title), right - wide - 2, top - 5.2, style);
        sheet.rect(right - wide, top - 6.6, wide, 5.6, undefined, 1);
        sheet.text(short, right - 1.5, top - 5.2, { size: LEAST_TYPE, bold: true, align: 'right' });
      } else if (warned !== undefined) {
        sheet.rect(MARGIN + 1, top - height + 0.8, width - 2, WARNING_LINE - 0.8, undefined, 1);
        sheet.text(warned, MARGIN + width / 2, top - height + 2.4, { size: LEAST_TYPE, bold: true, align: 'centre' });
      }
      if (strange) sheet.text(STRANGE, MARGIN, top - height - 4.6, { size: LEAST_TYPE });
    },
  };
}

/** A name cut short, ended at a whole word where there is one. */
const atWord = (text: string): string => (text.endsWith('…') ? text.replace(/(\S)[\s:;,.]+\S*…$/, '$1 …') : text);

/** mm. */
const TITLE_LINE = 5.2;
const STRANGE_LINE = 5.6;
const WARNING_LINE = 6.8;

/** Said where it occurs: letters that the face lacks stand by their number. */
const STRANGE = '[U+…]: letters that cannot be printed here.';

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

/** mm. A longitudinal or seam farther off is none to lay a tape from. */
const ROUND_TAPE = 1000;

/** Round the girth from the nearest longitudinal or seam that the job names. */
function longitudinalCell(context: Context): Cell | undefined {
  const { plan, fitting } = context;
  if (plan.job.ship.structure === undefined) return undefined;
  const off = ({ round }: { round?: number }) => Math.abs(round ?? Infinity);
  const nearest = behindOf(context, flatFoot(plan, fitting))
    .filter(({ kind }) => kind === 'longitudinal' || kind === 'seam')
    .sort((p, q) => off(p) - off(q))[0];
  if (nearest?.round === undefined || off(nearest) > ROUND_TAPE) return undefined;
  const name = plainText(nearest.name);
  const word = nearest.kind === 'seam' ? 'seam' : 'long’l';
  if (off(nearest) < AT_FRAME) return { label: `AT ${word}`, value: name };
  // The line lies so far outward of the place: the place is on its keel side.
  const way = nearest.round > 0 ? 'KEEL side' : 'OUTB’D';
  return { label: `${way} of ${word}`, value: `${name}: ${cardLength(off(nearest), plan.job.display)}` };
}

function whereCells(context: Context, width: number): Cell[] {
  const { plan, fitting, fonts } = context;
  const { display } = plan.job;
  const others = [
    { label: 'round from keel', value: cardLength(fitting.anchor.girth, display) },
    { label: 'depth', value: cardDepth(depthOf(plan, fitting.anchor.position), display) },
  ];
  const member = longitudinalCell(context);
  const ways = alongCells(context).flatMap((along, i) => [
    // Beside a frame by name, the longitudinal; no use to one who has nothing to count frames by.
    ...(member === undefined || i > 0 ? [] : [[along, member, ...others]]),
    [along, ...others],
  ]);
  const fits = ways.find((list) => list.reduce((sum, cell) => sum + cellWidth(fonts, cell), 0) <= width);
  return fits ?? (ways.at(-1) as Cell[]);
}

const cardDepth = (mm: number, display: 'metric' | 'us'): string =>
  display === 'metric' ? `${fixed(mm / 1000, 1)} m` : `${fixed(mm / 304.8, 1)} ft`;

function weldCells(context: Context): Cell[] {
  const { plan, fitting } = context;
  const { job } = plan;
  const { current, totals } = fitting.weld;
  const us = job.display === 'us';
  const gap = (mm: number) => (us ? thirtySeconds(mm) : fixed(mm, 1));
  const gaps = `≤${gap(job.limits.fitGap)}, >${gap(job.limits.recutGap)}`;
  const rod = us ? thirtySeconds(job.electrode.diameter) : fixed(job.electrode.diameter, 1);
  const standing = standingOf(fitting);
  const dive = standing.kind === 'void' ? undefined : nextDive(context, standing);
  const window = current.kind === 'window' ? current.row : undefined;
  const sure = window === undefined || window.standing === 'common-practice' || window.standing === 'source';
  const amperes = window === undefined ? 'see maker' : `${window.value.amperes[0]}–${window.value.amperes[1]} A`;
  const polarity = window === undefined ? 'DC' : window.value.polarity === 'DCEP' ? 'DCEP+' : 'DCEN–';
  return [
    { label: `gap ${us ? 'in' : 'mm'}: ok, recut`, value: gaps },
    { label: sure ? 'current, electrode' : 'current: prove first', value: `${amperes} ${polarity}` },
    dive === undefined
      ? { label: `${job.electrode.kind}, in all`, value: `${totals.electrodes}×${rod}` }
      : { label: `take ${job.electrode.kind}`, value: `${dive.rods}×${rod}` },
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

/** rad off plumb. A stem beyond this lies rather than hangs: which way it points, up or down, has to be said. */
const LYING = Math.PI / 4;

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
  lines.push(`Finder on ${bareSide(names[face])} face: ${faceWords}`);
  if (readings.stemFromPlumb >= SHOWN_PLUMB) {
    const way = shortWay(wayOf(level, anchor.side));
    // Hanging down goes without saying; a stem that lies, or stands, does not.
    const up = dot(frame.stem, plan.up);
    const rises = up > 0 ? ' and UP' : readings.stemFromPlumb > LYING ? ' and DOWN' : '';
    lines.push(`On centre line: ${degrees(readings.stemFromPlumb)} off plumb, pin ${way}${rises}`);
  }
  const rise = readings.footFromLevel;
  const higher = readings.higherEnd === 'level' ? '' : bareSide(names[readings.higherEnd]);
  lines.push(`On sight line: ${rise < SHOWN_PLUMB ? 'LEVEL' : `${degrees(rise)} off level, ${higher} end up`}`);
  return lines;
}

const stand = (context: Context, width: number): Block => rich(context, standLines(context), width);

/** The joint, and beside it the lug end on. */
function drawPicture(sheet: Sheet, context: Context, width: number, height: number, top: number): Drawn {
  const view = diverView(context.plan, context.fitting);
  const sketch = 45;
  const y = top - height;
  sheet.rect(MARGIN, y, width, height - 1, THIN);
  const joint = { x: MARGIN, y, width: width - sketch, height: height - 1 };
  const shown = drawJointPlan(sheet, context, view, joint, standingOf(context.fitting));
  drawStandSketch(sheet, context, { x: MARGIN + width - sketch, y, width: sketch, height: height - 1 });
  return shown;
}

function strike(context: Context, width: number, joined: boolean): Block {
  const lines = strikeLines(context);
  return rich(context, joined ? [lines.join(' ')] : lines, width);
}

export function strikeLines(context: Context): string[] {
  const { fitting, plan } = context;
  const { sequence } = fitting;
  const standing = standingOf(fitting);
  const last = sequence.runs.at(-1);
  if (last === undefined) throw new Error('a root without runs');
  const place = (s: number, of?: Side) => cardSpot(fitting, s, plan.job.display, of);
  const gas =
    sequence.trap !== null
      ? `GAS IS TRAPPED: relief notch at ${place(sequence.trap.notchS)}, closed last.`
      : sequence.level
        ? 'Root is LEVEL: gas has no sure way out. Watch the puddle.'
        : `GAS goes out: ${shortPlace(gasSide(fitting))} (dashed arrows).`;
  const schedule = divesToCome(fitting, standing);
  const dive =
    schedule?.kind === 'dive-too-short'
      ? 'DIVES ARE TOO SHORT for one run: see the dive supervisor.'
      : standing.kind === 'void'
        ? ''
        : (nextDive(context, standing)?.line ?? '');
  const rootClosed = standing.kind === 'stands' && standing.done === sequence.runs.length;
  const close = rootClosed ? [] : [`CLOSE LAST: run ${last.run}, ${place(last.toS, last.side)}.`, gas];
  return [...goLines(context, standing, place), ...close, dive].filter((line) => line !== '');
}

/** What is welded already, and where the next electrode is struck. */
function goLines({ fitting }: Context, standing: Standing, place: (s: number, of?: Side) => string): string[] {
  const { runs } = fitting.sequence;
  if (standing.kind === 'void')
    return [
      'EARLIER DIVES welded in another order than this card shows: STRIKE NOTHING before it is known what is done.',
    ];
  const done = standing.kind === 'stands' ? standing.done : 0;
  const partTo = standing.kind === 'stands' ? standing.partTo : undefined;
  const next = runs[done];
  const range = done === 0 ? '' : done === 1 ? 'run 1' : `runs 1–${done}`;
  if (next === undefined) return [`DONE, black bars: ${range}. ROOT IS CLOSED: HOLD POINT root, then the next layer.`];
  const way = shortWay(next.travel.towards);
  if (partTo !== undefined) {
    const both = [range, `part of ${next.run}`].filter((part) => part !== '').join(' and ');
    return [
      `DONE, black bar: ${both}.`,
      `GRIND THE STOP, GO ON: run ${next.run}, ${place(partTo, next.side)}, go ${way}.`,
    ];
  }
  return [
    ...(done === 0 ? [] : [`DONE, black bar: ${range}.`]),
    `STRIKE ${done === 0 ? 'FIRST' : 'NEXT'}: run ${next.run}, ${place(next.fromS, next.side)}, go ${way}.`,
  ];
}

/** The legs to weld, square by square: what the gauge must show along the plate. */
function legs(context: Context, width: number, roomy: boolean): Block {
  const { fitting, plan } = context;
  const { display } = plan.job;
  const names = sideNames(fitting);
  // Sides with the same leg together: one figure to keep in mind.
  const bySize = new Map<string, string[]>();
  for (const side of fitting.weld.sides) {
    const size = cardCount(side.calledLegAlongPlate, display);
    bySize.set(size, [...(bySize.get(size) ?? []), bareSide(names[side.side])]);
  }
  const words = [...bySize].map(([size, sides]) => `${sides.join(' + ')} ${size}`);
  const count = Math.max(...fitting.weld.sides.map((side) => side.layers));
  const unit = display === 'us' ? 'in' : 'mm';
  const text = `LEG ${unit}: ${words.join(', ')}`;
  const layered = `LEG ${unit}, ${count} ${count === 1 ? 'layer' : 'layers'}: ${words.join(', ')}`;
  // On a full card how many layers it takes is said where it costs no line.
  const lines = (each: string) => richLines(context.fonts, each, width, RICH).length;
  return rich(context, [!roomy && lines(layered) > lines(text) ? text : layered], width);
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
    ['Ended: run, bead', 0.8, 'at', 1.2, 'from corner', 1.2],
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
