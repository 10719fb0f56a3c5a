import { describe, expect, test } from 'vitest';
import { plane } from './hulls.ts';
import { deg, RAD, standLug } from './lugs.ts';

/* A plane has no curvature: every cut fits, and every figure has a closed form. */

const NEAR = 1e-9;

describe('Square to a plane', () => {
  test.each([0, 10, 35, 80])(
    'slope %d degrees, any heading: flat foot, square tee, perimeter of the rectangle',
    (slope) => {
      for (const heading of [0, 33, 90, 180, -120]) {
        const lug = standLug(plane(slope * RAD), { girth: 3000, heading: heading * RAD });
        for (const f of lug.field.f) expect(Math.abs(f)).toBeLessThan(1e-8);
        for (const cut of Object.values(lug.cuts)) {
          expect(cut.maxGap).toBeLessThan(1e-8);
          expect(cut.maxRootOpening).toBeLessThan(1e-8);
        }
        expect(lug.cuts.faceted.facets.length).toBe(1);
        expect(deg(lug.joint.dihedral.min)).toBeCloseTo(90, 9);
        expect(deg(lug.joint.dihedral.max)).toBeCloseTo(90, 9);
        expect(lug.joint.perimeter).toBeCloseTo(2 * (300 + 38), 6);
      }
    },
  );
});

describe('A plumb lug under a bottom that rises outboard', () => {
  test.each([5, 20, 45, 75])('%d degrees: bevel, dihedrals, perimeter and heights', (slope) => {
    const [tan, cos] = [Math.tan(slope * RAD), Math.cos(slope * RAD)];
    const lug = standLug(plane(slope * RAD), { girth: 3000, stem: { kind: 'plumb' } });
    // Fore and aft, B down: C = A x B points to port, where the bottom is higher, so b falls by tan(slope) a mm.
    expect(deg(lug.bevel.min)).toBeCloseTo(-slope, 9);
    expect(deg(lug.bevel.max)).toBeCloseTo(-slope, 9);
    expect(deg(lug.cuts.straight.bevel)).toBeCloseTo(-slope, 9);
    expect(lug.cuts.straight.maxGap).toBeLessThan(1e-8);
    expect(deg(lug.slope)).toBeCloseTo(slope, 9);
    const at = (side: string) => deg(lug.joint.points.find((p) => p.side === side)?.dihedral ?? 0);
    expect(at('face-')).toBeCloseTo(90 - slope, 9);
    expect(at('face+')).toBeCloseTo(90 + slope, 9);
    expect(at('end+')).toBeCloseTo(90, 9);
    expect(lug.joint.perimeter).toBeCloseTo(2 * (300 + 38 / cos), 6);
    const anchorZ = 3000 * Math.sin(slope * RAD);
    expect(lug.joint.lowest.height).toBeCloseTo(anchorZ - 19 * tan, 6);
    expect(lug.joint.highest.height).toBeCloseTo(anchorZ + 19 * tan, 6);
    // The square foot touches along its inner face and leaves t tan(slope) at the outer: along the normal t sin(slope).
    expect(lug.cuts.square.maxGap).toBeCloseTo(38 * tan, 6);
    expect(lug.cuts.square.maxRootOpening).toBeCloseTo(38 * tan * cos, 6);
  });

  test('athwartships the foot slopes and the faces stand square', () => {
    const lug = standLug(plane(25 * RAD), { girth: 3000, stem: { kind: 'plumb' }, heading: 90 * RAD });
    expect(deg(lug.cuts.straight.footSlope)).toBeCloseTo(-25, 9);
    expect(deg(lug.cuts.straight.bevel)).toBeCloseTo(0, 9);
    for (const p of lug.joint.points) {
      const want = p.side === 'end-' ? 65 : p.side === 'end+' ? 115 : 90;
      expect(Math.abs(deg(p.dihedral) - want)).toBeLessThan(1e-7);
    }
  });

  test('at heading 30 the compound angles: tan(bevel) = -tan(slope) cos, tan(foot) = -tan(slope) sin of the heading seen from above', () => {
    const slope = 25 * RAD;
    const lug = standLug(plane(slope), { girth: 3000, stem: { kind: 'plumb' }, heading: 30 * RAD });
    // h = cos t_fore + sin t_girth; seen from above its share outboard is sin(heading) cos(slope).
    const inPlan = Math.atan2(Math.sin(30 * RAD) * Math.cos(slope), Math.cos(30 * RAD));
    expect(Math.tan(lug.cuts.straight.bevel)).toBeCloseTo(-Math.tan(slope) * Math.cos(inPlan), 9);
    expect(Math.tan(lug.cuts.straight.footSlope)).toBeCloseTo(-Math.tan(slope) * Math.sin(inPlan), 9);
    expect(lug.cuts.straight.maxGap).toBeLessThan(NEAR * 100);
  });

  test('starboard mirrors port: the same plate with its faces changed over', () => {
    const [port, starboard] = (['port', 'starboard'] as const).map((side) =>
      standLug(plane(20 * RAD), { girth: 3000, stem: { kind: 'plumb' }, side }),
    );
    expect(starboard?.cuts.straight.bevel).toBeCloseTo(-(port?.cuts.straight.bevel ?? 0), 12);
    expect(starboard?.joint.lowest.height).toBeCloseTo(port?.joint.lowest.height ?? 0, 9);
    expect(starboard?.joint.lowest.side === 'face-').not.toBe(port?.joint.lowest.side === 'face-');
  });
});

describe('Lean', () => {
  test.each([0, 40, 90, 135, 180, -90])(
    'heading %d: positive leans towards t_girth, along the girth towards t_fore',
    (heading) => {
      const lug = standLug(plane(15 * RAD), { heading: heading * RAD, stem: { kind: 'lean', angle: 10 * RAD } });
      const { tGirth, tFore, normal } = lug.anchor;
      const share = (v: readonly number[]) => lug.frame.stem.reduce((sum, b, i) => sum + b * (v[i] as number), 0);
      expect(share(normal)).toBeCloseTo(Math.cos(10 * RAD), 12);
      if (Math.abs(heading) === 90) expect(share(tFore)).toBeCloseTo(Math.sin(10 * RAD), 12);
      else expect(share(tGirth)).toBeGreaterThan(0);
      // Turned about h: the foot's own direction is not changed by the lean.
      const h = [0, 1, 2].map(
        (i) => Math.cos(heading * RAD) * (tFore[i] as number) + Math.sin(heading * RAD) * (tGirth[i] as number),
      );
      lug.frame.foot.forEach((x, i) => {
        expect(x).toBeCloseTo(h[i] as number, 12);
      });
    },
  );
});
