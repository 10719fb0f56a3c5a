import { readJob } from '../../job/read.ts';
import { planJob } from '../../plan/plan.ts';
import { PlanRefused } from '../../plan/refused.ts';
import type { Plan } from '../../plan/types.ts';
import type { PlanRequest } from './protocol.ts';

let last: { readonly request: Pick<PlanRequest, 'text' | 'files'>; readonly plan: Plan | undefined } | undefined;

/** The plan of a job with everything in it, for slow work; nothing where the job cannot be planned. Kept until the job changes. */
export async function livePlan(request: PlanRequest): Promise<Plan | undefined> {
  const { text, files } = request;
  if (last !== undefined && last.request.text === text && sameFiles(last.request.files, files)) return last.plan;
  const plan = planned(request);
  last = { request: { text, files }, plan };
  return plan;
}

function planned(request: PlanRequest): Plan | undefined {
  const reading = readJob(request.text, (name) =>
    Object.hasOwn(request.files, name) ? request.files[name] : undefined,
  );
  if (!reading.ok) return undefined;
  try {
    return planJob(reading.job);
  } catch (error) {
    if (error instanceof PlanRefused) return undefined;
    throw error;
  }
}

function sameFiles(a: PlanRequest['files'], b: PlanRequest['files']): boolean {
  const names = Object.keys(a);
  return names.length === Object.keys(b).length && names.every((name) => a[name] === b[name]);
}
