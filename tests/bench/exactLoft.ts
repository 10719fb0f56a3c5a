import type { SplinePoint } from '../../geometry/hull/spec.ts';
import type { LugFrame } from '../../geometry/lug/frame.ts';
import { type Fixed, fixed, over, squareRoot, times, toDouble } from './fixedPoint.ts';

/*
 * The surface through sections without knuckles and its crossings with foot lines, in some 48 decimals, written from its
 * definition on its own: sections are cubic splines over their share of chord length, joined at equal shares by cubic
 * splines along the ship, both not-a-knot. Splines here are solved for slopes (C. de Boor, A Practical Guide to Splines,
 * ch. IV), the program's own for second derivatives.
 */

/** The spline of one knot sequence: the elimination done once, slopes for as many values as are wanted. */
class ExactSpline {
  readonly knots: readonly Fixed[];
  private readonly h: Fixed[];
  private readonly lower: Fixed[] = [];
  private readonly diag: Fixed[] = [];
  private readonly upper: Fixed[] = [];

  constructor(knots: readonly Fixed[]) {
    if (knots.length < 4) throw new Error('four knots at least');
    this.knots = knots;
    const n = knots.length;
    const h = knots.slice(1).map((t, i) => t - (knots[i] as Fixed));
    this.h = h;
    for (let i = 0; i < n; i++) {
      const before = h[i - 1];
      const after = h[i];
      if (before === undefined) this.put(0n, at(h, 1), at(h, 0) + at(h, 1));
      else if (after === undefined) this.put(at(h, n - 3) + at(h, n - 2), at(h, n - 3), 0n);
      else this.put(after, 2n * (before + after), before);
    }
    for (let i = 1; i < n; i++) {
      this.lower[i] = over(at(this.lower, i), at(this.diag, i - 1));
      this.diag[i] = at(this.diag, i) - times(at(this.lower, i), at(this.upper, i - 1));
    }
  }

  private put(lower: Fixed, diag: Fixed, upper: Fixed): void {
    this.lower.push(lower);
    this.diag.push(diag);
    this.upper.push(upper);
  }

  /** Slopes at the knots of the spline through the values y. */
  slopes(y: readonly Fixed[]): Fixed[] {
    const { h } = this;
    const n = y.length;
    const d = h.map((step, i) => over(at(y, i + 1) - at(y, i), step));
    const end = (h0: Fixed, h1: Fixed, d0: Fixed, d1: Fixed) =>
      over(times(times(h0 + 2n * (h0 + h1), h1), d0) + times(times(h0, h0), d1), h0 + h1);
    const b: Fixed[] = [end(at(h, 0), at(h, 1), at(d, 0), at(d, 1))];
    for (let i = 1; i + 1 < n; i++) b.push(3n * (times(at(h, i), at(d, i - 1)) + times(at(h, i - 1), at(d, i))));
    b.push(end(at(h, n - 2), at(h, n - 3), at(d, n - 2), at(d, n - 3)));
    for (let i = 1; i < n; i++) b[i] = at(b, i) - times(at(this.lower, i), at(b, i - 1));
    b[n - 1] = over(at(b, n - 1), at(this.diag, n - 1));
    for (let i = n - 2; i >= 0; i--) b[i] = over(at(b, i) - times(at(this.upper, i), at(b, i + 1)), at(this.diag, i));
    return b;
  }

  /** Value at x of the cubic with these values and slopes at its knots. */
  value(y: readonly Fixed[], slope: readonly Fixed[], x: Fixed): Fixed {
    const { knots } = this;
    let i = 0;
    while (i + 2 < knots.length && x >= at(knots, i + 1)) i++;
    const h = at(this.h, i);
    const p = over(x - at(knots, i), h);
    const rise = at(y, i + 1) - at(y, i);
    const m0 = times(h, at(slope, i));
    const m1 = times(h, at(slope, i + 1));
    return at(y, i) + times(p, m0 + times(p, 3n * rise - 2n * m0 - m1 + times(p, m0 + m1 - 2n * rise)));
  }
}

