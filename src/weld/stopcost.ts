import { wrap } from './ring.ts';

/** Places that a stop should keep off, mm round the joint, and by how much. */
export interface KeepOff {
  readonly from: readonly number[];
  /** mm. */
  readonly wanted: number;
}

/** How much a stop at s (mm, any number of turns) falls short of what is wanted of it, 0 to 1. */
export type Cost = (s: number) => number;

/** mm between the places that the cost is kept at. */
const SCALE = 1.25;

/**
 * How much a stop falls short of what is wanted of it; falling far short counts for much more (the cube of what is missing). Kept
 * on a scale of about a millimetre round the joint: it chooses where stops go, and what is said of them is measured.
 *
 * What comes back makes the cost for one pass after another in the same memory: a cost holds until the next is made.
 *
 * @param perimeter mm, > 0.
 */
export function costsRound(perimeter: number): (keepOff: readonly KeepOff[]) => Cost {
  const count = Math.max(1, Math.ceil(perimeter / SCALE));
  const step = perimeter / count;
  const short = new Float64Array(count);
  const cost: Cost = (s) => {
    const cell = Math.round(wrap(s, perimeter) / step);
    return short[cell < count ? cell : 0] as number;
  };
  return (keepOff) => {
    short.fill(0);
    for (const each of keepOff) if (each.wanted > 0) raise(short, step, perimeter, each);
    for (let k = 0; k < count; k++) {
      const each = short[k] as number;
      short[k] = each * each * each;
    }
    return cost;
  };
}

/** What is missing of the distance wanted, where it is more than from other places. Only what lies within reach is gone over. */
function raise(short: Float64Array, step: number, perimeter: number, { from, wanted }: KeepOff): void {
  const count = short.length;
  const reach = Math.min(wanted, perimeter / 2);
  for (let n = 0; n < from.length; n++) {
    const s = from[n] as number;
    const last = Math.floor((s + reach) / step) | 0;
    for (let k = Math.ceil((s - reach) / step) | 0; k <= last; k++) {
      const missing = 1 - Math.abs(k * step - s) / wanted;
      const cell = k < 0 ? k + count : k >= count ? k - count : k;
      if (missing > (short[cell] as number)) short[cell] = missing;
    }
  }
}
