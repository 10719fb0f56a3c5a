import { solveByFactor } from '../math/cholesky.ts';
import { add, addScaled, cross, dot, length, normalize, scale, sub, type Vec3 } from '../math/vec.ts';
import type { Phrase } from '../phrase.ts';
import { Refusal } from '../refusal.ts';
import type { ParameterPoint, ParameterSurface } from './surfacecast.ts';
import type { StationIndex, Triangles } from './triangles.ts';

/** Highest power of the local surface; a rounded bilge of twice the foot's length needs the sixth. */
const MOST_POWER = 6;
/** Corners that are fitted at most: with more, every n-th is taken. */
const MOST_POINTS = 6000;
/** Points on faces follow the facets, not the shell: no higher power, and a larger disc to even them out. */
const MOST_POWER_ON_FACES = 3;
const FACES_DISC = 1.5;
/** A power more must bring the residuals down by this share, or it follows the ripple. */
const GAIN = 0.01;
/** mm. Residuals below this are the file's own digits. */
const EXACT = 0.002;
/** mm. Nothing is called a stray that lies within a few of these: a polynomial is not the shell to the last digit. */
const FINEST = 0.01;
/** Tukey's constant: residuals beyond 4.685 standard deviations carry no weight (Holland and Welsch 1977; usual value). */
const TUKEY = 4.685;
/** mm. A cell of the map of what the triangles cover: a gap smaller than this is a crack, not a hole. */
const CELL = 5;

/**
 * A smooth surface through the triangles round one place: height h(u, v) over a plane, a polynomial fitted to the triangles'
 * corners by least squares, corners weighted by the area round them, less towards the rim, and not at all where they stick
 * out (Tukey's biweight). The lowest power from which a higher one gains nothing is taken, so that ripple does not become
 * shape. Where triangles are so large that their corners do not describe the place, points on their faces are used.
 */
export class LocalFit implements ParameterSurface {
  readonly centre: Vec3;
  readonly e1: Vec3;
  readonly e2: Vec3;
  readonly n0: Vec3;
  /** mm. Of the disc that was fitted. */
  readonly radius: number;
  readonly power: number;
  /** Corners used; true where points on the faces had to do. */
  readonly points: number;
  readonly onFaces: boolean;
  /** mm. Robust standard deviation and greatest of the residuals within three of them; share of points beyond. */
  readonly scatter: number;
  readonly worst: number;
  readonly outliers: number;
  /** rad. Standard error of the surface's slope at the centre, where the scatter is independent from corner to corner. */
  readonly slopeError: number;
  readonly step: number;
  private readonly c: Float64Array;
  private readonly triangles: readonly number[];
  private readonly soup: Triangles;
  private readonly m: 1 | -1;
  private covered: { readonly cells: Uint8Array; readonly n: number } | undefined;

