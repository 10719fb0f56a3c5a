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
  const end = shortPlace(endOf(context, item, piece));
  return { rods: rodsOf(parts), line: `DIVE ${dive.dive} of ${count}: ${work}. ENDS: ${end}` };
}

/** Runs of the root by number, what is above it by layer: `runs 1–8, layer 2`. */
function workWords({ fitting }: Context, parts: readonly DivePart[]): string {
  const runs: number[] = [];
  const layers: number[] = [];
  for (const { piece, item } of parts) {
    if (item.task === 'hold') continue;
    const run = item.layer === 1 ? rootRunAt(fitting, piece)?.run : undefined;
    if (run === undefined) layers.push(item.layer);
    else runs.push(run);
  }
  const range = (one: string, list: readonly number[]): string[] => {
    const [low, high] = [Math.min(...list), Math.max(...list)];
    return list.length === 0 ? [] : low === high ? [`${one} ${low}`] : [`${one}s ${low}–${high}`];
  };
  const words = [...range('run', runs), ...range('layer', layers)];
  return words.length === 0 ? 'hold points' : words.join(', ');
}

/** Where a piece of work ends, as a diver finds it. */
export function endOf({ fitting, plan }: Context, item: WeldRun | WeldHold, piece: Piece): string {
  if (item.task === 'hold') return `hold point ${item.hold}.`;
  const root = item.layer === 1 ? rootRunAt(fitting, piece) : undefined;
  const what = root === undefined ? `layer ${item.layer} bead ${item.bead}` : `run ${root.run}`;
  if (piece.finishes && root !== undefined && Math.abs(root.toS - piece.toS) < 1) return `${what} done.`;
  const at = alongSide(fitting, piece.toS);
  const names = sideNames(fitting);
  return `${what}, ${names[at.side]}, ${cardLength(at.distance, plan.job.display)} from ${at.from}.`;
}
