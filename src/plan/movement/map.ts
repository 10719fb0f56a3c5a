import { frameAt } from '../../../geometry/align/stem.ts';
import { bevelSchedule, footField } from '../../../geometry/fit/footfield.ts';
import { rootLine } from '../../../geometry/fit/rootline.ts';
import type { HullSide, Shell, ShellPoint } from '../../../geometry/hull/shell.ts';
import type { Vec3 } from '../../../geometry/math/vec.ts';
import { unlessRefused } from '../../../geometry/refusal.ts';
import type { Fitting, Job, Stem } from '../../job/types.ts';
import { NO_CAPACITY_RATIO, ratioOf } from '../../strength/check.ts';
import { movedBehind, placeOfFitting } from '../structure.ts';
import { type StandingFoot, structureChecks } from '../structurechecks.ts';
import type { PullCase } from './pulls.ts';
import { scribedGap, straightGap } from './quickfit.ts';
import { closedLength } from './quickorder.ts';
import { clearOfSolids } from './solids.ts';
import { spotPulls } from './spotpulls.ts';
import { spotStrength, type Use } from './spotstrength.ts';

/** What a lug at one spot of a map comes to. Lengths mm, angles rad, forces N. */
export interface Spot {
  /** Column and row of the map. */
  readonly column: number;
  readonly row: number;
  readonly station: number;
  readonly girth: number;
  readonly heading: number;
  /** The stem's rule there. */
  readonly stem: Stem;
  readonly verdict: SpotVerdict;
}

export type SpotVerdict =
  | {
      readonly kind: 'stands';
      /** Every limit that was looked at, as demand over limit; greatest first, what is the same at every spot and kept to last. */
      readonly limits: readonly SpotLimit[];
      readonly passes: boolean;
      /** Cut of the foot that is needed. */
      readonly cut: 'straight' | 'scribed';
      readonly gap: number;
      readonly bevel: number;
      readonly sideways: number;
      readonly force: number;
    }
  | { readonly kind: 'cannot'; readonly why: 'off-the-data' | 'stem' | 'keep-clear' | 'foot' };

/** Whether the shackle goes on has nothing to do with where the lug stands: it binds only where it fails. */
const SAME_EVERYWHERE: ReadonlySet<string> = new Set(['shackle-pin', 'shackle-jaw']);
const bindingOf = ({ id, ratio }: SpotLimit): number => (ratio <= 1 && SAME_EVERYWHERE.has(id) ? ratio - 2 : ratio);

/** `id`: `gap`, `bevel`, `sideways`, or the id of the plan's check. */
export type SpotLimit = Use;

/** A map's two axes: values along columns and along rows. */
export interface MapGrid {
  readonly columns: readonly number[];
  readonly rows: readonly number[];
}

/** Spots in the order in which they are worked out: every `stride`-th of the map is known when a batch of that stride ends. */
export interface MapBatch {
  readonly stride: number;
  readonly spots: readonly Spot[];
  /** Share of the map that is known after this batch. */
  readonly done: number;
}

/** What a map does not look at, to be said beside it. */
export const MAP_LEAVES_OUT =
  'Not in the map: beads and dives of the weld, facets (of the cuts it looks at the straight and the scribed one), what was built. ' +
  'Over a movement strength is that under the few pulls that decide it, and lines end where they end with the lug where it stands: plan the lug at the spot to see all of it.';

const COARSEST = 8;
/** Spots a batch, so that whoever looks can stop in between. */
const BATCH = 40;

/** n values from one end to the other. */
export const evenly = (from: number, to: number, n: number): number[] =>
  Array.from({ length: n }, (_, i) => (n === 1 ? (from + to) / 2 : from + ((to - from) * i) / (n - 1)));

/**
 * Where a lug may go: columns are stations, rows girths (mm) on one side of the ship; heading and stem as the fitting has them. A
 * generator: coarse first, then finer, batch by batch; stop it by asking for no more.
 */
export function* placeMap(
  job: Job,
  fitting: Fitting,
  shell: Shell,
  up: Vec3,
  cases: readonly PullCase[],
  grid: MapGrid,
  side: HullSide = fitting.at.side,
): Generator<MapBatch, void, undefined> {
  const stands = placeOfFitting(fitting, shell);
  yield* coarseFirst(grid, (column, row) => {
    const station = grid.columns[column] as number;
    const girth = grid.rows[row] as number;
    const { heading, stem } = fitting;
    const place = unlessRefused(() => shell.pointAt(station, girth, side));
    const verdict = place
      ? spotVerdict(job, movedBehind(job, fitting, stands, place), shell, up, cases, place, heading, stem)
      : ({ kind: 'cannot', why: 'off-the-data' } as const);
    return { column, row, station, girth, heading, stem, verdict };
  });
}

