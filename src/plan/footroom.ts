import { dihedralAt, type RootLine } from '../../geometry/fit/rootline.ts';
import type { LugFrame } from '../../geometry/lug/frame.ts';
import type { Fitting } from '../job/types.ts';
import { pieceDistance } from '../rigging/solids.ts';
import type { Trace } from './structure.ts';

/*
 * Room between a welded foot and what is drawn on the shell. Distances are straight ones through space: on a shell that bends they come
 * out a little short of those along the skin, which is the careful side.
 */

/**
 * How far the weld's toe lies from the root along the shell, mm: the fillet is as wide on the shell as on the plate, throat/cos(psi/2),
 * and widest where the dihedral angle psi is. Before anything is added for gaps. Plain geometry of a fillet with its throat on the
 * bisector.
 */
export function toeReach(root: RootLine, frame: LugFrame, leg: number): number {
  let widest = 0;
  for (let k = 0; k < root.count; k++) widest = Math.max(widest, dihedralAt(root, { frame }, k));
  return leg / Math.SQRT2 / Math.cos(widest / 2);
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
