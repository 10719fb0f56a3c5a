/** A figure that may stand in a range, or go round (a heading comes back to itself after half a turn). */
export interface Axis {
  readonly from: number;
  readonly to: number;
  /** Steps of the first look. */
  readonly steps: number;
  readonly round: boolean;
  /** Places that the first look does not go past, besides its steps: what is allowed only near them would be missed between two steps. */
  readonly also?: readonly number[];
}

export interface Found {
  readonly at: readonly number[];
  readonly value: number;
}

/** Each closer look is this much closer. */
const CLOSER = 0.6;
/** Points on each axis of a closer look on one or two axes. */
const WIDE = 5;
const LOOKS = 30;
/** On more axes a grid has too many points, and most of them in its corners: so many spread over the box instead. */
const SPREAD = 56;

/**
 * Least value of a function over a box, looked for everywhere: a grid over all of it, then closer and closer about the `seeds` best
 * places of the grid that have no better neighbour. `cost` gives infinity where it is not allowed. Returns the places that were
 * closed in on, best first; none where nothing is allowed. Works on kinks; a valley narrower than the first grid may be missed.
 */
export function globalLeast(axes: readonly Axis[], cost: (at: readonly number[]) => number, seeds: number): Found[] {
  const steps = axes.map((axis) => (axis.steps > 0 ? (axis.to - axis.from) / axis.steps : 0));
  const values = axes.map((axis, i) => {
    const count = axis.steps === 0 ? 1 : axis.round ? axis.steps : axis.steps + 1;
    const even = Array.from({ length: count }, (_, k) => axis.from + k * (steps[i] as number));
    return axis.steps === 0 ? even : [...even, ...(axis.also ?? [])].sort((p, q) => p - q);
  });
  const grid = new Float64Array(values.reduce((product, of) => product * of.length, 1));
  const placeAt = (k: number): number[] => {
    let rest = k;
    return values.map((of) => {
      const index = rest % of.length;
      rest = Math.floor(rest / of.length);
      return of[index] as number;
    });
  };
  for (let k = 0; k < grid.length; k++) grid[k] = cost(placeAt(k));
  const low = valleys(grid, axes, values).sort((p, q) => (grid[p] as number) - (grid[q] as number));
  return low
    .slice(0, seeds)
    .map((k) => closeIn(axes, steps, cost, { at: placeAt(k), value: grid[k] as number }))
    .sort((p, q) => p.value - q.value);
}

/** Places of the grid that are allowed and have no better neighbour on any axis; of equal ones the first. */
function valleys(grid: Float64Array, axes: readonly Axis[], values: readonly (readonly number[])[]): number[] {
  const found: number[] = [];
  for (let k = 0; k < grid.length; k++) {
    const here = grid[k] as number;
    if (here === Number.POSITIVE_INFINITY) continue;
    let stride = 1;
    let lowest = true;
    for (let i = 0; i < values.length && lowest; i++) {
      const n = (values[i] as readonly number[]).length;
      const index = Math.floor(k / stride) % n;
      for (const step of n > 1 ? [-1, 1] : []) {
        let next = index + step;
        if (axes[i]?.round) next = (next + n) % n;
        if (next < 0 || next >= n) continue;
        const other = k + (next - index) * stride;
        const there = grid[other] as number;
        if (there < here || (there === here && other < k)) lowest = false;
      }
      stride *= n;
    }
    if (lowest) found.push(k);
  }
  return found;
}

/** Steps between two places, the largest of the axes. */
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

/**
 * Closer and closer looks about a place, each about the best of the last; one that moved far is followed by one as wide, and by a step
 * further the same way.
 */
function closeIn(
  axes: readonly Axis[],
  steps: readonly number[],
  cost: (at: readonly number[]) => number,
  seed: Found,
): Found {
  const open = axes.flatMap((_, i) => ((steps[i] as number) > 0 ? [i] : []));
  const offsets = looksOver(open.length);
  let best = seed;
  let reach = [...steps];
  const within = (i: number, x: number): number => {
    const { from, to, round } = axes[i] as Axis;
    if (!round) return Math.max(from, Math.min(to, x));
    return from + ((((x - from) % (to - from)) + to - from) % (to - from));
  };
  const look = (centre: readonly number[], by: (k: number) => number): void => {
    const at = [...centre];
    open.forEach((i, k) => {
      at[i] = within(i, (centre[i] as number) + (reach[i] as number) * by(k));
    });
    const value = cost(at);
    if (value < best.value) best = { at, value };
  };
  for (let n = 0; n < LOOKS; n++) {
    const centre = best.at;
    for (const offset of offsets) look(centre, (k) => offset[k] as number);
    if (best.at !== centre) {
      const way = open.map((i) => within(i, best.at[i] as number) - (centre[i] as number));
      const from = best.at;
      look(from, (k) => (way[k] as number) / (reach[open[k] as number] as number));
    }
    if (apartIn(axes, reach, best.at, centre) < 0.9) reach = reach.map((r) => r * CLOSER);
  }
  return best;
}

/** Where a closer look looks, in units of its reach: the same each time, so that the same question has the same answer. */
const looked = new Map<number, readonly (readonly number[])[]>();

function looksOver(axes: number): readonly (readonly number[])[] {
  const known = looked.get(axes);
  if (known) return known;
  const made: number[][] = [];
  if (axes <= 2) {
    const half = (WIDE - 1) / 2;
    for (let k = 0; k < WIDE ** axes; k++) {
      made.push(Array.from({ length: axes }, (_, i) => ((Math.floor(k / WIDE ** i) % WIDE) - half) / half));
    }
  } else {
    for (let i = 0; i < axes; i++)
      for (const step of [-1, 1]) made.push(Array.from({ length: axes }, (_, k) => (k === i ? step : 0)));
    // Halton's sequence: spread evenly, whatever the number of points.
    for (let n = 1; n <= SPREAD; n++)
      made.push(Array.from({ length: axes }, (_, k) => 2 * radical(n, PRIMES[k] ?? 11) - 1));
  }
  looked.set(axes, made);
  return made;
}

const PRIMES = [2, 3, 5, 7];

/** The digits of n to a base, mirrored behind the point: from 0 to 1. */
function radical(n: number, base: number): number {
  let out = 0;
  let weight = 1 / base;
  for (let rest = n; rest > 0; rest = Math.floor(rest / base)) {
    out += (rest % base) * weight;
    weight /= base;
  }
  return out;
}
