import { describe, expect, test } from 'vitest';
import { asWritten, completed, stepped, writtenIn } from '../../src/app/sentence/stepping.ts';
import { figureText } from '../../src/app/text/figures.ts';
import { readQuantity } from '../../src/job/quantity.ts';

describe('a figure is stepped in the unit it was written in', () => {
  test.each([
    ['310 mm', 'length', 1, 'plain', '311 mm'],
    ['310 mm', 'length', -1, 'coarse', '300 mm'],
    ['310 mm', 'length', 1, 'fine', '310.1 mm'],
    ['9.5 m', 'length', 1, 'plain', '9.51 m'],
    ['1 1/4 in', 'length', 1, 'plain', '1 5/16 in'],
    ['1 15/16 in', 'length', 1, 'plain', '2 in'],
    ['1/16 in', 'length', -2, 'plain', '-1/16 in'],
    ['31 ft', 'length', 1, 'plain', '31 ft 1/2 in'],
    ['30 ft 11 1/2 in', 'length', 1, 'plain', '31 ft'],
    ['-0.6 deg', 'angle', 1, 'plain', '-0.1 deg'],
    ['11 tonf', 'force', 1, 'plain', '11.5 tonf'],
    ['10 kip', 'force', 1, 'plain', '10.5 kip'],
    ['110 kN', 'force', -1, 'coarse', '100 kN'],
    ['5 %', 'share', 1, 'plain', '5.5 %'],
    ['36 ksi', 'stress', 1, 'plain', '37 ksi'],
    ['25 t', 'load', 1, 'plain', '25.5 t'],
    ['2.2 m ± 20 mm', 'length', 1, 'plain', '2.21 m ± 20 mm'],
    ['14.5 +/- 0.5 deg', 'angle', 1, 'plain', '15 deg +/- 0.5 deg'],
    ['1 1/4 in ± 1/8 in', 'length', -1, 'plain', '1 3/16 in ± 1/8 in'],
  ] as const)('%s', (raw, kind, steps, stride, expected) => {
    expect(stepped(raw, kind, steps, stride, 'metric')).toBe(expected);
    expect(readQuantity(expected, kind).ok).toBe(true);
  });

  test('a ± may be typed with any key, and one unit serves for both', () => {
    expect(completed('2.3 ± 0.02', '2.2 m ± 20 mm')).toBe('2.3 ± 0.02 m');
    expect(completed('14.5 +/- 0.5', '14 deg')).toBe('14.5 +/- 0.5 deg');
    expect(completed('14.5 +- .5', '14 deg')).toBe('14.5 +- .5 deg');
    expect(completed('2.3 m ± 20 mm', '2.2 m')).toBe('2.3 m ± 20 mm');
    expect(completed('14.5 ±', '14 deg')).toBe('14.5 ±');
    for (const typed of ['2.3 ± 0.02 m', '2.3 m +/- 20 mm', '2.3 +- 0.02 m']) {
      const reading = readQuantity(typed, 'length');
      expect(reading.ok && [reading.value, reading.error]).toEqual([2300, 20]);
    }
  });

  test('a ± is shown with its figure, in the units of the display', () => {
    expect(figureText('2.2 m +/- 20 mm', 'length', 'metric')).toBe('2.2 m ± 20 mm');
    expect(figureText('0.6 deg ± 0.2 deg', 'angle', 'us')).toBe('0.6° ± 0.2°');
    // 1 in = 25.4 mm: 254 mm is 10 in, 25.4 mm is 1 in.
    expect(figureText('254 mm ± 25.4 mm', 'length', 'us')).toBe('10 in ± 1 in');
  });

  test('forth and back is where it was', () => {
    for (const raw of ['310 mm', '1 1/4 in', '31 ft 6 in', '12.5 deg'])
      expect(
        stepped(
          stepped(raw, raw.includes('deg') ? 'angle' : 'length', 7, 'plain', 'us'),
          raw.includes('deg') ? 'angle' : 'length',
          -7,
          'plain',
          'us',
        ),
      ).toBe(raw);
  });

  test('what cannot be read stays as it is', () => {
    expect(stepped('twelve', 'length', 1, 'plain', 'metric')).toBe('twelve');
  });
});

// Exact by definition: 1 in = 25.4 mm, 1 ft = 304.8 mm.
test('a value from the scene is written in the unit of the figure it replaces', () => {
  expect(asWritten(9520, 'length', '9.5 m', 'metric')).toBe('9.52 m');
  expect(asWritten(9520, 'length', '', 'metric')).toBe('9520 mm');
  expect(asWritten(38.1, 'length', '1 in', 'us')).toBe('1 1/2 in');
  expect(asWritten(304.8 * 31 + 25.4 * 6.5, 'length', '31 ft', 'us')).toBe('31 ft 6 1/2 in');
  expect(asWritten(-304.8 * 2.5, 'length', '9 ft', 'us')).toBe('-2 ft 6 in');
  expect(asWritten(Math.PI / 6, 'angle', '0 deg', 'metric')).toBe('30 deg');
});

test('a bare number takes the unit of the figure it replaces; a unit typed stands', () => {
  expect(completed('12', '310 mm')).toBe('12 mm');
  expect(completed('1 1/2', '2 in')).toBe('1 1/2 in');
  expect(completed('12 1/8 in', '310 mm')).toBe('12 1/8 in');
  expect(completed('wide', '310 mm')).toBe('wide');
});

test('figures are shown as written in their own system and turned in the other', () => {
  expect(writtenIn('9.5 m', 'metric')).toBe(true);
  expect(writtenIn('9.5 m', 'us')).toBe(false);
  expect(figureText('9.5 m', 'length', 'metric')).toBe('9.5 m');
  // 9.5 m / 0.3048 = 31.168 ft = 31 ft 2.0157 in, that is 64.5 thirty-seconds
  expect(figureText('9.5 m', 'length', 'us')).toBe('31 ft 2 1/32 in');
  expect(figureText('12 in', 'length', 'metric')).toBe('304.8 mm');
  expect(figureText('0.7 deg', 'angle', 'us')).toBe('0.7°');
});
