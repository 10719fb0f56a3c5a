import { create } from 'zustand';
import type { Fault } from '../../job/types.ts';
import type { Drawing, DrawingReply, LugDrawing, PlanReply, PlanRequest, ScreenPlan } from '../worker/protocol.ts';

/** A plan with the very input it was made from: the two never part. */
export interface Shown {
  readonly request: PlanRequest;
  readonly plan: ScreenPlan;
  readonly lugs: readonly LugDrawing[];
  /** null: there is a plan, and no picture of it; `missing` says why. */
  readonly drawing: Drawing | null;
  readonly missing: string | null;
}

export interface PlanningState {
  /** The last good plan; null before the first. */
  readonly shown: Shown | null;
  /** What is wrong with the newest input that was looked at, if anything. */
  readonly trouble: Trouble | null;
  /** The newest input has been waiting so long that a person would notice. */
  readonly slow: boolean;
}

export type Trouble =
  | { readonly kind: 'faults'; readonly text: string; readonly faults: readonly Fault[] }
  | { readonly kind: 'broken'; readonly text: string; readonly message: string };

export const usePlanning = create<PlanningState>()(() => ({ shown: null, trouble: null, slow: false }));

/** After this wait the screen says that it is planning. ms */
export const NOTICEABLE = 250;

/**
 * Sends jobs to the worker, one at a time: while one is planned only the newest of those that wait is kept. Each
 * answer belongs to its request, so an answer overtaken by newer input still shows a plan that is whole; the newest
 * always comes last. `plan` is the worker, or a stand-in under test.
 */
export function planner(plan: (request: PlanRequest) => Promise<PlanReply>): (request: PlanRequest) => void {
  let busy = false;
  let waiting: PlanRequest | undefined;
  let timer: ReturnType<typeof setTimeout> | undefined;

  const run = async (request: PlanRequest): Promise<void> => {
    busy = true;
    timer ??= setTimeout(() => usePlanning.setState({ slow: true }), NOTICEABLE);
    let reply: PlanReply;
    try {
      reply = await plan(request);
    } catch (error) {
      reply = { kind: 'broken', message: error instanceof Error ? error.message : String(error) };
    }
    take(request, reply);
    const next = waiting;
    waiting = undefined;
    if (next !== undefined) return run(next);
    clearTimeout(timer);
    timer = undefined;
    busy = false;
    if (usePlanning.getState().slow) usePlanning.setState({ slow: false });
  };

  return (request) => {
    if (busy) waiting = request;
    else void run(request);
  };
}

function take(request: PlanRequest, reply: PlanReply): void {
  const { text } = request;
  switch (reply.kind) {
    case 'planned':
      usePlanning.setState((before) => ({
        shown: {
          request,
          plan: reply.plan,
          lugs: reply.lugs,
          ...pictureOf(reply.drawing, before.shown?.drawing ?? null),
        },
        trouble: null,
      }));
      return;
    case 'refused':
      usePlanning.setState({ trouble: { kind: 'faults', text, faults: reply.faults } });
      return;
    case 'wants':
      return; // the plan comes when they are read
    case 'broken':
      usePlanning.setState({ trouble: { kind: 'broken', text, message: reply.message } });
  }
}

/** Which text the statement shows: the document's, unless its plan is due within the blink of an eye. */
export function standingText(documentText: string, state: PlanningState): string {
  const { shown, trouble, slow } = state;
  if (shown === null || shown.request.text === documentText || slow) return documentText;
  if (trouble !== null && trouble.text === documentText) return documentText;
  return trouble === null ? shown.request.text : documentText;
}

function pictureOf(reply: DrawingReply, before: Drawing | null): Pick<Shown, 'drawing' | 'missing'> {
  if (reply.kind === 'drawn') return { drawing: reply.drawing, missing: null };
  if (reply.kind === 'same') return { drawing: before, missing: null };
  return { drawing: null, missing: reply.reason };
}
