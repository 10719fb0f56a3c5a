import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { readJob } from '../../src/job/read.ts';
import { planJob } from '../../src/plan/plan.ts';
import { PlanRefused } from '../../src/plan/refused.ts';

const deg = Math.PI / 180;
const text = readFileSync(new URL('../../samples/a-plumb-lug-rounded-bottom/job.json', import.meta.url), 'utf8');

function planWith(asBuilt: unknown) {
  const raw = JSON.parse(text);
  if (asBuilt !== undefined) raw.fittings[0].asBuilt = asBuilt;
  const reading = readJob(JSON.stringify(raw), () => undefined);
  if (!reading.ok) throw new Error(JSON.stringify(reading.faults));
  const [fitting] = planJob(reading.job).fittings;
  if (!fitting) throw new Error('no fitting');
  return fitting;
}

describe('as built', () => {
  test('a job without a record has none', () => {
    expect(planWith(undefined).asBuilt).toBeNull();
  });

  test('a lug that reads as planned is the planned lug', () => {
    const f = planWith({ gaps: [] });
    expect(f.asBuilt?.offPlanned).toBeCloseTo(0, 9);
    expect(f.asBuilt?.load.offPlane).toBeCloseTo(f.load.offPlane, 9);
  });

  test('a plumb plate that leans by 3 degrees turns the pull out of its plane by 3 degrees, less or more what it was off', () => {
    // The pin moves by pinHeight sin 3 deg = 11.5 mm on a load 3.4 m off: 0.19 degrees of the load line itself.
    const f = planWith({
      face: { fromPlumb: '3 deg', looksUp: 'face+' },
      foot: { fromLevel: '0 deg', higher: 'end+' },
    });
    const change = (f.asBuilt?.load.offPlane ?? 0) - f.load.offPlane;
    expect(Math.abs(Math.abs(change) / deg - 3)).toBeLessThan(0.25);
    expect(f.asBuilt?.checks.find((c) => c.id === 'as-built-sideways')?.pass).toBe(false);
  });

  test('a gap over what a leg may make up fails the check and says what to grind', () => {
    const gaps = [
      { s: '20 mm', gap: '0 mm' },
      { s: '150 mm', gap: '6 mm' },
      { s: '280 mm', gap: '0 mm' },
      { s: '490 mm', gap: '6 mm' },
    ];
    const f = planWith({ gaps });
    const failed = f.asBuilt?.checks.filter((c) => !c.pass).map((c) => c.id);
    expect(failed).toEqual(['as-built-gap']);
    expect(f.pass).toBe(false);
    expect(f.asBuilt?.orders.length).toBeGreaterThan(0);
  });

  test('readings that no plate can show, and a gap off the root, are refused by field', () => {
    const fault = (asBuilt: unknown) => {
      try {
        planWith(asBuilt);
      } catch (e) {
        if (e instanceof PlanRefused) return e.faults.map((f) => f.path);
        throw e;
      }
      return [];
    };
    expect(
      fault({ face: { fromPlumb: '70 deg', looksUp: 'face+' }, foot: { fromLevel: '60 deg', higher: 'end+' } }),
    ).toEqual(['fittings[0].asBuilt']);
    expect(fault({ gaps: [{ s: '9 m', gap: '1 mm' }] })).toEqual(['fittings[0].asBuilt.gaps[0].s']);
  });
});
