import { type Frame, mirrorVec } from '../math/frame.ts';
import { ROUND_OFF_MM } from '../math/tolerance.ts';
import { addScaled, cross, distance, dot, normalize, scale, type Vec3 } from '../math/vec.ts';
import type { Phrase } from '../phrase.ts';
import { Refusal, unlessRefused } from '../refusal.ts';
import { LocalFit } from './localfit.ts';
import { type CutSection, cutSection, sectionPoint } from './meshsection.ts';
import type { CastHit, ClosestPoint, Doubt, FootCaster, HullSide, Range, Shell, ShellPoint } from './shell.ts';
import type { HullSpec } from './spec.ts';
import { newParameterPoint, SurfaceCaster } from './surfacecast.ts';
import { StationIndex } from './triangles.ts';

type MeshSpec = Extract<HullSpec, { kind: 'mesh' }>;
type Place = MeshSpec['places'][number];

/** The disc that is fitted round a place: this much more than half the foot, and this at least. mm */
const PATCH_SHARE = 1.35;
const LEAST_PATCH = 220;
/** mm. Tangents of a bare section are taken over this much either way. */
const TANGENT_SPAN = 40;
/** mm. Stations that far apart tell how a bare section runs fore and aft. */
const FORE_SPAN = 60;
/** mm. Sections kept. */
const KEPT = 400;

/** A planned place with the surface fitted round it, on the port side of things. */
export interface FittedPlace {
  /** In the list of places of the hull. */
  readonly index: number;
  readonly side: HullSide;
  readonly station: number;
  readonly girth: number;
  readonly fit: LocalFit;
  /** The place itself, and unit tangent of the section there (y, z). */
  readonly position: Vec3;
  readonly ty: number;
  readonly tz: number;
}

/** Sine of the angle to the surface below which a height (or a half-breadth) does not tell where along the section a place is. */
const TELLS = 0.17;

/**
 * The shell as triangles from a scan or a model. Places are found on the section cut at their station, girth counted from
 * its innermost, lowest end; round each place a smooth surface is fitted (`LocalFit`), on which the lug is planned. A half
 * model is the port half here whatever side it was drawn on; of a whole one each side is its own.
 */
export class MeshShell implements Shell {
  readonly notes: readonly Phrase[];
  readonly stations: Range;
  private readonly spec: MeshSpec;
  private readonly index: StationIndex;
  /** +1 where the half model lies to port, -1 where to starboard. */
  private readonly half: 1 | -1;
  private readonly sections = new Map<string, CutSection | undefined>();
  private readonly patches: { readonly m: 1 | -1; readonly fit: LocalFit }[] = [];
  private readonly seen = new Map<number, FittedPlace>();

  constructor(spec: MeshSpec) {
    this.spec = spec;
    this.notes = spec.notes;
    const { corners, origin, count } = spec.triangles;
    if (count === 0) {
      throw new Refusal(
        'degenerate-hull',
        'hull.file',
        ['no triangle near a fitting'],
        ['a mesh that covers the places of the lugs'],
      );
    }
    this.index = new StationIndex(spec.triangles);
    this.stations = { from: this.index.from, to: this.index.to };
    let port = 0;
    const stride = Math.max(1, Math.floor(count / 5000));
    for (let t = 0; t < count; t += stride) port += (corners[9 * t + 1] as number) + origin[1] >= 0 ? 1 : -1;
    this.half = port >= 0 ? 1 : -1;
  }

  /** Which mirror makes port of the data that describes a side. */
  private mirrorFor(side: HullSide): 1 | -1 {
    if (this.spec.half) return this.half;
    return side === 'port' ? 1 : -1;
  }

