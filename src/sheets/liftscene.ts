import type { Shell } from '../../geometry/hull/shell.ts';
import { toShip } from '../../geometry/lug/frame.ts';
import { outlineTop } from '../../geometry/lug/outline.ts';
import { addScaled, dot, normalize, type Vec3 } from '../../geometry/math/vec.ts';
import { unlessRefused } from '../../geometry/refusal.ts';
import { beats } from '../plan/movement/ties.ts';
import type { LiftPlan } from '../plan/movement/types.ts';
import { shellOf } from '../plan/plan.ts';
import type { FittingPlan, Plan } from '../plan/types.ts';
import { placeOf } from '../rigging/pose.ts';
import { footEdge } from './cut.ts';
import type { Point } from './drawing.ts';
import { tensionAt } from './liftsteps.ts';
import { band } from './planar.ts';

/*
 * What there is to see of a lift at one step, flat in one view: mm of the ship, x to the right, y up square to the water plane, from the
 * ship's own zero. Nothing of paper or scale.
 */

/** A way of looking at it, level with the water. Unit vectors, ship axes. */
export interface LiftView {
  readonly name: string;
  readonly right: Vec3;
  readonly up: Vec3;
  /** What lies to the left and right of it. */
  readonly left: string;
  readonly rightward: string;
}

/** From starboard, forward to the right; and from aft, port to the left. */
export function liftViews(up: Vec3): readonly [LiftView, LiftView] {
  const level = (v: Vec3): Vec3 => normalize(addScaled(v, up, -dot(v, up)));
  return [
    { name: 'seen from starboard', right: level([1, 0, 0]), up, left: 'aft', rightward: 'fwd' },
    { name: 'seen from aft', right: level([0, -1, 0]), up, left: 'port', rightward: 'stbd' },
  ];
}

export const flatIn = ({ right, up }: LiftView, p: Vec3): Point => ({ x: dot(p, right), y: dot(p, up) });

/** A line of the lift from its pin to the load. */
export interface SceneLine {
  /** Its place in the lift's list. */
  readonly index: number;
  readonly from: Point;
  readonly to: Point;
  readonly taut: boolean;
}

export interface Scene {
  /** Outline of the load's known points; empty where the job knows none besides where its lines end. */
  readonly load: readonly Point[];
  readonly centre: Point | null;
  readonly buoyancy: Point | null;
  /** Where the lines that are on end on the load. */
  readonly ends: readonly Point[];
  readonly lines: readonly SceneLine[];
  /** Pushes of a given direction, where they act, along a unit vector; those seen nearly end on are left out. */
  readonly pushes: readonly { readonly index: number; readonly at: Point; readonly along: Point }[];
}

/** Of a push's direction, the least share that must be seen of it. */
const SEEN = 0.4;

/** The load and its lines at a step; nothing of them where the load is nowhere at rest. */
export function sceneAt(plan: Plan, lift: LiftPlan, step: number, view: LiftView): Scene {
  const state = lift.states[step];
  if (state === undefined || !state.rest.found) {
    return { load: [], centre: null, buoyancy: null, ends: [], lines: [], pushes: [] };
  }
  const { pose } = state.rest.equilibrium;
  const at = (drawn: Vec3): Point => flatIn(view, placeOf(pose, lift.load.centre, drawn));
  const outline = plan.job.lift?.load.outline ?? [];
  const lines = lift.lines.flatMap((line, index): SceneLine[] => {
    const pull = state.rest.found ? state.rest.equilibrium.lines[index] : undefined;
    if (pull === undefined || !Number.isFinite(state.lengths[index])) return [];
    return [{ index, from: flatIn(view, line.pin), to: at(line.attachment), taut: pull.tension > 0 }];
  });
  return {
    load: outline.length < 3 ? [] : hullOf(outline.map(at)),
    centre: at(lift.load.centre),
    buoyancy: lift.load.buoyancy > 0 ? at(lift.load.buoyancyCentre) : null,
    ends: lines.map((line) => line.to),
    lines,
    pushes: (plan.job.lift?.pushes ?? []).flatMap(({ direction, at: drawn }, index) => {
      if (direction === undefined) return [];
      const seen = flatIn(view, normalize(direction));
      const long = Math.hypot(seen.x, seen.y);
      return long < SEEN ? [] : [{ index, at: at(drawn), along: { x: seen.x / long, y: seen.y / long } }];
    }),
  };
}

