import { describe, expect, test } from 'vitest';
import type { HullSpec } from '../../geometry/hull/spec.ts';
import type { Vec3 } from '../../geometry/math/vec.ts';
import { Refusal } from '../../geometry/refusal.ts';
import { showPhrase } from '../../src/job/show.ts';
import { RAD, standLug } from '../geometry/lugs.ts';
import { cylinderAt, meshSpec, normalNumbers, triangleList } from './meshes.ts';

/* What a smooth surface would hide: said, not rounded away. */

const R = 1000;
const PLACE = { station: 10_000, girth: 600 };
const X = [9400, 10_600] as const;
const S = [0, (R * Math.PI) / 2] as const;
const stand = (hull: HullSpec, place: { station: number; girth: number } = PLACE) =>
  standLug(hull, { ...place, heading: 0, stem: { kind: 'plumb' } });

const said = (run: () => unknown): string => {
  try {
    run();
  } catch (e) {
    if (e instanceof Refusal)
      return `${e.field}: ${showPhrase(e.found, 'metric')} | ${showPhrase(e.expected, 'metric')}`;
    throw e;
  }
  return 'not refused';
};

describe('a plate with both its faces', () => {
  const outer = (ripple?: () => number) =>
    triangleList({ at: cylinderAt(R), x: X, s: S, step: [20, 20], ...(ripple && { ripple }) });
  const inner = (thickness: number, step: number, ripple?: () => number) =>
    triangleList({
      at: (x, s) => {
        const { point, normal } = cylinderAt(R)(x, s);
        return { point: point.map((v, k) => v - thickness * (normal[k] as number)) as unknown as Vec3, normal };
      },
      x: X,
      s: S,
      step: [step, step],
      ...(ripple && { ripple }),
    });

  test.each([6, 12, 25])('is refused with its thickness: %i mm', (thickness) => {
    const text = said(() => stand(meshSpec([...outer(), ...inner(thickness, 20)], PLACE)));
    expect(text).toMatch(/^at: two skins of mesh one over the other under the foot, /);
    // The faces of a plate are parallel: distance along the normal (closed form).
    const apart = Number(/foot, ([\d.]+) mm/.exec(text)?.[1]);
    expect(Math.abs(apart - thickness)).toBeLessThan(0.06 * thickness);
  });
  test('meshed otherwise within than without, and rough', () => {
    const seed = 12;
    const g = normalNumbers(seed);
    const rough = () => 0.5 * g();
    expect(
      said(() => stand(meshSpec([...outer(rough), ...inner(12, 40, rough)], PLACE))),
      `seed ${seed}`,
    ).toMatch(/two skins/);
  });
  test('one skin is one: clean, rough, with strays, with a flange behind part of it', () => {
    const seed = 13;
    const g = normalNumbers(seed);
    for (const sigma of [0, 0.5, 2, 5])
      expect(
        said(() =>
          stand(
            meshSpec(
              outer(() => sigma * g()),
              PLACE,
            ),
          ),
        ),
        `${sigma}`,
      ).toBe('not refused');
    const wild = outer(() => (g() > 1.6 ? -12 : 0.3 * g()));
    expect(said(() => stand(meshSpec(wild, PLACE)))).toBe('not refused');
    const flange = triangleList({
      at: (x, s) => {
        const { point, normal } = cylinderAt(R)(x, s);
        return { point: point.map((v, k) => v - 90 * (normal[k] as number)) as unknown as Vec3, normal };
      },
      x: X,
      s: [560, 640],
      step: [20, 20],
    });
    expect(said(() => stand(meshSpec([...outer(), ...flange], PLACE)))).toBe('not refused');
  });
});

describe('a knuckle in a scan', () => {
  /** Flat to girth 600, from there on steeper by `turn` degrees; 20 degrees of rise before it. */
  const chine = (turn: number) => (x: number, s: number) => {
    const [a, b] = [20 * RAD, (20 + turn) * RAD];
    const along = Math.min(s, 600);
    const on = Math.max(0, s - 600);
    const angle = s <= 600 ? a : b;
    const point: Vec3 = [x, along * Math.cos(a) + on * Math.cos(b), along * Math.sin(a) + on * Math.sin(b)];
    return { point, normal: [0, Math.sin(angle), -Math.cos(angle)] as Vec3 };
  };
  const mesh = (turn: number, girth: number, sigma: number, seed = 21) => {
    const g = normalNumbers(seed);
    const list = triangleList({ at: chine(turn), x: X, s: [0, 1200], step: [20, 20], ripple: () => sigma * g() });
    const place = { station: 10_000, girth };
    return { hull: meshSpec(list, place), place };
  };
  test.each([
    [8, 0],
    [15, 0.3],
    [30, 1],
  ])('of %i degrees under the foot is refused, scatter %f mm', (turn, sigma) => {
    const { hull, place } = mesh(turn, 610, sigma);
    const text = said(() => stand(hull, place));
    expect(text).toMatch(/^at: a knuckle in the mesh under the foot, \d+ mm from the place: the shell turns by /);
    const angle = Number(/turns by ([\d.]+)°/.exec(text)?.[1]);
    expect(Math.abs(angle - turn)).toBeLessThan(0.1 * turn + 0.5);
    expect(Math.abs(Number(/foot, (\d+) mm/.exec(text)?.[1]) - 10)).toBeLessThan(12);
  });
  test.each([
    [690, 35],
    [510, 20],
    [780, 35],
  ])(
    'clear of the foot, at %i mm of girth, it is left out and told: the bevel is that of the own side',
    (girth, slope) => {
      const { hull, place } = mesh(15, girth, 0.1);
      const { anchor, cuts } = stand(hull, place);
      // A flat under a plumb stem: bevel = its slope (closed form).
      expect(Math.abs(Math.abs(cuts.straight.bevel) - slope * RAD)).toBeLessThan(0.1 * RAD);
      const text = anchor.notes?.map((n) => showPhrase(n, 'metric')).join(' ') ?? '';
      // At the rim of the disc nothing weighs much: there it need not be seen.
      if (girth !== 780)
        expect(text).toMatch(/(8\d|9\d) mm from the place, clear of the foot, runs a KNUCKLE of 1[45]\.\d°/);
    },
  );
  test('a bilge is none, however tight, nor is a rough flat, nor a coarse mesh of a round shell', () => {
    for (const radius of [250, 400, 800]) {
      const place = { station: 10_000, girth: radius * 0.8 };
      const list = triangleList({ at: cylinderAt(radius), x: X, s: [0, (radius * Math.PI) / 2], step: [15, 10] });
      expect(
        said(() => stand(meshSpec(list, place), place)),
        `${radius}`,
      ).not.toMatch(/knuckle/);
    }
    const { hull, place } = mesh(0, 600, 2);
    expect(said(() => stand(hull, place))).toBe('not refused');
    const strips = triangleList({ at: cylinderAt(R), x: X, s: S, step: [1200, 40] });
    expect(said(() => stand(meshSpec(strips, PLACE)))).toBe('not refused');
  });
});
