import { describe, expect, test } from 'vitest';
import { shellFrom } from '../../geometry/hull/from.ts';
import { newHit } from '../../geometry/hull/shell.ts';
import type { HullSpec } from '../../geometry/hull/spec.ts';
import { lugFrame } from '../../geometry/lug/frame.ts';
import { deg, RAD, shellOf, standLug } from './lugs.ts';

/* Lines that meet the shell more than once, and feet across the centreline. */

describe('A line that meets the shell twice takes the crossing nearest b = 0', () => {
  // A shell with an outward lobe below and a hollow above it: a level line from the hollow's wall meets the lobe too.
  const section = (k: number) => [
    { y: 0, z: 0 },
    { y: 800 * k, z: 60 },
    { y: 1500 * k, z: 400 },
    { y: 1650 * k, z: 800 },
    { y: 1400 * k, z: 1200 },
    { y: 1100 * k, z: 1600 },
    { y: 1200 * k, z: 2000 },
    { y: 1700 * k, z: 2300 },
    { y: 2400 * k, z: 2500 },
  ];
  const hulls: [string, HullSpec][] = [
    ['one spline section', { kind: 'spline', points: section(1) }],
    [
      'a loft',
      {
        kind: 'sections',
        sections: [8000, 9000, 10_000, 11_000, 12_000].map((station, i) => ({
          station,
          points: section(1 + 0.01 * i),
        })),
      },
    ],
  ];

  test.each(hulls)('%s, by dense sampling of the section', (_, hull) => {
    const shell = shellFrom(hull);
    // Down and out from the roof of the hollow: the stem passes the lobe's top on its way.
    for (const [girth, lean] of [
      [2900, 0],
      [3300, 0],
      [3300, 25],
      [3900, -30],
      [4100, 0],
    ] as const) {
      const place = shell.pointAt(10_000, girth, 'port');
      const [n, t] = [place.normal, place.tGirth];
      const [c, s] = [Math.cos(lean * RAD), Math.sin(lean * RAD)];
      const stem = [0, 1, 2].map((d) => c * (n[d] as number) + s * (t[d] as number)) as [number, number, number];
      const frame = lugFrame(place.position, place.tFore, stem);
      const caster = shell.caster(frame, 30, 60);
      const hit = newHit();
      const line = shell.sectionLine(10_000, 0.01);
      for (let k = -6; k <= 6; k++) {
        const x = k * 10;
        // Crossings of the line at c = x with the drawn section, both sides of the ship; the foot is fore and aft.
        let nearest = Number.POSITIVE_INFINITY;
        for (const m of [1, -1]) {
          for (let i = 1; i < line.length; i++) {
            const [p, q] = [line[i - 1], line[i]].map((v) => {
              const d = [0, m * (v?.[1] ?? 0) - frame.origin[1], (v?.[2] ?? 0) - frame.origin[2]];
              return {
                b: d.reduce((sum, e, j) => sum + e * (frame.stem[j] as number), 0),
                c: d.reduce((sum, e, j) => sum + e * (frame.face[j] as number), 0),
              };
            }) as [{ b: number; c: number }, { b: number; c: number }];
            if ((p.c - x) * (q.c - x) > 0 || p.c === q.c) continue;
            const b = p.b + ((x - p.c) / (q.c - p.c)) * (q.b - p.b);
            if (Math.abs(b) < Math.abs(nearest)) nearest = b;
          }
        }
        const found = caster.cast(0, x, caster.seed, 0, 0, hit);
        expect(found).toBe(Number.isFinite(nearest));
        // Within the chord's error along the line, and what the loft's slope along the ship adds: nothing at a = 0 but second order.
        if (found) expect(Math.abs(hit.f - nearest)).toBeLessThan(hull.kind === 'spline' ? 0.1 : 3);
      }
    }
  });
});

describe('Across the centreline', () => {
  const points = [
    { y: 0, z: 0 },
    { y: 700, z: 90 },
    { y: 1400, z: 360 },
    { y: 2000, z: 900 },
    { y: 2300, z: 1700 },
  ];
  const kinds: [string, HullSpec][] = [
    ['spline', { kind: 'spline', points }],
    [
      'sections',
      { kind: 'sections', sections: [9000, 9500, 10_000, 10_500, 11_000].map((station) => ({ station, points })) },
    ],
  ];
  test.each(kinds)('%s: an athwartships foot on the keel is symmetrical, and the same from either side', (_, hull) => {
    const [port, starboard] = (['port', 'starboard'] as const).map((side) =>
      standLug(hull, { girth: 0, side, heading: 90 * RAD, stem: { kind: 'plumb' } }),
    );
    if (!port || !starboard) throw new Error('no lug');
    const nc = port.field.c.length;
    const mid = (nc - 1) >> 1;
    const row = Array.from(port.field.a, (_a, i) => port.field.f[i * nc + mid] as number);
    row.forEach((f, i) => {
      expect(Math.abs(f - (row[row.length - 1 - i] as number))).toBeLessThan(1e-6);
    });
    expect(deg(port.cuts.straight.footSlope)).toBeCloseTo(0, 6);
    expect(port.cuts.straight.maxGap).toBeCloseTo(starboard.cuts.straight.maxGap, 6);
    expect(port.joint.perimeter).toBeCloseTo(starboard.joint.perimeter, 6);
  });

  test('one section by itself and the same section at every station give the same lug anywhere', () => {
    const [one, many] = kinds.map(([, hull]) => shellOf(hull));
    for (const girth of [150, 900, 1800, 2400]) {
      for (const heading of [0, 40, 90]) {
        const [p, q] = kinds.map(([, hull]) =>
          standLug(hull, { girth, heading: heading * RAD, stem: { kind: 'lean', angle: 0.2 } }),
        );
        expect(p?.cuts.straight.maxGap).toBeCloseTo(q?.cuts.straight.maxGap ?? 0, 5);
        expect(p?.joint.perimeter).toBeCloseTo(q?.joint.perimeter ?? 0, 5);
        expect(p?.cuts.straight.bevel).toBeCloseTo(q?.cuts.straight.bevel ?? 0, 8);
      }
    }
    expect(one?.girthRange(10_000).to).toBeCloseTo(many?.girthRange(10_000).to ?? 0, 3);
  });
});
