import { describe, expect, test } from 'vitest';
import { metalOf } from '../../src/weld/metal.ts';
import { metalAlong } from '../../src/weld/metalalong.ts';
import { leastApart, sorted, wrap } from '../../src/weld/ring.ts';
import { costsRound } from '../../src/weld/stopcost.ts';
import { DivideRoom, type DivideRules, stopsBetween } from '../../src/weld/stops.ts';

/** Numbers 0 to 1, the same in every run: Park and Miller's generator. */
function numbers(seed: number): () => number {
  let at = seed;
  return () => {
    at = (at * 48271) % 2147483647;
    return at / 2147483647;
  };
}

const PERIMETER = 680.5403599354265;
/** Four sides one after another, the third without the bead. */
const BEADS = [
  { from: 0, to: 300.1, area: 14.3, feathered: false },
  { from: 300.1, to: 340.25, area: 21.7, feathered: false },
  { from: 340.25, to: 640.4, area: 7.2, feathered: true },
  { from: 640.4, to: PERIMETER, area: 9.1, feathered: false },
];

describe('the root line as a ring', () => {
  test('a place is taken into one turn as by division', () => {
    const next = numbers(7);
    for (let i = 0; i < 5000; i++) {
      const s = (next() - 0.5) * 8 * PERIMETER;
      const rest = s - PERIMETER * Math.floor(s / PERIMETER);
      expect(Math.abs(wrap(s, PERIMETER) - rest)).toBeLessThan(1e-11);
    }
    expect([0, PERIMETER, -PERIMETER, 2 * PERIMETER].map((s) => Math.abs(wrap(s, PERIMETER)))).toEqual([0, 0, 0, 0]);
  });

  test('places come rising, each once; the least way between two lists is that of every pair', () => {
    const next = numbers(11);
    for (let i = 0; i < 200; i++) {
      const lists = [0, 1].map(() =>
        Array.from({ length: 1 + Math.floor(9 * next()) }, () => 3 * PERIMETER * (next() - 0.5)),
      );
      const [places, others] = lists as [number[], number[]];
      const rising = sorted([...places, ...places], PERIMETER);
      expect(rising).toEqual([...new Set(places.map((s) => wrap(s, PERIMETER)))].sort((p, q) => p - q));
      let least = Number.POSITIVE_INFINITY;
      for (const p of places) {
        for (const q of others) {
          const way = Math.abs(wrap(p, PERIMETER) - wrap(q, PERIMETER));
          least = Math.min(least, way, PERIMETER - way);
        }
      }
      expect(leastApart(rising, sorted(others, PERIMETER), PERIMETER)).toBeCloseTo(least, 9);
    }
    expect(leastApart([1], [], PERIMETER)).toBe(Number.POSITIVE_INFINITY);
  });
});

describe('metal along a stretch', () => {
  test.each([-900, -3.25, 0, 12.5, 655, 1400])('from %d mm: place by place what the metal gives there', (from) => {
    const metal = metalOf(BEADS, PERIMETER);
    const [volume, bead] = [new Float64Array(401), new Float64Array(401)];
    metalAlong(BEADS, PERIMETER)(from, 2.5, 400, volume, bead);
    for (let k = 0; k <= 400; k++) {
      expect(volume[k]).toBe(metal.volume(from + k * 2.5));
      expect(bead[k]).toBe(metal.length(from + k * 2.5));
    }
  });

  test('a turn holds the areas times the lengths', () => {
    const [volume, bead] = [new Float64Array(2), new Float64Array(2)];
    metalAlong(BEADS, PERIMETER)(100, PERIMETER, 1, volume, bead);
    const round = BEADS.reduce((sum, { from, to, area }) => sum + area * (to - from), 0);
    expect((volume[1] as number) - (volume[0] as number)).toBeCloseTo(round, 8);
    expect((bead[1] as number) - (bead[0] as number)).toBeCloseTo(PERIMETER - 300.15, 8);
  });
});

describe('what a stop costs', () => {
  test('the cube of what is missing of the distance to the place that falls shortest, whatever was kept there before', () => {
    const next = numbers(23);
    const costs = costsRound(PERIMETER);
    const scale = PERIMETER / Math.ceil(PERIMETER / 1.25);
    for (let i = 0; i < 40; i++) {
      const keepOff = [25, 12.5, 3.75, 0].map((wanted) => ({
        wanted,
        from: Array.from({ length: 6 }, () => PERIMETER * next()),
      }));
      const cost = costs(keepOff);
      for (let k = 0; k < 80; k++) {
        // On the scale itself, where the cost is that of the place.
        const s = Math.floor(next() * 2 * (PERIMETER / scale)) * scale;
        let missing = 0;
        for (const { wanted, from } of keepOff) {
          for (const each of from) {
            const way = Math.abs(wrap(s, PERIMETER) - each);
            if (wanted > 0) missing = Math.max(missing, 1 - Math.min(way, PERIMETER - way) / wanted);
          }
        }
        expect(cost(s)).toBeCloseTo(missing ** 3, 9);
      }
    }
  });
});

describe('stops between two places', () => {
  const rules: DivideRules = { longest: 130, most: 1600, least: 25, room: 50, step: 2.5 };
  const metal = metalOf(BEADS, PERIMETER);
  const along = metalAlong(BEADS, PERIMETER);

  test('the same in memory that a longer stretch was divided in', () => {
    const next = numbers(31);
    const used = new DivideRoom();
    for (let i = 0; i < 60; i++) {
      const cost = costsRound(PERIMETER)([{ wanted: 25, from: Array.from({ length: 8 }, () => PERIMETER * next()) }]);
      const from = PERIMETER * (next() - 0.5);
      const to = from + 60 + next() * 500;
      expect(stopsBetween(from, to, cost, metal, along, rules, used)).toEqual(
        stopsBetween(from, to, cost, metal, along, rules, new DivideRoom()),
      );
    }
  });

  test('of all divisions into as many pieces none costs less', () => {
    const cost = costsRound(PERIMETER)([{ wanted: 25, from: [95, 118, 190, 226] }]);
    const stops = stopsBetween(0, 300, cost, metal, along, rules, new DivideRoom());
    const price = (at: readonly number[]) =>
      at.reduce((sum, s, k) => sum + cost(s) + 1e-4 * ((s - (300 * (k + 1)) / (at.length + 1)) / 300) ** 2, 0);
    const pieces = stops.length + 1;
    expect(pieces).toBe(4);
    let least = Number.POSITIVE_INFINITY;
    const fits = (low: number, high: number) =>
      high - low >= (0.45 * 300) / pieces &&
      high - low <= rules.longest &&
      metal.volume(high) - metal.volume(low) <= rules.most &&
      metal.length(high) - metal.length(low) >= rules.least;
    for (let a = 0; a <= 300; a += 2.5) {
      if (!fits(0, a)) continue;
      for (let b = a; b <= 300; b += 2.5) {
        if (!fits(a, b)) continue;
        for (let c = b; c <= 300; c += 2.5) if (fits(b, c) && fits(c, 300)) least = Math.min(least, price([a, b, c]));
      }
    }
    expect(price(stops)).toBeCloseTo(least, 12);
  });
});
