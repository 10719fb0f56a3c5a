import { SIDES, type Side } from '../../geometry/fit/rootline.ts';
import { shellOf } from '../plan/plan.ts';
import type { FittingPlan } from '../plan/types.ts';
import { type Behind, type BehindKind, behindPlating, type Outlines, zoneOutline } from './behind.ts';
import type { Context } from './context.ts';
import { CENTRE, HIDDEN, type Item, type Pen, type Point, Sheet } from './drawing.ts';
import type { Layers } from './dxf.ts';
import { type FlatFoot, goesOver, grown, toeOnShell } from './flatten.ts';
import { shortened } from './fonts.ts';
import { clipped, within } from './planar.ts';
import { plainText } from './text.ts';

export const MARKOUT_LAYERS: Layers = {
  FOOTPRINT: 1,
  WELD_TOES: 3,
  CLEAN_ZONE: 5,
  CENTRE_LINES: 4,
  FRAMES_BEHIND: 8,
  LONGITUDINALS_BEHIND: 9,
  SEAMS: 6,
  KEEP_CLEAR: 1,
  CHECK_BAR: 2,
  TEXT: 7,
};

/** What the keel is called where it is drawn. */
export const KEEL_LINE = 'centreline, keel';

export const cleanMargin = (context: Context): number => context.options.cleanMargin;

/** A line of what is behind or on the plating as far as it is seen, with its name. Of a zone: its outline. */
export interface Named {
  readonly words: string;
  readonly zone: boolean;
  readonly layer: keyof typeof MARKOUT_LAYERS;
  /** The longest stretch that is seen of it. */
  readonly line: readonly Point[];
  /** What is seen of a zone, closed. */
  readonly ground?: readonly Point[];
}

/** The mark-out in lines at true size, mm from the place; the names of lines apart, to be put where there is room. */
export interface MarkoutLines {
  readonly items: readonly Item[];
  readonly names: readonly Named[];
  /** Half-width and half-height of what is shown. */
  readonly reach: Point;
  /** Outlines as seen, closed: what no word should stand over. */
  readonly outlines: Outlines;
  /** The girth and the fore-and-aft line through the place, as far as they are seen. */
  readonly centres: readonly (readonly Point[])[];
  readonly seen: (p: Point) => Point;
}

/** As a diver sees the flat shell who looks at it with outboard upward, then turned to the left by `turn` (rad). */
export function seenBy(flat: FlatFoot, turn = 0): (p: Point) => Point {
  const [c, s] = turn === 0 ? [1, 0] : [Math.cos(turn), Math.sin(turn)];
  return (p) => {
    const x = flat.forwardSign * p.x;
    return { x: c * x - s * p.y, y: s * x + c * p.y };
  };
}

/** Half-width and half-height that the clean metal takes, as seen. */
export function cleanReach(context: Context, flat: FlatFoot, turn = 0): Point {
  const clean = outlinesOf(context, flat).clean.map(seenBy(flat, turn));
  return { x: Math.max(...clean.map((p) => Math.abs(p.x))), y: Math.max(...clean.map((p) => Math.abs(p.y))) };
}

