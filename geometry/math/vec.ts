/** Three numbers in a right-handed frame; which frame and unit is said where one is handed over. */
export type Vec3 = readonly [number, number, number];

export const vec = (x: number, y: number, z: number): Vec3 => [x, y, z];
export const add = (p: Vec3, q: Vec3): Vec3 => [p[0] + q[0], p[1] + q[1], p[2] + q[2]];
export const sub = (p: Vec3, q: Vec3): Vec3 => [p[0] - q[0], p[1] - q[1], p[2] - q[2]];
export const scale = (p: Vec3, k: number): Vec3 => [p[0] * k, p[1] * k, p[2] * k];
/** p + k q */
export const addScaled = (p: Vec3, q: Vec3, k: number): Vec3 => [p[0] + k * q[0], p[1] + k * q[1], p[2] + k * q[2]];
export const dot = (p: Vec3, q: Vec3): number => p[0] * q[0] + p[1] * q[1] + p[2] * q[2];
export const cross = (p: Vec3, q: Vec3): Vec3 => [
  p[1] * q[2] - p[2] * q[1],
  p[2] * q[0] - p[0] * q[2],
  p[0] * q[1] - p[1] * q[0],
];
/** By a plain root: nothing here is so large or small that squares overflow, which `Math.hypot` guards against at several times the cost. */
export const length = (p: Vec3): number => Math.sqrt(p[0] * p[0] + p[1] * p[1] + p[2] * p[2]);
export const distance = (p: Vec3, q: Vec3): number => length([p[0] - q[0], p[1] - q[1], p[2] - q[2]]);

/** Unit vector along p. A zero vector has none: the caller must have excluded it; NaN comes back. */
export const normalize = (p: Vec3): Vec3 => scale(p, 1 / length(p));

/** Angle between two directions, rad, 0..pi. Accurate near 0 and pi where acos is not. */
export const angleBetween = (p: Vec3, q: Vec3): number => Math.atan2(length(cross(p, q)), dot(p, q));

/** Component of a unit vector clamped for asin and acos: round-off may carry a dot product just past 1. */
export const clampUnit = (x: number): number => Math.max(-1, Math.min(1, x));

/** p turned about the unit axis u by angle (rad), right-handed (Rodrigues). */
export const rotateAbout = (p: Vec3, u: Vec3, angle: number): Vec3 => {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const k = dot(u, p) * (1 - c);
  const w = cross(u, p);
  return [p[0] * c + w[0] * s + u[0] * k, p[1] * c + w[1] * s + u[1] * k, p[2] * c + w[2] * s + u[2] * k];
};
