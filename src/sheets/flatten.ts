import { SIDES, type Side } from '../../geometry/fit/rootline.ts';
import type { HullSide, Shell, ShellPoint } from '../../geometry/hull/shell.ts';
import { cross, distance, dot, sub, type Vec3 } from '../../geometry/math/vec.ts';
import { unlessRefused } from '../../geometry/refusal.ts';
import { shellOf } from '../plan/plan.ts';
import type { FittingPlan, Plan } from '../plan/types.ts';
import type { Point } from './drawing.ts';

/**
 * The shell about the anchor laid flat: x forward along the shell at constant girth, y outward along the girth of its section,
 * mm from the anchor. Girth is counted on over the keel: what lies on the other side of the ship has one below nothing. Exact where one section stands for all stations (a cylinder unrolls without stretch); on a shell that
 * bends both ways flat distances differ from those along the shell: `stretch` says by how much at most between the corners.
 */
export interface FlatFoot {
  readonly corners: readonly FlatCorner[];
  /** The root line, one list of points a side, in the order of s. */
  readonly root: Readonly<Record<Side, readonly Point[]>>;
  /** Lengths along the shell between corners (k to k + 1), and the two diagonals (0-2, 1-3). */
  readonly sides: readonly number[];
  readonly diagonals: readonly [number, number];
  readonly stretch: number;
  /** +1 where forward is to the right for a diver who looks at the shell with outboard upward. */
  readonly forwardSign: 1 | -1;
}

export interface FlatCorner extends Point {
  readonly station: number;
  /** From the first point of the section; less than nothing for a corner beyond the keel, on the other side of the ship. */
  readonly girth: number;
  readonly position: Vec3;
}

/** mm. A section that begins nearer to the centreline than this goes on over the keel into its mirror image. */
const AT_KEEL = 0.5;

export const otherSide = (side: HullSide): HullSide => (side === 'port' ? 'starboard' : 'port');

/** Whether the section at a station begins on the centreline, so that a tape can be laid on over the keel. */
export function goesOver(shell: Shell, station: number, side: HullSide): boolean {
  const { from } = shell.girthRange(station);
  return Math.abs(from) < AT_KEEL && Math.abs(shell.pointAt(station, from, side).position[1]) < AT_KEEL;
}

/** The shell at a girth counted on over the keel: below nothing on the other side of the ship. Throws `Refusal` beyond the data. */
function pointOver(shell: Shell, station: number, girth: number, side: HullSide): ShellPoint {
  if (girth < 0 && goesOver(shell, station, side)) return shell.pointAt(station, -girth, otherSide(side));
  return shell.pointAt(station, girth, side);
}

/**
 * Chords for a tape from corner to corner: over 300 mm on a radius of a metre they fall short by less than 0.001 mm, over a knuckle
 * of 20 degrees by less than 0.1 mm.
 */
const CHORDS = 48;
/** mm. Far below what a tape can tell. */
const CLOSE = 1e-4;

const made = new WeakMap<FittingPlan, FlatFoot>();

/** Made once for a fitting: several sheets draw from it. */
export function flatFoot(plan: Plan, fitting: FittingPlan): FlatFoot {
  const known = made.get(fitting) ?? layFlat(plan, fitting);
  made.set(fitting, known);
  return known;
}

