import type { Display } from '../job/types.ts';
import type { Context } from './context.ts';
import { type Item, MM_PER_POINT, type Point, Sheet, scaled, THIN } from './drawing.ts';
import { fixed } from './figures.ts';
import { type FlatFoot, otherSide } from './flatten.ts';
import { type Fonts, shortened, widthOf } from './fonts.ts';
import { bandWords, cleanReach, hasKeel, type MarkoutLines, markoutLines, type Named } from './markout-drawing.ts';
import { roundWords } from './markout-ways.ts';
import { clipped, inside } from './planar.ts';

/** Scales as a rule has them and those between, 1 to so many. */
const SCALES = [1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12.5, 15, 20, 25, 30, 40, 50, 75, 100];
/** mm. Strips over and under the drawing for the words at its edges, and what is left at its sides. */
export const STRIP = 7.5;
export const SIDE = 3;
/** Points. */
const TYPE = 8;

/** How a picture of the mark-out is laid out: to what scale, how high with its strips, turned or not. */
export interface PictureLayout {
  /** mm on the shell to a mm of paper. */
  readonly scale: number;
  readonly height: number;
  /** Quarter turn to the right that brings a foot round the girth across the page. */
  readonly turned: boolean;
}

/** A picture that outboard does not stand at the top of has to be larger by this much to be worth it. */
const WORTH_TURNING = 1.25;

/** The largest picture of the mark-out that the width and the greatest height permit, upright or turned by a quarter. */
export function pictureLayout(context: Context, flat: FlatFoot, width: number, most: number): PictureLayout {
  const lay = (turned: boolean): PictureLayout => {
    const need = cleanReach(context, flat, turned ? -Math.PI / 2 : 0);
    const room = { x: width / 2 - SIDE, y: most / 2 - STRIP };
    const least = Math.max((need.x + 4) / room.x, (need.y + 4) / room.y);
    const scale = SCALES.find((each) => each >= least) ?? Math.ceil(least);
    return { scale, height: Math.min(most, 2 * ((need.y + 6) / scale + STRIP)), turned };
  };
  const [upright, turned] = [lay(false), lay(true)];
  return WORTH_TURNING * turned.scale <= upright.scale ? turned : upright;
}

/** A scale for a picture of all that is about the place, mm either way, never larger than the mark-out itself needs. */
export function wideLayout(
  context: Context,
  flat: FlatFoot,
  width: number,
  height: number,
  about: number,
): PictureLayout {
  const need = cleanReach(context, flat);
  const room = { x: width / 2 - SIDE, y: height / 2 - STRIP };
  const least = Math.max(about / room.x, (need.x + 30) / room.x, (need.y + 30) / room.y);
  return { scale: SCALES.find((each) => each >= least) ?? Math.ceil(least), height, turned: false };
}

/** The mark-out as far as a picture so wide shows it. */
function linesIn(context: Context, flat: FlatFoot, { scale, height, turned }: PictureLayout, width: number) {
  const reach = { x: (width / 2 - SIDE) * scale, y: (height / 2 - STRIP) * scale };
  return markoutLines(context, flat, turned ? -Math.PI / 2 : 0, reach);
}

/** What the bands in a picture so wide are; nothing where it shows none. */
export const bandsIn = (context: Context, flat: FlatFoot, layout: PictureLayout, width: number): string =>
  bandWords(linesIn(context, flat, layout, width));

/** Draws the picture with its frame, the words at its edges, the numbers of the corners, names, and a bar to its scale. */
export function drawPicture(
  sheet: Sheet,
  context: Context,
  flat: FlatFoot,
  layout: PictureLayout,
  box: { readonly x: number; readonly y: number; readonly width: number },
  numbers = true,
): void {
  const { scale, height, turned } = layout;
  const { x, y, width } = box;
  const k = 1 / scale;
  const lines = linesIn(context, flat, layout, width);
  const middle = { x: x + width / 2, y: y + height / 2 };
  sheet.rect(x, y, width, height, THIN);
  sheet.add(scaled(lines.items, k, middle.x, middle.y));
  edgeWords(sheet, edgesOf(context, flat, turned, turned ? lines.reach.x : lines.reach.y), x, y, width, height);
  const { display } = context.plan.job;
  sheet.text(`seen from the water, scale 1:${fixed(scale, Number.isInteger(scale) ? 0 : 1)}`, x + 2, y + 2.2, {
    size: TYPE,
  });
  scaleBar(sheet, display, scale, x + width - 2, y + 2.2);
  const taken: Box[] = [];
  const marks = numbers ? cornerMarks(flat, lines, k) : [];
  for (const { at } of marks) taken.push({ x0: at.x - 2.8, y0: at.y - 2.8, x1: at.x + 2.8, y1: at.y + 2.8 });
  const o = oSpot(lines, k);
  taken.push({ x0: o.x - 2, y0: o.y - 2, x1: o.x + 2, y1: o.y + 2 });
  sheet.add(scaled(namesOf(context.fonts, lines, k, taken), 1, middle.x, middle.y));
  for (const { number, corner, at } of marks) {
    sheet.circle(middle.x + corner.x, middle.y + corner.y, 0.7, undefined, 0);
    sheet.circle(middle.x + at.x, middle.y + at.y, 2.6, { width: 0.3 }, 1);
    sheet.text(number, middle.x + at.x, middle.y + at.y - 1.25, { size: 9, bold: true, align: 'centre' });
  }
  sheet.circle(middle.x, middle.y, 0.8, undefined, 0);
  if (numbers) {
    sheet.circle(middle.x + o.x, middle.y + o.y, 1.9, undefined, 1);
    sheet.text('O', middle.x + o.x, middle.y + o.y - 1.25, { size: 9, bold: true, align: 'centre' });
  }
}

