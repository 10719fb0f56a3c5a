import { describe, expect, test } from 'vitest';
import { shellFrom } from '../../geometry/hull/from.ts';
import type { Shell } from '../../geometry/hull/shell.ts';
import { deg, RAD, standLug } from '../geometry/lugs.ts';

/*
 * The Wigley hull, y = (B/2) (1 - (2x/L)^2) (1 - (z/T)^2), L : B : T = 1 : 0.1 : 0.0625, as a ship of 120 m, put in as
 * sections and taken out as a surface. Normals from the formula's own derivatives (table derived, unit length 1).
 */

const [L, B, T] = [120_000, 12_000, 7_500];
const halfBreadth = (x: number, z: number) => (B / 2) * (1 - ((2 * x) / L) ** 2) * (1 - (z / T) ** 2);

/** Outward normal at x from midship, z down from the waterline, in ship axes (z up). */
function normalAt(x: number, z: number): readonly [number, number, number] {
  const yx = (B / 2) * ((-8 * x) / L ** 2) * (1 - (z / T) ** 2);
  const yz = (B / 2) * (1 - ((2 * x) / L) ** 2) * ((-2 * z) / T ** 2);
  // F = y - y(x, z down); with z up the third component changes sign.
  const k = 1 / Math.hypot(yx, 1, yz);
  return [-yx * k, k, yz * k];
}

function loft(stations: number, points: number): Shell {
  return shellFrom({
    kind: 'sections',
    sections: Array.from({ length: stations }, (_, i) => {
      const station = (L * i) / (stations - 1);
      return {
        station,
        points: Array.from({ length: points }, (_, j) => {
          const depth = T * (1 - j / (points - 1));
          return { y: halfBreadth(station - L / 2, depth), z: T - depth };
        }),
      };
    }),
  });
}

/** Largest errors over the middle nine tenths of the length, from near the keel to near the waterline. */
function errorsOf(shell: Shell) {
  let [off, turn] = [0, 0];
  for (let i = 1; i < 40; i++) {
    const station = L * (0.05 + (0.9 * (i + 0.37)) / 41);
    const { to } = shell.girthRange(station);
    for (let j = 1; j < 24; j++) {
      const { position, normal } = shell.pointAt(station, (to * (j + 0.21)) / 25, 'port');
      const [x, z] = [station - L / 2, T - position[2]];
      const n = normalAt(x, z);
      // Athwartships difference times the normal's own athwartships share: the distance to first order.
      off = Math.max(off, Math.abs(position[1] - halfBreadth(x, z)) * n[1]);
      const dot = normal.reduce((sum, c, d) => sum + c * (n[d] as number), 0);
      turn = Math.max(turn, Math.acos(Math.min(1, dot)));
    }
  }
  return { off, turn: deg(turn) };
}

describe('Wigley hull of 120 m through the loft', () => {
  const sizes: [number, number][] = [
    [11, 5],
    [21, 9],
    [41, 17],
    [81, 33],
  ];
  const table = sizes.map(([stations, points]) => ({ stations, points, ...errorsOf(loft(stations, points)) }));

  test('errors fall with the fourth power of the spacing in position, the third in the normal', () => {
    console.log(
      ['stations x points   position mm   normal deg']
        .concat(
          table.map(
            (e) =>
              `${e.stations} x ${e.points}`.padEnd(20) + e.off.toExponential(1).padEnd(14) + e.turn.toExponential(1),
          ),
        )
        .join('\n'),
    );
    for (let k = 1; k + 1 < table.length; k++) {
      const [coarse, fine] = [table[k], table[k + 1]] as [(typeof table)[0], (typeof table)[0]];
      expect(Math.log2(coarse.off / fine.off)).toBeGreaterThan(3.5);
      expect(Math.log2(coarse.turn / fine.turn)).toBeGreaterThan(2.5);
    }
  });

  test('41 stations of 17 points: within 0.05 mm and 0.01 degrees', () => {
    const fine = table[2] as (typeof table)[0];
    expect(fine.off).toBeLessThan(0.05);
    expect(fine.turn).toBeLessThan(0.01);
  });

  // x and z of the unit hull; y, unit normal (its third component points down: the table's z does).
  test.each([
    [0, 0.03125, 0.0375, [0, 0.78087, 0.6247], 38.66],
    [0.25, 0.03125, 0.028125, [0.06418, 0.85573, 0.51344], 30.893],
    [-0.4, 0.05, 0.00648, [-0.05224, 0.90697, 0.41793], 24.704],
  ] as const)('at x %d, depth %d: y %d and the normal of the table', (x, depth, y, n, depression) => {
    const shell = loft(41, 17);
    const station = L / 2 + x * L;
    const girth = shell.girthAt(station, 'height', T - depth * L);
    const { position, normal } = shell.pointAt(station, girth, 'port');
    expect(Math.abs(position[1] - y * L)).toBeLessThan(0.05);
    expect(normal[0]).toBeCloseTo(n[0], 4);
    expect(normal[1]).toBeCloseTo(n[1], 4);
    expect(-normal[2]).toBeCloseTo(n[2], 4);
    expect(Math.abs(deg(Math.asin(-normal[2])) - depression)).toBeLessThan(0.01);
  });

  test('foot heights of a plumb lug at its quarter length against the formula, crossing by crossing', () => {
    const spec = {
      kind: 'sections' as const,
      sections: Array.from({ length: 41 }, (_, i) => {
        const station = (L * i) / 40;
        const points = Array.from({ length: 17 }, (_, j) => ({
          y: halfBreadth(station - L / 2, T * (1 - j / 16)),
          z: (T * j) / 16,
        }));
        return { station, points };
      }),
    };
    const lug = standLug(spec, {
      station: 31_000,
      girth: 2500,
      stem: { kind: 'lean', angle: -20 * RAD },
      heading: 35 * RAD,
    });
    const { field, frame } = lug;
    const { origin: O, foot: A, stem: S, face: C } = frame;
    // Anchor and shell may be off by the loft's own error each.
    for (let k = 0; k < field.f.length; k += 7) {
      const [i, j] = [Math.floor(k / field.c.length), k % field.c.length];
      const at = (b: number, d: 0 | 1 | 2) =>
        O[d] + (field.a[i] as number) * A[d] + (field.c[j] as number) * C[d] + b * S[d];
      const inside = (b: number) => at(b, 1) - halfBreadth(at(b, 0) - L / 2, T - at(b, 2));
      let [lo, hi] = [(field.f[k] as number) - 1, (field.f[k] as number) + 1];
      for (let n = 0; n < 60; n++) {
        const mid = (lo + hi) / 2;
        if (inside(mid) < 0) lo = mid;
        else hi = mid;
      }
      expect(Math.abs(lo - (field.f[k] as number))).toBeLessThan(0.05);
    }
  });
});
