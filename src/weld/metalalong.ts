import type { BeadStretch } from './metal.ts';
import { wrap } from './ring.ts';

/** Fills `volume` (mm3) and `bead` (mm) with what `Metal.volume` and `Metal.length` give at from + k step (mm), k from 0 to count. */
export type MetalAlong = (from: number, step: number, count: number, volume: Float64Array, bead: Float64Array) => void;

/**
 * The metal of one pass at many places in turn: what the stretches behind a place hold together is summed once, not for each place.
 * The same sums in the same order as `metalOf`, so the same to the last digit. Plain geometry.
 *
 * @param beads rising, one after the other, over 0..perimeter.
 */
export function metalAlong(beads: readonly BeadStretch[], perimeter: number): MetalAlong {
  const n = beads.length;
  const starts = new Float64Array(n + 1).fill(Number.POSITIVE_INFINITY);
  const ends = new Float64Array(n);
  const areas = new Float64Array(n);
  // Of bead, per mm.
  const shares = new Float64Array(n);
  // Up to the start of each stretch.
  const volumeBefore = new Float64Array(n);
  const beadBefore = new Float64Array(n);
  let volumeRound = 0;
  let beadRound = 0;
  beads.forEach(({ from, to, area, feathered }, k) => {
    starts[k] = from;
    ends[k] = to;
    areas[k] = area;
    shares[k] = feathered ? 0 : 1;
    volumeBefore[k] = volumeRound;
    beadBefore[k] = beadRound;
    volumeRound += area * (to - from);
    beadRound += feathered ? 0 : to - from;
  });
  return (from, step, count, volume, bead) => {
    let k = 0;
    let before = Number.POSITIVE_INFINITY;
    for (let i = 0; i <= count; i++) {
      const s = from + i * step;
      const at = wrap(s, perimeter);
      // The last stretch that begins behind the place; from the first again once round.
      if (at < before) k = 0;
      before = at;
      while (at > (starts[k + 1] as number)) k++;
      const start = starts[k] as number;
      const area = areas[k] as number;
      const part = at > start ? Math.min(at, ends[k] as number) - start : 0;
      const turns = at === s ? 0 : Math.round((s - at) / perimeter);
      volume[i] = turns * volumeRound + ((volumeBefore[k] as number) + area * part);
      bead[i] = turns * beadRound + ((beadBefore[k] as number) + (shares[k] as number) * part);
    }
  };
}
