import { alignLoad } from '../../geometry/align/align.ts';
import { frameAt } from '../../geometry/align/stem.ts';
import { upOf } from '../../geometry/hull/attitude.ts';
import { shellFrom } from '../../geometry/hull/from.ts';
import { MeshShell } from '../../geometry/hull/mesh.ts';
import { shakenMesh, shakenPlaces } from '../../geometry/hull/shakenmesh.ts';
import type { Shell } from '../../geometry/hull/shell.ts';
import { Refusal } from '../../geometry/refusal.ts';
import { NormalNumbers } from '../../geometry/uncertainty/random.ts';
import { seatOn } from '../../geometry/uncertainty/seat.ts';
import { contributions, quantile, spreadOf } from '../../geometry/uncertainty/spread.ts';
import type { Fitting, Job } from '../job/types.ts';
import { shellOf } from './plan.ts';
import type { Uncertainty } from './spreads.ts';
import type { Plan } from './types.ts';

export interface SampleOptions {
  readonly samples?: number;
  readonly seed?: number;
}

/** Enough for two digits of a share near 0.95. */
export const SAMPLES = 10_000;
export const SEED = 20_260_101;
/** Figures of a sample of one fitting: bevel, gap, off-plane angle, stock; NaN where the foot found no shell. */
const FIGURES = 4;
const CONFIDENCE = 0.95;

/**
 * Figures of samples from..to, fitting by fitting: what one thread does of the whole. A sample is the job with every ±
 * moved by a normal error, and a scan's surface by one draw of what its scatter leaves open; the plates stay as cut for the plan.
 */
export function sampleFigures(plan: Plan, seed: number, from: number, to: number): Float64Array {
  const { job } = plan;
  const inputs = job.uncertain ?? [];
  const scan = scanOf(plan);
  const numbers = new NormalNumbers(seed);
  const z = new Float64Array(inputs.length + scan.numbers);
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
    const shaken = scan.shaken?.(z.subarray(inputs.length));
    sample(plan, moving, shaken ?? fixed, out, (i - from) * job.fittings.length * FIGURES);
  }
  return out;
}

/** The scan that a plan stands on: how many normal numbers a draw of its scatter takes, and where those of a place begin. */
interface Scan {
  readonly numbers: number;
  /** By fitting; undefined where its place has none. */
  readonly of: (fitting: Fitting) => { readonly from: number; readonly to: number } | undefined;
  readonly shaken: ((normals: Float64Array) => Standing) | undefined;
  /** rad. Greatest standard error of a surface's slope. */
  readonly slopeError: number;
}

/** What a sample asks of a shell. */
type Standing = Pick<Shell, 'girthAt' | 'pointAt' | 'caster'>;

const NO_SCAN: Scan = { numbers: 0, of: () => undefined, shaken: undefined, slopeError: 0 };
const scans = new WeakMap<Plan, Scan>();

function scanOf(plan: Plan): Scan {
  let scan = scans.get(plan);
  if (scan === undefined) {
    scan = newScan(plan);
    scans.set(plan, scan);
  }
  return scan;
}

function newScan({ job }: Plan): Scan {
  const { hull } = job.ship;
  if (hull.kind !== 'mesh') return NO_SCAN;
  const shell = shellOf(hull);
  if (!(shell instanceof MeshShell)) return NO_SCAN;
  const places = shakenPlaces(shell);
  const start = new Map<number, number>();
  let numbers = 0;
  for (const { index, fit } of places) {
    start.set(index, numbers);
    numbers += fit.terms;
  }
  return {
    numbers,
    of: ({ at }) => {
      const index = hull.places.findIndex(
        (p) => p.station === at.station && p.side === at.side && p.by === at.by && p.value === at.value,
      );
      const from = start.get(index);
      const terms = places.find((p) => p.index === index)?.fit.terms;
      return from === undefined || terms === undefined ? undefined : { from, to: from + terms };
    },
    shaken: (normals) =>
      shakenMesh(shell, places, (index, count) => {
        const from = start.get(index) ?? 0;
        return normals.subarray(from, from + count);
      }),
    slopeError: Math.max(0, ...places.map(({ fit }) => fit.slopeError)),
  };
}

