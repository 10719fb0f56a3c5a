import { describe, expect, test } from 'vitest';
import { plane } from '../geometry/hulls.ts';
import { deg, RAD, standLug } from '../geometry/lugs.ts';

/*
 * Apparent slope: tan(apparent) = tan(true) cos(azimuth from the line of steepest slope). The formula is a geologist's
 * (apparent dip); the table was derived from it and is printed to two decimals.
 */

const TRUE_SLOPES = [10, 20, 30, 45, 60];
const TABLE: readonly (readonly number[])[] = [
  [0, 10.0, 20.0, 30.0, 45.0, 60.0],
  [15, 9.67, 19.37, 29.15, 44.01, 59.13],
  [30, 8.68, 17.5, 26.57, 40.89, 56.31],
  [45, 7.11, 14.43, 22.21, 35.26, 50.77],
  [60, 5.04, 10.31, 16.1, 26.57, 40.89],
  [75, 2.61, 5.38, 8.5, 14.51, 24.15],
  [85, 0.88, 1.82, 2.88, 4.98, 8.58],
];

/** Heading in the plane of a foot that lies over the azimuth, seen from above, from the line of steepest slope (outboard). */
const headingOver = (azimuth: number, slope: number) =>
  Math.PI / 2 - Math.atan2(Math.sin(azimuth * RAD) * Math.cos(slope * RAD), Math.cos(azimuth * RAD));

describe('What an inclinometer shows on a lug square to a sloping plane', () => {
  for (const [azimuth, ...row] of TABLE) {
    test(`foot over azimuth ${azimuth}: apparent slope of ${row.join(', ')} degrees`, () => {
      row.forEach((apparent, i) => {
        const slope = TRUE_SLOPES[i] as number;
        const { readings } = standLug(plane(slope * RAD), { heading: headingOver(azimuth as number, slope) });
        expect(Math.abs(deg(readings.footFromLevel) - apparent)).toBeLessThan(0.0051);
        expect(Math.abs(deg(readings.stemFromPlumb) - slope)).toBeLessThan(1e-9);
        expect(readings.higherEnd).toBe('end+');
      });
    });
  }

  test('two readings, 20 degrees at azimuth 030 and 25 at 100, on a slope of 27.2296 towards 074.983', () => {
    const slope = 27.2296;
    for (const [azimuth, reading] of [
      [30, 20],
      [100, 25],
    ] as const) {
      const { readings } = standLug(plane(slope * RAD), { heading: headingOver(azimuth - 74.983, slope) });
      expect(Math.abs(deg(readings.footFromLevel) - reading)).toBeLessThan(0.001);
    }
  });

  test('plate leaning 25 degrees from the normal: dihedrals 65 and 115, sum 180 all along', () => {
    const { joint } = standLug(plane(10 * RAD), { stem: { kind: 'lean', angle: 25 * RAD } });
    for (const side of ['face-', 'face+'] as const) {
      const all = joint.points.filter((p) => p.side === side).map((p) => deg(p.dihedral));
      const [first] = all as [number];
      expect(Math.min(Math.abs(first - 65), Math.abs(first - 115))).toBeLessThan(1e-9);
      for (const d of all) expect(Math.abs(d - first)).toBeLessThan(1e-9);
    }
    expect(deg(joint.dihedral.min) + deg(joint.dihedral.max)).toBeCloseTo(180, 9);
  });

  test('plumb lug, fore and aft: stem and faces plumb, foot level; trimmed by the stern the foot shows the trim', () => {
    const level = standLug(plane(20 * RAD), { stem: { kind: 'plumb' } });
    expect(deg(level.readings.stemFromPlumb)).toBeCloseTo(0, 9);
    expect(deg(level.readings.footFromLevel)).toBeCloseTo(0, 9);
    expect(level.readings.higherEnd).toBe('level');
    // LBP 120, 6.4 aft, 5.2 forward: trim 0.57294 degrees; a foot square to a flat bottom shows it, forward end higher.
    const trimmed = standLug(plane(0), { up: [1.2 / 120, 0, 1] });
    expect(deg(trimmed.readings.footFromLevel)).toBeCloseTo(0.57294, 5);
    expect(trimmed.readings.higherEnd).toBe('end+');
    // 0.35 m over 18 m of breadth: heel 1.11394 degrees.
    const heeled = standLug(plane(0), { up: [0, 0.35 / 18, 1] });
    expect(deg(heeled.readings.faceFromPlumb)).toBeCloseTo(1.11394, 5);
    expect(deg(heeled.readings.stemFromPlumb)).toBeCloseTo(1.11394, 5);
  });
});
