import { rootAt } from '../../geometry/fit/rootline.ts';
import { dot, type Vec3 } from '../../geometry/math/vec.ts';
import type { FittingPlan } from '../plan/types.ts';
import type { WeldRun } from '../weld/weldPlan.ts';

/** mm of a run that may go downhill without a word: no more than where a bead turns at the lowest point. */
const BORNE = 25;
/** Rise over way from which a stretch goes downhill to speak of, sin 25 deg. A choice. */
const STEEP = Math.sin((25 * Math.PI) / 180);
/** mm from look to look along a run. */
const LOOK = 1;

/**
 * Runs above the root that go downhill for some of their way, by more than an inch, about: beads begin and end where stops are kept apart, not
 * always at the lowest and the highest point. The root itself only climbs.
 */
export function downhillRuns({ root, weld }: Pick<FittingPlan, 'root' | 'weld'>, up: Vec3): WeldRun[] {
  const height = (s: number): number => dot(rootAt(root, s).position, up);
  return weld.work.flatMap((item) => {
    if (item.task === 'hold' || item.layer === 1) return [];
    const looks = Math.max(1, Math.ceil(Math.abs(item.toS - item.fromS) / LOOK));
    const step = (item.toS - item.fromS) / looks;
    let falls = 0;
    for (let i = 0; i < looks; i++) {
      const [from, to] = [height(item.fromS + i * step), height(item.fromS + (i + 1) * step)];
      if (to - from < -STEEP * Math.abs(step)) falls += Math.abs(step);
    }
    return falls > BORNE ? [item] : [];
  });
}
