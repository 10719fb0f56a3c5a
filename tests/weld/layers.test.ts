import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { downhillOn } from '../../src/weld/fall.ts';
import { layPasses, type PassBead, type PassRules, type RootRun, STAGGER_SHARE } from '../../src/weld/layers.ts';

/** Runs not kept to an electrode: what is tried here is where stops go. */
const rules: PassRules = {
  stagger: 25,
  cornerClear: 25,
  longest: 150,
  electrode: Number.POSITIVE_INFINITY,
  downhill: () => 0,
};

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

/** A bead of 7 mm2 over a whole joint, whatever its perimeter is. */
const allRound = (perimeter: number) => [{ from: 0, to: perimeter, area: 7, feathered: false }];

/** One bead a layer, all round. */
const single = (count: number, perimeter: number): PassBead[] =>
  Array.from({ length: count }, (_, k) => ({
    on: null,
    metal: allRound(perimeter),
    touching: k === 0 ? [] : [k - 1],
    beneath: k < 2 ? [] : [k - 2],
    near: [k - 1, k - 2].filter((each) => each >= 0),
  }));

/** Distance round the joint, tried turn by turn. */
const between = (a: number, b: number, perimeter: number) =>
  Math.min(...[-3, -2, -1, 0, 1, 2, 3].map((turn) => Math.abs(a - b + turn * perimeter)));
const nearest = (places: readonly number[], others: readonly number[], perimeter: number) =>
  Math.min(...places.flatMap((a) => others.map((b) => between(a, b, perimeter))));

/** Whether stretches cover low..high of the joint, and how long they are together. */
const lengthOf = (runs: readonly RootRun[]) => runs.reduce((sum, run) => sum + Math.abs(run.toS - run.fromS), 0);

