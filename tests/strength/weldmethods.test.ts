import { describe, expect, it } from 'vitest';
import type { Basis } from '../../src/strength/basis.ts';
import { strengthCase } from '../../src/strength/case.ts';
import type { StrengthInput, WeldRoot } from '../../src/strength/input.ts';
import { strengthChecks } from '../../src/strength/strengthChecks.ts';
import { type WeldMethodId, weldMethods } from '../../src/strength/weldmethods.ts';
import { flatRoot, sampleInput } from './lug.ts';

const noAllowance = { sidewaysAllowance: { value: 0, reason: 'shut off', standing: 'choice' } } as const;
const methodsOf = (input: StrengthInput) => strengthChecks(input).methods.methods;
const method = (input: StrengthInput, id: WeldMethodId) => {
  const found = methodsOf(input).find((m) => m.id === id);
  if (!found) throw new Error(`no method ${id}`);
  return found;
};
const straight = (basis: Basis, change: Partial<StrengthInput> = {}): StrengthInput =>
  sampleInput({
    basis,
    load: { alongStem: 100_000, alongFoot: 0, sideways: 0 },
    inPlane: 0,
    offPlane: 0,
    factors: noAllowance,
    ...change,
  });
const THROAT = 16 / Math.SQRT2;
const LENGTH = 2 * (310 + 35);

describe.each(['aisc-360-asd', 'aisc-360-lrfd', 'en-1993', 'bth-1'] as const)('Weld methods, %s', (basis) => {
  it.each([false, true])(
    'the check is one of them, and the greatest ratio is marked (directional: %s)',
    (directional) => {
      const base = sampleInput({ basis });
      const r = strengthChecks({ ...base, weld: { ...base.weld, directional } });
      const { methods } = r.methods;
      const own = methods.filter((m) => m.isCheck);
      expect(own).toHaveLength(1);
      expect(own[0]?.ratio).toBeCloseTo(r.checks.find((c) => c.id === 'weld')?.ratio ?? Number.NaN, 9);
      expect(methods.filter((m) => m.governs).map((m) => m.ratio)).toEqual([Math.max(...methods.map((m) => m.ratio))]);
      for (const m of methods) expect(m.ratio).toBeCloseTo(m.demand / m.limit, 12);
    },
  );

  it('doubling the pull doubles every ratio', () => {
    const base = sampleInput({ basis });
    const { alongStem, alongFoot, sideways } = base.load;
    const twice = methodsOf({
      ...base,
      load: { alongStem: 2 * alongStem, alongFoot: 2 * alongFoot, sideways: 2 * sideways },
    });
    methodsOf(base).forEach((m, i) => {
      expect(twice[i]?.ratio).toBeCloseTo(2 * m.ratio, 9);
    });
  });
});

