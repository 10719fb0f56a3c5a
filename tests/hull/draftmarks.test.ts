import { expect, test } from 'vitest';
import { attitudeFrom } from '../../geometry/hull/draftmarks.ts';
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
