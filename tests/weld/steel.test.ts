import { describe, expect, test } from 'vitest';
import { CURRENT_WINDOWS, currentWindow } from '../../src/weld/current.ts';
import { electrodeRuling, type SteelKnowledge } from '../../src/weld/steel.ts';
import { electrodeCheck } from '../../src/weld/weldChecks.ts';

const mild = 250;
const given = (value: number): SteelKnowledge => ({ kind: 'given', value });

describe('Electrode for the steel (common practice, no source)', () => {
  test('carbon equivalent of 0.40 or more gets nickel-type', () => {
    expect(electrodeRuling(given(0.39), mild).asks).toBe('any');
    expect(electrodeRuling(given(0.4), mild).asks).toBe('nickel');
    // 0.4 exactly, as a sum that floats below it: 0.20 + 1.2/6 by the IIW form.
    const sum = electrodeRuling({ kind: 'composition', percent: { C: 0.2, Mn: 1.2 } }, mild);
    expect(sum.asks).toBe('nickel');
    expect(sum.carbonEquivalent).toBeCloseTo(0.4, 12);
  });

  test('steel of unknown composition gets nickel-type', () => {
    const ruling = electrodeRuling({ kind: 'unknown' }, mild);
    expect(ruling.asks).toBe('nickel');
    expect(ruling.carbonEquivalent).toBeUndefined();
  });

  test('high-strength naval steel gets nickel-type whatever its carbon equivalent', () => {
    expect(electrodeRuling(given(0.3), 550).asks).toBe('nickel');
    expect(electrodeRuling(given(0.3), 355).asks).toBe('any');
  });

  test('the threshold is the user’s to change', () => {
    expect(electrodeRuling(given(0.38), mild, { carbonEquivalent: 0.36, yield: 550 }).asks).toBe('nickel');
  });

  test('the check: passes where the class given is at least the class asked for', () => {
    const ratio = (kind: 'nickel' | 'ferritic' | 'austenitic', steel: SteelKnowledge) => {
      const check = electrodeCheck(kind, electrodeRuling(steel, mild));
      return check.demand / check.limit;
    };
    expect(ratio('ferritic', given(0.45))).toBeGreaterThan(1);
    expect(ratio('austenitic', { kind: 'unknown' })).toBeGreaterThan(1);
    expect(ratio('nickel', given(0.45))).toBeLessThanOrEqual(1);
    expect(ratio('ferritic', given(0.35))).toBeLessThanOrEqual(1);
    expect(ratio('nickel', given(0.35))).toBeLessThanOrEqual(1);
  });
});

describe('Current', () => {
  test('2.4 mm nickel-type: 80 to 95 A, electrode positive (common practice, no source); 3/32 in is the same size', () => {
    for (const diameter of [2.4, (3 / 32) * 25.4]) {
      const advice = currentWindow('nickel', diameter);
      expect(advice).toMatchObject({
        kind: 'window',
        row: { value: { polarity: 'DCEP', amperes: [80, 95] }, standing: 'common-practice' },
      });
    }
  });

  test('every other window says that it is not verified, and none is alternating', () => {
    for (const row of CURRENT_WINDOWS) {
      expect(['DCEP', 'DCEN']).toContain(row.value.polarity);
      expect(row.value.amperes[0]).toBeLessThan(row.value.amperes[1]);
      if (!(row.kind === 'nickel' && row.diameter === 2.4)) expect(row.standing).toBe('not-verified');
    }
  });

  test('no window is made up for a size that has none', () => {
    expect(currentWindow('nickel', 1.6)).toEqual({ kind: 'no-window' });
    expect(currentWindow('ferritic', 5)).toEqual({ kind: 'no-window' });
  });
});