describe('Pulled straight along the stem: every millimetre of the weld takes F/L across its axis', () => {
  it('AISC 360 eq. J2-5 at 90 degrees: half as much again', () => {
    const asd = straight('aisc-360-asd');
    expect(method(asd, 'elastic').demand).toBeCloseTo(100_000 / LENGTH, 9);
    expect(method(asd, 'elastic').limit).toBeCloseTo((0.6 * 490 * THROAT) / 2, 9);
    expect(method(asd, 'aisc-directional').ratio).toBeCloseTo(method(asd, 'elastic').ratio / 1.5, 9);
  });

  it('EN 1993-1-8: directional gain of a square tee pulled straight, K = 1.225 (sqrt 1.5)', () => {
    const en = straight('en-1993');
    const simple = method(en, 'en-simplified');
    // f_u of the weaker part 400, beta_w 0.80 below S275, gamma_M2 1.25; 1.5 on the pull.
    expect(simple.demand).toBeCloseTo((1.5 * 100_000) / LENGTH, 9);
    expect(simple.limit).toBeCloseTo((THROAT * 400) / (Math.sqrt(3) * 0.8 * 1.25), 9);
    expect(simple.ratio / method(en, 'en-directional').ratio).toBeCloseTo(1.225, 3);
  });

  it('each standard keeps its own load factor whatever the basis of the job', () => {
    const asd = straight('aisc-360-asd');
    const en = straight('en-1993');
    for (const id of ['aisc-directional', 'en-directional', 'en-simplified', 'instantaneous-centre'] as const) {
      expect(method(asd, id).ratio, id).toBeCloseTo(method(en, id).ratio, 9);
    }
    expect(method(straight('aisc-360-lrfd'), 'elastic').demand).toBeCloseTo((1.6 * 100_000) / LENGTH, 9);
  });

  it('instantaneous centre: the whole weld breaks at once at 90 degrees, L times its strength there', () => {
    // AISC 360 J2.4: Delta_u/Delta_m at 90 degrees, f = 1.5 [p (1.9 - 0.9 p)]^0.3.
    const p = (1.087 * 96 ** -0.65) / (0.209 * 92 ** -0.32);
    const strength = 1.5 * (p * (1.9 - 0.9 * p)) ** 0.3;
    const m = method(straight('aisc-360-asd'), 'instantaneous-centre');
    expect(m.demand).toBeCloseTo(100_000, 6);
    expect(m.limit / ((strength * LENGTH * 0.6 * 490 * THROAT) / 2)).toBeCloseTo(1, 3);
  });
});

/**
 * Metric LRFD Manual Table 8-38, k = 0: two lines of length l on one another, load parallel to them at a l from the centroid; C with
 * phi = 0.75, kip per sixteenth of leg and inch of l, E70. A foot so thin that its two faces lie on one another, pulled along
 * itself at the pin, welded along its faces only, as in the table. Tolerance 0.6 %: three printed figures, 18 elements a line.
 */
function facesOf(root: WeldRoot): WeldRoot {
  const kept = [...root.side.keys()].filter((k) => (root.side[k] as number) % 2 === 0);
  const of = (list: Float64Array) => Float64Array.from(kept.flatMap((k) => [...list.subarray(3 * k, 3 * k + 3)]));
  return {
    ...root,
    position: of(root.position),
    normal: of(root.normal),
    s: Float64Array.from(kept, (k) => root.s[k] as number),
    side: Uint8Array.from(kept, (k) => root.side[k] as number),
  };
}

describe('Instantaneous centre of the foot weld against Metric LRFD Manual Table 8-38, k = 0', () => {
  it.each([
    [0.3, 2.32],
    [0.5, 1.72],
    [0.7, 1.32],
    [1.0, 0.957],
  ])('a = %f: C = %f', (a, printed) => {
    const [foot, thickness] = [300, 0.01];
    const base = sampleInput();
    const { methods } = weldMethods(
      strengthCase({
        ...base,
        load: { alongStem: 0, alongFoot: 50_000, sideways: 0 },
        lug: { ...base.lug, foot, thickness, pinHeight: a * foot },
        pin: [0, 0, a * foot],
        root: facesOf(flatRoot(foot, thickness)),
        factors: noAllowance,
      }),
    );
    const limit = methods.find((m) => m.id === 'instantaneous-centre')?.limit ?? Number.NaN;
    const coefficient = (2 * limit) / (0.6 * 490 * THROAT) / foot;
    const c = ((coefficient * 0.6 * 70 * Math.SQRT1_2) / 16) * 0.75;
    expect(Math.abs(c / printed - 1)).toBeLessThan(0.006);
  });
});

it('a pull with nothing in the plane of the plate has no instantaneous centre, and says why', () => {
  const r = strengthChecks(
    sampleInput({ load: { alongStem: 0, alongFoot: 0, sideways: 9000 }, offPlane: Math.PI / 2 }),
  );
  expect(r.methods.instantaneousMissing).toBe('no-pull-in-the-plane');
  expect(r.methods.methods.map((m) => m.id)).not.toContain('instantaneous-centre');
});
