import { describe, expect, test } from 'vitest';
import { cylinder, hollow } from '../geometry/hulls.ts';
import { deg, RAD, standLug } from '../geometry/lugs.ts';

/*
 * Plate and cylinder have closed forms: a line a mm along a foot turned by beta from the axis lies x = a sin(beta) across
 * it, where the shell has fallen away by R - sqrt(R^2 - x^2).
 */

const sagitta = (R: number, chord: number) => R - Math.sqrt(R * R - (chord * chord) / 4);
const MM = 0.01;
const DEG = 0.01;

describe('A foot across a cylinder', () => {
  // Sagitta of a 300 mm chord, mm: printed to four decimals.
  test.each([
    [500, 23.0304],
    [1000, 11.314],
    [3000, 3.7523],
    [6000, 1.8753],
  ])('R %d: square foot, straight cut and end gap are the sagitta, %d', (R, printed) => {
    expect(sagitta(R, 300)).toBeCloseTo(printed, 4);
    const { field, cuts } = standLug(cylinder(R), { girth: R * 0.8, heading: 90 * RAD });
    expect(Math.abs(-(field.f[0] as number) - printed)).toBeLessThan(MM);
    expect(Math.abs(cuts.square.maxGap - printed)).toBeLessThan(MM);
    expect(Math.abs(cuts.straight.maxGap - printed)).toBeLessThan(MM);
    expect(Math.abs(deg(cuts.straight.bevel))).toBeLessThan(DEG);
    expect(Math.abs(deg(cuts.straight.footSlope))).toBeLessThan(DEG);
    // The scribed foot follows the arc; through the thickness the shell is straight.
    expect(cuts.scribed.maxGap).toBeLessThan(MM);
    // From the end of the cut, (150, 0), to the circle about (0, R): sqrt(R^2 + 150^2) - R.
    expect(Math.abs(cuts.straight.maxRootOpening - (Math.hypot(R, 150) - R))).toBeLessThan(MM);
  });

  test.each([0, 15, 30, 45, 60, 75, 90])('radial plate at %d degrees to the axis: end gap and end dihedral', (beta) => {
    const gaps: Record<number, number> = { 0: 0, 30: 2.8165, 45: 5.6409, 60: 8.4734, 90: 11.314 };
    const turns: Record<number, number> = { 0: 0, 15: 2.1491, 30: 3.7241, 45: 4.3012, 60: 3.7241, 75: 2.1491, 90: 0 };
    const [R, h, sin] = [1000, 150, Math.sin(beta * RAD)];
    // The closed form is for a plate without thickness; half of 0.1 mm turns the normal by 0.003 degrees.
    const { field, joint } = standLug(cylinder(R), { girth: 800, heading: beta * RAD, thickness: 0.1 });
    const end = -(field.f[(field.c.length - 1) >> 1] as number);
    expect(Math.abs(end - (R - Math.sqrt(R * R - (h * sin) ** 2)))).toBeLessThan(1e-6);
    const printed = gaps[beta];
    if (printed !== undefined) expect(Math.abs(end - printed)).toBeLessThan(1e-4);
    const at = (side: string, a: number) =>
      deg(joint.points.find((p) => p.side === side && Math.abs(p.a - a) < 1e-9)?.dihedral ?? Number.NaN);
    const turn = turns[beta] as number;
    const sense = Math.sign(at('face+', h) - 90) || 1;
    expect(Math.abs(at('face+', h) - 90 - sense * turn)).toBeLessThan(DEG);
    // Opposite at the other end on the same side, opposite on the other side, none in the middle.
    expect(Math.abs(at('face+', -h) - 90 + sense * turn)).toBeLessThan(DEG);
    expect(Math.abs(at('face-', h) - 90 + sense * turn)).toBeLessThan(DEG);
    expect(Math.abs(at('face+', 0) - 90)).toBeLessThan(DEG);
  });

  test.each([0, 25, 50, 75, 90])('thick plate at %d degrees: heights and dihedrals all round', (beta) => {
    const R = 1000;
    const [sin, cos] = [Math.sin(beta * RAD), Math.cos(beta * RAD)];
    const { joint, root } = standLug(cylinder(R), { girth: 800, heading: beta * RAD });
    joint.points.forEach((p, k) => {
      // A = cos t_fore + sin t_girth, C = A x n = cos t_girth - sin t_fore: across the cylinder x = sin a + cos c.
      const x = sin * p.a + cos * p.c;
      expect(Math.abs((root.f[k] as number) - (Math.sqrt(R * R - x * x) - R))).toBeLessThan(1e-9);
      // The normal leans outward by asin(x/R); its share along the plate's own normal, m . t_girth x/R.
      const m = { 'face-': -cos, 'face+': cos, 'end+': sin, 'end-': -sin }[p.side];
      expect(Math.abs(deg(p.dihedral) - 90 - deg(Math.asin((m * x) / R)))).toBeLessThan(1e-9);
    });
  });

  test('foot along the axis: the thickness alone makes the scribed cut stand off, by its sagitta', () => {
    const R = 500;
    const { cuts } = standLug(cylinder(R), { girth: 400 });
    const s = sagitta(R, 38);
    for (const got of [cuts.scribed.raised, cuts.scribed.maxGap, cuts.straight.maxGap, cuts.faceted.maxGap]) {
      expect(Math.abs(got - s)).toBeLessThan(1e-6);
    }
    // Corner of the cut, 19 mm out at the height of the crown, to the circle.
    expect(Math.abs(cuts.scribed.maxRootOpening - (Math.hypot(R, 19) - R))).toBeLessThan(1e-6);
  });

  test('hollow arc: the foot touches at both ends, the gap in the middle is the sagitta', () => {
    const R = 1000;
    const across = standLug(hollow(R), { girth: 800, heading: 90 * RAD });
    const s = sagitta(R, 300);
    expect(Math.abs((across.field.f[0] as number) - s)).toBeLessThan(1e-6);
    expect(Math.abs(across.cuts.straight.maxGap - s)).toBeLessThan(1e-6);
    expect(Math.abs(across.cuts.straight.maxRootOpening - s)).toBeLessThan(MM);
    const { k1, k2 } = across.anchor.curvature;
    expect(Math.min(k1, k2)).toBeCloseTo(-1 / R, 9);
    expect(Math.max(k1, k2)).toBeCloseTo(0, 12);
    const along = standLug(hollow(R), { girth: 800 });
    expect(along.cuts.scribed.raised).toBeLessThan(1e-9);
    expect(Math.abs(along.cuts.scribed.maxGap - sagitta(R, 38))).toBeLessThan(1e-6);
  });
});

