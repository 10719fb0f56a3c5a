/** A fillet shorter than this many legs counts with a quarter of its length as leg. AWS D1.1:2010, 2.4.2.3; AISC 360, J2.2b. */
export const LEAST_LENGTH_IN_LEGS = 4;

/** Least length of an intermittent segment, mm: 1 1/2 in. AWS D1.1:2010, 2.4.2.4; AISC 360, J2.2b. */
export const LEAST_SEGMENT = 38.1;

/**
 * Leg that counts for a fillet of a given length, mm: the leg itself, or a quarter of the length if that is less.
 * AWS D1.1:2010, 2.4.2.3; AISC 360, J2.2b.
 */
export function countedLeg(leg: number, length: number): number {
  return Math.min(leg, length / LEAST_LENGTH_IN_LEGS);
}

/**
 * Reduction for a long end-loaded fillet: 1.2 - 0.002 l/w, not above 1, for l/w up to 300.
 * AWS D1.1:2010, 2.4.2; AISC 360, J2.2b. Length and leg in the same unit.
 * @throws RangeError beyond l/w = 300, where `countedLength` gives 180 legs instead.
 */
export function longWeldFactor(length: number, leg: number): number {
  const slenderness = length / leg;
  if (!(slenderness >= 0 && slenderness <= 300))
    throw new RangeError(`l/w must lie within 0 and 300, got ${slenderness}`);
  return Math.min(1, 1.2 - 0.002 * slenderness);
}

/** Length that counts for an end-loaded fillet: beta l up to 300 legs, 180 legs beyond. Source as `longWeldFactor`. */
export function countedLength(length: number, leg: number): number {
  return length > 300 * leg ? 180 * leg : length * longWeldFactor(length, leg);
}
