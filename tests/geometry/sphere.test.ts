import { describe, expect, test } from 'vitest';
import { sphere } from './hulls.ts';
import { deg, RAD, standLug } from './lugs.ts';

/* A sphere of 5 m given as sections. Every plane through the middle meets it squarely; everything depends on a^2 + c^2 alone. */

const R = 5000;
const stations = Array.from({ length: 15 }, (_, k) => 8600 + 200 * k);
const hull = sphere(R, 10_000, R, stations, 25);
/** mm. What the loft of these sections is off by near the middle: measured below. */
const LOFT = 0.02;

describe('A square lug on a sphere through 15 sections of 25 points', () => {
  test('the loft is within 0.02 mm and 0.01 degrees of the sphere', () => {
    for (const station of [9500, 9633, 10_050, 10_400]) {
      for (const girth of [900, 2500, 4100]) {
        const p = standLug(hull, { station, girth }).anchor;
        const d = [p.position[0] - 10_000, p.position[1], p.position[2] - R] as const;
        expect(Math.abs(Math.hypot(...d) - R)).toBeLessThan(LOFT);
        const dot = d.reduce((sum, x, i) => sum + (x * (p.normal[i] as number)) / Math.hypot(...d), 0);
        expect(deg(Math.acos(Math.min(1, dot)))).toBeLessThan(0.01);
        expect(Math.abs(p.curvature.k1 * R - 1)).toBeLessThan(0.01);
        expect(Math.abs(p.curvature.k2 * R - 1)).toBeLessThan(0.01);
      }
    }
  });

  test.each([0, 37, 90, 200])('heading %d: heights, dihedrals and straight cut', (heading) => {
    const lug = standLug(hull, { station: 10_050, girth: 2500, heading: heading * RAD });
    const f = (a: number, c: number) => Math.sqrt(R * R - a * a - c * c) - R;
    lug.joint.points.forEach((p, k) => {
      expect(Math.abs((lug.root.f[k] as number) - f(p.a, p.c))).toBeLessThan(2 * LOFT);
      const away = p.side.startsWith('face') ? 19 : 150;
      expect(Math.abs(deg(p.dihedral) - 90 - deg(Math.asin(away / R)))).toBeLessThan(0.02);
    });
    // Over the rectangle the heights span from the crown to the corners, whatever plane is chosen by symmetry.
    expect(Math.abs(lug.cuts.straight.maxGap + f(150, 19))).toBeLessThan(4 * LOFT);
    expect(Math.abs(deg(lug.cuts.straight.bevel))).toBeLessThan(0.03);
    expect(Math.abs(lug.cuts.scribed.maxGap - (R - Math.sqrt(R * R - 19 * 19)))).toBeLessThan(LOFT);
  });
});