/** The centre of gravity at every step at which the load is at rest. */
export const pathIn = (lift: LiftPlan, view: LiftView): Point[] =>
  lift.states.flatMap(({ rest }) => (rest.found ? [flatIn(view, rest.equilibrium.pose.centre)] : []));

/** Outline of a lug's plate. */
export function lugIn(fitting: FittingPlan, view: LiftView): Point[] {
  const { frame, body, field } = fitting;
  return hullOf(
    (['face-', 'face+'] as const).flatMap((face) => {
      const c = (face === 'face+' ? 1 : -1) * field.halfThickness;
      const foot = footEdge(fitting, face).map((p) => toShip(frame, p.x, p.y, c));
      const top = outlineTop(body.outline, 2).map(([a, b]) => toShip(frame, a, b, c));
      return [...foot, ...top].map((p) => flatIn(view, p));
    }),
  );
}

/** What the load keeps clear of, by name. */
export function keptClear(plan: Plan, view: LiftView): { readonly name: string; readonly outline: Point[] }[] {
  return (plan.job.lift?.keepClear ?? []).map(({ name, from, to, radius }) => {
    const [p, q] = [flatIn(view, from), flatIn(view, to)];
    if (radius !== undefined) return { name, outline: band(p, q, radius, 24) };
    const corners = [0, 1, 2, 3, 4, 5, 6, 7].map((k) =>
      flatIn(view, [k & 1 ? to[0] : from[0], k & 2 ? to[1] : from[1], k & 4 ? to[2] : from[2]]),
    );
    return { name, outline: hullOf(corners) };
  });
}

/** mm. Chords of the shell stay this near to it. */
const CHORD = 5;
const STATIONS = 24;

/**
 * The shell at the lugs: from aft its section at the station of each lug, both sides; from starboard the line along it at the
 * half-breadth of each lug, between two stations. Stretches that the hull's data do not reach are left out.
 */
export function shellIn(plan: Plan, view: LiftView, from: number, to: number): Point[][] {
  const shell = shellOf(plan.job.ship.hull);
  const lines = plan.fittings.flatMap(({ anchor }) => {
    if (view.left !== 'aft') {
      const half = sectionAt(shell, anchor.station);
      return [half, half.map(([x, y, z]): Vec3 => [x, -y, z])].map((side) => side.map((p) => flatIn(view, p)));
    }
    const low = Math.max(from, shell.stations.from);
    const high = Math.min(to, shell.stations.to);
    const stations = Array.from({ length: STATIONS + 1 }, (_, k) => low + ((high - low) * k) / STATIONS);
    const parts: Point[][] = [[]];
    for (const station of [...stations, anchor.station].toSorted((p, q) => p - q)) {
      const point = abreast(sectionAt(shell, station), anchor.position);
      if (point === undefined) parts.push([]);
      else parts.at(-1)?.push(flatIn(view, point));
    }
    return parts;
  });
  return lines.filter((line) => line.length > 1);
}

const sectionAt = (shell: Shell, station: number): Vec3[] =>
  unlessRefused(() => shell.sectionLine(station, CHORD)) ?? [];

/** Where a section, port side, is as far off the centreline as p, nearest to its height; on the side of p. */
function abreast(section: readonly Vec3[], [, y, z]: Vec3): Vec3 | undefined {
  let best: Vec3 | undefined;
  for (let i = 0; i + 1 < section.length; i++) {
    const [p, q] = [section[i], section[i + 1]] as [Vec3, Vec3];
    const off = Math.abs(y);
    if ((p[1] - off) * (q[1] - off) > 0) continue;
    const t = p[1] === q[1] ? 0 : (off - p[1]) / (q[1] - p[1]);
    const height = p[2] + t * (q[2] - p[2]);
    if (best === undefined || Math.abs(height - z) < Math.abs(best[2] - z))
      best = [p[0] + t * (q[0] - p[0]), y, height];
  }
  return best;
}

/** Height of the water plane in a view. */
export const waterIn = (plan: Plan, view: LiftView): number => dot([0, 0, plan.job.ship.draftAft], view.up);

