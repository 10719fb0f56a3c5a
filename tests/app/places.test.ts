import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { BestEnd, MapAsk, MapEnd, MapSpot, MapStep } from '../../src/app/places/kinds.ts';
import { cellOf, cellsOf } from '../../src/app/places/paint.ts';
import { limitText, nextText, verdictText } from '../../src/app/places/saying.ts';
import { type MapShown, mostToSpare, nearestKnown } from '../../src/app/places/store.ts';
import { tallyOf } from '../../src/app/places/tally.ts';
import { putLug, standLug } from '../../src/app/places/writing.ts';
import { bestWork, mapWork } from '../../src/app/worker/places.ts';
import { readJob } from '../../src/job/read.ts';
import type { Job } from '../../src/job/types.ts';
import { planJob, shellOf } from '../../src/plan/plan.ts';
import type { Plan } from '../../src/plan/types.ts';

/* Maps and best stances as the app asks for them, held against the planner itself: what they promise is what a plan of the written job says. */

const sample = (name: string): string => readFileSync(`samples/${name}/job.json`, 'utf8');
const A = sample('a-plumb-lug-rounded-bottom');
const G = sample('g-rudder-walked-aft');

const jobOf = (text: string): Job => {
  const reading = readJob(text, () => undefined);
  if (!reading.ok) throw new Error(JSON.stringify(reading.faults));
  return reading.job;
};
const planOf = (text: string): Plan => planJob(jobOf(text));

const ask = (text: string, change: Partial<MapAsk> = {}): MapAsk => ({
  request: { text, files: {}, drawn: 0 },
  fitting: 0,
  over: 'place',
  reach: { station: 400, girth: 300 },
  columns: 9,
  rows: 9,
  ...change,
});

async function run<Step, End>(
  work: AsyncGenerator<Step, End, undefined>,
): Promise<{ readonly steps: Step[]; readonly end: End }> {
  const steps: Step[] = [];
  for (;;) {
    const next = await work.next();
    if (next.done === true) return { steps, end: next.value };
    steps.push(next.value);
  }
}

const mapped = async (asked: MapAsk) => {
  const { steps, end } = await run<MapStep, MapEnd>(mapWork(asked));
  const spots = steps.flatMap((s) => (s.kind === 'spots' ? s.spots : []));
  const grid = steps.find((s) => s.kind === 'grid')?.grid;
  const skin = steps.find((s) => s.kind === 'skin')?.skin;
  if (grid === undefined) throw new Error('no grid');
  return { steps, end, spots, grid, skin };
};

