import type { Job } from '../../job/types.ts';
import { planJob } from '../../plan/plan.ts';
import { PlanRefused } from '../../plan/refused.ts';
import type { Plan } from '../../plan/types.ts';
import type { JobFile } from '../store/heldfile.ts';
import { openFiles } from './held.ts';
import type { PlanRequest } from './protocol.ts';

let last: { readonly request: Pick<PlanRequest, 'text' | 'files'>; readonly plan: Plan | undefined } | undefined;

/** The plan of a job with everything in it, for slow work; nothing where the job cannot be planned. Kept until the job changes. */
export async function livePlan(request: PlanRequest): Promise<Plan | undefined> {
  const { text, files } = request;
  if (last !== undefined && last.request.text === text && sameFiles(last.request.files, files)) return last.plan;
  const plan = await planned(request);
  last = { request: { text, files }, plan };
  return plan;
}

async function planned(request: PlanRequest): Promise<Plan | undefined> {
  const reading = await openFiles(request);
  return reading.ok ? planUnlessRefused(reading.job) : undefined;
}

/** The plan of a job; nothing where it cannot be planned. */
export function planUnlessRefused(job: Job): Plan | undefined {
  try {
    return planJob(job);
  } catch (error) {
    if (error instanceof PlanRefused) return undefined;
    throw error;
  }
}

function sameFiles(a: PlanRequest['files'], b: PlanRequest['files']): boolean {
  const names = Object.keys(a);
  return names.length === Object.keys(b).length && names.every((name) => same(a[name], b[name]));
}

/** Bytes come over anew with every message: their key tells whether they are the same. */
const same = (a: JobFile | undefined, b: JobFile | undefined): boolean =>
  typeof a === 'object' && typeof b === 'object' ? a.key === b.key : a === b;
