import { expect, test } from 'vitest';
import { beadStack } from '../../src/weld/beadStack.ts';
import { beadRuns, passPlaces, type StackedSide } from '../../src/weld/runs.ts';

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

function secondBead(fromS: number, toS: number, feather = 25) {
  const joint = sides();
  const passes = passPlaces(joint).map((_, index) => ({
    pass: index + 1,
    runs: [{ run: 1, fromS, toS }],
    stagger: 0,
    cornerDistance: 0,
  }));
  return beadRuns(joint, passes, 600, feather).filter((run) => run.bead === 2);
}

test('a bead that only the ends have is carried round their corners and left out between', () => {
  const ends = secondBead(100, 700).map(({ fromS, toS }) => [fromS, toS]);
  expect(ends).toEqual([
    [175, 325],
    [475, 625],
  ]);
});

test('a run that goes the other way lays its stretches in the order it meets them', () => {
  expect(secondBead(700, 100).map(({ fromS, toS }) => [fromS, toS])).toEqual([
    [625, 475],
    [325, 175],
  ]);
});

test('where the stretches meet they are one', () => {
  expect(secondBead(100, 700, 100).map(({ fromS, toS }) => [fromS, toS])).toEqual([[100, 700]]);
});

test('what is feathered out holds no metal of its own', () => {
  const [first, second] = secondBead(100, 700);
  const area = sides()[1]?.stack.layers[0]?.beads[1]?.area ?? 0;
  expect(first?.volume).toBeCloseTo(100 * area, 9);
  expect(second?.volume).toBeCloseTo(100 * area, 9);
});

test('passes are layer by layer, bead by bead, as many as the widest side has', () => {
  const joint = sides();
  const most = joint[1]?.stack.beads ?? 0;
  expect(passPlaces(joint).map(({ layer, bead: n }) => [layer, n])).toEqual(
    Array.from({ length: most }, (_, index) => [1, index + 1]),
  );
});

test('a joint with fewer passes than places is refused', () => {
  expect(() => beadRuns(sides(), [], 600, 25)).toThrow(RangeError);
});
