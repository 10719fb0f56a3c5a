import { expect, test } from 'vitest';
import { beadStack } from '../../src/weld/beadStack.ts';
import { beadRuns, passBeads, passPlaces, type StackedSide } from '../../src/weld/runs.ts';

const bead = { area: 7, width: 4.8, thickness: 7 / 4.8 };

/** Faces of one bead, ends of several: 0-200 face, 200-300 end, 300-500 face, 500-600 end. */
function sides(): readonly StackedSide[] {
  const narrow = beadStack({ dihedral: 1.2, throat: 2.5, opening: 0 }, bead, 1);
  const wide = beadStack({ dihedral: 2.2, throat: 4, opening: 0 }, bead, 1);
  expect(narrow.beads).toBe(1);
  expect(wide.beads).toBeGreaterThan(1);
  return [
    { side: 'face-', fromS: 0, toS: 200, stack: narrow },
    { side: 'end+', fromS: 200, toS: 300, stack: wide },
    { side: 'face+', fromS: 300, toS: 500, stack: narrow },
    { side: 'end-', fromS: 500, toS: 600, stack: wide },
  ];
}

test('a bead that only the ends have lies on the ends alone, all beads else all round', () => {
  const joint = sides();
  const beads = passBeads(joint, 600);
  expect(beads[0]).toMatchObject({ on: null, touching: [], beneath: [], near: [] });
  // What it lays side by side is the drawing's.
  for (const [k, { metal }] of beads.entries()) {
    const areas = joint.map(({ stack }) => stack.layers[0]?.beads[k]?.area);
    const half = Math.max(...areas.map((area) => area ?? 0)) / 2;
    expect(metal).toEqual(
      joint.map(({ fromS, toS }, side) => ({
        from: fromS,
        to: toS,
        area: areas[side] ?? half,
        feathered: areas[side] === undefined,
      })),
    );
  }
  for (const bead of beads.slice(1)) {
    expect(bead.on).toEqual([
      { from: 200, to: 300 },
      { from: 500, to: 600 },
    ]);
  }
  // One layer: a bead touches the one laid beside it before, and is near all of them.
  expect(beads.map((bead) => bead.touching)).toEqual(beads.map((_, k) => (k === 0 ? [] : [k - 1])));
  expect(beads.at(-1)?.near).toHaveLength(beads.length - 1);
});

test('sides that meet at the start of the root line are one stretch', () => {
  const [narrow, wide, , last] = sides();
  const joint = [
    { ...(wide as StackedSide), side: 'face-' as const, fromS: 0, toS: 200 },
    { ...(narrow as StackedSide), side: 'end+' as const, fromS: 200, toS: 300 },
    { ...(narrow as StackedSide), side: 'face+' as const, fromS: 300, toS: 500 },
    last as StackedSide,
  ];
  expect(passBeads(joint, 600)[1]?.on).toEqual([{ from: 500, to: 800 }]);
});

test('what is feathered out holds half a bead on its way: it runs to nothing', () => {
  const joint = sides();
  const passes = passPlaces(joint).map((_, index) => ({
    pass: index + 1,
    runs: [
      { run: 1, fromS: 175, toS: 325 },
      { run: 2, fromS: 625, toS: 475 },
    ],
    stagger: 0,
    overlap: 0,
    apart: 0,
    cornerDistance: 0,
  }));
  const area = joint[1]?.stack.layers[0]?.beads[1]?.area ?? 0;
  const second = beadRuns(joint, passes, 600).filter((run) => run.bead === 2);
  // 25 mm beyond each end of the 100 that have the bead.
  for (const run of second) {
    expect(run.feathered).toBeCloseTo(2 * 25 * (area / 2), 9);
    expect(run.volume - run.feathered).toBeCloseTo(100 * area, 9);
  }
});

test('passes are layer by layer, bead by bead, as many as the widest side has', () => {
  const joint = sides();
  const most = joint[1]?.stack.beads ?? 0;
  expect(passPlaces(joint).map(({ layer, bead: n }) => [layer, n])).toEqual(
    Array.from({ length: most }, (_, index) => [1, index + 1]),
  );
});

test('a joint with fewer passes than places is refused', () => {
  expect(() => beadRuns(sides(), [], 600)).toThrow(RangeError);
});
