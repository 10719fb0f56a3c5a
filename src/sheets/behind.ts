import type { HullSide } from '../../geometry/hull/shell.ts';
import type { Frame, ShellSpot } from '../job/structuretypes.ts';
import { shellOf } from '../plan/plan.ts';
import type { FittingPlan, Plan } from '../plan/types.ts';
import type { Point } from './drawing.ts';
import { type FlatFoot, flatSpot, goesOver, otherSide } from './flatten.ts';
import { band, clearance, clipped } from './planar.ts';

/*
 * What the job knows to be behind and on the plating about a fitting, laid flat with the foot: x forward along the shell, y outward
 * along the girth, mm from the place. Places on a shell that bends both ways are as true as the flat mark-out is.
 */

export type BehindKind = 'frame' | 'longitudinal' | 'seam' | 'keep clear';

export interface Behind {
  readonly kind: BehindKind;
  readonly name: string;
  /** Lines as far as they were followed; of a zone to keep clear, its middle line, or one point for a disc. */
  readonly line: readonly Point[];
  /** Half-width of a zone to keep clear; 0 for what is a line. */
  readonly radius: number;
  /** From the place: where the line meets the girth of the place (along), and its station (round); of a disc, its centre. */
  readonly along?: number;
  readonly round?: number;
  /** mm from the weld toes, less than nothing where it reaches in. */
  readonly clear: number;
  /** The innermost of the outlines that it crosses or lies in. */
  readonly crosses: 'footprint' | 'weld' | 'clean zone' | null;
}

/** Closed outlines about the place, flat: the foot's print, the weld toes, the clean metal. */
export interface Outlines {
  readonly footprint: readonly Point[];
  readonly toes: readonly Point[];
  readonly clean: readonly Point[];
}

/** mm. What is farther off is not followed: no tape is laid from it. */
const WINDOW = 1500;
/** mm between points along a line whose course on the flat is not straight. */
const STEP = 75;

/** How far the place is forward of a frame, mm: less than nothing where the frame is the one forward of the two. */
export interface FromFrame {
  readonly name: string;
  readonly along: number;
  /** Measured along the shell; else, beyond the shell's data, along the ship. */
  readonly onShell: boolean;
}

/** Nearest frame abaft the place (or at it) and nearest forward of it, as far as the job knows them. */
export function framesAbout(
  plan: Plan,
  fitting: FittingPlan,
): { readonly abaft?: FromFrame; readonly fore?: FromFrame } {
  const frames = plan.job.ship.structure?.frames ?? [];
  const { station } = fitting.anchor;
  const abaft = frames.filter((frame) => frame.station <= station).at(-1);
  const fore = frames.find((frame) => frame.station > station);
  return {
    ...(abaft === undefined ? {} : { abaft: fromFrame(plan, fitting, abaft, fitting.anchor.girth) }),
    ...(fore === undefined ? {} : { fore: fromFrame(plan, fitting, fore, fitting.anchor.girth) }),
  };
}

/** mm. A frame farther off is none to lay a tape from: the aft perpendicular does as well. */
const TAPE = 2000;

/** The frame that a place is given from: the nearer of the two; undefined where the job names none near enough. */
export function nearestFrame(plan: Plan, fitting: FittingPlan): FromFrame | undefined {
  const { abaft, fore } = framesAbout(plan, fitting);
  const far = (frame: FromFrame | undefined) => (frame === undefined ? Infinity : Math.abs(frame.along));
  const nearer = far(fore) < far(abaft) ? fore : abaft;
  return far(nearer) <= TAPE ? nearer : undefined;
}

/** How far a place at this girth abreast of `along` (mm forward of the anchor) is forward of a frame. */
export function fromFrameAt(plan: Plan, fitting: FittingPlan, name: string, spot: Point): FromFrame | undefined {
  const frame = plan.job.ship.structure?.frames.find((each) => each.name === name);
  if (frame === undefined) return undefined;
  const at = fromFrame(plan, fitting, frame, fitting.anchor.girth + spot.y);
  return { ...at, along: at.along + spot.x };
}

function fromFrame(plan: Plan, fitting: FittingPlan, frame: Frame, girth: number): FromFrame {
  const spot = flatSpot(plan, fitting, frame.station, girth);
  const { name } = frame;
  if (spot === undefined) return { name, along: fitting.anchor.station - frame.station, onShell: false };
  return { name, along: -spot.x, onShell: true };
}