const at = (list: readonly Fixed[], i: number): Fixed => list[i] as Fixed;

export class ExactLoft {
  private readonly along: ExactSpline;
  private readonly sections: readonly { spline: ExactSpline; y: Fixed[]; z: Fixed[]; dy: Fixed[]; dz: Fixed[] }[];

  /** Sections in the order of their stations, mm, no knuckles. */
  constructor(sections: readonly { readonly station: number; readonly points: readonly SplinePoint[] }[]) {
    this.along = new ExactSpline(sections.map((s) => fixed(s.station)));
    this.sections = sections.map(({ points }) => {
      const y = points.map((p) => fixed(p.y));
      const z = points.map((p) => fixed(p.z));
      const t = [0n];
      for (let i = 1; i < points.length; i++) {
        const dy = at(y, i) - at(y, i - 1);
        const dz = at(z, i) - at(z, i - 1);
        t.push(at(t, i - 1) + squareRoot(times(dy, dy) + times(dz, dz)));
      }
      const spline = new ExactSpline(t.map((length) => over(length, at(t, t.length - 1))));
      return { spline, y, z, dy: spline.slopes(y), dz: spline.slopes(z) };
    });
  }

  /** (y, z) at a station and a share of chord length. */
  point(x: Fixed, v: Fixed): [Fixed, Fixed] {
    const y = this.sections.map((s) => s.spline.value(s.y, s.dy, v));
    const z = this.sections.map((s) => s.spline.value(s.z, s.dz, v));
    return [this.along.value(y, this.along.slopes(y), x), this.along.value(z, this.along.slopes(z), x)];
  }

  /**
   * Foot height at (a, c), mm, rounded to a double only at the very end. Starts at (x, v), by steps of Newton's method
   * with slopes taken once, until the line is met to 1e-30 mm: the start decides which crossing it is, not where it lies.
   */
  footHeight(frame: LugFrame, a: number, c: number, x0: number, v0: number): number {
    const O = frame.origin.map(fixed);
    const A = frame.foot.map(fixed);
    const B = frame.stem.map(fixed);
    const C = frame.face.map(fixed);
    const [fa, fc] = [fixed(a), fixed(c)];
    let x = fixed(x0);
    let v = fixed(v0);
    let b = 0n;
    const step = fixed(2 ** -40);
    const [y0, z0] = this.point(x, v);
    const [yx, zx] = this.point(x + step, v);
    const [yv, zv] = this.point(x, v + step);
    const sx = [fixed(1), over(yx - y0, step), over(zx - z0, step)];
    const sv = [0n, over(yv - y0, step), over(zv - z0, step)];
    const dot = (p: readonly Fixed[], q: readonly Fixed[]) =>
      times(at(p, 0), at(q, 0)) + times(at(p, 1), at(q, 1)) + times(at(p, 2), at(q, 2));
    const j11 = dot(sx, A);
    const j12 = dot(sv, A);
    const j21 = dot(sx, C);
    const j22 = dot(sv, C);
    const det = times(j11, j22) - times(j12, j21);
    const small = fixed(1e-10) / 10n ** 20n;
    for (let round = 0; round < 60; round++) {
      const [y, z] = this.point(x, v);
      const r = [x, y, z].map((s, d) => s - at(O, d) - times(fa, at(A, d)) - times(fc, at(C, d)) - times(b, at(B, d)));
      if (r.every((q) => q < small && q > -small)) return toDouble(b);
      const r1 = dot(r, A);
      const r2 = dot(r, C);
      const dx = over(times(r2, j12) - times(r1, j22), det);
      const dv = over(times(r1, j21) - times(r2, j11), det);
      b += dot(r, B) + times(dx, dot(sx, B)) + times(dv, dot(sv, B));
      x += dx;
      v += dv;
    }
    throw new Error(`no crossing found at a = ${a}, c = ${c}`);
  }
}
