import { beforeEach, describe, expect, test, vi } from 'vitest';
import type { BestEnd, MapAsk, MapEnd, MapSpot, MapStep } from '../../src/app/places/kinds.ts';
import type { SlowOutcome } from '../../src/app/worker/slowwork.ts';

/* The map and the best stance on the screen, with the slow thread played by hand. */

interface Played {
  readonly kind: string;
  readonly input: MapAsk;
  readonly tell: (step: MapStep | { done: number }) => void;
  readonly end: (outcome: SlowOutcome<MapEnd | BestEnd>) => void;
  cancelled: boolean;
}

const played = vi.hoisted(() => ({ list: [] as unknown[] }));

vi.mock('../../src/app/worker/slow.ts', () => ({
  startSlow: (kind: string, input: MapAsk, tell: Played['tell']) => {
    let end: Played['end'] = () => {};
    const result = new Promise((done) => {
      end = done as Played['end'];
    });
    const one: Played = { kind, input, tell, end, cancelled: false };
    played.list.push(one);
    return {
      result,
      cancel: () => {
        one.cancelled = true;
        end({ kind: 'cancelled' });
      },
    };
  },
}));

const { seekMap, stopMap, useMap } = await import('../../src/app/places/store.ts');
const { seekBest, standSo, useBest } = await import('../../src/app/places/beststore.ts');
const { openDocument, undo, useDocument, EMPTY } = await import('../../src/app/store/document.ts');
const { useSession } = await import('../../src/app/store/session.ts');

const works = played.list as Played[];
const files = {};
const request = (text: string) => ({ text, files, drawn: 0 });
const asked = { fitting: 0, over: 'place', along: 600, round: 600, fineness: 'coarse' } as const;
const grid = { columns: [5000, 6000, 7000], rows: [1000, 2000] };
const spot = (column: number, row: number): MapSpot => ({
  column,
  row,
  station: grid.columns[column] as number,
  girth: grid.rows[row] as number,
  heading: 0,
  lean: null,
  point: null,
  verdict: { kind: 'cannot', why: 'foot' },
});
const inside = { station: 6100, girth: 1500 };
const turn = (): Promise<void> => new Promise((done) => setTimeout(done, 0));

beforeEach(() => {
  stopMap();
  works.length = 0;
  useMap.setState({ shown: null, done: 0, running: false, trouble: null, cursor: null });
});

