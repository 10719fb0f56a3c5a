import { create } from 'zustand';
import type { Uncertainty } from '../../plan/spreads.ts';
import { useDocument } from '../store/document.ts';
import { usePlanning } from '../store/planning.ts';
import type { PlanRequest } from '../worker/protocol.ts';
import { type Running, startSlow } from '../worker/slow.ts';
import type { SlowOutcome } from '../worker/slowwork.ts';
import type { SureEnd } from '../worker/sure.ts';

/** How sure a plan is: always with the very input that it was found for. */
export interface SureState {
  readonly known: { readonly request: PlanRequest; readonly end: SureEnd } | null;
  /** Under way: the share that is done, 0..1. */
  readonly under: { readonly request: PlanRequest; readonly done: number } | null;
  readonly trouble: string | null;
}

export const useSure = create<SureState>()(() => ({ known: null, under: null, trouble: null }));

/** A plan has stood for so long before its readings are followed through. ms */
export const SETTLED = 500;

export const sameJob = (a: Pick<PlanRequest, 'text' | 'files'>, b: Pick<PlanRequest, 'text' | 'files'>): boolean =>
  a.text === b.text && a.files === b.files;

let running: { readonly work: Running<SureEnd>; readonly request: PlanRequest } | undefined;

/** Whether any figure of the job says how far it may be off, or the shell is a scan, which says so itself. */
const mayBeUnsure = (text: string): boolean => /±|\\u00b1|\+\s*\/?\s*[-\u2212]/i.test(text) || /"mesh"/.test(text);

function start(request: PlanRequest): Running<SureEnd> {
  if (running !== undefined && sameJob(running.request, request)) return running.work;
  running?.work.cancel();
  useSure.setState({ under: { request, done: 0 }, trouble: null });
  const work = startSlow('sure', request, ({ done }) => {
    if (running?.work === work) useSure.setState({ under: { request, done: done ?? 0 } });
  });
  running = { work, request };
  void work.result.then((outcome) => {
    if (running?.work !== work) return;
    running = undefined;
    if (outcome.kind === 'done') useSure.setState({ known: { request, end: outcome.value }, under: null });
    else useSure.setState({ under: null, trouble: outcome.kind === 'broken' ? outcome.message : null });
  });
  return work;
}

function stop(): void {
  running?.work.cancel();
  running = undefined;
  if (useSure.getState().under !== null) useSure.setState({ under: null });
}

/** Follows the readings of every plan through that stands for a while; newer input stops it. */
export function keepSure(): void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const now = (): void => {
    const { shown } = usePlanning.getState();
    const document = useDocument.getState();
    if (running !== undefined && !sameJob(running.request, document)) stop();
    if (shown === null || !sameJob(shown.request, document)) {
      clearTimeout(timer);
      return;
    }
    const { known } = useSure.getState();
    if ((known !== null && sameJob(known.request, document)) || running !== undefined) return;
    clearTimeout(timer);
    if (!mayBeUnsure(document.text)) {
      useSure.setState({ known: { request: shown.request, end: { kind: 'nothing' } } });
      return;
    }
    timer = setTimeout(() => void start(shown.request), SETTLED);
  };
  usePlanning.subscribe(now);
  useDocument.subscribe(now);
  now();
}

/** What is known of a job, found out first where it is not; undefined where there is nothing to say. */
export async function sureOf(request: PlanRequest): Promise<Uncertainty | undefined> {
  const { known } = useSure.getState();
  if (known !== null && sameJob(known.request, request)) return saidBy(known.end);
  if (!mayBeUnsure(request.text)) return undefined;
  const outcome: SlowOutcome<SureEnd> = await start(request).result;
  if (outcome.kind === 'broken') throw new Error(outcome.message);
  if (outcome.kind === 'cancelled') throw new Error('the job was changed while its readings were followed through');
  return saidBy(outcome.value);
}

const saidBy = (end: SureEnd): Uncertainty | undefined => (end.kind === 'sampled' ? end.uncertainty : undefined);
