import { addScaled, cross, dot, length, normalize, scale, type Vec3 } from '../../geometry/math/vec.ts';
import type { FittingPlan, Plan } from '../plan/types.ts';
import { wayOf } from './sides.ts';

/** rad. A shell that lies flatter than this has no way up that a diver would see. */
const FLAT = (4 * Math.PI) / 180;

/** rad. Where the way up runs no farther than this from straight round the girth, the girth is upright on the sheet. */
const LEVELLED = (20 * Math.PI) / 180;

/** How a diver who hangs before the place sees it: he looks square at the shell from the water. Unit vectors, ship axes. */
export interface DiverView {
  readonly right: Vec3;
  /** Up the shell: the way to the surface as far as it runs in the shell, straight round the girth where that is nearly it; outboard where the shell lies flat. */
  readonly up: Vec3;
  readonly flat: boolean;
  /** What lies at the four edges of the picture. */
  readonly edges: { readonly top: string; readonly bottom: string; readonly left: string; readonly right: string };
}

export function diverView(plan: Plan, fitting: FittingPlan): DiverView {
  const n = fitting.anchor.normal;
  const along = addScaled(plan.up, n, -dot(plan.up, n));
  const flat = length(along) < Math.sin(FLAT);
  const { tGirth } = fitting.anchor;
  const steepest = flat ? tGirth : normalize(along);
  const round = scale(tGirth, Math.sign(dot(steepest, tGirth)) || 1);
  // A lug that stands fore and aft is drawn level: a little trim, or a shell that closes in a little, turns no foot on the sheet.
  const up = dot(steepest, round) > Math.cos(LEVELLED) ? round : steepest;
  // Looking along -n with `up` upward, the right hand is (-n) x up.
  const right = cross(scale(n, -1), up);
  const name = (v: Vec3) => wayOf(v, fitting.anchor.side);
  return {
    right,
    up,
    flat,
    edges: { top: name(up), bottom: name(scale(up, -1)), left: name(scale(right, -1)), right: name(right) },
  };
}

/** mm below the surface, square to the water plane: ship's drafts, trim and heel as in the job. */
export function depthOf(plan: Plan, p: Vec3): number {
  return dot([-p[0], -p[1], plan.job.ship.draftAft - p[2]], plan.up);
}
