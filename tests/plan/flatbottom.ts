import type { Vec3 } from '../../geometry/math/vec.ts';
import type { Structure } from '../../src/job/structuretypes.ts';
import type { Fitting, Job } from '../../src/job/types.ts';
import { sample } from './movement/jobs.ts';

/** What a job on a flat bottom may be given besides its lug. mm, N, rad. */
export interface OnFlat {
  readonly structure?: Partial<Structure>;
  readonly seamClear?: number;
  readonly fitting?: Partial<Fitting>;
  readonly toward?: Vec3;
}

/**
 * A lug on a bottom that is flat and level, where everything about it is plain geometry: girth is y, the stem points straight down, a
 * foot at heading 0 runs along the ship. Foot 300 x 30 mm, leg 12 mm, at station 6000, girth 2000, port.
 */
export function flatJob({ structure, seamClear, fitting, toward = [6000, 2000, -5000] }: OnFlat = {}): Job {
  const job = sample('a-plumb-lug-rounded-bottom');
  const { behind: _, ...first } = job.fittings[0] as Fitting;
  return {
    ...job,
    ship: {
      ...job.ship,
      draftAft: 3000,
      draftForward: 3000,
      heel: 0,
      hull: { kind: 'segments', start: { y: 0, z: 0 }, path: [{ to: { y: 6000, z: 0 } }] },
      ...(structure === undefined
        ? {}
        : { structure: { frames: [], longitudinals: [], seams: [], keepClear: [], ...structure } }),
    },
    limits: { ...job.limits, ...(seamClear === undefined ? {} : { seamClear }) },
    fittings: [
      {
        ...first,
        at: { station: 6000, side: 'port', by: 'girth', value: 2000 },
        lug: { ...first.lug, foot: 300, thickness: 30 },
        stem: { kind: 'normal' },
        heading: 0,
        weld: { leg: 12 },
        load: { toward, force: 50e3 },
        ...fitting,
      },
    ],
  };
}
