/** Force in each of a set of plates on one pin, N, by thickness: equal bearing pressure on all (rigid pin). */
export function shareByThickness(force: number, thicknesses: readonly number[]): number[] {
  const all = thicknesses.reduce((sum, t) => sum + t, 0);
  return thicknesses.map((t) => (force * t) / all);
}

/**
 * Greatest line force in the ring weld that ties one cheek plate to the lug, N/mm: the cheek's share spread evenly over the
 * ring, q_v = F/(2 pi r), and its moment about the weld's plane, half a cheek's thickness off, q_m = F (t/2)/(pi r^2).
 * Weld as a line: length 2 pi r, section modulus pi r^2.
 */
export function ringWeldLineForce(force: number, radius: number, thickness: number): number {
  return Math.hypot(force / (2 * Math.PI * radius), (force * thickness) / 2 / (Math.PI * radius ** 2));
}
