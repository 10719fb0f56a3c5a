import { workAt } from '../scene/marks.ts';
import type { Stop } from '../store/document.ts';
import type { ScreenFitting } from '../worker/protocol.ts';

/** The order of runs in a word that changes whenever the order does: a mark made on another order is void. */
export function orderName({ sequence }: ScreenFitting): string {
  return sequence.runs.map((r) => `${r.run}:${r.fromS.toFixed(1)}>${r.toS.toFixed(1)}`).join(' ');
}

/** "Stopped here" at so many runs laid. */
export function stopAt(fitting: ScreenFitting, laid: number, now: Date): Stop {
  const { run, s } = workAt(fitting.sequence.runs, laid);
  return {
    fitting: fitting.id,
    run: run?.run ?? fitting.sequence.runs.length,
    s,
    order: orderName(fitting),
    at: now.toISOString(),
  };
}

export type Standing =
  | { readonly kind: 'none' }
  | { readonly kind: 'stands'; readonly stop: Stop; readonly laid: number }
  /** The plan has changed since the dive: nobody can say from here what is welded. */
  | { readonly kind: 'void'; readonly stop: Stop };

/** The last stop on a lug, if its order is still the plan's. */
export function lastStop(fitting: ScreenFitting, stops: readonly Stop[]): Standing {
  const stop = stops.findLast((s) => s.fitting === fitting.id);
  if (stop === undefined) return { kind: 'none' };
  if (stop.order !== orderName(fitting)) return { kind: 'void', stop };
  const { runs } = fitting.sequence;
  const index = runs.findIndex((r) => r.run === stop.run);
  const run = runs[index];
  if (run === undefined) return { kind: 'void', stop };
  const length = run.toS - run.fromS;
  const part = length === 0 ? 0 : (stop.s - run.fromS) / length;
  return { kind: 'stands', stop, laid: index + Math.min(1, Math.max(0, part)) };
}