  private section(station: number, m: 1 | -1): CutSection {
    const { from, to } = this.stations;
    if (!(station >= from - ROUND_OFF_MM && station <= to + ROUND_OFF_MM)) {
      throw new Refusal(
        'beyond-data',
        'at.station',
        [{ mm: station }],
        ['between ', { mm: from }, ' and ', { mm: to }, ' where the mesh was kept'],
      );
    }
    const key = `${m} ${station}`;
    if (!this.sections.has(key)) {
      if (this.sections.size >= KEPT) this.sections.clear();
      this.sections.set(key, cutSection(this.spec.triangles, this.index, station, m));
    }
    const cut = this.sections.get(key);
    if (cut === undefined) {
      throw new Refusal(
        'beyond-data',
        'at.station',
        [{ mm: station }],
        ['a station where the mesh has a section: there is nothing of it here'],
      );
    }
    return cut;
  }

  girthRange(station: number): Range {
    const { girth } = this.section(station, this.mirrorFor('port'));
    return { from: 0, to: girth[girth.length - 1] as number };
  }

  girthAt(station: number, by: 'height' | 'halfBreadth', value: number, side: HullSide = 'port'): number {
    const cut = this.section(station, this.mirrorFor(side));
    const list = by === 'height' ? cut.z : cut.y;
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (let i = 0; i < list.length; i++) {
      const now = list[i] as number;
      low = Math.min(low, now);
      high = Math.max(high, now);
      if (i === 0) continue;
      const before = list[i - 1] as number;
      if ((before - value) * (now - value) <= 0 && before !== now) {
        const p = (value - before) / (now - before);
        return (cut.girth[i - 1] as number) + p * ((cut.girth[i] as number) - (cut.girth[i - 1] as number));
      }
    }
    throw new Refusal(
      'beyond-data',
      `at.${by}`,
      [{ mm: value }],
      ['between ', { mm: low }, ' and ', { mm: high }, ' at this station'],
    );
  }

  /** Radius of the disc that is fitted round a place. */
  private get patch(): number {
    return this.spec.patch ?? Math.max(LEAST_PATCH, PATCH_SHARE * this.spec.reach);
  }

  pointAt(station: number, girth: number, side: HullSide): ShellPoint {
    const m = this.mirrorFor(side);
    const cut = this.section(station, m);
    const last = cut.girth[cut.girth.length - 1] as number;
    if (!(girth >= -ROUND_OFF_MM && girth <= last + ROUND_OFF_MM)) {
      throw new Refusal(
        'beyond-data',
        'at.girth',
        [{ mm: girth }],
        ['between ', { mm: 0 }, ' and ', { mm: last }, ' at this station'],
      );
    }
    const bridge = cut.bridges.find((b) => girth > b.from && girth < b.to);
    const { y, z, ty, tz } = sectionPoint(cut, girth, TANGENT_SPAN);
    const index = this.spec.places.findIndex(
      (p) => Math.abs(p.station - station) < 1e-6 && p.side === side && this.isPlace(p, girth, side),
    );
    const planned = index >= 0;
    if (planned && bridge !== undefined) {
      throw new Refusal(
        'beyond-data',
        'at',
        ['a hole in the mesh, ', { mm: bridge.to - bridge.from, digits: 0 }, ' along the section'],
        ['a place that the mesh covers, or the place scanned again'],
      );
    }
    const about: Vec3 = [station, y, z];
    const fit = this.patchFor(about, [0, tz, -ty], m, planned);
    const place = this.spec.places[index];
    const point =
      fit === undefined
        ? this.bare(about, ty, tz, m)
        : (place && onFitBy(fit, about, ty, tz, place)) || onFit(fit, about, ty, tz);
    if (planned && fit !== undefined && !this.seen.has(index))
      this.seen.set(index, { index, side, station, girth, fit, position: point.position, ty, tz });
    const notes: Phrase[] = planned && fit !== undefined ? [fit.note()] : [];
    if (planned) {
      const crossed = cut.bridges.filter((b) => b.to <= girth);
      if (crossed.length > 0) {
        const size = crossed.reduce((sum, b) => sum + b.to - b.from, 0);
        notes.push([
          'Between the first point of the section and the place the mesh has ',
          { count: crossed.length },
          crossed.length === 1 ? ' hole' : ' holes',
          ', ',
          { mm: size, digits: 0 },
          ' along it in all: the girth goes straight across.',
        ]);
      }
    }
    return { ...onSide(point, station, girth, side), ...(notes.length > 0 ? { notes } : {}) };
  }

