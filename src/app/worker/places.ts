import { frameAt } from '../../../geometry/align/stem.ts';
import { upOf } from '../../../geometry/hull/attitude.ts';
import type { HullSide, Shell } from '../../../geometry/hull/shell.ts';
import { toShip } from '../../../geometry/lug/frame.ts';
import { clampUnit, dot, length, type Vec3 } from '../../../geometry/math/vec.ts';
import { Refusal, unlessRefused } from '../../../geometry/refusal.ts';
import { showPhrase } from '../../job/show.ts';
import type { Fitting, Job } from '../../job/types.ts';
import { bestStanceSteps, placeGridOf, placeMapOf, stanceGridOf, stanceMapOf } from '../../plan/movement/ask.ts';
import type { MapBatch, MapGrid, Spot } from '../../plan/movement/map.ts';
import { type PullCase, pullAt } from '../../plan/movement/pulls.ts';
import { stanceNow, standsWithin } from '../../plan/movement/stance.ts';
import { pullsOf } from '../../plan/movement/stances.ts';
import { shellOf } from '../../plan/plan.ts';
import type {
  BestAsk,
  BestEnd,
  BestLug,
  MapAsk,
  MapEnd,
  MapSkin,
  MapSpot,
  MapStep,
  StanceFigures,
} from '../places/kinds.ts';
import { asStanding } from '../places/writing.ts';
import { liveJob } from './livejob.ts';
import { sample } from './sample.ts';
import type { Share } from './slowwork.ts';

/** Limits of a spot that are told: the one that binds, and what comes after it. */
const TOLD = 4;

/** Maps where a lug may go, or how it may stand: the axes, then what is known of it, coarse first, and the shell to paint it on. */
export async function* mapWork(ask: MapAsk): AsyncGenerator<MapStep, MapEnd, undefined> {
  const job = await liveJob(ask.request);
  if ('reason' in job) return { kind: 'refused', reason: job.reason };
  try {
    return yield* mapOf(job, ask);
  } catch (error) {
    if (error instanceof Refusal) return { kind: 'refused', reason: showPhrase(error.found, job.display) };
    throw error;
  }
}

function* mapOf(
  job: Job,
  { fitting: index, over, reach, columns, rows, keep }: MapAsk,
): Generator<MapStep, MapEnd, undefined> {
  const fitting = job.fittings[index] as Fitting;
  const { side } = fitting.at;
  const shell = shellOf(job.ship.hull);
  const grid =
    keep ??
    (over === 'place' ? placeGridOf({ job }, index, reach, columns, rows) : stanceGridOf({ job }, columns, rows));
  yield { kind: 'grid', grid, side };
  const batches: Generator<MapBatch, void, undefined> =
    over === 'place' ? placeMapOf({ job }, index, grid) : stanceMapOf({ job }, index, grid);
  let skinned = over === 'stance';
  let coarsest: number | undefined;
  for (const { stride, spots, done } of batches) {
    coarsest ??= stride;
    yield {
      kind: 'spots',
      stride,
      spots: spots.map((spot) => told(spot, over === 'place' ? shell : undefined, side)),
      done,
    };
    if (skinned || stride === coarsest) continue;
    skinned = true;
    yield { kind: 'skin', skin: skinOf(shell, side, grid) };
  }
  if (!skinned) yield { kind: 'skin', skin: skinOf(shell, side, grid) };
  return { kind: 'mapped' };
}

function told({ stem, verdict, ...rest }: Spot, shell: Shell | undefined, side: HullSide): MapSpot {
  return {
    ...rest,
    lean: shell === undefined && stem.kind === 'lean' ? stem.angle : null,
    verdict: verdict.kind === 'stands' ? { ...verdict, limits: verdict.limits.slice(0, TOLD) } : verdict,
    point: shell === undefined ? null : pointOf(shell, rest.station, rest.girth, side),
  };
}

const pointOf = (shell: Shell, station: number, girth: number, side: HullSide): Vec3 | null =>
  unlessRefused(() => shell.pointAt(station, girth, side).position) ?? null;

/** mm. Points of the painted shell are not farther apart than this, where that takes no more of them than `MOST`. */
const FINE = 40;
const MOST = 70;
/** mm off the shell, so that paint and steel are not drawn into one another. */
const COAT = 2;

