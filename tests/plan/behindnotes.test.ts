import { readdirSync } from 'node:fs';
import { expect, test } from 'vitest';
import { showPhrase } from '../../src/job/show.ts';
import type { Fitting, Job } from '../../src/job/types.ts';
import { planJob } from '../../src/plan/plan.ts';
import { planFile } from '../../src/plan/planfile.ts';
import { flatJob } from './flatbottom.ts';
import { sample } from './movement/jobs.ts';

/* On a flat bottom girth is y: what two lugs say of frames every 600 mm and longitudinals every 700 mm is a sum. */

interface Lug {
  readonly station: number;
  readonly girth: number;
  readonly side?: 'port' | 'starboard';
  readonly behind?: Fitting['behind'];
}

function job(lugs: readonly Lug[], structure?: Parameters<typeof flatJob>[0]): Job {
  const base = flatJob(structure);
  const first = base.fittings[0] as Fitting;
  return {
    ...base,
    steel: { ...base.steel, frameSpacing: 600, longitudinalSpacing: 700 },
    fittings: lugs.map(({ station, girth, side = 'port', behind }, k) => ({
      ...first,
      id: `L${k + 1}`,
      at: { station, side, by: 'girth', value: girth },
      load: { direction: [0, 0, -1], force: 50_000 },
      ...(behind === undefined ? {} : { behind }),
    })),
  };
}

const notes = (of: Job): string[] =>
  planJob(of)
    .hullNotes.map((note) => showPhrase(note, 'metric'))
    .filter((note) => note.includes('Measure again'));

test('lugs both on a longitudinal, 300 mm apart in girth where one stands every 700 mm: 300 mm out', () => {
  const [note, ...more] = notes(
    job([
      { station: 6000, girth: 2000, behind: { fromLongitudinal: 0 } },
      { station: 9000, girth: 2300, behind: { fromLongitudinal: 0 } },
    ]),
  );
  expect(more).toEqual([]);
  expect(note).toBe(
    'Fittings "L1" and "L2" do not agree on the longitudinals behind them: they are said to stand 0.0 mm and 0.0 mm from a longitudinal and lie 300.0 mm apart round the girth, with a longitudinal every 700.0 mm: that is 300.0 mm out. Measure again; the shell checks of both rest on it.',
  );
});

test('distances that go with the way between them say nothing, round a spacing too, and within 10 mm of a tape', () => {
  const pair = (from: number) =>
    notes(
      job([
        { station: 6000, girth: 2000, behind: { fromLongitudinal: 600, fromFrame: 500 } },
        { station: 6200, girth: 2300, behind: { fromLongitudinal: from, fromFrame: 100 } },
      ]),
    ).length;
  // 600 + 300 - 700, 500 + 200 - 600
  expect(pair(200)).toBe(0);
  expect(pair(209.9)).toBe(0);
  expect(pair(190.1)).toBe(0);
  expect(pair(210.1)).toBe(1);
  expect(pair(189.9)).toBe(1);
});

test('frames go by station whatever the side; longitudinals of the two sides are not held against each other', () => {
  const lugs: Lug[] = [
    { station: 6000, girth: 2000, behind: { fromFrame: 0, fromLongitudinal: 0 } },
    { station: 6250, girth: 2300, side: 'starboard', behind: { fromFrame: 0, fromLongitudinal: 0 } },
  ];
  const [note, ...more] = notes(job(lugs));
  expect(more).toEqual([]);
  expect(note).toContain('frames behind them');
  expect(note).toContain('250.0 mm apart along the ship');
});

test('where the structure lists the members, each lug is held against the list', () => {
  const structure = { structure: { frames: [5900, 6450].map((station) => ({ name: 'f', station })) } } as never;
  const lug = (fromFrame: number) => job([{ station: 6000, girth: 2000, behind: { fromFrame } }], structure);
  expect(notes(lug(100))).toEqual([]);
  expect(notes(lug(92))).toEqual([]);
  expect(notes(lug(130))).toEqual([
    'Fitting "L1" is said to stand 130.0 mm from a frame; by the frames of the ship\'s structure it stands 100.0 mm from one. The fitting\'s own figure is used. Measure again; its shell checks rest on it.',
  ]);
});

test('it is in the plan file, and no sample of the project contradicts itself', () => {
  const contrary = sample('g-rudder-walked-aft', (raw) => {
    raw.steel.longitudinalSpacing = '650 mm';
  });
  const { lift: _, ...still } = contrary;
  expect(planFile(planJob(still)).hullNotes.join(' ')).toContain('Fittings "P" and "A" do not agree');
  for (const name of readdirSync(new URL('../../samples/', import.meta.url))) {
    if (name.startsWith('l-') || name.startsWith('n-')) continue;
    const { lift, ...rest } = sample(name);
    if (rest.fittings.some((f) => f.load === undefined) && lift !== undefined) continue;
    expect(notes(rest), name).toEqual([]);
  }
});
