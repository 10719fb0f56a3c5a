import type { Side } from '../../geometry/fit/rootline.ts';
import type { FittingPlan } from '../plan/types.ts';
import { type Behind, type BehindKind, behindPlating, type Outlines, zoneOutline } from './behind.ts';
import type { Context } from './context.ts';
import { CENTRE, HIDDEN, type Item, type Pen, type Point, Sheet } from './drawing.ts';
import type { Layers } from './dxf.ts';
import { type FlatFoot, grown, toeOnShell } from './flatten.ts';
import { shortened, widthOf } from './fonts.ts';
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

export const cleanMargin = (context: Context): number => context.options.cleanMargin;

/**
 * The mark-out at true size as a diver sees it who looks at the shell with outboard upward; origin at the place itself.
 * @param aspect width over height of the room there is for it: where the job names what is behind, it is shown as far as that goes
 */
export function markoutItems(context: Context, flat: FlatFoot, aspect?: number): Item[] {
  const { plan } = context;
  const sheet = new Sheet(0, 0);
  const seen = (p: Point): Point => ({ x: flat.forwardSign * p.x, y: p.y });
  const outlines = outlinesOf(context, flat);
  const clean = outlines.clean.map(seen);
  const reach = {
    x: Math.max(...clean.map((p) => Math.abs(p.x))) + 8,
    y: Math.max(...clean.map((p) => Math.abs(p.y))) + 8,
  };
  if (aspect !== undefined && plan.job.ship.structure !== undefined) {
    reach.x = Math.max(reach.x, aspect * reach.y);
    reach.y = Math.max(reach.y, reach.x / aspect);
  }
  // What is shaded first: nothing is to be hidden by it.
  const about = behindOf(context, flat);
  for (const each of about.filter(({ kind }) => kind === 'keep clear')) drawBehind(sheet, context, each, seen, reach);
  sheet.path(outlines.footprint.map(seen), { width: 0.5 }, 'FOOTPRINT', true);
  sheet.path(outlines.toes.map(seen), { width: 0.3 }, 'WELD_TOES', true);
  sheet.path(clean, HIDDEN, 'CLEAN_ZONE', true);
  sheet.line(-reach.x, 0, reach.x, 0, CENTRE, 'CENTRE_LINES');
  sheet.line(0, -reach.y, 0, reach.y, CENTRE, 'CENTRE_LINES');
  const behind = spokenOf(context);
  const pen = BEHIND_PEN;
  if (behind.fromFrame !== undefined) {
    for (const k of [0, 1]) {
      const x = flat.forwardSign * (k * plan.job.steel.frameSpacing - behind.fromFrame);
      if (Math.abs(x) <= reach.x) sheet.line(x, -reach.y, x, reach.y, pen, 'FRAMES_BEHIND');
    }
  }
  if (behind.fromLongitudinal !== undefined) {
    for (const k of [0, 1]) {
      const y = k * plan.job.steel.longitudinalSpacing - behind.fromLongitudinal;
      if (Math.abs(y) <= reach.y) sheet.line(-reach.x, y, reach.x, y, pen, 'LONGITUDINALS_BEHIND');
    }
  }
  for (const each of about.filter(({ kind }) => kind !== 'keep clear')) drawBehind(sheet, context, each, seen, reach);
  return sheet.items;
}

const BEHIND_PEN: Pen = { width: 0.4, dash: [5, 2, 1, 2], grey: 0.4 };

function outlinesOf(context: Context, flat: FlatFoot): Outlines {
  const { fitting } = context;
  const toe = (side: Side) => toeOnShell(fitting, side);
  return {
    footprint: [...flat.root['face-'], ...flat.root['end+'], ...flat.root['face+'], ...flat.root['end-']],
    toes: grown(flat, toe),
    clean: grown(flat, (side) => toe(side) + cleanMargin(context)),
  };
}

/** What the job knows to be behind and on the plating about the place, the nearest to the weld first. */
export const behindOf = (context: Context, flat: FlatFoot): readonly Behind[] =>
  behindPlating(context.plan, context.fitting, flat, outlinesOf(context, flat));

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

/** A frame, longitudinal, seam or zone as far as it comes into the drawing, with its name along it. */
function drawBehind(sheet: Sheet, { fonts }: Context, each: Behind, seen: (p: Point) => Point, reach: Point): void {
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
  const longest = parts.sort((p, q) => lengthOf(q) - lengthOf(p))[0];
  const [a, b] = [longest?.[0], longest?.at(-1)];
  if (a === undefined || b === undefined) return;
  const words = shortened(fonts, `${zone ? 'KEEP CLEAR ' : ''}${plainText(each.name)}`, 7, 60);
  const style = { size: 7, bold: zone, layer } as const;
  if (zone) {
    // Along the upper edge of what is seen of it, outside of it where there is room: inside lies what is drawn there.
    const top = (longest ?? []).reduce((best, p) => (p.y > best.y ? p : best));
    const half = widthOf(fonts, words, 7, true) / 2;
    const x = Math.max(-reach.x + half, Math.min(reach.x - half, top.x));
    sheet.text(words, x, Math.min(top.y, reach.y) + 2, { ...style, align: 'centre' });
    return;
  }
  // At the left or the lower end, on the side towards the place, read from below or from the right.
  const upright = Math.abs(b.y - a.y) > Math.abs(b.x - a.x);
  const start = upright ? (a.y < b.y ? a : b) : a.x < b.x ? a : b;
  if (upright) sheet.text(words, start.x - 3, start.y + 4, { ...style, rotation: Math.PI / 2 });
  else sheet.text(words, start.x + 14, start.y + 3, style);
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
