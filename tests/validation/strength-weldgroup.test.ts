// biome-ignore-all lint/suspicious/noApproximativeNumericConstant: printed digits of tables stay as printed

import { lusolve } from 'mathjs';
import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../geometry/math/vec.ts';
import { elasticWeldGroup, lineForceAt, polylineQuadrature, weldBed } from '../../src/strength/weldgroup.ts';

/** Open or closed weld in the x-y plane from its corners; x to the right, y up. */
function flat(corners: readonly (readonly [number, number])[], closed = false) {
  return polylineQuadrature(Float64Array.from(corners.flatMap(([x, y]) => [x, y, 0])), closed);
}

/** Several open lines as one group. */
function group(...lines: { x: Float64Array; ds: Float64Array }[]) {
  return {
    x: Float64Array.from(lines.flatMap((l) => [...l.x])),
    ds: Float64Array.from(lines.flatMap((l) => [...l.ds])),
  };
}

/**
 * Weld-as-a-line properties, unit throat, b = 5, d = 10. Unsworth, Design of Modern Steel Railway Bridges, Table 9.1; the same set
 * in Blodgett, Design of Welded Structures, section 7.4. Four decimals as listed; closed forms beside them: 1e-4 absolute is half
 * a unit of the last printed digit, rounded up.
 */