  /** The places that have been planned on so far, each with its surface: what a scan's scatter moves. */
  fitted(): readonly FittedPlace[] {
    return [...this.seen.values()].sort((p, q) => p.index - q.index);
  }

  doubt(p: Vec3, side: HullSide): Doubt | undefined {
    const m = this.mirrorFor(side);
    const q: Vec3 = [p[0], Math.abs(p[1]), p[2]];
    const fit = this.patches.find((patch) => patch.m === m && distance(patch.fit.centre, q) < patch.fit.radius)?.fit;
    if (fit === undefined) return undefined;
    const fold = side === 'port' ? (v: Vec3) => v : mirrorVec;
    return { offset: Math.sqrt(fit.heightVariance), slope: (direction) => fit.slopeVariance(fold(direction)) };
  }

  private isPlace(p: MeshSpec['places'][number], girth: number, side: HullSide): boolean {
    if (p.by === 'girth') return Math.abs(p.value - girth) < 1e-6;
    return Math.abs(this.girthAt(p.station, p.by, p.value, side) - girth) < 1e-6;
  }

  /** The surface fitted round a planned place; for a point that is only drawn, the one it lies on, if it does. */
  private patchFor(about: Vec3, outward: Vec3, m: 1 | -1, planned: boolean): LocalFit | undefined {
    const known = this.patches.find(
      (p) => p.m === m && distance(p.fit.centre, about) < (planned ? 1e-6 : 0.7 * p.fit.radius),
    );
    if (known !== undefined) return known.fit;
    if (!planned) return undefined;
    const fit = new LocalFit(this.spec.triangles, this.index, about, outward, this.patch, m);
    if (this.patches.length >= 64) this.patches.shift();
    this.patches.push({ m, fit });
    return fit;
  }

  /** A point of the bare section, its run fore and aft from the sections next to it: good for drawing. */
  private bare(about: Vec3, ty: number, tz: number, m: 1 | -1) {
    const side: Vec3 = [0, tz, -ty];
    const offset = (station: number): number | undefined => {
      if (station < this.stations.from || station > this.stations.to) return undefined;
      return unlessRefused(() => {
        const near = nearestOn(this.section(station, m), about[1], about[2]);
        const d = (near[0] - about[1]) * side[1] + (near[1] - about[2]) * side[2];
        return Math.abs(d) < FORE_SPAN ? d : undefined;
      });
    };
    const fore = offset(about[0] + FORE_SPAN);
    const aft = offset(about[0] - FORE_SPAN);
    const run =
      fore !== undefined && aft !== undefined ? (fore - aft) / (2 * FORE_SPAN) : ((fore ?? 0) - (aft ?? 0)) / FORE_SPAN;
    const tGirth: Vec3 = [0, ty, tz];
    const tFore = normalize(addScaled([1, 0, 0], side, run));
    return {
      position: about,
      normal: normalize(addScaled(side, [1, 0, 0], -run)),
      tGirth,
      tFore,
      curvature: { k1: 0, k2: 0, direction1: tGirth, direction2: tFore },
    };
  }

