/** Moments per unit width (N mm/mm) and deflection (mm) of a plate at a point; the sign is that of the load's own side. */
export interface PlateState {
  readonly deflection: number;
  readonly mx: number;
  readonly my: number;
  readonly mxy: number;
}

/** Equivalent stress in the plate's surface, MPa: 6/t^2 sqrt(mx^2 + my^2 - mx my + 3 mxy^2). Plate theory, von Mises. */
export const surfaceStress = (s: PlateState, thickness: number): number =>
  (6 / (thickness * thickness)) * Math.sqrt(s.mx * s.mx + s.my * s.my - s.mx * s.my + 3 * s.mxy * s.mxy);

/**
 * Rectangular panel of plating, mm and MPa: x from 0 to a, y from 0 to b, its edges on the frames and longitudinals behind it.
 */
export interface Panel {
  readonly a: number;
  readonly b: number;
  readonly thickness: number;
  readonly e: number;
  readonly nu: number;
}

/** D = E t^3/(12 (1 - nu^2)), N mm. Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, eq. 3. */
export const plateStiffness = ({ e, nu, thickness: t }: Panel): number => (e * t * t * t) / (12 * (1 - nu * nu));

/** A force (N, square to the plate) spread evenly on a rectangle about (x, y), mm; a size of 0 is a line or a point. */
export interface Patch {
  readonly x: number;
  readonly y: number;
  readonly force: number;
  readonly sizeX: number;
  readonly sizeY: number;
}
