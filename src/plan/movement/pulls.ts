import { add, length, scale, sub, type Vec3 } from '../../../geometry/math/vec.ts';
import type { Fitting } from '../../job/types.ts';
import { placeOf } from '../../rigging/pose.ts';
import type { LiftCase, LiftLinePlan, LiftPlan } from './types.ts';

/**
 * A pull on a lug while the lug is moved about: the far ends of its lines stay where they are, and so do the tensions. Exact for a
 * load given in the fitting itself; for a movement it holds for small moves of the pin, and the movement is worked out anew.
 */
export interface PullCase {
  /** State of the movement, from 0; -1 for the fitting's own load. */
  readonly state: number;
  readonly push: string | null;
  readonly parts: readonly PullPart[];
}

/** N; the far end in ship axes (mm), or a fixed direction (unit vector). */
export type PullPart =
  | { readonly toward: Vec3; readonly force: number }
  | { readonly direction: Vec3; readonly force: number };

/** Every pull on a fitting: those of the movement where a line hangs from it, else its own load. */
export function pullCases(
  fitting: Fitting,
  lift: Pick<LiftPlan, 'lines' | 'cases' | 'load'> | null,
  up: Vec3,
): PullCase[] {
  const cases = lift === null ? [] : liftPulls(fitting.id, lift.lines, lift.cases, lift.load.centre, up);
  if (cases.length > 0) return cases;
  const { load } = fitting;
  const part: PullPart =
    'toward' in load
      ? { toward: load.toward, force: load.force }
      : { direction: scale(load.direction, 1 / length(load.direction)), force: load.force };
  return [{ state: -1, push: null, parts: [part] }];
}

/** The pulls of the movement's cases on one fitting; cases in which it carries nothing are left out. */
export function liftPulls(
  id: string,
  lines: readonly Pick<LiftLinePlan, 'fitting' | 'attachment' | 'own'>[],
  cases: readonly LiftCase[],
  centre: Vec3,
  up: Vec3,
): PullCase[] {
  return cases.flatMap(({ state, push, equilibrium }) => {
    const parts = lines.flatMap((line, i): PullPart[] => {
      const tension = equilibrium.lines[i]?.tension ?? 0;
      if (line.fitting !== id || tension <= 0) return [];
      const end = placeOf(equilibrium.pose, centre, line.attachment);
      const weight: PullPart[] = line.own > 0 ? [{ direction: scale(up, -1), force: line.own }] : [];
      return [{ toward: end, force: tension }, ...weight];
    });
    return parts.length === 0 ? [] : [{ state, push, parts }];
  });
}

/** The whole pull of a case on a pin, N, ship axes. */
export function pullAt({ parts }: Pick<PullCase, 'parts'>, pin: Vec3): Vec3 {
  let sum: Vec3 = [0, 0, 0];
  for (const part of parts) {
    if ('direction' in part) sum = add(sum, scale(part.direction, part.force));
    else {
      const d = sub(part.toward, pin);
      const l = length(d);
      if (l > 0) sum = add(sum, scale(d, part.force / l));
    }
  }
  return sum;
}

/** Greatest sideways force and greatest pull over all cases, N, and the index of the case that is the most sideways. */
export interface WorstPull {
  readonly sideways: number;
  readonly worst: number;
  readonly greatest: number;
}

/**
 * The cases made ready for a search: what `pullAt` gives, for all of them at once and without a vector made on the way. `face` is the
 * unit normal of the lug's plate.
 */
export function worstOf(cases: readonly PullCase[]): (pin: Vec3, face: Vec3) => WorstPull {
  // Five numbers a part: far end or direction, force, and 1 where it is a direction.
  const parts = Float64Array.from(
    cases.flatMap((one) =>
      one.parts.flatMap((part) =>
        'direction' in part ? [...part.direction, part.force, 1] : [...part.toward, part.force, 0],
      ),
    ),
  );
  const ends: number[] = [];
  for (const one of cases) ends.push((ends.at(-1) ?? 0) + 5 * one.parts.length);
  return (pin, face) => {
    let sideways = -1;
    let greatest = 0;
    let worst = 0;
    let k = 0;
    for (let i = 0; i < ends.length; i++) {
      let x = 0;
      let y = 0;
      let z = 0;
      for (const end = ends[i] as number; k < end; k += 5) {
        let dx = parts[k] as number;
        let dy = parts[k + 1] as number;
        let dz = parts[k + 2] as number;
        let f = parts[k + 3] as number;
        if (parts[k + 4] === 0) {
          dx -= pin[0];
          dy -= pin[1];
          dz -= pin[2];
          const l = Math.sqrt(dx * dx + dy * dy + dz * dz);
          f = l > 0 ? f / l : 0;
        }
        x += f * dx;
        y += f * dy;
        z += f * dz;
      }
      const side = Math.abs(x * face[0] + y * face[1] + z * face[2]);
      greatest = Math.max(greatest, x * x + y * y + z * z);
      if (side > sideways) {
        sideways = side;
        worst = i;
      }
    }
    return { sideways: Math.max(sideways, 0), worst, greatest: Math.sqrt(greatest) };
  };
}
