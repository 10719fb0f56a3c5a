import { rootAt, SIDES } from '../../../geometry/fit/rootline.ts';
import {
  add,
  addScaled,
  cross,
  dot,
  length,
  normalize,
  rotateAbout,
  scale,
  sub,
  type Vec3,
} from '../../../geometry/math/vec.ts';
import type { RootRun } from '../../../geometry/sequence/sequence.ts';
import type { GasTrail, ScreenFitting } from '../worker/protocol.ts';
import { ramp } from './palette.ts';

/** Lines and places of one lug's plan for drawing, ship axes, mm. What they show is the plan's; only the shape is made here. */

/** Lifts marks off the shell so that they are not drawn into it. mm */
const CLEAR = 1.5;

const at3 = (list: ArrayLike<number>, k: number): Vec3 => [
  list[3 * k] as number,
  list[3 * k + 1] as number,
  list[3 * k + 2] as number,
];

/** A point of the root, a little off the shell. */
export function rootSpot({ root }: ScreenFitting, s: number, lift = CLEAR): Vec3 {
  const { position } = rootAt(root, s);
  return addScaled(position, normalAt(root, s), lift);
}

function normalAt(root: ScreenFitting['root'], s: number): Vec3 {
  const wrapped = s - root.perimeter * Math.floor(s / root.perimeter);
  let lo = 0;
  let hi = root.count - 1;
  while (hi > lo) {
    const mid = (lo + hi) >> 1;
    if ((root.s[mid] as number) >= wrapped) hi = mid;
    else lo = mid + 1;
  }
  return at3(root.normal, lo);
}

/** The root from one arc length to another, as points. */
export function rootPoints(fitting: ScreenFitting, fromS: number, toS: number, lift = CLEAR): Vec3[] {
  const n = Math.max(2, Math.ceil(Math.abs(toS - fromS) / 6));
  return Array.from({ length: n + 1 }, (_, i) => rootSpot(fitting, fromS + ((toS - fromS) * i) / n, lift));
}

/** Pairs of points along the whole root, with a colour for each from `share` (0..1 of a scale) at the joint's points. */
export function paintedRoot(
  fitting: ScreenFitting,
  share: readonly number[],
): { segments: Float32Array; colors: Float32Array } {
  const { points } = fitting.joint;
  const segments = new Float32Array(6 * points.length);
  const colors = new Float32Array(6 * points.length);
  let n = 0;
  const put = (spot: Vec3, paint: Vec3): void => {
    for (let c = 0; c < 3; c++) {
      segments[n] = spot[c] as number;
      colors[n++] = paint[c] as number;
    }
  };
  let before: { readonly s: number; readonly spot: Vec3; readonly paint: Vec3 } | undefined;
  points.forEach(({ s }, i) => {
    const now = { s, spot: rootSpot(fitting, s), paint: ramp(share[i] ?? 0) };
    if (before !== undefined && s > before.s) {
      put(before.spot, before.paint);
      put(now.spot, now.paint);
    }
    before = now;
  });
  return { segments: segments.subarray(0, n), colors: colors.subarray(0, n) };
}

/** Where the run at whole number `laid` is, how far along it the work is, and the s of that spot. */
export function workAt(
  runs: readonly RootRun[],
  laid: number,
): { readonly run: RootRun | undefined; readonly s: number } {
  const index = Math.min(runs.length, Math.floor(laid));
  const run = runs[index];
  if (run === undefined) return { run, s: runs.at(-1)?.toS ?? 0 };
  return { run, s: run.fromS + (run.toS - run.fromS) * (laid - index) };
}

/** Where gas freed at s comes out, by the plan's vents; undefined where it has no way. */
export function ventOf({ sequence, root }: ScreenFitting, s: number): number | undefined {
  const { elements } = sequence;
  const wrapped = s - root.perimeter * Math.floor(s / root.perimeter);
  for (let e = 0; e < elements.count; e++) {
    if ((elements.s0[e] as number) > wrapped || (elements.s1[e] as number) < wrapped) continue;
    const vent = elements.vents[e];
    return vent?.kind === 'out' || vent?.kind === 'self' ? vent.s : undefined;
  }
  return undefined;
}

/** The way that gas takes from nearest to s on, as points under the foot; none where it comes out where it is made. Ship axes, mm. */
export function trailAt(trails: readonly GasTrail[], s: number, perimeter: number): Vec3[] {
  const wrapped = s - perimeter * Math.floor(s / perimeter);
  const away = (t: GasTrail): number => {
    const d = Math.abs(t.s - wrapped);
    return Math.min(d, perimeter - d);
  };
  const [first] = trails;
  if (first === undefined) return [];
  const { points } = trails.reduce((p, q) => (away(q) < away(p) ? q : p), first);
  return Array.from({ length: points.length / 3 }, (_, i) => at3(points, i));
}

