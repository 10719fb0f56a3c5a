import { describe, expect, it } from 'vitest';
import type { StrengthInput } from '../../src/strength/input.ts';
import { strengthChecks, strengthSweep } from '../../src/strength/strengthChecks.ts';
import { sampleInput } from './lug.ts';

const [b, t, h] = [310, 35, 215];
const L = 2 * (b + t);
// Section moduli of a rectangle of lines (Blodgett; Unsworth Table 9.1: bd + d^2/3).
const aboutLong = b * t + t ** 2 / 3;
const aboutShort = b * t + b ** 2 / 3;
const off = { sidewaysAllowance: { value: 0, reason: 'shut off', standing: 'choice' } } as const;
const [P, V] = [108_000, 18_000];
/** 5 % of the pull across the plate, more than the pull itself gives (API RP 2A-WSD). */
const allowance = 0.05 * Math.hypot(P, V, 1000);
const lean = (sideways: number): Partial<StrengthInput> => ({ load: { alongStem: P, alongFoot: V, sideways } });

describe('The sideways allowance acts to either side: everything is taken under the worse', () => {
  const both = strengthChecks(sampleInput(lean(1000)));

  it('toes by hand: the two of an end are alike, each with the allowance towards the other side', () => {
    const shear = Math.hypot(V, allowance) / L;
    const at = (end: number) => Math.hypot(P / L + (end * V * h) / aboutShort + (allowance * h) / aboutLong, shear);
    const { toes, overNext, text } = both.toes;
    expect(overNext).toBe(0);
    const by = Object.fromEntries(toes.map((toe) => [toe.corner, toe.force]));
    // Pulled towards +A at the pin, the foot is lifted at its other end.
    expect(by['end-/face-']).toBeCloseTo(at(1), 6);
    expect(by['face+/end-']).toBeCloseTo(at(1), 6);
    expect(by['face-/end+']).toBeCloseTo(at(-1), 6);
    expect(by['end+/face+']).toBeCloseTo(at(-1), 6);
    expect(text.join('')).toContain('either side');
  });

  it('the use of the weld at every sample is that of the worse of the two pulls put on by themselves', () => {
    const one = [allowance, -allowance].map((s) => strengthChecks(sampleInput({ ...lean(s), factors: off })).weld);
    both.weld.utilisation.forEach((use, k) => {
      const worse = Math.max(...one.map((w) => w.utilisation[k] as number));
      expect(use).toBeCloseTo(worse, 9);
    });
  });

  it.each([
    ['in the middle', {}],
    ['beside a longitudinal', { fromFrame: 300, fromLongitudinal: 90 }],
    ['across a frame', { fromFrame: 40, fromLongitudinal: 520 }],
  ])('weld, punching and panel come to the worse of the two pulls put on by themselves, lug %s', (_, behind) => {
    const at = (change: Partial<StrengthInput>) => {
      const input = sampleInput(change);
      return strengthChecks({ ...input, panel: { ...input.panel, ...behind } }).checks;
    };
    const taken = at(lean(1000));
    const one = [allowance, -allowance].map((s) => at({ ...lean(s), factors: off }));
    for (const id of ['weld', 'shell-punching', 'shell-bending', 'shell-bending-clamped', 'lug-foot', 'lug-shoulder']) {
      const of = (list: typeof taken) => list.find((c) => c.id === id)?.demand ?? Number.NaN;
      // A panel's places are sorted by a short look: half a per cent. The rest is the same arithmetic.
      const apart = Math.abs(of(taken) / Math.max(...one.map(of)) - 1);
      expect(apart, id).toBeLessThan(id.startsWith('shell-bending') ? 0.005 : 1e-9);
    }
  });

  it('a lug beside a member: the two sides differ there, so that taking one alone would not do', () => {
    const at = (sideways: number) => {
      const input = sampleInput({ ...lean(sideways), factors: off });
      const { checks } = strengthChecks({ ...input, panel: { ...input.panel, fromFrame: 300, fromLongitudinal: 90 } });
      return checks.find((c) => c.id === 'shell-bending')?.demand ?? Number.NaN;
    };
    expect(Math.abs(at(allowance) / at(-allowance) - 1)).toBeGreaterThan(0.02);
  });

  it('a check that looks at both sides says to which it is the worse', () => {
    for (const id of ['weld', 'shell-bending', 'shell-bending-clamped']) {
      const across = both.checks.find((c) => c.id === id)?.terms.find((term) => term.symbol === 'H');
      expect(across?.value).toBeCloseTo(allowance, 6);
      expect(across?.name).toMatch(/either side; worse here towards the face[+-]$/);
    }
    const given = strengthChecks(sampleInput(lean(9000))).checks.find((c) => c.id === 'weld');
    expect(given?.terms.find((term) => term.symbol === 'H')).toMatchObject({
      name: 'pull across the plate, as the direction gives it',
      value: 9000,
    });
  });
});

describe('The weld check of a sweep', () => {
  it('gives the components of the line force it adds: pull over length, and section moduli for the moment', () => {
    const load = { alongStem: P, alongFoot: V, sideways: 9000 };
    const found = strengthSweep(sampleInput({ factors: off }))({ load, inPlane: 0.16, offPlane: 0.08 });
    const weld = found.checks.find((c) => c.id === 'weld');
    const of = (symbol: string) => weld?.steps.find((step) => step.symbol === symbol)?.value ?? Number.NaN;
    expect([of('u_A'), of('u_B'), of('u_C')].map((u) => u * L)).toEqual(
      [V, P, 9000].map((force) => expect.closeTo(force, 6)),
    );
    expect([of('v_A'), of('v_C')]).toEqual([expect.closeTo(0, 9), expect.closeTo(0, 9)]);
    expect(of('v_B')).toBeCloseTo((V * h) / aboutShort + (9000 * h) / aboutLong, 6);
    for (const axis of 'ABC') expect(of(`q_${axis}`)).toBeCloseTo(of(`u_${axis}`) + of(`v_${axis}`), 12);
    expect(Math.hypot(of('q_A'), of('q_B'), of('q_C'))).toBeCloseTo(weld?.demand ?? Number.NaN, 9);
  });
});
