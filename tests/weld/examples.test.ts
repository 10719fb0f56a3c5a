import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { weldSide } from '../../src/weld/legs.ts';

/** Worked examples computed outside the project; the leg each job calls for, mm. */
const EXAMPLES = [
  ['tern', 12],
  ['heron', 12.7],
] as const;

interface ExpectedSide {
  readonly side: string;
  readonly dihedralDeg: number;
  readonly throatMm: number;
  readonly legAlongPlateMm: number;
  readonly legSquareMm: number;
  readonly areaMm2: number;
}

describe.each(EXAMPLES)('weld sides of the worked example %s', (name, leg) => {
  const file = `../shared/examples/${name}.expected.json`;
  test.skipIf(!existsSync(file))('throat, legs and area from its dihedral angles', () => {
    const fittings = JSON.parse(readFileSync(file, 'utf8')) as readonly {
      readonly weldSides: readonly ExpectedSide[];
    }[];
    const sides = fittings.flatMap((fitting) => fitting.weldSides);
    expect(sides.length).toBeGreaterThan(0);
    for (const side of sides) {
      const size = weldSide((side.dihedralDeg * Math.PI) / 180, leg, 0, 1.6);
      // Both are the same closed forms; what differs is round-off.
      expect(Math.abs(size.throat - side.throatMm)).toBeLessThan(1e-9);
      expect(Math.abs(size.legAlongPlate - side.legAlongPlateMm)).toBeLessThan(1e-9);
      expect(Math.abs(size.legSquare - side.legSquareMm)).toBeLessThan(1e-9);
      expect(Math.abs(size.area - side.areaMm2)).toBeLessThan(1e-8);
    }
  });
});
