import { describe, expect, test } from 'vitest';
import { shellFrom } from '../../geometry/hull/from.ts';
import type { HullSpec } from '../../geometry/hull/spec.ts';
import { lugBody } from '../../geometry/lug/body.ts';
import { outlineOf } from '../../geometry/lug/outline.ts';
import { Refusal, type RefusalCode } from '../../geometry/refusal.ts';
import { cylinder, plane, sphere } from './hulls.ts';
import { LUG, RAD, type Stand, standLug } from './lugs.ts';

/* What cannot be computed on is refused, by name and with the path of the field. */

function expectRefused(code: RefusalCode, field: string | RegExp, what: () => unknown): void {
  try {
    what();
  } catch (e) {
    if (!(e instanceof Refusal)) throw e;
    expect(e.code).toBe(code);
    expect(e.field).toMatch(field);
    expect(e.found.length).toBeGreaterThan(0);
    expect(e.expected.length).toBeGreaterThan(0);
    return;
  }
  throw new Error(`not refused: ${code}`);
}

const loft = sphere(5000, 10_000, 5000, [8600, 9000, 9400, 9800, 10_200, 10_600], 13);
const refused = (code: RefusalCode, field: string | RegExp, hull: HullSpec, change: Stand) =>
  expectRefused(code, field, () => standLug(hull, change));

describe('Places', () => {
  test('beyond the data: girth, station, height, half-breadth', () => {
    refused('beyond-data', 'at.girth', cylinder(1000), { girth: 1600 });
    refused('beyond-data', 'at.girth', cylinder(1000), { girth: -5 });
    refused('beyond-data', 'at.station', loft, { station: 8000 });
    refused('beyond-data', 'at.girth', loft, { girth: 9000 });
    for (const by of ['height', 'halfBreadth'] as const) {
      expectRefused('beyond-data', `at.${by}`, () => shellFrom(cylinder(1000)).girthAt(0, by, 1200));
      expectRefused('beyond-data', `at.${by}`, () => shellFrom(loft).girthAt(9500, by, 6000));
    }
  });

  test('the height of a flat bottom names no place; its half-breadth does', () => {
    const flat: HullSpec = {
      kind: 'segments',
      start: { y: 0, z: 0 },
      path: [{ to: { y: 3000, z: 0 } }, { to: { y: 4000, z: 1000 }, radius: 1000 }, { to: { y: 4000, z: 4000 } }],
    };
    expectRefused('ambiguous-place', 'at.height', () => shellFrom(flat).girthAt(0, 'height', 0));
    expectRefused('ambiguous-place', 'at.halfBreadth', () => shellFrom(flat).girthAt(0, 'halfBreadth', 4000));
    expect(shellFrom(flat).girthAt(0, 'halfBreadth', 1234)).toBeCloseTo(1234, 6);
    const table: HullSpec = {
      kind: 'offsets',
      stations: [0, 1000, 2000],
      waterlines: [0, 500, 1000, 2000],
      halfBreadths: [0, 1, 2].map(() => [1500, 2000, 2200, 2300]),
    };
    expectRefused('ambiguous-place', 'at.height', () => shellFrom(table).girthAt(900, 'height', 0));
  });
});

describe('Stem', () => {
  test('within 10 degrees of the shell, and just outside', () => {
    refused('stem-along-shell', 'stem', plane(81 * RAD), { stem: { kind: 'plumb' } });
    standLug(plane(79 * RAD), { stem: { kind: 'plumb' }, girth: 4000 });
    refused('stem-along-shell', 'stem', plane(20 * RAD), { stem: { kind: 'lean', angle: 85 * RAD } });
  });

  test('into the hull, and a load at the lug itself', () => {
    refused('stem-into-shell', 'stem', plane(0), {
      stem: { kind: 'toward-load' },
      pull: { toward: [10_000, 1000, 5000] },
    });
    refused('load-at-pin', 'load.toward', plane(0), {
      stem: { kind: 'toward-load' },
      pull: { toward: [10_000, 1000, 0] },
    });
  });
});