function layFlat(plan: Plan, fitting: FittingPlan): FlatFoot {
  const shell = shellOf(plan.job.ship.hull);
  const { anchor, joint, root } = fitting;
  const flat = (p: Vec3): FlatCorner => {
    const girth = girthOf(shell, fitting, p);
    return { x: alongShip(shell, fitting, p, girth), y: girth - anchor.girth, station: p[0], girth, position: p };
  };
  const sidesOfRoot = {} as Record<Side, Point[]>;
  for (const side of SIDES)
    sidesOfRoot[side] = joint.points.filter((p) => p.side === side).map((p) => flat(p.position));
  const corners = [0, 1, 2, 3].map((k) => {
    const s = k === 0 ? 0 : (root.corners[k] as number);
    const point = joint.points.find((p) => Math.abs(p.s - s) < 1e-6);
    if (point === undefined) throw new Error(`no root point at corner ${k}`);
    return flat(point.position);
  });
  const between = (i: number, j: number) =>
    alongShell(shell, fitting, corners[i] as FlatCorner, corners[j] as FlatCorner);
  const sides = [0, 1, 2, 3].map((k) => between(k, (k + 1) % 4));
  const diagonals = [between(0, 2), between(1, 3)] as const;
  const flatLength = (i: number, j: number) => {
    const [p, q] = [corners[i] as Point, corners[j] as Point];
    return Math.hypot(p.x - q.x, p.y - q.y);
  };
  const stretch = Math.max(
    ...sides.map((length, k) => Math.abs(length - flatLength(k, (k + 1) % 4))),
    Math.abs(diagonals[0] - flatLength(0, 2)),
    Math.abs(diagonals[1] - flatLength(1, 3)),
  );
  const right = cross(anchor.tGirth, anchor.normal);
  return { corners, root: sidesOfRoot, sides, diagonals, stretch, forwardSign: dot(right, anchor.tFore) >= 0 ? 1 : -1 };
}

/**
 * Girth of the section at p's station where it comes nearest to p (a point on the shell): Newton along the tangent. Counted on over
 * the keel for a point on the other side of the ship.
 */
function girthOf(shell: Shell, { anchor }: FittingPlan, p: Vec3): number {
  const { side } = anchor;
  const across = (side === 'port' ? p[1] < 0 : p[1] > 0) && goesOver(shell, p[0], side);
  const range = shell.girthRange(p[0]);
  const within = (g: number) => Math.min(range.to, Math.max(range.from, g));
  let girth = across ? within(Math.abs(p[1])) : within(anchor.girth + dot(sub(p, anchor.position), anchor.tGirth));
  for (let n = 0; n < 12; n++) {
    const at = shell.pointAt(p[0], girth, across ? otherSide(side) : side);
    const step = dot(sub(p, at.position), at.tGirth);
    girth = within(girth + step);
    if (Math.abs(step) < CLOSE) break;
  }
  return across ? -girth : girth;
}

/**
 * Signed length along the shell at constant girth from the anchor's station to p: two chords, since a hull bends so little along
 * its length that over half a foot they fall short by less than 0.01 mm.
 */
function alongShip(shell: Shell, { anchor }: FittingPlan, p: Vec3, girth: number): number {
  const start = pointOver(shell, anchor.station, girth, anchor.side).position;
  const middle = pointOver(shell, (anchor.station + p[0]) / 2, girth, anchor.side).position;
  return Math.sign(p[0] - anchor.station) * (distance(start, middle) + distance(middle, p));
}

/** mm. Chords of a tape along the ship no longer than this: on a hull's long curves each falls short by far less than 0.01 mm. */
const LONG_CHORD = 150;

/**
 * A place given by station and girth (counted on over the keel), in the flat coordinates about the anchor of a fitting; undefined beyond the shell's data.
 * x is measured along the shell at constant girth, as a tape laid from a frame is.
 */
export function flatSpot(plan: Plan, fitting: FittingPlan, station: number, girth: number): Point | undefined {
  const shell = shellOf(plan.job.ship.hull);
  const { anchor } = fitting;
  return unlessRefused(() => {
    const chords = Math.max(2, Math.ceil(Math.abs(station - anchor.station) / LONG_CHORD));
    let before = pointOver(shell, anchor.station, girth, anchor.side).position;
    let long = 0;
    for (let k = 1; k <= chords; k++) {
      const at = anchor.station + ((station - anchor.station) * k) / chords;
      const next = pointOver(shell, at, girth, anchor.side).position;
      long += distance(before, next);
      before = next;
    }
    return { x: Math.sign(station - anchor.station) * long, y: girth - anchor.girth };
  });
}

