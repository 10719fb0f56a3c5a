import { readFileSync } from 'node:fs';
import { readJob } from '../../../src/job/read.ts';
import type { Job } from '../../../src/job/types.ts';

/** A sample of the project as a job; `change` may alter the file first. */
// biome-ignore lint/suspicious/noExplicitAny: a test takes files apart at will
export function sample(name: string, change: (job: any) => void = () => undefined): Job {
  const folder = new URL(`../../../samples/${name}/`, import.meta.url);
  const raw = JSON.parse(readFileSync(new URL('job.json', folder), 'utf8'));
  change(raw);
  const reading = readJob(JSON.stringify(raw), (file) => readFileSync(new URL(file, folder), 'utf8'));
  if (!reading.ok) throw new Error(JSON.stringify(reading.faults));
  return reading.job;
}