  caster(frame: Frame, halfFoot: number, halfThickness: number): FootCaster {
    const side = frame.origin[1] < 0 ? 'starboard' : 'port';
    const m = this.mirrorFor(side);
    const about: Vec3 = [frame.origin[0], Math.abs(frame.origin[1]), frame.origin[2]];
    const reach = Math.hypot(halfFoot, halfThickness);
    let fit = this.patches.find((p) => p.m === m && distance(p.fit.centre, about) + reach <= p.fit.radius)?.fit;
    if (fit === undefined) {
      const n = frame.stem;
      fit = new LocalFit(
        this.spec.triangles,
        this.index,
        about,
        [n[0], side === 'port' ? n[1] : -n[1], n[2]],
        Math.max(this.patch, PATCH_SHARE * reach),
        m,
      );
      if (this.patches.length >= 64) this.patches.shift();
      this.patches.push({ m, fit });
    }
    const [u, v] = fit.place(about);
    const caster = new SurfaceCaster(fit, frame, side === 'starboard', u, v);
    const corner = (sa: number, sc: number): Vec3 => {
      const p = addScaled(addScaled(frame.origin, frame.foot, sa * halfFoot), frame.face, sc * halfThickness);
      return [p[0], side === 'port' ? p[1] : -p[1], p[2]];
    };
    fit.mustBeSmooth([corner(-1, -1), corner(-1, 1), corner(1, -1), corner(1, 1)]);
    covered(fit, caster, halfFoot, halfThickness);
    return caster;
  }

  closest(p: Vec3, near?: CastHit): ClosestPoint {
    const side = p[1] < 0 ? 'starboard' : 'port';
    const m = this.mirrorFor(side);
    const q: Vec3 = [p[0], Math.abs(p[1]), p[2]];
    const fold = (r: Vec3): Vec3 => (side === 'port' ? r : mirrorVec(r));
    const held = this.patches.find(({ m: own, fit }) => own === m && distance(fit.centre, q) < fit.radius)?.fit;
    if (held !== undefined) {
      const at = newParameterPoint();
      let [u, v] = near === undefined ? held.place(q) : [near.p, near.q];
      for (let it = 0; it < 60; it++) {
        held.evaluate(u, v, at);
        const r: Vec3 = [at.x - q[0], at.y - q[1], at.z - q[2]];
        const su: Vec3 = [at.xp, at.yp, at.zp];
        const sv: Vec3 = [at.xq, at.yq, at.zq];
        const [E, F, G] = [dot(su, su), dot(su, sv), dot(sv, sv)];
        const [g1, g2] = [dot(r, su), dot(r, sv)];
        const det = E * G - F * F;
        const du = (-g1 * G + g2 * F) / det;
        const dv = (g1 * F - g2 * E) / det;
        u += du;
        v += dv;
        if (Math.abs(du) + Math.abs(dv) < 1e-9) break;
      }
      if (u * u + v * v <= held.radius ** 2) {
        held.evaluate(u, v, at);
        const c: Vec3 = [at.x, at.y, at.z];
        return { position: fold(c), distance: distance(c, q) };
      }
    }
    const found = this.nearestTriangle(q, m);
    return { position: fold(found), distance: distance(found, q) };
  }

  private nearestTriangle(q: Vec3, m: 1 | -1): Vec3 {
    const { corners, origin } = this.spec.triangles;
    let best = Number.POSITIVE_INFINITY;
    let at: Vec3 = q;
    const look = (t: number): void => {
      const i = 9 * t;
      const g = (k: number): Vec3 => [
        (corners[i + k] as number) + origin[0],
        m * ((corners[i + k + 1] as number) + origin[1]),
        (corners[i + k + 2] as number) + origin[2],
      ];
      const c = onTriangle(q, g(0), g(3), g(6));
      const d = distance(c, q);
      if (d < best) {
        best = d;
        at = c;
      }
    };
    for (let reach = 100; ; reach *= 4) {
      this.index.each(q[0] - reach, q[0] + reach, look);
      if (best <= reach || (q[0] - reach < this.stations.from && q[0] + reach > this.stations.to)) return at;
    }
  }

  sectionLine(station: number): Vec3[] {
    const { y, z } = this.section(station, this.mirrorFor('port'));
    return Array.from(y, (v, i): Vec3 => [station, v, z[i] as number]);
  }

