import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { stringerBead } from '../../src/weld/bead.ts';
import {
  type BeadStack,
  beadStack,
  layerCount,
  layerKind,
  polygonArea,
  sectionArea,
  type WeldSection,
} from '../../src/weld/beadStack.ts';
import { depositPerElectrode } from '../../src/weld/deposit.ts';
import { filletArea, throatLeft, throatOfLeg, weldSide } from '../../src/weld/legs.ts';
import { defaultWeldSettings } from '../../src/weld/settings.ts';

const deg = Math.PI / 180;
const settings = defaultWeldSettings();
const bead = stringerBead(
  depositPerElectrode(2.4, 350, settings.stub, settings.recovery),
  settings.travel,
  settings.burn,
  2.4,
  settings.beadWidthRatio,
);

const sections: fc.Arbitrary<WeldSection> = fc.record({
  dihedral: fc.double({ min: 20 * deg, max: 150 * deg, noNaN: true }),
  throat: fc.double({ min: 2, max: 30, noNaN: true }),
  opening: fc.oneof(fc.constant(0), fc.double({ min: 0.01, max: 8, noNaN: true })),
});
const layersAsked = fc.option(fc.integer({ min: 1, max: 14 }), { nil: undefined });
const faces = fc.constantFrom('shell' as const, 'plate' as const);

const everyBead = (stack: BeadStack) => stack.layers.flatMap((layer) => layer.beads);
const total = (stack: BeadStack) => everyBead(stack).reduce((sum, each) => sum + polygonArea(each.polygon), 0);

/** Round-off of some hundred sums and products, as a share. */
const ROUND_OFF = 1e-10;

describe('the stack fills the section', () => {
  test('drawn beads sum to the section, and each is drawn as large as it says', () => {
    fc.assert(
      fc.property(sections, layersAsked, faces, (section, layers, first) => {
        const stack = beadStack(section, bead, layers, first);
        expect(Math.abs(total(stack) / stack.area - 1)).toBeLessThan(ROUND_OFF);
        expect(Math.abs(polygonArea(stack.outline) / stack.area - 1)).toBeLessThan(ROUND_OFF);
        for (const each of everyBead(stack))
          expect(Math.abs(polygonArea(each.polygon) - each.area)).toBeLessThan(ROUND_OFF * stack.area);
      }),
    );
  });

  test('beads do not overlap: pairwise apart along some edge (separating line of convex polygons)', () => {
    fc.assert(
      fc.property(sections, faces, (section, first) => {
        const beads = everyBead(beadStack(section, bead, undefined, first)).slice(0, 40);
        beads.forEach((one, i) => {
          for (const two of beads.slice(i + 1)) expect(apart(one.polygon, two.polygon)).toBe(true);
        });
      }),
      { numRuns: 30 },
    );
  });

  test('a tight fit is the fillet t^2 tan(psi/2), a gap adds strip and wedge (closed form of the trapezoid)', () => {
    expect(sectionArea({ dihedral: 70 * deg, throat: 9, opening: 0 })).toBeCloseTo(filletArea(9, 70 * deg), 12);
    // At 90 degrees: a triangle of legs b above the plate's corner, on a trapezoid R high, b wide at its top and b + R at the shell.
    const t = 10;
    const b = t * Math.SQRT2;
    const R = 3;
    expect(sectionArea({ dihedral: 90 * deg, throat: t, opening: R })).toBeCloseTo(
      (b * b) / 2 + (R * (b + b + R)) / 2,
      9,
    );
  });

  test('with a gap the toe on the plate stands the called leg off the shell, and the throat is the wanted one', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 30 * deg, max: 135 * deg, noNaN: true }),
        fc.double({ min: 3, max: 25, noNaN: true }),
        fc.double({ min: 1.7, max: 4.8, noNaN: true }),
        (dihedral, leg, opening) => {
          const size = weldSide(dihedral, leg, opening, 1.6);
          const stack = beadStack({ dihedral, throat: size.throat, opening }, bead);
          const toe = stack.outline[2];
          expect(Math.abs((toe?.[1] ?? 0) - size.legSquare)).toBeLessThan(1e-9);
          expect(Math.abs(throatLeft(size.legSquare, opening, dihedral) - throatOfLeg(leg))).toBeLessThan(1e-9);
        },
      ),
    );
  });

  test('each layer’s beads have one area, and lie in the order asked for', () => {
    const section = { dihedral: 100 * deg, throat: 11, opening: 0 };
    const fromShell = beadStack(section, bead, undefined, 'shell');
    const fromPlate = beadStack(section, bead, undefined, 'plate');
    const cap = fromShell.layers.at(-1);
    expect(new Set(cap?.beads.map((each) => each.area)).size).toBe(1);
    // The first bead from the shell touches it: its first corner lies on y = 0.
    expect(cap?.beads[0]?.polygon[0]?.[1]).toBe(0);
    expect(cap?.beads.at(-1)?.polygon[0]?.[1]).toBeGreaterThan(0);
    expect(fromPlate.layers.at(-1)?.beads.map((each) => each.polygon)).toEqual(
      cap?.beads.map((each) => each.polygon).reverse(),
    );
  });
});

