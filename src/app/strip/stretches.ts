import type { Side } from '../../../geometry/fit/rootline.ts';
import type { JointPoint } from '../../plan/types.ts';

/** A stretch of root on one side that is welded in one position. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly side: Side;
  readonly position: string;
  /** Of the point in its middle, rad. */
  readonly dihedral: number;
}

export function stretches(points: readonly JointPoint[]): Stretch[] {
  const out: Stretch[] = [];
  let first = 0;
  for (let i = 1; i <= points.length; i++) {
    const [a, b] = [points[first], points[i]];
    if (a === undefined) break;
    if (b !== undefined && b.side === a.side && b.weldingPosition.aws === a.weldingPosition.aws) continue;
    const last = points[i - 1] as JointPoint;
    const middle = points[Math.floor((first + i - 1) / 2)] as JointPoint;
    const to = b !== undefined && b.side === a.side ? (last.s + b.s) / 2 : last.s;
    const from = out.at(-1)?.side === a.side ? (out.at(-1) as Stretch).to : a.s;
    if (to > from) out.push({ from, to, side: a.side, position: a.weldingPosition.aws, dihedral: middle.dihedral });
    first = i;
  }
  return out;
}
