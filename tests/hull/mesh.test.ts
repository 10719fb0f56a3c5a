import { describe, expect, test } from 'vitest';
import type { HullSpec } from '../../geometry/hull/spec.ts';
import { length, sub, type Vec3 } from '../../geometry/math/vec.ts';
import { Refusal } from '../../geometry/refusal.ts';
import { showPhrase } from '../../src/job/show.ts';
import { cylinder } from '../geometry/hulls.ts';
import { deg, RAD, standLug } from '../geometry/lugs.ts';
import { cylinderAt, meshSpec, normalNumbers, triangleList } from './meshes.ts';

/* A lug on triangles against the same lug on the shell they were taken from: closed form (a circular cylinder). */

const R = 1000;
const PLACE = { station: 10_000, girth: 600 };
const X = [9000, 11_000] as const;
const S = [0, (R * Math.PI) / 2] as const;
const scan = (step: readonly [number, number], more: object = {}) =>
  meshSpec(triangleList({ at: cylinderAt(R), x: X, s: S, step, ...more }), PLACE);
const stand = (hull: HullSpec, heading = 0) =>
  standLug(hull, { ...PLACE, heading: heading * RAD, stem: { kind: 'plumb' } });
const bevelError = (a: ReturnType<typeof stand>, b: ReturnType<typeof stand>) =>
  deg(Math.max(Math.abs(a.bevel.max - b.bevel.max), Math.abs(a.bevel.min - b.bevel.min)));
const refusal = (run: () => unknown): string => {
  try {
    run();
  } catch (e) {
    if (e instanceof Refusal)
      return `${e.field}: ${showPhrase(e.found, 'metric')} | ${showPhrase(e.expected, 'metric')}`;
    throw e;
  }
  return 'not refused';
};

describe('clean triangles', () => {
  test('bevel and gap converge with the second power of the triangles, at every heading', () => {
    for (const heading of [0, 45, 90]) {
      const known = stand(cylinder(R), heading);
      const errors = [50, 25, 12.5].map((step) => {
        const got = stand(scan([step, step]), heading);
        expect(Math.abs(got.cuts.straight.maxGap - known.cuts.straight.maxGap), `${heading} ${step}`).toBeLessThan(
          0.01,
        );
        return { bevel: bevelError(known, got), place: length(sub(known.anchor.position, got.anchor.position)) };
      });
      const [first, second, third] = errors as [(typeof errors)[0], (typeof errors)[0], (typeof errors)[0]];
      // Girth along chords is short by (step/R)^2/24 of itself (closed form); halving the step quarters it.
      expect(first.place / second.place).toBeGreaterThan(3);
      expect(second.place / third.place).toBeGreaterThan(3);
      expect(first.place).toBeLessThan(((50 / R) ** 2 / 24) * 600 + 0.02);
      expect(second.bevel).toBeLessThan(0.003);
      expect(third.bevel).toBeLessThan(0.001);
    }
  });

  test('curvature, normal and the two directions', () => {
    const { anchor } = stand(scan([20, 20]));
    expect(anchor.curvature.k1).toBeCloseTo(1 / R, 5);
    expect(anchor.curvature.k2).toBeCloseTo(0, 6);
    expect(anchor.normal[1]).toBeCloseTo(Math.sin(0.6), 4);
    expect(anchor.tFore[0]).toBeCloseTo(1, 5);
    expect(anchor.tGirth[2]).toBeCloseTo(Math.sin(0.6), 4);
  });

  test('starboard is the mirror image of a half model; of a whole one each side is its own', () => {
    const port = stand(scan([25, 25]));
    const at = { ...PLACE, side: 'starboard' as const };
    const list = triangleList({ at: cylinderAt(R), x: X, s: S, step: [25, 25] });
    const mirrored = standLug(meshSpec(list, at), { ...at, stem: { kind: 'plumb' } });
    expect(mirrored.anchor.position[1]).toBeCloseTo(-port.anchor.position[1], 9);
    expect(mirrored.bevel.max).toBeCloseTo(-port.bevel.min, 6);
    // A smaller radius to starboard, in one whole mesh.
    const other = triangleList({ at: cylinderAt(800), x: X, s: [0, (800 * Math.PI) / 2], step: [25, 25] }).map(
      (v, i) => (i % 3 === 1 ? -v : v),
    );
    const whole = [...list, ...other];
    const there = standLug(meshSpec(whole, at, { half: false }), { ...at, stem: { kind: 'plumb' } });
    expect(there.anchor.curvature.k1).toBeCloseTo(1 / 800, 5);
    const here = standLug(meshSpec(whole, PLACE, { half: false }), { ...PLACE, stem: { kind: 'plumb' } });
    expect(here.anchor.curvature.k1).toBeCloseTo(1 / R, 5);
  });
});

