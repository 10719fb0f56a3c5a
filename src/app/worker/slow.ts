import type { SlowKinds } from './slowkinds.ts';
import type { Line } from './slowserver.ts';
import type { Kinds, SlowAsk, SlowOutcome, SlowTell } from './slowwork.ts';

/** Work under way in the second thread. */
export interface Running<T> {
  /** Never rejects: what went wrong is an outcome. */
  readonly result: Promise<SlowOutcome<T>>;
  /** Stops it. The outcome is `cancelled` at once, whatever the thread is doing; nothing is told after this. */
  cancel(): void;
}

/** A thread that can be done away with. */
export interface Thread extends Line<SlowTell, SlowAsk> {
  terminate(): void;
}

/** A step that is longer than this after it was cancelled costs the thread its life: nobody waits for it. ms */
export const PATIENCE = 1500;

interface Waiting {
  readonly ask: Extract<SlowAsk, { ask: 'start' }>;
  readonly progress: (progress: unknown) => void;
  readonly end: (outcome: SlowOutcome<unknown>) => void;
}

/** Gives slow work to one thread, made when the first is asked for. */
export class SlowDesk<List extends Kinds<List> = SlowKinds> {
  readonly #make: (failed: (message: string) => void) => Thread;
  #thread: Thread | undefined;
  #last = 0;
  readonly #waiting = new Map<number, Waiting>();
  /** Cancelled and not yet ended in the thread. */
  readonly #leaving = new Map<number, ReturnType<typeof setTimeout>>();

  constructor(make: (failed: (message: string) => void) => Thread) {
    this.#make = make;
  }

  start<K extends keyof List>(
    kind: K,
    input: List[K]['input'],
    onProgress: (progress: List[K]['progress']) => void = () => {},
  ): Running<List[K]['result']> {
    const id = ++this.#last;
    const ask = { ask: 'start', id, kind, input } as const;
    const result = new Promise<SlowOutcome<List[K]['result']>>((end) => {
      this.#waiting.set(id, {
        ask,
        progress: onProgress as (progress: unknown) => void,
        end: end as (outcome: SlowOutcome<unknown>) => void,
      });
    });
    this.#threadNow().postMessage(ask);
    return { result, cancel: () => this.#cancel(id) };
  }

  #cancel(id: number): void {
    if (!this.#waiting.has(id)) return;
    this.#finish(id, { kind: 'cancelled' });
    this.#thread?.postMessage({ ask: 'cancel', id });
    this.#leaving.set(
      id,
      setTimeout(() => this.#restart(), PATIENCE),
    );
  }

  #finish(id: number, outcome: SlowOutcome<unknown>): void {
    const waiting = this.#waiting.get(id);
    this.#waiting.delete(id);
    waiting?.end(outcome);
  }

  /** A new thread in place of one that does not listen; what is still wanted begins again there. */
  #restart(): void {
    for (const timer of this.#leaving.values()) clearTimeout(timer);
    this.#leaving.clear();
    this.#thread?.terminate();
    this.#thread = undefined;
    if (this.#waiting.size === 0) return;
    const thread = this.#threadNow();
    for (const { ask } of this.#waiting.values()) thread.postMessage(ask);
  }

  #threadNow(): Thread {
    if (this.#thread !== undefined) return this.#thread;
    const thread = this.#make((message) => {
      if (this.#thread !== thread) return;
      for (const id of [...this.#waiting.keys()]) this.#finish(id, { kind: 'broken', message });
      this.#restart();
    });
    thread.addEventListener('message', ({ data }) => {
      if (this.#thread !== thread) return;
      if (data.tell === 'progress') {
        this.#waiting.get(data.id)?.progress(data.progress);
        return;
      }
      clearTimeout(this.#leaving.get(data.id));
      this.#leaving.delete(data.id);
      this.#finish(data.id, data.outcome);
    });
    this.#thread = thread;
    return thread;
  }
}

const desk = new SlowDesk((failed) => {
  const made = new Worker(new URL('./slow.worker.ts', import.meta.url), { type: 'module', name: 'slow work' });
  made.addEventListener('error', (e) => {
    failed(e.message === '' ? 'the part of the program that does slow work could not be loaded' : e.message);
  });
  return made;
});

/** Slow work in the second thread of the app; see `SlowKinds` for what there is. */
export const startSlow: SlowDesk['start'] = (kind, input, onProgress) => desk.start(kind, input, onProgress);