  /**
   * @param about a point of the shell, near enough
   * @param outward a direction that points out of the hull there
   * @param m -1: the triangles are taken in the mirror of the centreline
   */
  constructor(soup: Triangles, index: StationIndex, about: Vec3, outward: Vec3, radius: number, m: 1 | -1) {
    this.soup = soup;
    this.m = m;
    this.radius = radius;
    this.step = radius / 2;
    let near = within(soup, index, about, radius, m);
    const n0 = meanNormal(soup, near, outward, m);
    if (near.length === 0 || n0 === undefined) {
      throw new Refusal(
        'foot-off-shell',
        'at',
        ['no triangle of the mesh round the place'],
        ['a place that the mesh covers'],
      );
    }
    const e1 = normalize(addScaled([1, 0, 0], n0, -n0[0]));
    this.n0 = n0;
    this.e1 = length(e1) > 0.5 ? e1 : [0, 1, 0];
    this.e2 = cross(n0, this.e1);
    this.centre = about;
    // Webs and frames that stand on the shell, and another skin behind it, are no part of it.
    const skin = (t: number): boolean => {
      const [p, q, r] = this.local(t);
      const a = sub(q, p);
      const b = sub(r, p);
      const w = cross(a, b);
      const h = (p[2] + q[2] + r[2]) / 3;
      return Math.abs(w[2]) > 0.34 * length(w) && Math.abs(h) < 0.6 * this.radius;
    };
    this.triangles = near.filter(skin);
    let data = this.cornerPoints();
    this.onFaces = !spread(data, radius);
    if (this.onFaces) {
      this.radius = FACES_DISC * radius;
      near = within(soup, index, about, this.radius, m);
      this.triangles = near.filter(skin);
      data = this.facePoints();
    }
    const fit = bestFit(data, this.radius, this.onFaces ? MOST_POWER_ON_FACES : MOST_POWER);
    if (fit === undefined) {
      throw new Refusal(
        'foot-off-shell',
        'at',
        ['too few triangles round the place for a surface through them'],
        ['a place that the mesh covers, or a finer mesh'],
      );
    }
    this.c = fit.c;
    this.power = fit.power;
    this.points = data.length / 4;
    this.scatter = fit.scatter;
    this.worst = fit.worst;
    this.outliers = fit.outliers;
    this.slopeError = fit.slopeError;
  }

  /** Corners of a triangle in (u, v, h). */
  private local(t: number): [Vec3, Vec3, Vec3] {
    const { corners, origin } = this.soup;
    const at = (k: number): Vec3 => {
      const i = 9 * t + 3 * k;
      const d: Vec3 = [
        (corners[i] as number) + origin[0] - this.centre[0],
        this.m * ((corners[i + 1] as number) + origin[1]) - this.centre[1],
        (corners[i + 2] as number) + origin[2] - this.centre[2],
      ];
      return [dot(d, this.e1), dot(d, this.e2), dot(d, this.n0)];
    };
    return [at(0), at(1), at(2)];
  }

  /** u, v, h, weight of the corners within the disc; a corner that several triangles share is one, with the area of all. */
  private cornerPoints(): Float64Array {
    const out: number[] = [];
    const stride = Math.max(1, Math.floor((3 * this.triangles.length) / MOST_POINTS));
    const first = new Map<string, number>();
    let k = 0;
    for (const t of this.triangles) {
      const pts = this.local(t);
      const area = length(cross(sub(pts[1], pts[0]), sub(pts[2], pts[0]))) / 2;
      for (const p of pts) {
        if (k++ % stride !== 0) continue;
        const name = `${p[0]} ${p[1]} ${p[2]}`;
        const known = first.get(name);
        const before = out.length;
        this.push(out, p, area);
        if (out.length === before) continue;
        if (known === undefined) first.set(name, before);
        else {
          out[known + 3] = (out[known + 3] as number) + (out[before + 3] as number);
          out.length = before;
        }
      }
    }
    return Float64Array.from(out);
  }

  private push(out: number[], [u, v, h]: Vec3, area: number): void {
    const r2 = (u * u + v * v) / this.radius ** 2;
    if (r2 < 1) out.push(u, v, h, area * (1 - r2 ** 1.5) ** 3);
  }

