import { type RootLine, rootAt } from '../../geometry/fit/rootline.ts';
import type { LugFrame } from '../../geometry/lug/frame.ts';
import { leastSquares } from '../../geometry/math/leastsquares.ts';
import { dot } from '../../geometry/math/vec.ts';

/** How far the plate is turned off the plan, rad: about its foot (face) and about its face (foot). Plus: `face+`, `end+` stand off the shell. */
export interface FeltTurn {
  readonly face: number;
  readonly foot: number;
}

/** A gap by feeler gauge with the opening planned there, mm; s along the root, mm. */
interface Felt {
  readonly s: number;
  readonly gap: number;
  readonly planned: number;
}

/**
 * The turn off the plan that the gaps mean, the foot being cut as planned: the plane by least squares through what each gap is wider than
 * planned, over the places where they were felt. From five gaps on a bow along the foot (a shell rounder than planned) is let out of it.
 * A feeler measures square to the root; along the stem the gap is longer by 1 / (stem . shell normal). Plain geometry.
 * `undefined` where the gaps do not tell it: fewer than three, or all of them in a line.
 */
export function turnByGaps(root: RootLine, planned: LugFrame, gaps: readonly Felt[]): FeltTurn | undefined {
  const columns = gaps.length >= 5 ? 4 : 3;
  const places = gaps.map(({ s }) => ({ ...rootAt(root, s), steep: steepness(root, planned, s) }));
  const wider = gaps.map(({ gap, planned: promised }, i) => (gap - promised) / (places[i]?.steep ?? 1));
  const through = (n: number) =>
    leastSquares(
      places.flatMap(({ a, c }) => [1, a, c, a * a].slice(0, n)),
      n,
      wider,
    );
  const found = through(columns) ?? (columns > 3 ? through(3) : undefined);
  if (found === undefined) return undefined;
  return { face: Math.atan(found.coefficients[2] as number), foot: Math.atan(found.coefficients[1] as number) };
}

/** The same turn as the angle finder has it, from the frame its readings give. Exact in each turn by itself. Plain geometry. */
export function turnByFinder(planned: LugFrame, built: LugFrame): FeltTurn {
  const upright = dot(built.stem, planned.stem);
  return {
    face: Math.atan2(-dot(built.stem, planned.face), upright),
    foot: Math.atan2(-dot(built.stem, planned.foot), upright),
  };
}

/** Share of the shell's outward normal along the stem where the root runs, 0..1. */
function steepness(root: RootLine, { stem }: LugFrame, s: number): number {
  let k = 0;
  while (k < root.count - 1 && (root.s[k] as number) < s) k++;
  return Math.abs([0, 1, 2].reduce((sum, i) => sum + (root.normal[3 * k + i] as number) * (stem[i] as number), 0));
}