/** Convex hull of points, counterclockwise (Andrew's monotone chain). */
export function hullOf(points: readonly Point[]): Point[] {
  const sorted = points.toSorted((p, q) => p.x - q.x || p.y - q.y);
  const chain = (list: readonly Point[]): Point[] => {
    const out: Point[] = [];
    for (const p of list) {
      for (let n = out.length; n > 1; n = out.length) {
        const [a, b] = [out[n - 2], out[n - 1]] as [Point, Point];
        if ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x) > 0) break;
        out.pop();
      }
      out.push(p);
    }
    return out.slice(0, -1);
  };
  return [...chain(sorted), ...chain(sorted.toReversed())];
}

/** A step that is worth a picture, and why. */
export interface KeyStep {
  /** From 0. */
  readonly step: number;
  readonly why: readonly KeyReason[];
}

export type KeyReason =
  | { readonly kind: 'first' | 'last' | 'fails' }
  /** The hardest pull of all, and the step it is at: this one, or another than which this pulls as hard. */
  | {
      readonly kind: 'pull';
      readonly line: number;
      readonly newton: number;
      readonly push: string | null;
      readonly at: number;
    }
  | { readonly kind: 'line'; readonly line: number }
  | { readonly kind: 'across'; readonly lug: string; readonly newton: number; readonly push: string | null };

/** Share of what is allowed across a plate below which nobody need look at it. */
const MENTIONED = 0.1;

/** Share of the hardest pull of all from which a pull is as hard. */
const AS_HARD = 0.99;

/**
 * First and last step, the one where a line pulls hardest, the one where a lug is pulled hardest across its plate against what it is
 * allowed there, the first that cannot be done, and where each line pulls hardest that pulls at none of these; in order, no step twice.
 */
export function keySteps(lift: LiftPlan): KeyStep[] {
  const found: Found[] = [{ step: 0, why: { kind: 'first' } }];
  const fails = lift.states.findIndex((state) => state.failures.length > 0);
  if (fails >= 0) found.push({ step: fails, why: { kind: 'fails' } });
  const across = lift.lugs
    .flatMap((lug) =>
      lug.checks.map((swept) => ({ lug, swept })).filter(({ swept }) => swept.check.id === 'lift-sideways'),
    )
    .toSorted((p, q) => q.swept.check.ratio - p.swept.check.ratio)[0];
  if (across !== undefined && across.swept.check.ratio > MENTIONED) {
    const { lug, swept } = across;
    const newton = swept.check.demand;
    found.push({ step: swept.state, why: { kind: 'across', lug: lug.id, newton, push: swept.push } });
  }
  found.push({ step: lift.states.length - 1, why: { kind: 'last' } });
  found.push(...hardestOf(lift, found));
  lift.lines.forEach((_, line) => {
    const pulls = lift.states.map((state) => tensionAt(state, line) ?? 0);
    if (found.some(({ step }) => (pulls[step] ?? 0) > 0)) return;
    const step = pulls.reduce((best, pull, each) => (beats(pull, pulls[best] ?? 0) ? each : best), 0);
    if ((pulls[step] ?? 0) > 0) found.push({ step, why: { kind: 'line', line } });
  });
  const steps = [...new Set(found.map(({ step }) => step))].sort((p, q) => p - q);
  return steps.map((step) => ({ step, why: found.filter((each) => each.step === step).map(({ why }) => why) }));
}

interface Found {
  readonly step: number;
  readonly why: KeyReason;
}

/** The hardest pull of all, the first of equal ones; on a step that is drawn anyhow where one pulls as hard. */
function hardestOf(lift: LiftPlan, found: readonly Found[]): Found[] {
  let hardest: { line: number; tension: number; state: number; push: string | null } | undefined;
  lift.lines.forEach(({ greatest }, line) => {
    if (greatest !== null && beats(greatest.tension, hardest?.tension ?? 0)) hardest = { line, ...greatest };
  });
  if (hardest === undefined) return [];
  const { line, tension, state, push } = hardest;
  const as = lift.cases
    .filter((each) => found.some(({ step }) => step === each.state))
    .filter((each) => (each.equilibrium.lines[line]?.tension ?? 0) >= AS_HARD * tension)
    .map((each) => each.state);
  const step = as.includes(state) ? state : (as[0] ?? state);
  return [{ step, why: { kind: 'pull', line, newton: tension, push, at: state } }];
}
