import { wrap } from './ring.ts';

/** A stretch of the joint with the bead a pass lays on it, mm and mm2. */
export interface BeadStretch {
  readonly from: number;
  readonly to: number;
  readonly area: number;
  /** Whether it has no such bead, and only as much of a neighbour's as is feathered out there. */
  readonly feathered: boolean;
}

/** The metal of one pass along the root line, s in mm and any number of turns. */
export interface Metal {
  /** mm3 up to s, rising. */
  volume(s: number): number;
  /** mm of bead up to s, rising: what is feathered out is none. */
  length(s: number): number;
  /** Where `volume` mm3 from s end, at most `longest` mm on. */
  reach(s: number, volume: number, longest: number): number;
  /** Where `length` mm of bead lie behind s and that place, and before it; up to a turn away. */
  after(s: number, length: number): number;
  before(s: number, length: number): number;
}

/** mm. */
const PLACE = 1e-3;

/** Plain geometry. @param beads rising, one after the other, over 0..perimeter. */
export function metalOf(beads: readonly BeadStretch[], perimeter: number): Metal {
  const sum = (s: number, per: (bead: BeadStretch) => number): number => {
    const at = wrap(s, perimeter);
    const turns = Math.round((s - at) / perimeter);
    let up = 0;
    let round = 0;
    for (const bead of beads) {
      const { from, to } = bead;
      const each = per(bead);
      round += each * (to - from);
      if (at > from) up += each * (Math.min(at, to) - from);
    }
    return turns * round + up;
  };
  const length = (s: number) => sum(s, ({ feathered }) => (feathered ? 0 : 1));
  /** Halves until the place is known to less than a micrometre. */
  const placeOf = (wanted: number, from: number, to: number): number => {
    let [low, high] = [from, to];
    while (high - low > PLACE) {
      const middle = (low + high) / 2;
      if (length(middle) < wanted) low = middle;
      else high = middle;
    }
    return high;
  };
  return {
    after: (s, wanted) => placeOf(length(s) + wanted, s, s + perimeter),
    before: (s, wanted) => placeOf(length(s) - wanted, s - perimeter, s),
    volume: (s) => sum(s, ({ area }) => area),
    length,
    reach(s, volume, longest) {
      let at = wrap(s, perimeter);
      let done = 0;
      let left = volume;
      // Round-off may leave s past the last of them.
      let k = Math.max(
        0,
        beads.findIndex((bead) => at < bead.to),
      );
      while (done < longest) {
        const bead = beads[k];
        if (bead === undefined) break;
        const length = Math.max(0, bead.to - Math.max(at, bead.from));
        if (bead.area * length > left) return s + Math.min(longest, done + left / bead.area);
        left -= bead.area * length;
        done += length;
        k = (k + 1) % beads.length;
        at = k === 0 ? 0 : bead.to;
      }
      return s + longest;
    },
  };
}
