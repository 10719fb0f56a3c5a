import { Triangles } from '../../../geometry/hull/triangles.ts';
import type { Vec3 } from '../../../geometry/math/vec.ts';

export type Axis = 'x' | '-x' | 'y' | '-y' | 'z' | '-z';
export type MeshUnit = 'mm' | 'cm' | 'm' | 'in' | 'ft';

/** Where a mesh's numbers lie in the ship. */
export interface Placing {
  /** mm per number of the file. */
  readonly scale: number;
  /** The axes of the file that point forward, to port and up. */
  readonly axes: { readonly forward: Axis; readonly port: Axis; readonly up: Axis };
  /** Where the file's zero lies, ship axes, mm. */
  readonly origin: Vec3;
}

/** What is wrong with a mesh file: what was found and what was expected. */
export class MeshFault extends Error {
  override readonly name = 'MeshFault';
  readonly found: string;
  readonly expected: string;

  constructor(found: string, expected: string) {
    super(found);
    this.found = found;
    this.expected = expected;
  }
}

/** mm. No ship is longer: a number beyond it is a damaged one. */
const FARTHEST = 1e6;
const AXIS: Readonly<Record<string, number>> = { x: 0, y: 1, z: 2 };

/** Takes triangles one after the other and keeps those near the stations wanted, in ship axes. */
export class Sift {
  /** Triangles seen, and those of them without any area. */
  seen = 0;
  flat = 0;
  readonly low: [number, number, number] = [Infinity, Infinity, Infinity];
  readonly high: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  private readonly bands: readonly (readonly [number, number])[];
  private readonly from: readonly [number, number, number];
  private readonly factor: readonly [number, number, number];
  private readonly shift: Vec3;
  private kept: Float32Array;
  private n = 0;
  private readonly base: Vec3;

  /** @param stations middle of each stretch wanted, mm; `half` its half length */
  constructor({ scale, axes, origin }: Placing, stations: readonly number[], half: number) {
    const all = [axes.forward, axes.port, axes.up];
    const of = (axis: Axis): number => AXIS[axis.slice(-1)] as number;
    this.from = [of(axes.forward), of(axes.port), of(axes.up)];
    const sign = (axis: Axis) => (axis.startsWith('-') ? -scale : scale);
    this.factor = [sign(all[0] as Axis), sign(all[1] as Axis), sign(all[2] as Axis)];
    this.shift = origin;
    this.bands = stations.map((x) => [x - half, x + half] as const);
    this.base = [stations[0] ?? 0, 0, 0];
    this.kept = new Float32Array(9 * 4096);
  }

  /** The nine numbers of a triangle as the file has them. */
  add(n: ArrayLike<number>, at = 0): void {
    this.seen++;
    const [ia, ib, ic] = this.from;
    const [fa, fb, fc] = this.factor;
    const [sa, sb, sc] = this.shift;
    const { low, high } = this;
    let x0 = Infinity;
    let x1 = -Infinity;
    for (let k = 0; k < 9; k += 3) {
      const x = fa * (n[at + k + ia] as number) + sa;
      const y = fb * (n[at + k + ib] as number) + sb;
      const z = fc * (n[at + k + ic] as number) + sc;
      // False for what is no number, too.
      if (!(x < FARTHEST && x > -FARTHEST && y < FARTHEST && y > -FARTHEST && z < FARTHEST && z > -FARTHEST))
        this.beyond(n, at + k);
      if (x < x0) x0 = x;
      if (x > x1) x1 = x;
      if (x < low[0]) low[0] = x;
      if (x > high[0]) high[0] = x;
      if (y < low[1]) low[1] = y;
      if (y > high[1]) high[1] = y;
      if (z < low[2]) low[2] = z;
      if (z > high[2]) high[2] = z;
    }
    for (const [from, to] of this.bands) {
      if (x1 >= from && x0 <= to) {
        this.keep(n, at);
        return;
      }
    }
  }

  private beyond(n: ArrayLike<number>, at: number): never {
    const bad =
      [0, 1, 2]
        .map((k) => n[at + k] as number)
        .find((v) => !Number.isFinite(v) || Math.abs(v) * Math.abs(this.factor[0]) > 1e5) ?? Number.NaN;
    const what = Number.isFinite(bad) ? `${bad}` : 'no number';
    throw new MeshFault(
      `triangle ${this.seen}: a coordinate that is ${what}`,
      'coordinates within 1 km, in the unit that is given',
    );
  }

  private keep(n: ArrayLike<number>, at: number): void {
    const p = this.put(n, at);
    const k = this.kept;
    const [ax, ay, az] = [
      (k[p + 3] as number) - (k[p] as number),
      (k[p + 4] as number) - (k[p + 1] as number),
      (k[p + 5] as number) - (k[p + 2] as number),
    ];
    const [bx, by, bz] = [
      (k[p + 6] as number) - (k[p] as number),
      (k[p + 7] as number) - (k[p + 1] as number),
      (k[p + 8] as number) - (k[p + 2] as number),
    ];
    const [cx, cy, cz] = [ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx];
    if (cx * cx + cy * cy + cz * cz > 0) this.n += 9;
    else this.flat++;
  }

  private put(n: ArrayLike<number>, at: number): number {
    if (this.n + 9 > this.kept.length) {
      const more = new Float32Array(this.kept.length * 2);
      more.set(this.kept);
      this.kept = more;
    }
    const [ia, ib, ic] = this.from;
    const { kept, factor, shift, base } = this;
    for (let k = 0; k < 9; k += 3) {
      kept[this.n + k] = factor[0] * (n[at + k + ia] as number) + shift[0] - base[0];
      kept[this.n + k + 1] = factor[1] * (n[at + k + ib] as number) + shift[1];
      kept[this.n + k + 2] = factor[2] * (n[at + k + ic] as number) + shift[2];
    }
    return this.n;
  }

  triangles(name: string): Triangles {
    return new Triangles(this.kept.subarray(0, this.n), this.base, name);
  }
}
