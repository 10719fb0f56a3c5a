import { wrap } from './ring.ts';

/** Height of the root line along its arc length, any level as zero; mm. s rises from 0 to the perimeter, straight from one place to the next. */
export interface Profile {
  readonly s: ArrayLike<number>;
  readonly height: ArrayLike<number>;
}

/**
 * mm of the way from one place to another, in that direction, that goes downhill more steeply than `STEEP_DEGREES`. Places lie any
 * number of turns outside 0..perimeter.
 */
export type Downhill = (fromS: number, toS: number) => number;

/** Slope along the joint, degrees, from which on a way goes downhill to speak of. A choice. */
export const STEEP_DEGREES = 25;

/** mm of a run that may go downhill: about an inch, what keeps two stops apart. A choice; the procedure says how a run is laid. */
export const MOST_DOWNHILL = 25;

const STEEP = Math.sin((STEEP_DEGREES * Math.PI) / 180);

/** Plain geometry. @param profile with two places at least, of which the last is the perimeter, > 0. */
export function downhillOn({ s, height }: Profile): Downhill {
  const count = s.length;
  const perimeter = s[count - 1] as number;
  // Steep way up to each place that falls, and that rises, in the direction of s.
  const falling = new Float64Array(count);
  const rising = new Float64Array(count);
  for (let k = 1; k < count; k++) {
    const way = (s[k] as number) - (s[k - 1] as number);
    const rise = (height[k] as number) - (height[k - 1] as number);
    falling[k] = (falling[k - 1] as number) + (rise < -STEEP * way ? way : 0);
    rising[k] = (rising[k - 1] as number) + (rise > STEEP * way ? way : 0);
  }
  if (falling[count - 1] === 0 && rising[count - 1] === 0) return () => 0;
  const upTo = (list: Float64Array, place: number): number => {
    const at = wrap(place, perimeter);
    let low = 0;
    let high = count - 1;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if ((s[middle] as number) <= at) low = middle;
      else high = middle;
    }
    const from = s[low] as number;
    const way = (s[high] as number) - from;
    const [below, above] = [list[low] as number, list[high] as number];
    const turns = Math.round((place - at) / perimeter);
    return turns * (list[count - 1] as number) + below + (way > 0 ? ((above - below) * (at - from)) / way : 0);
  };
  return (fromS, toS) =>
    toS >= fromS ? upTo(falling, toS) - upTo(falling, fromS) : upTo(rising, fromS) - upTo(rising, toS);
}
