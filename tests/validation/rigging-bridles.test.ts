import { describe, expect, test } from 'vitest';
import { distance, type Vec3 } from '../../geometry/math/vec.ts';
import { equilibrium } from '../../src/rigging/equilibrium.ts';
import { lengthWithoutLoad } from '../../src/rigging/load.ts';
import { drawnPose, hungSystem } from '../../src/rigging/system.ts';
import { dry, line, ROPE, UP } from '../rigging/loads.ts';

/*
 * Statics of slings, against published tables and worked examples and against closed forms. In each the lengths without load are
 * those that stretch to the printed geometry, so that the comparison is exact for stretching lines as well.
 */

const TONNE = 9806.65;

/** Tensions of lines from the pins to the attachments of a load that should come to rest where it is drawn. */
function tensions(weight: number, centre: Vec3, legs: readonly (readonly [Vec3, Vec3])[], expected: readonly number[]) {
  const lines = legs.map(([pin, attachment], i) => line(String(i + 1), pin, attachment));
  const system = hungSystem(dry(weight, centre), lines, UP);
  const lengths = lines.map((l, i) => lengthWithoutLoad(ROPE, distance(l.pin, l.attachment), expected[i] as number));
  // From beside where it should be: it has to find its place.
  const drawn = drawnPose(system);
  const from = { ...drawn, centre: [drawn.centre[0] + 20, drawn.centre[1] - 30, drawn.centre[2] - 10] as Vec3 };
  const result = equilibrium(system, lengths, from);
  if (!result.found) throw new Error(result.why);
  expect(result.equilibrium.residual).toBeLessThan(1e-9);
  return result.equilibrium.lines.map((l) => l.tension);
}

const deg = Math.PI / 180;

describe('sling factor: two legs at an angle from the horizontal', () => {
  // Trade table at ashleysling.com, 5 deg steps from 90 to 30; it agrees with 1/sin within 0.0015.
  const printed: readonly (readonly [number, number])[] = [
    [85, 1.0038],
    [80, 1.0154],
    [75, 1.0353],
    [70, 1.0642],
    [65, 1.1034],
    [60, 1.1547],
    [55, 1.2208],
    [50, 1.3054],
    // biome-ignore lint/suspicious/noApproximativeNumericConstant: the digits as printed
    [45, 1.4142],
    [40, 1.5557],
    [35, 1.7434],
    [30, 2],
  ];
  for (const [angle, factor] of printed) {
    test(`${angle} deg: ${factor}`, () => {
      const half = 1000 * Math.cos(angle * deg);
      const rise = 1000 * Math.sin(angle * deg);
      const W = 2 * TONNE;
      const legs = [
        [
          [0, 0, 0],
          [-half, 0, -rise],
        ],
        [
          [0, 0, 0],
          [half, 0, -rise],
        ],
      ] as const;
      const share = W / 2 / Math.sin(angle * deg);
      const got = tensions(W, [0, 0, -rise - 500], legs, [share, share]);
      for (const t of got) {
        expect(t / (W / 2)).toBeCloseTo(1 / Math.sin(angle * deg), 6);
        expect(Math.abs(t / (W / 2) - factor)).toBeLessThan(0.0015);
      }
    });
  }

  test('length over height: L 120, H 96, 1200 lb a leg make 1500 lb (worked example at ashleysling.com)', () => {
    const half = Math.sqrt(120 ** 2 - 96 ** 2);
    const got = tensions(
      2400,
      [0, 0, -150],
      [
        [
          [0, 0, 0],
          [-half, 0, -96],
        ],
        [
          [0, 0, 0],
          [half, 0, -96],
        ],
      ],
      [1500, 1500],
    );
    for (const t of got) expect(t).toBeCloseTo(1500, 4);
  });

  test('2000 lb on two legs at 60 and 30 deg: 1154 and 2000 lb each (orcbs.msu.edu, digits as printed)', () => {
    for (const [angle, lb] of [
      [60, 1154],
      [30, 2000],
    ] as const) {
      const [half, rise] = [2000 * Math.cos(angle * deg), 2000 * Math.sin(angle * deg)];
      const share = 1000 / Math.sin(angle * deg);
      const legs = [
        [
          [0, 0, 0],
          [-half, 0, -rise],
        ],
        [
          [0, 0, 0],
          [half, 0, -rise],
        ],
      ] as const;
      for (const t of tensions(2000, [0, 0, -rise - 800], legs, [share, share])) expect(Math.floor(t + 1e-6)).toBe(lb);
    }
  });
});

