import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { HullSpec } from '../../geometry/hull/spec.ts';
import type { Vec3 } from '../../geometry/math/vec.ts';
import type { Stand, Standing } from '../geometry/lugs.ts';
import { forLugs, stand, tryStand, turnableHull } from './arbitrary.ts';

/* What must not change when everything is mirrored, turned or scaled together. */

const SEED = 20_260_401;
const near = (got: number, want: number, tolerance: number) => expect(Math.abs(got - want)).toBeLessThan(tolerance);

/** Figures that know nothing of left and right. `k` scales lengths. */
function expectSame(p: Standing, q: Standing, k = 1, mm = 1e-4): void {
  for (const name of ['square', 'straight', 'scribed'] as const) {
    near(q.cuts[name].maxGap, k * p.cuts[name].maxGap, k * mm);
    near(q.cuts[name].maxRootOpening, k * p.cuts[name].maxRootOpening, k * mm);
  }
  near(q.joint.perimeter, k * p.joint.perimeter, k * mm);
  near(q.joint.dihedral.min, p.joint.dihedral.min, 1e-6);
  near(q.joint.dihedral.max, p.joint.dihedral.max, 1e-6);
  near(q.slope, p.slope, 1e-9);
  near(q.readings.stemFromPlumb, p.readings.stemFromPlumb, 1e-9);
  near(q.readings.faceFromPlumb, p.readings.faceFromPlumb, 1e-9);
  near(q.readings.footFromLevel, p.readings.footFromLevel, 1e-9);
  near(q.joint.highest.height - q.joint.lowest.height, k * (p.joint.highest.height - p.joint.lowest.height), k * mm);
}

describe(`Symmetry (seed ${SEED})`, () => {
  test('mirror port and starboard, the heel and the load with them', () => {
    forLugs(60, SEED, (lug, spec, change) => {
      const [ux, uy, uz] = change.up as Vec3;
      const [x, y, z] = (change.pull as { toward: Vec3 }).toward;
      const other = tryStand(spec, {
        ...change,
        side: change.side === 'port' ? 'starboard' : 'port',
        up: [ux, -uy, uz],
        pull: { toward: [x, -y, z] },
      });
      if (!other) throw new Error('stands on one side only');
      expectSame(lug, other, 1, 1e-6);
      near(other.cuts.straight.bevel, -lug.cuts.straight.bevel, 1e-6);
      near(other.cuts.straight.footSlope, lug.cuts.straight.footSlope, 1e-6);
      near(other.joint.lowest.height, lug.joint.lowest.height, 1e-6);
      expect(other.cuts.faceted.facets.length).toBe(lug.cuts.faceted.facets.length);
      near(other.sequence.sealedLength, lug.sequence.sealedLength, 5);
    });
  });

  test('turn ship, water and load together about the length of the ship', () => {
    const turnAngle = fc.double({ min: -0.3, max: 0.3, noNaN: true });
    const turnPoint = (angle: number) => (p: { y: number; z: number }) => ({
      ...p,
      y: p.y * Math.cos(angle) - p.z * Math.sin(angle),
      z: p.y * Math.sin(angle) + p.z * Math.cos(angle),
    });
    const turnVec = (angle: number, [x, y, z]: Vec3): Vec3 => {
      const t = turnPoint(angle)({ y, z });
      return [x, t.y, t.z];
    };
    const turnHull = (spec: HullSpec, angle: number): HullSpec => {
      const t = turnPoint(angle);
      if (spec.kind === 'segments')
        return { ...spec, start: t(spec.start), path: spec.path.map((s) => ({ ...s, to: t(s.to) })) };
      if (spec.kind === 'spline') return { ...spec, points: spec.points.map(t) };
      throw new Error(spec.kind);
    };
    let stood = 0;
    fc.assert(
      fc.property(turnableHull, stand, turnAngle, (spec, given_, angle) => {
        // Away from the centreline: a turned half section and its mirror image are no ship there.
        const change: Stand = { ...given_, side: 'port', girth: 700 + (given_.girth as number) * 0.8 };
        const lug = tryStand(spec, change);
        if (!lug) return;
        const turned = tryStand(turnHull(spec, angle), {
          ...change,
          up: turnVec(angle, change.up as Vec3),
          pull: { toward: turnVec(angle, (change.pull as { toward: Vec3 }).toward) },
        });
        // A plumb stem changes its end where the shell turns through the vertical.
        if (!turned) throw new Error('stands one way only');
        stood++;
        expectSame(lug, turned, 1, 1e-4);
        near(turned.cuts.straight.bevel, lug.cuts.straight.bevel, 1e-6);
        near(turned.sequence.sealedLength, lug.sequence.sealedLength, 5);
      }),
      { numRuns: 60, seed: SEED + 1 },
    );
    expect(stood).toBeGreaterThan(30);
  });

  test('scale all lengths: lengths scale, angles stay', () => {
    const scaleHull = (spec: HullSpec, k: number): HullSpec => {
      const at = <P extends { y: number; z: number }>(p: P): P => ({ ...p, y: k * p.y, z: k * p.z });
      if (spec.kind === 'segments')
        return {
          ...spec,
          start: at(spec.start),
          path: spec.path.map((s) => ({ to: at(s.to), ...(s.radius === undefined ? {} : { radius: k * s.radius }) })),
        };
      if (spec.kind === 'spline') return { ...spec, points: spec.points.map(at) };
      if (spec.kind === 'sections')
        return { ...spec, sections: spec.sections.map((s) => ({ station: k * s.station, points: s.points.map(at) })) };
      throw new Error(spec.kind);
    };
    for (const k of [0.5, 3]) {
      forLugs(30, SEED + 2, (lug, spec, change) => {
        const big = tryStand(scaleHull(spec, k), {
          ...change,
          station: k * 10_000,
          girth: k * (change.girth as number),
          foot: k * (change.foot as number),
          thickness: k * (change.thickness as number),
          tolerance: k * (change.tolerance as number),
          pull: { toward: (change.pull as { toward: Vec3 }).toward.map((x) => k * x) as unknown as Vec3 },
        });
        if (!big) throw new Error('stands at one size only');
        // Samples lie closer on a larger foot: root openings are measured at samples.
        expectSame(lug, big, k, 0.02);
        near(big.cuts.straight.bevel, lug.cuts.straight.bevel, 1e-5);
        near(big.cuts.straight.maxGap, k * lug.cuts.straight.maxGap, k * 1e-5);
      });
    }
  });
});
