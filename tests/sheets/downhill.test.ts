import { expect, test } from 'vitest';
import { rootAt } from '../../geometry/fit/rootline.ts';
import { dot } from '../../geometry/math/vec.ts';
import { contextsOf } from '../../src/sheets/context.ts';
import { diveList } from '../../src/sheets/divelist.ts';
import { fonts, planOf, sampleJobs } from './plans.ts';
import { wordsOf } from './readback.ts';

/* Up and down are where the root lies. */

/** mm of a run that falls more steeply than 25 degrees, looked at millimetre by millimetre. */
function fallen(height: (s: number) => number, fromS: number, toS: number): number {
  const looks = Math.ceil(Math.abs(toS - fromS));
  const step = (toS - fromS) / looks;
  let sum = 0;
  for (let i = 0; i < looks; i++) {
    const fall = height(fromS + i * step) - height(fromS + (i + 1) * step);
    if (fall > Math.sin((25 * Math.PI) / 180) * Math.abs(step)) sum += Math.abs(step);
  }
  return sum;
}

test('no run of a sample goes downhill for more than an inch, on however steep a foot', async () => {
  let steep = 0;
  for (const { name, job, file } of sampleJobs()) {
    const plan = planOf(job, file);
    for (const context of await contextsOf(plan, { fonts })) {
      const { fitting } = context;
      const height = (s: number) => dot(rootAt(fitting.root, s).position, plan.up);
      for (const item of fitting.weld.work) {
        if (item.task === 'hold') continue;
        const fall = fallen(height, item.fromS, item.toS);
        // What the looks at its ends may count too many.
        expect(Math.abs(fall - item.downhill), `${name} ${item.no}`).toBeLessThan(3);
        expect(item.downhill, `${name} ${item.no}`).toBeLessThanOrEqual(25 + 1e-6);
        if (item.layer === 1) expect(item.downhill).toBeLessThan(3);
        if (fallen(height, item.toS, item.fromS) > 50) steep++;
      }
      expect(wordsOf(diveList(context))).not.toContain('DOWNHILL');
    }
  }
  expect(steep).toBeGreaterThan(100);
});

test('a run that goes downhill all the same is named on the dive list', async () => {
  const { job, file } = sampleJobs()[1] as ReturnType<typeof sampleJobs>[number];
  const plan = planOf(job, file);
  const [context] = await contextsOf(plan, { fonts });
  if (context === undefined) throw new Error('no lug');
  const { fitting } = context;
  const work = fitting.weld.work.map((item) =>
    item.task === 'run' && (item.no === 40 || item.no === 41) ? { ...item, downhill: 26 } : item,
  );
  const list = diveList({ ...context, fitting: { ...fitting, weld: { ...fitting.weld, work } } });
  expect(wordsOf(list)).toMatch(/DOWNHILL for more than .{4,12} of their way: no\. 40–41\./);
});