  drawStations(from: number, to: number): number[] {
    const lo = Math.max(from, this.stations.from);
    const hi = Math.min(to, this.stations.to);
    if (!(hi > lo)) return [lo];
    const n = Math.max(1, Math.ceil((hi - lo) / 200));
    return Array.from({ length: n + 1 }, (_, i) => lo + ((hi - lo) * i) / n);
  }
}

/**
 * The point of a fitted surface at a height or a half-breadth, where the place was given so: free of what ripple is left in
 * the section. Undefined where that does not tell, or leads away.
 */
export function onFitBy(
  fit: LocalFit,
  about: Vec3,
  ty: number,
  tz: number,
  { by, value }: Pick<Place, 'by' | 'value'>,
) {
  if (by === 'girth' || Math.abs(by === 'height' ? tz : ty) < TELLS) return undefined;
  const wanted: Vec3 = by === 'height' ? [about[0], about[1], value] : [about[0], value, about[2]];
  const point = onFit(fit, wanted, ty, tz, by === 'height' ? [0, 1] : [1, 0]);
  return distance(point.position, about) < fit.radius / 2 ? point : undefined;
}

/** A point found on the port side as the point of a shell, on either side. */
export function onSide(
  {
    position,
    normal,
    tGirth,
    tFore,
    curvature,
  }: Pick<ShellPoint, 'position' | 'normal' | 'tGirth' | 'tFore' | 'curvature'>,
  station: number,
  girth: number,
  side: HullSide,
): ShellPoint {
  const fold = side === 'port' ? (q: Vec3) => q : mirrorVec;
  return {
    position: fold(position),
    normal: fold(normal),
    tGirth: fold(tGirth),
    tFore: fold(tFore),
    station,
    girth,
    side,
    curvature: { ...curvature, direction1: fold(curvature.direction1), direction2: fold(curvature.direction2) },
  };
}

/**
 * The point of a fitted surface at the station of `about`, with the directions of the section there; `square`: along (y, z)
 * there is no way from `about` to the point.
 */
export function onFit(
  fit: LocalFit,
  about: Vec3,
  ty: number,
  tz: number,
  square: readonly [number, number] = [ty, tz],
) {
  const at = newParameterPoint();
  let [u, v] = fit.place(about);
  const [sy, sz] = square;
  const normal = (): Vec3 => [at.nx, at.ny, at.nz];
  // Along the surface to the station's plane, and square to the bare section: two conditions for (u, v).
  for (let it = 0; it < 40; it++) {
    fit.evaluate(u, v, at);
    const r1 = at.x - about[0];
    const r2 = (at.y - about[1]) * sy + (at.z - about[2]) * sz;
    const j21 = at.yp * sy + at.zp * sz;
    const j22 = at.yq * sy + at.zq * sz;
    const det = at.xp * j22 - at.xq * j21;
    const du = (r1 * j22 - r2 * at.xq) / det;
    const dv = (r2 * at.xp - r1 * j21) / det;
    u -= du;
    v -= dv;
    if (Math.abs(du) + Math.abs(dv) < 1e-11) break;
  }
  fit.evaluate(u, v, at);
  const n = normal();
  const along = normalize(cross(n, [1, 0, 0]));
  const tGirth = along[1] * ty + along[2] * tz >= 0 ? along : scale(along, -1);
  const ahead = normalize(cross(n, tGirth));
  const tFore = ahead[0] >= 0 ? ahead : scale(ahead, -1);
  const { hu, hv, huu, huv, hvv } = fit.height(u, v);
  const w = Math.sqrt(1 + hu * hu + hv * hv);
  // Curvature of a height field (do Carmo 3-3): II = (huu, huv, hvv) / w, positive towards the normal; bulging is the other way.
  const second = (p: Vec3, q: Vec3): number => {
    const [pu, pv] = [dot(p, fit.e1), dot(p, fit.e2)];
    const [qu, qv] = [dot(q, fit.e1), dot(q, fit.e2)];
    return -(huu * pu * qu + huv * (pu * qv + pv * qu) + hvv * pv * qv) / w;
  };
  const a = second(tFore, tFore);
  const b = second(tFore, tGirth);
  const d = second(tGirth, tGirth);
  const mean = (a + d) / 2;
  const dev = Math.hypot((a - d) / 2, b);
  const angle = 0.5 * Math.atan2(2 * b, a - d);
  const direction1 = addScaled(scale(tFore, Math.cos(angle)), tGirth, Math.sin(angle));
  return {
    position: [at.x, at.y, at.z] as Vec3,
    normal: n,
    tGirth,
    tFore,
    curvature: { k1: mean + dev, k2: mean - dev, direction1, direction2: cross(n, direction1) },
  };
}

