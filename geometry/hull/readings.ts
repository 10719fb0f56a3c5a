import { type Frame, mirrorVec } from '../math/frame.ts';
import { bracketedRoot } from '../math/roots.ts';
import { ROUND_OFF_MM } from '../math/tolerance.ts';
import type { Vec3 } from '../math/vec.ts';
import type { Phrase } from '../phrase.ts';
import { Refusal } from '../refusal.ts';
import { sectionAngle } from './attitude.ts';
import { type BarCurve, barCurve } from './barcurve.ts';
import type { CastHit, ClosestPoint, FootCaster, HullSide, Range, Shell, ShellPoint } from './shell.ts';
import { type SlopeCurve, slopeCurve } from './slopes.ts';
import type { HullSpec } from './spec.ts';
import { newParameterPoint, type ParameterPoint, type ParameterSurface, SurfaceCaster } from './surfacecast.ts';

export type ReadingsSpec = Extract<HullSpec, { kind: 'readings' }>;

/** rad. An inclinometer read to a tenth of a degree. A default; a reading may carry its own error. */
const SLOPE_ERROR = (0.1 * Math.PI) / 180;
/** mm. A gap taken with feeler leaves or a wedge. A default; a gap may carry its own error. */
const GAP_ERROR = 0.5;
/** mm. Where nothing better is known, a second slope is asked for this far on. */
const NEXT_MARK = 500;
/** Sine of the angle between a shell and plumb below which a bar's slope says nothing of how the shell runs. */
const TOO_STEEP = Math.sin((10 * Math.PI) / 180);
const PANEL = 20;

/**
 * The shell round one place, from tape, inclinometer and straight bar (`HullSpec` of kind `readings`).
 *
 * The section at the place is the curve whose tangent has the angles read along the tape (trim and heel taken out). Fore and
 * aft it is carried along the curve that the bar found, square to itself: with N(s) the section's outward normal in its own
 * plane, S(t, s) = (x(t), P(s) + w(t) N(s)). Sections at other stations are parallel curves of the one measured; a cylinder,
 * a sphere and a ring come out exact. It ends where the readings end, and half a reading's distance beyond along the girth.
 */
export class ReadingsShell implements Shell, ParameterSurface {
  readonly notes: readonly Phrase[];
  readonly stations: Range;
  readonly step: number;
  private readonly slopes: SlopeCurve;
  private readonly bar: BarCurve;
  /** Stretch of tape that the readings speak for. */
  private readonly lo: number;
  private readonly hi: number;
  private readonly station: number;
  private readonly cosRun: number;
  private readonly sinRun: number;
  private readonly y: Float64Array;
  private readonly z: Float64Array;
  private readonly s0: number;
  private readonly h: number;

