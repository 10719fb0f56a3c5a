import type { HullSpec } from '../../geometry/hull/spec.ts';

/** mm: a ship of 120 m with the parabolic lines y = B/2 (1 - (2x/L)^2) (1 - (z/T)^2), x from amidships, z down. */
export const LENGTH = 120_000;
export const BREADTH = 12_000;
export const DRAFT = 7_500;
export const STATIONS = 41;
export const POINTS = 17;

/** Half-breadth in ship axes: x from the aft perpendicular, z up from the keel. */
export function halfBreadth(x: number, z: number): number {
  return (BREADTH / 2) * (1 - (2 * (x / LENGTH) - 1) ** 2) * (1 - (1 - z / DRAFT) ** 2);
}

/** The hull as 41 sections of 17 points, evenly by height. */
export function wigleySections(): Extract<HullSpec, { kind: 'sections' }> {
  return {
    kind: 'sections',
    sections: Array.from({ length: STATIONS }, (_, i) => {
      const station = (LENGTH * i) / (STATIONS - 1);
      const points = Array.from({ length: POINTS }, (_, j) => {
        const z = (DRAFT * j) / (POINTS - 1);
        return { y: halfBreadth(station, z), z };
      });
      return { station, points };
    }),
  };
}
