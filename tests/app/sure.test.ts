import { describe, expect, test } from 'vitest';
import { edges, magnified } from '../../src/app/sure/band.ts';
import { readingFigure, readingName, telling } from '../../src/app/sure/words.ts';
import { bandsOf, sampled } from '../../src/app/worker/sure.ts';
import { uncertaintyOf } from '../../src/plan/uncertainty.ts';
import { planOf, wedgeJob } from '../sheets/plans.ts';

const DEG = Math.PI / 180;

function ended<T>(work: Generator<unknown, T, undefined>): T {
  for (;;) {
    const step = work.next();
    if (step.done === true) return step.value;
  }
}

const wedge = (heel: string) => {
  const job = wedgeJob(0.3);
  job.ship.heel = heel;
  return job;
};

describe('the band of the shell under the foot', () => {
  test('of a flat side under a plumb stem is what the heel turns it by', () => {
    const plan = planOf(wedge('0 deg ± 0.5 deg'));
    const [band] = ended(bandsOf(plan));
    if (band == null) throw new Error('no band');
    // Closed form: heeled by h the side stands 0.3 rad -+ h off level, so that on a face 15 mm off the middle it is
    // 15 tan(0.3 -+ h) above or below; ± is two standard deviations, and the band is two of them either way.
    const sigma = 0.25 * DEG;
    const half = 15 * (Math.tan(0.3 + sigma) - Math.tan(0.3 - sigma));
    for (const line of [band.minus, band.plus])
      for (const [i, h] of line.half.entries()) {
        expect(h).toBeCloseTo(half, 5);
        expect(Math.abs(line.at[i] as number)).toBeCloseTo(15 * Math.tan(0.3), 3);
      }
    // The foot is 300 mm long.
    expect([band.a[0], band.a.at(-1)]).toEqual([-150, 150]);
  });

  test('is none where nothing moves the shell under the foot', () => {
    expect(ended(bandsOf(planOf(wedge('0 deg'))))).toEqual([null]);
    // How hard the lug is pulled has no part in its fit.
    const job = wedge('0 deg');
    job.fittings[0].load.force = '60 kN ± 5 kN';
    expect(ended(bandsOf(planOf(job)))).toEqual([null]);
  });

  test('is drawn with its factor', () => {
    const line = { at: Float32Array.from([10, 12]), half: Float32Array.from([0.5, 1]) };
    const band = { a: Float32Array.from([0, 1]), minus: line, plus: line };
    const times = magnified(band);
    expect(times).toBe(10);
    expect(edges(line, times)).toEqual({ near: [15, 22], far: [5, 2] });
  });
});

test('samples drawn a little at a time are those drawn at once', () => {
  const plan = planOf(wedge('0 deg ± 0.5 deg'));
  expect(ended(sampled(plan, 300))).toEqual(uncertaintyOf(plan, { samples: 300 }));
});

describe('a reading', () => {
  test('has the name that the statement gives it, and the figure of the job', () => {
    const job = wedge('0 deg ± 0.5 deg');
    expect(readingName(job, 'ship.heel')).toBe('heel, starboard side down');
    expect(readingName(job, 'fittings[0].at.girth')).toBe('place, round from the keel');
    expect(readingFigure(job, 'ship.heel')).toBe('0 deg ± 0.5 deg');
    expect(readingName(job, 'ship.hull.file')).toBe('the scatter of the scan itself');
    expect(readingName(job, 'ship.hull.girth[1].slope')).toBe('of the hull: girth, 2, slope');
  });

  test('that explains next to nothing is not told', () => {
    const of = (path: string, bevel: number, gap: number) => ({ path, bevel, gap, offPlane: 0 });
    expect(telling([of('a', 0.01, 0), of('b', 0.3, 0.1), of('c', 0, 0.8)]).map((i) => i.path)).toEqual(['c', 'b']);
  });
});