/** @param reach how far lines are followed about the place; a little past the clean metal where absent */
export function markoutLines(context: Context, flat: FlatFoot, turn = 0, reach?: Point): MarkoutLines {
  const { plan } = context;
  const sheet = new Sheet(0, 0);
  const seen = seenBy(flat, turn);
  const flatOutlines = outlinesOf(context, flat);
  const outlines: Outlines = {
    footprint: flatOutlines.footprint.map(seen),
    toes: flatOutlines.toes.map(seen),
    clean: flatOutlines.clean.map(seen),
  };
  const usual = cleanReach(context, flat, turn);
  const room = reach ?? { x: usual.x + 8, y: usual.y + 8 };
  const names: Named[] = [];
  const take = (named: Named | undefined): void => {
    if (named !== undefined) names.push(named);
  };
  // What is shaded first, then the bands of what is behind: nothing is to be hidden by them.
  const about = behindOf(context, flat);
  for (const each of about.filter(({ kind }) => kind === 'keep clear')) take(drawBehind(sheet, each, seen, room));
  const far = Math.hypot(room.x, room.y);
  /** A straight line across all that is shown, at a distance along or round. */
  const across = (way: 'along' | 'round', off: number): Point[] => {
    const ends =
      way === 'along'
        ? [seen({ x: off, y: -far }), seen({ x: off, y: far })]
        : [seen({ x: -far, y: off }), seen({ x: far, y: off })];
    return clipped(ends, room)[0] ?? [];
  };
  const behind = spokenOf(context);
  const spoken = (way: 'along' | 'round', off: number, words: string, layer: keyof typeof MARKOUT_LAYERS): void => {
    const line = across(way, off);
    if (line.length < 2) return;
    sheet.path(line, BEHIND_PEN, layer);
    names.push({ words, zone: false, layer, line });
  };
  // The one that the job tells, and its neighbours by the spacing: where the lug stands on one, the next either way.
  for (const k of [-1, 0, 1]) {
    const by = k === 0 ? '' : ', by spacing';
    if (behind.fromFrame !== undefined)
      spoken('along', k * plan.job.steel.frameSpacing - behind.fromFrame, `frame${by}`, 'FRAMES_BEHIND');
    if (behind.fromLongitudinal !== undefined) {
      const off = k * plan.job.steel.longitudinalSpacing - behind.fromLongitudinal;
      // Beyond the keel the spacing does not go on: there it is the other side's.
      if (k < 0 && hasKeel(context) && context.fitting.anchor.girth + off < 0) continue;
      spoken('round', off, `longitudinal${by}`, 'LONGITUDINALS_BEHIND');
    }
  }
  const member = ({ kind }: Behind) => kind === 'frame' || kind === 'longitudinal';
  for (const each of about.filter(member)) take(drawBehind(sheet, each, seen, room));
  const cut = (outline: readonly Point[], pen: Pen, layer: keyof typeof MARKOUT_LAYERS): void => {
    const whole = outline.every((p) => Math.abs(p.x) <= room.x && Math.abs(p.y) <= room.y);
    if (whole) sheet.path(outline, pen, layer, true);
    else for (const part of clipped([...outline, outline[0] as Point], room)) sheet.path(part, pen, layer);
  };
  cut(outlines.footprint, { width: 0.5 }, 'FOOTPRINT');
  cut(outlines.toes, { width: 0.3 }, 'WELD_TOES');
  cut(outlines.clean, HIDDEN, 'CLEAN_ZONE');
  const centres = (['round', 'along'] as const).map((way) => across(way, 0));
  for (const line of centres) sheet.path(line, CENTRE, 'CENTRE_LINES');
  for (const each of about.filter(({ kind }) => kind === 'seam')) take(drawBehind(sheet, each, seen, room));
  const keel = hasKeel(context) ? across('round', -context.fitting.anchor.girth) : [];
  if (keel.length > 1) {
    sheet.path(keel, { width: 0.35 }, 'CENTRE_LINES');
    names.push({ words: KEEL_LINE, zone: false, layer: 'CENTRE_LINES', line: keel });
  }
  return { items: sheet.items, names, reach: room, outlines, centres, seen };
}

/** The mark-out at true size with outboard upward, origin at the place itself, names at the ends of their lines: for a drawing file. */
export function markoutItems(context: Context, flat: FlatFoot): Item[] {
  const { items, names, reach } = markoutLines(context, flat);
  const sheet = new Sheet(0, 0);
  sheet.add(items);
  for (const { words, zone, layer, line } of names) {
    const text = shortened(context.fonts, words, 8, 60);
    const style = { size: 8, bold: zone, layer } as const;
    const [a, b] = [line[0] as Point, line.at(-1) as Point];
    if (zone) {
      const top = line.reduce((best, p) => (p.y > best.y ? p : best));
      sheet.text(text, Math.max(-reach.x, Math.min(reach.x, top.x)), Math.min(top.y, reach.y) + 2, {
        ...style,
        align: 'centre',
      });
      continue;
    }
    const upright = Math.abs(b.y - a.y) > Math.abs(b.x - a.x);
    const start = upright ? (a.y < b.y ? a : b) : a.x < b.x ? a : b;
    if (upright) sheet.text(text, start.x - 1, start.y + 1, { ...style, rotation: Math.PI / 2 });
    else sheet.text(text, start.x + 1, start.y + 1, style);
  }
  return sheet.items;
}

/** Whether the shell goes on over the keel where the place is. */
export const hasKeel = ({ plan, fitting: { anchor } }: Context): boolean =>
  goesOver(shellOf(plan.job.ship.hull), anchor.station, anchor.side);

/** A frame or longitudinal behind: a band so wide and light that a line on it, a centre line above all, is still seen as another. */
const BEHIND_PEN: Pen = { width: 1.5, grey: 0.7 };

const bandKinds = ({ names }: Pick<MarkoutLines, 'names'>): string =>
  [
    ...(names.some(({ layer }) => layer === 'FRAMES_BEHIND') ? ['frame'] : []),
    ...(names.some(({ layer }) => layer === 'LONGITUDINALS_BEHIND') ? ['longitudinal'] : []),
  ].join(' or ');

