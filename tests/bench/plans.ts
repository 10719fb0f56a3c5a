import type { Job } from '../../src/job/types.ts';
import { planJob } from '../../src/plan/plan.ts';
import { exampleJobs, loftJob, type NamedJob, sampleJobs } from './jobs.ts';
import { race } from './race.ts';
import type { Row } from './table.ts';

/** Wanted of one fitting, ms: on lines and arcs, and on the loft. */
const ON_SEGMENTS = 1;
const ON_LOFT = 5;
const PLANS = 10_000;
/** Bytes of growth a plan that are the compiler's own, not a leak: a plan itself takes hundreds of times as much. */
const LEAK = 200;

/** Complete plans, warm, by fitting. */
export function plans(): Row[] {
  const group = 'One fitting planned completely, warm';
  const jobs = [...sampleJobs(), loftJob(), ...exampleJobs()];
  const results = race(
    jobs.map(
      ({ job }) =>
        () =>
          planJob(job).fittings.length,
    ),
  );
  return jobs.map(({ name, job }, i): Row => {
    const { median, least } = results[i] as (typeof results)[number];
    const n = job.fittings.length;
    const row: Row = { group, what: name, value: median / n, least: least / n, unit: 'ms' };
    // A movement is a sweep over many loads: more than one fitting planned.
    return job.lift === undefined ? { ...row, wanted: { most: mostFor(job) } } : { ...row, note: 'with its movement' };
  });
}

const mostFor = ({ ship }: Job): number =>
  ship.hull.kind === 'segments' || ship.hull.kind === 'spline' ? ON_SEGMENTS : ON_LOFT;

/** The heap over 10,000 plans: of the first sample, and on the loft. */
export const memory = (): Row[] => [...heapOver(sampleJobs()[0] as NamedJob), ...heapOver(loftJob())];

/** Heap after collection at 1,000 and at 10,000 plans, no two alike, each hundredth on a hull read anew. */
function heapOver(named: NamedJob): Row[] {
  const group = `Memory over ${PLANS.toLocaleString('en')} plans`;
  const collect = globalThis.gc;
  if (collect === undefined)
    return [{ group, what: named.name, value: Number.NaN, unit: 'MB', note: 'needs --expose-gc' }];
  let job = named.again();
  let at1000 = 0;
  for (let k = 1; k <= PLANS; k++) {
    if (k % 100 === 0) job = named.again();
    planJob(moved(job, k));
    if (k === 1000 || k === PLANS) {
      collect();
      if (k === 1000) at1000 = process.memoryUsage().heapUsed;
    }
  }
  const at10000 = process.memoryUsage().heapUsed;
  const MB = 2 ** 20;
  return [
    { group, what: `${named.name}: heap at 1,000`, value: at1000 / MB, unit: 'MB' },
    { group, what: `${named.name}: heap at 10,000`, value: at10000 / MB, unit: 'MB' },
    {
      group,
      what: `${named.name}: growth a plan`,
      value: (at10000 - at1000) / (PLANS - 1000),
      unit: 'bytes',
      wanted: { most: LEAK },
    },
  ];
}

/** The job with its fittings a little elsewhere and turned a little: up to 0.5 m along the ship, 6 degrees of heading. */
function moved(job: Job, k: number): Job {
  const share = (k * 0.6180339887498949) % 1;
  return {
    ...job,
    fittings: job.fittings.map((f) => ({
      ...f,
      at: { ...f.at, station: f.at.station + 500 * share },
      heading: f.heading + 0.1 * share,
    })),
  };
}
