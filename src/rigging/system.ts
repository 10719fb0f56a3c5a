import { add, cross, dot, length, scale, sub, type Vec3 } from '../../geometry/math/vec.ts';
import { type HungLoad, type Line, type Push, stiffnessOf } from './load.ts';
import { type Pose, turned } from './pose.ts';

/**
 * A load on its lines, ready to be computed on. Arms run from the centre of gravity, in the attitude in which the load is
 * drawn. `up` is the unit normal of the water plane, ship axes.
 */
export interface HungSystem {
  readonly load: HungLoad;
  readonly lines: readonly Line[];
  readonly up: Vec3;
  readonly pushes: readonly Push[];
  readonly lineArms: readonly Vec3[];
  readonly buoyancyArm: Vec3;
  readonly pushArms: readonly Vec3[];
  /** N: weight in water. */
  readonly net: number;
  /** mm: half the size of the load as far as it is known, by which turns are weighed against moves. */
  readonly size: number;
}

/** Size taken where every line ends in the centre of gravity: such a load has no attitude. */
const POINT_SIZE = 1000;

export function hungSystem(load: HungLoad, lines: readonly Line[], up: Vec3, pushes: readonly Push[] = []): HungSystem {
  const lineArms = lines.map((line) => sub(line.attachment, load.centre));
  const size = Math.max(...lineArms.map(length), length(sub(load.buoyancyCentre, load.centre)));
  return {
    load,
    lines,
    up,
    pushes,
    lineArms,
    buoyancyArm: sub(load.buoyancyCentre, load.centre),
    pushArms: pushes.map((push) => sub(push.at, load.centre)),
    net: load.weight - load.buoyancy,
    size: size > 1e-6 ? size : POINT_SIZE,
  };
}

/** The load where it is drawn. */
export const drawnPose = (system: HungSystem): Pose => ({ centre: system.load.centre, turn: [1, 0, 0, 0] });

/** One line in a pose. mm, N. */
export interface LinePull {
  /** Length it has. */
  readonly length: number;
  /** Zero in a slack line. */
  readonly tension: number;
  /** Unit vector from the pin to the load, ship axes. */
  readonly direction: Vec3;
  /** N/mm; zero in a slack line. */
  readonly stiffness: number;
}

/** A line of the length without load L, between its pin and a point at `end`. */
export function linePull(line: Line, end: Vec3, L: number): LinePull {
  const d = sub(end, line.pin);
  const l = length(d);
  const direction: Vec3 = l > 0 ? scale(d, 1 / l) : [0, 0, 0];
  if (!(l > L)) return { length: l, tension: 0, direction, stiffness: 0 };
  const k = stiffnessOf(line.stretch, L);
  return { length: l, tension: k * (l - L), direction, stiffness: k };
}

/**
 * Potential energy of a pose, N mm: weight and buoyancy by height, half the tension times the stretch in each line, less
 * the work of the pushes. Zero where the load is drawn with every line slack.
 */
export function energyAt(system: HungSystem, lengths: readonly number[], pose: Pose): number {
  const { load, up } = system;
  const moved = sub(pose.centre, load.centre);
  let e = system.net * dot(up, moved);
  const arm = turned(pose.turn, system.buoyancyArm);
  e -= load.buoyancy * dot(up, sub(arm, system.buoyancyArm));
  system.pushes.forEach((push, i) => {
    const drawn = system.pushArms[i] as Vec3;
    e -= dot(push.force, add(moved, sub(turned(pose.turn, drawn), drawn)));
  });
  system.lines.forEach((line, i) => {
    const L = lengths[i] as number;
    const pull = linePull(line, add(pose.centre, turned(pose.turn, system.lineArms[i] as Vec3)), L);
    e += 0.5 * pull.tension * (pull.tension > 0 ? pull.length - L : 0);
  });
  return e;
}

