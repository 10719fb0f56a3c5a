import { upOf } from '../../../geometry/hull/attitude.ts';
import type { HullSide, Shell } from '../../../geometry/hull/shell.ts';
import type { Vec3 } from '../../../geometry/math/vec.ts';
import type { Fitting, Job } from '../../job/types.ts';
import { shellOf } from '../plan.ts';
import { placeOfFitting } from '../structure.ts';
import { evenly, type MapBatch, type MapGrid, placeMap, stanceMap } from './map.ts';
import type { PullCase } from './pulls.ts';
import { type BestStances, bestStances, pullsOf, stanceSteps } from './stances.ts';
import type { StanceFreedom } from './stancetypes.ts';

/*
 * The questions that may be put to a plan: where may this lug go, how may it stand, how does it stand best. A job is enough, so that a
 * thread of its own can answer. With a movement in the job a lug that carries a line of it is asked about all of its pulls; without
 * one, and for lugs that carry none, the pull is that in the fitting's own field. mm, rad, N; ship axes. They throw `Refusal`
 * where planning the lug as it stands would.
 */

/** A plan, or as much of one as there has to be. */
export interface Asked {
  readonly job: Job;
}

interface Ground {
  readonly fitting: Fitting;
  readonly shell: Shell;
  readonly up: Vec3;
  readonly cases: readonly PullCase[];
}

function groundOf({ job }: Asked, index: number): Ground {
  const fitting = job.fittings[index];
  if (fitting === undefined) throw new RangeError(`fitting ${index} of ${job.fittings.length}`);
  const shell = shellOf(job.ship.hull);
  const up = upOf(job.ship);
  return { fitting, shell, up, cases: pullsOf(job, shell, up)[index] as PullCase[] };
}

/** The map of places of one fitting: columns stations, rows girths, coarse first; see `placeMap`. Stop it by asking for no more. */
export function* placeMapOf(
  asked: Asked,
  fittingIndex: number,
  grid: MapGrid,
  side?: HullSide,
): Generator<MapBatch, void, undefined> {
  const { fitting, shell, up, cases } = groundOf(asked, fittingIndex);
  yield* placeMap(asked.job, fitting, shell, up, cases, grid, side ?? fitting.at.side);
}

/** The map of ways to stand of one fitting where it is: columns headings, rows leans of the stem from the normal; see `stanceMap`. */
export function* stanceMapOf(asked: Asked, fittingIndex: number, grid: MapGrid): Generator<MapBatch, void, undefined> {
  const { fitting, shell, up, cases } = groundOf(asked, fittingIndex);
  yield* stanceMap(asked.job, fitting, shell, up, cases, grid);
}

/** The best stance of the fittings of these ids together; see `bestStances`. */
export function bestStanceOf({ job }: Asked, ids: readonly string[], freedom: StanceFreedom): BestStances {
  return bestStances(job, ids, shellOf(job.ship.hull), upOf(job.ship), freedom);
}

/** The same step by step, so that it can be told how far it is, and stopped. */
export function* bestStanceSteps(
  { job }: Asked,
  ids: readonly string[],
  freedom: StanceFreedom,
): Generator<{ readonly done: number }, BestStances, undefined> {
  return yield* stanceSteps(job, ids, shellOf(job.ship.hull), upOf(job.ship), freedom);
}

/** How far round a lug a map of places goes, mm either way. */
export interface MapReach {
  readonly station: number;
  readonly girth: number;
}

/**
 * A grid of places round a fitting, as far as asked and the hull's data go: columns stations from aft forward, rows girths from the
 * centreline outward. The girth is that at the fitting's own station; spots off the data come back as such.
 */
export function placeGridOf(
  { job }: Asked,
  fittingIndex: number,
  reach: MapReach,
  columns: number,
  rows: number,
): MapGrid {
  const fitting = job.fittings[fittingIndex];
  if (fitting === undefined) throw new RangeError(`fitting ${fittingIndex} of ${job.fittings.length}`);
  const shell = shellOf(job.ship.hull);
  const { station, girth } = placeOfFitting(fitting, shell);
  const range = shell.girthRange(station);
  const within = (value: number, { from, to }: { readonly from: number; readonly to: number }): number =>
    Math.max(from, Math.min(to, value));
  return {
    columns: evenly(
      within(station - reach.station, shell.stations),
      within(station + reach.station, shell.stations),
      columns,
    ),
    rows: evenly(within(girth - reach.girth, range), within(girth + reach.girth, range), rows),
  };
}

/** A grid of ways to stand: headings over half a turn, the far end left out as it is the near one; leans as far as the job's limits go. */
export function stanceGridOf({ job }: Asked, columns: number, rows: number): MapGrid {
  const most = Math.min(job.limits.bevel, Math.PI / 2 - job.limits.stemToShell);
  return {
    columns: Array.from({ length: columns }, (_, i) => -Math.PI / 2 + (Math.PI * i) / columns),
    rows: evenly(-most, most, rows),
  };
}
