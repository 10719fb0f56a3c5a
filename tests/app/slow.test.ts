import { afterEach, describe, expect, test, vi } from 'vitest';
import { PATIENCE, SlowDesk, type Thread } from '../../src/app/worker/slow.ts';
import { serveSlow } from '../../src/app/worker/slowserver.ts';
import type { Share, SlowAsk, SlowTell, SlowWork } from '../../src/app/worker/slowwork.ts';

/* Slow work over a real channel, as between two threads. */

const open: MessagePort[] = [];
afterEach(() => {
  for (const port of open.splice(0)) port.close();
  vi.useRealTimers();
});

/** Slow work that counts to `n`. */
interface Counting {
  readonly count: { readonly input: { readonly n: number }; readonly progress: Share; readonly result: number };
}
type Count = SlowWork<Counting['count']>;

const counting: Count = function* ({ n }) {
  for (let i = 0; i < n; i++) yield { done: i / n };
  return n;
};

function deskWith(count: Count) {
  const made: { ended: boolean }[] = [];
  const desk = new SlowDesk<Counting>(() => {
    const { port1, port2 } = new MessageChannel();
    open.push(port1, port2);
    const state = { ended: false };
    made.push(state);
    serveSlow<Counting>(port2 as unknown as Parameters<typeof serveSlow>[0], { count });
    port2.start();
    port1.start();
    return {
      postMessage: (m: SlowAsk) => port1.postMessage(m),
      addEventListener: (_: 'message', f: (event: { data: SlowTell }) => void) => {
        port1.addEventListener('message', (e) => {
          if (!state.ended) f({ data: e.data as SlowTell });
        });
      },
      terminate: () => {
        state.ended = true;
      },
    } satisfies Thread;
  });
  return { desk, made };
}

describe('slow work', () => {
  test('tells how far it is and ends with its result', async () => {
    const { desk } = deskWith(counting);
    const told: (number | null)[] = [];
    const outcome = await desk.start('count', { n: 4 }, ({ done }) => told.push(done)).result;
    expect(outcome).toEqual({ kind: 'done', value: 4 });
    expect(told).toEqual([0, 0.25, 0.5, 0.75]);
  });

  test('ends at once when cancelled, tells nothing more, and the thread stops too', async () => {
    let steps = 0;
    const { desk, made } = deskWith(async function* () {
      for (;;) {
        steps++;
        await new Promise((done) => setTimeout(done, 1));
        yield { done: null };
      }
    });
    let told = 0;
    const work = desk.start('count', { n: 1 }, () => told++);
    await vi.waitFor(() => expect(told).toBeGreaterThan(2));
    work.cancel();
    const [stepsThen, toldThen] = [steps, told];
    expect(await work.result).toEqual({ kind: 'cancelled' });
    await new Promise((done) => setTimeout(done, 60));
    expect(told).toBe(toldThen);
    expect(steps - stepsThen).toBeLessThan(30);
    const stepsLater = steps;
    await new Promise((done) => setTimeout(done, 40));
    expect(steps).toBe(stepsLater);
    expect(made).toHaveLength(1);
  });

  test('a step that does not end costs the thread its life; what is still wanted begins again', async () => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
    let threads = 0;
    const { desk, made } = deskWith(async function* ({ n }) {
      threads++;
      yield { done: 0 };
      if (n === 0 || threads < 3) await new Promise(() => {});
      return n;
    });
    const stuck = desk.start('count', { n: 0 });
    const wanted = desk.start('count', { n: 7 });
    stuck.cancel();
    expect(await stuck.result).toEqual({ kind: 'cancelled' });
    vi.advanceTimersByTime(PATIENCE + 1);
    vi.useRealTimers();
    expect(await wanted.result).toEqual({ kind: 'done', value: 7 });
    expect(made.map((m) => m.ended)).toEqual([true, false]);
  });

  test('what goes wrong is an outcome with its words', async () => {
    // biome-ignore lint/correctness/useYield: it fails before its first step
    const { desk } = deskWith(function* () {
      throw new Error('no such place');
    });
    expect(await desk.start('count', { n: 1 }).result).toEqual({ kind: 'broken', message: 'no such place' });
  });
});