/** mm. Points of the foot at which the mesh must be there are not farther apart than this. */
const LOOK = 10;

function covered(fit: LocalFit, caster: FootCaster, halfFoot: number, halfThickness: number): void {
  const hit = { ...caster.seed };
  const na = Math.max(1, Math.ceil(halfFoot / LOOK));
  const nc = Math.max(1, Math.ceil(halfThickness / LOOK));
  for (let j = -nc; j <= nc; j++) {
    for (let i = -na; i <= na; i++) {
      if (caster.cast((halfFoot * i) / na, (halfThickness * j) / nc, caster.seed, 0, 0, hit))
        fit.mustCover(hit.p, hit.q);
    }
  }
}

function nearestOn({ y, z }: CutSection, py: number, pz: number): [number, number] {
  let best = Number.POSITIVE_INFINITY;
  let out: [number, number] = [py, pz];
  for (let i = 1; i < y.length; i++) {
    const [y0, z0] = [y[i - 1] as number, z[i - 1] as number];
    const dy = (y[i] as number) - y0;
    const dz = (z[i] as number) - z0;
    const q = dy * dy + dz * dz;
    const t = q > 0 ? Math.max(0, Math.min(1, ((py - y0) * dy + (pz - z0) * dz) / q)) : 0;
    const c: [number, number] = [y0 + t * dy, z0 + t * dz];
    const d = (c[0] - py) ** 2 + (c[1] - pz) ** 2;
    if (d < best) {
      best = d;
      out = c;
    }
  }
  return out;
}

/** Nearest point of a triangle by its regions (C. Ericson, Real-Time Collision Detection, 2005, section 5.1.5; standard). */
function onTriangle(p: Vec3, a: Vec3, b: Vec3, c: Vec3): Vec3 {
  const d = (u: Vec3, v: Vec3): Vec3 => [u[0] - v[0], u[1] - v[1], u[2] - v[2]];
  const ab = d(b, a);
  const ac = d(c, a);
  const ap = d(p, a);
  const d1 = dot(ab, ap);
  const d2 = dot(ac, ap);
  if (d1 <= 0 && d2 <= 0) return a;
  const bp = d(p, b);
  const d3 = dot(ab, bp);
  const d4 = dot(ac, bp);
  if (d3 >= 0 && d4 <= d3) return b;
  const vc = d1 * d4 - d3 * d2;
  if (vc <= 0 && d1 >= 0 && d3 <= 0) return addScaled(a, ab, d1 === d3 ? 0 : d1 / (d1 - d3));
  const cp = d(p, c);
  const d5 = dot(ab, cp);
  const d6 = dot(ac, cp);
  if (d6 >= 0 && d5 <= d6) return c;
  const vb = d5 * d2 - d1 * d6;
  if (vb <= 0 && d2 >= 0 && d6 <= 0) return addScaled(a, ac, d2 === d6 ? 0 : d2 / (d2 - d6));
  const va = d3 * d6 - d5 * d4;
  if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) return addScaled(b, d(c, b), (d4 - d3) / (d4 - d3 + (d5 - d6)));
  const sum = va + vb + vc;
  if (!(sum > 0)) return a;
  return addScaled(addScaled(a, ab, vb / sum), ac, vc / sum);
}