/** The pull from the pin: line, the same pressed into the lug's plane, and the wedge between them. */
export interface PullMarks {
  readonly line: readonly [Vec3, Vec3];
  readonly pressed: readonly [Vec3, Vec3];
  readonly wedge: readonly Vec3[];
  /** Where the angle is written. */
  readonly label: Vec3;
  /** End of the drawn line: what a hand takes hold of. */
  readonly handle: Vec3;
}

export function pullMarks(fitting: ScreenFitting, reach: number): PullMarks {
  const { pin, frame, load, input } = fitting;
  const d = load.direction;
  const far = 'toward' in input.load ? length(sub(input.load.toward, pin)) : Number.POSITIVE_INFINITY;
  const long = Math.min(reach, far);
  const inPlane = normalize(addScaled(d, frame.face, -dot(d, frame.face)));
  const steps = 12;
  const wedge = Array.from({ length: steps + 1 }, (_, i) => {
    const w = i / steps;
    return addScaled(pin, normalize(add(scale(inPlane, 1 - w), scale(d, w))), long * 0.85);
  });
  const end = addScaled(pin, d, long);
  return {
    line: [pin, end],
    pressed: [pin, addScaled(pin, inPlane, long)],
    wedge,
    label: addScaled(pin, d, long * 0.86),
    handle: end,
  };
}

/** The bevel as an angle between square foot and cut, drawn in the middle of the foot beyond its end. */
export function bevelMarks(fitting: ScreenFitting, radius: number): { arms: Vec3[][]; arc: Vec3[]; label: Vec3 } {
  const { frame, fit, input } = fitting;
  const bevel = fit.chosen === 'straight' ? fit.straight.bevel : middleBevel(fitting);
  const half = input.lug.thickness / 2;
  const a = input.lug.foot / 2;
  const low = bevel >= 0 ? -half : half;
  const sense = bevel >= 0 ? 1 : -1;
  const corner = add(
    add(frame.origin, scale(frame.foot, a)),
    add(scale(frame.face, low), scale(frame.stem, heightAt(fitting, a, low))),
  );
  const out = scale(frame.face, sense);
  const arm = (angle: number): Vec3 =>
    addScaled(corner, add(scale(out, Math.cos(angle)), scale(frame.stem, Math.sin(angle))), radius);
  const size = Math.abs(bevel);
  const arc = Array.from({ length: 17 }, (_, i) => arm((size * i) / 16)).map((p) =>
    add(scale(sub(p, corner), 0.8), corner),
  );
  return {
    arms: [
      [corner, arm(0)],
      [corner, arm(size)],
    ],
    arc,
    label: addScaled(corner, sub(arm(size / 2), corner), 1.2),
  };
}

function middleBevel({ bevel }: ScreenFitting): number {
  const { schedule } = bevel;
  return schedule[Math.floor(schedule.length / 2)]?.bevel ?? 0;
}

/** Shell height in the lug's frame at the end of the foot, from the bevel schedule. */
function heightAt({ bevel }: ScreenFitting, a: number, c: number): number {
  const row = bevel.schedule.reduce((best, r) => (Math.abs(r.a - a) < Math.abs(best.a - a) ? r : best));
  return c < 0 ? row.faceMinus : row.facePlus;
}

/** A ring about the anchor in the tangent plane, with the point that stands for the heading. */
export function headingRing(fitting: ScreenFitting, radius: number): { ring: Vec3[]; knob: Vec3 } {
  const { anchor, input } = fitting;
  const on = (angle: number): Vec3 =>
    addScaled(
      addScaled(anchor.position, anchor.normal, 4),
      add(scale(anchor.tFore, Math.cos(angle)), scale(anchor.tGirth, Math.sin(angle))),
      radius,
    );
  return { ring: Array.from({ length: 73 }, (_, i) => on((i * Math.PI) / 36)), knob: on(input.heading) };
}

/** Arrowhead at the end of a way, as pairs of points. */
export function arrowHead(from: Vec3, to: Vec3, size: number, facing: Vec3): Vec3[][] {
  const back = scale(normalize(sub(from, to)), size);
  const axis = normalize(length(cross(back, facing)) > 1e-6 ? facing : [0, 0, 1]);
  return [rotateAbout(back, axis, 0.45), rotateAbout(back, axis, -0.45)].map((b) => [to, add(to, b)]);
}

export const sideIndexName = (k: number) => SIDES[k] ?? 'face-';
