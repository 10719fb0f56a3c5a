import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  cutShort,
  type DiveTerms,
  type Piece,
  type PlannedSchedule,
  type Schedule,
  scheduleDives,
  shareAt,
  type WorkItem,
} from '../../src/weld/schedule.ts';

const terms: DiveTerms = { bottomTime: 60, overhead: 10, restart: 1 };

const works: fc.Arbitrary<readonly WorkItem[]> = fc
  .array(
    fc.record({
      hold: fc.integer({ min: 0, max: 9 }),
      minutes: fc.double({ min: 0.5, max: 120, noNaN: true }),
      length: fc.double({ min: 10, max: 400, noNaN: true }),
    }),
    { minLength: 1, maxLength: 40 },
  )
  .map((items) => {
    let s = 0;
    return items.map(({ hold, minutes, length }, index): WorkItem => {
      const fromS = s;
      if (hold === 0) return { no: index + 1, task: 'hold', minutes: 10, fromS: 0, toS: 0, electrodes: 0 };
      s += length;
      // An electrode takes about four minutes, so that no single one outlasts a dive.
      return { no: index + 1, task: 'run', minutes, fromS, toS: s, electrodes: minutes / 4 };
    });
  });

function planned(schedule: Schedule): PlannedSchedule {
  if (schedule.kind !== 'planned') throw new Error('not planned');
  return schedule;
}

const piecesOf = (schedule: PlannedSchedule): readonly Piece[] => schedule.dives.flatMap((dive) => dive.pieces);

/** Each item from where it stands to its end, once, in order. */
function expectOnce(items: readonly WorkItem[], pieces: readonly Piece[]): void {
  let at = 0;
  let done = 0;
  for (const piece of pieces) {
    const item = items[at] as WorkItem;
    expect(piece.no).toBe(item.no);
    expect(piece.fromShare).toBeCloseTo(done, 9);
    expect(piece.toShare).toBeGreaterThan(piece.fromShare);
    done = piece.toShare;
    expect(piece.finishes).toBe(done === 1);
    if (done === 1) {
      at += 1;
      done = 0;
    }
  }
  expect(at).toBe(items.length);
  expect(done).toBe(0);
}

const sum = (figures: readonly number[]) => figures.reduce((all, each) => all + each, 0);

describe('the schedule', () => {
  test('covers each run once, in order, and no dive is longer than its bottom time', () => {
    fc.assert(
      fc.property(works, (items) => {
        const schedule = planned(scheduleDives(items, terms));
        expectOnce(items, piecesOf(schedule));
        for (const dive of schedule.dives) expect(dive.minutes).toBeLessThanOrEqual(terms.bottomTime + 1e-6);
        expect(schedule.dives.map((dive) => dive.dive)).toEqual(schedule.dives.map((_, i) => i + 1));
      }),
    );
  });

  test('its bottom time is the work, what each dive loses, and the restarts: nothing else', () => {
    fc.assert(
      fc.property(works, (items) => {
        const schedule = planned(scheduleDives(items, terms));
        const restarts = piecesOf(schedule).filter((piece) => piece.fromShare > 0).length;
        const wanted =
          sum(items.map((item) => item.minutes)) + schedule.dives.length * terms.overhead + restarts * terms.restart;
        expect(Math.abs(schedule.minutes - wanted)).toBeLessThan(1e-6);
      }),
    );
  });

  test('a run is left between electrodes only, and only if no dive holds it whole', () => {
    fc.assert(
      fc.property(works, (items) => {
        for (const piece of piecesOf(planned(scheduleDives(items, terms)))) {
          if (piece.finishes && piece.fromShare === 0) continue;
          const item = items[piece.no - 1] as WorkItem;
          expect(item.minutes).toBeGreaterThan(terms.bottomTime - terms.overhead);
          const electrodes = piece.toShare * Math.ceil(item.electrodes - 1e-9);
          expect(Math.abs(electrodes - Math.round(electrodes))).toBeLessThan(1e-6);
        }
      }),
    );
  });

  test('by hand: 50 minutes of work a dive', () => {
    const run = (no: number, minutes: number): WorkItem => ({
      no,
      task: 'run',
      minutes,
      fromS: 100 * no,
      toS: 100 * no + 80,
      electrodes: minutes / 4,
    });
    const schedule = planned(scheduleDives([run(1, 30), run(2, 30), run(3, 20), run(4, 80)], terms));
    // 1 alone; 2 and 3 fill fifty; 4 has 20 electrodes of 4 min: 12 fit, then 8 with a restart of a minute.
    expect(schedule.dives.map((dive) => dive.pieces.map((piece) => piece.no))).toEqual([[1], [2, 3], [4], [4]]);
    expect(schedule.dives.map((dive) => dive.minutes)).toEqual([40, 60, 58, 43]);
    expect(schedule.dives[2]?.pieces[0]?.toS).toBeCloseTo(400 + 80 * 0.6, 9);
    expect(schedule.dives[3]?.pieces[0]).toMatchObject({ fromShare: 0.6, toShare: 1, toS: 480, finishes: true });
  });

  test('dives too short for one electrode are said to be, with what they need', () => {
    const item: WorkItem = { no: 1, task: 'run', minutes: 40, fromS: 0, toS: 100, electrodes: 2 };
    // 20 minutes an electrode, a minute to take the run up again, 10 of overhead.
    expect(scheduleDives([item], { ...terms, bottomTime: 30 })).toEqual({ kind: 'dive-too-short', least: 31 });
    expect(scheduleDives([item], { ...terms, bottomTime: 31 }).kind).toBe('planned');
  });

  test('terms that are no times are refused', () => {
    expect(() => scheduleDives([], { ...terms, bottomTime: 0 })).toThrow(RangeError);
    expect(() => scheduleDives([], { ...terms, overhead: Number.NaN })).toThrow(RangeError);
  });
});

