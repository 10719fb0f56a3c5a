import { describe, expect, test } from 'vitest';
import { lugBody, lugSolid } from '../../geometry/lug/body.ts';
import { type LugShape, outlineArea, outlineOf } from '../../geometry/lug/outline.ts';
import { cylinder } from '../geometry/hulls.ts';
import { deg, LUG, RAD, standLug } from '../geometry/lugs.ts';

/* What a lug weighs and where its centre is: closed forms, an integration by strips, facts of the trade. */

const flat = (foot: number, p0 = 0, p1 = 0, p2 = 0) => ({
  breaks: [-foot / 2, foot / 2],
  height: (a: number, c: number) => p0 + p1 * a + p2 * c,
});

/** Half-width of the outline at height b, the tangent point found by bisection and not by the outline's own formula. */
function halfWidth(shape: LugShape): (b: number) => number {
  const { foot, shoulder, pinHeight: h, topRadius: R } = shape;
  let [lo, hi] = [-Math.PI / 2 + 1e-9, Math.PI / 2];
  // On the circle the way to the shoulder turns from pointing inside to outside the tangent: (S - T) . (T - P) changes sign.
  const inside = (t: number) =>
    (foot / 2 - R * Math.cos(t)) * Math.cos(t) + (shoulder - h - R * Math.sin(t)) * Math.sin(t);
  for (let i = 0; i < 100; i++) {
    const mid = (lo + hi) / 2;
    // Above the touching point the shoulder lies under the tangent.
    if (inside(mid) < 0) hi = mid;
    else lo = mid;
  }
  const [ta, tb] = [R * Math.cos(lo), h + R * Math.sin(lo)];
  return (b) => {
    if (b <= shoulder) return foot / 2;
    if (b < tb) return foot / 2 + ((ta - foot / 2) * (b - shoulder)) / (tb - shoulder);
    return b >= h + R ? 0 : Math.sqrt(R * R - (b - h) ** 2);
  };
}

/** Area and height of the centre by 200 000 strips. */
function byStrips(shape: LugShape): { area: number; b: number } {
  const width = halfWidth(shape);
  const top = shape.pinHeight + shape.topRadius;
  const n = 200_000;
  let [area, moment] = [0, 0];
  for (let i = 0; i < n; i++) {
    const b = ((i + 0.5) * top) / n;
    const w = (2 * width(b) * top) / n;
    area += w;
    moment += w * b;
  }
  return { area, b: moment / area };
}

describe('Outline', () => {
  test.each<[string, LugShape]>([
    ['usual', LUG],
    ['narrow foot under a wide top', { ...LUG, foot: 120, topRadius: 95 }],
    ['low shoulder', { ...LUG, shoulder: 0 }],
    ['high shoulder', { ...LUG, shoulder: 230 }],
    ['slender', { foot: 500, thickness: 20, pinHeight: 150, hole: 40, topRadius: 50, shoulder: 20 }],
  ])('%s: area and centre by strips', (_, shape) => {
    const got = outlineArea(outlineOf(shape));
    const want = byStrips(shape);
    expect(Math.abs(got.area / want.area - 1)).toBeLessThan(1e-6);
    expect(Math.abs(got.b - want.b)).toBeLessThan(1e-3);
  });

  test.each([0, 80, 199.99, 200])(
    'upright sides and a half round, shoulder at %d: foot x pin height + pi R^2 / 2',
    (shoulder) => {
      const shape = { ...LUG, foot: 200, topRadius: 100, pinHeight: 200, shoulder };
      const { area, b } = outlineArea(outlineOf(shape));
      const [box, cap] = [200 * 200, (Math.PI * 100 ** 2) / 2];
      expect(area).toBeCloseTo(box + cap, 1);
      // Centre of a half disc: 4 R / 3 pi above its diameter.
      expect(b).toBeCloseTo((box * 100 + cap * (200 + (4 * 100) / (3 * Math.PI))) / (box + cap), 2);
    },
  );
});