describe('the map of places', async () => {
  const { steps, end, spots, grid, skin } = await mapped(ask(A));

  test('tells every spot once, coarse ones first, and how far it is', () => {
    expect(end).toEqual({ kind: 'mapped' });
    expect(spots).toHaveLength(81);
    expect(new Set(spots.map((s) => s.row * 9 + s.column)).size).toBe(81);
    const told = steps.flatMap((s) => (s.kind === 'spots' ? [s] : []));
    expect(told.map((s) => s.stride)).toEqual([...told.map((s) => s.stride)].sort((p, q) => q - p));
    expect(told.at(-1)?.done).toBe(1);
  });

  test('the lug stands in the middle of it', () => {
    expect(grid.columns[4]).toBeCloseTo(6300, 6);
    expect(grid.rows[4]).toBeCloseTo(2400, 6);
  });

  // The planner is asked anew, with the lug written into the job at the spot: an independent way to the same figures.
  test('what it says of a spot is what a plan says with the lug put there', () => {
    const job = jobOf(A);
    const anchor = planOf(A).fittings[0]?.anchor;
    if (anchor === undefined) throw new Error('no lug');
    const some = spots.filter((s) => (s.row + 3 * s.column) % 16 === 0 && s.verdict.kind === 'stands');
    expect(some.length).toBeGreaterThan(3);
    for (const spot of some) {
      if (spot.verdict.kind !== 'stands' || spot.point === null) continue;
      const to = { station: spot.station, girth: spot.girth, side: anchor.side, point: spot.point };
      const f = planOf(putLug(A, job, 0, anchor, to, 'metric')).fittings[0] as Plan['fittings'][number];
      // Written to a millimetre: half of one moves the lug by no more, and its angles by less than a thousandth.
      expect(f.anchor.station).toBeCloseTo(spot.station, 0);
      expect(Math.abs(f.anchor.girth - spot.girth)).toBeLessThan(0.6);
      expect(Math.abs(f.load.sideways)).toBeCloseTo(spot.verdict.sideways, -2);
      expect(Math.max(f.bevel.max, -f.bevel.min)).toBeCloseTo(spot.verdict.bevel, 2);
      expect(f.fit.straight.maxGap).toBeCloseTo(spot.verdict.gap, 1);
    }
  });

  test('the shell to paint it on lies on the shell, lifted by its coat, and reaches half a spot beyond the outermost', () => {
    if (skin === undefined) throw new Error('no skin');
    const shell = shellOf(jobOf(A).ship.hull);
    const [x0, x1] = [grid.columns[0] as number, grid.columns[8] as number];
    const [g0, g1] = [grid.rows[0] as number, grid.rows[8] as number];
    const [dx, dg] = [(x1 - x0) / 8, (g1 - g0) / 8];
    for (let i = 0; i < skin.share.length / 2; i += 7) {
      const [u, v] = [skin.share[2 * i] as number, skin.share[2 * i + 1] as number];
      const on = shell.pointAt(x0 - dx / 2 + u * (x1 - x0 + dx), g0 - dg / 2 + v * (g1 - g0 + dg), 'port').position;
      const away = Math.hypot(
        ...on.map((p, k) => p - (skin.positions[3 * i + k] as number) - (skin.origin[k] as number)),
      );
      expect(away).toBeCloseTo(2, 1);
    }
    expect(Math.min(...skin.share)).toBeCloseTo(0, 6);
    expect(Math.max(...skin.share)).toBeCloseTo(1, 6);
  });

  test('keeps its axes where it is told to, and refuses a job that cannot be read', async () => {
    const keep = { columns: [6000, 6100], rows: [2300, 2400] };
    expect((await mapped(ask(A, { keep }))).grid).toEqual(keep);
    const { steps: none, end: refused } = await run(mapWork(ask('{}')));
    expect(none).toEqual([]);
    expect(refused.kind).toBe('refused');
  });

  test('beyond the data of the hull a spot says so and has no point', async () => {
    // The section is 12 m long at most: 30 m round is off it whatever the ship.
    const off = await mapped(ask(A, { keep: { columns: [6300], rows: [30_000] } }));
    expect(off.spots.map((s) => [s.verdict, s.point])).toEqual([[{ kind: 'cannot', why: 'off-the-data' }, null]]);
  });
});

test('a way to stand from the map is what a plan says of the lug that stands so', async () => {
  const { spots } = await mapped(ask(A, { over: 'stance' }));
  const some = spots.filter((s) => s.verdict.kind === 'stands' && (s.row + s.column) % 5 === 0);
  expect(some.length).toBeGreaterThan(3);
  for (const spot of some) {
    if (spot.verdict.kind !== 'stands') continue;
    const f = planOf(standLug(A, 0, spot.heading, spot.lean as number, 'metric'))
      .fittings[0] as Plan['fittings'][number];
    // Written to a tenth of a degree: 0.05 deg of 80 kN is 70 N either way in each of heading and lean.
    expect(Math.abs(Math.abs(f.load.sideways) - spot.verdict.sideways)).toBeLessThan(150);
  }
});

