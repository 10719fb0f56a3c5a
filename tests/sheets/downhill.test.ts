import { expect, test } from 'vitest';
import { rootAt } from '../../geometry/fit/rootline.ts';
import { dot } from '../../geometry/math/vec.ts';
import { contextsOf } from '../../src/sheets/context.ts';
import { diveList } from '../../src/sheets/divelist.ts';
import { downhillRuns } from '../../src/sheets/downhill.ts';
import { fonts, planOf, sampleJobs } from './plans.ts';
import { wordsOf } from './readback.ts';

/* Up and down are where the root lies: a run that ends so much lower than it begins has gone downhill, whatever way it took. */

test('runs that end much lower than they begin are named on the dive list, the root never is', async () => {
  let named = 0;
  for (const { job, file } of sampleJobs()) {
    const plan = planOf(job, file);
    for (const context of await contextsOf(plan, { fonts })) {
      const { fitting } = context;
      const runs = downhillRuns(fitting, plan.up);
      const height = (s: number) => dot(rootAt(fitting.root, s).position, plan.up);
      for (const item of fitting.weld.work) {
        if (item.task === 'hold') continue;
        const fall = height(item.fromS) - height(item.toS);
        // Steeper than 25 degrees no way of an inch falls more than its own length.
        if (fall > 0.9 * Math.abs(item.toS - item.fromS) && fall > 26) expect(runs).toContain(item);
        if (item.layer === 1) expect(runs).not.toContain(item);
        if (runs.includes(item)) named++;
      }
      const words = wordsOf(diveList(context));
      expect(words.includes('DOWNHILL')).toBe(runs.length > 0);
    }
  }
  expect(named).toBeGreaterThan(10);
});
