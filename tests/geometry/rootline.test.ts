import { describe, expect, test } from 'vitest';
import type { HullSpec } from '../../geometry/hull/spec.ts';
import { cylinder } from './hulls.ts';
import { deg, RAD, standLug } from './lugs.ts';

/* Defects that were found in the root line, and stay found. */

describe('Points of the root line', () => {
  test('lie no farther apart than 10 mm where the shell runs steeply along the stem', () => {
    // Up to 70 degrees off the foot a step along it is nearly three times as long along the shell.
    const R = 3000;
    const { joint } = standLug(cylinder(R), {
      girth: 60 * RAD * R,
      heading: 90 * RAD,
      stem: { kind: 'plumb' },
      foot: 450,
    });
    joint.points.forEach((p, k) => {
      expect(p.s - (joint.points[k - 1]?.s ?? 0)).toBeLessThan(10.01);
    });
    // The arc between the two ends of the foot, on both faces, and twice the thickness.
    const y = R * Math.sin(60 * RAD);
    const arc = R * (Math.asin((y + 225) / R) - Math.asin((y - 225) / R));
    expect(joint.perimeter).toBeCloseTo(2 * arc + 2 * 38, 3);
  });

  test('a knuckle found at a hair from another row, or from the end of the foot, is one knuckle on every side', () => {
    const bottom = (rise: number): HullSpec => ({
      kind: 'segments',
      start: { y: 0, z: 0 },
      path: [{ to: { y: 1500, z: 0 } }, { to: { y: 1500 + 1000 * Math.cos(rise), z: 1000 * Math.sin(rise) } }],
    });
    const rise = 30 * RAD;
    // Knuckle on a column, beside one, at the very end of the foot and within a hair of it.
    for (const d of [0, 1e-7, -1e-7, 4.6875, 4.6875 + 5e-7, 149.9, 150 - 5e-7, 150 - 5e-6, 150, 150 + 5e-7]) {
      const lug = standLug(bottom(rise), { girth: 1500 - d, heading: 90 * RAD });
      const beyond = Math.max(0, 150 - d);
      expect(lug.joint.perimeter).toBeCloseTo(2 * (150 + Math.min(150, d) + beyond / Math.cos(rise)) + 76, 4);
      expect(lug.field.a.at(-1)).toBe(150);
      expect(lug.field.a[0]).toBe(-150);
      for (const p of lug.joint.points) {
        if (p.side.startsWith('face')) expect(Math.abs(deg(p.dihedral) - 90)).toBeLessThan(1e-6);
      }
    }
  });
});