describe('writing a place', () => {
  const job = jobOf(A);
  const anchor = planOf(A).fittings[0]?.anchor as Plan['fittings'][number]['anchor'];
  const to = { station: 6512.4, girth: 2301.2, side: anchor.side, point: anchor.position };

  test('changes place and what is behind it, and no other byte', () => {
    // Before: on a frame, 60 mm past a longitudinal; then 212.4 mm forward and 98.8 mm nearer to the keel.
    const moved = putLug(A, job, 0, anchor, to, 'metric');
    const { behind } = jobOf(moved).fittings[0] as Job['fittings'][number];
    const spacing = job.steel.longitudinalSpacing;
    const [frame, longitudinal] = [behind?.fromFrame as number, behind?.fromLongitudinal as number];
    expect(frame).toBeCloseTo(212.4, 1);
    expect(longitudinal).toBeCloseTo((((60 - 98.8) % spacing) + spacing) % spacing, 1);
    expect(moved).toBe(
      A.replace('"station": "6.30 m"', '"station": "6.512 m"')
        .replace('"girth": "2.40 m"', '"girth": "2.301 m"')
        .replace('"fromFrame": "0 mm"', `"fromFrame": "${Number(frame.toFixed(1))} mm"`)
        .replace('"fromLongitudinal": "60 mm"', `"fromLongitudinal": "${Number(longitudinal.toFixed(1))} mm"`),
    );
  });

  test('keeps what is said of how far a figure may be off', () => {
    const unsure = A.replace('"6.30 m"', '"6.30 m ± 20 mm"');
    expect(putLug(unsure, jobOf(unsure), 0, anchor, to, 'metric')).toContain('"6.512 m ± 20 mm"');
  });

  test('a hand that drags in whole steps counts on from where the lug stood, by the step that is written', () => {
    const fitting = job.fittings[0] as Job['fittings'][number];
    const spacing = job.steel.frameSpacing;
    const before = fitting.behind?.fromFrame as number;
    const from = { station: fitting.at.station, girth: fitting.at.value, side: fitting.at.side };
    for (const by of [-1234, 237, 604]) {
      const to = { ...from, station: from.station + by, point: [0, 0, 0] as const };
      // Twice over the same text, as a drag does: nothing adds up.
      const once = putLug(A, job, 0, from, { ...to, station: to.station + 50 }, 'metric', true);
      const now = jobOf(putLug(once, job, 0, from, to, 'metric', true)).fittings[0] as Job['fittings'][number];
      const went = now.at.station - from.station;
      expect(now.at.station % 10).toBeCloseTo(0, 6);
      const expected = (((before + went) % spacing) + spacing) % spacing;
      const off = Math.abs((now.behind?.fromFrame as number) - expected);
      expect(Math.min(off, spacing - off)).toBeLessThanOrEqual(0.5);
    }
  });

  test('counts on what the lug says is behind it, from one member to the next', () => {
    const told = JSON.parse(A) as { fittings: Record<string, unknown>[]; steel?: Record<string, unknown> };
    (told.fittings[0] as Record<string, unknown>).behind = { fromFrame: '500 mm' };
    told.steel = { ...told.steel, frameSpacing: '600 mm' };
    const text = JSON.stringify(told);
    const moved = jobOf(putLug(text, jobOf(text), 0, anchor, to, 'metric'));
    // 500 + 212.4 is 112.4 past the next frame.
    expect(moved.fittings[0]?.behind?.fromFrame).toBeCloseTo(112.4, 1);
  });
});

describe('the best stance', () => {
  const found = async (
    text: string,
    ids: readonly string[],
    place = 0,
  ): Promise<Extract<BestEnd, { kind: 'looked' }>> => {
    const freedom = { heading: true, lean: true, ...(place > 0 ? { girth: place, station: place } : {}) };
    const { end } = await run(bestWork({ request: { text, files: {}, drawn: 0 }, ids, freedom }));
    if (end.kind !== 'looked') throw new Error(end.reason);
    return end;
  };

  test('what it promises is what a plan of the job it wrote says', async () => {
    const { text, lugs } = await found(A, ['P1']);
    const [lug] = lugs;
    if (lug?.found !== true) throw new Error('none found');
    const f = planOf(text).fittings[0] as Plan['fittings'][number];
    expect(lug.after.sideways).toBeCloseTo(Math.abs(f.load.sideways), 3);
    expect(lug.after.offPlane).toBeCloseTo(Math.abs(f.load.offPlane), 8);
    expect(lug.before.sideways).toBeCloseTo(Math.abs((planOf(A).fittings[0] as typeof f).load.sideways), 3);
    expect(lug.after.sideways).toBeLessThan(lug.before.sideways);
    expect(f.input.heading).toBeCloseTo(lug.after.heading, 9);
  });

  test('over a movement, for two lugs together and with room to move, it is what the movement of that plan comes to', async () => {
    const { text, lugs } = await found(G, ['P', 'S'], 60);
    const plan = planOf(text);
    for (const lug of lugs) {
      if (!lug.found) throw new Error('none found');
      const worst = plan.lift?.lugs.find((l) => l.id === lug.id)?.worst;
      expect(lug.after.sideways).toBeCloseTo(Math.abs(worst?.sideways.pull.sideways ?? Number.NaN), 0);
      expect(lug.after.state).toBe(worst?.sideways.state);
      expect(Math.abs(lug.after.station - lug.before.station)).toBeLessThan(60.6);
    }
  }, 120_000);

  test('a job without the freedom to change is left as it is', async () => {
    const { end } = await run(
      bestWork({ request: { text: A, files: {}, drawn: 0 }, ids: ['P1'], freedom: { heading: false, lean: false } }),
    );
    expect(end.kind === 'looked' && end.text).toBe(A);
  });
});

