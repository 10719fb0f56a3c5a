import { alignLoad } from '../../geometry/align/align.ts';
import { frameAt } from '../../geometry/align/stem.ts';
import { upOf } from '../../geometry/hull/attitude.ts';
import { shellFrom } from '../../geometry/hull/from.ts';
import type { Shell } from '../../geometry/hull/shell.ts';
import { Refusal } from '../../geometry/refusal.ts';
import { NormalNumbers } from '../../geometry/uncertainty/random.ts';
import { seatOn } from '../../geometry/uncertainty/seat.ts';
import { contributions, quantile, type Spread, spreadOf } from '../../geometry/uncertainty/spread.ts';
import type { Job } from '../job/types.ts';
import { shellOf } from './plan.ts';
import type { Plan } from './types.ts';

/** What the errors of the job's readings (its ±) do to a lug that is cut as planned and set on the shell there is. */
export interface Uncertainty {
  readonly samples: number;
  readonly seed: number;
  readonly fittings: readonly FittingUncertainty[];
}

export interface FittingUncertainty {
  readonly id: string;
  /** rad. Bevel at the middle of the foot that the shell asks for. */
  readonly bevel: Spread;
  /** mm. Largest gap of the plate cut as planned, pushed in along its stem. */
  readonly gap: Spread;
  /** rad. Load line against the plane of the lug. */
  readonly offPlane: Spread;
  /** Shares of all samples, 0..1: a tight fit, a gap that needs no new cut, a foot that found no shell. */
  readonly fits: number;
  readonly usable: number;
  readonly missed: number;
  /** mm. Metal to leave on the foot below the planned cut so that in 95 of 100 cases it can be ground to fit. */
  readonly stock: number;
  /** mm. Gap that 95 of 100 cases stay below where the foot is not ground: what it adds to the square leg. */
  readonly gap95: number;
  /** Per input, the share of the variance that it explains on its own; greatest share of the bevel's first. */
  readonly inputs: readonly {
    readonly path: string;
    readonly bevel: number;
    readonly gap: number;
    readonly offPlane: number;
  }[];
}

export interface SampleOptions {
  readonly samples?: number;
  readonly seed?: number;
}

/** Enough for two digits of a share near 0.95. On a scan every sample is a section cut anew: a tenth of them there. */
export const samplesFor = (job: Job): number => (job.ship.hull.kind === 'mesh' ? 1000 : 10_000);
export const SEED = 20_260_101;
/** Figures of a sample of one fitting: bevel, gap, off-plane angle, stock; NaN where the foot found no shell. */
const FIGURES = 4;
const CONFIDENCE = 0.95;

/**
 * Figures of samples from..to, fitting by fitting: what one thread does of the whole. A sample is the job with every ±
 * moved by a normal error; the plates stay as cut for the plan.
 */
export function sampleFigures(plan: Plan, seed: number, from: number, to: number): Float64Array {
  const { job } = plan;
  const inputs = job.uncertain ?? [];
  const numbers = new NormalNumbers(seed);
  const z = new Float64Array(inputs.length);
  const out = new Float64Array((to - from) * job.fittings.length * FIGURES);
  // Of a mesh only the list of places follows the fittings: the triangles stay, and so does the shell made of them.
  const hullMoves =
    job.ship.hull.kind !== 'mesh' &&
    inputs.some(({ leaves }) => leaves.some(({ path }) => path[0] === 'ship' && path[1] === 'hull'));
  const moving = copyOf(job, hullMoves);
  const levers = leversOf(moving, inputs, hullMoves);
  const fixed = hullMoves ? undefined : shellOf(job.ship.hull);
  for (let i = from; i < to; i++) {
    numbers.fill(i, z);
    for (const { holder, key, base, terms } of levers) {
      let value = base;
      for (const { input, step } of terms) value += (z[input] as number) * step;
      holder[key] = value;
    }
    sample(plan, moving, fixed, out, (i - from) * job.fittings.length * FIGURES);
  }
  return out;
}