test('centre of gravity off the middle: 10,000 lb, 8 ft and 2 ft from the picks, 2,000 and 8,000 lb (certifiedslings.com)', () => {
  const ft = 304.8;
  const legs = [
    [
      [-8 * ft, 0, 3000],
      [-8 * ft, 0, 0],
    ],
    [
      [2 * ft, 0, 3000],
      [2 * ft, 0, 0],
    ],
  ] as const;
  const [far, near] = tensions(10_000, [0, 0, -300], legs, [2000, 8000]);
  expect(far).toBeCloseTo(2000, 5);
  expect(near).toBeCloseTo(8000, 5);
});

test('unequal two-leg bridle: T = W L1 D2 / (H (D1 + D2)), from memory, re-derived from the two equations of force', () => {
  const [W, H, D1, D2] = [10_000, 8000, 6000, 4000];
  const [L1, L2] = [Math.hypot(D1, H), Math.hypot(D2, H)];
  const T1 = (W * L1 * D2) / (H * (D1 + D2));
  const T2 = (W * L2 * D1) / (H * (D1 + D2));
  expect([T1, T2]).toEqual([5000, expect.closeTo(6708.2, 1)]);
  const got = tensions(
    W,
    [0, 0, -H - 700],
    [
      [
        [0, 0, 0],
        [-D1, 0, -H],
      ],
      [
        [0, 0, 0],
        [D2, 0, -H],
      ],
    ],
    [T1, T2],
  );
  expect(got[0]).toBeCloseTo(T1, 4);
  expect(got[1]).toBeCloseTo(T2, 4);
});

describe('three legs to one hook, closed form', () => {
  test('equilateral, picks on a radius of 2, hook 3 above, W 30: T = W L / (3 H) = 12.0185', () => {
    const T = (30 * Math.hypot(2, 3)) / (3 * 3);
    expect(T).toBeCloseTo(12.0185, 4);
    const legs = [0, 120, 240].map((a) => {
      const at: Vec3 = [2000 * Math.cos(a * deg), 2000 * Math.sin(a * deg), -3000];
      return [[0, 0, 0], at] as const;
    });
    for (const t of tensions(30, [0, 0, -3500], legs, [T, T, T])) expect(t).toBeCloseTo(T, 7);
  });

  test('unequal: vertical shares are the barycentric coordinates of the hook over the picks', () => {
    const picks: readonly Vec3[] = [
      [0, 0, 0],
      [4000, 0, 0],
      [1000, 3000, 0],
    ];
    const hook: Vec3 = [1500, 1000, 4000];
    const shares = [0.375, 0.7 / 2.4, 1 / 3];
    const T = picks.map((p, i) => (60 * (shares[i] as number) * distance(p, hook)) / 4000);
    [24.6796, 21.0955, 22.5].forEach((t, i) => {
      expect(T[i]).toBeCloseTo(t, 4);
    });
    const got = tensions(
      60,
      [1500, 1000, -500],
      picks.map((p) => [hook, p] as const),
      T,
    );
    got.forEach((t, i) => {
      expect(t).toBeCloseTo(T[i] as number, 6);
    });
  });
});

test('two lines 30 and 45 deg off plumb on opposite sides, W 20: 14.6410 and 10.3528 by the law of sines', () => {
  // Two lugs hold one eye: T30 / sin 45 = T45 / sin 30 = W / sin 75.
  const T30 = (20 * Math.sin(45 * deg)) / Math.sin(75 * deg);
  const T45 = (20 * Math.sin(30 * deg)) / Math.sin(75 * deg);
  expect(T30).toBeCloseTo(14.641, 4);
  expect(T45).toBeCloseTo(10.3528, 4);
  const eye: Vec3 = [0, 0, -2000];
  const pins: readonly Vec3[] = [
    [-2000 * Math.tan(30 * deg), 0, 0],
    [2000, 0, 0],
  ];
  const got = tensions(
    20,
    eye,
    pins.map((p) => [p, eye] as const),
    [T30, T45],
  );
  expect(got[0]).toBeCloseTo(T30, 7);
  expect(got[1]).toBeCloseTo(T45, 7);
});
