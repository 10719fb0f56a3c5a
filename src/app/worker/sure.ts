import { newHit } from '../../../geometry/hull/shell.ts';
import type { Job } from '../../job/types.ts';
import type { Uncertainty } from '../../plan/spreads.ts';
import type { FittingPlan, Plan } from '../../plan/types.ts';
import { SAMPLES, SEED, sampleFigures, uncertaintyFrom, worthSampling } from '../../plan/uncertainty.ts';
import { livePlan, planUnlessRefused } from './liveplan.ts';
import type { PlanRequest } from './protocol.ts';
import type { Share } from './slowwork.ts';

/**
 * How far the shell under the foot may be off, seen from the lug: along the stem at `a` along the foot, on the faces at
 * c = -thickness/2 and c = +thickness/2. `half` is two standard deviations: 95 of 100 shells lie within. mm
 */
export interface ShellBand {
  readonly a: Float32Array;
  readonly minus: BandLine;
  readonly plus: BandLine;
}

export interface BandLine {
  /** Height of the shell as planned. */
  readonly at: Float32Array;
  readonly half: Float32Array;
}

export type SureEnd =
  | {
      readonly kind: 'sampled';
      readonly uncertainty: Uncertainty;
      /** By fitting; null where no reading moves the shell under the foot. */
      readonly bands: readonly (ShellBand | null)[];
    }
  /** No reading of the job says how far it may be off. */
  | { readonly kind: 'nothing' }
  | { readonly kind: 'refused' };

/** ms of sampling between two breaths. */
const STEP = 20;

/** What the errors of a job's readings do to it, told as it goes: the same samples as the command line draws. */
export async function* sureWork(request: PlanRequest): AsyncGenerator<Share, SureEnd, undefined> {
  yield { done: 0 };
  const plan = await livePlan(request);
  if (plan === undefined) return { kind: 'refused' };
  if (!worthSampling(plan)) return { kind: 'nothing' };
  yield { done: 0 };
  const uncertainty = yield* sampled(plan);
  const bands = yield* bandsOf(plan);
  return { kind: 'sampled', uncertainty, bands };
}

/** All samples, in order, a little at a time. */
export function* sampled(plan: Plan, samples = SAMPLES): Generator<Share, Uncertainty, undefined> {
  const per = sampleFigures(plan, SEED, 0, 1).length;
  const figures = new Float64Array(per * samples);
  let size = 8;
  for (let from = 0; from < samples; ) {
    const to = Math.min(samples, from + size);
    const start = performance.now();
    figures.set(sampleFigures(plan, SEED, from, to), from * per);
    const took = Math.max(performance.now() - start, 0.05);
    size = Math.max(1, Math.min(4 * size, Math.round((size * STEP) / took)));
    from = to;
    yield { done: from / samples };
  }
  return uncertaintyFrom(plan, SEED, figures);
}

const COLUMNS = 17;
/** mm. A shell that is known better than this is drawn as one line. */
const SEEN = 0.02;

/**
 * Bands of the shell under each foot: every reading moved by one standard deviation up and down, what that does to the height
 * under the foot taken as straight, and the readings as independent of one another. A scan's own scatter is not in it.
 */
export function* bandsOf(plan: Plan): Generator<Share, (ShellBand | null)[], undefined> {
  // What the load does on its way and what other sources say have no part in this.
  const { lift: _lift, uncertain = [], ...rest } = plan.job;
  const { compare: _compare, ...ship } = rest.ship;
  const job: Job = { ...rest, ship };
  const planned = plan.fittings.map(heightsUnder);
  const squares = planned.map((lines) => lines.map((line) => new Float64Array(line.length)));
  for (const { leaves } of uncertain) {
    const up = movedHeights(job, leaves, 1);
    yield { done: 1 };
    const down = movedHeights(job, leaves, -1);
    yield { done: 1 };
    if (up === undefined || down === undefined) continue;
    squares.forEach((lines, f) => {
      lines.forEach((line, k) => {
        for (let i = 0; i < line.length; i++) {
          const [p, q] = [up[f]?.[k]?.[i], down[f]?.[k]?.[i]];
          if (p !== undefined && q !== undefined) line[i] = (line[i] as number) + ((p - q) / 2) ** 2;
        }
      });
    });
  }
  return plan.fittings.map(({ field }, f) => {
    const [minus, plus] = planned[f] as [Float64Array, Float64Array];
    const [m, p] = squares[f] as [Float64Array, Float64Array];
    const half = (line: Float64Array): Float32Array => Float32Array.from(line, (v) => 2 * Math.sqrt(v));
    if (Math.max(...m, ...p) < (SEEN / 2) ** 2) return null;
    return {
      a: Float32Array.from({ length: COLUMNS }, (_, i) => along(i, field.halfFoot)),
      minus: { at: Float32Array.from(minus), half: half(m) },
      plus: { at: Float32Array.from(plus), half: half(p) },
    };
  });
}

const along = (i: number, halfFoot: number): number => -halfFoot + (2 * halfFoot * i) / (COLUMNS - 1);

/** Heights of the shell on the two faces, in the frame of the lug, whose origin is its place on that shell. */
function heightsUnder({ field }: FittingPlan): [Float64Array, Float64Array] {
  const hit = newHit();
  const face = (c: number): Float64Array =>
    Float64Array.from({ length: COLUMNS }, (_, i) =>
      field.cast(along(i, field.halfFoot), c, hit) ? hit.f : Number.NaN,
    );
  return [face(-field.halfThickness), face(field.halfThickness)];
}

function movedHeights(
  job: Job,
  leaves: readonly { readonly path: readonly PropertyKey[]; readonly step: number }[],
  sign: 1 | -1,
): [Float64Array, Float64Array][] | undefined {
  let moved: unknown = job;
  for (const { path, step } of leaves) moved = stepped(moved, path, sign * step);
  // Where the lug cannot be planned at all, the samples have said so already.
  return planUnlessRefused(moved as Job)?.fittings.map(heightsUnder);
}

/** The same with one number of it moved; what the path does not pass is shared. */
function stepped(value: unknown, [key, ...rest]: readonly PropertyKey[], step: number): unknown {
  if (key === undefined) return typeof value === 'number' ? value + step : value;
  if (Array.isArray(value)) return value.map((item, i) => (i === key ? stepped(item, rest, step) : item));
  if (typeof value !== 'object' || value === null || !(key in value)) return value;
  return { ...value, [key]: stepped((value as Record<PropertyKey, unknown>)[key], rest, step) };
}
