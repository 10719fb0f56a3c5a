import type { Dive, Piece } from '../weld/schedule.ts';
import type { WeldHold, WeldRun } from '../weld/weldPlan.ts';
import { shortPlace } from './cardwords.ts';
import type { Context } from './context.ts';
import { cardLength } from './figures.ts';
import { alongSide, sideNames } from './sides.ts';
import { divesToCome, rootRunAt, type Standing } from './standing.ts';

export interface DivePart {
  readonly piece: Piece;
  readonly item: WeldRun | WeldHold;
}

/** What is looked at where the work stops. */
const HOLDS: Readonly<Record<WeldHold['hold'], string>> = {
  'fit-up': 'fit-up',
  root: 'root',
  finished: 'finished weld',
};

/** What is done in a dive, in order. */
export const partsOf = ({ fitting }: Context, dive: Dive): DivePart[] =>
  dive.pieces.map((piece) => {
    const item = fitting.weld.work.find((each) => each.no === piece.no);
    if (item === undefined) throw new Error(`no work item ${piece.no}`);
    return { piece, item };
  });

/** Whole electrodes burnt in a dive, no spares. */
export const rodsOf = (parts: readonly DivePart[]): number =>
  Math.ceil(
    parts.reduce((sum, { piece, item }) => sum + item.electrodes * (piece.toShare - piece.fromShare), 0) - 1e-9,
  );

/** Whole electrodes that go down in some dives, each dive's rounded up. */
export const rodsOfDives = (context: Context, dives: readonly Dive[]): number =>
  dives.reduce((sum, dive) => sum + rodsOf(partsOf(context, dive)), 0);

/** Electrodes that go down for a lug, spares apart: each dive's rounded up where dives are counted, else those that are burnt. */
export function rodsToTake(context: Context): number {
  const { schedule, totals } = context.fitting.weld;
  return schedule?.kind === 'planned' ? rodsOfDives(context, schedule.dives) : totals.electrodes;
}

/** The next dive: what the diver takes and does, and where it ends. */
export interface NextDive {
  readonly rods: number;
  readonly line: string;
}

/** Undefined where no dives were planned, or none is left. */
export function nextDive(context: Context, standing: Standing): NextDive | undefined {
  const schedule = divesToCome(context.fitting, standing);
  if (schedule?.kind !== 'planned') return undefined;
  const dive = schedule.dives[0];
  if (dive === undefined) return undefined;
  const parts = partsOf(context, dive);
  const { piece, item } = parts.at(-1) as DivePart;
  const count = dive.dive - 1 + schedule.dives.length;
  const work = workWords(context, parts);
  const end = item.task === 'hold' ? `HOLD ${HOLDS[item.hold]}.` : shortPlace(endOf(context, item, piece));
  return { rods: rodsOf(parts), line: `DIVE ${dive.dive} of ${count}: ${work}. ENDS: ${end}` };
}

/** Runs of the root by number, what is above it by layer, and the holds between: `runs 1–8, HOLD root, layer 2`. */
function workWords({ fitting }: Context, parts: readonly DivePart[]): string {
  const stretches: { one: string; low: number; high: number }[] = [];
  for (const { piece, item } of parts) {
    const run = item.task !== 'hold' && item.layer === 1 ? rootRunAt(fitting, piece)?.run : undefined;
    const [one, number] =
      item.task === 'hold' ? [`HOLD ${item.hold}`, 0] : run === undefined ? ['layer', item.layer] : ['run', run];
    const last = stretches.at(-1);
    if (last === undefined || last.one !== one) stretches.push({ one, low: number, high: number });
    else [last.low, last.high] = [Math.min(last.low, number), Math.max(last.high, number)];
  }
  // A hold before the first arc or after the last one has a place of its own on the card.
  const isHold = ({ low }: { low: number }): boolean => low === 0;
  const between = stretches.filter((each, i) => !isHold(each) || (i > 0 && i < stretches.length - 1));
  const words = between.map((each) =>
    isHold(each)
      ? each.one
      : each.low === each.high
        ? `${each.one} ${each.low}`
        : `${each.one}s ${each.low}–${each.high}`,
  );
  return words.length === 0 ? 'hold points' : words.join(', ');
}

/**
 * What is done in a dive for whoever hands it out: runs of the root by their numbers on the card, above it runs counted bead by bead,
 * `HOLD fit-up; root runs 1 to 6; layer 2 bead 1, 5 runs; bead 2, 1 run`. What a dive does not do whole is said to be done in part.
 */
export function workList({ fitting }: Context, parts: readonly DivePart[]): string {
  const groups: { of: string; layer: number; bead: number; runs: number[]; inPart: boolean[] }[] = [];
  for (const { piece, item } of parts) {
    const run = item.task !== 'hold' && item.layer === 1 ? rootRunAt(fitting, piece)?.run : undefined;
    const [layer, bead] = item.task === 'hold' || run !== undefined ? [0, 0] : [item.layer, item.bead];
    const of = item.task === 'hold' ? `HOLD ${item.hold}` : run === undefined ? `layer ${layer} bead ${bead}` : 'root';
    if (groups.at(-1)?.of !== of) groups.push({ of, layer, bead, runs: [], inPart: [] });
    const group = groups.at(-1) as (typeof groups)[number];
    if (item.task === 'hold') continue;
    group.runs.push(run ?? 0);
    group.inPart.push(piece.toShare - piece.fromShare < 1 - 1e-9);
  }
  return groups
    .map(({ of, layer, bead, runs, inPart }, i) => {
      if (runs.length === 0) return of;
      const part = partText(inPart);
      if (layer === 0) {
        const [low, high] = [Math.min(...runs), Math.max(...runs)];
        return `${of} ${low === high ? `run ${low}` : `runs ${low} to ${high}`}${part}`;
      }
      const name = groups[i - 1]?.layer === layer ? `bead ${bead}` : of;
      return `${name}, ${runs.length === 1 ? '1 run' : `${runs.length} runs`}${part}`;
    })
    .join('; ');
}

/** Which runs of a row of them a dive does not do whole: none but the first and the last can be such. */
function partText(inPart: readonly boolean[]): string {
  const [first, last] = [inPart[0] ?? false, inPart.at(-1) ?? false];
  if (!first && !last) return '';
  if (inPart.length === 1) return ' in part';
  return first && last ? ', first and last in part' : `, the ${first ? 'first' : 'last'} in part`;
}

/** Where a piece of work ends, as a diver finds it. */
export function endOf({ fitting, plan }: Context, item: WeldRun | WeldHold, piece: Piece): string {
  if (item.task === 'hold') return `at the hold: ${HOLDS[item.hold]}`;
  const root = item.layer === 1 ? rootRunAt(fitting, piece) : undefined;
  const what = root === undefined ? `layer ${item.layer} bead ${item.bead}` : `run ${root.run}`;
  if (piece.finishes && root !== undefined && Math.abs(root.toS - piece.toS) < 1) return `${what} done.`;
  const at = alongSide(fitting, piece.toS);
  const names = sideNames(fitting);
  return `${what}, ${names[at.side]}, ${cardLength(at.distance, plan.job.display)} from ${at.from}.`;
}