/** What lies at the four edges, clockwise from the top. @param inward mm that are shown on the side of the keel: beyond it the other side begins */
export function edgesOf(
  context: Context,
  flat: FlatFoot,
  turned: boolean,
  inward: number,
): readonly [string, string, string, string] {
  const { anchor } = context.fitting;
  const over = anchor.girth < inward && hasKeel(context);
  const { outEdge, inEdge } = roundWords(context.fitting);
  const keel = over ? `TO ${otherSide(anchor.side).toUpperCase()}` : inEdge;
  const [left, right] = flat.forwardSign === 1 ? ['AFT', 'FORWARD'] : ['FORWARD', 'AFT'];
  // Turned to the right, what was at the left is at the top.
  return turned ? [left as string, outEdge, right as string, keel] : [outEdge, right as string, keel, left as string];
}

function edgeWords(
  sheet: Sheet,
  [top, right, bottom, left]: readonly [string, string, string, string],
  x: number,
  y: number,
  width: number,
  height: number,
): void {
  const bold = { size: 9, bold: true } as const;
  const high = y + height - 5;
  sheet.text(`◄ ${left}`, x + 2, high, bold);
  sheet.text(`▲ ${top}`, x + width / 2, high, { ...bold, align: 'centre' });
  sheet.text(`${right} ►`, x + width - 2, high, { ...bold, align: 'right' });
  sheet.text(`▼ ${bottom}`, x + width / 2, y + 2.2, { ...bold, align: 'centre' });
}

/** A bar that is 100 mm (4 in) on the shell, or more where that would be short on paper; its right end at x. */
function scaleBar(sheet: Sheet, display: Display, scale: number, right: number, y: number): void {
  const us = display === 'us';
  const unit = us ? 25.4 : 1;
  const length =
    (us ? [4, 12, 24, 48] : [100, 200, 500, 1000]).find((each) => (each * unit) / scale >= 18) ?? (us ? 48 : 1000);
  const long = (length * unit) / scale;
  const text = us ? `${length} in` : `${length} mm`;
  sheet.line(right - long, y + 1.2, right, y + 1.2, { width: 0.5 }, 'CHECK_BAR');
  for (const at of [right - long, right]) sheet.line(at, y, at, y + 2.4, { width: 0.3 }, 'CHECK_BAR');
  sheet.text(text, right - long - 1.5, y, { size: TYPE, align: 'right', layer: 'CHECK_BAR' });
}

