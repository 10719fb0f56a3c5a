import { add, addScaled, cross, dot, length, normalize, scale, sub, type Vec3 } from '../math/vec.ts';
import type { Phrase } from '../phrase.ts';
import { Refusal } from '../refusal.ts';
import { besideKnuckle, type Knuckle, knuckleIn, secondSkin } from './meshfaults.ts';
import { smoothFit } from './smoothfit.ts';
import type { ParameterPoint, ParameterSurface } from './surfacecast.ts';
import type { StationIndex, Triangles } from './triangles.ts';

/** Highest power of the local surface; a rounded bilge of twice the foot's length needs the sixth. */
const MOST_POWER = 6;
/** Corners that are fitted at most: with more, every n-th is taken. */
const MOST_POINTS = 6000;
/** Points on faces follow the facets, not the shell: no higher power, and a larger disc to even them out. */
const MOST_POWER_ON_FACES = 3;
const FACES_DISC = 1.5;
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
  /** rad. Standard error of the surface's slope at the centre, the steepest way; see `covarianceOf` for what it rests on. */
  readonly slopeError: number;
  readonly step: number;
  /** A line along which the shell turns: this surface is that on the place's side of it. */
  readonly knuckle: Knuckle | undefined;
  private readonly c: Float64Array;
  /** Lower factor of the coefficients' covariance. */
  private readonly shake: Float64Array;
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
    const apart = secondSkin(data, this.radius);
    if (apart !== undefined) {
      throw new Refusal(
        'degenerate-hull',
        'at',
        [
          'two skins of mesh one over the other under the foot, ',
          { mm: apart },
          ' apart: a plate with both its faces, or two passes of a scan that do not agree',
        ],
        ['the outer faces of the plating alone, once'],
      );
    }
    // Beyond a knuckle the shell is another surface: this one is laid through the points on the place's own side.
    this.knuckle = knuckleIn(data, this.radius, this.onFaces);
    if (this.knuckle !== undefined) data = ownSide(data, this.knuckle);
    const fit = smoothFit(data, this.radius, this.onFaces ? MOST_POWER_ON_FACES : MOST_POWER);
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
    this.shake = fit.shake;
    this.slopeError = Math.sqrt(Math.max(this.slopeVariance(this.e1), this.slopeVariance(this.e2)));
  }

  /** How many normal numbers one draw of the surface takes. */
  get terms(): number {
    return this.c.length;
  }

  /** The same surface moved by one draw of its own error: `normals` holds `terms` standard normal numbers. */
  shaken(normals: ArrayLike<number>): LocalFit {
    const n = this.c.length;
    const c = this.c.slice();
    for (let i = 0; i < n; i++) {
      for (let j = 0; j <= i; j++) c[i] = (c[i] as number) + (this.shake[i * n + j] as number) * (normals[j] as number);
    }
    // All else of a fit stays: a copy that differs in its coefficients alone.
    return Object.assign(Object.create(LocalFit.prototype) as LocalFit, this, { c });
  }

  /** mm^2. Variance of the surface's height at the centre. */
  get heightVariance(): number {
    return (this.shake[0] as number) ** 2;
  }

  /** rad^2. Variance of its slope at the centre along a direction, in the coordinates the fit was made in. */
  slopeVariance(direction: Vec3): number {
    const n = this.c.length;
    const [pu, pv] = [dot(direction, this.e1) / this.radius, dot(direction, this.e2) / this.radius];
    let sum = 0;
    for (let j = 0; j <= 2; j++) {
      sum += (pu * (this.shake[n + j] as number) + pv * (this.shake[2 * n + j] as number)) ** 2;
    }
    return sum;
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

  /** Throws `Refusal` where a knuckle runs under a foot with these corners (port side), or close by. */
  mustBeSmooth(corners: readonly Vec3[]): void {
    const { knuckle } = this;
    if (knuckle === undefined) return;
    const sides = corners.map((p) => besideKnuckle(knuckle, ...this.place(p)));
    const clear = Math.min(...sides) > CLEAR || Math.max(...sides) < -CLEAR;
    if (clear) return;
    throw new Refusal(
      'foot-off-shell',
      'at',
      [
        'a knuckle in the mesh under the foot, ',
        { mm: Math.abs(knuckle.shift), digits: 0 },
        ' from the place: the shell turns by ',
        { rad: knuckle.angle },
        ' there',
      ],
      ['a place clear of the knuckle, or the hull as sections with the knuckle marked'],
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
      ...(this.knuckle === undefined
        ? []
        : [
            ' ',
            { mm: Math.abs(this.knuckle.shift), digits: 0 },
            ' from the place, clear of the foot, runs a KNUCKLE of ',
            { rad: this.knuckle.angle },
            ': the surface is that on this side of it alone.',
          ]),
      ...(this.onFaces
        ? [' Between the corners of large triangles the true shell may lie farther off than that.']
        : []),
    ];
  }
}

/** mm. A foot nearer to a knuckle than this stands on it. */
const CLEAR = 10;

/** The points on that side of a knuckle on which the middle of the disc lies. */
function ownSide(data: Float64Array, knuckle: Knuckle): Float64Array {
  const side = Math.sign(besideKnuckle(knuckle, 0, 0)) || 1;
  const out: number[] = [];
  for (let i = 0; i < data.length; i += 4) {
    if (side * besideKnuckle(knuckle, data[i] as number, data[i + 1] as number) > 0)
      out.push(...data.subarray(i, i + 4));
  }
  return Float64Array.from(out);
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
