import { expect, test } from 'vitest';
import { showPhrase } from '../../src/job/show.ts';
import { planJob } from '../../src/plan/plan.ts';
import { flatJob } from './flatbottom.ts';

/* A stem leant by 20 degrees on a flat bottom: off the long edge of a 30 mm plate comes 30 tan 20° = 10.92 mm, 0.430 in. */

const RAD = Math.PI / 180;

test('what comes off a square foot is a length to be cut: a fraction of an inch on a US page, millimetres on a metric one', () => {
  const job = flatJob({ fitting: { stem: { kind: 'lean', angle: 20 * RAD }, cut: 'straight' } });
  const remedy = planJob(job).fittings[0]?.fit.remedies.find((each) =>
    String(each[0]).startsWith('From a square foot'),
  );
  if (remedy === undefined) throw new Error('nothing is said of what comes off');
  const off = 30 * Math.tan(20 * RAD);
  const lengths = remedy.flatMap((part) => (typeof part === 'object' && 'mm' in part ? [part.mm] : []));
  expect(lengths).toEqual([expect.closeTo(off, 6), expect.closeTo(off, 6)]);
  // 0.430 in is nearest to 14/32.
  expect(Math.round((off / 25.4) * 32)).toBe(14);
  expect(showPhrase(remedy, 'us').match(/7\/16 in/g)).toHaveLength(2);
  expect(showPhrase(remedy, 'metric').match(/10\.9 mm/g)).toHaveLength(2);
});