describe('every pass', () => {
  test('covers the joint once', () => {
    fc.assert(
      fc.property(joints, fc.integer({ min: 1, max: 12 }), ({ perimeter, corners, root }, count) => {
        const passes = layPasses(root, perimeter, corners, single(count, perimeter), rules);
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

  test('has no run longer than the longest, above the root', () => {
    fc.assert(
      fc.property(joints, ({ perimeter, corners, root }) => {
        for (const pass of layPasses(root, perimeter, corners, single(8, perimeter), rules).slice(1))
          for (const run of pass.runs)
            expect(Math.abs(run.toS - run.fromS)).toBeLessThanOrEqual(rules.longest + ROUND_OFF);
      }),
    );
  });

  test('climbs as the root does: up both ways from near its lowest place, closed last near its highest', () => {
    fc.assert(
      fc.property(joints, ({ perimeter, corners, root }) => {
        const [first, ...rest] = layPasses(root, perimeter, corners, single(6, perimeter), rules);
        expect(first?.runs.map(({ fromS, toS }) => ({ fromS, toS }))).toEqual(root);
        const start = (root[0] as RootRun).fromS;
        const end = (root.at(-1) as RootRun).toS;
        // A turning point is moved by at most 0.35 of the shorter way up, and never more than 120 mm.
        const ways = root.filter((run) => run.toS > run.fromS);
        const up = lengthOf(ways);
        const reach = Math.min(120, 0.35 * Math.min(up, perimeter - up)) + ROUND_OFF;
        for (const { runs } of rest) {
          expect(between(runs[0]?.fromS ?? 0, start, perimeter)).toBeLessThanOrEqual(reach);
          expect(between(runs.at(-1)?.toS ?? 0, end, perimeter)).toBeLessThanOrEqual(reach);
          // Every run begins where the pass began or where an earlier run of it ended: nothing is left to be closed between.
          runs.forEach((run, k) => {
            const ends = [runs[0]?.fromS ?? 0, ...runs.slice(0, k).map((each) => each.toS)];
            expect(nearest([run.fromS], ends, perimeter)).toBeLessThan(ROUND_OFF);
          });
        }
      }),
    );
  });

  test('says how far its stops lie from those that touch, from those near, and from the corners (brute force)', () => {
    fc.assert(
      fc.property(joints, ({ perimeter, corners, root }) => {
        const beads = single(7, perimeter);
        const passes = layPasses(root, perimeter, corners, beads, rules);
        const stops = passes.map((pass) => pass.runs.flatMap((run) => [run.fromS, run.toS]));
        passes.forEach((pass, i) => {
          const own = stops[i] ?? [];
          const of = (indices: readonly number[]) => indices.flatMap((k) => stops[k] ?? []);
          expect(Math.abs(pass.cornerDistance - nearest(own, corners, perimeter))).toBeLessThan(ROUND_OFF);
          if (i === 0) return;
          expect(Math.abs(pass.stagger - nearest(own, of(beads[i]?.touching ?? []), perimeter))).toBeLessThan(
            ROUND_OFF,
          );
          if (i > 1)
            expect(Math.abs(pass.overlap - nearest(own, of(beads[i]?.beneath ?? []), perimeter))).toBeLessThan(
              ROUND_OFF,
            );
          expect(Math.abs(pass.apart - nearest(own, of(beads[i]?.near ?? []), perimeter))).toBeLessThan(ROUND_OFF);
        });
      }),
    );
  });
});

describe('a bead that only some sides have', () => {
  test('is laid on all of them, once, and on nothing but them and what is feathered out beyond their corners', () => {
    fc.assert(
      fc.property(joints, fc.integer({ min: 1, max: 14 }), ({ perimeter, corners, root }, which) => {
        const ends = [...corners, perimeter];
        const has = [0, 1, 2, 3].filter((k) => ((which >> k) & 1) === 1);
        const on = has.map((k) => ({ from: ends[k] as number, to: ends[k + 1] as number }));
        const metal = [0, 1, 2, 3].map((k) => ({
          from: ends[k] as number,
          to: ends[k + 1] as number,
          area: has.includes(k) ? 7 : 3.5,
          feathered: !has.includes(k),
        }));
        const passes = layPasses(
          root,
          perimeter,
          corners,
          [...single(1, perimeter), { on, metal, touching: [0], beneath: [], near: [0] }],
          rules,
        );
        const runs = passes[1]?.runs ?? [];
        const times = (s: number) =>
          runs.filter((run) =>
            [-3, -2, -1, 0, 1, 2, 3].some((turn) => {
              const at = s + turn * perimeter;
              return at > Math.min(run.fromS, run.toS) && at < Math.max(run.fromS, run.toS);
            }),
          ).length;
        for (let k = 0; k < 4; k++) {
          const [from, to] = [ends[k] as number, ends[k + 1] as number];
          for (const share of [0.013, 0.11, 0.31, 0.52, 0.73, 0.91, 0.987]) {
            const s = from + share * (to - from);
            if (runs.some((run) => nearest([run.fromS, run.toS], [s], perimeter) < 1e-6)) continue;
            if (has.includes(k)) expect(times(s)).toBe(1);
            // Carried on for at most three times the wanted distance from a corner.
            else if (Math.min(s - from, to - s) > 3 * rules.cornerClear) expect(times(s)).toBe(0);
            else expect(times(s)).toBeLessThanOrEqual(1);
          }
        }
      }),
    );
  });
});

describe('on a steep foot', () => {
  /** A foot's rectangle on a plane: its root climbs both ways from the lowest corner to the highest. */
  const feet = fc
    .record({
      foot: fc.double({ min: 150, max: 500, noNaN: true }),
      thickness: fc.double({ min: 20, max: 60, noNaN: true }),
      along: fc.double({ min: -0.95, max: 0.95, noNaN: true }),
      across: fc.double({ min: -0.95, max: 0.95, noNaN: true }),
      runs: fc.integer({ min: 1, max: 4 }),
    })
    .filter(({ along, across }) => Math.abs(along) > 0.01 && Math.abs(across) > 0.01)
    .map(({ foot, thickness, along, across, runs }) => {
      const corners = [0, foot, foot + thickness, 2 * foot + thickness];
      const perimeter = 2 * (foot + thickness);
      const heights = [0, foot * along, foot * along + thickness * across, thickness * across, 0];
      const lowest = heights.indexOf(Math.min(...heights));
      const start = corners[lowest] as number;
      // Opposite corner.
      const up = perimeter / 2;
      const root: RootRun[] = Array.from({ length: runs }, (_, i) =>
        [up, -up].map((way) => ({ fromS: start + (way * i) / runs, toS: start + (way * (i + 1)) / runs })),
      ).flat();
      return { perimeter, corners, root, profile: { s: [...corners, perimeter], height: heights } };
    });

  /** mm, longest stretch that falls more steeply than 25 degrees, and not by round-off, looked at millimetre by millimetre. */
  const fallen = ({ fromS, toS }: RootRun, { s, height }: { s: readonly number[]; height: readonly number[] }) => {
    const perimeter = s.at(-1) as number;
    const at = (place: number) => {
      const here = ((place % perimeter) + perimeter) % perimeter;
      const k = s.findIndex((each) => each > here);
      const [from, to] = [s[k - 1] as number, s[k] as number];
      return ((height[k - 1] as number) * (to - here) + (height[k] as number) * (here - from)) / (to - from);
    };
    const looks = Math.ceil(Math.abs(toS - fromS));
    const step = (toS - fromS) / looks;
    let here = 0;
    let longest = 0;
    for (let i = 0; i < looks; i++) {
      const fall = at(fromS + i * step) - at(fromS + (i + 1) * step);
      here = fall > Math.sin((25.01 * Math.PI) / 180) * Math.abs(step) ? here + Math.abs(step) : 0;
      longest = Math.max(longest, here);
    }
    return longest;
  };

  test('no run above the root goes downhill for more than an inch at a stretch, though stops are kept apart', () => {
    fc.assert(
      fc.property(feet, ({ perimeter, corners, root, profile }) => {
        const steep = { ...rules, downhill: downhillOn(profile) };
        // A look at either end of what falls may be counted too many.
        for (const { runs } of layPasses(root, perimeter, corners, single(8, perimeter), steep).slice(1))
          for (const run of runs) expect(fallen(run, profile)).toBeLessThanOrEqual(25 + 2);
      }),
    );
  });

  test('nor does a bead that one side or one end alone has', () => {
    fc.assert(
      fc.property(feet, fc.integer({ min: 0, max: 3 }), ({ perimeter, corners, root, profile }, side) => {
        const ends = [...corners, perimeter];
        const metal = [0, 1, 2, 3].map((k) => ({
          from: ends[k] as number,
          to: ends[k + 1] as number,
          area: k === side ? 7 : 3.5,
          feathered: k !== side,
        }));
        const on = [{ from: ends[side] as number, to: ends[side + 1] as number }];
        const bead = { on, metal, touching: [0], beneath: [], near: [0] };
        const steep = { ...rules, downhill: downhillOn(profile) };
        const [, second] = layPasses(root, perimeter, corners, [...single(1, perimeter), bead], steep);
        for (const run of second?.runs ?? []) expect(fallen(run, profile)).toBeLessThanOrEqual(25 + 2);
      }),
    );
  });

  test('a level foot is laid as if nobody had asked', () => {
    fc.assert(
      fc.property(joints, ({ perimeter, corners, root }) => {
        const level = downhillOn({ s: [0, perimeter], height: [0, 0] });
        const lay = (downhill: PassRules['downhill']) =>
          layPasses(root, perimeter, corners, single(5, perimeter), { ...rules, downhill });
        expect(lay(level)).toEqual(lay(() => 0));
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

  test('are about an inch apart from bead to bead and from the corners (common practice), where the foot has room', () => {
    const passes = layPasses(root, 680, corners, single(9, 680), rules);
    for (const pass of passes.slice(1)) {
      expect(pass.stagger).toBeGreaterThanOrEqual(25 - ROUND_OFF);
      expect(pass.overlap).toBeGreaterThanOrEqual(25 * STAGGER_SHARE.beneath - ROUND_OFF);
      expect(pass.apart).toBeGreaterThanOrEqual(25 * STAGGER_SHARE.near - ROUND_OFF);
      // Runs of three to a way leave no stop free to be wherever it is best.
      expect(pass.cornerDistance).toBeGreaterThanOrEqual(20 - ROUND_OFF);
    }
    // The root itself is laid as it was given.
    expect(passes[0]?.cornerDistance).toBe(0);
  });

  test('where the foot is too small, what was reached is said', () => {
    const tiny = [
      { fromS: 0, toS: 40 },
      { fromS: 0, toS: -40 },
    ];
    const passes = layPasses(tiny, 80, [0, 30, 40, 70], single(4, 80), rules);
    expect(Math.min(...passes.slice(1).map((pass) => pass.cornerDistance))).toBeLessThan(25);
  });

  test('a run longer than a diver should lay is divided above the root', () => {
    const passes = layPasses(root, 680, corners, single(2, 680), { ...rules, longest: 100 });
    expect(passes[0]?.runs).toHaveLength(4);
    for (const run of passes[1]?.runs ?? []) expect(Math.abs(run.toS - run.fromS)).toBeLessThanOrEqual(100 + ROUND_OFF);
  });
});

test('a root that leaves a piece open, or goes over one twice, is refused', () => {
  const corners = [0, 300, 340, 640];
  const lay = (runs: readonly RootRun[]) => layPasses(runs, 680, corners, single(3, 680), rules);
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
  expect(() => layPasses([{ fromS: 0, toS: 680 }], 680, corners, single(3, 680), { ...rules, longest: 0 })).toThrow(
    RangeError,
  );
});
