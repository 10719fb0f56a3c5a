import { distance, length, sub } from '../../geometry/math/vec.ts';
import { type EquilibriumResult, equilibrium } from './equilibrium.ts';
import { answerToLengths } from './lengths.ts';
import { type Pose, placeOf, turnBetween } from './pose.ts';
import type { HungSystem } from './system.ts';

/** A stretch of the way is halved this many times at most before a sudden move is taken to be one. */
const HALVINGS = 8;
/** Share of the load's scale that it may move beyond what the lines' lengths explain, in one stretch of the way. */
const UNEXPLAINED = 0.02;

/** The load let go: it moved by itself, with the lines all but still. */
export interface Swing {
  /** mm, of the centre of gravity. */
  readonly distance: number;
  /** rad */
  readonly turn: number;
}

export type FollowResult =
  | (Extract<EquilibriumResult, { found: true }> & { readonly swing: Swing | null })
  | Extract<EquilibriumResult, { found: false }>;

/**
 * The load followed from rest with one set of lengths (mm, without load) to rest with another, all lines moving together at an
 * even rate; a line that is hooked on starts just taut and is drawn in from there. Where it moves by itself on the way (a pose lost its hold, a line came off under load), the largest such move comes
 * back as `swing`.
 */
export function follow(
  system: HungSystem,
  fromLengths: readonly number[],
  toLengths: readonly number[],
  from: Pose,
): FollowResult {
  let swing: Swing | null = null;
  const hooked = fromLengths.map((start, i) => {
    const line = system.lines[i] as HungSystem['lines'][number];
    const end = toLengths[i] as number;
    if (Number.isFinite(start) || !Number.isFinite(end)) return start;
    return Math.max(end, distance(line.pin, placeOf(from, system.load.centre, line.attachment)));
  });
  const mix = (t: number): number[] =>
    toLengths.map((L, i) => {
      const start = hooked[i] as number;
      return Number.isFinite(start) && Number.isFinite(L) ? start + t * (L - start) : L;
    });
  const reach = Math.max(system.size, ...toLengths.filter(Number.isFinite));

  const go = (t0: number, t1: number, pose: Pose, depth: number): EquilibriumResult => {
    const before = mix(t0);
    const start = equilibrium(system, before, pose);
    if (!start.found) return start;
    if (t0 === 0) note(pose, start.equilibrium.pose);
    const lengths = mix(t1);
    const end = equilibrium(system, lengths, start.equilibrium.pose);
    if (!end.found) return end;
    const answers = answerToLengths(system, before, start.equilibrium);
    const expected = [0, 0, 0, 0, 0, 0];
    let paid = 0;
    lengths.forEach((L, i) => {
      const dL = Number.isFinite(L) ? L - (before[i] as number) : 0;
      paid = Math.max(paid, Math.abs(dL));
      (answers[i] as Float64Array).forEach((x, k) => {
        expected[k] = (expected[k] as number) + x * dL;
      });
    });
    const moved = sub(end.equilibrium.pose.centre, start.equilibrium.pose.centre);
    const turn = turnBetween(start.equilibrium.pose.turn, end.equilibrium.pose.turn);
    const all = [...moved, ...turn.map((x) => x * system.size)];
    const off = Math.hypot(...all.map((x, k) => x - (expected[k] as number)));
    if (off <= UNEXPLAINED * reach + 0.5 * Math.hypot(...expected) + 2 * paid) return end;
    if (depth >= HALVINGS) {
      note(start.equilibrium.pose, end.equilibrium.pose);
      return end;
    }
    const middle = go(t0, (t0 + t1) / 2, start.equilibrium.pose, depth + 1);
    if (!middle.found) return middle;
    return go((t0 + t1) / 2, t1, middle.equilibrium.pose, depth + 1);
  };

  const note = (a: Pose, b: Pose): void => {
    const d = distance(a.centre, b.centre);
    const turn = length(turnBetween(a.turn, b.turn));
    const size = (s: Swing): number => s.distance + s.turn * system.size;
    const next = { distance: d, turn };
    if (size(next) > UNEXPLAINED * reach && (swing === null || size(next) > size(swing))) swing = next;
  };

  const end = go(0, 1, from, 0);
  return end.found ? { ...end, swing } : end;
}

/** How far two poses are apart: mm of the centre of gravity and rad. */
export const apart = (a: Pose, b: Pose): Swing => ({
  distance: distance(a.centre, b.centre),
  turn: length(turnBetween(a.turn, b.turn)),
});
