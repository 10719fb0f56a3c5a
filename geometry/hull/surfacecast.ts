import type { Frame } from '../math/frame.ts';
import { type CastHit, copyHit, type FootCaster, newHit } from './shell.ts';

/** mm. How close to the line a cast is brought. */
const CAST_ACCURACY = 1e-8;

/** Position, derivatives by two parameters p and q, and the outward unit normal; ship axes, mm. */
export interface ParameterPoint {
  x: number;
  y: number;
  z: number;
  xp: number;
  yp: number;
  zp: number;
  xq: number;
  yq: number;
  zq: number;
  nx: number;
  ny: number;
  nz: number;
}

export const newParameterPoint = (): ParameterPoint => ({
  x: 0,
  y: 0,
  z: 0,
  xp: 0,
  yp: 0,
  zp: 0,
  xq: 0,
  yq: 0,
  zq: 0,
  nx: 0,
  ny: 0,
  nz: 0,
});

/** A smooth piece of shell in two parameters that goes on a little beyond its data. */
export interface ParameterSurface {
  evaluate(p: number, q: number, out: ParameterPoint): void;
  /** Throws `Refusal` where (p, q), which a line of the foot meets, lies beyond the data. */
  mustHold(p: number, q: number): void;
  /** Longest step that a search may take in p and q: farther, the local picture means nothing. */
  readonly step: number;
}

/**
 * Casts on one smooth piece: Newton's method for the (p, q) whose point lies on the line, started from the neighbouring
 * cast. `mirror`: the foot stands on the other side of the centreline, on the mirror image of the piece.
 */
export class SurfaceCaster implements FootCaster {
  readonly seed: CastHit = newHit();
  private readonly surface: ParameterSurface;
  private readonly frame: Frame;
  private readonly m: 1 | -1;
  private readonly s: ParameterPoint = newParameterPoint();

  constructor(surface: ParameterSurface, frame: Frame, mirror: boolean, p: number, q: number) {
    this.surface = surface;
    this.frame = frame;
    this.m = mirror ? -1 : 1;
    const start = newHit();
    start.p = p;
    start.q = q;
    if (!this.cast(0, 0, start, 0, 0, this.seed)) copyHit(start, this.seed);
  }

  cast(a: number, c: number, from: CastHit, fromA: number, fromC: number, out: CastHit): boolean {
    const { origin: O, foot: A, stem: B, face: C } = this.frame;
    const { s, m } = this;
    const most = this.surface.step;
    let p = from.p + from.pa * (a - fromA) + from.pc * (c - fromC);
    let q = from.q + from.qa * (a - fromA) + from.qc * (c - fromC);
    const oy = m * O[1];
    const ay = m * A[1];
    const by = m * B[1];
    const cy = m * C[1];
    for (let it = 0; it < 40; it++) {
      this.surface.evaluate(p, q, s);
      const rx = s.x - O[0];
      const ry = s.y - oy;
      const rz = s.z - O[2];
      const r1 = rx * A[0] + ry * ay + rz * A[2] - a;
      const r2 = rx * C[0] + ry * cy + rz * C[2] - c;
      const j11 = s.xp * A[0] + s.yp * ay + s.zp * A[2];
      const j12 = s.xq * A[0] + s.yq * ay + s.zq * A[2];
      const j21 = s.xp * C[0] + s.yp * cy + s.zp * C[2];
      const j22 = s.xq * C[0] + s.yq * cy + s.zq * C[2];
      const det = j11 * j22 - j12 * j21;
      if (!(Math.abs(det) > 0)) return false;
      const dp = (r1 * j22 - r2 * j12) / det;
      const dq = (r2 * j11 - r1 * j21) / det;
      if (Math.abs(r1) < CAST_ACCURACY && Math.abs(r2) < CAST_ACCURACY) {
        this.surface.mustHold(p, q);
        const j31 = s.xp * B[0] + s.yp * by + s.zp * B[2];
        const j32 = s.xq * B[0] + s.yq * by + s.zq * B[2];
        out.f = rx * B[0] + ry * by + rz * B[2] - (j31 * dp + j32 * dq);
        out.p = p;
        out.q = q;
        out.pa = j22 / det;
        out.pc = -j12 / det;
        out.qa = -j21 / det;
        out.qc = j11 / det;
        out.fa = j31 * out.pa + j32 * out.qa;
        out.fc = j31 * out.pc + j32 * out.qc;
        out.nx = s.nx;
        out.ny = m * s.ny;
        out.nz = s.nz;
        out.region = 0;
        return true;
      }
      const k = Math.min(1, most / Math.max(Math.abs(dp), Math.abs(dq), 1e-300));
      p -= k * dp;
      q -= k * dq;
    }
    return false;
  }
}
