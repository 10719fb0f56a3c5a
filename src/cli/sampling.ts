import type { Job } from '../job/types.ts';
import { planJob } from '../plan/plan.ts';
import type { Plan } from '../plan/types.ts';
import { SAMPLES, SEED, sampleFigures, uncertaintyFrom, worthSampling } from '../plan/uncertainty.ts';

/** A share of the samples for another thread, and what it gives back. */
export interface SampleShare {
  readonly job: Job;
  readonly seed: number;
  readonly from: number;
  readonly to: number;
}

export type Threads = {
  /** How many may run beside this one. */
  readonly count: number;
  run(share: SampleShare): Promise<Float64Array>;
};

/** Samples that tell how long the rest will take; ms beyond which other threads are worth starting. */
const TRIAL = 100;
const WORTH = 1500;

/** The figures of a share, in whatever thread. */
export const figuresOf = ({ job, seed, from, to }: SampleShare): Float64Array =>
  sampleFigures(planJob(job), seed, from, to);

/** The plan with what its readings' errors do to it; the plan itself where there is nothing to sample. */
export async function withUncertainty(plan: Plan, threads: Threads | undefined): Promise<Plan> {
  const { job } = plan;
  if (!worthSampling(plan)) return plan;
  const samples = SAMPLES;
  const start = performance.now();
  const first = sampleFigures(plan, SEED, 0, TRIAL);
  const rest = ((performance.now() - start) / TRIAL) * (samples - TRIAL);
  const parts = [first];
  if (threads === undefined || threads.count < 1 || rest < WORTH) parts.push(sampleFigures(plan, SEED, TRIAL, samples));
  else {
    const shares = threads.count + 1;
    const edge = (k: number) => TRIAL + Math.round(((samples - TRIAL) * k) / shares);
    const others = Array.from({ length: threads.count }, (_, k) =>
      threads.run({ job, seed: SEED, from: edge(k), to: edge(k + 1) }),
    );
    // Let them start before this thread is busy with its own share.
    await new Promise((resolve) => setTimeout(resolve, 0));
    const own = sampleFigures(plan, SEED, edge(threads.count), samples);
    parts.push(...(await Promise.all(others)), own);
  }
  const figures = new Float64Array(parts.reduce((n, p) => n + p.length, 0));
  let at = 0;
  for (const part of parts) {
    figures.set(part, at);
    at += part.length;
  }
  return { ...plan, uncertainty: uncertaintyFrom(plan, SEED, figures) };
}