  /** Points on the faces, on an even net over the disc. */
  private facePoints(): Float64Array {
    const out: number[] = [];
    const step = this.radius / 12;
    for (const t of this.triangles) {
      const [p, q, r] = this.local(t);
      const lo = (k: 0 | 1) => Math.max(-12, Math.ceil(Math.min(p[k], q[k], r[k]) / step));
      const hi = (k: 0 | 1) => Math.min(12, Math.floor(Math.max(p[k], q[k], r[k]) / step));
      const det = (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
      if (det === 0) continue;
      for (let i = lo(0); i <= hi(0); i++) {
        for (let j = lo(1); j <= hi(1); j++) {
          const du = i * step - p[0];
          const dv = j * step - p[1];
          const a = (du * (r[1] - p[1]) - dv * (r[0] - p[0])) / det;
          const b = (dv * (q[0] - p[0]) - du * (q[1] - p[1])) / det;
          if (a < 0 || b < 0 || a + b > 1) continue;
          this.push(out, [i * step, j * step, p[2] + a * (q[2] - p[2]) + b * (r[2] - p[2])], 1);
        }
      }
    }
    return Float64Array.from(out);
  }

  /** Height and its derivatives by u and v up to the second. */
  height(u: number, v: number) {
    const s = 1 / this.radius;
    const x = u * s;
    const y = v * s;
    let h = 0;
    let hu = 0;
    let hv = 0;
    let huu = 0;
    let huv = 0;
    let hvv = 0;
    let k = 0;
    for (let d = 0; d <= this.power; d++) {
      for (let j = 0; j <= d; j++) {
        const i = d - j;
        const c = this.c[k++] as number;
        const xi = x ** i;
        const yj = y ** j;
        h += c * xi * yj;
        if (i > 0) hu += c * i * x ** (i - 1) * yj;
        if (j > 0) hv += c * j * xi * y ** (j - 1);
        if (i > 1) huu += c * i * (i - 1) * x ** (i - 2) * yj;
        if (j > 1) hvv += c * j * (j - 1) * xi * y ** (j - 2);
        if (i > 0 && j > 0) huv += c * i * j * x ** (i - 1) * y ** (j - 1);
      }
    }
    return { h, hu: hu * s, hv: hv * s, huu: huu * s * s, huv: huv * s * s, hvv: hvv * s * s };
  }

  evaluate(u: number, v: number, out: ParameterPoint): void {
    const { centre: o, e1, e2, n0 } = this;
    const s = 1 / this.radius;
    const x = u * s;
    const y = v * s;
    // Horner in y, the coefficients of equal power of x gathered: [d, j] stands at d (d + 1) / 2 + j.
    let h = 0;
    let hx = 0;
    let hy = 0;
    for (let i = this.power; i >= 0; i--) {
      let g = 0;
      let gy = 0;
      for (let j = this.power - i; j >= 0; j--) {
        const d = i + j;
        gy = gy * y + g;
        g = g * y + (this.c[(d * (d + 1)) / 2 + j] as number);
      }
      hx = hx * x + h;
      h = h * x + g;
      hy = hy * x + gy;
    }
    const hu = hx * s;
    const hv = hy * s;
    const k = 1 / Math.sqrt(1 + hu * hu + hv * hv);
    out.x = o[0] + u * e1[0] + v * e2[0] + h * n0[0];
    out.y = o[1] + u * e1[1] + v * e2[1] + h * n0[1];
    out.z = o[2] + u * e1[2] + v * e2[2] + h * n0[2];
    out.xp = e1[0] + hu * n0[0];
    out.yp = e1[1] + hu * n0[1];
    out.zp = e1[2] + hu * n0[2];
    out.xq = e2[0] + hv * n0[0];
    out.yq = e2[1] + hv * n0[1];
    out.zq = e2[2] + hv * n0[2];
    out.nx = (n0[0] - hu * e1[0] - hv * e2[0]) * k;
    out.ny = (n0[1] - hu * e1[1] - hv * e2[1]) * k;
    out.nz = (n0[2] - hu * e1[2] - hv * e2[2]) * k;
  }

  /** (u, v) of a point, straight down onto the plane. */
  place(p: Vec3): [number, number] {
    const d = sub(p, this.centre);
    return [dot(d, this.e1), dot(d, this.e2)];
  }

  mustHold(u: number, v: number): void {
    if (u * u + v * v <= this.radius * this.radius * (1 + 1e-9)) return;
    throw new Refusal(
      'foot-off-shell',
      'at',
      ['a foot that reaches beyond the piece of mesh looked at'],
      ['a larger patch (ship.hull.patch)'],
    );
  }

  /** Throws `Refusal` where no triangle lies under (u, v) or next to it. */
  mustCover(u: number, v: number): void {
    this.covered ??= this.coverage();
    const { cells, n } = this.covered;
    const i = Math.floor(u / CELL + n / 2);
    const j = Math.floor(v / CELL + n / 2);
    const has = (a: number, b: number) => a >= 0 && b >= 0 && a < n && b < n && cells[a * n + b] === 1;
    for (let a = i - 1; a <= i + 1; a++) for (let b = j - 1; b <= j + 1; b++) if (has(a, b)) return;
    let size = 0;
    for (const [di, dj] of [
      [1, 0],
      [0, 1],
    ] as const) {
      let k = 1;
      let far = 1;
      while (k < n && !has(i + k * di, j + k * dj)) k++;
      while (far < n && !has(i - far * di, j - far * dj)) far++;
      size = size === 0 ? k + far - 1 : Math.min(size, k + far - 1);
    }
    throw new Refusal(
      'foot-off-shell',
      'at',
      size < n
        ? ['a hole in the mesh under the foot, about ', { mm: size * CELL, digits: 0 }, ' across']
        : ['a foot that reaches beyond the edge of the mesh'],
      ['a place where the mesh is whole under the foot, or the place scanned again'],
    );
  }

  private coverage(): { cells: Uint8Array; n: number } {
    const n = 2 * Math.ceil(this.radius / CELL) + 2;
    const cells = new Uint8Array(n * n);
    const half = n / 2;
    const away = Math.max(5 * this.scatter, 2);
    for (const t of this.triangles) {
      const [p, q, r] = this.local(t);
      const mu = (p[0] + q[0] + r[0]) / 3;
      const mv = (p[1] + q[1] + r[1]) / 3;
      const size = Math.max(Math.abs(p[0] - mu), Math.abs(p[1] - mv), Math.abs(q[0] - mu), Math.abs(q[1] - mv));
      if (
        Math.hypot(mu, mv) < this.radius &&
        size < this.radius / 2 &&
        Math.abs((p[2] + q[2] + r[2]) / 3 - this.height(mu, mv).h) > away + size / 4
      )
        continue;
      const lo = (k: 0 | 1) => Math.max(0, Math.floor(Math.min(p[k], q[k], r[k]) / CELL + half));
      const hi = (k: 0 | 1) => Math.min(n - 1, Math.floor(Math.max(p[k], q[k], r[k]) / CELL + half));
      const det = (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
      const small = hi(0) - lo(0) <= 1 && hi(1) - lo(1) <= 1;
      for (let i = lo(0); i <= hi(0); i++) {
        for (let j = lo(1); j <= hi(1); j++) {
          const du = (i + 0.5 - half) * CELL - p[0];
          const dv = (j + 0.5 - half) * CELL - p[1];
          const a = (du * (r[1] - p[1]) - dv * (r[0] - p[0])) / det;
          const b = (dv * (q[0] - p[0]) - du * (q[1] - p[1])) / det;
          if (small || (a > -0.01 && b > -0.01 && a + b < 1.01)) cells[i * n + j] = 1;
        }
      }
    }
    return { cells, n };
  }

  /** What a person should know of this surface. */
  note(): Phrase {
    return [
      `Round the place the shell is a smooth surface of power ${this.power} through `,
      { count: this.points },
      this.onFaces ? ' points on the faces of a coarse mesh' : ' corners of the mesh',
      ' within ',
      { mm: this.radius, digits: 0 },
      ': they scatter about it by ',
      { mm: this.scatter, digits: 2 },
      ' (one standard deviation), by ',
      { mm: this.worst, digits: 2 },
      ' at most',
      ...(this.outliers > 0.0005 ? [', ', { share: this.outliers }, ' of them left out as strays'] : []),
      '; its slope is known to ',
      { rad: this.slopeError, digits: 2 },
      ' as far as that scatter goes.',
      ...(this.onFaces
        ? [' Between the corners of large triangles the true shell may lie farther off than that.']
        : []),
    ];
  }
}

/** Triangles that come within `radius` of a point. */
function within({ corners, origin }: Triangles, index: StationIndex, p: Vec3, radius: number, m: number): number[] {
  const out: number[] = [];
  const x = p[0] - origin[0];
  const y = p[1] - m * origin[1];
  const z = p[2] - origin[2];
  const far = (a: number, b: number, c: number, at: number) =>
    Math.max(Math.min(a, b, c) - at, at - Math.max(a, b, c), 0);
  index.each(p[0] - radius, p[0] + radius, (t) => {
    const i = 9 * t;
    const g = (k: number) => corners[i + k] as number;
    const dx = far(g(0), g(3), g(6), x);
    if (dx > radius) return;
    const dy = far(m * g(1), m * g(4), m * g(7), y);
    if (dy > radius) return;
    const dz = far(g(2), g(5), g(8), z);
    if (dx * dx + dy * dy + dz * dz <= radius * radius) out.push(t);
  });
  return out;
}

/** Mean of the normals by area, each turned to the outward side: which way a triangle is wound says nothing. */
function meanNormal({ corners }: Triangles, list: readonly number[], outward: Vec3, m: number): Vec3 | undefined {
  let ref = outward;
  for (let round = 0; round < 3; round++) {
    let sum: Vec3 = [0, 0, 0];
    for (const t of list) {
      const i = 9 * t;
      const g = (k: number): Vec3 => [
        corners[i + k] as number,
        m * (corners[i + k + 1] as number),
        corners[i + k + 2] as number,
      ];
      const w = cross(sub(g(3), g(0)), sub(g(6), g(0)));
      const share = dot(w, ref);
      const size = length(w);
      if (Math.abs(share) < 0.5 * size) continue;
      sum = add(sum, scale(w, share < 0 ? -1 : 1));
    }
    if (!(length(sum) > 0)) return undefined;
    ref = normalize(sum);
  }
  return ref;
}

/** Whether points lie all over the disc: in at least ten of the twelve inner squares of a 4 x 4 board. */
function spread(data: Float64Array, radius: number): boolean {
  if (data.length / 4 < 20) return false;
  const hit = new Uint8Array(16);
  for (let i = 0; i < data.length; i += 4) {
    const a = Math.min(3, Math.floor(((data[i] as number) / radius + 1) * 2));
    const b = Math.min(3, Math.floor(((data[i + 1] as number) / radius + 1) * 2));
    hit[4 * a + b] = 1;
  }
  let n = 0;
  for (let k = 0; k < 16; k++) if (hit[k] === 1 && k !== 0 && k !== 3 && k !== 12 && k !== 15) n++;
  return n >= 10;
}

interface Fit {
  readonly power: number;
  readonly c: Float64Array;
  readonly scatter: number;
  readonly worst: number;
  readonly outliers: number;
  readonly slopeError: number;
}

function bestFit(data: Float64Array, radius: number, most: number): Fit | undefined {
  let best: Fit | undefined;
  const n = data.length / 4;
  for (let power = 2; power <= most; power++) {
    const terms = ((power + 1) * (power + 2)) / 2;
    if (n < 2 * terms) break;
    const fit = robustFit(data, radius, power);
    if (fit === undefined) break;
    if (best === undefined || fit.scatter < best.scatter * (1 - GAIN)) best = fit;
    if (best.scatter < EXACT) break;
  }
  return best;
}

/** Weighted least squares by the normal equations (the powers are of numbers within 1), reweighted by Tukey's biweight. */
function robustFit(data: Float64Array, radius: number, power: number): Fit | undefined {
  const n = data.length / 4;
  const terms = ((power + 1) * (power + 2)) / 2;
  const row = new Float64Array(terms);
  const rest = new Float64Array(n);
  const tame = new Float64Array(n).fill(1);
  const fill = (i: number): void => {
    const x = (data[4 * i] as number) / radius;
    const y = (data[4 * i + 1] as number) / radius;
    row[0] = 1;
    for (let d = 1, k = 1; d <= power; d++) {
      for (let j = 0; j < d; j++, k++) row[k] = x * (row[k - d] as number);
      row[k] = y * (row[k - d - 1] as number);
      k++;
    }
  };
  let c: Float64Array | undefined;
  let scatter = 0;
  let inverse: Float64Array | undefined;
  let weights = 0;
  let squares = 0;
  for (let round = 0; round < 6; round++) {
    const a = new Float64Array(terms * terms);
    const b = new Float64Array(terms);
    weights = 0;
    squares = 0;
    for (let i = 0; i < n; i++) {
      const w = (data[4 * i + 3] as number) * (tame[i] as number);
      if (w === 0) continue;
      weights += w;
      squares += w * w;
      fill(i);
      const h = data[4 * i + 2] as number;
      for (let p = 0; p < terms; p++) {
        const f = w * (row[p] as number);
        b[p] = (b[p] as number) + f * h;
        for (let q = p; q < terms; q++) a[p * terms + q] = (a[p * terms + q] as number) + f * (row[q] as number);
      }
    }
    const factor = cholesky(a, terms);
    if (factor === undefined) return undefined;
    c = solveByFactor(factor, b, terms);
    inverse = factor;
    for (let i = 0; i < n; i++) {
      fill(i);
      let h = data[4 * i + 2] as number;
      for (let p = 0; p < terms; p++) h -= (row[p] as number) * (c[p] as number);
      rest[i] = h;
    }
    const size = rest.map(Math.abs).sort();
    const next = 1.4826 * (size[n >> 1] as number);
    const settled = Math.abs(next - scatter) < 1e-3 * next;
    scatter = next;
    if (settled || scatter < 1e-9) break;
    const limit = TUKEY * Math.max(scatter, FINEST);
    for (let i = 0; i < n; i++) {
      const u = (rest[i] as number) / limit;
      tame[i] = Math.abs(u) < 1 ? (1 - u * u) ** 2 : 0;
    }
  }
  if (c === undefined || inverse === undefined) return undefined;
  // The spread of those that count: where most lie exactly on the surface the median says nothing of the others.
  let sum = 0;
  let total = 0;
  let worst = 0;
  let strays = 0;
  const limit = TUKEY * Math.max(scatter, FINEST);
  for (let i = 0; i < n; i++) {
    const r = Math.abs(rest[i] as number);
    if (r > limit) strays++;
    else {
      const w = data[4 * i + 3] as number;
      sum += w * r * r;
      total += w;
      worst = Math.max(worst, r);
    }
  }
  const spreadOf = Math.sqrt((sum / Math.max(total, 1e-300)) * (n / (n - terms)));
  // Terms 1 and 2 are the slopes.
  const unit = new Float64Array(terms);
  let variance = 0;
  for (const k of [1, 2]) {
    unit.fill(0);
    unit[k] = 1;
    variance = Math.max(variance, solveByFactor(inverse, unit, terms)[k] as number);
  }
  const effective = (weights * weights) / Math.max(squares, 1e-300);
  const slopeError = (spreadOf * Math.sqrt((variance * weights) / Math.max(effective, 1))) / radius;
  return { power, c, scatter: spreadOf, worst, outliers: strays / n, slopeError };
}

/** Lower factor of a symmetric positive matrix whose upper half is given; undefined where it is not positive. */
function cholesky(a: Float64Array, n: number): Float64Array | undefined {
  const l = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let s = a[j * n + i] as number;
      for (let k = 0; k < j; k++) s -= (l[i * n + k] as number) * (l[j * n + k] as number);
      if (i === j) {
        if (!(s > 1e-13 * (a[i * n + i] as number))) return undefined;
        l[i * n + i] = Math.sqrt(s);
      } else l[i * n + j] = s / (l[j * n + j] as number);
    }
  }
  return l;
}
