import type { Stopped } from '../../job/types.ts';
import { orderMark, orderName } from '../../plan/runorder.ts';
import { workAt } from '../scene/marks.ts';
import type { Stop } from '../store/document.ts';
import { append, type Json } from '../store/jsontext.ts';
import type { ScreenFitting } from '../worker/protocol.ts';

/** "Stopped here" at so many runs laid. */
export function stopAt(fitting: ScreenFitting, laid: number, now: Date): Stop {
  const { run, s } = workAt(fitting.sequence.runs, laid);
  return {
    fitting: fitting.id,
    run: run?.run ?? fitting.sequence.runs.length,
    s,
    order: orderName(fitting.sequence.runs),
    at: now.toISOString(),
  };
}

/** The job's text with the end of a dive added to the lug at `index`. */
export function withStop(text: string, index: number, fitting: ScreenFitting, laid: number, now: Date): string {
  const { run, s } = stopAt(fitting, laid, now);
  const entry: { [key: string]: Json } = {
    run,
    s: `${s.toFixed(1)} mm`,
    order: orderMark(fitting.sequence.runs),
    at: now.toISOString(),
  };
  return append(text, ['fittings', index, 'stopped'], entry);
}

/** Ends of dives that the job file has of a lug, as marks. One without an order stands: whoever wrote it there answers for it. */
export function stopsInJob(fitting: ScreenFitting): Stop[] {
  const mark = orderMark(fitting.sequence.runs);
  return (fitting.input.stopped ?? []).map(({ run, s, order, at }: Stopped) => ({
    fitting: fitting.id,
    run,
    s,
    order: order === undefined || order === mark ? orderName(fitting.sequence.runs) : order,
    at: at ?? '',
  }));
}

export type Standing =
  | { readonly kind: 'none' }
  | { readonly kind: 'stands'; readonly stop: Stop; readonly laid: number }
  /** The plan has changed since the dive: nobody can say from here what is welded. */
  | { readonly kind: 'void'; readonly stop: Stop };

/** The last stop on a lug, if its order is still the plan's: of those in the job file, else of those that only the browser kept. */
export function lastStop(fitting: ScreenFitting, stops: readonly Stop[]): Standing {
  const stop = stopsInJob(fitting).at(-1) ?? stops.findLast((s) => s.fitting === fitting.id);
  if (stop === undefined) return { kind: 'none' };
  if (stop.order !== orderName(fitting.sequence.runs)) return { kind: 'void', stop };
  const { runs } = fitting.sequence;
  const index = runs.findIndex((r) => r.run === stop.run);
  const run = runs[index];
  if (run === undefined) return { kind: 'void', stop };
  const length = run.toS - run.fromS;
  const part = length === 0 ? 0 : (stop.s - run.fromS) / length;
  return { kind: 'stands', stop, laid: index + Math.min(1, Math.max(0, part)) };
}
