import { length, type Vec3 } from '../../geometry/math/vec.ts';

/** The six ways of a ship. `inboard` is towards the keel, `up` away from it, whichever way up the ship is to its water. */
export type ShipWay = 'forward' | 'aft' | 'outboard' | 'inboard' | 'up' | 'down';

/** Ways that lie alike, for round-off apart: the first in the order of `ShipWay` is named. */
const ALIKE = 1e-9;

/** The way that a vector of any length in ship axes (x forward, y to port, z up) follows most, at a side of the ship. */
export function shipWay(v: Vec3, side: 'port' | 'starboard'): ShipWay {
  const out = side === 'port' ? v[1] : -v[1];
  const ways: readonly (readonly [ShipWay, number])[] = [
    ['forward', v[0]],
    ['aft', -v[0]],
    ['outboard', out],
    ['inboard', -out],
    ['up', v[2]],
    ['down', -v[2]],
  ];
  const alike = ALIKE * length(v);
  return ways.reduce((best, way) => (way[1] > best[1] + alike ? way : best))[0];
}