/** The shell under a map of places, as far as the outer edges of its outermost spots; beyond the data it stops at their edge. */
export function skinOf(shell: Shell, side: HullSide, grid: MapGrid): MapSkin {
  const [x, g] = [lattice(grid.columns), lattice(grid.rows)];
  const origin = sample(shell, mid(grid.columns), mid(grid.rows), side).position;
  const positions: number[] = [];
  const share: number[] = [];
  for (const station of x.at) {
    const inside = Math.min(Math.max(station, shell.stations.from), shell.stations.to);
    for (const girth of g.at) {
      const p = sample(shell, inside, girth, side);
      for (let k = 0; k < 3; k++)
        positions.push((p.position[k] as number) + COAT * (p.normal[k] as number) - (origin[k] as number));
      share.push((inside - x.from) / (x.to - x.from), (p.girth - g.from) / (g.to - g.from));
    }
  }
  const index: number[] = [];
  const n = g.at.length;
  for (let i = 0; i + 1 < x.at.length; i++)
    for (let k = 0; k + 1 < n; k++) {
      const [a, b, c, d] = [i * n + k, (i + 1) * n + k, (i + 1) * n + k + 1, i * n + k + 1];
      // Seen from the water the corners go round to the left on one side of the ship and to the right on the other.
      if (side === 'port') index.push(a, c, b, a, d, c);
      else index.push(a, b, c, a, c, d);
    }
  return {
    origin,
    positions: Float32Array.from(positions),
    share: Float32Array.from(share),
    index: Uint32Array.from(index),
  };
}

const mid = (list: readonly number[]): number => ((list[0] ?? 0) + (list.at(-1) ?? 0)) / 2;

/** From the outer edge of the first spot to that of the last. */
function lattice(list: readonly number[]): {
  readonly at: readonly number[];
  readonly from: number;
  readonly to: number;
} {
  const step = list.length > 1 ? ((list.at(-1) as number) - (list[0] as number)) / (list.length - 1) : 1;
  const from = (list[0] as number) - step / 2;
  const to = (list.at(-1) as number) + step / 2;
  const count = Math.max(1, Math.min(MOST, Math.ceil((to - from) / FINE)));
  return { at: Array.from({ length: count + 1 }, (_, i) => from + ((to - from) * i) / count), from, to };
}

/** Looks for the stance that makes the sideways pull least, writes it into the job file, and tells what the file so written comes to. */
export async function* bestWork(ask: BestAsk): AsyncGenerator<Share, BestEnd, undefined> {
  const job = await liveJob(ask.request);
  if ('reason' in job) return { kind: 'refused', reason: job.reason };
  try {
    return yield* bestOf(job, ask);
  } catch (error) {
    if (error instanceof Refusal) return { kind: 'refused', reason: showPhrase(error.found, job.display) };
    throw error;
  }
}

async function* bestOf(job: Job, { request, ids, freedom }: BestAsk): AsyncGenerator<Share, BestEnd, undefined> {
  const best = yield* bestStanceSteps({ job }, ids, freedom);
  const shell = shellOf(job.ship.hull);
  const up = upOf(job.ship);
  const asked = (of: Job): readonly number[] => ids.map((id) => of.fittings.findIndex((f) => f.id === id));
  const before = figuresOf(job, asked(job), shell, up);
  const wanted = figuresOf(best.job, asked(best.job), shell, up);
  const stands = (of: Job): boolean => asked(of).every((i) => standsWithin(of, of.fittings[i] as Fitting, shell, up));
  const exact = stands(best.job);
  // What is written is rounded to what a yard sets out by, and finer only where the rounding would cost the stance its limits.
  let text = request.text;
  let after = wanted;
  for (const fineness of ['yard', 'fine'] as const) {
    text = asStanding(request.text, job, best.job, asked(job), shell, freedom, fineness);
    const written = await liveJob({ ...request, text });
    if ('reason' in written) return { kind: 'refused', reason: written.reason };
    after = figuresOf(written, asked(written), shell, up);
    const worse = Math.max(...after.map((f, i) => f.share - (wanted[i] as StanceFigures).share));
    if ((stands(written) || !exact) && worse <= ALIKE) break;
  }
  const lugs = best.lugs.map(({ id, result }, i): BestLug => {
    if (!result.found) return { id, found: false, reason: result.reason };
    const now = after[i] as StanceFigures;
    return {
      id,
      found: true,
      reason: result.reason,
      before: before[i] as StanceFigures,
      after: now,
      saves: now.share <= job.limits.sidewaysShare,
    };
  });
  return { kind: 'looked', text, lugs };
}

/** Share of the pull sideways by which a written stance may be worse than the one that was found. */
const ALIKE = 2e-3;

/** How lugs of a job stand, and the most sideways of their pulls. Throws `Refusal` as planning them would. */
function figuresOf(job: Job, indices: readonly number[], shell: Shell, up: Vec3): StanceFigures[] {
  const pulls = pullsOf(job, shell, up);
  return indices.map((i) => {
    const fitting = job.fittings[i] as Fitting;
    const { heading, lean, station, girth, sideways, share, worst } = stanceNow(
      job,
      fitting,
      shell,
      up,
      pulls[i] as PullCase[],
    );
    const place = shell.pointAt(station, girth, fitting.at.side);
    const frame = frameAt(place, heading, fitting.stem, fitting.load, up, job.limits.stemToShell);
    const pull = pullAt(worst, toShip(frame, 0, fitting.lug.pinHeight, 0));
    const force = length(pull);
    const offPlane = force > 0 ? Math.asin(clampUnit(Math.abs(dot(pull, frame.face)) / force)) : 0;
    return { heading, lean, station, girth, sideways, share, offPlane, force, state: worst.state, push: worst.push };
  });
}
