/*
 * What the second thread and the first say to each other, whatever the work: each kind has what it is asked with, what it tells on
 * the way and what it ends with.
 */

/** What is told between two breaths of any slow work: the share that is done, 0..1, where it is known. */
export interface Share {
  readonly done: number | null;
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

export type SlowTable<List extends Kinds<List>> = { readonly [K in keyof List]: SlowWork<List[K]> };

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
