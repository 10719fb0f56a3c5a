/** A figure that may stand in a range, or go round (a heading comes back to itself after half a turn). */
export interface Axis {
  readonly from: number;
  readonly to: number;
  /** Steps of the first look. */
  readonly steps: number;
  readonly round: boolean;
}

export interface Found {
  readonly at: readonly number[];
  readonly value: number;
}

/** Each closer look is this much closer, and this many points wide on every axis. */
const CLOSER = 0.55;
const WIDE = 5;
const LOOKS = 22;

/**
 * Least value of a function over a box, looked for everywhere: a grid over all of it, then closer and closer grids about the `seeds`
 * best places that are not neighbours of one another. `cost` gives infinity where it is not allowed. Returns the places that were
 * closed in on, best first; none where nothing is allowed. Works on kinks; a valley narrower than the first grid may be missed.
 */
export function globalLeast(axes: readonly Axis[], cost: (at: readonly number[]) => number, seeds: number): Found[] {
  const open = axes.filter((axis) => axis.steps > 0);
  const steps = axes.map((axis) => (axis.steps > 0 ? (axis.to - axis.from) / axis.steps : 0));
  const grid: Found[] = [];
  const counts = axes.map((axis) => (axis.steps === 0 ? 1 : axis.round ? axis.steps : axis.steps + 1));
  const total = counts.reduce((product, n) => product * n, 1);
  for (let k = 0; k < total; k++) {
    let rest = k;
    const at = axes.map((axis, i) => {
      const n = counts[i] as number;
      const index = rest % n;
      rest = Math.floor(rest / n);
      return axis.from + index * (steps[i] as number);
    });
    const value = cost(at);
    if (value < Number.POSITIVE_INFINITY) grid.push({ at, value });
  }
  grid.sort((p, q) => p.value - q.value);
  const chosen: Found[] = [];
  for (const found of grid) {
    if (chosen.length >= seeds) break;
    if (chosen.every((other) => apartIn(axes, steps, found.at, other.at) > 1.5)) chosen.push(found);
  }
  const width = open.length > 2 ? 3 : WIDE;
  return chosen.map((seed) => closeIn(axes, steps, cost, seed, width)).sort((p, q) => p.value - q.value);
}

/** Grid steps between two places, the largest of the axes. */
function apartIn(axes: readonly Axis[], steps: readonly number[], p: readonly number[], q: readonly number[]): number {
  return Math.max(
    ...axes.map((axis, i) => {
      const step = steps[i] as number;
      if (step === 0) return 0;
      let d = Math.abs((p[i] as number) - (q[i] as number));
      if (axis.round) d = Math.min(d, axis.to - axis.from - d);
      return d / step;
    }),
  );
}

function closeIn(
  axes: readonly Axis[],
  steps: readonly number[],
  cost: (at: readonly number[]) => number,
  seed: Found,
  width: number,
): Found {
  let best = seed;
  let reach = steps.map((s) => s);
  const half = (width - 1) / 2;
  const points = width ** axes.length;
  for (let look = 0; look < LOOKS; look++) {
    const centre = best.at;
    for (let k = 0; k < points; k++) {
      let rest = k;
      let fixed = false;
      const at = axes.map((axis, i) => {
        const index = rest % width;
        rest = Math.floor(rest / width);
        const r = reach[i] as number;
        if (r === 0 && index !== half) fixed = true;
        const x = (centre[i] as number) + ((index - half) / half) * r;
        if (!axis.round) return Math.max(axis.from, Math.min(axis.to, x));
        const turn = axis.to - axis.from;
        return axis.from + ((((x - axis.from) % turn) + turn) % turn);
      });
      if (fixed) continue;
      const value = cost(at);
      if (value < best.value) best = { at, value };
    }
    // Still on the move: look as wide again from the new place.
    if (apartIn(axes, reach, best.at, centre) < 0.99) reach = reach.map((r) => r * CLOSER);
  }
  return best;
}
