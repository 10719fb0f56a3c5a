import { beforeEach, expect, test, vi } from 'vitest';
import { NOTICEABLE, planner, standingText, usePlanning } from '../../src/app/store/planning.ts';
import type { PlanReply, PlanRequest } from '../../src/app/worker/protocol.ts';

const request = (text: string): PlanRequest => ({ text, files: {}, drawn: 0 });
const planned = (text: string) =>
  ({
    kind: 'planned',
    plan: { from: text },
    lugs: [],
    drawing: { kind: 'none', reason: 'test' },
    took: 0,
  }) as unknown as PlanReply;

/** A stand-in for the worker whose answers come when the test says so. */
function desk() {
  const asked: { request: PlanRequest; answer: (reply: PlanReply) => Promise<void> }[] = [];
  const ask = planner(
    (r) =>
      new Promise((resolve) => {
        asked.push({
          request: r,
          answer: async (reply) => {
            resolve(reply);
            await Promise.resolve();
            await new Promise((done) => queueMicrotask(() => done(undefined)));
            await Promise.resolve();
          },
        });
      }),
  );
  return { ask, asked };
}

beforeEach(() => usePlanning.setState({ shown: null, trouble: null, slow: false }));

test('while one job is planned only the newest of the others waits', async () => {
  const { ask, asked } = desk();
  for (const t of ['a', 'b', 'c', 'd']) ask(request(t));
  expect(asked.map((x) => x.request.text)).toEqual(['a']);
  await asked[0]?.answer(planned('a'));
  expect(asked.map((x) => x.request.text)).toEqual(['a', 'd']);
  await asked[1]?.answer(planned('d'));
  expect(asked).toHaveLength(2);
  expect(usePlanning.getState().shown?.request.text).toBe('d');
});

test('what is shown is always one plan with its own input', async () => {
  const { ask, asked } = desk();
  ask(request('a'));
  ask(request('b'));
  await asked[0]?.answer(planned('a'));
  const { shown } = usePlanning.getState();
  expect(shown?.request.text).toBe('a');
  expect(shown?.plan).toEqual({ from: 'a' });
});

test('a refusal keeps the last good plan and says what is wrong with the newest input', async () => {
  const { ask, asked } = desk();
  ask(request('good'));
  await asked[0]?.answer(planned('good'));
  ask(request('bad'));
  await asked[1]?.answer({ kind: 'refused', faults: [{ path: 'x', found: 'y', expected: 'z' }] });
  const state = usePlanning.getState();
  expect(state.shown?.request.text).toBe('good');
  expect(state.trouble).toMatchObject({ kind: 'faults', text: 'bad' });
  expect(standingText('bad', state)).toBe('bad');
  ask(request('good again'));
  await asked[2]?.answer(planned('good again'));
  expect(usePlanning.getState().trouble).toBeNull();
});

test('a worker that dies is said, and the next job is asked all the same', async () => {
  let fail = true;
  const ask = planner(async (r) => {
    if (fail) throw new Error('gone');
    return planned(r.text);
  });
  ask(request('a'));
  await vi.waitFor(() => expect(usePlanning.getState().trouble).toMatchObject({ kind: 'broken', message: 'gone' }));
  fail = false;
  ask(request('b'));
  await vi.waitFor(() => expect(usePlanning.getState().shown?.request.text).toBe('b'));
});

test('the statement waits for its plan the blink of an eye, then shows what was entered', async () => {
  vi.useFakeTimers();
  try {
    const { ask, asked } = desk();
    ask(request('a'));
    await asked[0]?.answer(planned('a'));
    ask(request('b'));
    expect(standingText('b', usePlanning.getState())).toBe('a');
    vi.advanceTimersByTime(NOTICEABLE + 1);
    expect(usePlanning.getState().slow).toBe(true);
    expect(standingText('b', usePlanning.getState())).toBe('b');
    await asked[1]?.answer(planned('b'));
    expect(usePlanning.getState().slow).toBe(false);
  } finally {
    vi.useRealTimers();
  }
});