describe('what scans and models are like', () => {
  const known = stand(cylinder(R), 45);
  const clean = triangleList({ at: cylinderAt(R), x: X, s: S, step: [25, 25] });

  test('flipped, doubled and flat triangles change nothing', () => {
    const flipped = [...clean];
    for (let t = 0; t < flipped.length; t += 27) {
      for (let k = 0; k < 3; k++)
        [flipped[t + k], flipped[t + 3 + k]] = [flipped[t + 3 + k] as number, flipped[t + k] as number];
    }
    const doubled = [...flipped, ...clean.slice(0, 9 * 2000)];
    for (let t = 0; t < 300; t++)
      doubled.push(
        ...clean.slice(9 * t, 9 * t + 3),
        ...clean.slice(9 * t, 9 * t + 3),
        ...clean.slice(9 * t, 9 * t + 3),
      );
    expect(bevelError(known, stand(meshSpec(doubled, PLACE), 45))).toBeLessThan(0.005);
  });

  test('a web that stands on the shell is no part of it', () => {
    const web = triangleList({
      at: (x, s) => ({ point: [x, (R - s) * Math.sin(0.6), R - (R - s) * Math.cos(0.6)], normal: [0, 0, 1] }),
      x: X,
      s: [0, 200],
      step: [25, 25],
    });
    const got = stand(meshSpec([...clean, ...web], PLACE), 45);
    expect(bevelError(known, got)).toBeLessThan(0.03);
    expect(length(sub(got.anchor.position, known.anchor.position))).toBeLessThan(0.2);
  });

  test('strays are left out and counted', () => {
    const wild = [...clean];
    for (let t = 0; t < wild.length; t += 9 * 40)
      for (let k = 2; k < 9; k += 3) wild[t + k] = (wild[t + k] as number) + 25;
    const got = stand(meshSpec(wild, PLACE), 45);
    expect(bevelError(known, got)).toBeLessThan(0.02);
    expect(got.anchor.notes?.map((n) => showPhrase(n, 'metric')).join(' ')).toMatch(/% of them left out as strays/);
  });

  test('a hole under the foot is refused by name, one beside it is not', () => {
    const at = cylinderAt(R)(10_000, 600).point;
    const hole = (centre: Vec3, size: number) => (p: Vec3) => length(sub(p, centre)) < size;
    const step = [10, 10] as const;
    const under = () => stand(scan(step, { hole: hole([at[0] + 60, at[1], at[2]], 40) }));
    expect(refusal(under)).toMatch(
      /^at: a hole in the mesh under the foot, about [67]\d\.?\d* mm across|^at: a hole in the mesh under the foot, about [6-9]\d mm across/,
    );
    expect(refusal(() => stand(scan(step, { hole: hole(cylinderAt(R)(10_000, 720).point, 40) })))).toBe('not refused');
    expect(refusal(() => stand(scan(step, { hole: hole(at, 40) })))).toMatch(
      /^at: a hole in the mesh, \d+ mm along the section/,
    );
    const edge = meshSpec(triangleList({ at: cylinderAt(R), x: [9000, 10_100], s: S, step }), PLACE);
    expect(refusal(() => stand(edge))).toMatch(/^at: a foot that reaches beyond the edge of the mesh/);
  });

  test('a place that no triangle covers', () => {
    const only = meshSpec(triangleList({ at: cylinderAt(R), x: X, s: [0, 400], step: [20, 20] }), PLACE);
    expect(refusal(() => stand(only))).toMatch(/^at.girth: 600.0 mm \| between 0.0 mm and (399|400)/);
    expect(refusal(() => standLug(scan([50, 50]), { station: 20_000, girth: 600 }))).toMatch(/^at.station/);
    expect(refusal(() => stand(meshSpec([], PLACE)))).toMatch(/^hull.file: no triangle/);
  });

  test('triangles larger than the place: points on the faces, and it is said', () => {
    // Strips as long as the ship's parallel body: exact fore and aft, chords of 40 mm across; sagitta c^2/8R = 0.2 mm.
    const got = stand(scan([2000, 40]), 45);
    expect(bevelError(known, got)).toBeLessThan(0.06);
    expect(got.anchor.notes?.map((n) => showPhrase(n, 'metric')).join(' ')).toContain(
      'points on the faces of a coarse mesh',
    );
  });

  test('a section in pieces, as faces meshed each on its own leave it, is one section', () => {
    const lower = triangleList({ at: cylinderAt(R), x: X, s: [0, 333], step: [31, 22] });
    const upper = triangleList({ at: cylinderAt(R), x: X, s: [333, S[1]], step: [17, 25] });
    const got = stand(meshSpec([...upper, ...lower], PLACE), 45);
    expect(length(sub(got.anchor.position, known.anchor.position))).toBeLessThan(0.1);
    expect(bevelError(known, got)).toBeLessThan(0.01);
  });
});

