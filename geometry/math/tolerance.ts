/**
 * Round-off, and nothing else: what floating point does to numbers of the size met here (a ship is 1e5 mm long, doubles
 * carry 16 digits). The accuracy asked of a method is that method's argument; limits of the trade live in the job.
 */

/** mm. Two lengths computed along different ways may differ by this on a ship of 1e5 mm. */
export const ROUND_OFF_MM = 1e-8;

/** A pure number near 1 (a unit vector's component, a curve parameter) after some tens of operations. */
export const ROUND_OFF_UNIT = 1e-12;

/** rad. Directions closer than this are the same direction. */
export const ROUND_OFF_RAD = 1e-9;
