import { alignLoad, type LoadAlignment } from '../../../geometry/align/align.ts';
import { type LugFrame, toShip } from '../../../geometry/lug/frame.ts';
import { length } from '../../../geometry/math/vec.ts';
import type { Fitting, Job } from '../../job/types.ts';
import { weightOf } from '../../rigging/load.ts';
import { defaultFactors } from '../../strength/factors.ts';
import { type PullCase, pullAt } from './pulls.ts';

/** The pulls on a lug at one spot: what of them is greatest, and those few that decide its strength. N, rad, lug frame. */
export interface SpotPulls {
  readonly sideways: number;
  readonly greatest: number;
  /** Among pulls that count (`lift.limits.unhookShare` of the weight and more). */
  readonly offPlane: number;
  /** The greatest pull and the one that bends the weld and the shell most: everything is checked under these. */
  readonly all: readonly LoadAlignment[];
  /** The most sideways one, where it is another: it bends the plate most. */
  readonly plate: readonly LoadAlignment[];
  /** Those that lean most in and off the plane of the lug, where they are others: for the shackle. */
  readonly shackle: readonly LoadAlignment[];
  /** N. A pull smaller than this is a slack line's, which says nothing of how a shackle lies; 0 where no pull is greater. */
  readonly slack: number;
  /** Greatest pull of one line where several pull at once. */
  readonly line: number | undefined;
}

export function spotPulls(job: Job, fitting: Fitting, frame: LugFrame, cases: readonly PullCase[]): SpotPulls {
  const { pinHeight } = fitting.lug;
  const pin = toShip(frame, 0, pinHeight, 0);
  // Of a movement the pulls that count for the angle are those that a line may not be taken off under.
  const { lift } = job;
  const least = lift === undefined ? 0 : lift.limits.unhookShare * weightOf(lift.load.mass - lift.load.displaced);
  const bends = bendingOf(job, fitting);
  const most = new Most();
  const weld = new Most();
  const side = new Most();
  const inPlane = new Most();
  const offPlane = new Most();
  const tautInPlane = new Most();
  let counted = 0;
  let line = 0;
  let shared = false;
  for (const { parts } of cases) {
    let ends = 0;
    for (const part of parts) {
      if (!('toward' in part)) continue;
      ends += 1;
      line = Math.max(line, part.force);
    }
    shared ||= ends > 1;
    const pull = pullAt({ parts }, pin);
    const force = length(pull);
    const load = force > 0 ? alignLoad(frame, pinHeight, { direction: pull }, force) : undefined;
    if (load === undefined) continue;
    if (force >= least) {
      counted = Math.max(counted, Math.abs(load.offPlane));
      tautInPlane.take(Math.abs(load.inPlane), load);
    }
    most.take(force, load);
    weld.take(bends(load), load);
    side.take(Math.abs(load.sideways), load);
    inPlane.take(Math.abs(load.inPlane), load);
    offPlane.take(Math.abs(load.offPlane), load);
  }
  const all = unlike([], [most, weld]);
  const plate = unlike(all, [side]);
  return {
    sideways: Math.max(0, side.value),
    greatest: Math.max(0, most.value),
    offPlane: counted,
    all,
    plate,
    shackle: unlike([...all, ...plate], [tautInPlane.load === undefined ? inPlane : tautInPlane, offPlane]),
    slack: tautInPlane.load === undefined ? 0 : least,
    line: shared ? line : undefined,
  };
}

class Most {
  value = Number.NEGATIVE_INFINITY;
  load: LoadAlignment | undefined;

  take(value: number, load: LoadAlignment): void {
    if (value <= this.value) return;
    this.value = value;
    this.load = load;
  }
}

const unlike = (known: readonly LoadAlignment[], found: readonly Most[]): LoadAlignment[] =>
  found.flatMap(({ load }, i) =>
    load === undefined || known.includes(load) || found.slice(0, i).some((other) => other.load === load) ? [] : [load],
  );

/**
 * How much a pull asks of the weld round the foot, for comparing pulls on one lug: the greatest force square to the shell per length of a
 * line weld round the foot's rectangle (foot l, plate t; section moduli l^2/3 + l t and t^2/3 + l t), with the least sideways share
 * that the job designs for. Only tells which pull is worst.
 */
function bendingOf(job: Job, { lug }: Fitting): (load: LoadAlignment) => number {
  const { foot: l, thickness: t, pinHeight: h } = lug;
  const share = job.factors.sidewaysAllowance ?? defaultFactors(job.basis).sidewaysAllowance.value;
  return ({ alongStem, alongFoot, sideways, force }) =>
    Math.abs(alongStem) / (2 * (l + t)) +
    (Math.abs(alongFoot) * h) / ((l * l) / 3 + l * t) +
    (Math.max(Math.abs(sideways), share * force) * h) / ((t * t) / 3 + l * t);
}