interface Box {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

/** Corners with their numbers, paper mm from the place: each number outside of the weld, off its corner. */
export function cornerMarks(flat: FlatFoot, { seen }: Pick<MarkoutLines, 'seen'>, k: number) {
  const points = flat.corners.map((corner) => {
    const p = seen(corner);
    return { x: k * p.x, y: k * p.y };
  });
  return points.map((corner, i) => {
    // Away from the middle of the two sides that meet there.
    const before = points[(i + 3) % 4] as Point;
    const after = points[(i + 1) % 4] as Point;
    const unit = (p: Point): Point => {
      const long = Math.hypot(corner.x - p.x, corner.y - p.y) || 1;
      return { x: (corner.x - p.x) / long, y: (corner.y - p.y) / long };
    };
    const [u, v] = [unit(before), unit(after)];
    return { number: String(i + 1), corner, at: { x: corner.x + 4.6 * (u.x + v.x), y: corner.y + 4.6 * (u.y + v.y) } };
  });
}

/** Beside the place, off the centre lines and off what else crosses there. */
export function oSpot(lines: MarkoutLines, k: number): Point {
  const spots = [1, 3, 5, 7, 2, 0, 4, 6].map((eighth) => {
    const angle = (eighth * Math.PI) / 4;
    return { x: 4.1 * Math.cos(angle), y: 3.7 * Math.sin(angle) };
  });
  const near = [lines.outlines.footprint, ...lines.centres, ...lines.names.map((name) => name.line)];
  const over = (at: Point) =>
    near.filter((line) => crosses(line, { x0: at.x - 1.8, y0: at.y - 1.8, x1: at.x + 1.8, y1: at.y + 1.8 }, k)).length;
  return spots.reduce((best, at) => (over(at) < over(best) ? at : best));
}

/** Whether a line (drawing mm) comes into a box (paper mm). */
export function crosses(line: readonly Point[], { x0, y0, x1, y1 }: Box, k: number): boolean {
  const [cx, cy] = [(x0 + x1) / 2, (y0 + y1) / 2];
  const moved = line.map((p) => ({ x: k * p.x - cx, y: k * p.y - cy }));
  return clipped(moved, { x: (x1 - x0) / 2, y: (y1 - y0) / 2 }).length > 0;
}

/** Longest name, mm of paper: what is longer is cut short. */
const LONGEST = { line: 38, zone: 60 };

/**
 * The name of each line beside it where it runs over nothing else: near an end first, outside of the clean metal. One that finds no
 * such place is put where it runs over least, never over another word; on white, unless told not to.
 */
export function namesOf(fonts: Fonts, lines: MarkoutLines, k: number, taken: Box[], white = true): Item[] {
  const sheet = new Sheet(0, 0);
  const { footprint, toes, clean } = lines.outlines;
  const closed = [footprint, toes, clean].map((outline) => [...outline, outline[0] as Point]);
  const zones = lines.names.flatMap(({ ground }) => (ground?.[0] === undefined ? [] : [[...ground, ground[0]]]));
  for (const name of lines.names) {
    const words = shortened(fonts, name.words, TYPE, LONGEST[name.zone ? 'zone' : 'line'], name.zone);
    const places = placesAlong(name, k, widthOf(fonts, words, TYPE, name.zone), lines.reach);
    const off = (box: Box) => taken.every((t) => box.x1 < t.x0 || box.x0 > t.x1 || box.y1 < t.y0 || box.y0 > t.y1);
    const others = lines.names.filter((other) => other !== name && !other.zone).map((other) => other.line);
    const free = places.filter(({ box }) => off(box));
    // Its own line too, under which a word pushed in from the edge may come.
    const lined = [...lines.centres, ...others, ...(name.zone ? [] : [name.line])];
    // The words of a zone belong in it, where they fit.
    const astray = (box: Box) => (name.ground !== undefined && !inside(middleOf(box, k), name.ground) ? 1.5 : 0);
    const over = ({ box }: { readonly box: Box }) =>
      [...lined, ...zones].filter((line) => crosses(line, box, k)).length +
      closed.filter((line) => crosses(line, wider(box), k)).length +
      (inside(middleOf(box, k), clean) ? 0.5 : 0) +
      astray(box);
    const [place] = free.map((each) => ({ ...each, over: over(each) })).sort((p, q) => p.over - q.over);
    // Where no word fits without standing on another it is left to the table.
    if (place === undefined) continue;
    taken.push(place.box);
    const { x0, y0, x1, y1 } = place.box;
    if (white && !name.zone) sheet.rect(x0, y0, x1 - x0, y1 - y0, undefined, 1, 'TEXT');
    const at = place.upright ? { x: x1 - 0.9, y: y0 + 0.3 } : { x: x0 + 0.3, y: y0 + 0.9 };
    sheet.text(words, at.x, at.y, {
      size: TYPE,
      bold: name.zone,
      layer: name.layer,
      rotation: place.upright ? Math.PI / 2 : 0,
    });
  }
  return sheet.items;
}

/** mm. What a word keeps off an outline that it might be taken for a part of. */
const CLEAR = 0.8;
const wider = ({ x0, y0, x1, y1 }: Box): Box => ({ x0: x0 - CLEAR, y0: y0 - CLEAR, x1: x1 + CLEAR, y1: y1 + CLEAR });

const middleOf = ({ x0, y0, x1, y1 }: Box, k: number): Point => ({ x: (x0 + x1) / 2 / k, y: (y0 + y1) / 2 / k });

/** Where words are tried along a line, of its length, the ends first; mm that they keep off its middle: a band's half and as much clear. */
const SHARES = Array.from({ length: 25 }, (_, i) => [0.02 * (i + 1), 1 - 0.02 * (i + 1)]).flat();
const BAND_OFF = 1.2;

/** Boxes for words along a line, either side of it, within what is shown: upright ones beside lines that stand. */
function placesAlong(name: Named, k: number, width: number, reach: Point): { box: Box; upright: boolean }[] {
  const line = name.line.map((p) => ({ x: k * p.x, y: k * p.y }));
  const [a, b] = [line[0] as Point, line.at(-1) as Point];
  const upright = !name.zone && Math.abs(b.y - a.y) > Math.abs(b.x - a.x);
  const high = TYPE * MM_PER_POINT + 0.9;
  const long = width + 0.6;
  const out: { box: Box; upright: boolean }[] = [];
  for (const at of withinGround(name, k, long, high)) {
    out.push({ box: { x0: at.x - long / 2, y0: at.y - high / 2, x1: at.x + long / 2, y1: at.y + high / 2 }, upright });
  }
  for (const share of SHARES) {
    const p = pointAlong(line, share);
    for (const side of [1, -1]) {
      // Off the line and its band, the more the more it slants.
      const slant = upright ? Math.abs((b.x - a.x) / (b.y - a.y || 1)) : Math.abs((b.y - a.y) / (b.x - a.x || 1));
      const away = BAND_OFF + (high + Math.min(slant, 1) * long) / 2;
      const centre = upright ? { x: p.x + side * away, y: p.y } : { x: p.x, y: p.y + side * away };
      const [w, h] = upright ? [high, long] : [long, high];
      const cx = clamp(centre.x, k * reach.x - w / 2);
      const cy = clamp(centre.y, k * reach.y - h / 2);
      out.push({ box: { x0: cx - w / 2, y0: cy - h / 2, x1: cx + w / 2, y1: cy + h / 2 }, upright });
    }
  }
  return upright ? [...out, ...lyingBeside(line, long, high, { x: k * reach.x, y: k * reach.y })] : out;
}

/** Words that lie, their end at a line that stands, paper mm: where there is no room along it. */
function lyingBeside(
  line: readonly Point[],
  long: number,
  high: number,
  reach: Point,
): { box: Box; upright: boolean }[] {
  const [a, b] = [line[0] as Point, line.at(-1) as Point];
  const off = BAND_OFF + (Math.min(1, Math.abs((b.x - a.x) / (b.y - a.y || 1))) * high) / 2;
  return SHARES.flatMap((share) => {
    const p = pointAlong(line, share);
    return [1, -1].flatMap((side) => {
      const x0 = side === 1 ? p.x + off : p.x - off - long;
      const y0 = clamp(p.y, reach.y - high / 2) - high / 2;
      return x0 < -reach.x || x0 + long > reach.x
        ? []
        : [{ box: { x0, y0, x1: x0 + long, y1: y0 + high }, upright: false }];
    });
  });
}

/** Middles of places for words that stand wholly within a zone, the nearest to its own middle first; none where it is too small. */
function withinGround({ ground }: Named, k: number, long: number, high: number): Point[] {
  if (ground === undefined || ground.length < 3) return [];
  const [xs, ys] = [ground.map((p) => k * p.x), ground.map((p) => k * p.y)];
  const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const fits = (p: Point): boolean =>
    [-1, 0, 1].every((i) =>
      [-1, 1].every((j) => inside({ x: (p.x + (i * long) / 2) / k, y: (p.y + j * (high / 2 + 0.5)) / k }, ground)),
    );
  const out: Point[] = [];
  const middle = { x: (x0 + x1) / 2, y: (y0 + y1) / 2 };
  for (let x = x0 + long / 2; x <= x1 - long / 2; x += 4)
    for (let y = y0 + high; y <= y1 - high; y += 3) if (fits({ x, y })) out.push({ x, y });
  const far = (p: Point) => Math.hypot(p.x - middle.x, p.y - middle.y);
  return out.sort((p, q) => far(p) - far(q));
}

const clamp = (value: number, most: number): number => Math.max(-most, Math.min(most, value));

function pointAlong(line: readonly Point[], share: number): Point {
  const lengths = line.slice(1).map((q, i) => Math.hypot(q.x - (line[i] as Point).x, q.y - (line[i] as Point).y));
  let left = share * lengths.reduce((sum, each) => sum + each, 0);
  for (const [i, each] of lengths.entries()) {
    const [p, q] = [line[i], line[i + 1]] as [Point, Point];
    if (left <= each && each > 0) return { x: p.x + ((q.x - p.x) * left) / each, y: p.y + ((q.y - p.y) * left) / each };
    left -= each;
  }
  return line.at(-1) as Point;
}