describe('Weld treated as a line (Unsworth Table 9.1; Blodgett 7.4), b = 5, d = 10', () => {
  const b = 5;
  const d = 10;
  const cases = [
    {
      name: '1 vertical line',
      weld: flat([
        [0, 0],
        [0, d],
      ]),
      L: 10,
      x: 0,
      y: 5,
      Ix: 83.3333,
      Iy: 0,
      J: d ** 3 / 12,
      S: { top: d ** 2 / 6, bottom: 16.6667 },
    },
    {
      name: '2 vertical lines',
      weld: group(
        flat([
          [0, 0],
          [0, d],
        ]),
        flat([
          [b, 0],
          [b, d],
        ]),
      ),
      L: 20,
      x: 2.5,
      y: 5,
      Ix: 166.6667,
      Iy: 125,
      J: (d * (3 * b * b + d * d)) / 6,
      S: { top: d ** 2 / 3, bottom: 33.3333 },
    },
    {
      name: '2 horizontal lines',
      weld: group(
        flat([
          [0, 0],
          [b, 0],
        ]),
        flat([
          [0, d],
          [b, d],
        ]),
      ),
      L: 10,
      x: 2.5,
      y: 5,
      Ix: 250,
      Iy: 20.8333,
      J: (b * (3 * d * d + b * b)) / 6,
      S: { top: b * d, bottom: 50 },
    },
    {
      name: 'L',
      weld: flat([
        [0, d],
        [0, 0],
        [b, 0],
      ]),
      L: 15,
      x: b ** 2 / (2 * (b + d)),
      y: d ** 2 / (2 * (b + d)),
      Ix: 166.6667,
      Iy: 31.25,
      J: ((b + d) ** 4 - 6 * b * b * d * d) / (12 * (b + d)),
      S: { top: (d ** 2 * (4 * b + d)) / (6 * (2 * b + d)), bottom: (4 * b * d + d * d) / 6 },
    },
    {
      name: 'C',
      weld: flat([
        [b, 0],
        [0, 0],
        [0, d],
        [b, d],
      ]),
      L: 20,
      x: b ** 2 / (2 * b + d),
      y: 5,
      Ix: 333.3333,
      Iy: 52.0833,
      J: (2 * b + d) ** 3 / 12 - (b * b * (b + d) ** 2) / (2 * b + d),
      S: { top: b * d + d ** 2 / 6, bottom: 66.6667 },
    },
    {
      name: 'U',
      weld: flat([
        [0, d],
        [0, 0],
        [b, 0],
        [b, d],
      ]),
      L: 25,
      x: 2.5,
      y: d ** 2 / (b + 2 * d),
      Ix: 266.6667,
      Iy: 135.4167,
      J: (b + 2 * d) ** 3 / 12 - (d * d * (b + d) ** 2) / (b + 2 * d),
      S: { top: (d ** 2 * (2 * b + d)) / (3 * (b + d)), bottom: 66.6667 },
    },
    {
      name: 'rectangle all round',
      weld: flat(
        [
          [0, 0],
          [b, 0],
          [b, d],
          [0, d],
        ],
        true,
      ),
      L: 30,
      x: 2.5,
      y: 5,
      Ix: 416.6667,
      Iy: 145.8333,
      J: (b + d) ** 3 / 6,
      S: { top: b * d + d ** 2 / 3, bottom: 83.3333 },
    },
  ];
  const printed: Record<string, { x: number; y: number; J: number; top: number; bottom: number }> = {
    '1 vertical line': { x: 0, y: 5, J: 83.3333, top: 16.6667, bottom: 16.6667 },
    '2 vertical lines': { x: 2.5, y: 5, J: 291.6667, top: 33.3333, bottom: 33.3333 },
    '2 horizontal lines': { x: 2.5, y: 5, J: 270.8333, top: 50, bottom: 50 },
    L: { x: 0.8333, y: 3.3333, J: 197.9167, top: 25, bottom: 50 },
    C: { x: 1.25, y: 5, J: 385.4167, top: 66.6667, bottom: 66.6667 },
    U: { x: 2.5, y: 4, J: 402.0833, top: 44.4444, bottom: 66.6667 },
    'rectangle all round': { x: 2.5, y: 5, J: 562.5, top: 83.3333, bottom: 83.3333 },
  };

  it.each(cases)('$name', ({ name, weld, L, x, y, Ix, Iy, J, S }) => {
    const bed = weldBed(weld.x, weld.ds);
    const [ix, iy, iz] = bed.inertia;
    const p = printed[name] as (typeof printed)[string];
    expect.soft(bed.length).toBeCloseTo(L, 10);
    expect.soft(bed.centroid[0]).toBeCloseTo(x, 10);
    expect.soft(bed.centroid[1]).toBeCloseTo(y, 10);
    expect.soft(Math.abs(bed.centroid[0] - p.x)).toBeLessThan(1e-4);
    expect.soft(Math.abs(bed.centroid[1] - p.y)).toBeLessThan(1e-4);
    expect.soft(Math.abs(ix - Ix)).toBeLessThan(1e-4);
    expect.soft(Math.abs(iy - Iy)).toBeLessThan(1e-4);
    expect.soft(iz).toBeCloseTo(J, 9);
    expect.soft(Math.abs(iz - p.J)).toBeLessThan(1e-4);
    const top = ix / (d - bed.centroid[1]);
    const bottom = ix / bed.centroid[1];
    expect.soft(top).toBeCloseTo(S.top, 9);
    expect.soft(Math.abs(top - p.top)).toBeLessThan(1e-4);
    expect.soft(Math.abs(bottom - p.bottom)).toBeLessThan(1e-4);
    expect.soft(Math.abs(bottom - S.bottom)).toBeLessThan(1e-4);
  });

  it('L: product of inertia Ixy = -41.6667 (the principal axes are not the legs)', () => {
    const weld = flat([
      [0, d],
      [0, 0],
      [b, 0],
    ]);
    const bed = weldBed(weld.x, weld.ds);
    expect(Math.abs(-bed.inertia[3] - -41.6667)).toBeLessThan(1e-4);
  });

  it('C, second form of the table: J = (8 b^3 + 6 b d^2 + d^3)/12 - b^4/(2 b + d)', () => {
    const weld = flat([
      [b, 0],
      [0, 0],
      [0, d],
      [b, d],
    ]);
    const j = (8 * b ** 3 + 6 * b * d * d + d ** 3) / 12 - b ** 4 / (2 * b + d);
    expect(weldBed(weld.x, weld.ds).inertia[2]).toBeCloseTo(j, 9);
  });

  it('circle, r = 3: S = pi r^2 = 28.2743, J = 2 pi r^3 = 169.6460', () => {
    // 3600 chords of a circle are short of it by (pi/3600)^2/6 of the length: 1e-6 of 170.
    const n = 3600;
    const r = 3;
    const corners = Array.from({ length: n }, (_, i): [number, number] => {
      const t = (2 * Math.PI * i) / n;
      return [r * Math.cos(t), r * Math.sin(t)];
    });
    const weld = flat(corners, true);
    const bed = weldBed(weld.x, weld.ds);
    expect(Math.abs(bed.inertia[2] - 169.646)).toBeLessThan(5e-4);
    expect(Math.abs(bed.inertia[0] / r - 28.2743)).toBeLessThan(1e-4);
  });
});

/**
 * T. B. Quimby, A Beginner's Guide to the Steel Construction Manual, 14th ed., Example 5.4: C-shaped weld, legs 4 in top and bottom,
 * web 11 in; 52.00 kip factored, 10 deg off vertical, e = 8 in (416 kip in); 1/2 in fillet, throat 0.3535 in. Printed to 0.1 ksi.
 */