describe('what is said and painted', () => {
  const limits = jobOf(A).limits;
  const stands = (gap: number, ratio: number): MapSpot => ({
    column: 0,
    row: 0,
    station: 1000,
    girth: 500,
    heading: 0,
    lean: null,
    point: [0, 0, 0],
    verdict: {
      kind: 'stands',
      limits: [
        { id: 'gap', title: 'Fit-up gap of the foot', ratio },
        { id: 'shell-bending', title: 'Shell panel bent', ratio: 0.4 },
      ],
      passes: ratio <= 1,
      cut: 'straight',
      gap,
      bevel: 0.1,
      sideways: 100,
      force: 1000,
    },
  });

  test('the limit that binds with its figures, one without figures by its share', () => {
    const spot = stands(2.1, 2.1 / limits.recutGap).verdict;
    if (spot.kind !== 'stands') throw new Error();
    const [gap, shell] = spot.limits as [(typeof spot.limits)[0], (typeof spot.limits)[0]];
    expect(limitText(gap, spot, limits, 'metric')).toBe(`gap 2.1 mm of ${limits.recutGap.toFixed(1)} mm`);
    expect(limitText(shell, spot, limits, 'metric')).toBe('shell panel bent, 0.40 of the limit');
    expect(verdictText(spot, limits, 'metric')).toMatch(/^stands; gap 2\.1 mm of .* binds$/);
    expect(nextText(spot, limits, 'metric')).toBe('then shell panel bent, 0.40 of the limit');
    expect(verdictText({ kind: 'cannot', why: 'keep-clear' }, limits, 'metric')).toBe(
      'cannot stand here: in what must be kept clear',
    );
  });

  test('what fails by a hair does not read like what just passes', () => {
    const spot = stands(limits.recutGap * 1.0001, 1.0001).verdict;
    expect(verdictText(spot, limits, 'metric')).toContain('just over');
  });

  test('spots that stand, fail, cannot or are not known are painted each its own way', () => {
    expect(cellOf(undefined, 'use', [0, 1])).toEqual({ kind: 'unknown' });
    expect(cellOf({ ...stands(1, 0.5), verdict: { kind: 'cannot', why: 'foot' } }, 'use', [0, 1]).kind).toBe('cannot');
    expect(cellOf(stands(1, 0.5), 'use', [0, 1])).toEqual({ kind: 'passes', share: 0.5 });
    expect(cellOf(stands(9, 3), 'use', [0, 1])).toEqual({ kind: 'fails', share: 1 });
    expect(cellOf(stands(1, 0.5), 'gap', [0, 4])).toEqual({ kind: 'passes', share: 0.25 });
  });

  const shown = (known: readonly (readonly [number, number])[]): MapShown => {
    const spots = new Array<MapSpot | undefined>(81).fill(undefined);
    for (const [column, row] of known) spots[row * 9 + column] = { ...stands(1, (column + row) / 20), column, row };
    const grid = { columns: [...Array(9).keys()], rows: [...Array(9).keys()] };
    const request = { text: A, files: {}, drawn: 0 };
    const asked = { fitting: 0, over: 'place', along: 1, round: 1, fineness: 'coarse' } as const;
    return { request, asked, grid, side: 'port', spots, stride: 8, skin: null };
  };

  test('until the fine spots are known each is as the nearest coarse one', () => {
    const coarse = shown([
      [0, 0],
      [8, 0],
      [0, 8],
      [8, 8],
    ]);
    expect(nearestKnown(coarse, 3, 3)).toMatchObject({ column: 0, row: 0 });
    expect(nearestKnown(coarse, 5, 3)).toMatchObject({ column: 8, row: 0 });
    expect(nearestKnown(coarse, 8, 7)).toMatchObject({ column: 8, row: 8 });
    expect(cellsOf(coarse, 'use', limits).every((c) => c.kind === 'passes')).toBe(true);
    const finer = shown([
      [0, 0],
      [4, 4],
    ]);
    expect(nearestKnown(finer, 5, 5)).toMatchObject({ column: 4, row: 4 });
  });

  test('most to spare is the least used spot that stands, and the tally adds up', () => {
    const map = shown([
      [3, 4],
      [1, 1],
      [8, 8],
    ]);
    expect(mostToSpare(map)).toMatchObject({ column: 1, row: 1 });
    const failing = { ...stands(9, 3), column: 0, row: 0 };
    const cannot: MapSpot = { ...stands(1, 1), verdict: { kind: 'cannot', why: 'stem' } };
    expect(tallyOf([...map.spots, failing, cannot])).toEqual({
      known: 5,
      passes: 3,
      fails: 1,
      cannot: 1,
      binding: [['Fit-up gap of the foot', 1]],
    });
    expect(mostToSpare({ spots: [failing, cannot] })).toBeUndefined();
  });
});
