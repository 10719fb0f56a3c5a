import { type LugFrame, toShip } from '../lug/frame.ts';
import { bracketedRoot } from '../math/roots.ts';
import { clampUnit, dot, length, normalize, sub, type Vec3 } from '../math/vec.ts';

/** The pull against the lug's plane. Angles rad, forces N. */
export interface LoadAlignment {
  /** Unit vector from the pin centre along the pull, ship axes. */
  readonly direction: Vec3;
  /** asin(d . C): signed, positive towards C. */
  readonly offPlane: number;
  /** atan2(d . A, d . B). */
  readonly inPlane: number;
  readonly alongStem: number;
  readonly alongFoot: number;
  readonly sideways: number;
  readonly force: number;
  /** |sideways| / force. */
  readonly sidewaysShare: number;
}

/** Where the pull goes: to a point (mm, ship axes) or along a direction of any length. */
export type Pull = { readonly toward: Vec3 } | { readonly direction: Vec3 };

/** Unit vector from the pin along the pull; `undefined` where the load point is the pin itself. */
export function pullDirection(pin: Vec3, pull: Pull): Vec3 | undefined {
  const d = 'toward' in pull ? sub(pull.toward, pin) : pull.direction;
  return length(d) > 0 ? normalize(d) : undefined;
}

/** `pinHeight` mm along the stem, `force` N. `undefined` where the load point is the pin itself. */
export function alignLoad(frame: LugFrame, pinHeight: number, pull: Pull, force: number): LoadAlignment | undefined {
  const d = pullDirection(toShip(frame, 0, pinHeight, 0), pull);
  if (!d) return undefined;
  const da = dot(d, frame.foot);
  const db = dot(d, frame.stem);
  const dc = dot(d, frame.face);
  return {
    direction: d,
    offPlane: Math.asin(clampUnit(dc)),
    inPlane: Math.atan2(da, db),
    alongStem: force * db,
    alongFoot: force * da,
    sideways: force * dc,
    force,
    sidewaysShare: Math.abs(dc),
  };
}

/** What a diver's inclinometer should show on the lug, rad: `up` is the unit normal of the water plane in ship axes. */
export interface InclinometerReadings {
  /** Along the stem, from plumb: acos |B . up|. */
  readonly stemFromPlumb: number;
  /** On the face of the plate, from plumb: asin |C . up|. */
  readonly faceFromPlumb: number;
  /** Along the foot, from level: asin |A . up|, with the end that is higher. */
  readonly footFromLevel: number;
  readonly higherEnd: 'end+' | 'end-' | 'level';
}

export function inclinometerReadings(frame: LugFrame, up: Vec3): InclinometerReadings {
  const rise = dot(frame.foot, up);
  const b = dot(frame.stem, up);
  const c = dot(frame.face, up);
  return {
    // atan2 of the parts across and along keeps small angles exact where acos would lose half the digits.
    stemFromPlumb: Math.atan2(Math.hypot(rise, c), Math.abs(b)),
    faceFromPlumb: Math.asin(clampUnit(Math.abs(c))),
    footFromLevel: Math.asin(clampUnit(Math.abs(rise))),
    higherEnd: Math.abs(rise) < 1e-4 ? 'level' : rise > 0 ? 'end+' : 'end-',
  };
}

/** A turn or tilt that would bring the load line into the plane of the lug, rad; or that there is none within reach. */
export type Correction = { readonly found: true; readonly angle: number } | { readonly found: false };

/**
 * Smallest turn (rad, signed) about zero that makes the off-plane angle vanish, searched outward to `reach` both ways in
 * steps of `step` and closed in on to 1e-10 rad. `offPlaneAt` gives sin(off-plane) for a turn, `undefined` where the lug
 * cannot stand so.
 */
export function smallestCorrection(
  offPlaneAt: (turn: number) => number | undefined,
  reach: number,
  step: number,
): Correction {
  const here = offPlaneAt(0);
  if (here === undefined) return { found: false };
  if (Math.abs(here) < 1e-12) return { found: true, angle: 0 };
  let plus: number | undefined = here;
  let minus: number | undefined = here;
  for (let k = 1; k * step <= reach + 1e-12; k++) {
    const candidates: number[] = [];
    for (const sign of [1, -1]) {
      const before: number | undefined = sign > 0 ? plus : minus;
      const now: number | undefined = before === undefined ? undefined : offPlaneAt(sign * k * step);
      if (before !== undefined && now !== undefined && before * now <= 0) {
        const root = bracketedRoot(
          (x) => offPlaneAt(x) ?? Number.NaN,
          sign * (k - 1) * step,
          sign * k * step,
          1e-10,
          before,
          now,
        );
        // A jump through zero (the lean changes sides where the heading runs along the girth) is no root.
        if (root !== undefined && Math.abs(offPlaneAt(root) ?? 1) < 1e-6) candidates.push(root);
      }
      if (sign > 0) plus = now;
      else minus = now;
    }
    if (candidates.length > 0) {
      return { found: true, angle: candidates.reduce((p, q) => (Math.abs(q) < Math.abs(p) ? q : p)) };
    }
  }
  return { found: false };
}
