import { dihedralAt, type RootLine, SIDES } from '../../geometry/fit/rootline.ts';
import type { LugFrame } from '../../geometry/lug/frame.ts';
import type { Display, Fitting } from '../job/types.ts';
import { pieceDistance } from '../rigging/solids.ts';
import { legAlongPlate, throatOfLeg } from '../weld/legs.ts';
import { calledLeg } from '../weld/sizes.ts';
import type { PlannedWeldSide } from '../weld/weldPlan.ts';
import { zLoss } from '../weld/zloss.ts';
import type { Trace } from './structure.ts';

/*
 * Room between a welded foot and what is drawn on the shell. Distances are straight ones through space: on a shell that bends they come
 * out a little short of those along the skin, which is the careful side.
 */

/** A side of the weld as planned: what it is called up as, and what the gap of the chosen cut adds. mm, rad. */
export type WeldedSide = Pick<PlannedWeldSide, 'calledLegAlongPlate' | 'addedForGap' | 'dihedral'>;

/**
 * How far the weld's toe lies from the root along the shell, mm: the fillet is as wide on the shell as on the plate, and no wider than
 * the leg that is called up, in whole steps. Side by side with the dihedral where that side is widest and where it is sharpest (what does
 * not fuse in a sharp joint is welded on top). With the weld as planned in `sides` what a gap adds is in it: the gap g is filled along the
 * shell over g / sin(psi). Plain geometry of a fillet with its throat on the bisector.
 * `leg`: mm, of the 90 degree fillet with the throat wanted.
 */
export function toeReach(
  root: RootLine,
  frame: LugFrame,
  leg: number,
  display: Display,
  sides: readonly WeldedSide[] = [],
): number {
  const widest = new Array<number>(SIDES.length).fill(0);
  const sharpest = new Array<number>(SIDES.length).fill(Math.PI);
  for (let k = 0; k < root.count; k++) {
    const side = root.side[k] as number;
    const dihedral = dihedralAt(root, { frame }, k);
    widest[side] = Math.max(widest[side] as number, dihedral);
    sharpest[side] = Math.min(sharpest[side] as number, dihedral);
  }
  let reach = 0;
  for (const { calledLegAlongPlate, addedForGap, dihedral } of sides) {
    reach = Math.max(reach, calledLegAlongPlate + addedForGap / Math.sin(dihedral));
  }
  for (let k = 0; k < SIDES.length; k++) {
    const added = sides[k]?.addedForGap ?? 0;
    const along = calledToe(widest[k] as number, sharpest[k] as number, leg, display);
    reach = Math.max(reach, along + added / Math.sin(widest[k] as number));
  }
  return reach;
}

/** mm from the root to the toe where a side is at most so wide and at least so sharp (rad): the leg called up, before what a gap adds. */
export function calledToe(widest: number, sharpest: number, leg: number, display: Display): number {
  const throat = throatOfLeg(leg) + Math.max(zLoss(sharpest), zLoss(widest));
  return calledLeg(legAlongPlate(throat, widest), display);
}

/** mm. A point under the foot lies no farther than this from the heights that the root line has. */
const UNDER = 2;

/**
 * mm between the foot on the shell (its root line and what that encloses) and a trace; zero where the trace runs under the foot,
 * infinity for a trace of which nothing lies on the data. Where there is more than `enough` the figure is only known to be more.
 */
export function footDistance(
  root: RootLine,
  frame: LugFrame,
  lug: Fitting['lug'],
  { pieces }: Trace,
  enough = Number.POSITIVE_INFINITY,
): number {
  const { origin, foot, stem, face } = frame;
  const point = Float64Array.from([...origin, ...origin]);
  let reach = 0;
  let low = 0;
  let high = 0;
  for (let k = 0; k < root.count; k++) {
    reach = Math.max(reach, fromOrigin(root.position, 3 * k, origin));
    low = Math.min(low, root.f[k] as number);
    high = Math.max(high, root.f[k] as number);
  }
  const order: { readonly at: number; readonly far: number }[] = [];
  for (let at = 0; at < pieces.length; at += 6) {
    const far = pieceDistance(point, 0, pieces, at);
    if (far - reach < enough) order.push({ at, far });
  }
  order.sort((p, q) => p.far - q.far);
  let least = Number.POSITIVE_INFINITY;
  for (const { at, far } of order) {
    if (far - reach >= least) break;
    for (let end = at; end <= at + 3; end += 3) {
      const x = (pieces[end] as number) - origin[0];
      const y = (pieces[end + 1] as number) - origin[1];
      const z = (pieces[end + 2] as number) - origin[2];
      const a = x * foot[0] + y * foot[1] + z * foot[2];
      const b = x * stem[0] + y * stem[1] + z * stem[2];
      const c = x * face[0] + y * face[1] + z * face[2];
      if (Math.abs(a) <= lug.foot / 2 && Math.abs(c) <= lug.thickness / 2 && b >= low - UNDER && b <= high + UNDER)
        return 0;
    }
    for (let k = 1; k < root.count; k++) {
      least = Math.min(least, pieceDistance(root.position, 3 * (k - 1), pieces, at));
    }
  }
  if (least === Number.POSITIVE_INFINITY && order.length === 0 && pieces.length > 0) return enough;
  return least;
}

function fromOrigin(p: Float64Array, k: number, o: LugFrame['origin']): number {
  return Math.hypot((p[k] as number) - o[0], (p[k + 1] as number) - o[1], (p[k + 2] as number) - o[2]);
}
