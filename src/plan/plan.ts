import { shellFrom } from '../../geometry/hull/from.ts';
import type { Shell } from '../../geometry/hull/shell.ts';
import type { HullSpec } from '../../geometry/hull/spec.ts';
import { normalize, type Vec3 } from '../../geometry/math/vec.ts';
import { Refusal } from '../../geometry/refusal.ts';
import type { Job, Ship } from '../job/types.ts';
import { planFitting } from './fitting.ts';
import { type PlanFault, PlanRefused } from './refused.ts';
import { strengthAssumptions } from './strength.ts';
import type { FittingPlan, Plan } from './types.ts';
import { weldAssumptions } from './weld.ts';

/** Shells by hull: the same hull object gives the same shell, so that replanning a moved lug does not build it anew. */
const shells = new WeakMap<HullSpec, Shell>();

/** The shell of a job's hull, made once per hull object. Throws `Refusal` where the data makes no surface. */
export function shellOf(hull: HullSpec): Shell {
  let shell = shells.get(hull);
  if (!shell) {
    shell = shellFrom(hull);
    shells.set(hull, shell);
  }
  return shell;
}

/** Unit normal of the water plane in ship axes, pointing up: drafts in mm, heel in rad, starboard down positive. */
export function upOf(ship: Pick<Ship, 'lpp' | 'draftAft' | 'draftForward' | 'heel'>): Vec3 {
  return normalize([(ship.draftAft - ship.draftForward) / ship.lpp, Math.tan(ship.heel), 1]);
}

/**
 * The plan of a job: a pure function. A limit that is broken is a failed check in the plan. Throws `PlanRefused` with
 * every reason, each with the path of its field, where the job cannot be computed on.
 */
export function planJob(job: Job): Plan {
  const up = upOf(job.ship);
  const faults: PlanFault[] = [];
  const refused = (e: unknown, prefix: string): void => {
    if (!(e instanceof Refusal)) throw e;
    faults.push({ path: `${prefix}${e.field}`, found: e.found, expected: e.expected });
  };
  let shell: Shell;
  try {
    shell = shellOf(job.ship.hull);
  } catch (e) {
    refused(e, 'ship.');
    throw new PlanRefused(faults);
  }
  const fittings: FittingPlan[] = [];
  job.fittings.forEach((fitting, i) => {
    try {
      fittings.push(planFitting(job, fitting, shell, up));
    } catch (e) {
      refused(e, `fittings[${i}].`);
    }
  });
  if (faults.length > 0) throw new PlanRefused(faults);
  return {
    job,
    up,
    trim: Math.atan((job.ship.draftAft - job.ship.draftForward) / job.ship.lpp),
    fittings,
    assumptions: [...job.assumptions, ...strengthAssumptions(job), ...weldAssumptions(job)],
    hullNotes: shell.notes,
    pass: fittings.every((f) => f.pass),
  };
}
