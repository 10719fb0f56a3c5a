import type { HullSpec } from '../../../geometry/hull/spec.ts';
import type { Job } from '../../job/types.ts';
import { openFiles } from './held.ts';
import type { PlanRequest } from './protocol.ts';

let known: { readonly written: string; readonly spec: HullSpec } | undefined;

/** The same hull as last time is the same object, so that its shell is not built again for every figure that changes. */
export function withKnownHull(job: Job): Job {
  const written = JSON.stringify(job.ship.hull);
  if (known?.written !== written) known = { written, spec: job.ship.hull };
  return { ...job, ship: { ...job.ship, hull: known.spec } };
}

/** The hull of the job last seen, as JSON. */
export const knownHull = (): string => known?.written ?? '';

/** The job of a request with its files read, or why there is none. */
export async function liveJob(
  request: Pick<PlanRequest, 'text' | 'files'>,
): Promise<Job | { readonly reason: string }> {
  const reading = await openFiles(request);
  if (!reading.ok) {
    const [first] = reading.faults;
    return { reason: first === undefined ? 'the job cannot be read' : `${first.path}: ${first.found}` };
  }
  return withKnownHull(reading.job);
}
