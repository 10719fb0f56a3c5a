import type { HullSpec } from '../../../geometry/hull/spec.ts';
import type { Job } from '../../job/types.ts';
import { openFiles } from './held.ts';
import type { PlanRequest } from './protocol.ts';

let known: { readonly written: string; readonly spec: HullSpec } | undefined;

/** The job of a request with its files read, or why there is none. The same hull as last time is the same object: its shell is not built again. */
export async function liveJob(
  request: Pick<PlanRequest, 'text' | 'files'>,
): Promise<Job | { readonly reason: string }> {
  const reading = await openFiles(request);
  if (!reading.ok) {
    const [first] = reading.faults;
    return { reason: first === undefined ? 'the job cannot be read' : `${first.path}: ${first.found}` };
  }
  const { job } = reading;
  const written = JSON.stringify(job.ship.hull);
  if (known?.written !== written) known = { written, spec: job.ship.hull };
  return { ...job, ship: { ...job.ship, hull: known.spec } };
}