describe('A foot that does not stand on the shell', () => {
  test('over the deck edge and over the end of the loft', () => {
    refused('foot-off-shell', 'at', cylinder(1000), { girth: 1500, heading: 90 * RAD });
    refused('foot-off-shell', 'at', loft, { station: 8650, girth: 2500 });
    refused('foot-off-shell', 'at', loft, { station: 9800, girth: 7750, heading: 90 * RAD });
  });

  test('a foot whose lines pass the deck edge and meet the far side of the ship is off the shell, not a metre from it', () => {
    refused('foot-off-shell', 'at', cylinder(970.9), {
      girth: 1386,
      heading: 131.6 * RAD,
      foot: 364,
      thickness: 35,
      stem: { kind: 'lean', angle: 36 * RAD },
    });
  });
});

test('a foot that ends exactly where the shell turns parallel to the stem is refused, and at once', () => {
  // The end of a quarter circle of 3 m, plumb under its widest place: slope without bound, and once a plan without end.
  const girth = shellFrom(cylinder(3000)).girthAt(0, 'halfBreadth', 2850);
  for (const off of [0, -1e-9, -1e-6]) {
    refused('foot-off-shell', 'at', cylinder(3000), {
      girth: girth + off,
      heading: 90 * RAD,
      stem: { kind: 'plumb' },
    });
  }
  const near = standLug(cylinder(3000), { girth: girth - 20, heading: 90 * RAD, stem: { kind: 'plumb' } });
  expect(Number.isFinite(near.joint.perimeter)).toBe(true);
});

describe('Hulls and lugs that cannot be drawn', () => {
  test('coincident points, a radius too small, sections at one station, knuckles that do not match', () => {
    const y = (n: number) => ({ y: n, z: n / 5 });
    expectRefused('degenerate-hull', 'hull.points[2]', () =>
      shellFrom({ kind: 'spline', points: [y(0), y(500), y(500), y(900)] }),
    );
    expectRefused('degenerate-hull', 'hull.path[0].to', () =>
      shellFrom({ kind: 'segments', start: { y: 0, z: 0 }, path: [{ to: { y: 0, z: 0 } }] }),
    );
    expectRefused('degenerate-hull', 'hull.path[0].radius', () =>
      shellFrom({ kind: 'segments', start: { y: 0, z: 0 }, path: [{ to: { y: 1000, z: 0 }, radius: 499 }] }),
    );
    const section = (station: number, mark: boolean) => ({
      station,
      points: [y(0), { ...y(500), knuckle: mark }, { y: 900, z: 900 }],
    });
    expectRefused('degenerate-hull', /^hull\.sections\[\d\]\.station$/, () =>
      shellFrom({ kind: 'sections', sections: [section(0, false), section(0, false)] }),
    );
    expectRefused('degenerate-hull', /^hull\.sections\[\d\]\.points$/, () =>
      shellFrom({ kind: 'sections', sections: [section(0, false), section(1000, true)] }),
    );
  });

  test('lug outlines', () => {
    expectRefused('lug-outline', 'lug.hole', () => outlineOf({ ...LUG, hole: 200 }));
    expectRefused('lug-outline', 'lug.pinHeight', () => outlineOf({ ...LUG, pinHeight: 30 }));
    expectRefused('lug-outline', 'lug.topRadius', () => outlineOf({ ...LUG, foot: 100, shoulder: 215 }));
    expectRefused('lug-outline', 'lug.shoulder', () => outlineOf({ ...LUG, shoulder: 330 }));
    expectRefused('lug-outline', 'lug.cheek.radius', () =>
      outlineOf({ ...LUG, cheek: { radius: 120, thickness: 10 } }),
    );
  });

  test('a cut that eats into the shoulder or the hole', () => {
    const cut = (k: number) => ({ breaks: [-150, 150], height: () => k });
    expectRefused('lug-outline', 'lug.shoulder', () => lugBody(outlineOf(LUG), cut(60)));
    expectRefused('lug-outline', 'lug.pinHeight', () => lugBody(outlineOf({ ...LUG, shoulder: 215 }), cut(190)));
  });
});