describe('Fewest facets on an arc', () => {
  /** Gap of the best line over the arc from x0 to x1: from the chord to the tangent along it, R (1 - cos(delta/2)) square to the chord. */
  const gap = (R: number, x0: number, x1: number) => {
    const [t0, t1] = [Math.asin(x0 / R), Math.asin(x1 / R)];
    return (R * (1 - Math.cos((t1 - t0) / 2))) / Math.cos((t0 + t1) / 2);
  };
  const fewest = (R: number, half: number, tolerance: number) => {
    let [n, from] = [0, -half];
    for (; from < half; n++) {
      let [lo, hi] = [from, half];
      if (gap(R, from, half) <= tolerance) lo = half;
      for (let i = 0; i < 60 && lo < half; i++) {
        const mid = (lo + hi) / 2;
        if (gap(R, from, mid) <= tolerance) lo = mid;
        else hi = mid;
      }
      from = lo;
    }
    return n;
  };

  test.each([
    [1000, 3],
    [1000, 1.6],
    [1000, 0.4],
    [500, 1.6],
    [400, 1.6],
    [700, 0.3],
  ])('R %d mm, tolerance %d mm', (R, tolerance) => {
    const { cuts } = standLug(cylinder(R), { girth: R * 0.75, heading: 90 * RAD, tolerance });
    const { facets, maxGap, withinTolerance } = cuts.faceted;
    expect(facets.length).toBe(fewest(R, 150, tolerance));
    expect(withinTolerance).toBe(true);
    expect(maxGap).toBeLessThanOrEqual(tolerance + 1e-6);
    for (const q of facets) {
      expect(Math.abs(q.maxGap - gap(R, q.fromA, q.toA))).toBeLessThan(1e-4);
      // Parallel to the chord of its stretch.
      const f = (x: number) => Math.sqrt(R * R - x * x);
      expect(Math.abs(Math.tan(q.footSlope) - (f(q.toA) - f(q.fromA)) / (q.toA - q.fromA))).toBeLessThan(1e-4);
    }
  });
});
