import type { CutFit } from '../../geometry/fit/cuts.ts';
import { newHit } from '../../geometry/hull/shell.ts';
import type { FittingPlan } from '../plan/types.ts';
import type { Point } from './drawing.ts';

export type Face = 'face-' | 'face+';

export const chosenCut = ({ fit }: FittingPlan): CutFit => fit[fit.chosen];

/** c of a face, mm. */
export const faceAt = (fitting: FittingPlan, face: Face): number =>
  (face === 'face+' ? 1 : -1) * fitting.field.halfThickness;

/**
 * The edge of the cut on a face as points (a, b) from -foot/2 to foot/2, mm in the lug frame: exact for all three cuts, which
 * are straight between their breaks. Where two facets do not meet, the step stands in it.
 */
export function footEdge(fitting: FittingPlan, face: Face): Point[] {
  const { surface } = chosenCut(fitting);
  const c = faceAt(fitting, face);
  const points: Point[] = [];
  surface.breaks.forEach((a, i) => {
    const left = surface.height(a, c, true);
    const right = surface.height(a, c);
    if (i > 0) points.push({ x: a, y: left });
    const last = i === surface.breaks.length - 1;
    if (!last && (i === 0 || Math.abs(left - right) > 1e-6)) points.push({ x: a, y: right });
  });
  return points;
}

/** Lowest of the edges on either face at each a: where a cut square through the plate leaves all the metal of the foot. */
export function lowerEdge(fitting: FittingPlan): Point[] {
  const minus = footEdge(fitting, 'face-');
  const plus = footEdge(fitting, 'face+');
  const at = (edge: readonly Point[], x: number, left: boolean): number => heightOn(edge, x, left);
  const stops = [...new Set([...minus, ...plus].map((p) => p.x))].sort((p, q) => p - q);
  const all = [...stops];
  for (let i = 0; i + 1 < stops.length; i++) {
    const [x0, x1] = [stops[i] as number, stops[i + 1] as number];
    const d0 = at(minus, x0, false) - at(plus, x0, false);
    const d1 = at(minus, x1, true) - at(plus, x1, true);
    if (d0 * d1 < 0) all.push(x0 + ((x1 - x0) * d0) / (d0 - d1));
  }
  all.sort((p, q) => p - q);
  return all.flatMap((x, i) => {
    const left = Math.min(at(minus, x, true), at(plus, x, true));
    const right = Math.min(at(minus, x, false), at(plus, x, false));
    if (i === 0) return [{ x, y: right }];
    if (i === all.length - 1 || Math.abs(left - right) < 1e-6) return [{ x, y: left }];
    return [
      { x, y: left },
      { x, y: right },
    ];
  });
}

/** Height of an edge at x; at a step the side asked for. */
function heightOn(edge: readonly Point[], x: number, fromLeft: boolean): number {
  let best: number | undefined;
  for (let i = 0; i + 1 < edge.length; i++) {
    const p = edge[i] as Point;
    const q = edge[i + 1] as Point;
    if (x < p.x - 1e-9 || x > q.x + 1e-9 || q.x - p.x < 1e-12) continue;
    const y = p.y + ((q.y - p.y) * (x - p.x)) / (q.x - p.x);
    if (best === undefined || !fromLeft) best = y;
  }
  if (best === undefined) throw new RangeError(`the edge does not reach ${x}`);
  return best;
}

/** Stem gap k - f that the cut leaves at (a, c), mm; never below zero by more than round-off. */
export function gapAt(fitting: FittingPlan, a: number, c: number): number {
  const hit = newHit();
  if (!fitting.field.cast(a, c, hit)) throw new Error(`the foot line at ${a}, ${c} meets no shell`);
  return chosenCut(fitting).surface.height(a, c) - hit.f;
}

/** A stretch of the foot that is cut with one setting of the torch. Angles rad. */
export interface TorchSetting {
  readonly fromA: number;
  readonly toA: number;
  /** Across the plate at right angles to its length: positive where `face+` comes out shorter. */
  readonly bevel: number;
  readonly footSlope: number;
  /** Off square, seen along the edge that the torch follows: atan(p2 / sqrt(1 + p1^2)). */
  readonly torch: number;
}

/** Settings of the torch along the foot; empty for a scribed cut, which has none that holds. */
export function torchSettings(fitting: FittingPlan): TorchSetting[] {
  const { fit, field } = fitting;
  const setting = (fromA: number, toA: number, p1: number, p2: number): TorchSetting => ({
    fromA,
    toA,
    bevel: Math.atan(p2),
    footSlope: Math.atan(p1),
    torch: Math.atan(p2 / Math.sqrt(1 + p1 * p1)),
  });
  if (fit.chosen === 'straight') return [setting(-field.halfFoot, field.halfFoot, fit.straight.p1, fit.straight.p2)];
  if (fit.chosen === 'faceted') return fit.faceted.facets.map((q) => setting(q.fromA, q.toA, q.p1, q.p2));
  return [];
}

/**
 * mm along the plate's surface from the edge that is to stand to the middle of a torch that cuts at this setting: half the kerf,
 * which the plate's surface meets at the torch's angle off square, is longer there by 1 / cos.
 */
export const torchFromEdge = ({ torch }: TorchSetting, kerf: number): number => kerf / (2 * Math.cos(torch));

/**
 * A line at `distance` mm from a path that runs along x, on its left going along it (mm): each corner by the mean of its two sides;
 * at a step, where facets do not meet, each side by its own.
 */
export function offsetPath(path: readonly Point[], distance: number): Point[] {
  const normals = path.slice(1).map((q, i) => {
    const p = path[i] as Point;
    const long = Math.hypot(q.x - p.x, q.y - p.y);
    return Math.abs(q.x - p.x) < 1e-9 ? undefined : { x: -(q.y - p.y) / long, y: (q.x - p.x) / long };
  });
  return path.map((p, i) => {
    const before = normals[i - 1];
    const after = normals[i];
    const n0 = before ?? after;
    const n1 = after ?? before;
    if (n0 === undefined || n1 === undefined) return p;
    const m = { x: n0.x + n1.x, y: n0.y + n1.y };
    const k = (2 * distance) / (m.x * m.x + m.y * m.y);
    return { x: p.x + k * m.x, y: p.y + k * m.y };
  });
}
