import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { expect, test } from 'vitest';
import { readQuantity } from '../../src/job/quantity.ts';
import type { Kind } from '../../src/job/units.ts';
import { quantityText } from '../../src/job/write.ts';

test('what is written reads back, in both systems', () => {
  const seed = 20_260_101;
  const random = xoroshiro128plus(seed);
  const kinds: readonly (readonly [Kind, number])[] = [
    ['length', 9e4],
    ['angle', 6],
    ['force', 1e6],
    ['mass', 1e4],
    ['load', 1e6],
    ['stress', 1e3],
    ['current', 300],
    ['potential', 80],
    ['time', 1e4],
    ['share', 1],
  ];
  for (const [kind, most] of kinds) {
    for (let i = 0; i < 300; i++) {
      const magnitude = most * 10 ** (-8 * uniformFloat64(random));
      const value = kind !== 'share' && i % 2 === 1 ? -magnitude : magnitude;
      for (const display of ['metric', 'us'] as const) {
        const text = quantityText(value, kind, display);
        const reading = readQuantity(text, kind);
        const back = reading.ok ? reading.value : Number.NaN;
        expect(Math.abs(back - value), `seed ${seed}: ${value} ${kind} as ${text}`).toBeLessThanOrEqual(
          1e-11 * magnitude,
        );
      }
    }
  }
});

test('lengths are written as people write them', () => {
  // 25.4 mm to the inch; the fractions are those of a rule.
  const texts: readonly (readonly [number, string, string])[] = [
    [0, '0 mm', '0 in'],
    [12.7, '12.7 mm', '1/2 in'],
    [31.75, '31.75 mm', '1 1/4 in'],
    [25.4 / 64, '0.396875 mm', '1/64 in'],
    [-9.525, '-9.525 mm', '-3/8 in'],
    [1689.1, '1.6891 m', '5 ft 6 1/2 in'],
    [54864, '54.864 m', '180 ft'],
    [310, '310 mm', `${(310 / 25.4).toPrecision(12)} in`],
  ];
  for (const [mm, metric, us] of texts) {
    expect(quantityText(mm, 'length', 'metric')).toBe(metric);
    expect(quantityText(mm, 'length', 'us')).toBe(us);
  }
  expect(() => quantityText(Number.NaN, 'length', 'us')).toThrow(RangeError);
});
