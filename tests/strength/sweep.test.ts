import fc from 'fast-check';
import { expect, it } from 'vitest';
import { strengthChecks, strengthSweep } from '../../src/strength/strengthChecks.ts';
import { sampleInput } from './lug.ts';

const loads = fc.record({
  alongStem: fc.double({ min: 20_000, max: 150_000, noNaN: true }),
  alongFoot: fc.double({ min: -60_000, max: 60_000, noNaN: true }),
  sideways: fc.double({ min: -30_000, max: 30_000, noNaN: true }),
});

/** Angles of a pull in the lug frame, as the plan works them out. */
const swept = (load: { alongStem: number; alongFoot: number; sideways: number }) => ({
  load,
  inPlane: Math.atan2(load.alongFoot, load.alongStem),
  offPlane: Math.asin(load.sideways / Math.hypot(load.alongStem, load.alongFoot, load.sideways)),
});

it.each([
  ['in the middle of a panel', {}],
  ['across a frame', { fromFrame: 30, fromLongitudinal: 200 }],
  ['across a frame and a longitudinal', { fromFrame: 600, fromLongitudinal: 10 }],
])('a sweep gives what the checks give for each load by itself, lug %s', (_, behind) => {
  const base = sampleInput();
  const input = { ...base, panel: { ...base.panel, ...behind } };
  const sweep = strengthSweep(input);
  fc.assert(
    fc.property(loads, (load) => {
      const alone = strengthChecks({ ...input, ...swept(load) }).checks;
      const inSweep = sweep(swept(load)).checks;
      expect(inSweep.map((c) => c.id)).toEqual(alone.map((c) => c.id));
      inSweep.forEach((c, i) => {
        const own = alone[i]?.ratio ?? Number.NaN;
        const apart = Math.abs(c.ratio - own);
        // Alone, the panel's places are sorted by a short look: half a per cent; all else is the same arithmetic.
        expect(apart, c.id).toBeLessThanOrEqual((c.screening ? 0.005 : 1e-12) * own);
      });
    }),
    { seed: 99, numRuns: 12 },
  );
});
