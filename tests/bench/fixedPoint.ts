/**
 * Numbers with 160 binary digits behind the point, as integers: some 48 decimals, far more than a double carries at any
 * size met here. Plain arithmetic, no source.
 */
export type Fixed = bigint;

const DIGITS = 160n;
/** A double down to 2^-57 in size times this is a whole number: nothing is lost on the way in. */
const INTO = 110n;

export const fixed = (x: number): Fixed => BigInt(Math.trunc(x * 2 ** Number(INTO))) << (DIGITS - INTO);
export const times = (p: Fixed, q: Fixed): Fixed => (p * q) >> DIGITS;
export const over = (p: Fixed, q: Fixed): Fixed => (p << DIGITS) / q;
/** The nearest double, or the one beside it. */
export const toDouble = (p: Fixed): number => Number(p) / 2 ** Number(DIGITS);

/** Newton's method on whole numbers, from above. */
export function squareRoot(p: Fixed): Fixed {
  if (p === 0n) return 0n;
  const n = p << DIGITS;
  let x = 1n << BigInt((n.toString(2).length + 1) >> 1);
  for (;;) {
    const next = (x + n / x) >> 1n;
    if (next >= x) return x;
    x = next;
  }
}
