import { SIDES } from '../../geometry/fit/rootline.ts';
import type { FittingPlan } from '../plan/types.ts';
import type { WeldRun } from '../weld/weldPlan.ts';

/** Where a run lies on a side that has no such bead, and is feathered out there: at its start, at its end, between them. */
export interface Feathered {
  readonly from: boolean;
  readonly to: boolean;
  readonly between: boolean;
}

/** mm of run on a side that lacks the bead from which on it is feathered out, no round-off of a corner. */
const SEEN = 0.5;

/** Sides by `SIDES`; places of a run may lie turns outside the root line. */
export function featheredAt(
  { root, weld }: Pick<FittingPlan, 'root' | 'weld'>,
  { layer, bead, fromS, toS }: Pick<WeldRun, 'layer' | 'bead' | 'fromS' | 'toS'>,
): Feathered {
  const [low, high] = [Math.min(fromS, toS), Math.max(fromS, toS)];
  const near = Math.round(low / root.perimeter);
  const found = { low: false, high: false, between: false };
  SIDES.forEach((side, k) => {
    const beads = weld.sides.find((each) => each.side === side)?.stack.layers[layer - 1]?.beads.length ?? 0;
    if (bead <= beads) return;
    for (let turn = near - 2; turn <= near + 2; turn++) {
      const begin = Math.max(low, (root.corners[k] as number) + turn * root.perimeter);
      const end = Math.min(high, (root.corners[k + 1] as number) + turn * root.perimeter);
      if (end - begin < SEEN) continue;
      if (begin - low < SEEN) found.low = true;
      if (high - end < SEEN) found.high = true;
      if (begin - low >= SEEN && high - end >= SEEN) found.between = true;
    }
  });
  const up = toS >= fromS;
  return { from: up ? found.low : found.high, to: up ? found.high : found.low, between: found.between };
}
