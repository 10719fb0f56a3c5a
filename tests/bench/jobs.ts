import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { readJob } from '../../src/job/read.ts';
import type { Job } from '../../src/job/types.ts';
import { DRAFT, LENGTH, wigleySections } from './wigley.ts';

/** The project's folder: the bench is run from there. */
const project = process.cwd();
const samples = join(project, 'samples');
const examples = join(project, '..', 'shared', 'examples');

/** A job by name, read as the command line reads it. */
export interface NamedJob {
  readonly name: string;
  /** Text of the job file. */
  readonly text: string;
  readonly job: Job;
  /** Reads it anew: a job that shares nothing with `job`. */
  readonly again: () => Job;
}

function named(name: string, text: string, folder: string): NamedJob {
  const again = () => {
    const reading = readJob(text, (file) => readFileSync(join(folder, file), 'utf8'));
    if (!reading.ok) throw new Error(`${name}: ${reading.faults.map((f) => `${f.path}: ${f.found}`).join('; ')}`);
    return reading.job;
  };
  return { name, text, job: again(), again };
}

/** Job file of the first sample: the job of the whole-command bench. */
export const firstSampleFile = (): string => {
  const first = sampleFolders()[0];
  if (first === undefined) throw new Error('there are no samples');
  return join(samples, first, 'job.json');
};

function sampleFolders(): string[] {
  return readdirSync(samples)
    .filter((folder) => existsSync(join(samples, folder, 'job.json')))
    .sort();
}

export function sampleJobs(): NamedJob[] {
  return sampleFolders().map((folder) =>
    named(`sample ${folder}`, readFileSync(join(samples, folder, 'job.json'), 'utf8'), join(samples, folder)),
  );
}

/** The two jobs that lie beside the project, where they do. */
export function exampleJobs(): NamedJob[] {
  if (!existsSync(examples)) return [];
  return ['tern', 'heron'].map((name) =>
    named(`example ${name}`, readFileSync(join(examples, `${name}.job.json`), 'utf8'), examples),
  );
}

/** The first sample's lug on the loft of 41 stations x 17 points, plumb, under the turn of the section. */
export function loftJob(): NamedJob {
  const raw = JSON.parse(readFileSync(firstSampleFile(), 'utf8'));
  const sections = wigleySections().sections.map(({ station, points }) => ({
    station: `${station} mm`,
    points: points.map(({ y, z }) => ({ y: `${y} mm`, z: `${z} mm` })),
  }));
  raw.ship = { ...raw.ship, lpp: `${LENGTH} mm`, hull: { kind: 'sections', sections } };
  raw.fittings = [
    {
      ...raw.fittings[0],
      at: { station: `${0.3 * LENGTH} mm`, side: 'port', height: `${0.2 * DRAFT} mm` },
      load: { direction: [0.05, -0.02, -1], force: '100 kN' },
    },
  ];
  return named('loft of 41 x 17', JSON.stringify(raw), project);
}
