import type { Vec3 } from '../math/vec.ts';

/**
 * Triangles without order: nine numbers each (x y z of three corners), mm in ship axes less `origin`, so that single
 * precision is fine enough. Of a whole ship only what lies near the fittings.
 */
export class Triangles {
  readonly corners: Float32Array;
  readonly origin: Vec3;
  readonly count: number;
  /** Tells one set from another without looking at every number. */
  readonly name: string;

  constructor(corners: Float32Array, origin: Vec3, name: string) {
    this.corners = corners;
    this.origin = origin;
    this.count = corners.length / 9;
    this.name = name;
  }

  /** A hull is compared and kept by its JSON: a million triangles are not written out for that. */
  toJSON(): string {
    return this.name;
  }
}

/** Triangles by station: which of them a plane or a stretch of stations meets. */
export class StationIndex {
  readonly from: number;
  readonly to: number;
  private readonly width: number;
  private readonly start: Uint32Array;
  private readonly list: Uint32Array;

  constructor({ corners, origin, count }: Triangles) {
    let lo = Number.POSITIVE_INFINITY;
    let hi = Number.NEGATIVE_INFINITY;
    for (let i = 0; i < corners.length; i += 3) {
      const x = corners[i] as number;
      if (x < lo) lo = x;
      if (x > hi) hi = x;
    }
    this.from = lo + origin[0];
    this.to = hi + origin[0];
    const bins = Math.max(1, Math.min(512, Math.ceil(count / 64)));
    this.width = Math.max((hi - lo) / bins, 1e-3);
    const first = new Uint16Array(count);
    const last = new Uint16Array(count);
    const start = new Uint32Array(bins + 1);
    const bin = (x: number) => Math.max(0, Math.min(bins - 1, Math.floor((x - lo) / this.width)));
    for (let t = 0; t < count; t++) {
      const x0 = corners[9 * t] as number;
      const x1 = corners[9 * t + 3] as number;
      const x2 = corners[9 * t + 6] as number;
      const p = bin(Math.min(x0, x1, x2));
      const q = bin(Math.max(x0, x1, x2));
      first[t] = p;
      last[t] = q;
      for (let b = p; b <= q; b++) start[b + 1] = (start[b + 1] as number) + 1;
    }
    for (let b = 0; b < bins; b++) start[b + 1] = (start[b + 1] as number) + (start[b] as number);
    this.list = new Uint32Array(start[bins] as number);
    const fill = start.slice();
    for (let t = 0; t < count; t++) {
      for (let b = first[t] as number; b <= (last[t] as number); b++) {
        this.list[fill[b] as number] = t;
        fill[b] = (fill[b] as number) + 1;
      }
    }
    this.start = start;
  }

  /** Calls `use` once for each triangle that may reach into the stretch. */
  each(from: number, to: number, use: (triangle: number) => void): void {
    const bins = this.start.length - 1;
    const bin = (x: number) => Math.max(0, Math.min(bins - 1, Math.floor((x - this.from) / this.width)));
    const p = bin(from);
    const q = bin(to);
    if (p === q) {
      for (let k = this.start[p] as number; k < (this.start[p + 1] as number); k++) use(this.list[k] as number);
      return;
    }
    const seen = new Set<number>();
    const begin = this.start[p] as number;
    const end = this.start[q + 1] as number;
    for (let k = begin; k < end; k++) {
      const t = this.list[k] as number;
      if (seen.has(t)) continue;
      seen.add(t);
      use(t);
    }
  }
}