/** What the bands are, for under a picture; nothing where there is none. */
export function bandWords(lines: Pick<MarkoutLines, 'names'>): string {
  const kinds = bandKinds(lines);
  return kinds === '' ? '' : `Grey band: ${kinds} behind the plating, measured to its middle.`;
}

/** The same for a list of lines at true size. */
export function bandShort(lines: Pick<MarkoutLines, 'names'>): readonly string[] {
  const kinds = bandKinds(lines);
  return kinds === '' ? [] : [`grey band: ${kinds} behind`];
}

function outlinesOf(context: Context, flat: FlatFoot): Outlines {
  const { fitting } = context;
  const toe = (side: Side) => toeOnShell(fitting, side);
  return {
    footprint: SIDES.flatMap((side) => flat.root[side]),
    toes: grown(flat, toe),
    clean: grown(flat, (side) => toe(side) + cleanMargin(context)),
  };
}

const found = new WeakMap<FittingPlan, Map<number, readonly Behind[]>>();

/** What the job knows to be behind and on the plating about the place, the nearest to the weld first. Found once for a fitting. */
export function behindOf(context: Context, flat: FlatFoot): readonly Behind[] {
  const kept = found.get(context.fitting) ?? new Map<number, readonly Behind[]>();
  found.set(context.fitting, kept);
  const margin = cleanMargin(context);
  const list = kept.get(margin) ?? behindPlating(context.plan, context.fitting, flat, outlinesOf(context, flat));
  kept.set(margin, list);
  return list;
}

/** What the fitting itself says of frame and longitudinal, where the ship's structure does not name them. */
function spokenOf({ plan, fitting }: Context): NonNullable<FittingPlan['input']['behind']> {
  const { structure } = plan.job.ship;
  const { fromFrame, fromLongitudinal } = fitting.input.behind ?? {};
  return {
    ...(fromFrame === undefined || (structure?.frames.length ?? 0) > 0 ? {} : { fromFrame }),
    ...(fromLongitudinal === undefined || (structure?.longitudinals.length ?? 0) > 0 ? {} : { fromLongitudinal }),
  };
}

/** Grey of the inside of a zone to keep clear, on paper. */
const SHADE = 0.88;

const DRAWN: Readonly<Record<BehindKind, { readonly layer: keyof typeof MARKOUT_LAYERS; readonly pen: Pen }>> = {
  frame: { layer: 'FRAMES_BEHIND', pen: BEHIND_PEN },
  longitudinal: { layer: 'LONGITUDINALS_BEHIND', pen: BEHIND_PEN },
  seam: { layer: 'SEAMS', pen: { width: 0.6, dash: [1, 1] } },
  'keep clear': { layer: 'KEEP_CLEAR', pen: { width: 0.6 } },
};

/** A frame, longitudinal, seam or zone as far as it comes into the drawing; what is seen of it, with its name. */
function drawBehind(sheet: Sheet, each: Behind, seen: (p: Point) => Point, reach: Point): Named | undefined {
  const { layer, pen } = DRAWN[each.kind];
  const zone = each.radius > 0;
  const outline = (zone ? zoneOutline(each) : each.line).map(seen);
  const parts = clipped(zone ? [...outline, outline[0] as Point] : outline, reach);
  const whole = parts.length === 1 && parts[0]?.length === outline.length + 1;
  const centre = seen(each.line[0] as Point);
  const shaded = zone ? within(outline, reach) : [];
  if (shaded.length > 2) sheet.path(shaded, undefined, layer, true, SHADE);
  if (zone && each.line.length === 1 && whole) sheet.circle(centre.x, centre.y, each.radius, pen, undefined, layer);
  else for (const part of parts) sheet.path(part, pen, layer);
  const line = parts.sort((p, q) => lengthOf(q) - lengthOf(p))[0];
  if (line === undefined || line.length < 2) return undefined;
  const words = `${zone ? 'KEEP CLEAR ' : ''}${plainText(each.name)}`;
  return { words, zone, layer, line, ...(zone ? { ground: shaded } : {}) };
}

const lengthOf = (line: readonly Point[]): number =>
  line.slice(1).reduce((sum, q, i) => sum + Math.hypot(q.x - (line[i] as Point).x, q.y - (line[i] as Point).y), 0);

/** Half-width and half-height that lines about the origin take, mm. */
export function extent(items: readonly Item[]): { x: number; y: number } {
  let x = 0;
  let y = 0;
  for (const item of items) {
    if (item.kind !== 'path') continue;
    for (const p of item.points) {
      x = Math.max(x, Math.abs(p.x));
      y = Math.max(y, Math.abs(p.y));
    }
  }
  return { x, y };
}
