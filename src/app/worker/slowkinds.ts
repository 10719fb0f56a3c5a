import type { BestAsk, BestEnd, MapAsk, MapEnd, MapStep } from '../places/kinds.ts';
import type { PlanRequest, TakeAway } from './protocol.ts';
import type { SureEnd } from './sure.ts';

/*
 * Work that takes longer than a blink: each kind has what it is asked with, what it tells on the way and what it ends with.
 * A new kind is one entry here and one line in `slow.worker.ts`.
 */

/** What is told between two breaths of any slow work: the share that is done, 0..1, where it is known. */
export interface Share {
  readonly done: number | null;
}

export interface SlowKinds {
  /** Every paper of a job in one archive; `null` where the job cannot be planned. */
  readonly papers: { readonly input: PlanRequest; readonly progress: Share; readonly result: TakeAway | null };
  /** Where a lug may go, or how it may stand where it is: coarse first, then finer. */
  readonly map: { readonly input: MapAsk; readonly progress: MapStep; readonly result: MapEnd };
  /** How lugs stand best. */
  readonly best: { readonly input: BestAsk; readonly progress: Share; readonly result: BestEnd };
  /** What the errors of the readings do to fit and pull. */
  readonly sure: { readonly input: PlanRequest; readonly progress: Share; readonly result: SureEnd };
}

/** Any such list of kinds. */
export type Kinds<List> = {
  readonly [K in keyof List]: { readonly input: unknown; readonly progress: unknown; readonly result: unknown };
};

/** Slow work itself: it tells how far it is with every `yield`, and can be stopped there. */
export type SlowWork<Kind extends { input: unknown; progress: unknown; result: unknown }> = (
  input: Kind['input'],
) =>
  | Generator<Kind['progress'], Kind['result'], undefined>
  | AsyncGenerator<Kind['progress'], Kind['result'], undefined>;

export type SlowTable<List extends Kinds<List> = SlowKinds> = { readonly [K in keyof List]: SlowWork<List[K]> };

export type SlowOutcome<T> =
  | { readonly kind: 'done'; readonly value: T }
  | { readonly kind: 'cancelled' }
  | { readonly kind: 'broken'; readonly message: string };

/** To the thread. */
export type SlowAsk =
  | { readonly ask: 'start'; readonly id: number; readonly kind: PropertyKey; readonly input: unknown }
  | { readonly ask: 'cancel'; readonly id: number };

/** From the thread; `end` is the last that is heard of an id. */
export type SlowTell =
  | { readonly tell: 'progress'; readonly id: number; readonly progress: unknown }
  | { readonly tell: 'end'; readonly id: number; readonly outcome: SlowOutcome<unknown> };

export type { PlanRequest };
