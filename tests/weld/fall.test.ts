import fc from 'fast-check';
import { expect, test } from 'vitest';
import { downhillOn } from '../../src/weld/fall.ts';

/** Level for 100 mm, up 30 degrees over 40, level for 100, down 30 degrees over 40. */
const profile = { s: [0, 100, 140, 240, 280], height: [0, 0, 20, 20, 0] };

test('what goes down is what is welded downhill, either way round and over any number of turns (plain geometry)', () => {
  const downhill = downhillOn(profile);
  expect(downhill(0, 240)).toBe(0);
  expect(downhill(0, 280)).toBe(40);
  expect(downhill(280, 0)).toBe(40);
  expect(downhill(250, 270)).toBeCloseTo(20, 12);
  expect(downhill(270, 250)).toBe(0);
  expect(downhill(150, 110)).toBeCloseTo(30, 12);
  expect(downhill(-30, 20)).toBeCloseTo(30, 12);
  expect(downhill(-280, 560)).toBeCloseTo(120, 12);
});

test('a slope below 25 degrees is no way downhill to speak of', () => {
  const rise = (degrees: number) => 100 * Math.sin((degrees * Math.PI) / 180);
  const over = (degrees: number) => downhillOn({ s: [0, 100, 200], height: [0, rise(degrees), 0] })(100, 200);
  expect(over(24.9)).toBe(0);
  expect(over(25.1)).toBe(100);
});

test('parts of a way add up to it', () => {
  const downhill = downhillOn(profile);
  const place = fc.double({ min: -600, max: 600, noNaN: true });
  fc.assert(
    fc.property(place, place, place, (a, b, c) => {
      const [low, middle, high] = [a, b, c].sort((x, y) => x - y) as [number, number, number];
      expect(downhill(low, middle) + downhill(middle, high)).toBeCloseTo(downhill(low, high), 9);
      expect(downhill(high, middle) + downhill(middle, low)).toBeCloseTo(downhill(high, low), 9);
    }),
  );
});