  constructor(spec: ReadingsSpec) {
    const { side, up } = spec;
    const fixed = spec.girth.map((r) => ({
      at: r.at,
      angle: sectionAngle(r.slope, up, side),
      error: r.error ?? SLOPE_ERROR,
    }));
    this.slopes = slopeCurve(fixed, helpfulMark(spec));
    this.bar = barCurve(
      spec.fore.gaps.map((g) => ({ ...g, error: g.error ?? GAP_ERROR })),
      spec.fore.touch,
      spec.fore.length,
    );
    this.station = spec.station;
    const at = [...new Set(fixed.map((m) => m.at))].sort((p, q) => p - q);
    const n = at.length;
    const { from, to } = this.slopes;
    const spare = (to - from) / 4;
    const first = from - Math.min(spare, ((at[1] as number) - (at[0] as number)) / 2);
    this.hi = to + Math.min(spare, ((at[n - 1] as number) - (at[n - 2] as number)) / 2);

    this.s0 = Math.min(0, first);
    const end = Math.max(0, this.hi);
    const panels = Math.max(32, Math.ceil((end - this.s0) / PANEL));
    this.h = (end - this.s0) / panels;
    this.y = new Float64Array(panels + 1);
    this.z = new Float64Array(panels + 1);
    for (let i = 0; i < panels; i++) {
      const [dy, dz] = this.chord(this.s0 + i * this.h, this.h);
      this.y[i + 1] = (this.y[i] as number) + dy;
      this.z[i + 1] = (this.z[i] as number) + dz;
    }
    // The tape's zero lies at `start`.
    const zero = this.onSection(0);
    const [oy, oz] = [spec.start.y - zero[0], spec.start.z - zero[1]];
    for (let i = 0; i <= panels; i++) {
      this.y[i] = (this.y[i] as number) + oy;
      this.z[i] = (this.z[i] as number) + oz;
    }
    // Inboard of the centreline the section is another one, its own mirror image.
    let lo = first;
    if (this.onSection(lo)[0] < 0) {
      lo = bracketedRoot((s) => this.onSection(s)[0], lo, from, 1e-9) ?? from;
    }
    this.lo = lo;

    const crossing = Math.min(to, Math.max(from, spec.place?.girth ?? (from + to) / 2));
    const run = this.run(spec, crossing);
    this.cosRun = Math.cos(run);
    this.sinRun = Math.sin(run);
    this.step = Math.max(200, this.hi - this.lo);
    this.stations = { from: this.along(this.bar.from).x, to: this.along(this.bar.to).x };
    this.notes = [
      [
        'The shell is known only round the place where it was measured: from ',
        { mm: this.lo, digits: 0 },
        ' to ',
        { mm: this.hi, digits: 0 },
        ' on the tape, and ',
        { mm: Math.min(-this.bar.from, this.bar.to), digits: 0 },
        ' either way along the bar.',
      ],
      ...this.slopes.notes,
      ...this.bar.notes,
      spec.fore.slope === undefined
        ? ['No slope of the bar was read: the shell is taken to run parallel to the centreline where the bar touches.']
        : [
            'The shell runs ',
            { rad: Math.abs(run), digits: 2 },
            ` ${run >= 0 ? 'outward' : 'inward'} going forward, from the slope of the bar.`,
          ],
      [
        'How the slope of the section changes fore and aft (twist) one bar does not tell: it is taken not to change along the foot.',
      ],
    ];
  }

  /** Angle in the tangent plane between the bar and the ship's length, positive where the shell goes outward forward. */
  private run(spec: ReadingsSpec, crossing: number): number {
    const { slope } = spec.fore;
    if (slope === undefined) return 0;
    const angle = this.slopes.angle(crossing);
    const m = spec.side === 'port' ? 1 : -1;
    const facing = m * Math.sin(angle) * spec.up[1] - Math.cos(angle) * spec.up[2];
    if (Math.abs(facing) < TOO_STEEP) {
      throw new Refusal(
        'degenerate-hull',
        'hull.fore.slope',
        ['a slope of the bar on a shell that stands nearly plumb'],
        ['no slope of the bar here: on such a shell it does not tell how the shell runs fore and aft'],
      );
    }
    // bar . up = cos(run) up_x + sin(run) N . up = sin(slope)
    let run = 0;
    for (let it = 0; it < 30; it++) {
      const off = Math.cos(run) * spec.up[0] + Math.sin(run) * facing - Math.sin(slope);
      const rate = Math.cos(run) * facing - Math.sin(run) * spec.up[0];
      run -= off / rate;
      if (!(Math.abs(run) < Math.PI / 3)) {
        throw new Refusal(
          'degenerate-hull',
          'hull.fore.slope',
          [{ rad: slope }],
          ['a slope that a bar held fore and aft on this shell can have'],
        );
      }
    }
    return run;
  }

  /** Vector from s to s + h along the section (Gauss-Legendre, 4 points). */
  private chord(s: number, h: number): [number, number] {
    let y = 0;
    let z = 0;
    for (let g = 0; g < 4; g++) {
      const a = this.slopes.angle(s + (h / 2) * (1 + (GAUSS_X[g] as number)));
      const w = (h / 2) * (GAUSS_W[g] as number);
      y += w * Math.cos(a);
      z += w * Math.sin(a);
    }
    return [y, z];
  }

