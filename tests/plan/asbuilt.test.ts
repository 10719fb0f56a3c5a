import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { readJob } from '../../src/job/read.ts';
import { showPhrase } from '../../src/job/show.ts';
import { planJob } from '../../src/plan/plan.ts';
import { PlanRefused } from '../../src/plan/refused.ts';

const deg = Math.PI / 180;
const text = readFileSync(new URL('../../samples/a-plumb-lug-rounded-bottom/job.json', import.meta.url), 'utf8');

function planWith(asBuilt: unknown, change: (fitting: Record<string, unknown>) => void = () => undefined) {
  const raw = JSON.parse(text);
  change(raw.fittings[0]);
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

  describe('what stands as strength', () => {
    // 43.9 mm of pin in a hole of 44 mm fills it by 99.8 %: no strength check of this lug is used as far.
    const tight = (fitting: Record<string, unknown>) => {
      fitting.shackle = { wll: '17 t', pin: '43.9 mm', jaw: '60 mm' };
    };

    test('a pin that goes through its hole with little room is no strength: the one used most is', () => {
      const f = planWith({ gaps: [] }, tight);
      expect(f.checks.find(({ id }) => id === 'shackle-pin')?.ratio).toBeCloseTo(43.9 / 44, 9);
      const built = f.asBuilt?.checks.find(({ id }) => id === 'as-built-strength');
      const fits = ['shackle-pin', 'shackle-jaw', 'shackle-bow', 'shackle-shell'];
      // Built as planned: the strength checks of the plan itself, which stand beside it, are used no less and no more.
      const most = Math.max(...f.strength.checks.filter(({ id }) => !fits.includes(id)).map(({ ratio }) => ratio));
      expect(most).toBeLessThan(0.99);
      expect(built?.demand).toBeCloseTo(most, 9);
      expect(built?.title).not.toContain('pin through the hole');
    });

    test('room for the bow is still asked as it stands: a bow too short fails it, and not the strength', () => {
      const f = planWith({ gaps: [] });
      const bow = f.asBuilt?.checks.find(({ id }) => id === 'as-built-clearance');
      const rooms = f.strength.checks.filter(({ id }) => id === 'shackle-bow' || id === 'shackle-shell');
      expect(rooms.length).toBeGreaterThan(0);
      expect(bow?.ratio).toBeCloseTo(Math.max(...rooms.map(({ ratio }) => ratio)), 9);
      // From the pin's hole to the top of this lug there are 100 - 22 = 78 mm: no bow of 60 mm goes over it.
      const short = planWith({ gaps: [] }, (fitting) => {
        fitting.shackle = { wll: '17 t', pin: '42 mm', jaw: '60 mm', insideLength: '60 mm' };
      });
      expect(short.asBuilt?.checks.filter(({ pass }) => !pass).map(({ id }) => id)).toEqual(['as-built-clearance']);
    });
  });

  describe('gaps against the angle finder', () => {
    /** What is said of the two, for a plate that leans off the plan by `felt` (rad, plus: face+ away from the shell) and a reading. */
    const said = (felt: number, fromPlumb: string, looksUp: 'face-' | 'face+', foot = 0) => {
      const plain = planWith(undefined);
      const { root, joint, frame } = plain;
      const marks = [0, 1, 2, 3].flatMap((k) => {
        const [from, to] = [root.corners[k] as number, root.corners[k + 1] as number];
        return k % 2 === 0 ? [0.1, 0.5, 0.9].map((w) => from + w * (to - from)) : [(from + to) / 2];
      });
      const gaps = marks.map((s) => {
        const k = joint.points.reduce(
          (best, p, i) => (Math.abs(p.s - s) < Math.abs((joint.points[best]?.s ?? 0) - s) ? i : best),
          0,
        );
        const at = [0, 1, 2].map((i) => root.normal[3 * k + i] as number);
        const steep = Math.abs(at.reduce((sum, n, i) => sum + n * (frame.stem[i] as number), 0));
        // A plane tilted by an angle stands tan of it off for each mm across; a feeler square to the shell reads the share of its slope.
        const off = (root.c[k] as number) * Math.tan(felt) + (root.a[k] as number) * Math.tan(foot);
        const gap = (joint.points[k]?.opening ?? 0) + (off + 8) * steep;
        return { s: `${joint.points[k]?.s} mm`, gap: `${gap} mm` };
      });
      const f = planWith({ face: { fromPlumb, looksUp }, foot: { fromLevel: '0 deg', higher: 'end+' }, gaps });
      return (f.asBuilt?.orders ?? [])
        .map((order) => showPhrase(order, 'metric'))
        .filter((o) => o.startsWith('Gaps and'));
    };

    test('the plate hangs: a face that looks up has its own edge nearer the shell, and gaps that say so agree', () => {
      expect(said(-2 * deg, '2 deg', 'face+')).toEqual([]);
      expect(said(2 * deg, '2 deg', 'face-')).toEqual([]);
      expect(said(0, '0 deg', 'face+')).toEqual([]);
    });

    test('by how much they disagree is the difference of the two leans; half a degree is not told', () => {
      // 3 degrees by the gaps, 1 by the finder, and the wrong face: within what planned lean and shell leave of a tenth.
      for (const [felt, reading, face, off] of [
        [-3, '1 deg', 'face+', 2],
        [2, '2 deg', 'face+', 4],
      ] as const) {
        const [words] = said(felt * deg, reading, face);
        const told = /disagree by ([\d.]+)° on how the face leans/.exec(words ?? '');
        expect(Math.abs(Number(told?.[1]) - off)).toBeLessThan(0.16);
        expect(words).toContain('read both again');
      }
      expect(said(-1.5 * deg, '1 deg', 'face+')).toEqual([]);
      expect(said(0, '0 deg', 'face+', 2 * deg)[0]).toMatch(/disagree by (1\.9|2\.[01])° on how the foot rises/);
    });
  });

  test('the sample whose gaps are too wide: its gaps and its finder tell one story, the gap alone fails and is ground', () => {
    const job = readFileSync(new URL('../../samples/m-as-built-gaps-too-wide/job.json', import.meta.url), 'utf8');
    const reading = readJob(job, () => undefined);
    if (!reading.ok) throw new Error(JSON.stringify(reading.faults));
    const built = planJob(reading.job).fittings[0]?.asBuilt;
    expect(built?.checks.filter(({ pass }) => !pass).map(({ id }) => id)).toEqual(['as-built-gap']);
    const orders = (built?.orders ?? []).map((order) => showPhrase(order, 'metric'));
    expect(orders.length).toBeGreaterThan(0);
    for (const order of orders) expect(order).toMatch(/^Grind /);
  });
});
