import type { SlowKinds } from './slowkinds.ts';
import type { Kinds, SlowAsk, SlowOutcome, SlowTable, SlowTell } from './slowwork.ts';

/** The thread's end of the line, or one half of a channel under test. */
export interface Line<In, Out> {
  postMessage(message: Out): void;
  addEventListener(type: 'message', listener: (event: { readonly data: In }) => void): void;
}

/** Longest stretch without looking for messages. ms */
const BREATH = 12;

/** Does slow work as it is asked for, several kinds by turns, and stops what is cancelled at its next step. */
export function serveSlow<List extends Kinds<List> = SlowKinds>(
  line: Line<SlowAsk, SlowTell>,
  table: SlowTable<List>,
): void {
  const running = new Map<number, { cancelled: boolean }>();

  const run = async (id: number, kind: PropertyKey, input: unknown): Promise<SlowOutcome<unknown>> => {
    const state = { cancelled: false };
    running.set(id, state);
    const work = (table[kind as keyof List] as (input: unknown) => Generator<unknown> | AsyncGenerator<unknown>)(input);
    let breathed = performance.now();
    for (;;) {
      const step = await work.next();
      if (step.done === true) return { kind: 'done', value: step.value };
      line.postMessage({ tell: 'progress', id, progress: step.value });
      if (performance.now() - breathed > BREATH) {
        await nextTurn();
        breathed = performance.now();
      }
      if (state.cancelled) {
        await work.return(undefined);
        return { kind: 'cancelled' };
      }
    }
  };

  line.addEventListener('message', ({ data }) => {
    if (data.ask === 'cancel') {
      const state = running.get(data.id);
      if (state !== undefined) state.cancelled = true;
      return;
    }
    const { id, kind, input } = data;
    run(id, kind, input)
      .catch(
        (error: unknown): SlowOutcome<unknown> => ({
          kind: 'broken',
          message: error instanceof Error ? error.message : String(error),
        }),
      )
      .then((outcome) => {
        running.delete(id);
        line.postMessage({ tell: 'end', id, outcome });
      });
  });
}

/** Lets messages that have come in be heard: a promise alone would not. */
function nextTurn(): Promise<void> {
  return new Promise((done) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      done();
    };
    port2.postMessage(null);
  });
}