/** How a lug may stand where it is: columns are headings, rows leans of the stem from the normal (rad). As `placeMap`. */
export function* stanceMap(
  job: Job,
  fitting: Fitting,
  shell: Shell,
  up: Vec3,
  cases: readonly PullCase[],
  grid: MapGrid,
): Generator<MapBatch, void, undefined> {
  const { station, girth, side } = placeOfFitting(fitting, shell);
  const place = shell.pointAt(station, girth, side);
  yield* coarseFirst(grid, (column, row) => {
    const heading = grid.columns[column] as number;
    const stem: Stem = { kind: 'lean', angle: grid.rows[row] as number };
    const verdict = spotVerdict(job, fitting, shell, up, cases, place, heading, stem);
    return { column, row, station, girth, heading, stem, verdict };
  });
}

function* coarseFirst(
  grid: MapGrid,
  spot: (column: number, row: number) => Spot,
): Generator<MapBatch, void, undefined> {
  const [columns, rows] = [grid.columns.length, grid.rows.length];
  let known = 0;
  for (let stride = COARSEST; stride >= 1; stride /= 2) {
    let spots: Spot[] = [];
    // Column by column: what a shell keeps of a station serves all its girths.
    for (let column = 0; column < columns; column += stride) {
      for (let row = 0; row < rows; row += stride) {
        const before = 2 * stride;
        if (stride < COARSEST && row % before === 0 && column % before === 0) continue;
        spots.push(spot(column, row));
        known += 1;
        if (spots.length < BATCH) continue;
        yield { stride, spots, done: known / (columns * rows) };
        spots = [];
      }
    }
    if (spots.length > 0) yield { stride, spots, done: known / (columns * rows) };
  }
}

/**
 * One lug at one place: fit, pull over all cases, strength under the worst of them, order of the root and what is on and behind the
 * shell, against the job's limits. What `fitting.behind` says must hold at the place: see `movedBehind`.
 */
export function spotVerdict(
  job: Job,
  fitting: Fitting,
  shell: Shell,
  up: Vec3,
  cases: readonly PullCase[],
  place: ShellPoint,
  heading: number,
  stem: Stem,
): SpotVerdict {
  const frame = unlessRefused(() => frameAt(place, heading, stem, fitting.load, up, job.limits.stemToShell));
  if (frame === undefined) return { kind: 'cannot', why: 'stem' };
  if (!clearOfSolids(job, fitting, frame)) return { kind: 'cannot', why: 'keep-clear' };
  const field = unlessRefused(() => footField(shell, frame, fitting.lug.foot, fitting.lug.thickness));
  if (field === undefined) return { kind: 'cannot', why: 'foot' };
  const root = rootLine(field);
  const structure = structureLimits(job, shell, { fitting, anchor: place, frame, root });
  if (structure.some(({ id, ratio }) => id === 'keep-clear' && ratio > 1)) return { kind: 'cannot', why: 'keep-clear' };
  const { min, max } = bevelSchedule(field, fitting.lug.foot);
  const bevel = Math.max(max, -min);
  const straight = straightGap(field);
  const takesStraight = fitting.cut === 'straight' || straight <= job.limits.fitGap;
  const gap = takesStraight ? straight : Math.min(straight, scribedGap(field));
  const pull = spotPulls(job, fitting, frame, cases);
  const limits: SpotLimit[] = [
    { id: 'gap', title: 'Fit-up gap of the foot', ratio: ratioOf(gap, job.limits.recutGap) },
    { id: 'bevel', title: 'Bevel of the foot', ratio: ratioOf(bevel, job.limits.bevel) },
    {
      id: 'sideways',
      title: 'Sideways force against the greatest pull',
      ratio: ratioOf(pull.sideways, job.limits.sidewaysShare * pull.greatest),
    },
    ...(job.limits.offPlane === undefined
      ? []
      : [
          {
            id: 'off-plane',
            title: 'Angle of the load line to the lug plane',
            ratio: ratioOf(pull.offPlane, job.limits.offPlane),
          },
        ]),
    {
      id: 'sealed-length',
      title: 'Root welded against a closed vent',
      ratio: ratioOf(closedLength(job, field, root, place.side, up), job.limits.sealedLength),
    },
    ...structure,
    ...spotStrength(job, fitting, place, frame, root, pull, up),
  ];
  limits.sort((p, q) => bindingOf(q) - bindingOf(p));
  return {
    kind: 'stands',
    limits,
    passes: limits.every((limit) => limit.ratio <= 1),
    cut: takesStraight ? 'straight' : 'scribed',
    gap,
    bevel,
    sideways: pull.sideways,
    force: pull.greatest,
  };
}

/** A spot near which no member is known is as one where the foot is over none. */
function structureLimits(job: Job, shell: Shell, foot: StandingFoot): SpotLimit[] {
  const checks = unlessRefused(() => structureChecks(job, shell, foot));
  if (checks !== undefined) return checks.map(({ id, title, ratio }) => ({ id, title, ratio }));
  const { over: _, ...anywhere } = foot.fitting;
  return [
    { id: 'over-member', title: `Foot over a ${foot.fitting.over}`, ratio: NO_CAPACITY_RATIO },
    ...structureLimits(job, shell, { ...foot, fitting: anywhere }),
  ];
}
