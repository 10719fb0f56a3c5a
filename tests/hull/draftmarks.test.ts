import { expect, test } from 'vitest';
import { attitudeFrom, draftNotes } from '../../geometry/hull/draftmarks.ts';
import { Refusal } from '../../geometry/refusal.ts';

const DEG = 180 / Math.PI;

// Trim atan((Ta - Tf) / LBP) and heel atan((Tport - Tstbd) / breadth): usual formulas, from memory, worked anew here.
// LBP 120 m, 5.2 and 6.4 m: 0.57294 deg; 0.35 m over 18 m: 1.11394 deg.
test('four marks at the perpendiculars, level and heeled', () => {
  const marks = [
    { station: 0, offset: 9000, draft: 6400 - 175 },
    { station: 0, offset: -9000, draft: 6400 + 175 },
    { station: 120_000, offset: 9000, draft: 5200 - 175 },
    { station: 120_000, offset: -9000, draft: 5200 + 175 },
  ];
  const got = attitudeFrom(marks, 120_000);
  expect(Math.atan((got.draftAft - got.draftForward) / 120_000) * DEG).toBeCloseTo(0.57294, 5);
  expect(got.heel * DEG).toBeCloseTo(1.11394, 5);
  for (const r of got.residuals) expect(r).toBeCloseTo(0, 6);
  // Two readings of 20 mm at either end: 20 / sqrt 2 there (closed form).
  expect(got.errors.draftAft).toBeCloseTo(20 / Math.SQRT2, 6);
});

test('a ship that sags shows in the residuals amidships', () => {
  const marks = [0, 60_000, 120_000].map((station) => ({
    station,
    offset: 0,
    draft: station === 60_000 ? 5060 : 5000,
  }));
  const got = attitudeFrom(marks, 120_000);
  expect(got.draftAft).toBeCloseTo(5020, 6);
  expect(got.residuals[1]).toBeCloseTo(40, 6);
  expect(got.heel).toBe(0);
});

test('the next draft is read where there is ship: never beside the ends where no mark says how broad she is there', () => {
  // Broad amidships, a stem mark on the centreline. The least sum of variances over every place, by the normal equations inverted anew.
  const marks = [
    { station: 3000, offset: 2600, draft: 3110 },
    { station: 3000, offset: -2600, draft: 3150 },
    { station: 24_000, offset: 4300, draft: 2960 },
    { station: 24_000, offset: -4300, draft: 3050 },
    { station: 47_000, offset: 0, draft: 2850 },
  ];
  const { next } = attitudeFrom(marks, 48_000);
  const readable = [
    [0, 0],
    [48_000, 0],
    [3000, 2600],
    [3000, -2600],
    [24_000, 4300],
    [24_000, -4300],
  ] as const;
  expect(readable).toContainEqual([next.station, next.offset]);
  const rowAt = (x: number, y: number) => [1, x / 48_000, y / 4300] as const;
  const varianceWith = ([x, y]: readonly [number, number]): number => {
    const rows = [...marks.map((m) => rowAt(m.station, m.offset)), rowAt(x, y)];
    const n = [0, 1, 2].map((i) => [0, 1, 2].map((j) => rows.reduce((sum, r) => sum + (r[i] ?? 0) * (r[j] ?? 0), 0)));
    const at = (i: number, j: number) => n[i % 3]?.[j % 3] ?? 0;
    const cofactor = (i: number, j: number) =>
      at(i + 1, j + 1) * at(i + 2, j + 2) - at(i + 1, j + 2) * at(i + 2, j + 1);
    const det = [0, 1, 2].reduce((sum, j) => sum + at(0, j) * cofactor(0, j), 0);
    let sum = 0;
    for (const px of [0, 48_000])
      for (const py of [4300, -4300, 0]) {
        const r = rowAt(px, py);
        for (const i of [0, 1, 2]) for (const j of [0, 1, 2]) sum += ((r[i] ?? 0) * (r[j] ?? 0) * cofactor(j, i)) / det;
      }
    return sum;
  };
  const least = Math.min(...readable.map(varianceWith));
  expect(varianceWith([next.station, next.offset])).toBeCloseTo(least, 9);
});

test('of a mark that was read it is said that it is read again, by its name', () => {
  const marks = [
    { name: 'aft', station: 0, offset: 0, draft: 5000, residual: 0 },
    { name: 'port', station: 60_000, offset: 9000, draft: 5000, residual: 0 },
    { station: 60_000, offset: -9000, draft: 5000, residual: 0 },
  ];
  const errors = { draftAft: 20, draftForward: 40, heel: 0.001 };
  const said = (next: { station: number; offset: number }) =>
    draftNotes(marks, { errors, freedom: 0, scattered: false, next })
      .flat()
      .filter((part) => typeof part === 'string')
      .join('');
  expect(said({ station: 60_000, offset: 9000 })).toMatch(/Reading again would help most at the mark "port"\.$/);
  expect(said({ station: 120_000, offset: 0 })).toMatch(
    /One more draft would help most at station .* on the centreline\.$/,
  );
});

test('marks that do not tell are refused', () => {
  expect(() => attitudeFrom([{ station: 0, offset: 0, draft: 5000 }], 120_000)).toThrow(Refusal);
  expect(() =>
    attitudeFrom(
      [0, 1].map((station) => ({ station: station * 120_000, offset: 4000, draft: 5000 })),
      120_000,
    ),
  ).toThrow(Refusal);
});

test('marks a hand apart tell no heel: refused with how badly, and where to read instead', () => {
  // Two marks 100 mm apart, 20 mm each: sigma(tan heel) = 20 sqrt 2 / 100, 15.8 degrees at no heel (closed form).
  const marks = [
    { station: 60_000, offset: 50, draft: 5000 },
    { station: 60_000, offset: -50, draft: 5000 },
    { station: 0, offset: 0, draft: 5000 },
    { station: 120_000, offset: 0, draft: 5000 },
  ];
  try {
    attitudeFrom(marks, 120_000);
    throw new Error('not refused');
  } catch (e) {
    if (!(e instanceof Refusal)) throw e;
    const told = e.found.find((part) => typeof part === 'object' && 'rad' in part) as { rad: number };
    expect(told.rad).toBeCloseTo((20 * Math.SQRT2) / 100, 6);
  }
});