/** Sums up what `sampleFigures` gave for all samples, in order. */
export function uncertaintyFrom(plan: Plan, seed: number, figures: Float64Array): Uncertainty {
  const { job } = plan;
  const inputs = job.uncertain ?? [];
  const per = job.fittings.length * FIGURES;
  const samples = figures.length / per;
  const drawn = new Float64Array(samples * inputs.length);
  const numbers = new NormalNumbers(seed);
  for (let i = 0; i < samples; i++) numbers.fill(i, drawn.subarray(i * inputs.length, (i + 1) * inputs.length));
  return {
    samples,
    seed,
    fittings: plan.fittings.map((fitting, f) => {
      const good: number[] = [];
      for (let i = 0; i < samples; i++) if (!Number.isNaN(figures[i * per + f * FIGURES])) good.push(i);
      // Two figures make the least spread there is; with fewer the lug stands where hardly any shell is known.
      const used = good.length >= 2 ? good : [0, 0];
      const column = (k: number) =>
        Float64Array.from(used, (i) => finite(figures[i * per + f * FIGURES + k] as number));
      const [bevel, gap, offPlane, stock] = [column(0), column(1), column(2), column(3)] as const;
      const rows = new Float64Array(used.length * inputs.length);
      used.forEach((i, n) => {
        rows.set(drawn.subarray(i * inputs.length, (i + 1) * inputs.length), n * inputs.length);
      });
      const shares = [bevel, gap, offPlane].map((figure) => contributions(rows, inputs.length, figure));
      const below = (limit: number) =>
        good.filter((i) => (figures[i * per + f * FIGURES + 1] as number) <= limit).length;
      return {
        id: fitting.id,
        bevel: spreadOf(bevel),
        gap: spreadOf(gap),
        offPlane: spreadOf(offPlane),
        fits: below(job.limits.fitGap) / samples,
        usable: below(job.limits.recutGap) / samples,
        missed: 1 - good.length / samples,
        stock: quantile(stock.slice().sort(), CONFIDENCE),
        gap95: quantile(gap.slice().sort(), CONFIDENCE),
        inputs: inputs
          .map(({ path }, k) => ({
            path,
            bevel: shares[0]?.[k] ?? 0,
            gap: shares[1]?.[k] ?? 0,
            offPlane: shares[2]?.[k] ?? 0,
          }))
          .sort((p, q) => q.bevel - p.bevel),
      };
    }),
  };
}

const finite = (x: number): number => (Number.isFinite(x) ? x : 0);

/** Sampling in this thread; undefined where no quantity of the job carries a ±. */
export function uncertaintyOf(plan: Plan, options: SampleOptions = {}): Uncertainty | undefined {
  const { samples = samplesFor(plan.job), seed = SEED } = options;
  if ((plan.job.uncertain ?? []).length === 0) return undefined;
  return uncertaintyFrom(plan, seed, sampleFigures(plan, seed, 0, samples));
}

/** The parts of a job that move, as copies that may be written to. */
function copyOf(job: Job, hullMoves: boolean): Job {
  const { hull, ...ship } = job.ship;
  return { ...job, ship: { ...ship, hull: hullMoves ? copied(hull) : hull }, fittings: job.fittings.map(copied) };
}

function copied<T>(value: T): T {
  if (Array.isArray(value)) return value.map(copied) as T;
  if (typeof value !== 'object' || value === null || Object.getPrototypeOf(value) !== Object.prototype) return value;
  return Object.fromEntries(Object.entries(value).map(([k, v]) => [k, copied(v)])) as T;
}

interface Lever {
  readonly holder: Record<PropertyKey, number>;
  readonly key: PropertyKey;
  readonly base: number;
  readonly terms: { readonly input: number; readonly step: number }[];
}

function leversOf(job: Job, inputs: NonNullable<Job['uncertain']>, hullMoves: boolean): Lever[] {
  const levers = new Map<string, Lever>();
  inputs.forEach(({ leaves }, input) => {
    for (const { path, step } of leaves) {
      if (path[1] === 'hull' && !hullMoves) continue;
      const name = path.join(' ');
      const known = levers.get(name);
      if (known) {
        known.terms.push({ input, step });
        continue;
      }
      let holder = job as unknown as Record<PropertyKey, unknown>;
      for (const key of path.slice(0, -1)) holder = holder[key] as Record<PropertyKey, unknown>;
      const key = path[path.length - 1] as PropertyKey;
      const numbers = holder as Record<PropertyKey, number>;
      levers.set(name, { holder: numbers, key, base: numbers[key] as number, terms: [{ input, step }] });
    }
  });
  return [...levers.values()];
}

function sample(plan: Plan, moved: Job, fixed: Shell | undefined, out: Float64Array, at: number): void {
  const missed = (f: number): void => {
    out.fill(Number.NaN, at + f * FIGURES, at + (f + 1) * FIGURES);
  };
  let shell: Shell;
  try {
    shell = fixed ?? shellFrom(moved.ship.hull);
  } catch (e) {
    if (!(e instanceof Refusal)) throw e;
    moved.fittings.forEach((_, f) => {
      missed(f);
    });
    return;
  }
  const up = upOf(moved.ship);
  moved.fittings.forEach((fitting, f) => {
    try {
      const { at: place, lug, stem, heading, load } = fitting;
      const girth =
        place.by === 'girth' ? place.value : shell.girthAt(place.station, place.by, place.value, place.side);
      const anchor = shell.pointAt(place.station, girth, place.side);
      const frame = frameAt(anchor, heading, stem, load, up, moved.limits.stemToShell);
      const fit = plan.fittings[f]?.fit;
      const cut = fit?.[fit.chosen].surface;
      // The plate is as it was cut; what is uncertain of its size is how long it was made, not where it stands.
      const seat = cut === undefined ? undefined : seatOn(shell, frame, lug.foot / 2, lug.thickness / 2, cut);
      const pull = alignLoad(frame, lug.pinHeight, load, load.force);
      if (seat === undefined || pull === undefined) {
        missed(f);
        return;
      }
      const k = at + f * FIGURES;
      out[k] = seat.bevel;
      out[k + 1] = seat.gap;
      out[k + 2] = pull.offPlane;
      out[k + 3] = seat.stock;
    } catch (e) {
      if (!(e instanceof Refusal)) throw e;
      missed(f);
    }
  });
}
