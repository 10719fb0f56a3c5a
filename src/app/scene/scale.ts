import type { Figure } from '../../../geometry/phrase.ts';
import type { Stance } from '../store/view.ts';
import type { ScreenFitting } from '../worker/protocol.ts';

/** What is painted along the root, as shares of a scale from nothing to `most`. */
export interface RootScale {
  readonly name: string;
  readonly shares: readonly number[];
  readonly most: Figure;
}

/** Bench and water: what is left open at the root after the cut. Desk: how much of its strength the weld uses. */
export function scaleOf(fitting: ScreenFitting, stance: Stance): RootScale {
  const { joint, fit, strength } = fitting;
  if (stance === 'desk') {
    const { utilisation } = strength.use;
    const most = Math.max(1, ...utilisation);
    return {
      name: "use of the weld's strength",
      shares: joint.points.map((_, i) => (utilisation[i] ?? 0) / most),
      most: { count: most, digits: 2 },
    };
  }
  const most = Math.max(fit.tolerance, ...joint.points.map((p) => p.opening));
  return {
    name: 'opening at the root after the cut',
    shares: joint.points.map((p) => p.opening / most),
    most: { mm: most },
  };
}
