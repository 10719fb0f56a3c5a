/** Symmetric 3 x 3 matrix: [xx, yy, zz, xy, yz, zx]. */
export type Symmetric3 = readonly [number, number, number, number, number, number];

/** Eigenvalues with their unit eigenvectors, the vectors as columns of a row-major 3 x 3. */
export interface Eigen3 {
  readonly values: readonly [number, number, number];
  readonly vectors: readonly number[];
}

/** Cyclic Jacobi converges quadratically: a 3 x 3 needs three to five sweeps; the bound only stops a matrix with NaN in it. */
const MAX_SWEEPS = 30;

/**
 * Eigenvalues and eigenvectors by cyclic Jacobi rotations (Golub and Van Loan, Matrix Computations, "The symmetric
 * eigenvalue problem"). Chosen because its errors are relative to the largest eigenvalue and the vectors come out
 * orthogonal to round-off, also where eigenvalues coincide (a round weld) or vanish (a straight one).
 */
export function eigenSymmetric3(m: Symmetric3): Eigen3 {
  const a = [m[0], m[3], m[5], m[3], m[1], m[4], m[5], m[4], m[2]];
  const v = [1, 0, 0, 0, 1, 0, 0, 0, 1];
  const at = (k: number): number => a[k] as number;
  for (let sweep = 0; sweep < MAX_SWEEPS; sweep++) {
    if (at(1) === 0 && at(2) === 0 && at(5) === 0) break;
    for (let p = 0; p < 2; p++) {
      for (let q = p + 1; q < 3; q++) rotate(a, v, p, q);
    }
  }
  return { values: [at(0), at(4), at(8)], vectors: v };
}

/** One Jacobi rotation that clears a[p][q]; below round-off of both diagonal terms the entry is set to zero. */
function rotate(a: number[], v: number[], p: number, q: number): void {
  const apq = a[3 * p + q] as number;
  if (apq === 0) return;
  const app = a[4 * p] as number;
  const aqq = a[4 * q] as number;
  if (Math.abs(app) + Math.abs(apq) === Math.abs(app) && Math.abs(aqq) + Math.abs(apq) === Math.abs(aqq)) {
    a[3 * p + q] = 0;
    a[3 * q + p] = 0;
    return;
  }
  const theta = (aqq - app) / (2 * apq);
  const t = (theta < 0 ? -1 : 1) / (Math.abs(theta) + Math.hypot(theta, 1));
  const c = 1 / Math.hypot(t, 1);
  const s = t * c;
  a[4 * p] = app - t * apq;
  a[4 * q] = aqq + t * apq;
  a[3 * p + q] = 0;
  a[3 * q + p] = 0;
  const r = 3 - p - q;
  const arp = a[3 * r + p] as number;
  const arq = a[3 * r + q] as number;
  const newP = c * arp - s * arq;
  const newQ = s * arp + c * arq;
  a[3 * r + p] = newP;
  a[3 * p + r] = newP;
  a[3 * r + q] = newQ;
  a[3 * q + r] = newQ;
  for (let k = 0; k < 3; k++) {
    const vkp = v[3 * k + p] as number;
    const vkq = v[3 * k + q] as number;
    v[3 * k + p] = c * vkp - s * vkq;
    v[3 * k + q] = s * vkp + c * vkq;
  }
}
