import type { RootRun } from '../../geometry/sequence/sequence.ts';
import type { FittingPlan } from '../plan/types.ts';
import type { Piece } from '../weld/schedule.ts';
import type { WeldHold, WeldRun } from '../weld/weldPlan.ts';
import type { Context } from './context.ts';
import { shortPlace } from './divecard.ts';
import { cardLength } from './figures.ts';
import { alongSide, sideNames } from './sides.ts';

/** What the first dive is to get done and where it ends, in a line; empty where no dives were planned. */
export function endOfFirstDive(context: Context): string {
  const { fitting } = context;
  const { schedule, work } = fitting.weld;
  if (schedule === null) return '';
  if (schedule.kind === 'dive-too-short') return 'DIVES ARE TOO SHORT for one run: see the dive supervisor.';
  const first = schedule.dives[0];
  const last = first?.pieces.at(-1);
  if (first === undefined || last === undefined) return '';
  const item = work.find((each) => each.no === last.no);
  if (item === undefined) throw new Error(`no work item ${last.no}`);
  return `DIVE 1 of ${schedule.dives.length} ends: ${shortPlace(endOf(context, item, last))}`;
}

/** Where a piece of work ends, as a diver finds it. */
export function endOf(context: Context, item: WeldRun | WeldHold, piece: Piece): string {
  const { fitting, plan } = context;
  if (item.task === 'hold') return `hold point ${item.hold}.`;
  const root = item.layer === 1 ? rootRunAt(fitting, piece) : undefined;
  const what = root === undefined ? `layer ${item.layer} bead ${item.bead}` : `run ${root.run}`;
  if (piece.finishes && root !== undefined && Math.abs(root.toS - piece.toS) < 1) return `${what} done.`;
  const at = alongSide(fitting, piece.toS);
  const names = sideNames(fitting);
  return `${what}, ${names[at.side]}, ${cardLength(at.distance, plan.job.display)} from ${at.from}.`;
}

/** The run of the root, as numbered on the card, in which a piece of the first layer ends. */
function rootRunAt(fitting: FittingPlan, piece: Piece): RootRun | undefined {
  const { root, sequence } = fitting;
  // Just before its end: the end itself may be the start of the next run.
  const s = piece.toS - 0.01 * Math.sign(piece.toS - piece.fromS);
  return sequence.runs.find((run) => {
    const low = Math.min(run.fromS, run.toS);
    const high = Math.max(run.fromS, run.toS);
    return [-1, 0, 1].some((turn) => s + turn * root.perimeter >= low && s + turn * root.perimeter <= high);
  });
}
