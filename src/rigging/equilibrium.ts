import { add, scale, type Vec3 } from '../../geometry/math/vec.ts';
import { type Eigen, solveDefinite, symmetricEigen } from './eigen.ts';
import { type Pose, placeOf, turnFurther } from './pose.ts';
import { energyAt, type HungSystem, type LinePull, linePull, slopeAt } from './system.ts';

/** What the method is asked for, as shares of the weight in water. */
export const ACCURACY = {
  /** The force that is missing, and the moment over the size of the load, is below this at a pose that is called one. */
  accepted: 1e-6,
  /** The method goes on until here as long as it gets anywhere. */
  wanted: 1e-10,
} as const;

/**
 * A stiffness this small against that of the heaviest pendulum on the shortest line is none: round-off, or a load that
 * turns freely.
 */
const NEUTRAL = 1e-7;

/** Pivots above this share of that pendulum's stiffness are those of a pose that is firmly held. */
const FIRM = 1e-3;

const MOST_STEPS = 400;
/** Share of the load's scale that a first step may move it. */
const FIRST_REACH = 0.25;
/** Share of the load's scale that it is pushed off a balance point to find out where it falls. */
const OFF_BALANCE = 1e-3;

/** How a pose answers to a small disturbance. */
export interface Stability {
  /** `neutral`: some movement needs no force, as when the load spins about one line. */
  readonly kind: 'stable' | 'neutral' | 'unstable';
  /** N/mm: least force for a move of the centre of gravity or of a point `size` away from it, over all but the free movements. */
  readonly least: number;
  /** The movement that needs that force: a move (mm) and a turn (rad) of the centre of gravity, ship axes. */
  readonly softest: Movement;
  /** Movements that need no force at all. */
  readonly free: readonly Movement[];
}

export interface Movement {
  readonly move: Vec3;
  readonly turn: Vec3;
}

/** The load at rest. */
export interface Equilibrium {
  readonly pose: Pose;
  readonly lines: readonly LinePull[];
  readonly stability: Stability;
  /** Missing force and moment over the size of the load, as a share of the weight in water. */
  readonly residual: number;
  /** Newton steps that it took. */
  readonly steps: number;
  /** Stiffnesses (N/mm) and movements of the pose: second derivatives of the energy, turns times `size`. */
  readonly modes: Eigen;
}

export type EquilibriumResult =
  | { readonly found: true; readonly equilibrium: Equilibrium }
  | {
      readonly found: false;
      /** `floats`: no weight in water holds it down; `drifts`: no line stops it; `not-settled`: the method gave up. */
      readonly why: 'floats' | 'drifts' | 'not-settled';
      readonly residual: number;
    };

/**
 * The pose in which the load comes to rest when it starts from `from` and its energy falls: a minimum of `energyAt` over
 * place and attitude. `lengths` are those without load (mm), `UNHOOKED` for a line that is not on. Newton steps on the
 * eigenvectors of the second derivatives, negative ones turned over so that every step goes down, with a line search; where it
 * rests on a point of balance (an upright pendulum) it is pushed off and falls. Accuracy: see `ACCURACY`.
 */
export function equilibrium(system: HungSystem, lengths: readonly number[], from: Pose): EquilibriumResult {
  const { net, size } = system;
  if (!(net > 0)) return { found: false, why: 'floats', residual: Number.POSITIVE_INFINITY };
  const reach = Math.max(size, ...system.lines.map((_, i) => finiteOr(lengths[i], 0)));
  const pendulum = net / reach;
  const slope = new Float64Array(6);
  const second = new Float64Array(36);
  let pose = from;
  let energy = energyAt(system, lengths, pose);
  slopeAt(system, lengths, pose, slope, second);
  let trust = FIRST_REACH * reach;
  let residual = largest(slope) / net;
  let steps = 0;
  let fallen = 0;
  const drift = 1e3 * reach;

  for (; steps < MOST_STEPS; steps++) {
    if (residual <= ACCURACY.wanted) {
      const eigen = symmetricEigen(second, 6);
      const off = pushOff(system, lengths, pose, energy, eigen, pendulum, reach);
      if (off === undefined || ++fallen > 20) break;
      pose = off.pose;
      energy = off.energy;
      slopeAt(system, lengths, pose, slope, second);
      residual = largest(slope) / net;
      continue;
    }
    // Where every movement is firmly held the plain Newton step is the same and costs a tenth.
    const plain = solveDefinite(second, slope, 6, FIRM * pendulum)?.map((x) => -x);
    const step = plain ?? newtonStep(slope, symmetricEigen(second, 6), pendulum, net);
    const wanted = norm(step);
    const shrink = wanted > trust ? trust / wanted : 1;
    const down = dot6(slope, step);
    let k = shrink;
    let moved = false;
    const halvings = residual <= ACCURACY.accepted ? 8 : 50;
    for (let half = 0; half < halvings; half++, k /= 2) {
      const next = stepped(pose, step, k, size);
      const e = energyAt(system, lengths, next);
      // Close to rest the energy no longer tells two poses apart: there the missing force has to get less.
      const roundOff = 1e-13 * (Math.abs(energy) + net * reach);
      if (e > energy + 1e-4 * k * down + roundOff) continue;
      if (e > energy + 1e-4 * k * down) {
        const trial = new Float64Array(6);
        slopeAt(system, lengths, next, trial, second);
        if (!(largest(trial) < largest(slope))) continue;
      }
      pose = next;
      energy = e;
      moved = true;
      break;
    }
    if (!moved) break;
    trust = k < shrink ? Math.max(k * wanted, 1e-9 * reach) : k * wanted >= 0.99 * trust ? 2 * trust : trust;
    slopeAt(system, lengths, pose, slope, second);
    residual = largest(slope) / net;
    if (Math.hypot(...pose.centre.map((x, i) => x - (from.centre[i] as number))) > drift) {
      return { found: false, why: 'drifts', residual };
    }
  }
  if (!(residual <= ACCURACY.accepted)) return { found: false, why: 'not-settled', residual };
  slopeAt(system, lengths, pose, slope, second);
  const modes = symmetricEigen(second, 6);
  return {
    found: true,
    equilibrium: {
      pose,
      lines: system.lines.map((line, i) =>
        linePull(line, placeOf(pose, system.load.centre, line.attachment), lengths[i] as number),
      ),
      stability: stabilityOf(modes, pendulum, size),
      residual,
      steps,
      modes,
    },
  };
}