describe('ripple does not become bevel', () => {
  const known = stand(cylinder(R));
  test('noise from corner to corner: the bevel is off by no more than a few stated errors', () => {
    const seed = 31;
    const g = normalNumbers(seed);
    for (const sigma of [0.2, 0.5, 1]) {
      for (let k = 0; k < 3; k++) {
        const list = triangleList({
          at: cylinderAt(R),
          x: [9500, 10_500],
          s: S,
          step: [8, 8],
          ripple: () => sigma * g(),
        });
        const got = stand(meshSpec(list, PLACE));
        // Girth of a scanned section: what is left of the ripple after smoothing moves the place by some millimetres.
        const moved = deg(length(sub(got.anchor.position, known.anchor.position)) / R);
        expect(bevelError(known, got), `seed ${seed}, sigma ${sigma}`).toBeLessThan(0.12 * sigma + moved + 0.01);
        expect(moved).toBeLessThan(0.15);
      }
    }
  });

  test('waves of 60 mm length and 1 mm height', () => {
    const list = triangleList({
      at: cylinderAt(R),
      x: [9500, 10_500],
      s: S,
      step: [6, 6],
      ripple: (x, s) => 0.5 * Math.sin((2 * Math.PI * x) / 60) * Math.cos((2 * Math.PI * s) / 60),
    });
    const got = stand(meshSpec(list, PLACE));
    expect(bevelError(known, got)).toBeLessThan(0.1);
    // On the triangles themselves the slope would swing by 0.5 x 2 pi / 60 = 3 degrees.
  });
});

describe('the shell as a surface', () => {
  const { shell, anchor } = stand(scan([20, 20]));
  test('closest point near and far', () => {
    const off: Vec3 = [
      anchor.position[0],
      anchor.position[1] + 30 * anchor.normal[1],
      anchor.position[2] + 30 * anchor.normal[2],
    ];
    expect(shell.closest(off).distance).toBeCloseTo(30, 3);
    // Distance to the axis less the radius; facets lie up to c^2/8R = 0.05 inside.
    const far: Vec3 = [9300, 1500 * Math.sin(1.2), R - 1500 * Math.cos(1.2)];
    expect(Math.abs(shell.closest(far).distance - 500)).toBeLessThan(0.06);
    expect(Math.abs(shell.closest([far[0], -far[1], far[2]]).distance - 500)).toBeLessThan(0.06);
  });
  test('points to draw lie on the triangles', () => {
    const p = shell.pointAt(9200, 1200, 'starboard');
    expect(Math.hypot(p.position[1], p.position[2] - R)).toBeCloseTo(R, 0);
    expect(p.normal[1]).toBeCloseTo(-Math.sin(1.2), 2);
    expect(shell.sectionLine(9700, 0.1).length).toBeGreaterThan(50);
    expect(shell.drawStations(0, 1e6, 0.1)).toHaveLength(11);
  });
});
