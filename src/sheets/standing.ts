import type { RootRun } from '../../geometry/sequence/sequence.ts';
import type { Stopped } from '../job/types.ts';
import { orderMark } from '../plan/runorder.ts';
import type { FittingPlan } from '../plan/types.ts';
import { type Progress, type Schedule, scheduleDives } from '../weld/schedule.ts';

/** Where the welding of a lug stands by the ends of dives that its job has. */
export type Standing =
  | { readonly kind: 'none' }
  /** The order of runs has changed since the dive: nobody can say from here what is welded. */
  | { readonly kind: 'void'; readonly stop: Stopped }
  | {
      readonly kind: 'stands';
      readonly stop: Stopped;
      /** Number of the dive that ended there. */
      readonly dive: number;
      /** Runs of the root that are whole, the first so many. */
      readonly done: number;
      /** mm along the root to which the run after them is welded; undefined where it is not begun, or no run is left. */
      readonly partTo?: number;
      /** Where the work goes on. */
      readonly progress: Progress;
    };

/** mm. Nearer to the end of a run than this it is at its end: no electrode is struck for less. */
const AT_END = 1;

/** The last end of a dive, if it was made on the order of runs that the plan still has. One without a mark of its order stands. */
export function standingOf(fitting: FittingPlan): Standing {
  const { runs } = fitting.sequence;
  const stops = fitting.input.stopped ?? [];
  const stop = stops.at(-1);
  if (stop === undefined) return { kind: 'none' };
  const index = runs.findIndex((run) => run.run === stop.run);
  const run = runs[index];
  if (run === undefined || (stop.order !== undefined && stop.order !== orderMark(runs))) return { kind: 'void', stop };
  const long = Math.abs(run.toS - run.fromS);
  const laid = Math.min(long, Math.max(0, (stop.s - run.fromS) * Math.sign(run.toS - run.fromS)));
  const dive = stop.dive ?? stops.length;
  const whole = laid > long - AT_END;
  const begun = !whole && laid > AT_END;
  const s = run.fromS + Math.sign(run.toS - run.fromS) * laid;
  return {
    kind: 'stands',
    stop,
    dive,
    done: whole ? index + 1 : index,
    ...(begun ? { partTo: s } : {}),
    progress: progressAt(fitting, run, whole ? run.toS : begun ? s : run.fromS),
  };
}

/** The work item that a place on a run of the root belongs to, and the share of it that is done there. */
function progressAt(fitting: FittingPlan, run: RootRun, s: number): Progress {
  const { work } = fitting.weld;
  const way = Math.sign(run.toS - run.fromS);
  let before = 0;
  for (const [index, item] of work.entries()) {
    if (item.task === 'hold' || item.layer !== 1 || rootRunAt(fitting, item) !== run) continue;
    before = index + 1;
    // Items of one run may be counted from one turn of the root farther on.
    const turn = Math.round((run.fromS - item.fromS) / fitting.root.perimeter) * fitting.root.perimeter;
    const share = ((s - item.fromS - turn) * way) / Math.abs(item.toS - item.fromS);
    if (share < 1 - 1e-9) return { index, share: Math.max(0, share) };
  }
  return { index: before, share: 0 };
}

/** The run of the root, as numbered on the card, in which a piece of the first layer ends. */
export function rootRunAt(
  { root, sequence }: FittingPlan,
  piece: { readonly fromS: number; readonly toS: number },
): RootRun | undefined {
  // Just before its end: the end itself may be the start of the next run.
  const s = piece.toS - 0.01 * Math.sign(piece.toS - piece.fromS);
  return sequence.runs.find((run) => {
    const low = Math.min(run.fromS, run.toS);
    const high = Math.max(run.fromS, run.toS);
    return [-1, 0, 1].some((turn) => s + turn * root.perimeter >= low && s + turn * root.perimeter <= high);
  });
}

/** The dives still to come: of what is left to do where dives have ended already; null where no bottom time is given. */
export function divesToCome(fitting: FittingPlan, standing: Standing): Schedule | null {
  const { schedule } = fitting.weld;
  if (schedule?.kind !== 'planned' || standing.kind !== 'stands') return schedule;
  return scheduleDives(schedule.items, schedule.terms, standing.progress, standing.dive + 1);
}
