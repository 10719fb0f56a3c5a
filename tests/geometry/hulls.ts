import type { HullSpec, SplinePoint } from '../../geometry/hull/spec.ts';

/* Invented hulls whose shape has a closed form. mm, rad. */

/** Straight bottom from the keel outward, rising at `slope` rad, then a straight side. */
export const plane = (slope: number, length = 8000): HullSpec => ({
  kind: 'segments',
  start: { y: 0, z: 0 },
  path: [{ to: { y: length * Math.cos(slope), z: length * Math.sin(slope) } }],
});

/** Quarter of a circular cylinder about the axis y = 0, z = radius: girth / radius is the angle from the keel. */
export const cylinder = (radius: number): HullSpec => ({
  kind: 'segments',
  start: { y: 0, z: 0 },
  path: [{ to: { y: radius, z: radius }, radius }],
});

/** Hollow quarter circle: the water is inside the circle about (0, -radius). From (0, 0) falling outward. */
export const hollow = (radius: number): HullSpec => ({
  kind: 'segments',
  start: { y: 0, z: 0 },
  path: [{ to: { y: radius, z: -radius }, radius: -radius }],
});

/** Sections of a sphere of `radius` about (cx, 0, cz), lower half, at `stations`, each by `n` points evenly in angle. */
export function sphere(radius: number, cx: number, cz: number, stations: readonly number[], n: number): HullSpec {
  return {
    kind: 'sections',
    sections: stations.map((station) => {
      const r = Math.sqrt(radius ** 2 - (station - cx) ** 2);
      const points: SplinePoint[] = Array.from({ length: n }, (_, k) => {
        const angle = (Math.PI / 2) * (k / (n - 1));
        return { y: r * Math.sin(angle), z: cz - r * Math.cos(angle) };
      });
      return { station, points };
    }),
  };
}