  /** Point of the measured section at mm of tape. */
  private onSection(s: number): [number, number] {
    const i = Math.max(0, Math.min(this.y.length - 1, Math.floor((s - this.s0) / this.h)));
    const from = this.s0 + i * this.h;
    const [dy, dz] = this.chord(from, s - from);
    return [(this.y[i] as number) + dy, (this.z[i] as number) + dz];
  }

  /** Along the bar: station, offset w outward, and their derivatives by t. */
  private along(t: number) {
    const d = this.bar.depth(t);
    const d1 = this.bar.slope(t);
    const d2 = this.bar.bend(t);
    const { cosRun: c, sinRun: s } = this;
    return {
      x: this.station + t * c + d * s,
      w: t * s - d * c,
      x1: c + d1 * s,
      w1: s - d1 * c,
      x2: d2 * s,
      w2: -d2 * c,
    };
  }

  private tAt(station: number): number {
    const { from, to } = this.stations;
    if (!(station >= from - ROUND_OFF_MM && station <= to + ROUND_OFF_MM)) {
      throw new Refusal(
        'beyond-data',
        'at.station',
        [{ mm: station }],
        [
          'between ',
          { mm: from },
          ' and ',
          { mm: to },
          ': the readings were taken at ',
          { mm: this.station },
          ' and speak for the length of the bar',
        ],
      );
    }
    let t = station - this.station;
    for (let it = 0; it < 20; it++) {
      const a = this.along(t);
      const step = (a.x - station) / a.x1;
      t -= step;
      if (Math.abs(step) < 1e-12) break;
    }
    return t;
  }

  /** Girth at (t, s): arc length of the parallel curve, counted as on the tape. d(girth)/ds = 1 + curvature x w. */
  private girthOf(w: number, s: number): number {
    return s + w * (this.slopes.angle(s) - this.slopes.angle(0));
  }

  girthRange(station: number): Range {
    const { w } = this.along(this.tAt(station));
    return { from: this.girthOf(w, this.lo), to: this.girthOf(w, this.hi) };
  }

  girthAt(station: number, by: 'height' | 'halfBreadth', value: number): number {
    const { w } = this.along(this.tAt(station));
    const off = (s: number) => {
      const [y, z] = this.onSection(s);
      const a = this.slopes.angle(s);
      return (by === 'height' ? z - w * Math.cos(a) : y + w * Math.sin(a)) - value;
    };
    const n = Math.max(32, Math.ceil((this.hi - this.lo) / PANEL));
    let before = off(this.lo);
    let low = before;
    let high = before;
    for (let i = 1; i <= n; i++) {
      const s = this.lo + ((this.hi - this.lo) * i) / n;
      const now = off(s);
      low = Math.min(low, now);
      high = Math.max(high, now);
      if (before === 0 || before * now <= 0) {
        const root = bracketedRoot(off, this.lo + ((this.hi - this.lo) * (i - 1)) / n, s, 1e-10);
        if (root !== undefined) return this.girthOf(w, root);
      }
      before = now;
    }
    throw new Refusal(
      'beyond-data',
      `at.${by}`,
      [{ mm: value }],
      ['between ', { mm: low + value }, ' and ', { mm: high + value }, ': the readings reach no farther'],
    );
  }

