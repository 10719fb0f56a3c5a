import { expect, test } from 'vitest';
import { figureText } from '../../src/app/text/figures.ts';

/* 1 in = 25.4 mm exactly. */
test.each([
  ['1.6 mm', '1/16 in'], // 0.0630 in; 1/16 = 0.0625 rounds to the same thousandth
  ['0.8 mm', '1/32 in'], // 0.0315 and 0.03125: both 0.031
  ['3.175 mm', '1/8 in'],
  ['0.4 mm', '1/64 in'], // 0.01575 and 0.015625: both 0.016
  ['1.19 mm', '3/64 in'], // 0.04685 and 0.046875
  ['1 mm', '0.039 in'],
  ['2.4 mm', '3/32 in'], // 0.0945 and 0.09375: both 0.094
  ['310 mm', '12 7/32 in'], // 12.2047; 7/32 = 0.21875 is the nearest of 32nds
])('%s in inches reads %s', (metric, inches) => {
  expect(figureText(metric, 'length', 'us')).toBe(inches);
});

test('a figure written in inches stays as it was written', () => {
  expect(figureText('0.0625 in', 'length', 'us')).toBe('0.0625 in');
  expect(figureText('1/16 in', 'length', 'metric')).toBe('1.6 mm');
});
