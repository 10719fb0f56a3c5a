import { expect, test } from 'vitest';
import { planOf, sampleJobs } from '../sheets/plans.ts';

test('a run of the root takes no more than one rod, however long the job lets it be (common practice, no source)', () => {
  let shortened = 0;
  for (const { name, job, file } of sampleJobs()) {
    const plan = planOf({ ...job, welding: { ...job.welding, runLength: '600 mm' } }, file);
    for (const { weld, root } of plan.fittings) {
      const runs = weld.work.flatMap((item) => (item.task === 'run' && item.layer === 1 ? [item] : []));
      for (const run of runs) expect(run.electrodes, `${name} ${run.no}`).toBeLessThanOrEqual(1 + 1e-9);
      // Four sides at least; more where a side is longer than a rod lays.
      if (runs.length > 4) shortened++;
      expect(runs.reduce((sum, run) => sum + Math.abs(run.toS - run.fromS), 0)).toBeCloseTo(root.perimeter, 6);
    }
  }
  expect(shortened).toBeGreaterThan(0);
});
