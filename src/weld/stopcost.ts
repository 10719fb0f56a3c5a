import { wrap } from './ring.ts';

/** Places that a stop should keep off, mm round the joint, and by how much. */
export interface KeepOff {
  readonly from: Float64Array;
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
 * @param perimeter mm, > 0.
 */
export function costOf(perimeter: number, keepOff: readonly KeepOff[]): Cost {
  const count = Math.max(1, Math.ceil(perimeter / SCALE));
  const step = perimeter / count;
  const short = new Float64Array(count);
  // Only what lies within reach of a place is gone over, no powers: this runs for every pass of every plan.
  for (const { from, wanted } of keepOff) {
    if (wanted <= 0) continue;
    const reach = Math.min(wanted, perimeter / 2);
    for (let n = 0; n < from.length; n++) {
      const s = from[n] as number;
      const last = Math.floor((s + reach) / step);
      for (let k = Math.ceil((s - reach) / step); k <= last; k++) {
        const missing = 1 - Math.abs(k * step - s) / wanted;
        const cell = k < 0 ? k + count : k >= count ? k - count : k;
        if (missing > (short[cell] as number)) short[cell] = missing;
      }
    }
  }
  for (let k = 0; k < count; k++) {
    const each = short[k] as number;
    short[k] = each * each * each;
  }
  return (s) => short[Math.round(wrap(s, perimeter) / step) % count] as number;
}