describe('Quimby Example 5.4, C-shaped weld, elastic method', () => {
  const throat = 0.3535;
  const weld = flat([
    [4, 0],
    [0, 0],
    [0, 11],
    [4, 11],
  ]);
  const tilt = (10 * Math.PI) / 180;
  const bed = weldBed(weld.x, weld.ds);
  const force: Vec3 = [-52 * Math.sin(tilt), -52 * Math.cos(tilt), 0];
  const at: Vec3 = [bed.centroid[0] + 8 * Math.cos(tilt), bed.centroid[1] - 8 * Math.sin(tilt), 0];
  const loaded = elasticWeldGroup(weld.x, weld.ds, force, at);

  it('components Px = -9.0, Py = -51.2 kip; length 19 in; centroid 0.842 in from the web, 5.5 in up', () => {
    expect(Math.abs(force[0] - -9.0)).toBeLessThan(0.05);
    expect(Math.abs(force[1] - -51.2)).toBeLessThan(0.05);
    expect(bed.length).toBeCloseTo(19, 10);
    expect(Math.abs(bed.centroid[0] - 0.842)).toBeLessThan(5e-4);
    expect(bed.centroid[1]).toBeCloseTo(5.5, 10);
  });

  it('weld area 6.72 in^2, polar moment 135.15 in^4 (135.09 as a line without breadth)', () => {
    expect(Math.abs(bed.length * throat - 6.72)).toBeLessThan(0.005);
    expect(Math.abs(bed.inertia[2] * throat - 135.15)).toBeLessThan(0.1); // the book adds each leg's own throat^3/12
    expect(Math.abs(bed.inertia[2] * 0.5 * Math.SQRT1_2 - 135.09)).toBeLessThan(0.01); // throat not rounded
  });

  it.each([
    ['A', 4, 11, 6.34, 23.3, 23.32],
    ['B', 0, 11, 5.56, 16.4, 16.38],
    ['C', 0, 0, 5.56, 19.0, 18.96],
    ['D', 4, 0, 6.34, 25.2, 25.2],
  ] as const)('point %s: radius and resultant stress, ksi', (_, x, y, radius, ksi, recomputed) => {
    const r = Math.hypot(x - bed.centroid[0], y - bed.centroid[1]);
    expect.soft(Math.abs(r - radius)).toBeLessThan(0.005);
    const q = lineForceAt(loaded, [x, y, 0]);
    const stress = Math.hypot(...q) / throat;
    expect.soft(Math.abs(stress - ksi)).toBeLessThan(0.05);
    expect.soft(Math.abs(stress - recomputed)).toBeLessThan(0.01);
  });
});

/** Blodgett, Design of Welded Structures, bracket: C weld b = 5 in, d = 10 in, 18,000 lb at 10 in from the weld's centroid. */
describe('Blodgett bracket, weld as a line', () => {
  const weld = flat([
    [5, 0],
    [0, 0],
    [0, 10],
    [5, 10],
  ]);
  const c = weldBed(weld.x, weld.ds);
  const loaded = elasticWeldGroup(weld.x, weld.ds, [0, -18000, 0], [c.centroid[0] + 10, 5, 0]);
  const q = lineForceAt(loaded, [5, 10, 0]);

  it('J = 385.42; f_h = 2335, f_v = 1751 + 900 lb/in, resultant 3533 (the book about 3540)', () => {
    expect.soft(Math.abs(c.inertia[2] - 385.42)).toBeLessThan(0.005);
    expect.soft(Math.abs(q[0] - 2335)).toBeLessThan(0.5);
    expect.soft(Math.abs(-q[1] - 900 - 1751)).toBeLessThan(0.5);
    expect.soft(Math.abs(-loaded.u[1] - 900)).toBeLessThan(1e-9);
    expect.soft(Math.abs(Math.hypot(...q) - 3533)).toBeLessThan(0.5);
    expect.soft(Math.abs(Math.hypot(...q) - 3540) / 3540).toBeLessThan(0.002); // slide-rule rounding in the book
  });

  it('E60 at 9600 lb/in per inch of leg: w = 0.368 in', () => {
    expect(Math.abs(Math.hypot(...q) / 9600 - 0.368)).toBeLessThan(5e-4);
  });
});