  pointAt(station: number, girth: number, side: HullSide): ShellPoint {
    const t = this.tAt(station);
    const a = this.along(t);
    const range = this.girthRange(station);
    if (!(girth >= range.from - ROUND_OFF_MM && girth <= range.to + ROUND_OFF_MM)) {
      throw new Refusal(
        'beyond-data',
        'at.girth',
        [{ mm: girth }],
        [
          'between ',
          { mm: range.from },
          ' and ',
          { mm: range.to },
          `: the readings reach no farther. One more slope, at `,
          { mm: girth, digits: 0 },
          ' on the tape, would',
        ],
      );
    }
    const s = bracketedRoot((x) => this.girthOf(a.w, x) - girth, this.lo - 1, this.hi + 1, 1e-11) ?? girth;
    const p = newParameterPoint();
    this.evaluate(t, s, p);
    const angle = this.slopes.angle(s);
    const bend = this.slopes.rate(s);
    const v = Math.hypot(a.x1, a.w1);
    const tGirth: Vec3 = [0, Math.cos(angle), Math.sin(angle)];
    const normal: Vec3 = [p.nx, p.ny, p.nz];
    // The bar's curve in the plane of the ship's length and N: its unit tangent.
    const tFore: Vec3 = [a.x1 / v, (a.w1 / v) * Math.sin(angle), (-a.w1 / v) * Math.cos(angle)];
    const across = (bend * (a.x1 / v)) / (1 + bend * a.w);
    const fore = (a.w1 * a.x2 - a.x1 * a.w2) / v ** 3;
    const m = side === 'port' ? (q: Vec3) => q : mirrorVec;
    const curvature =
      across >= fore
        ? { k1: across, k2: fore, direction1: m(tGirth), direction2: m(tFore) }
        : { k1: fore, k2: across, direction1: m(tFore), direction2: m(tGirth) };
    return {
      position: m([p.x, p.y, p.z]),
      normal: m(normal),
      tGirth: m(tGirth),
      tFore: m(tFore),
      station,
      girth,
      side,
      curvature,
    };
  }

  evaluate(t: number, s: number, out: ParameterPoint): void {
    const a = this.along(t);
    const [y, z] = this.onSection(s);
    const angle = this.slopes.angle(s);
    const cos = Math.cos(angle);
    const sin = Math.sin(angle);
    const stretch = 1 + this.slopes.rate(s) * a.w;
    const v = 1 / Math.hypot(a.x1, a.w1);
    out.x = a.x;
    out.y = y + a.w * sin;
    out.z = z - a.w * cos;
    out.xp = a.x1;
    out.yp = a.w1 * sin;
    out.zp = -a.w1 * cos;
    out.xq = 0;
    out.yq = stretch * cos;
    out.zq = stretch * sin;
    out.nx = -a.w1 * v;
    out.ny = a.x1 * v * sin;
    out.nz = -a.x1 * v * cos;
  }

  mustHold(t: number, s: number): void {
    const slack = 1e-6;
    if (s < this.lo - slack || s > this.hi + slack) {
      throw new Refusal(
        'foot-off-shell',
        'at',
        [
          'a foot that reaches to ',
          { mm: s, digits: 0 },
          ' on the tape, where the readings speak for ',
          { mm: this.lo, digits: 0 },
          ' to ',
          { mm: this.hi, digits: 0 },
        ],
        ['one more slope: at ', { mm: s, digits: 0 }, ' on the tape or a little beyond'],
      );
    }
    if (t < this.bar.from - slack || t > this.bar.to + slack) {
      throw new Refusal(
        'foot-off-shell',
        'at',
        [
          'a foot that reaches ',
          { mm: Math.abs(t), digits: 0 },
          ' along the bar from its middle, where gaps were taken to ',
          { mm: this.bar.to, digits: 0 },
        ],
        ['one more gap: at ', { mm: t, digits: 0 }, ' or a little beyond'],
      );
    }
  }

  caster(frame: Frame): FootCaster {
    const mirror = frame.origin[1] < 0;
    const [t, s] = this.nearestTo([frame.origin[0], Math.abs(frame.origin[1]), frame.origin[2]]);
    return new SurfaceCaster(this, frame, mirror, t, s);
  }

  closest(p: Vec3, near?: CastHit): ClosestPoint {
    const m = p[1] < 0 ? -1 : 1;
    const q: Vec3 = [p[0], m * p[1], p[2]];
    const [t, s] = near ? this.footOf(q, near.p, near.q) : this.nearestTo(q);
    const at = newParameterPoint();
    this.evaluate(t, s, at);
    return { position: [at.x, m * at.y, at.z], distance: Math.hypot(at.x - q[0], at.y - q[1], at.z - q[2]) };
  }

