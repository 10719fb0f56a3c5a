import { describe, expect, test } from 'vitest';
import type { HullSpec } from '../../geometry/hull/spec.ts';
import { deg, RAD, standLug } from './lugs.ts';

/* Two planes that meet in a knuckle under the plate: everything follows by hand. Rise 10 degrees, then 40 from girth 1500 on. */

const TURN = 30 * RAD;
const wedge: HullSpec = {
  kind: 'segments',
  start: { y: 0, z: 0 },
  path: [
    { to: { y: 1500 * Math.cos(10 * RAD), z: 1500 * Math.sin(10 * RAD) } },
    {
      to: {
        y: 1500 * Math.cos(10 * RAD) + 2000 * Math.cos(40 * RAD),
        z: 1500 * Math.sin(10 * RAD) + 2000 * Math.sin(40 * RAD),
      },
    },
  ],
};
const NEAR = 1e-6;

describe('A knuckle under an athwartships foot, 60 mm outboard of the anchor', () => {
  const lug = standLug(wedge, { girth: 1440, heading: 90 * RAD });
  const fall = (a: number) => (a > 60 ? -(a - 60) * Math.tan(TURN) : 0);

  test('foot heights: level up to the knuckle, falling away by tan 30 beyond', () => {
    const { a, c, f } = lug.field;
    for (let i = 0; i < a.length; i++) {
      for (let j = 0; j < c.length; j++) {
        expect(Math.abs((f[i * c.length + j] as number) - fall(a[i] as number))).toBeLessThan(NEAR);
      }
    }
    expect(lug.field.bridgesKnuckle).toBe(true);
  });

  test('root line: the knuckle stands at s = 210 on face-, twice, with the dihedral of either side', () => {
    const at = lug.joint.points.filter((p) => p.side === 'face-' && Math.abs(p.a - 60) < 1e-6);
    expect(at.length).toBe(2);
    for (const p of at) expect(Math.abs(p.s - 210)).toBeLessThan(NEAR);
    // Across the ship both faces stand square to both planes; the end on the falling side opens by 30 degrees.
    for (const p of lug.joint.points) {
      const want = p.side === 'end+' ? 120 : 90;
      expect(Math.abs(deg(p.dihedral) - want)).toBeLessThan(NEAR);
    }
    expect(lug.joint.perimeter).toBeCloseTo(2 * (210 + 90 / Math.cos(TURN)) + 2 * 38, 6);
  });

  test('straight cut: along the chord of the heights, its gap that of the knuckle over the chord', () => {
    const { straight } = lug.cuts;
    const chord = fall(150) / 300;
    expect(Math.tan(straight.footSlope)).toBeCloseTo(chord, 9);
    expect(straight.bevel).toBeCloseTo(0, 9);
    expect(straight.maxGap).toBeCloseTo(0 - chord * 210, 6);
    // Where the gap is widest, at both ends: there the way to the shell is along its normal.
    const atStart = straight.maxGap * 1;
    expect(straight.maxRootOpening).toBeLessThanOrEqual(straight.maxGap + NEAR);
    expect(straight.maxRootOpening).toBeCloseTo(atStart, 6);
  });

  test('two facets, one on each plane, fit without a gap', () => {
    const { facets, maxGap } = lug.cuts.faceted;
    expect(facets.length).toBe(2);
    expect(maxGap).toBeLessThanOrEqual(1.6 + NEAR);
    expect(lug.cuts.scribed.maxGap).toBeLessThan(NEAR);
  });
});

describe('A knuckle through the thickness of a fore-and-aft foot, 5 mm outboard of the anchor', () => {
  const lug = standLug(wedge, { girth: 1495 });
  const fall = (c: number) => (c > 5 ? -(c - 5) * Math.tan(TURN) : 0);

  test('bevel and scribed cut by hand', () => {
    const far = fall(19);
    expect(deg(lug.bevel.min)).toBeCloseTo(deg(Math.atan(far / 38)), 6);
    expect(deg(lug.bevel.max)).toBeCloseTo(deg(Math.atan(far / 38)), 6);
    // The line between the faces lies under the knuckle by far (5 + 19)/38: so far the cut is raised.
    const raised = -far * (24 / 38);
    expect(lug.cuts.scribed.raised).toBeCloseTo(raised, 6);
    expect(lug.cuts.scribed.maxGap).toBeCloseTo(raised, 6);
    expect(lug.cuts.straight.maxGap).toBeCloseTo(raised, 6);
  });

  test('dihedral: square on the inner plane, 120 on the outer; the ends change nothing at the knuckle', () => {
    for (const p of lug.joint.points) {
      const want = p.side === 'face+' ? 120 : 90;
      expect(Math.abs(deg(p.dihedral) - want)).toBeLessThan(NEAR);
    }
    const twice = lug.joint.points.filter((p) => p.side === 'end+' && Math.abs(p.c - 5) < 1e-6);
    expect(twice.length).toBe(2);
  });
});

describe('A knuckle askew under the foot', () => {
  test('both faces and both planes: dihedrals 90 on the inner plane, 90 -+ asin(sin 30 cos 45) on the outer', () => {
    const lug = standLug(wedge, { girth: 1480, heading: 45 * RAD });
    const lean = deg(Math.asin(Math.sin(TURN) * Math.cos(45 * RAD)));
    const seen = new Map<string, Set<string>>();
    for (const p of lug.joint.points) {
      const set = seen.get(p.side) ?? new Set();
      seen.set(p.side, set.add(deg(p.dihedral).toFixed(5)));
    }
    const both = (d: number) => [d, 90].sort((p, q) => p - q).map((x) => x.toFixed(5));
    const sorted = (side: string) => [...(seen.get(side) ?? [])].sort((p, q) => Number(p) - Number(q));
    expect(sorted('face+')).toEqual(both(90 + lean));
    expect(sorted('face-')).toEqual(both(90 - lean));
    // Outer end on the outer plane only, inner end on the inner plane only.
    expect(sorted('end+')).toEqual([(90 + lean).toFixed(5)]);
    expect(sorted('end-')).toEqual(['90.00000']);
  });

  test('the keel of a rising bottom is a knuckle like any other: a foot across it on either side is the same', () => {
    const across = (side: 'port' | 'starboard') =>
      standLug(wedge, { girth: 0, side, heading: 90 * RAD, stem: { kind: 'plumb' } });
    for (const lug of [across('port'), across('starboard')]) {
      expect(lug.field.bridgesKnuckle).toBe(true);
      expect(lug.cuts.straight.maxGap).toBeCloseTo(150 * Math.tan(10 * RAD), 6);
      expect(lug.cuts.straight.footSlope).toBeCloseTo(0, 9);
    }
  });
});
