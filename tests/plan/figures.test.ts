import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { planJob } from '../../src/plan/plan.ts';
import { planFile } from '../../src/plan/planfile.ts';
import { PlanRefused } from '../../src/plan/refused.ts';
import { cylinder, plane } from '../geometry/hulls.ts';
import { RAD } from '../geometry/lugs.ts';
import { hull, stand } from '../properties/arbitrary.ts';
import { jobOn, planOn } from './jobs.ts';

/* The plan as a whole. */

/** Paths of numbers that are none, or infinite; typed arrays too. */
function oddNumbers(value: unknown, path = ''): string[] {
  if (typeof value === 'number') return Number.isFinite(value) ? [] : [path];
  if (ArrayBuffer.isView(value)) return oddNumbers(Array.from(value as Float64Array), path);
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, of]) => oddNumbers(of, `${path}.${key}`));
}

test('every figure of any plan is a number (seed 20260501)', () => {
  let planned = 0;
  fc.assert(
    fc.property(hull, stand, (spec, change) => {
      const {
        girth = 1000,
        side = 'port',
        foot = 300,
        thickness = 30,
        heading = 0,
        stem = { kind: 'normal' },
        pull,
      } = change;
      const load = { ...(pull ?? { direction: [0, 0, -1] as const }), force: 80_000 };
      const lug = { foot, thickness, pinHeight: 300, hole: 50, topRadius: 70, shoulder: 40 };
      const job = jobOn(
        spec,
        { at: { value: girth, side }, lug, stem, heading, load },
        { heel: 1.2 * RAD, draftAft: 4400 },
      );
      try {
        const plan = planJob(job);
        planned++;
        // The first passes have none before them, or none two layers down, to keep their stops off.
        expect(
          oddNumbers(plan.fittings).filter(
            (path) => !/weld\.passes\.(0\.(stagger|overlap|apart)|[12]\.overlap)$/.test(path),
          ),
        ).toEqual([]);
        expect(oddNumbers(planFile(plan))).toEqual([]);
      } catch (e) {
        if (!(e instanceof PlanRefused)) throw e;
        for (const fault of e.faults) expect(fault.path).toMatch(/^fittings\[0\]\.|^ship\./);
      }
    }),
    { numRuns: 40, seed: 20_260_501 },
  );
  expect(planned).toBeGreaterThan(15);
});

describe('The load line', () => {
  test('components by hand: 3-4-5 in the plane, 10 degrees across', () => {
    // Flat bottom: A forward, B down, C to port.
    const inPlane = planOn(plane(0), { load: { direction: [3, 0, -4], force: 50_000 } }).load;
    expect(inPlane.alongFoot).toBeCloseTo(30_000, 6);
    expect(inPlane.alongStem).toBeCloseTo(40_000, 6);
    expect(inPlane.offPlane).toBeCloseTo(0, 12);
    expect(inPlane.inPlane).toBeCloseTo(Math.atan2(3, 4), 12);
    const across = planOn(plane(0), { load: { direction: [0, Math.tan(10 * RAD), -1], force: 50_000 } }).load;
    expect(across.offPlane).toBeCloseTo(10 * RAD, 12);
    expect(across.sideways).toBeCloseTo(50_000 * Math.sin(10 * RAD), 6);
  });

  test('the turn that is offered takes the side load away', () => {
    const load = { direction: [0.3, 0.2, -1], force: 50_000 } as const;
    const before = planOn(cylinder(3000), { load });
    const { heading, lean } = before.corrections;
    if (!heading.found || !lean.found) throw new Error('no correction');
    const turned = planOn(cylinder(3000), { load, heading: heading.angle });
    expect(Math.abs(turned.load.offPlane)).toBeLessThan(1e-6);
    const leaned = planOn(cylinder(3000), { load, stem: { kind: 'lean', angle: lean.angle } });
    expect(Math.abs(leaned.load.offPlane)).toBeLessThan(1e-6);
    expect(Math.abs(before.load.offPlane)).toBeGreaterThan(1 * RAD);
  });
});

test('planning is a pure function: the same job twice, and after another one, gives the same plan file', () => {
  const job = jobOn(cylinder(2500), { heading: 30 * RAD, stem: { kind: 'plumb' } });
  const first = JSON.stringify(planFile(planJob(job)));
  planJob(jobOn(plane(0.2)));
  expect(JSON.stringify(planFile(planJob(structuredClone(job))))).toBe(first);
});
