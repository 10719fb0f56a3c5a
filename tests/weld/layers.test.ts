import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { layPasses, type PassRules, type RootRun } from '../../src/weld/layers.ts';

const rules: PassRules = { stagger: 25, cornerClear: 25, longest: 150 };

/** A foot's perimeter, its corners, and a root in runs both ways up from a lowest place to a highest. */
const joints = fc
  .record({
    foot: fc.double({ min: 150, max: 500, noNaN: true }),
    thickness: fc.double({ min: 20, max: 60, noNaN: true }),
    lowest: fc.double({ min: 0, max: 1, noNaN: true }),
    closing: fc.double({ min: 0.3, max: 0.7, noNaN: true }),
    runs: fc.integer({ min: 1, max: 4 }),
  })
  .map(({ foot, thickness, lowest, closing, runs }) => {
    const perimeter = 2 * (foot + thickness);
    const start = lowest * perimeter;
    const ways = [closing * perimeter, -(1 - closing) * perimeter];
    const root: RootRun[] = Array.from({ length: runs }, (_, i) =>
      ways.map((way) => ({ fromS: start + (way * i) / runs, toS: start + (way * (i + 1)) / runs })),
    ).flat();
    return { perimeter, corners: [0, foot, foot + thickness, 2 * foot + thickness], root };
  });

/** mm; the perimeter is some hundred mm long. */
const ROUND_OFF = 1e-7;

describe('every pass', () => {
  test('covers the joint once', () => {
    fc.assert(
      fc.property(joints, fc.integer({ min: 1, max: 12 }), ({ perimeter, corners, root }, count) => {
        const passes = layPasses(root, perimeter, corners, count, rules);
        expect(passes.map((pass) => pass.pass)).toEqual(Array.from({ length: count }, (_, i) => i + 1));
        for (const pass of passes) {
          const spans = pass.runs
            .map((run) => {
              const low = Math.min(run.fromS, run.toS);
              return { start: ((low % perimeter) + perimeter) % perimeter, length: Math.abs(run.toS - run.fromS) };
            })
            .sort((a, b) => a.start - b.start);
          expect(Math.abs(spans.reduce((sum, span) => sum + span.length, 0) - perimeter)).toBeLessThan(ROUND_OFF);
          spans.forEach((span, i) => {
            const next = spans[(i + 1) % spans.length];
            const gap = (span.start + span.length - (next?.start ?? 0)) / perimeter;
            expect(Math.abs(gap - Math.round(gap)) * perimeter).toBeLessThan(ROUND_OFF);
          });
        }
      }),
    );
  });

  test('repeats the root: same order, same directions, so low to high and closed last where the root is', () => {
    fc.assert(
      fc.property(joints, ({ perimeter, corners, root }) => {
        const [first, ...rest] = layPasses(root, perimeter, corners, 6, { ...rules, longest: perimeter });
        expect(first?.runs.map(({ fromS, toS }) => ({ fromS, toS }))).toEqual(root);
        for (const pass of rest) {
          expect(pass.runs).toHaveLength(root.length);
          pass.runs.forEach((run, i) => {
            const below = root[i] as RootRun;
            expect(Math.sign(run.toS - run.fromS)).toBe(Math.sign(below.toS - below.fromS));
            // An end moves by less than half of the runs that meet there.
            const longest = Math.max(...root.map((each) => Math.abs(each.toS - each.fromS)));
            expect(Math.abs(run.fromS - below.fromS)).toBeLessThan(longest / 2);
          });
        }
      }),
    );
  });

  test('says how far its stops lie from the two passes before and from the corners (brute force)', () => {
    fc.assert(
      fc.property(joints, ({ perimeter, corners, root }) => {
        const long = { ...rules, longest: perimeter };
        const passes = layPasses(root, perimeter, corners, 7, long);
        const stops = passes.map((pass) => pass.runs.flatMap((run) => [run.fromS, run.toS]));
        const nearest = (places: readonly number[], others: readonly number[]) => {
          let least = Number.POSITIVE_INFINITY;
          for (const a of places)
            for (const b of others)
              for (const turn of [-2, -1, 0, 1, 2]) least = Math.min(least, Math.abs(a - b + turn * perimeter));
          return least;
        };
        passes.forEach((pass, i) => {
          expect(Math.abs(pass.cornerDistance - nearest(stops[i] ?? [], corners))).toBeLessThan(ROUND_OFF);
          if (i === 0) return;
          const before = stops.slice(Math.max(0, i - 2), i).flat();
          expect(Math.abs(pass.stagger - nearest(stops[i] ?? [], before))).toBeLessThan(ROUND_OFF);
        });
      }),
    );
  });
});

describe('stops', () => {
  // A 300 x 40 foot, root started at a corner, as where the lowest place is one.
  const root = [
    { fromS: 0, toS: 170 },
    { fromS: 0, toS: -170 },
    { fromS: 170, toS: 340 },
    { fromS: -170, toS: -340 },
  ];
  const corners = [0, 300, 340, 640];

  test('are an inch apart from pass to pass and from the corners (common practice), where the foot has room', () => {
    const passes = layPasses(root, 680, corners, 9, { ...rules, longest: 200 });
    for (const pass of passes.slice(1)) {
      expect(pass.stagger).toBeGreaterThanOrEqual(25 - ROUND_OFF);
      expect(pass.cornerDistance).toBeGreaterThanOrEqual(25 - ROUND_OFF);
    }
    // The root itself is laid as it was given.
    expect(passes[0]?.cornerDistance).toBe(0);
  });

  test('where the foot is too small, what was reached is said', () => {
    const tiny = [
      { fromS: 0, toS: 40 },
      { fromS: 0, toS: -40 },
    ];
    const passes = layPasses(tiny, 80, [0, 30, 40, 70], 4, rules);
    expect(Math.min(...passes.slice(1).map((pass) => pass.cornerDistance))).toBeLessThan(25);
  });

  test('a run longer than a diver should lay is divided evenly above the root', () => {
    const passes = layPasses(root, 680, corners, 2, { ...rules, longest: 100 });
    expect(passes[0]?.runs).toHaveLength(4);
    expect(passes[1]?.runs).toHaveLength(8);
  });
});

test('a root that leaves a piece open, or goes over one twice, is refused', () => {
  const corners = [0, 300, 340, 640];
  const lay = (runs: readonly RootRun[]) => layPasses(runs, 680, corners, 3, rules);
  expect(() => lay([{ fromS: 0, toS: 600 }])).toThrow(RangeError);
  expect(() =>
    lay([
      { fromS: 0, toS: 400 },
      { fromS: 300, toS: 580 },
    ]),
  ).toThrow(RangeError);
  expect(() =>
    lay([
      { fromS: 0, toS: 680 },
      { fromS: 0, toS: 680 },
    ]),
  ).toThrow(RangeError);
  expect(() => layPasses([{ fromS: 0, toS: 680 }], 680, corners, 3, { ...rules, longest: 0 })).toThrow(RangeError);
});