const finiteOr = (x: number | undefined, other: number): number => (x !== undefined && Number.isFinite(x) ? x : other);

function largest(slope: Float64Array): number {
  let most = 0;
  for (const x of slope) most = Math.max(most, Math.abs(x));
  return most;
}

const norm = (v: Float64Array): number => Math.sqrt(dot6(v, v));

function dot6(p: Float64Array, q: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < 6; i++) sum += (p[i] as number) * (q[i] as number);
  return sum;
}

/** Downhill along every eigenvector; along one that has no stiffness only as far as a real force drives it. */
function newtonStep(slope: Float64Array, eigen: Eigen, pendulum: number, net: number): Float64Array {
  const step = new Float64Array(6);
  for (let i = 0; i < 6; i++) {
    const v = eigen.vectors[i] as Float64Array;
    const along = dot6(slope, v);
    if (Math.abs(along) <= 1e-14 * net) continue;
    const stiffness = Math.max(Math.abs(eigen.values[i] as number), NEUTRAL * pendulum);
    for (let j = 0; j < 6; j++) step[j] = (step[j] as number) - (along / stiffness) * (v[j] as number);
  }
  return step;
}

function stepped(pose: Pose, step: Float64Array, k: number, size: number): Pose {
  const move: Vec3 = [k * (step[0] as number), k * (step[1] as number), k * (step[2] as number)];
  const turn: Vec3 = [
    (k * (step[3] as number)) / size,
    (k * (step[4] as number)) / size,
    (k * (step[5] as number)) / size,
  ];
  return { centre: add(pose.centre, move), turn: turnFurther(pose.turn, turn) };
}

/** A lower pose beside a point of balance, or undefined where the load rests. */
function pushOff(
  system: HungSystem,
  lengths: readonly number[],
  pose: Pose,
  energy: number,
  eigen: Eigen,
  pendulum: number,
  reach: number,
): { readonly pose: Pose; readonly energy: number } | undefined {
  if (!((eigen.values[0] as number) < -NEUTRAL * pendulum)) return undefined;
  const v = eigen.vectors[0] as Float64Array;
  for (const sign of [1, -1]) {
    const next = stepped(pose, v, sign * OFF_BALANCE * reach, system.size);
    const e = energyAt(system, lengths, next);
    if (e < energy) return { pose: next, energy: e };
  }
  return undefined;
}

function stabilityOf(eigen: Eigen, pendulum: number, size: number): Stability {
  const movement = (v: Float64Array): Movement => ({
    move: [v[0] as number, v[1] as number, v[2] as number],
    turn: scale([v[3] as number, v[4] as number, v[5] as number], 1 / size),
  });
  const free: Movement[] = [];
  let least = Number.POSITIVE_INFINITY;
  let softest = eigen.vectors[5] as Float64Array;
  eigen.values.forEach((value, i) => {
    const v = eigen.vectors[i] as Float64Array;
    if (Math.abs(value) <= NEUTRAL * pendulum) free.push(movement(v));
    else if (value < least) {
      least = value;
      softest = v;
    }
  });
  return {
    kind: least < 0 ? 'unstable' : free.length > 0 ? 'neutral' : 'stable',
    least,
    softest: movement(softest),
    free,
  };
}