/**
 * Slope of the energy (6) and its second derivatives (6 x 6, row by row) for a small move of the centre of gravity and a
 * small turn about it, ship axes. Turns are counted in mm at the distance `system.size`, so that all six have the same unit: N,
 * N/mm. The slope is the force that is missing for equilibrium: its first three the force, the rest the moment over `size`.
 *
 * With the arm s and dp = dr + t x s + t x (t x s)/2 each force f (the energy's slope at the point) adds to the second
 * derivatives (f s' + s f')/2 - (f . s) 1 for the turns; a taut line adds J' K J, K = k u u' + T/l (1 - u u').
 */
export function slopeAt(
  system: HungSystem,
  lengths: readonly number[],
  pose: Pose,
  slope: Float64Array,
  second: Float64Array,
): void {
  const { load, up, size } = system;
  slope.fill(0);
  second.fill(0);
  addForce(scale(up, system.load.weight), [0, 0, 0], size, slope, second);
  addForce(scale(up, -load.buoyancy), turned(pose.turn, system.buoyancyArm), size, slope, second);
  system.pushes.forEach((push, i) => {
    addForce(scale(push.force, -1), turned(pose.turn, system.pushArms[i] as Vec3), size, slope, second);
  });
  for (let i = 0; i < system.lines.length; i++) {
    const arm = turned(pose.turn, system.lineArms[i] as Vec3);
    const pull = linePull(system.lines[i] as Line, add(pose.centre, arm), lengths[i] as number);
    if (pull.tension <= 0) continue;
    addForce(scale(pull.direction, pull.tension), arm, size, slope, second);
    addStiffness(pull, arm, size, second);
  }
}

function addForce(f: Vec3, s: Vec3, size: number, slope: Float64Array, second: Float64Array): void {
  const m = cross(s, f);
  const fs = dot(f, s);
  for (let i = 0; i < 3; i++) {
    slope[i] = (slope[i] as number) + (f[i] as number);
    slope[3 + i] = (slope[3 + i] as number) + (m[i] as number) / size;
    for (let j = 0; j < 3; j++) {
      const at = (3 + i) * 6 + 3 + j;
      const both = 0.5 * ((f[i] as number) * (s[j] as number) + (s[i] as number) * (f[j] as number));
      second[at] = (second[at] as number) + (both - (i === j ? fs : 0)) / (size * size);
    }
  }
}

function addStiffness(pull: LinePull, s: Vec3, size: number, second: Float64Array): void {
  const u = pull.direction;
  // Along the line: (k - T/l) j j' with j = (u, s x u / size); square to it: T/l on every direction.
  const across = pull.tension / pull.length;
  const along = pull.stiffness - across;
  const m = cross(s, u);
  const j = [u[0], u[1], u[2], m[0] / size, m[1] / size, m[2] / size];
  for (let p = 0; p < 6; p++) {
    for (let q = 0; q < 6; q++) {
      second[p * 6 + q] = (second[p * 6 + q] as number) + along * (j[p] as number) * (j[q] as number);
    }
  }
  // J' J with J = [1, -[s]x / size].
  const [x, y, z] = [s[0] / size, s[1] / size, s[2] / size];
  const S = [0, z, -y, -z, 0, x, y, -x, 0]; // -[s]x, row by row
  const square = x * x + y * y + z * z;
  const a = [x, y, z];
  for (let p = 0; p < 3; p++) {
    second[p * 7] = (second[p * 7] as number) + across;
    for (let q = 0; q < 3; q++) {
      const right = p * 6 + 3 + q;
      const below = (3 + q) * 6 + p;
      const corner = (3 + p) * 6 + 3 + q;
      second[right] = (second[right] as number) + across * (S[p * 3 + q] as number);
      second[below] = (second[below] as number) + across * (S[p * 3 + q] as number);
      const turn = (p === q ? square : 0) - (a[p] as number) * (a[q] as number);
      second[corner] = (second[corner] as number) + across * turn;
    }
  }
}
