import type { HullSpec } from '../../geometry/hull/spec.ts';
import { readJob } from '../../src/job/read.ts';
import type { Fitting, Job, Ship } from '../../src/job/types.ts';
import { planJob } from '../../src/plan/plan.ts';
import type { FittingPlan } from '../../src/plan/types.ts';
import { LUG } from '../geometry/lugs.ts';
import { plainJob } from '../job/jobs.ts';

/* Jobs of invented ships, already read: mm, N, rad, everything that a test does not name at its default. */

function defaults(): Job {
  const reading = readJob(JSON.stringify(plainJob()), () => undefined);
  if (!reading.ok) throw new Error(JSON.stringify(reading.faults));
  return reading.job;
}
const DEFAULTS = defaults();

export interface FittingChange {
  readonly at?: Partial<Fitting['at']>;
  readonly lug?: Partial<Fitting['lug']>;
  readonly stem?: Fitting['stem'];
  readonly heading?: number;
  readonly load?: Fitting['load'];
}

export const LEVEL_SHIP = { lpp: 60_000, draftAft: 4000, draftForward: 4000, heel: 0 } as const;

/** At station 10 m, 1 m of girth to port, stem along the normal, foot fore and aft, pulled down with 100 kN; ship level. */
export function jobOn(hull: HullSpec, change: FittingChange = {}, ship: Partial<Omit<Ship, 'hull'>> = {}): Job {
  const fitting = DEFAULTS.fittings[0] as Fitting;
  return {
    ...DEFAULTS,
    ship: { ...LEVEL_SHIP, ...ship, hull },
    fittings: [
      {
        ...fitting,
        at: { station: 10_000, side: 'port', by: 'girth', value: 1000, ...change.at },
        lug: { ...LUG, ...change.lug },
        stem: change.stem ?? { kind: 'normal' },
        heading: change.heading ?? 0,
        load: change.load ?? { direction: [0, 0, -1], force: 100_000 },
      },
    ],
  };
}

export function planOn(...of: Parameters<typeof jobOn>): FittingPlan {
  return planJob(jobOn(...of)).fittings[0] as FittingPlan;
}
