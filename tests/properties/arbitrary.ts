import fc from 'fast-check';
import type { StemRule } from '../../geometry/align/stem.ts';
import type { HullSpec } from '../../geometry/hull/spec.ts';
import { Refusal } from '../../geometry/refusal.ts';
import { RAD, type Stand, type Standing, standLug } from '../geometry/lugs.ts';

/* Random hulls and lugs on them. A place or stem that is refused is passed over; too many of them fail the test. */

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });

const bilge = fc.record({ rise: number(100, 500), radius: number(700, 2500), side: number(20, 400) }).map(
  ({ rise, radius, side }): HullSpec => ({
    kind: 'segments',
    start: { y: 0, z: 0 },
    path: [
      { to: { y: 2500, z: rise } },
      { to: { y: 2500 + 0.8 * radius, z: rise + 0.9 * radius }, radius },
      { to: { y: 2500 + 0.8 * radius + side, z: 6000 } },
    ],
  }),
);

const points = fc
  .record({ z1: number(50, 150), z2: number(250, 420), y4: number(3200, 3450), knuckle: fc.boolean() })
  .map(({ z1, z2, y4, knuckle }) => [
    { y: 0, z: 0 },
    { y: 1000, z: z1 },
    { y: 2000, z: z2 },
    { y: 2800, z: 800, knuckle },
    { y: y4, z: 1600 },
    { y: y4 + 180, z: 2600 },
    { y: y4 + 250, z: 3800 },
  ]);

const spline = points.map((p): HullSpec => ({ kind: 'spline', points: p }));

const loft = fc.record({ points, taper: number(-0.05, 0.05), bend: number(-0.01, 0.01) }).map(
  ({ points: p, taper, bend }): HullSpec => ({
    kind: 'sections',
    sections: [6000, 8000, 10_000, 12_000, 14_000].map((station, i) => {
      const k = 1 + taper * (i - 2) + bend * (i - 2) ** 2;
      return { station, points: p.map((q) => ({ ...q, y: q.y * k })) };
    }),
  }),
);

const hollow = number(800, 4000).map(
  (radius): HullSpec => ({
    kind: 'segments',
    start: { y: 0, z: 0 },
    path: [{ to: { y: radius, z: -radius }, radius: -radius }],
  }),
);

export const hull: fc.Arbitrary<HullSpec> = fc.oneof(bilge, spline, loft, hollow);
export const turnableHull: fc.Arbitrary<HullSpec> = fc.oneof(bilge, spline, hollow);

const stem: fc.Arbitrary<StemRule> = fc.oneof(
  fc.constant({ kind: 'normal' } as const),
  fc.constant({ kind: 'plumb' } as const),
  fc.constant({ kind: 'toward-load' } as const),
  number(-35, 35).map((angle) => ({ kind: 'lean', angle: angle * RAD }) as const),
);

const heading = fc.oneof(fc.constantFrom(0, 90, 180, 270, 45), number(-180, 180));

export const stand: fc.Arbitrary<Stand> = fc
  .record({
    girth: number(350, 3900),
    side: fc.constantFrom('port', 'starboard') as fc.Arbitrary<'port' | 'starboard'>,
    heading: heading.map((h) => h * RAD),
    foot: number(150, 450),
    thickness: number(12, 55),
    stem,
    trim: number(-0.02, 0.02),
    heel: number(-3, 3),
    target: fc.tuple(number(9000, 11_000), number(-1000, 3000)),
    tolerance: number(0.4, 3),
  })
  .map(({ trim, heel, target, ...rest }) => ({
    ...rest,
    up: [trim, Math.tan(heel * RAD), 1] as const,
    pull: { toward: [target[0], target[1], -6000] as const },
  }));

/** The lug, or undefined where geometry refuses it. Anything else that is thrown comes through. */
export function tryStand(spec: HullSpec, change: Stand): Standing | undefined {
  try {
    return standLug(spec, change);
  } catch (e) {
    if (e instanceof Refusal) return undefined;
    throw e;
  }
}

/** Runs a property on lugs that stand; says so and fails where fewer than half do. The seed is part of every message. */
export function forLugs(
  numRuns: number,
  seed: number,
  check: (lug: Standing, spec: HullSpec, change: Stand) => void,
  hulls: fc.Arbitrary<HullSpec> = hull,
): void {
  let [stood, all] = [0, 0];
  fc.assert(
    fc.property(hulls, stand, (spec, change) => {
      all++;
      const lug = tryStand(spec, change);
      if (!lug) return;
      stood++;
      check(lug, spec, change);
    }),
    { numRuns, seed },
  );
  if (stood < all / 2) throw new Error(`seed ${seed}: only ${stood} of ${all} lugs stand`);
}
