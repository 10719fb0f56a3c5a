import { upOf } from '../../geometry/hull/attitude.ts';
import { draftNotes } from '../../geometry/hull/draftmarks.ts';
import { shellFrom } from '../../geometry/hull/from.ts';
import type { Shell } from '../../geometry/hull/shell.ts';
import type { HullSpec } from '../../geometry/hull/spec.ts';
import { Refusal } from '../../geometry/refusal.ts';
import type { Job } from '../job/types.ts';
import { behindNotes } from './behindnotes.ts';
import { compareSources } from './compare.ts';
import type { SourceComparison } from './comparison.ts';
import { planFitting } from './fitting.ts';
import { planLift } from './movement/lift.ts';
import { withPullsOfLift } from './movement/ownpull.ts';
import { type PlanFault, PlanRefused } from './refused.ts';
import { strengthAssumptions } from './strength.ts';
import { tracesOn } from './structure.ts';
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

export { upOf };

/**
 * The plan of a job: a pure function. A limit that is broken is a failed check in the plan. Throws `PlanRefused` with
 * every reason, each with the path of its field, where the job cannot be computed on.
 */
export function planJob(given: Job): Plan {
  const up = upOf(given.ship);
  const faults: PlanFault[] = [];
  const refused = (e: unknown, prefix: string): void => {
    if (!(e instanceof Refusal)) throw e;
    faults.push({ path: `${prefix}${e.field}`, found: e.found, expected: e.expected });
  };
  let shell: Shell;
  try {
    shell = shellOf(given.ship.hull);
  } catch (e) {
    refused(e, 'ship.');
    throw new PlanRefused(faults);
  }
  const { job, taken, refused: pullless } = withPullsOfLift(given, shell, up);
  for (const [i, e] of pullless) refused(e, `fittings[${i}].`);
  const fittings: FittingPlan[] = [];
  job.fittings.forEach((fitting, i) => {
    try {
      fittings.push(planFitting(job, fitting, shell, up));
    } catch (e) {
      refused(e, `fittings[${i}].`);
    }
  });
  let compare: SourceComparison[] = [];
  try {
    compare = compareSources(job, fittings, shell);
  } catch (e) {
    refused(e, 'ship.');
  }
  if (faults.length > 0) throw new PlanRefused(faults);
  const lift = job.lift === undefined ? null : planLift(job, job.lift, fittings, shell, up);
  return {
    job,
    up,
    trim: Math.atan((job.ship.draftAft - job.ship.draftForward) / job.ship.lpp),
    fittings,
    compare,
    lift,
    assumptions: [...job.assumptions, ...taken, ...strengthAssumptions(job), ...weldAssumptions(job)],
    hullNotes: [
      ...(job.ship.draftMarks === undefined ? [] : draftNotes(job.ship.draftMarks.marks, job.ship.draftMarks)),
      ...shell.notes,
      ...tracesOn(shell, job.ship.structure).notes,
      ...fittings.flatMap((f) => f.anchor.notes ?? []),
      ...behindNotes(job, fittings),
    ],
    pass: fittings.every((f) => f.pass) && (lift === null || lift.pass),
  };
}