describe('Body', () => {
  const outline = outlineOf(LUG);
  const bore = (Math.PI * LUG.hole ** 2) / 4;
  const plain = outlineArea(outline);

  test('square foot: (outline - hole) x thickness x 7850 kg/m^3, less the water it displaces', () => {
    const body = lugBody(outline, flat(300));
    expect(body.volume).toBeCloseTo((plain.area - bore) * 38, 3);
    expect(body.mass).toBeCloseTo((plain.area - bore) * 38 * 7850e-9, 9);
    // 6825 kg/m^3 in sea water of 1025, factor 0.86943.
    expect(body.massInWater / body.mass).toBeCloseTo(0.86943, 5);
    expect(body.centre[1]).toBeCloseTo((plain.area * plain.b - bore * LUG.pinHeight) / (plain.area - bore), 9);
    expect(body.centre[0]).toBeCloseTo(0, 12);
    expect(body.centre[2]).toBeCloseTo(0, 12);
  });

  test('sloped and bevelled cut: the wedge that comes off moves the centre by its closed form', () => {
    const [p0, p1, p2] = [4, 0.1, -0.3];
    const { volume, centre } = lugBody(outline, flat(300, p0, p1, p2));
    const whole = (plain.area - bore) * 38;
    expect(volume).toBeCloseTo(whole - p0 * 300 * 38, 4);
    // Moments of the strip: integral of a k is p1 foot^3 t / 12, of c k is p2 foot t^3 / 12.
    expect(centre[0] * volume).toBeCloseTo((-p1 * 300 ** 3 * 38) / 12, 2);
    expect(centre[2] * volume).toBeCloseTo((-p2 * 300 * 38 ** 3) / 12, 2);
    const k2 = p0 ** 2 + (p1 * 300) ** 2 / 12 + (p2 * 38) ** 2 / 12;
    const upright = plain.area * plain.b * 38 - bore * LUG.pinHeight * 38 - (k2 * 300 * 38) / 2;
    expect(centre[1] * volume).toBeCloseTo(upright, 1);
  });

  test('cheek plates add two rings about the pin', () => {
    const cheek = { radius: 80, thickness: 12 };
    const with_ = lugBody(outlineOf({ ...LUG, cheek }), flat(300));
    const ring = (Math.PI * 80 ** 2 - bore) * 24;
    expect(with_.volume - lugBody(outline, flat(300)).volume).toBeCloseTo(ring, 3);
  });

  test('common practice, no source: 38 mm plate, foot about 300, height about 330 mm weighs 20 to 23 kg', () => {
    const shape = { ...LUG, pinHeight: 230, topRadius: 100 };
    const { mass } = lugBody(outlineOf(shape), flat(300));
    expect(mass).toBeGreaterThan(20);
    expect(mass).toBeLessThan(23);
  });
});

test('common practice, no source: on a rounded bottom a plumb fore-and-aft lug needs a bevel of about 20 degrees', () => {
  // About a metre out on a bottom of 3 m radius.
  const lug = standLug(cylinder(3000), { girth: 1050, stem: { kind: 'plumb' } });
  expect(Math.abs(deg(lug.cuts.straight.bevel))).toBeGreaterThan(18);
  expect(Math.abs(deg(lug.cuts.straight.bevel))).toBeLessThan(22);
});

describe('Solid for drawing', () => {
  const lug = standLug(cylinder(1000), { girth: 700, heading: 60 * RAD, stem: { kind: 'plumb' } });
  const outline = outlineOf({ ...LUG, pinHeight: 300, shoulder: 150, cheek: { radius: 80, thickness: 10 } });
  const cuts = { ...lug.cuts, flat: { surface: flat(300) } };

  test.each(['flat', 'straight', 'faceted', 'scribed'] as const)(
    '%s cut: closed, wound outward, as heavy as the body',
    (name) => {
      const { surface } = cuts[name];
      const { positions, triangles, parts } = lugSolid(outline, surface, 0.02);
      let total = 0;
      for (const part of parts) {
        const edges = new Map<string, number>();
        const key = (v: number) => [0, 1, 2].map((d) => Math.round((positions[3 * v + d] as number) * 1e6)).join();
        for (let t = part.from; t < part.from + part.count; t++) {
          const [p, q, r] = [0, 1, 2].map((k) => triangles[3 * t + k] as number) as [number, number, number];
          const at = (v: number, d: number) => positions[3 * v + d] as number;
          total +=
            (at(p, 0) * (at(q, 1) * at(r, 2) - at(q, 2) * at(r, 1)) +
              at(p, 1) * (at(q, 2) * at(r, 0) - at(q, 0) * at(r, 2)) +
              at(p, 2) * (at(q, 0) * at(r, 1) - at(q, 1) * at(r, 0))) /
            6;
          for (const [u, v] of [
            [p, q],
            [q, r],
            [r, p],
          ] as const) {
            const [ku, kv] = [key(u), key(v)];
            if (ku === kv) continue;
            const way = ku < kv ? 1 : -1;
            const edge = way > 0 ? `${ku} ${kv}` : `${kv} ${ku}`;
            edges.set(edge, (edges.get(edge) ?? 0) + way);
          }
        }
        expect([...edges.values()].filter((n) => n !== 0)).toEqual([]);
      }
      const { volume } = lugBody(outline, surface);
      expect(Math.abs(total / volume - 1)).toBeLessThan(1e-3);
    },
  );
});