describe('layers', () => {
  test('a 16 mm fillet with 2.4 mm electrodes takes about eight layers (common practice, no source)', () => {
    const layers = layerCount({ dihedral: 90 * deg, throat: throatOfLeg(16), opening: 0 }, bead);
    // "About": one more or less.
    expect(Math.abs(layers - 8)).toBeLessThanOrEqual(1);
  });

  test('no layer above the root is thicker than a stringer, and thicknesses sum to the throat', () => {
    fc.assert(
      fc.property(sections, (section) => {
        const stack = beadStack(section, bead);
        for (const layer of stack.layers.slice(1))
          expect(layer.thickness).toBeLessThanOrEqual(bead.thickness * (1 + 1e-8));
        const sum = stack.layers.reduce((all, layer) => all + layer.thickness, 0);
        expect(Math.abs(sum - section.throat)).toBeLessThan(1e-9);
        for (const layer of stack.layers) expect(layer.thickness).toBeGreaterThanOrEqual(0);
      }),
    );
  });

  test('root, hot pass, fills, cap', () => {
    expect([1, 2, 3, 4, 5].map((layer) => layerKind(layer, 5))).toEqual(['root', 'hot pass', 'fill', 'fill', 'cap']);
    expect([1, 2].map((layer) => layerKind(layer, 2))).toEqual(['root', 'cap']);
    expect(layerKind(1, 1)).toBe('root');
  });

  test('a small fillet is one bead', () => {
    const stack = beadStack({ dihedral: 90 * deg, throat: 2, opening: 0 }, bead);
    expect([stack.layers.length, stack.beads]).toEqual([1, 1]);
  });

  test('stringers only: no bead above the root is much wider than the stringer it is made of', () => {
    fc.assert(
      fc.property(sections, (section) => {
        const stack = beadStack(section, bead);
        for (const layer of stack.layers)
          for (const each of layer.beads) expect(each.area).toBeLessThan(1.5 * bead.area + ROUND_OFF);
      }),
    );
  });
});

test('scaled by k, areas scale by k^2 and the layout stays', () => {
  fc.assert(
    fc.property(sections, fc.double({ min: 0.1, max: 10, noNaN: true }), (section, k) => {
      // Away from a count that round-off could tip.
      const one = beadStack(section, bead, 6);
      const scaled = { area: bead.area * k * k, width: bead.width * k, thickness: bead.thickness * k };
      const other = beadStack({ ...section, throat: section.throat * k, opening: section.opening * k }, scaled, 6);
      expect(Math.abs(other.area / (one.area * k * k) - 1)).toBeLessThan(ROUND_OFF);
    }),
  );
});

test('what has no section is refused', () => {
  expect(() => beadStack({ dihedral: 0, throat: 5, opening: 0 }, bead)).toThrow(RangeError);
  expect(() => beadStack({ dihedral: 1, throat: 0, opening: 0 }, bead)).toThrow(RangeError);
  expect(() => beadStack({ dihedral: 1, throat: 5, opening: -1 }, bead)).toThrow(RangeError);
  expect(() => beadStack({ dihedral: 1, throat: 5, opening: 0 }, bead, 0)).toThrow(RangeError);
  expect(() => stringerBead(1000, 0, 1, 2.4, 2)).toThrow(RangeError);
});

type Corner = readonly [number, number];

/** Whether some edge of either polygon has all of the other on its outer side (separating axis, counter-clockwise). */
function apart(one: readonly Corner[], two: readonly Corner[]): boolean {
  const outside = (hull: readonly Corner[], other: readonly Corner[]) =>
    hull.some(([ax, ay], i) => {
      const [bx, by] = hull[(i + 1) % hull.length] as Corner;
      if (Math.hypot(bx - ax, by - ay) < 1e-9) return false;
      return other.every(([x, y]) => (bx - ax) * (y - ay) - (by - ay) * (x - ax) <= 1e-7);
    });
  return outside(one, two) || outside(two, one);
}