  private nearestTo(p: Vec3): [number, number] {
    const t = Math.min(this.bar.to, Math.max(this.bar.from, p[0] - this.station));
    let best = Number.POSITIVE_INFINITY;
    let at = this.lo;
    const n = 40;
    for (let i = 0; i <= n; i++) {
      const s = this.lo + ((this.hi - this.lo) * i) / n;
      const [y, z] = this.onSection(s);
      const d = (y - p[1]) ** 2 + (z - p[2]) ** 2;
      if (d < best) {
        best = d;
        at = s;
      }
    }
    return this.footOf(p, t, at);
  }

  /** Foot of the perpendicular from p, within the data: Newton's method; S_t and S_s are square to each other. */
  private footOf(p: Vec3, t0: number, s0: number): [number, number] {
    const at = newParameterPoint();
    let t = t0;
    let s = s0;
    for (let it = 0; it < 60; it++) {
      this.evaluate(t, s, at);
      const a = this.along(t);
      const bend = this.slopes.rate(s);
      const rx = at.x - p[0];
      const ry = at.y - p[1];
      const rz = at.z - p[2];
      const angle = this.slopes.angle(s);
      const rN = ry * Math.sin(angle) - rz * Math.cos(angle);
      const rT = ry * Math.cos(angle) + rz * Math.sin(angle);
      const E = at.xp ** 2 + at.yp ** 2 + at.zp ** 2;
      const G = at.yq ** 2 + at.zq ** 2;
      const g1 = rx * at.xp + ry * at.yp + rz * at.zp;
      const g2 = ry * at.yq + rz * at.zq;
      let h11 = E + rx * a.x2 + rN * a.w2;
      let h22 = G - rN * Math.sqrt(G) * bend;
      let h12 = rT * a.w1 * bend;
      if (!(h11 > 0.1 * E && h11 * h22 - h12 * h12 > 0.05 * E * G)) {
        h11 = E;
        h22 = G;
        h12 = 0;
      }
      const det = h11 * h22 - h12 * h12;
      const nt = Math.min(this.bar.to, Math.max(this.bar.from, t - (g1 * h22 - g2 * h12) / det));
      const ns = Math.min(this.hi, Math.max(this.lo, s - (g2 * h11 - g1 * h12) / det));
      const moved = Math.abs(nt - t) + Math.abs(ns - s);
      t = nt;
      s = ns;
      if (moved < 1e-10) break;
    }
    return [t, s];
  }

  sectionLine(station: number, chord: number): Vec3[] {
    const { w } = this.along(this.tAt(station));
    let bend = 0;
    for (let i = 0; i <= 16; i++)
      bend = Math.max(bend, Math.abs(this.slopes.rate(this.lo + ((this.hi - this.lo) * i) / 16)));
    const n = Math.max(4, Math.ceil((this.hi - this.lo) * Math.sqrt(bend / (8 * chord))));
    return Array.from({ length: n + 1 }, (_, i): Vec3 => {
      const s = this.lo + ((this.hi - this.lo) * i) / n;
      const [y, z] = this.onSection(s);
      const a = this.slopes.angle(s);
      return [station, y + w * Math.sin(a), z - w * Math.cos(a)];
    });
  }

  drawStations(from: number, to: number, chord: number): number[] {
    const lo = Math.max(from, this.stations.from);
    const hi = Math.min(to, this.stations.to);
    if (!(hi > lo)) return [lo];
    const n = Math.max(1, Math.ceil((hi - lo) * Math.sqrt(Math.abs(this.bar.curvature) / (8 * chord))));
    return Array.from({ length: n + 1 }, (_, i) => lo + ((hi - lo) * i) / n);
  }
}

const GAUSS_X = [-0.8611363115940526, -0.3399810435848563, 0.3399810435848563, 0.8611363115940526];
const GAUSS_W = [0.34785484513745385, 0.6521451548625461, 0.6521451548625461, 0.34785484513745385];

/** Where on the tape a second slope would help most: on the far side of the place from the one there is. */
function helpfulMark(spec: ReadingsSpec): number {
  const only = spec.girth[0]?.at ?? 0;
  const place = spec.place?.girth ?? only;
  return place > only ? 2 * place - only : place < only ? 2 * place - only : only + NEXT_MARK;
}
