import { cellOf, type FootField } from '../fit/footfield.ts';
import { type RootLine, SIDES } from '../fit/rootline.ts';
import { dot, type Vec3 } from '../math/vec.ts';

/**
 * Where the gas freed at a root point goes. `out`: it comes out of the crevice at s. `self`: the crevice does not rise
 * inward of here, it comes out where it is made. `level`: the crevice lies level, gas has no way it would take.
 * `trapped`: it gathers at a high point (a, c) inside, closed in all round.
 */
export type Vent =
  | { readonly kind: 'out'; readonly s: number }
  | { readonly kind: 'self'; readonly s: number }
  | { readonly kind: 'level' }
  | { readonly kind: 'trapped'; readonly a: number; readonly c: number };

/** A crevice that rises by less than this is level for gas: a bubble does not find its way along it. Slope, a pure number. */
const LEVEL_SLOPE = 1e-4;

/**
 * Paths of steepest ascent of height (position . up) over the foot's rectangle, in its coordinates (a, c). Between grid
 * nodes the gradient is bilinear; paths are followed by the midpoint rule.
 */
export class VentFinder {
  private readonly field: FootField;
  private readonly ga: Float64Array;
  private readonly gc: Float64Array;
  private readonly root: RootLine;
  private readonly step: number;
  /** First and last sample of each side of the root line. */
  private readonly first: readonly number[];
  private readonly last: readonly number[];
  /** Scratch for the gradient: a path goes on in the cell it was in, or the next. */
  private da = 0;
  private dc = 0;
  private column = 0;
  private row = 0;

  constructor(field: FootField, root: RootLine, up: Vec3) {
    this.field = field;
    this.root = root;
    const n = field.f.length;
    this.ga = new Float64Array(n);
    this.gc = new Float64Array(n);
    const ua = dot(up, field.frame.foot);
    const ub = dot(up, field.frame.stem);
    const uc = dot(up, field.frame.face);
    for (let k = 0; k < n; k++) {
      this.ga[k] = ua + ub * (field.fa[k] as number);
      this.gc[k] = uc + ub * (field.fc[k] as number);
    }
    this.step = Math.min(field.halfThickness, field.halfFoot) / 3;
    const side = root.side.subarray(0, root.count);
    this.first = SIDES.map((_, k) => side.indexOf(k));
    this.last = SIDES.map((_, k) => side.lastIndexOf(k));
  }

  private gradient(a: number, c: number): number {
    const f = this.field;
    if (!within(f.a, this.column, a)) this.column = cellOf(f.a, a);
    if (!within(f.c, this.row, c)) this.row = cellOf(f.c, c);
    const i = this.column;
    const j = this.row;
    const nc = f.c.length;
    const k = i * nc + j;
    const u = (a - (f.a[i] as number)) / ((f.a[i + 1] as number) - (f.a[i] as number));
    const w = (c - (f.c[j] as number)) / ((f.c[j + 1] as number) - (f.c[j] as number));
    const w00 = (1 - u) * (1 - w);
    const w10 = u * (1 - w);
    const w01 = (1 - u) * w;
    const w11 = u * w;
    const ga = this.ga;
    const gc = this.gc;
    this.da =
      w00 * (ga[k] as number) +
      w01 * (ga[k + 1] as number) +
      w10 * (ga[k + nc] as number) +
      w11 * (ga[k + nc + 1] as number);
    this.dc =
      w00 * (gc[k] as number) +
      w01 * (gc[k + 1] as number) +
      w10 * (gc[k + nc] as number) +
      w11 * (gc[k + nc + 1] as number);
    return Math.sqrt(this.da * this.da + this.dc * this.dc);
  }