describe('the map', () => {
  test('is asked for once for a job, and shown as it comes', async () => {
    seekMap(request('a'), asked, inside);
    seekMap(request('a'), asked, inside);
    expect(works).toHaveLength(1);
    const [work] = works as [Played];
    expect(work.input).toMatchObject({ columns: 17, rows: 13, reach: { station: 600, girth: 600 } });
    work.tell({ kind: 'grid', grid, side: 'port' });
    expect(useMap.getState().shown).toBeNull();
    work.tell({ kind: 'spots', stride: 8, spots: [spot(0, 0)], done: 0.2 });
    expect(useMap.getState()).toMatchObject({ running: true, done: 0.2 });
    work.tell({ kind: 'spots', stride: 1, spots: [spot(2, 1)], done: 1 });
    expect(useMap.getState().shown?.spots.map((s) => s?.column)).toEqual([
      0,
      undefined,
      undefined,
      undefined,
      undefined,
      2,
    ]);
    work.end({ kind: 'done', value: { kind: 'mapped' } });
    await turn();
    expect(useMap.getState().running).toBe(false);
    seekMap(request('a'), asked, inside);
    expect(works).toHaveLength(1);
  });

  test('of a job that changes gives way to the new one, and stays until that has something to show', async () => {
    seekMap(request('a'), asked, inside);
    works[0]?.tell({ kind: 'grid', grid, side: 'port' });
    works[0]?.tell({ kind: 'spots', stride: 8, spots: [spot(0, 0)], done: 0.2 });
    const before = useMap.getState().shown;
    seekMap(request('b'), asked, inside);
    expect(works[0]?.cancelled).toBe(true);
    expect(works[1]?.input.keep).toBe(grid);
    expect(useMap.getState().shown).toBe(before);
    // What is still told of the old one is not heard.
    works[0]?.tell({ kind: 'spots', stride: 4, spots: [spot(1, 0)], done: 0.5 });
    expect(useMap.getState().shown).toBe(before);
    works[1]?.tell({ kind: 'grid', grid, side: 'port' });
    works[1]?.tell({ kind: 'spots', stride: 8, spots: [spot(0, 1)], done: 0.2 });
    expect(useMap.getState().shown?.request.text).toBe('b');
    expect(useMap.getState().shown?.spots[0]).toBeUndefined();
    await turn();
    expect(useMap.getState().running).toBe(true);
  });

  test('that was stopped is taken up again when asked for', () => {
    seekMap(request('a'), asked, inside);
    works[0]?.tell({ kind: 'grid', grid, side: 'port' });
    works[0]?.tell({ kind: 'spots', stride: 8, spots: [spot(0, 0)], done: 0.2 });
    stopMap();
    expect(useMap.getState()).toMatchObject({ running: false, done: 0.2 });
    seekMap(request('a'), asked, inside);
    expect(works).toHaveLength(2);
    expect(useMap.getState().shown?.spots[0]).toBeDefined();
  });

  test('moves along when the lug has left it, or other axes are wanted', () => {
    seekMap(request('a'), asked, inside);
    works[0]?.tell({ kind: 'grid', grid, side: 'port' });
    works[0]?.tell({ kind: 'spots', stride: 8, spots: [spot(0, 0)], done: 0.2 });
    seekMap(request('b'), asked, { station: 9000, girth: 1500 });
    expect(works[1]?.input.keep).toBeUndefined();
    seekMap(request('b'), { ...asked, along: 1200 }, inside);
    expect(works[2]?.input.keep).toBeUndefined();
    expect(works[2]?.input.reach.station).toBe(1200);
  });

  test('says why where there is none', async () => {
    seekMap(request('a'), asked, inside);
    works[0]?.end({ kind: 'done', value: { kind: 'refused', reason: 'the stem lies along the shell' } });
    await turn();
    expect(useMap.getState()).toMatchObject({ running: false, trouble: 'the stem lies along the shell' });
    seekMap(request('b'), asked, inside);
    expect(useMap.getState().trouble).toBeNull();
    works[1]?.end({ kind: 'broken', message: 'out of memory' });
    await turn();
    expect(useMap.getState().trouble).toBe('out of memory');
  });
});

describe('the best stance', () => {
  const looked: BestEnd = { kind: 'looked', text: '{"b": 2}', lugs: [] };

  test('is written as one step that can be undone', async () => {
    openDocument({ ...EMPTY, text: '{"a": 1}' });
    seekBest(request('{"a": 1}'), ['P1']);
    works[0]?.tell({ done: 0.5 });
    expect(useBest.getState()).toMatchObject({ running: true, done: 0.5 });
    works[0]?.end({ kind: 'done', value: looked });
    await turn();
    expect(useBest.getState().running).toBe(false);
    standSo();
    expect(useDocument.getState().text).toBe('{"b": 2}');
    undo();
    expect(useDocument.getState().text).toBe('{"a": 1}');
  });

  test('is not written over a job that has changed since, and that is said', async () => {
    openDocument({ ...EMPTY, text: '{"a": 1}' });
    seekBest(request('{"a": 1}'), ['P1']);
    works[0]?.end({ kind: 'done', value: looked });
    await turn();
    useDocument.setState({ text: '{"a": 3}' });
    standSo();
    expect(useDocument.getState().text).toBe('{"a": 3}');
    expect(useSession.getState().notices.at(-1)?.text).toContain('look again');
  });

  test('asks for what may be changed, and a new look gives up the one before', () => {
    useBest.setState((s) => ({ wanted: { ...s.wanted, lean: false, place: true, within: 150 } }));
    seekBest(request('a'), ['P1', 'S1']);
    expect(works[0]?.input).toMatchObject({
      ids: ['P1', 'S1'],
      freedom: { heading: true, lean: false, girth: 150, station: 150 },
    });
    seekBest(request('a'), ['P1']);
    expect(works[0]?.cancelled).toBe(true);
  });
});
