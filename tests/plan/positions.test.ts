import { describe, expect, test } from 'vitest';
import type { HullSpec } from '../../geometry/hull/spec.ts';
import { plane } from '../geometry/hulls.ts';
import { deg, RAD, type Standing, standLug } from '../geometry/lugs.ts';

/*
 * Welding positions of a lug's fillets. Limits of AWS A3.0 as in D3.6 (fillet rows from memory); the three lugs follow
 * from them by hand (derived).
 */

const wall: HullSpec = { kind: 'segments', start: { y: 4000, z: 0 }, path: [{ to: { y: 4000, z: 5000 } }] };
const on = (lug: Standing, side: string) => {
  const points = lug.joint.points.filter((p) => p.side === side);
  return { names: [...new Set(points.map((p) => p.weldingPosition.aws))], point: points[2] as (typeof points)[0] };
};

describe('Fillet positions', () => {
  test('fore-and-aft lug on a flat bottom: both fillets 4F, faces 45 degrees down', () => {
    const lug = standLug(plane(0));
    for (const side of ['face-', 'face+', 'end+', 'end-']) {
      expect(on(lug, side).names).toEqual(['4F']);
      expect(deg(on(lug, side).point.faceRotation ?? 0)).toBeCloseTo(45, 9);
      expect(deg(on(lug, side).point.axisInclination)).toBeCloseTo(0, 9);
    }
  });

  test('level plate on a vertical side: top fillet 2F (rotation 135), lower fillet 4F (45), ends 3F', () => {
    const lug = standLug(wall, { girth: 2500 });
    const upper = Math.sign(lug.frame.face[2]) > 0 ? 'face+' : 'face-';
    const lower = upper === 'face+' ? 'face-' : 'face+';
    expect(on(lug, upper).names).toEqual(['2F']);
    expect(deg(on(lug, upper).point.faceRotation ?? 0)).toBeCloseTo(135, 9);
    expect(on(lug, lower).names).toEqual(['4F']);
    expect(deg(on(lug, lower).point.faceRotation ?? 0)).toBeCloseTo(45, 9);
    for (const end of ['end+', 'end-']) {
      expect(on(lug, end).names).toEqual(['3F']);
      expect(on(lug, end).point.faceRotation).toBeNull();
      expect(deg(on(lug, end).point.axisInclination)).toBeCloseTo(90, 6);
    }
  });

  test('vertical plate on a vertical side: both faces 3F, one end over and one under', () => {
    const lug = standLug(wall, { girth: 2500, heading: 90 * RAD });
    expect(on(lug, 'face-').names).toEqual(['3F']);
    expect(on(lug, 'face+').names).toEqual(['3F']);
    expect(on(lug, 'end+').names).toEqual(['2F']);
    expect(on(lug, 'end-').names).toEqual(['4F']);
  });

  test('plumb lug under a bottom that rises: every fillet overhead, the ends climbing with the slope', () => {
    const lug = standLug(plane(20 * RAD), { stem: { kind: 'plumb' } });
    for (const side of ['face-', 'face+']) expect(on(lug, side).names).toEqual(['4F']);
    expect(deg(on(lug, 'end+').point.axisInclination)).toBeCloseTo(20, 9);
  });
});