/**
 * Shigley, Mechanical Engineering Design, Example 9-1, geometry: C weld, b = 56 mm, d = 190 mm, 6 mm leg. Printed: throat area 1280 mm^2,
 * centroid 10.4 mm, 7.07e6. That last figure is the moment of the throat, J = 0.707 h J_u in mm^4: the example's own formula
 * for the unit moment, (8 b^3 + 6 b d^2 + d^3)/12 - b^4/(2 b + d), gives J_u = 1.667e6 mm^3.
 */
describe('Shigley Example 9-1, C weld', () => {
  const weld = flat([
    [56, 0],
    [0, 0],
    [0, 190],
    [56, 190],
  ]);
  const bed = weldBed(weld.x, weld.ds);
  const throat = 0.707 * 6;

  it('throat area 1280 mm^2, centroid 10.4 mm, J 7.07e6 mm^4', () => {
    expect.soft(Math.abs(bed.length * throat - 1281)).toBeLessThan(0.5);
    expect.soft(Math.abs(bed.centroid[0] - 10.38)).toBeLessThan(5e-3);
    const unit = (8 * 56 ** 3 + 6 * 56 * 190 ** 2 + 190 ** 3) / 12 - 56 ** 4 / (2 * 56 + 190);
    expect.soft(bed.inertia[2] / unit).toBeCloseTo(1, 12);
    expect.soft(Math.abs(bed.inertia[2] * throat - 7.071e6)).toBeLessThan(1e3);
  });

  it('torque of 25 kN at 100 + 10.4 mm is 2760 N m', () => {
    const loaded = elasticWeldGroup(weld.x, weld.ds, [0, -25000, 0], [156, 95, 0]);
    const arm = 156 - bed.centroid[0];
    expect(Math.abs(-loaded.w[2] * bed.inertia[2] - 25000 * arm)).toBeLessThan(1e-3);
    expect(Math.abs((25 * (100 + 10.4)) / 2760 - 1)).toBeLessThan(1e-12);
  });
});

/**
 * Against a general linear solver: the weld as so many separate springs of stiffness ds in every direction, its lug free to move six
 * ways. Assembled node by node into a 6 x 6 stiffness and solved by mathjs; the group's formulas are not used.
 */
describe('Brute-force spring bed', () => {
  const curve = Array.from({ length: 90 }, (_, i): Vec3 => {
    const t = (2 * Math.PI * i) / 90;
    return [5200 + 150 * Math.cos(t), -3100 + 22 * Math.sin(t), 900 + 14 * Math.cos(2 * t + 0.4) + 3 * Math.sin(t)];
  });
  const { x, ds } = polylineQuadrature(Float64Array.from(curve.flat()), true);
  const pin: Vec3 = [5190, -3080, 690];

  it.each([
    { force: [0, 0, -100_000] as Vec3 },
    { force: [12_000, -4_000, -90_000] as Vec3 },
    { force: [80_000, 30_000, 10_000] as Vec3 },
  ])('load $force N: line force at every spring within 1e-9 of the greatest', ({ force }) => {
    const k = Array.from({ length: 6 }, () => new Array<number>(6).fill(0));
    const motionAt = (i: number): number[][] => {
      const [px, py, pz] = [
        (x[3 * i] as number) - pin[0],
        (x[3 * i + 1] as number) - pin[1],
        (x[3 * i + 2] as number) - pin[2],
      ];
      // Displacement of the node: translation of the pin + rotation x arm.
      return [
        [1, 0, 0, 0, pz, -py],
        [0, 1, 0, -pz, 0, px],
        [0, 0, 1, py, -px, 0],
      ];
    };
    for (let i = 0; i < ds.length; i++) {
      const m = motionAt(i);
      for (let a = 0; a < 6; a++) {
        for (let b = 0; b < 6; b++) {
          for (const row of m)
            (k[a] as number[])[b] = (k[a]?.[b] ?? 0) + (ds[i] as number) * (row[a] ?? 0) * (row[b] ?? 0);
        }
      }
    }
    const solved = lusolve(k, [...force, 0, 0, 0]) as number[][];
    const g = elasticWeldGroup(x, ds, force, pin);
    let most = 0;
    let off = 0;
    for (let i = 0; i < ds.length; i++) {
      const brute = motionAt(i).map((row) => row.reduce((sum, v, j) => sum + v * (solved[j]?.[0] as number), 0));
      const q = lineForceAt(g, [x[3 * i] as number, x[3 * i + 1] as number, x[3 * i + 2] as number]);
      most = Math.max(most, Math.hypot(...q));
      off = Math.max(off, Math.hypot(...q.map((v, j) => v - (brute[j] as number))));
    }
    expect(off / most).toBeLessThan(1e-9);
  });
});
