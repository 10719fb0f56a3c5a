import type { Job } from '../../src/job/types.ts';
import { planLift } from '../../src/plan/movement/lift.ts';
import { evenly, placeMap } from '../../src/plan/movement/map.ts';
import type { PullCase } from '../../src/plan/movement/pulls.ts';
import { bestStances, pullsOf } from '../../src/plan/movement/stances.ts';
import { planJob, shellOf } from '../../src/plan/plan.ts';
import type { FittingPlan } from '../../src/plan/types.ts';
import { equilibrium } from '../../src/rigging/equilibrium.ts';
import { type HungSystem, hungSystem } from '../../src/rigging/system.ts';
import { sampleJobs } from './jobs.ts';
import { type RaceResult, race } from './race.ts';
import type { Row } from './table.ts';

/** States of the long movement. */
const STATES = 200;
const COLUMNS = 60;
const ROWS = 40;

/** The movement of the load: one equilibrium, a long sweep over three lugs, the best stance, the map of places. */
export function movement(): Row[] {
  const group = 'Movement of the load, three lugs';
  const found = sampleJobs().find(({ job }) => job.lift !== undefined && job.fittings.length >= 3);
  if (found === undefined) throw new Error('no sample has a movement on three lugs');
  const { job } = found;
  const plan = planJob(job);
  const shell = shellOf(job.ship.hull);
  const { up } = plan;
  const still = longMovement(job);
  const sweep = () => {
    const lift = planLift(still, still.lift as NonNullable<Job['lift']>, plan.fittings, shell, up);
    return lift.lugs.reduce((sum, lug) => sum + lug.checks.length, 1000 * lift.states.length);
  };
  const states = Math.floor(sweep() / 1000);
  const stance =
    (reach: number, together = 1) =>
    () => {
      const freedom = { heading: true, lean: true, girth: reach, station: reach };
      const ids = job.fittings.slice(0, together).map(({ id }) => id);
      const { lugs } = bestStances(job, ids, shell, up, freedom);
      return lugs.reduce((sum, { result }) => sum + (result.found ? result.best.sideways : 0), 0);
    };
  const first = plan.fittings[0] as FittingPlan;
  const cases = pullsOf(job, shell, up)[0] as PullCase[];
  const spots = (stop: number) => () => {
    const { station } = first.input.at;
    const grid = {
      columns: evenly(station - 1500, station + 1500, COLUMNS),
      rows: evenly(0.2 * first.anchor.girth, 4 * first.anchor.girth, ROWS),
    };
    let count = 0;
    for (const batch of placeMap(job, first.input, shell, up, cases, grid)) {
      count += batch.spots.length;
      if (count >= stop) break;
    }
    return count;
  };
  const [rest] = race([warm(plan.lift?.lines ?? [], plan.lift?.load, up)]) as [RaceResult];
  const [swept] = race([sweep], { rounds: 5 }) as [RaceResult];
  const [turned] = race([stance(0)], { rounds: 3 }) as [RaceResult];
  const [moved] = race([stance(300)], { rounds: 3 }) as [RaceResult];
  const [both] = race([stance(300, 2)], { rounds: 3 }) as [RaceResult];
  const [map] = race([spots(COLUMNS * ROWS)], { rounds: 3 }) as [RaceResult];
  const [coarse] = race([spots(1)], { rounds: 5 }) as [RaceResult];
  const ms = ({ median, least }: RaceResult) => ({ value: median, least, unit: 'ms' as const });
  return [
    { group, what: 'one equilibrium, from a pose near by', ...ms(rest), wanted: { most: 1 } },
    { group, what: `sweep of ${states} states, all checks`, ...ms(swept), wanted: { most: 1000 } },
    { group, what: 'best heading and lean of one lug', ...ms(turned), wanted: { most: 2000 } },
    { group, what: 'best heading, lean and place of one lug', ...ms(moved), wanted: { most: 2000 } },
    { group, what: 'best heading, lean and place of two lugs together', ...ms(both) },
    { group, what: `map of ${COLUMNS} x ${ROWS} places, one core`, ...ms(map), wanted: { most: 3000 } },
    { group, what: 'first coarse picture of the map', ...ms(coarse), wanted: { most: 300 } },
  ];
}

/** The job with its movement cut into many more states, and no pushes. */
function longMovement(job: Job): Job {
  const lift = job.lift as NonNullable<Job['lift']>;
  const walks = lift.steps.filter((step) => step.kind === 'walk').length;
  // The first walk hangs the load up and is one state; every set of lengths is one.
  const parts = Math.floor((STATES - 1 - (lift.steps.length - walks)) / (walks - 1));
  return {
    ...job,
    lift: {
      ...lift,
      pushes: [],
      steps: lift.steps.map((step) => (step.kind === 'walk' ? { ...step, parts } : { ...step, parts: 1 })),
    },
  };
}

/** Lengths that change a little each time, each pose the start of the next. */
function warm(lines: HungSystem['lines'], load: HungSystem['load'] | undefined, up: HungSystem['up']): () => number {
  if (load === undefined) throw new Error('no load');
  const system = hungSystem(load, lines, up);
  let pose = { centre: load.centre, turn: [1, 0, 0, 0] as const } as Parameters<typeof equilibrium>[2];
  let t = 0;
  return () => {
    t += 0.01;
    const result = equilibrium(system, [1500 + 300 * Math.sin(t), 1500 + 300 * Math.cos(t), 3500], pose);
    if (!result.found) throw new Error(result.why);
    pose = result.equilibrium.pose;
    return result.equilibrium.residual;
  };
}