/** Everything within reach of the place, on both sides of the keel where that is near, the nearest first. */
export function behindPlating(plan: Plan, fitting: FittingPlan, flat: FlatFoot, outlines: Outlines): Behind[] {
  const { structure } = plan.job.ship;
  if (structure === undefined) return [];
  const { anchor } = fitting;
  const spot = (station: number, girth: number) => flatSpot(plan, fitting, station, girth);
  const near = { x: WINDOW, y: WINDOW };
  /** A way straight in station and girth, on the flat: as far as it lies in the window and on the shell. */
  const way = (from: ShellSpot, to: ShellSpot): Point[] => {
    const [piece] = clipped(
      [from, to].map((p) => ({ x: p.station - anchor.station, y: p.girth - anchor.girth })),
      near,
    );
    if (piece === undefined) return [];
    const [p, q] = piece as [Point, Point];
    const n = Math.max(1, Math.ceil(Math.hypot(q.x - p.x, q.y - p.y) / STEP));
    return Array.from({ length: n + 1 }, (_, k) =>
      spot(anchor.station + p.x + ((q.x - p.x) * k) / n, anchor.girth + p.y + ((q.y - p.y) * k) / n),
    ).filter((at) => at !== undefined);
  };
  const found: Behind[] = [];
  const take = (kind: BehindKind, name: string, line: readonly Point[], radius = 0): void => {
    if (line.length === 0) return;
    const clear = clearance(line, outlines.toes) - radius;
    const reaches = (outline: readonly Point[]) => clearance(line, outline) - radius <= 0;
    const crosses = reaches(outlines.footprint)
      ? 'footprint'
      : clear <= 0
        ? 'weld'
        : reaches(outlines.clean)
          ? 'clean zone'
          : null;
    const along = line.length === 1 ? line[0]?.x : whereCrossing(line, 'y', 'x');
    const round = line.length === 1 ? line[0]?.y : whereCrossing(line, 'x', 'y');
    found.push({
      kind,
      name,
      line,
      radius,
      clear,
      crosses,
      ...(along === undefined ? {} : { along }),
      ...(round === undefined ? {} : { round }),
    });
  };
  const tall = Math.max(...flat.corners.map((p) => Math.abs(p.y))) + 600;
  for (const frame of structure.frames) {
    if (Math.abs(frame.station - anchor.station) > WINDOW) continue;
    const at = { station: frame.station };
    take('frame', frame.name, way({ ...at, girth: anchor.girth - tall }, { ...at, girth: anchor.girth + tall }));
  }
  const shell = shellOf(plan.job.ship.hull);
  const over = anchor.girth < WINDOW && goesOver(shell, anchor.station, anchor.side);
  const sides = over ? [anchor.side, otherSide(anchor.side)] : [anchor.side];
  for (const side of sides) {
    // Girth counted on over the keel, and a name that says which of two it is.
    const sign = side === anchor.side ? 1 : -1;
    const here = (item: { readonly side?: HullSide }): boolean => item.side === undefined || item.side === side;
    const laid = ({ station, girth }: ShellSpot): ShellSpot => ({ station, girth: sign * girth });
    const called = (name: string) => (sign > 0 ? name : `${name}, ${side}`);
    for (const l of structure.longitudinals) {
      const girth = sign * l.girth;
      // On the keel itself it is one, not two.
      if (!here(l) || Math.abs(girth - anchor.girth) > WINDOW || (sign < 0 && l.girth === 0)) continue;
      const from = Math.max(l.from ?? -Infinity, anchor.station - WINDOW);
      const to = Math.min(l.to ?? Infinity, anchor.station + WINDOW);
      if (from < to) take('longitudinal', called(l.name), way({ station: from, girth }, { station: to, girth }));
    }
    for (const seam of structure.seams) {
      if (here(seam)) take('seam', called(seam.name), way(laid(seam.from), laid(seam.to)));
    }
    for (const zone of structure.keepClear) {
      if (!here(zone)) continue;
      if (zone.to !== undefined) {
        take('keep clear', called(zone.name), way(laid(zone.from), laid(zone.to)), zone.radius);
        continue;
      }
      const at = laid(zone.from);
      const away = Math.hypot(at.station - anchor.station, at.girth - anchor.girth);
      const centre = away > WINDOW + zone.radius ? undefined : spot(at.station, at.girth);
      if (centre !== undefined) take('keep clear', called(zone.name), [centre], zone.radius);
    }
  }
  return found.sort((p, q) => p.clear - q.clear);
}

/** Value of `what` where a line passes zero of `at`, the nearest to nothing of several; undefined where it does not. */
function whereCrossing(line: readonly Point[], at: 'x' | 'y', what: 'x' | 'y'): number | undefined {
  let best: number | undefined;
  for (let i = 0; i + 1 < line.length; i++) {
    const [p, q] = [line[i], line[i + 1]] as [Point, Point];
    if (p[at] * q[at] > 0 || p[at] === q[at]) continue;
    const value = p[what] - (p[at] * (q[what] - p[what])) / (q[at] - p[at]);
    if (best === undefined || Math.abs(value) < Math.abs(best)) best = value;
  }
  return best;
}

/** Outline of a zone to keep clear, flat; of a disc too. Not for lines. */
export function zoneOutline({ line, radius }: Behind): Point[] {
  return band(line[0] as Point, line.at(-1) as Point, radius);
}
