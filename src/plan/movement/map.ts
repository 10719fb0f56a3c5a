import { alignLoad, type LoadAlignment } from '../../../geometry/align/align.ts';
import { frameAt } from '../../../geometry/align/stem.ts';
import { bevelSchedule, type FootField, footField } from '../../../geometry/fit/footfield.ts';
import { rootLine } from '../../../geometry/fit/rootline.ts';
import type { HullSide, Shell, ShellPoint } from '../../../geometry/hull/shell.ts';
import { type LugFrame, toShip } from '../../../geometry/lug/frame.ts';
import { length, type Vec3 } from '../../../geometry/math/vec.ts';
import { Refusal } from '../../../geometry/refusal.ts';
import type { Fitting, Job, Stem } from '../../job/types.ts';
import { pinPlateChecks } from '../../strength/checks-pinplate.ts';
import { cheekChecks, lugSectionChecks } from '../../strength/checks-plate.ts';
import { riggingChecks } from '../../strength/checks-rigging.ts';
import { weldChecks, weldUse } from '../../strength/checks-weld.ts';
import { strengthCase } from '../../strength/input.ts';
import { weldBed } from '../../strength/weldgroup.ts';
import { strengthInput } from '../strength.ts';
import { type PullCase, pullAt } from './pulls.ts';
import { scribedGap, straightGap } from './quickfit.ts';
import { clearOfSolids } from './solids.ts';

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
      /** Every limit that was looked at, as demand over limit; greatest first. */
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

export interface SpotLimit {
  /** `gap`, `bevel`, `sideways`, or the id of a strength check. */
  readonly id: string;
  readonly title: string;
  readonly ratio: number;
}

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
  'The shell panel behind the lug and the order of welding are not in the map: plan the lug at the spot to see them. Over a movement the far ends of the lines and their tensions are those of the lug where it stands.';

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
  yield* coarseFirst(grid, (column, row) => {
    const station = grid.columns[column] as number;
    const girth = grid.rows[row] as number;
    const { heading, stem } = fitting;
    const place = attempt(() => shell.pointAt(station, girth, side));
    const verdict = place
      ? spotVerdict(job, fitting, shell, up, cases, place, heading, stem)
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
  const { at } = fitting;
  const girth = at.by === 'girth' ? at.value : shell.girthAt(at.station, at.by, at.value);
  const place = shell.pointAt(at.station, girth, at.side);
  yield* coarseFirst(grid, (column, row) => {
    const heading = grid.columns[column] as number;
    const stem: Stem = { kind: 'lean', angle: grid.rows[row] as number };
    const verdict = spotVerdict(job, fitting, shell, up, cases, place, heading, stem);
    return { column, row, station: at.station, girth, heading, stem, verdict };
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
    for (let row = 0; row < rows; row += stride) {
      for (let column = 0; column < columns; column += stride) {
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

/** One lug at one place: fit, pull over all cases and strength under the worst of them, against the job's limits. */
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
  const frame = attempt(() => frameAt(place, heading, stem, fitting.load, up, job.limits.stemToShell));
  if (frame === undefined) return { kind: 'cannot', why: 'stem' };
  if (!clearOfSolids(job, fitting, frame)) return { kind: 'cannot', why: 'keep-clear' };
  const field = attempt(() => footField(shell, frame, fitting.lug.foot, fitting.lug.thickness));
  if (field === undefined) return { kind: 'cannot', why: 'foot' };
  const { min, max } = bevelSchedule(field, fitting.lug.foot);
  const bevel = Math.max(max, -min);
  const straight = straightGap(field);
  const takesStraight = fitting.cut === 'straight' || straight <= job.limits.fitGap;
  const gap = takesStraight ? straight : Math.min(straight, scribedGap(field));
  const pull = pullsAt(frame, fitting.lug.pinHeight, cases);
  const limits: SpotLimit[] = [
    { id: 'gap', title: 'Fit-up gap of the foot', ratio: gap / job.limits.recutGap },
    { id: 'bevel', title: 'Bevel of the foot', ratio: bevel / job.limits.bevel },
    {
      id: 'sideways',
      title: 'Sideways force against the greatest pull',
      ratio: pull.greatest > 0 ? pull.sideways / (job.limits.sidewaysShare * pull.greatest) : 0,
    },
    ...strengthLimits(job, fitting, place, frame, field, pull.worst, up),
  ];
  limits.sort((p, q) => q.ratio - p.ratio);
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

function pullsAt(frame: LugFrame, pinHeight: number, cases: readonly PullCase[]) {
  const pin = toShip(frame, 0, pinHeight, 0);
  let sideways = 0;
  let greatest = 0;
  let side: LoadAlignment | undefined;
  let most: LoadAlignment | undefined;
  for (const one of cases) {
    const pull = pullAt(one, pin);
    const force = length(pull);
    const load = force > 0 ? alignLoad(frame, pinHeight, { direction: pull }, force) : undefined;
    if (load === undefined) continue;
    if (side === undefined || Math.abs(load.sideways) > sideways) {
      sideways = Math.abs(load.sideways);
      side = load;
    }
    if (force > greatest) {
      greatest = force;
      most = load;
    }
  }
  const worst = [side, most].filter((load, i, all) => load !== undefined && all.indexOf(load) === i) as LoadAlignment[];
  return { sideways, greatest, worst };
}

const noPanel = (): never => {
  throw new Error('a map does not look at the shell panel');
};

/** The strength checks but those of the shell behind the lug, under the greatest pull and the most sideways one. */
function strengthLimits(
  job: Job,
  fitting: Fitting,
  place: ShellPoint,
  frame: LugFrame,
  field: FootField,
  loads: readonly LoadAlignment[],
  up: Vec3,
): SpotLimit[] {
  const root = rootLine(field);
  const pin = toShip(frame, 0, fitting.lug.pinHeight, 0);
  const bed = weldBed(root.quadrature.position, root.quadrature.weight);
  const worst = new Map<string, SpotLimit>();
  for (const load of loads) {
    const input = strengthInput(job, fitting, place, frame, pin, root, load, up);
    const c = strengthCase(input, { bed, bending: noPanel });
    const checks = [
      ...pinPlateChecks(c),
      ...lugSectionChecks(c),
      ...cheekChecks(c),
      ...weldChecks(c, weldUse(c)),
      ...riggingChecks(c).checks,
    ];
    for (const { id, title, ratio } of checks) {
      const known = worst.get(id);
      if (known === undefined || ratio > known.ratio) worst.set(id, { id, title, ratio });
    }
  }
  return [...worst.values()];
}

function attempt<T>(make: () => T): T | undefined {
  try {
    return make();
  } catch (e) {
    if (e instanceof Refusal) return undefined;
    throw e;
  }
}
