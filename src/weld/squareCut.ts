/**
 * Gap that a plate with a square, unbevelled edge leaves at its far face, mm: T cos(psi).
 * Plain geometry: the edge is T wide and stands at pi/2 - psi to the shell; its near corner touches.
 * @param thickness mm; @param dihedral rad, the acute one, 0..pi/2.
 */
export function squareCutGap(thickness: number, dihedral: number): number {
  return thickness * Math.cos(dihedral);
}

/** Sharpest dihedral, rad, at which a square edge keeps its gap within `gap`: acos(gap / T). Plain geometry. */
export function leastDihedralOfSquareCut(thickness: number, gap: number): number {
  return gap >= thickness ? 0 : Math.acos(gap / thickness);
}
