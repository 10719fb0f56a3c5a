import { Matrix4, Vector3 } from 'three';
import { addScaled, cross, dot, normalize, type Vec3 } from '../../../geometry/math/vec.ts';

/**
 * From ship axes (mm) to the screen's (m): y is up in the water, x to port and level, z forward and level, so that who
 * looks along -z looks aft. `middle` (ship axes, mm) becomes the origin.
 */
export function sceneFromShip(up: Vec3, middle: Vec3): Matrix4 {
  const right = normalize(addScaled([0, 1, 0], up, -up[1]));
  const back = cross(right, up);
  const k = 0.001;
  const row = (e: Vec3): [number, number, number, number] => [e[0] * k, e[1] * k, e[2] * k, -dot(e, middle) * k];
  return new Matrix4().set(...row(right), ...row(up), ...row(back), 0, 0, 0, 1);
}

/** A direction of ship axes on the screen, unit length. */
export const directionOnScreen = (matrix: Matrix4, d: Vec3): Vector3 =>
  new Vector3(d[0], d[1], d[2]).transformDirection(matrix);