/** Length of a tape laid on the shell from p to q, straight in station and girth. */
function alongShell(shell: Shell, { anchor }: FittingPlan, p: FlatCorner, q: FlatCorner): number {
  let length = 0;
  let before = p.position;
  for (const w of sharesOf(p.girth, q.girth)) {
    const next =
      w === 1
        ? q.position
        : pointOver(shell, p.station + w * (q.station - p.station), p.girth + w * (q.girth - p.girth), anchor.side)
            .position;
    length += distance(before, next);
    before = next;
  }
  return length;
}

/** Ends of the chords as shares of the way, one of them on the keel where the way goes over it: many a keel is a knuckle. */
function sharesOf(from: number, to: number): number[] {
  const even = Array.from({ length: CHORDS }, (_, k) => (k + 1) / CHORDS);
  return from * to < 0 ? [...even, from / (from - to)].sort((u, v) => u - v) : even;
}

/** Chords round a corner: at a radius of 70 mm, the clean metal's, they keep within 0.1 mm of the arc. */
const ROUND = 16;

/**
 * The flat root grown outward, each side by its own distance: round each corner a quarter of an ellipse with the two distances as its half
 * axes, which runs on straight into either side. An arc whose radius goes from one to the other would bulge beyond the shorter.
 */
export function grown(flat: FlatFoot, by: (side: Side) => number): Point[] {
  const sides = SIDES.map((side) => flat.root[side]);
  const centre = {
    x: flat.corners.reduce((sum, p) => sum + p.x, 0) / 4,
    y: flat.corners.reduce((sum, p) => sum + p.y, 0) / 4,
  };
  const area = SIDES.flatMap((side) => flat.root[side]).reduce((sum, p, i, all) => {
    const q = all[(i + 1) % all.length] as Point;
    return sum + (p.x - centre.x) * (q.y - centre.y) - (q.x - centre.x) * (p.y - centre.y);
  }, 0);
  // Going round to the left the outside is on the right.
  const out = area > 0 ? 1 : -1;
  const normalAt = (list: readonly Point[], i: number): Point => {
    const p = list[Math.max(0, i - 1)] as Point;
    const q = list[Math.min(list.length - 1, i + 1)] as Point;
    const long = Math.hypot(q.x - p.x, q.y - p.y);
    return { x: (out * (q.y - p.y)) / long, y: (-out * (q.x - p.x)) / long };
  };
  const points: Point[] = [];
  sides.forEach((list, k) => {
    const side = SIDES[k] as Side;
    const d = by(side);
    list.forEach((p, i) => {
      const n = normalAt(list, i);
      points.push({ x: p.x + d * n.x, y: p.y + d * n.y });
    });
    const next = sides[(k + 1) % 4] as readonly Point[];
    const corner = list.at(-1) as Point;
    const from = normalAt(list, list.length - 1);
    const to = normalAt(next, 0);
    const d1 = by(SIDES[(k + 1) % 4] as Side);
    for (let j = 1; j < ROUND; j++) {
      const angle = (j * Math.PI) / (2 * ROUND);
      const [c, s] = [d * Math.cos(angle), d1 * Math.sin(angle)];
      points.push({ x: corner.x + c * from.x + s * to.x, y: corner.y + c * from.y + s * to.y });
    }
  });
  return points;
}

/** mm from the root to the weld toe along the shell on a side: the leg to weld, with what a gap adds, in the plane of the shell. */
export function toeOnShell(fitting: FittingPlan, side: Side): number {
  const found = fitting.weld.sides.find((each) => each.side === side);
  if (found === undefined) throw new Error(`no weld on ${side}`);
  return found.calledLegAlongPlate + found.addedForGap / Math.sin(found.dihedral);
}