/** rad. A scan that knows the slope of its surface better than this needs no word of its own. */
const SURE_ENOUGH = (0.01 * Math.PI) / 180;

/** Whether there is anything to sample: a ± that bears on the fit, or a scan whose scatter does. */
export const worthSampling = (plan: Plan): boolean =>
  (plan.job.uncertain ?? []).some(({ leaves }) => leaves.some(({ path }) => sampled(path))) ||
  scanOf(plan).slopeError > SURE_ENOUGH;

/** Sums up what `sampleFigures` gave for all samples, in order. */
export function uncertaintyFrom(plan: Plan, seed: number, figures: Float64Array): Uncertainty {
  const { job } = plan;
  const inputs = job.uncertain ?? [];
  const per = job.fittings.length * FIGURES;
  const samples = figures.length / per;
  const scan = scanOf(plan);
  const width = inputs.length + scan.numbers;
  const drawn = new Float64Array(samples * width);
  const numbers = new NormalNumbers(seed);
  for (let i = 0; i < samples; i++) numbers.fill(i, drawn.subarray(i * width, (i + 1) * width));
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
      const rows = new Float64Array(used.length * width);
      used.forEach((i, n) => {
        rows.set(drawn.subarray(i * width, (i + 1) * width), n * width);
      });
      const shares = [bevel, gap, offPlane].map((figure) => contributions(rows, width, figure));
      const own = scan.of(fitting.input);
      // The scatter of a scan is many numbers at once: together they are one reading, the scan.
      const scatter = (figure: number) =>
        own === undefined
          ? 0
          : (shares[figure] ?? []).slice(inputs.length + own.from, inputs.length + own.to).reduce((p, q) => p + q, 0);
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
          .flatMap(({ path, leaves }, k) =>
            leaves.some((leaf) => sampled(leaf.path))
              ? [
                  {
                    path,
                    bevel: shares[0]?.[k] ?? 0,
                    gap: shares[1]?.[k] ?? 0,
                    offPlane: shares[2]?.[k] ?? 0,
                  },
                ]
              : [],
          )
          .concat(
            own === undefined
              ? []
              : [{ path: 'ship.hull.file', bevel: scatter(0), gap: scatter(1), offPlane: scatter(2) }],
          )
          .sort((p, q) => q.bevel - p.bevel),
      };
    }),
  };
}

const finite = (x: number): number => (Number.isFinite(x) ? x : 0);

/** Sampling in this thread; undefined where there is nothing to sample (`worthSampling`). */
export function uncertaintyOf(plan: Plan, options: SampleOptions = {}): Uncertainty | undefined {
  const { samples = SAMPLES, seed = SEED } = options;
  if (!worthSampling(plan)) return undefined;
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

/** Fields of the ship that a sample is planned on; draft marks have already become drafts and heel. */
const SHIP_FIELDS: readonly PropertyKey[] = ['lpp', 'draftAft', 'draftForward', 'heel', 'hull'];

/** Whether a figure of the job bears on how the lug fits: what other sources say, what stands behind the plating, does not. */
const sampled = (path: readonly PropertyKey[]): boolean =>
  path[0] === 'fittings' || (path[0] === 'ship' && SHIP_FIELDS.includes(path[1] as PropertyKey));

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
      if (!sampled(path) || (path[1] === 'hull' && !hullMoves)) continue;
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

function sample(plan: Plan, moved: Job, fixed: Standing | undefined, out: Float64Array, at: number): void {
  const missed = (f: number): void => {
    out.fill(Number.NaN, at + f * FIGURES, at + (f + 1) * FIGURES);
  };
  let shell: Standing;
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
