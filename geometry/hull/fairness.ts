import type { HullSpec } from './spec.ts';

type OffsetsSpec = Extract<HullSpec, { kind: 'offsets' }>;

/** A half-breadth that its neighbours contradict: where it stands, what stands there, what they say. mm */
export interface UnfairCell {
  readonly station: number;
  readonly waterline: number;
  readonly value: number;
  readonly proposed: number;
}

/** A wrong cell explains all but this share of the unfairness round it; what no single cell explains is the hull's own. */
const LEFT = 0.15;
/** Share of the greatest half-breadth below which a slip is no slip: lines are faired to no better. */
const LEAST = 0.004;
/** mm. */
const LEAST_MM = 1;
/** Stencils a cell must lie in for a judgement. */
const STENCILS = 5;
/** At the rim of a table few neighbours speak: so many at least, and only a gross slip, as a share of the greatest half-breadth, is one. */
const RIM_STENCILS = 3;
const RIM_LEAST = 0.25;
const MOST = 5;

/**
 * Single wrong cells of a table of offsets, the worst first. Along every waterline and up every section each cell is held
 * against the cubic through its two neighbours on either hand. One wrong cell shows in all stencils that hold it in the known
 * proportions of the interpolation weights; the change that takes most out of them, by least squares, is what it is off by.
 * A cell is named where that one change takes away nearly all there is; it is then mended and the search goes on.
 */
export function unfairCells(spec: OffsetsSpec): UnfairCell[] {
  const table = spec.halfBreadths.map((row) => [...row]);
  const most = Math.max(0, ...table.flat().map((v) => v ?? 0));
  const least = Math.max(LEAST_MM, LEAST * most);
  const out: UnfairCell[] = [];
  while (out.length < MOST) {
    let best: { i: number; j: number; change: number; gain: number } | undefined;
    for (let i = 0; i < spec.stations.length; i++) {
      for (let j = 0; j < spec.waterlines.length; j++) {
        const found = judged(spec, table, i, j);
        const value = table[i]?.[j] ?? 0;
        // No half-breadth is less than none: a change that would make it so is none.
        if (found === undefined || found.left > LEFT) continue;
        if (Math.abs(Math.max(0, value + found.change) - value) < (found.rim ? RIM_LEAST * most : least)) continue;
        if (best === undefined || found.gain > best.gain) best = { i, j, ...found };
      }
    }
    if (best === undefined) break;
    const row = table[best.i] as (number | null)[];
    const value = row[best.j] as number;
    const proposed = Math.max(0, value + best.change);
    row[best.j] = proposed;
    out.push({
      station: spec.stations[best.i] as number,
      waterline: spec.waterlines[best.j] as number,
      value,
      proposed,
    });
  }
  return out;
}

function judged(
  { stations, waterlines }: OffsetsSpec,
  table: readonly (readonly (number | null)[])[],
  i: number,
  j: number,
) {
  if ((table[i]?.[j] ?? null) === null) return undefined;
  let wd = 0;
  let ww = 0;
  let dd = 0;
  let count = 0;
  /** The unfairness of a stencil on line `line`: the value in its middle less the cubic through the other four. */
  const unfair = (
    at: ArrayLike<number>,
    value: (k: number, line: number) => number | null,
    middle: number,
    line: number,
  ) => {
    let d = 0;
    for (let k = middle - 2; k <= middle + 2; k++) {
      const y = value(k, line);
      if (y === null) return undefined;
      d += (k === middle ? 1 : -lagrange(at, middle, k)) * y;
    }
    return d;
  };
  const look = (
    at: ArrayLike<number>,
    value: (k: number, line: number) => number | null,
    k0: number,
    line: number,
  ): void => {
    for (let middle = Math.max(2, k0 - 2); middle <= Math.min(at.length - 3, k0 + 2); middle++) {
      const own = unfair(at, value, middle, line);
      if (own === undefined) continue;
      // What the lines on either hand show in the same place is the hull's own shape.
      const beside = [line - 1, line + 1].map((n) => unfair(at, value, middle, n)).filter((d) => d !== undefined);
      const d = own - (beside.length === 0 ? 0 : beside.reduce((sum, x) => sum + x, 0) / beside.length);
      const w = k0 === middle ? 1 : -lagrange(at, middle, k0);
      wd += w * d;
      ww += w * w;
      dd += d * d;
      count++;
    }
  };
  look(stations, (k, line) => table[k]?.[line] ?? null, i, j);
  look(waterlines, (k, line) => table[line]?.[k] ?? null, j, i);
  if (count < RIM_STENCILS || !(dd > 0)) return undefined;
  const gain = (wd * wd) / ww;
  return { change: -wd / ww, gain, left: (dd - gain) / dd, rim: count < STENCILS };
}

/** Weight of the value at k in the cubic through the four neighbours of `middle`, taken at `middle`. */
function lagrange(at: ArrayLike<number>, middle: number, k: number): number {
  let w = 1;
  for (let m = middle - 2; m <= middle + 2; m++) {
    if (m === middle || m === k) continue;
    w *= ((at[middle] as number) - (at[m] as number)) / ((at[k] as number) - (at[m] as number));
  }
  return w;
}
