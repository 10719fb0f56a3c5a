import { expect, test } from 'vitest';
import { gapLength } from '../../src/sheets/figures.ts';

/* 25.4 mm are an inch by definition; the rest is arithmetic of fractions. */

test('a gap under 1/8 in is told by its decimal, and what a tape shows only as about that', () => {
  expect(gapLength(0.043 * 25.4, 'us')).toBe('0.043 in (about 1/32)');
  expect(gapLength(25.4 / 16, 'us')).toMatch(/^0\.06[23] in \(1\/16\)$/);
  expect(gapLength(1.6, 'us')).toBe('0.063 in (1/16)');
  expect(gapLength(0.1, 'us')).toBe('0.004 in');
  expect(gapLength(2.9, 'us')).toBe('0.114 in (about 1/8)');
  // From 1/8 in on as every length on the sheets.
  expect(gapLength(4.8, 'us')).toBe('3/16 in (0.189)');
  expect(gapLength(1.6, 'metric')).toBe('1.6 mm');
});

test('the fraction is the nearest thirty-second, and called about it where it is off by more than the decimal shows', () => {
  for (let thousandths = 32; thousandths < 125; thousandths++) {
    const said = gapLength((thousandths / 1000) * 25.4, 'us');
    const [, decimal, about, above, below] = /^(0\.\d{3}) in \((about )?(\d+)\/(\d+)\)$/.exec(said) ?? [];
    expect(Number(decimal), said).toBeCloseTo(thousandths / 1000, 9);
    const off = Math.abs(Number(above) / Number(below) - thousandths / 1000);
    expect(off, said).toBeLessThanOrEqual(1 / 64 + 1e-9);
    expect(about !== undefined, said).toBe(off > 0.0005 + 1e-9);
  }
});
