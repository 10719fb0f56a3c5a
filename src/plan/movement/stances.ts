import { frameAt } from '../../../geometry/align/stem.ts';
import type { Shell } from '../../../geometry/hull/shell.ts';
import { toShip } from '../../../geometry/lug/frame.ts';
import type { Vec3 } from '../../../geometry/math/vec.ts';
import { unlessRefused } from '../../../geometry/refusal.ts';
import type { Fitting, Job } from '../../job/types.ts';
import { placeOfFitting } from '../structure.ts';
import { liftCases } from './lift.ts';
import { type PullCase, pullCases } from './pulls.ts';
import { bestStance, stanceNow, standsWithin } from './stance.ts';
import type { StanceFreedom, StanceResult } from './stancetypes.ts';

/** Times that the movement is worked out anew after a lug has moved. */
const ROUNDS = 4;
/** Share of the pull below which no more is asked for. */
const NOTHING = 1e-3;

/** Where a fitting's pin is, ship axes, mm. Throws `Refusal` as planning the fitting would. */
export function pinOf(job: Job, fitting: Fitting, shell: Shell, up: Vec3): Vec3 {
  const { station, girth, side } = placeOfFitting(fitting, shell);
  const place = shell.pointAt(station, girth, side);
  const frame = frameAt(place, fitting.heading, fitting.stem, fitting.load, up, job.limits.stemToShell);
  return toShip(frame, 0, fitting.lug.pinHeight, 0);
}

/** The pulls on each fitting of a job as it stands: the movement worked out without hull and solids, which do not change a pull. */
export function pullsOf(job: Job, shell: Shell, up: Vec3): PullCase[][] {
  const { lift } = job;
  if (lift === undefined) return job.fittings.map((fitting) => pullCases(fitting, null, up));
  const pins = new Map(job.fittings.map((fitting) => [fitting.id, pinOf(job, fitting, shell, up)]));
  const moved = liftCases(lift, pins, up);
  return job.fittings.map((fitting) => pullCases(fitting, moved, up));
}

/** One lug of the stance that was looked for. */
export interface LugStance {
  readonly id: string;
  readonly result: StanceResult;
}

/**
 * The best stance of one lug or of several together, each with the same freedom, over the whole movement of the job: every lug in turn, the
 * movement worked out anew with the pins where they then are, until none gets better. `job` in the answer is the one in which they stand so.
 * Figures before and after are those of the movement itself.
 */
export function bestStances(
  job: Job,
  ids: readonly string[],
  shell: Shell,
  up: Vec3,
  freedom: StanceFreedom,
): BestStances {
  const steps = stanceSteps(job, ids, shell, up, freedom);
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
}

/** The answer of `bestStances`: the job in which the lugs stand so, and what each comes to, in the order asked for. */
export interface BestStances {
  readonly job: Job;
  readonly lugs: readonly LugStance[];
}

/**
 * `bestStances` one look at one lug at a time: a generator that tells the share done (of the most looks there can be) before each and
 * ends with the answer. It does no work that nobody asks for.
 */
export function* stanceSteps(
  job: Job,
  ids: readonly string[],
  shell: Shell,
  up: Vec3,
  freedom: StanceFreedom,
): Generator<{ readonly done: number }, BestStances, undefined> {
  const worstShare = (pulls: readonly PullCase[][], of: Job): number =>
    Math.max(...ids.map((id) => shareOf(of, id, pulls, shell, up)));
  let now = job;
  let pulls = pullsOf(job, shell, up);
  let share = worstShare(pulls, job);
  const looked = new Map<string, StanceResult>();
  const within = (of: Job): boolean =>
    ids.every((id) => standsWithin(of, of.fittings.find((f) => f.id === id) as Fitting, shell, up));
  // Where a lug stands outside the limits now, what is within them is better whatever it takes sideways.
  let stands = within(job);

  /** One look at every lug in turn; true where the movement worked out anew says that it is better so. */
  function* look(allowed: StanceFreedom): Generator<{ readonly done: number }, boolean, undefined> {
    let next = now;
    const results = new Map<string, StanceResult>();
    for (const id of ids) {
      yield { done: Math.min(1, looks++ / most) };
      const i = next.fittings.findIndex((f) => f.id === id);
      const fitting = next.fittings[i] as Fitting;
      const result = bestStance(next, fitting, shell, up, pulls[i] as PullCase[], allowed);
      results.set(id, result);
      if (!looked.has(id)) looked.set(id, result);
      if (!result.found || result.best.fitting === fitting) continue;
      const moved = result.best.fitting;
      next = { ...next, fittings: next.fittings.map((f, k) => (k === i ? moved : f)) };
    }
    if (next === now) return false;
    const nextPulls = unlessRefused(() => pullsOf(next, shell, up));
    if (nextPulls === undefined) return false;
    const nextShare = worstShare(nextPulls, next);
    if (stands && nextShare >= share) return false;
    const enough = nextShare < (1 - 1e-3) * share;
    stands ||= within(next);
    [now, pulls, share] = [next, nextPulls, nextShare];
    for (const [id, result] of results) looked.set(id, result);
    return enough;
  }

  const rounds = job.lift === undefined ? 1 : ROUNDS;
  const { girth = 0, station = 0, ...turns } = freedom;
  const moves = girth > 0 || station > 0;
  const most = ids.length * rounds * (moves ? 3 : 1);
  let looks = 0;
  // Turned and leant where it stands first: far from there the pulls are no longer those of the movement that was worked out.
  for (let round = 0; round < rounds && (yield* look(turns)); round++);
  if (moves) {
    let reach = 1;
    for (let round = 0; round < rounds && reach > 0.1 && (share > NOTHING || !stands); round++) {
      const room = { girth: reach * girth, station: reach * station };
      if (!(yield* look({ ...turns, ...room }))) reach /= job.lift === undefined ? Number.POSITIVE_INFINITY : 3;
      else yield* look(turns);
    }
  }
  // What is reported is held against the movement with all of them where they stand in the end.
  const first = pullsOf(job, shell, up);
  const lugs = ids.map((id): LugStance => {
    const i = job.fittings.findIndex((f) => f.id === id);
    const before = stanceNow(job, job.fittings[i] as Fitting, shell, up, first[i] as PullCase[]);
    const best = stanceNow(now, now.fittings[i] as Fitting, shell, up, pulls[i] as PullCase[]);
    const result = looked.get(id) as StanceResult;
    if (!result.found) return { id, result };
    return { id, result: { ...result, before, best, saves: best.share <= job.limits.sidewaysShare } };
  });
  return { job: now, lugs };
}

function shareOf(job: Job, id: string, pulls: readonly PullCase[][], shell: Shell, up: Vec3): number {
  const i = job.fittings.findIndex((f) => f.id === id);
  return stanceNow(job, job.fittings[i] as Fitting, shell, up, pulls[i] as PullCase[]).share;
}