  /** Vent of the root point (a, c) at arc length s on a side. Points on corners belong to the side that is named. */
  from(a0: number, c0: number, s: number, side: number, trail?: [number, number][]): Vent {
    const { halfFoot: ha, halfThickness: hc } = this.field;
    let steep = this.gradient(a0, c0);
    if (steep < LEVEL_SLOPE) return { kind: 'level' };
    const inward = side === 0 ? this.dc : side === 1 ? -this.da : side === 2 ? -this.dc : this.da;
    trail?.push([a0, c0]);
    // A path that runs exactly along the edge is followed just inside it.
    if (inward < -1e-6 * steep) return { kind: 'self', s };
    const nudge = 1e-3;
    let a = Math.min(ha - nudge, Math.max(-ha + nudge, a0));
    let c = Math.min(hc - nudge, Math.max(-hc + nudge, c0));
    let lastA = this.da;
    let lastC = this.dc;
    let h = this.step;
    const limit = Math.ceil((8 * (ha + hc)) / this.step);
    for (let n = 0; n < limit; n++) {
      steep = this.gradient(a, c);
      if (steep < LEVEL_SLOPE / 10) break;
      const ma = a + (0.5 * h * this.da) / steep;
      const mc = c + (0.5 * h * this.dc) / steep;
      if (Math.abs(ma) < ha && Math.abs(mc) < hc) {
        steep = this.gradient(ma, mc);
        if (steep < LEVEL_SLOPE / 10) break;
      }
      // Turning back on itself: a summit or a ridge was stepped over. Shorter steps, until the summit is pinned down.
      if (this.da * lastA + this.dc * lastC < 0) {
        h /= 2;
        if (h < 1e-3 * this.step) break;
      }
      lastA = this.da;
      lastC = this.dc;
      const na = a + (h * this.da) / steep;
      const nc = c + (h * this.dc) / steep;
      if (Math.abs(na) >= ha || Math.abs(nc) >= hc) {
        const ta = na > ha ? (ha - a) / (na - a) : na < -ha ? (-ha - a) / (na - a) : Number.POSITIVE_INFINITY;
        const tc = nc > hc ? (hc - c) / (nc - c) : nc < -hc ? (-hc - c) / (nc - c) : Number.POSITIVE_INFINITY;
        const t = Math.min(1, ta, tc);
        const xa = a + t * (na - a);
        const xc = c + t * (nc - c);
        trail?.push([xa, xc]);
        return { kind: 'out', s: this.edgeS(xa, xc, ta <= tc ? (na > ha ? 1 : 3) : nc > hc ? 2 : 0) };
      }
      a = na;
      c = nc;
      trail?.push([a, c]);
    }
    return { kind: 'trapped', a, c };
  }

  /** Arc length of the edge point (a, c) on a side, by the samples on either hand. */
  private edgeS(a: number, c: number, side: number): number {
    const root = this.root;
    const alongA = side % 2 === 0;
    const x = alongA ? a : c;
    const list = alongA ? root.a : root.c;
    let lo = this.first[side] as number;
    let hi = this.last[side] as number;
    const forward = side < 2;
    while (hi - lo > 1) {
      const mid = (lo + hi) >> 1;
      if ((list[mid] as number) <= x === forward) lo = mid;
      else hi = mid;
    }
    const x0 = list[lo] as number;
    const x1 = list[hi] as number;
    const w = x1 === x0 ? 0 : Math.min(1, Math.max(0, (x - x0) / (x1 - x0)));
    return (root.s[lo] as number) + w * ((root.s[hi] as number) - (root.s[lo] as number));
  }
}

/** True where x lies in cell i of a list, as `cellOf` counts: at a node the cell after it. */
const within = (list: Float64Array, i: number, x: number): boolean =>
  (list[i] as number) <= x && x < (list[i + 1] as number);

/** Root line cut into short elements between samples, each with its vent. */
export interface VentElements {
  readonly count: number;
  /** Arc length at the ends and the middle of each element. */
  readonly s0: Float64Array;
  readonly s1: Float64Array;
  readonly side: Uint8Array;
  /** position . up at the middle, mm. */
  readonly height: Float64Array;
  readonly vents: readonly Vent[];
}

export function ventElements(field: FootField, root: RootLine, up: Vec3): VentElements {
  const finder = new VentFinder(field, root, up);
  const most = Math.max(0, root.count - 1);
  const s0 = new Float64Array(most);
  const s1 = new Float64Array(most);
  const side = new Uint8Array(most);
  const height = new Float64Array(most);
  const vents: Vent[] = [];
  const { position } = root;
  for (let k = 1; k < root.count; k++) {
    const from = root.s[k - 1] as number;
    const to = root.s[k] as number;
    if (to <= from) continue;
    const a = ((root.a[k - 1] as number) + (root.a[k] as number)) / 2;
    const c = ((root.c[k - 1] as number) + (root.c[k] as number)) / 2;
    const e = vents.length;
    s0[e] = from;
    s1[e] = to;
    side[e] = root.side[k] as number;
    let h = 0;
    for (let d = 0; d < 3; d++) {
      h += (up[d] as number) * 0.5 * ((position[3 * k + d] as number) + (position[3 * k - 3 + d] as number));
    }
    height[e] = h;
    vents.push(finder.from(a, c, (from + to) / 2, root.side[k] as number));
  }
  const count = vents.length;
  return {
    count,
    s0: s0.subarray(0, count),
    s1: s1.subarray(0, count),
    side: side.subarray(0, count),
    height: height.subarray(0, count),
    vents,
  };
}
