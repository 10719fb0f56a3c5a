import { within } from './sourced.ts';

/** A run to weld, or a hold point, in the order of the work. Minutes are bottom time. */
export interface WorkItem {
  /** From 1, rising; what a diver calls the run by. */
  readonly no: number;
  readonly task: 'run' | 'hold';
  readonly minutes: number;
  /** mm along the root line; both 0 at a hold point. */
  readonly fromS: number;
  readonly toS: number;
  /** Electrodes it burns, not rounded; 0 at a hold point. A run can only be left between electrodes. */
  readonly electrodes: number;
}

/** Part of an item done in one dive: shares of its length, 0..1. */
export interface Piece {
  readonly no: number;
  readonly fromShare: number;
  readonly toShare: number;
  readonly fromS: number;
  readonly toS: number;
  readonly minutes: number;
  /** Whether the item is finished with it. */
  readonly finishes: boolean;
}

export interface Dive {
  /** From 1. */
  readonly dive: number;
  /** Bottom time used, overhead included. */
  readonly minutes: number;
  readonly pieces: readonly Piece[];
}

/** What the crew's dives are like, min: the dive supervisor's figures. No dive table, no decompression. */
export interface DiveTerms {
  /** Bottom time of a dive. */
  readonly bottomTime: number;
  /** Part of it that is not work. */
  readonly overhead: number;
  /** Grinding the stop before a run is taken up again. */
  readonly restart: number;
}

/** Where the work stands: items before `index` are done, and this one to `share`. */
export interface Progress {
  readonly index: number;
  readonly share: number;
}

export interface PlannedSchedule {
  readonly kind: 'planned';
  readonly items: readonly WorkItem[];
  readonly terms: DiveTerms;
  readonly start: Progress;
  readonly dives: readonly Dive[];
  /** Bottom time still to come, overhead included. */
  readonly minutes: number;
}

/** A dive too short for the least step of work, which needs `least` minutes of bottom time. */
export interface ShortDives {
  readonly kind: 'dive-too-short';
  readonly least: number;
}

export type Schedule = PlannedSchedule | ShortDives;

/**
 * Spreads the work over dives: in order, nothing left out, nothing twice. A run that does not fit in what is left of a dive
 * waits for the next one, unless no dive holds it: then it is left between electrodes and taken up again, its stop ground.
 * A hold point is never divided.
 *
 * @param start where the work stands, nothing done by default. @param firstDive number of the first dive planned.
 * @throws RangeError where a term is no time, or the items are not numbered upwards.
 */
export function scheduleDives(
  items: readonly WorkItem[],
  terms: DiveTerms,
  start: Progress = { index: 0, share: 0 },
  firstDive = 1,
): Schedule {
  within('bottomTime', terms.bottomTime, Number.MIN_VALUE, Number.MAX_VALUE);
  within('overhead', terms.overhead, 0, Number.MAX_VALUE);
  within('restart', terms.restart, 0, Number.MAX_VALUE);
  items.forEach((item, index) => {
    const last = items[index - 1];
    if (last !== undefined && item.no <= last.no) throw new RangeError('work items must be numbered upwards');
  });
  const work = terms.bottomTime - terms.overhead;
  const least = Math.max(0, ...items.slice(start.index).map((item) => stepMinutes(item) + restartOf(item, terms)));
  if (least > work + MINUTE_ROUND_OFF) return { kind: 'dive-too-short', least: least + terms.overhead };
  const dives: Dive[] = [];
  let pieces: Piece[] = [];
  let used = 0;
  const surface = () => {
    if (pieces.length > 0) {
      const minutes = terms.overhead + pieces.reduce((sum, piece) => sum + piece.minutes, 0);
      dives.push({ dive: firstDive + dives.length, minutes, pieces });
    }
    pieces = [];
    used = 0;
  };
  items.slice(start.index).forEach((item, offset) => {
    let done = offset === 0 ? start.share : 0;
    while (done < 1) {
      const restart = done > 0 ? terms.restart : 0;
      const left = work - used - restart;
      const rest = (1 - done) * item.minutes;
      const to = rest <= left + MINUTE_ROUND_OFF ? 1 : stopBefore(item, done, left, work, terms);
      if (to <= done) {
        surface();
        continue;
      }
      const minutes = (to - done) * item.minutes + restart;
      pieces.push({
        no: item.no,
        fromShare: done,
        toShare: to,
        fromS: placeAt(item, done),
        toS: placeAt(item, to),
        minutes,
        finishes: to === 1,
      });
      used += minutes;
      done = to;
      if (done < 1) surface();
    }
  });
  surface();
  return {
    kind: 'planned',
    items,
    terms,
    start,
    dives,
    minutes: dives.reduce((sum, dive) => sum + dive.minutes, 0),
  };
}

/**
 * The dive was cut short at item `no`, with `share` of it welded: plans what is left from there, beginning with a new dive.
 * What was welded stays welded; the stop is ground before the run is taken up.
 *
 * @param share 0..1, 0 where the run was not struck. A hold point that was not passed has none.
 * @throws RangeError where the schedule has no such item left, or the share is outside its range.
 */
export function cutShort(schedule: PlannedSchedule, no: number, share = 0): Schedule {
  within('share', share, 0, 1);
  const index = schedule.items.findIndex((item) => item.no === no);
  const item = schedule.items[index];
  if (item === undefined || index < schedule.start.index)
    throw new RangeError(`the schedule has no item ${no} left to do`);
  if (item.task === 'hold' && share > 0 && share < 1) throw new RangeError('a hold point is passed or not passed');
  if (index === schedule.start.index && share < schedule.start.share)
    throw new RangeError(`item ${no} was already welded to a share of ${schedule.start.share}`);
  const during = schedule.dives.findLast((dive) =>
    dive.pieces.some((piece) => piece.no === no && piece.fromShare <= share),
  );
  const lastDive = during?.dive ?? schedule.dives[0]?.dive ?? 1;
  return scheduleDives(schedule.items, schedule.terms, { index, share }, lastDive + 1);
}

/** Share of a run that is welded when its end stands at s, 0..1, for `cutShort`. @throws RangeError off the run. */
export function shareAt(item: WorkItem, s: number): number {
  const share = (s - item.fromS) / (item.toS - item.fromS);
  within(`s on run ${item.no}`, share, 0, 1);
  return share;
}

/** min by which a sum of times may miss through round-off. */
const MINUTE_ROUND_OFF = 1e-9;

/** Steps a run can be left between: whole electrodes. */
function stepsOf(item: WorkItem): number {
  return item.task === 'hold' ? 1 : Math.max(1, Math.ceil(item.electrodes - MINUTE_ROUND_OFF));
}

function stepMinutes(item: WorkItem): number {
  return item.minutes / stepsOf(item);
}

function restartOf(item: WorkItem, terms: DiveTerms): number {
  return stepsOf(item) > 1 ? terms.restart : 0;
}

/** How far a run comes in `left` minutes, in whole electrodes; `done` itself where it should wait for a fresh dive. */
function stopBefore(item: WorkItem, done: number, left: number, work: number, terms: DiveTerms): number {
  const wholeFits = (1 - done) * item.minutes + (done > 0 ? terms.restart : 0) <= work + MINUTE_ROUND_OFF;
  if (wholeFits) return done;
  const steps = stepsOf(item);
  const reached = Math.floor((done + left / item.minutes) * steps + MINUTE_ROUND_OFF) / steps;
  return reached > done + MINUTE_ROUND_OFF ? reached : done;
}

function placeAt(item: WorkItem, share: number): number {
  return share === 1 ? item.toS : item.fromS + (item.toS - item.fromS) * share;
}
