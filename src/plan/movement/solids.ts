import { type LugFrame, toShip } from '../../../geometry/lug/frame.ts';
import type { Lift } from '../../job/lifttypes.ts';
import type { Fitting, Job } from '../../job/types.ts';
import { clearanceOf, type Solid } from '../../rigging/solids.ts';

/** The keep-clear solids of a lift. */
export function solidsOf(lift: Pick<Lift, 'keepClear'>): Solid[] {
  return lift.keepClear.map(
    (s): Solid =>
      s.radius === undefined
        ? { kind: 'block', name: s.name, from: s.from, to: s.to }
        : { kind: 'bar', name: s.name, from: s.from, to: s.to, radius: s.radius },
  );
}

/**
 * True where a lug stays out of every keep-clear solid: its foot by half its thickness, its pin by the top's radius, and both by
 * `spare` mm more.
 */
export function clearOfSolids(job: Job, { lug }: Fitting, frame: LugFrame, spare = 0): boolean {
  if (job.lift === undefined || job.lift.keepClear.length === 0) return true;
  const foot = { from: toShip(frame, -lug.foot / 2, 0, 0), to: toShip(frame, lug.foot / 2, 0, 0) };
  const stem = { from: toShip(frame, 0, 0, 0), to: toShip(frame, 0, lug.pinHeight, 0) };
  return solidsOf(job.lift).every(
    (solid) => clearanceOf(foot, solid) > lug.thickness / 2 + spare && clearanceOf(stem, solid) > lug.topRadius + spare,
  );
}
