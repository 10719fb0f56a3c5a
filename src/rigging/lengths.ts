import { distance, sub, type Vec3 } from '../../geometry/math/vec.ts';
import { symmetricEigen } from './eigen.ts';
import { type Equilibrium, type EquilibriumResult, equilibrium } from './equilibrium.ts';
import { type Line, lengthWithoutLoad } from './load.ts';
import { type Pose, placeOf, turnBetween, turned } from './pose.ts';
import type { HungSystem } from './system.ts';

/** Share of the largest stiffness below which a movement is taken to need no force: it does not follow from the lengths. */
const FREE = 1e-9;
const MOST_STEPS = 60;

/**
 * How the load at rest answers to the lengths of its lines: for each line the move of the centre of gravity and the turn
 * times `system.size` (six numbers, mm per mm). From the second derivatives: H dx = - d(slope)/dL; a slack line moves nothing.
 */
export function answerToLengths(
  system: HungSystem,
  lengths: readonly number[],
  at: Equilibrium,
): readonly Float64Array[] {
  const eigen = at.modes;
  const most = eigen.values[5] as number;
  return system.lines.map((line, i) => {
    const answer = new Float64Array(6);
    const pull = at.lines[i];
    if (!pull || pull.tension <= 0) return answer;
    const L = lengths[i] as number;
    // dT/dL: axial T = EA (l/L - 1) gives -EA l / L^2; spring -k.
    const softer = line.stretch.kind === 'axial' ? (line.stretch.ea * pull.length) / (L * L) : line.stretch.k;
    const u = pull.direction;
    const s = turned(at.pose.turn, system.lineArms[i] as Vec3);
    const push = [
      u[0],
      u[1],
      u[2],
      (s[1] * u[2] - s[2] * u[1]) / system.size,
      (s[2] * u[0] - s[0] * u[2]) / system.size,
      (s[0] * u[1] - s[1] * u[0]) / system.size,
    ].map((x) => x * softer);
    eigen.values.forEach((value, j) => {
      if (Math.abs(value) <= FREE * most) return;
      const v = eigen.vectors[j] as Float64Array;
      let along = 0;
      for (let k = 0; k < 6; k++) along += (push[k] as number) * (v[k] as number);
      for (let k = 0; k < 6; k++) answer[k] = (answer[k] as number) + (along / value) * (v[k] as number);
    });
    return answer;
  });
}

/** Where the load should come to hang: its centre of gravity, and an attitude to come close to. */
export interface Target {
  readonly centre: Vec3;
  readonly turn: Pose['turn'];
}

export type LengthsResult =
  | {
      readonly found: true;
      /** Lengths without load, mm. */
      readonly lengths: readonly number[];
      readonly equilibrium: Equilibrium;
      /** mm from where the centre of gravity should be: zero where these lines can bring it there. */
      readonly missed: number;
    }
  | Extract<EquilibriumResult, { found: false }>;

/**
 * Lengths of the lines named in `working` that bring the centre of gravity as near to the target as they can; the other lines
 * keep theirs. Four and more working lines also level the load towards the target's attitude, before its place is made good.
 * Least squares on the answer to the lengths, damped where lines work against each other.
 */
export function lengthsFor(
  system: HungSystem,
  start: readonly number[],
  working: readonly number[],
  target: Target,
  from: Pose,
): LengthsResult {
  const guess = [...start];
  const pose: Pose = { centre: target.centre, turn: from.turn };
  for (const i of working) {
    const line = system.lines[i] as Line;
    const l = distance(line.pin, placeOf(pose, system.load.centre, line.attachment));
    guess[i] = lengthWithoutLoad(line.stretch, Math.max(l, 1), system.net / working.length);
  }
  const first = equilibrium(system, guess, pose);
  if (!first.found) return first;
  let at = { lengths: guess as readonly number[], equilibrium: first.equilibrium };
  if (working.length > 3) at = closeIn(system, working, target, at, 1);
  at = closeIn(system, working, target, at, 0);
  return { found: true, ...at, missed: distance(at.equilibrium.pose.centre, target.centre) };
}

interface At {
  readonly lengths: readonly number[];
  readonly equilibrium: Equilibrium;
}

/** Six numbers, mm: how far off the target; the turn counts `level` times. */
function missedBy(system: HungSystem, target: Target, pose: Pose, level: number): number[] {
  const off = sub(pose.centre, target.centre);
  const turn = level === 0 ? [0, 0, 0] : turnBetween(target.turn, pose.turn).map((x) => x * system.size * level);
  return [...off, ...turn];
}

const squares = (v: readonly number[]): number => v.reduce((sum, x) => sum + x * x, 0);

function closeIn(system: HungSystem, working: readonly number[], target: Target, start: At, level: number): At {
  let at = start;
  let off = missedBy(system, target, at.equilibrium.pose, level);
  let damping = 1e-6;
  const n = working.length;
  for (let step = 0; step < MOST_STEPS && squares(off) > 1e-14 * system.size ** 2; step++) {
    const answers = answerToLengths(system, at.lengths, at.equilibrium);
    const J = working.map((i) => Array.from(answers[i] as Float64Array, (x, k) => (k < 3 ? x : x * level)));
    // (J J' + damping) dL = -J off, by the eigenvectors of J J'.
    const M = new Float64Array(n * n);
    for (let p = 0; p < n; p++) {
      for (let q = 0; q < n; q++) {
        M[p * n + q] = (J[p] as number[]).reduce((sum, x, k) => sum + x * ((J[q] as number[])[k] as number), 0);
      }
    }
    const slope = J.map((row) => row.reduce((sum, x, k) => sum + x * (off[k] as number), 0));
    const eigen = symmetricEigen(M, n);
    const most = eigen.values[n - 1] as number;
    if (!(most > 0)) break;
    let better: At | undefined;
    for (let tries = 0; tries < 12 && !better; tries++) {
      const change = new Array<number>(n).fill(0);
      eigen.values.forEach((value, j) => {
        const v = eigen.vectors[j] as Float64Array;
        const along = slope.reduce((sum, x, k) => sum + x * (v[k] as number), 0);
        for (let k = 0; k < n; k++) {
          change[k] = (change[k] as number) - (along / (Math.max(value, 0) + damping * most)) * (v[k] as number);
        }
      });
      const lengths = [...at.lengths];
      working.forEach((i, k) => {
        const L = at.lengths[i] as number;
        lengths[i] = Math.max(L + (change[k] as number), 0.2 * L);
      });
      const result = equilibrium(system, lengths, at.equilibrium.pose);
      if (result.found) {
        const next = missedBy(system, target, result.equilibrium.pose, level);
        if (squares(next) < squares(off)) {
          const gain = 1 - squares(next) / squares(off);
          better = { lengths, equilibrium: result.equilibrium };
          off = next;
          damping = Math.max(damping / 10, 1e-12);
          if (gain < 1e-9) return better;
          break;
        }
      }
      damping = Math.min(damping * 10, 1e3);
    }
    if (!better) break;
    at = better;
  }
  return at;
}
