import { create } from 'zustand';
import { edit } from '../store/document.ts';
import { notify } from '../store/session.ts';
import type { PlanRequest } from '../worker/protocol.ts';
import { type Running, startSlow } from '../worker/slow.ts';
import type { SlowKinds } from '../worker/slowkinds.ts';
import type { BestEnd } from './kinds.ts';

export interface BestWanted {
  readonly heading: boolean;
  readonly lean: boolean;
  readonly place: boolean;
  /** mm either way along and round. */
  readonly within: number;
  /** The lug looked at alone, or every one of the job together. */
  readonly together: boolean;
}

export interface BestState {
  readonly wanted: BestWanted;
  readonly running: boolean;
  /** 0..1 of the most looks there can be. */
  readonly done: number;
  /** The last answer, with the job that it was found for and the lugs asked about. */
  readonly answer: { readonly request: PlanRequest; readonly ids: readonly string[]; readonly end: BestEnd } | null;
  readonly trouble: string | null;
}

export const useBest = create<BestState>()(() => ({
  wanted: { heading: true, lean: true, place: false, within: 200, together: false },
  running: false,
  done: 0,
  answer: null,
  trouble: null,
}));

let under: Running<SlowKinds['best']['result']> | undefined;

/** Looks for the best stance of these lugs; a look that was under way is given up. */
export function seekBest(request: PlanRequest, ids: readonly string[]): void {
  under?.cancel();
  const { wanted } = useBest.getState();
  const { heading, lean, place, within } = wanted;
  useBest.setState({ running: true, done: 0, answer: null, trouble: null });
  const work = startSlow(
    'best',
    { request, ids, freedom: { heading, lean, ...(place ? { girth: within, station: within } : {}) } },
    ({ done }) => {
      if (under === work && done !== null) useBest.setState({ done });
    },
  );
  under = work;
  void work.result.then((outcome) => {
    if (under !== work) return;
    under = undefined;
    useBest.setState({
      running: false,
      answer: outcome.kind === 'done' ? { request, ids, end: outcome.value } : null,
      trouble: outcome.kind === 'broken' ? outcome.message : null,
    });
  });
}

export function stopBest(): void {
  under?.cancel();
  under = undefined;
  useBest.setState({ running: false });
}

/** Writes what was found into the job, as one step that can be undone; not where the job has changed since. */
export function standSo(): void {
  const { answer } = useBest.getState();
  if (answer?.end.kind !== 'looked') return;
  const { request, end } = answer;
  edit((text) => {
    if (text === request.text) return end.text;
    notify('The job has changed since this stance was looked for: look again.');
    return text;
  });
}
