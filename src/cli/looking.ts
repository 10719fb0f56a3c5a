import type { Vec3 } from '../../geometry/math/vec.ts';

/**
 * The way a face or an end of a lug looks, in the ship's words. Two words where the second way is more than half of the
 * first.
 *
 * @param v unit vector in ship axes
 * @param sign -1 turns it round
 */
export function lookingTowards(v: Vec3, sign: 1 | -1, side: 'port' | 'starboard'): string {
  const [x, y, z] = [v[0] * sign, v[1] * sign * (side === 'port' ? 1 : -1), v[2] * sign];
  const ways = [
    { much: Math.abs(x), word: x >= 0 ? 'forward' : 'aft' },
    { much: Math.abs(y), word: y >= 0 ? 'outboard' : 'inboard' },
    { much: Math.abs(z), word: z >= 0 ? 'up' : 'down' },
  ].sort((p, q) => q.much - p.much);
  const [first, second] = ways;
  if (first === undefined || second === undefined) return '';
  return second.much > first.much / 2 ? `${first.word} and ${second.word}` : first.word;
}
