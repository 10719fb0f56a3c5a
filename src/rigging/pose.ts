import { add, length, sub, type Vec3 } from '../../geometry/math/vec.ts';

/** Unit quaternion (w, x, y, z). */
export type Quaternion = readonly [number, number, number, number];

/** Where the load is: its centre of gravity (ship axes, mm) and its turn from the attitude in which it is drawn. */
export interface Pose {
  readonly centre: Vec3;
  readonly turn: Quaternion;
}

export const NO_TURN: Quaternion = [1, 0, 0, 0];

/** p turned. */
export function turned([w, x, y, z]: Quaternion, p: Vec3): Vec3 {
  // p + 2 w (v x p) + 2 v x (v x p), v the vector part.
  const tx = 2 * (y * p[2] - z * p[1]);
  const ty = 2 * (z * p[0] - x * p[2]);
  const tz = 2 * (x * p[1] - y * p[0]);
  return [p[0] + w * tx + y * tz - z * ty, p[1] + w * ty + z * tx - x * tz, p[2] + w * tz + x * ty - y * tx];
}

/** First q, then the turn about the rotation vector r (rad, ship axes); normalised, so that round-off does not add up. */
export function turnFurther(q: Quaternion, r: Vec3): Quaternion {
  const angle = length(r);
  // sin(a/2)/a tends to 1/2.
  const k = angle > 1e-8 ? Math.sin(angle / 2) / angle : 0.5 - (angle * angle) / 48;
  const w = Math.cos(angle / 2);
  const [x, y, z] = [r[0] * k, r[1] * k, r[2] * k];
  const p: Quaternion = [
    w * q[0] - x * q[1] - y * q[2] - z * q[3],
    w * q[1] + x * q[0] + y * q[3] - z * q[2],
    w * q[2] - x * q[3] + y * q[0] + z * q[1],
    w * q[3] + x * q[2] - y * q[1] + z * q[0],
  ];
  const n = Math.hypot(...p);
  return [p[0] / n, p[1] / n, p[2] / n, p[3] / n];
}

/** Rotation vector (rad, ship axes, length at most pi) of the turn from q to p. */
export function turnBetween(q: Quaternion, p: Quaternion): Vec3 {
  let w = p[0] * q[0] + p[1] * q[1] + p[2] * q[2] + p[3] * q[3];
  let v: Vec3 = [
    -p[0] * q[1] + p[1] * q[0] - p[2] * q[3] + p[3] * q[2],
    -p[0] * q[2] + p[1] * q[3] + p[2] * q[0] - p[3] * q[1],
    -p[0] * q[3] - p[1] * q[2] + p[2] * q[1] + p[3] * q[0],
  ];
  if (w < 0) {
    w = -w;
    v = [-v[0], -v[1], -v[2]];
  }
  const s = length(v);
  const k = s > 1e-12 ? (2 * Math.atan2(s, w)) / s : 2;
  return [v[0] * k, v[1] * k, v[2] * k];
}

/** Where a point of the load is (ship axes, mm); `drawn` and `centre` with the load where it is drawn. */
export function placeOf(pose: Pose, centre: Vec3, drawn: Vec3): Vec3 {
  return add(pose.centre, turned(pose.turn, sub(drawn, centre)));
}