describe('a dive cut short', () => {
  test('loses nothing: what was done and what is planned anew is each run once', () => {
    fc.assert(
      fc.property(works, fc.nat(), fc.constantFrom(0, 0.25, 0.5, 1), (items, pick, wanted) => {
        const schedule = planned(scheduleDives(items, terms));
        const index = pick % items.length;
        const item = items[index] as WorkItem;
        const share = item.task === 'hold' ? Math.round(wanted) : wanted;
        const rest = planned(cutShort(schedule, item.no, share));
        const done: Piece[] = items.slice(0, index).map((each) => whole(each, 0, 1));
        if (share > 0) done.push(whole(item, 0, share));
        expectOnce(items, [...done, ...piecesOf(rest)]);
        for (const dive of rest.dives) expect(dive.minutes).toBeLessThanOrEqual(terms.bottomTime + 1e-6);
      }),
    );
  });

  test('cut short again and again, the work still comes to its end', () => {
    fc.assert(
      fc.property(works, fc.array(fc.nat(), { maxLength: 6 }), (items, picks) => {
        let schedule = planned(scheduleDives(items, terms));
        const done: Piece[] = [];
        for (const pick of picks) {
          const left = piecesOf(schedule);
          if (left.length === 0) break;
          const stop = left[pick % left.length] as Piece;
          for (const piece of left) {
            if (piece === stop) break;
            done.push(piece);
          }
          schedule = planned(cutShort(schedule, stop.no, stop.fromShare));
        }
        expectOnce(items, [...done, ...piecesOf(schedule)]);
      }),
    );
  });

  test('the next dive takes the next number, and the stop is ground first', () => {
    const run = (no: number): WorkItem => ({ no, task: 'run', minutes: 20, fromS: 0, toS: 100, electrodes: 5 });
    const schedule = planned(scheduleDives([run(1), run(2), run(3), run(4)], terms));
    expect(schedule.dives.map((dive) => dive.pieces.map((piece) => piece.no))).toEqual([
      [1, 2],
      [3, 4],
    ]);
    const rest = planned(cutShort(schedule, 2, shareAt(run(2), 40)));
    expect(rest.dives.map((dive) => dive.dive)).toEqual([2, 3]);
    // 1 minute of grinding and 60 % of twenty, then the third: 10 + 13 + 20; the fourth waits.
    expect(rest.dives.map((dive) => dive.minutes)).toEqual([43, 30]);
    expect(rest.dives[0]?.pieces[0]).toMatchObject({ no: 2, fromShare: 0.4, fromS: 40, toS: 100 });
  });

  test('what is not left to do, or lies off the run, is refused', () => {
    const run = (no: number): WorkItem => ({ no, task: 'run', minutes: 20, fromS: 0, toS: 100, electrodes: 5 });
    const schedule = planned(scheduleDives([run(1), run(2)], terms));
    const later = planned(cutShort(schedule, 2, 0.5));
    expect(() => cutShort(later, 1)).toThrow(RangeError);
    expect(() => cutShort(later, 2, 0.25)).toThrow(RangeError);
    expect(() => cutShort(schedule, 9)).toThrow(RangeError);
    expect(() => cutShort(schedule, 1, 1.5)).toThrow(RangeError);
    expect(() => shareAt(run(1), 120)).toThrow(RangeError);
  });
});

function whole(item: WorkItem, fromShare: number, toShare: number): Piece {
  return { no: item.no, fromShare, toShare, fromS: 0, toS: 0, minutes: 0, finishes: toShare === 1 };
}
