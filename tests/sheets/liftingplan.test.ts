import { describe, expect, test } from 'vitest';
import { calculation } from '../../src/sheets/calculation.ts';
import { contextsOf } from '../../src/sheets/context.ts';
import { type Drawing, flattened } from '../../src/sheets/drawing.ts';
import { SHEETS, writeSheets } from '../../src/sheets/index.ts';
import { liftingPlan } from '../../src/sheets/liftingplan.ts';
import { plateLoad } from '../../src/sheets/liftlines.ts';
import { bearers, hoistOrders, lugOver, stepEnds, watchFor } from '../../src/sheets/liftsteps.ts';
import { failuresSaid } from '../../src/sheets/liftwork.ts';
import { lifts, twoLines } from './liftjobs.ts';
import { fonts, planOf, sampleJobs } from './plans.ts';

const wordsOf = ({ pages }: Drawing): string =>
  pages.flatMap((page) => flattened(page.items).flatMap((item) => (item.kind === 'text' ? [item.text] : []))).join(' ');

describe('lifting plan', () => {
  test('two lines alike carry half each and pay out what the load goes down (closed form)', () => {
    const plan = planOf(twoLines('metric'));
    const { lift } = plan;
    if (lift === null) throw new Error('no movement');
    const ends = stepEnds(lift);
    expect(ends).toEqual([0, 3]);
    const [first, last] = ends.map((end) => lift.states[end] as (typeof lift.states)[number]);
    if (first === undefined || last === undefined) throw new Error('no steps');
    expect(bearers(plan, lift, last)).toEqual(['P 50 %', 'S 50 %']);
    // Half a per cent of stretch under the whole weight is a quarter under half: 1.5 m / 1.0025 = 1.496 m through the hoist.
    for (const order of hoistOrders(plan, lift, first, last)) expect(order).toMatch(/^[PS]: pay out 1\.496 m, to /);
    // Half of 4000 kg x 9.80665 m/s^2 on each lug.
    for (const fitting of plan.fittings) {
      const { force } = lugOver(plan, lift, fitting);
      for (const value of force.values) expect(value ?? 0).toBeCloseTo(2000 * 9.80665, 0);
    }
  });

  test('parts of the weight add up to all of it wherever a load is at rest: the sum of what the lines hold up is the weight in water', () => {
    for (const { job, file } of sampleJobs()) {
      const plan = planOf(job, file);
      const { lift } = plan;
      if (lift === null) continue;
      for (const state of lift.states) {
        if (!state.rest.found) continue;
        const parts = bearers(plan, lift, state).flatMap((word) => {
          const match = / (-?\d+) %$/.exec(word);
          return match === null ? [] : [Number(match[1])];
        });
        // Each part is rounded to one per cent.
        expect(Math.abs(parts.reduce((sum, part) => sum + part, 0) - 100)).toBeLessThanOrEqual(parts.length / 2);
      }
    }
  });

  test('one of the whole job, the same from every lug, with every step, line, caution and failure in words', async () => {
    for (const { job, file } of sampleJobs()) {
      for (const display of ['metric', 'us'] as const) {
        const plan = planOf({ ...job, display }, file);
        const contexts = await contextsOf(plan, { fonts });
        const [text, ...others] = contexts.map((context) => wordsOf(liftingPlan(context)));
        for (const other of others) expect(other).toBe(text);
        const checks = [
          ...plan.fittings.flatMap((fitting) => fitting.checks),
          ...(plan.lift?.checks ?? []),
          ...(plan.lift?.lugs.flatMap((lug) => lug.checks.map(({ check }) => check)) ?? []),
        ];
        const failing = checks.filter((check) => !check.pass).length;
        expect(text).toContain(failing === 0 ? 'no leave to lift' : `DO NOT LIFT by this plan: ${failing} of`);
        expect(text).toContain('Do not be under the load');
        expect(text).toContain('A planning aid');
        if (plan.lift === null) expect(text).toContain('Order of work, to be written in');
        for (const step of plan.job.lift?.steps ?? []) expect(text).toContain(step.name.split(' ')[0] as string);
        if (display === 'us') expect(text).not.toMatch(/\d (mm|kN|m)\b/);
      }
    }
  });

  test('its file is made once for a job of several lugs, with the same bytes from each', async () => {
    const plan = planOf(twoLines('us'));
    const named = (await writeSheets(plan, { fonts })).filter((file) => file.name.includes('lifting-plan'));
    expect(named.map((file) => file.name)).toEqual(['lifting-plan.pdf']);
    const sheet = SHEETS.find((each) => each.ofJob);
    const [p, s] = await Promise.all(plan.fittings.map((fitting) => sheet?.make(plan, fitting, { fonts })));
    expect(Buffer.compare(Buffer.from(p?.[0]?.bytes ?? []), Buffer.from(s?.[0]?.bytes ?? [1]))).toBe(0);
  });

  test('points of the movement are steps, what people do is the order of work: no other word for either, on any sheet of the lift', async () => {
    for (const { job, file } of [...sampleJobs(), ...lifts('us').map(({ job }) => ({ job, file: () => undefined }))]) {
      if (job.lift === undefined) continue;
      for (const context of await contextsOf(planOf(job, file), { fonts })) {
        for (const make of [liftingPlan, calculation]) {
          const words = wordsOf(make(context));
          const wrong = words.match(
            /\b(places? of the load|at place \d|places? \d+ (of|to)|state \d|pose \d|stage)\b/i,
          );
          expect(wrong?.[0]).toBeUndefined();
          expect(/step \d+/i.test(words)).toBe(true);
        }
      }
    }
  });

  test('what to watch: the most that each line pulls from the step before on, pushes included, and where a line comes taut or goes slack', () => {
    for (const { job, file } of sampleJobs().filter((each) => each.job.lift !== undefined)) {
      const plan = planOf({ ...job, display: 'metric' }, file);
      const { lift } = plan;
      if (lift === null) throw new Error('no movement');
      const ends = stepEnds(lift);
      ends.forEach((end, i) => {
        const from = i === 0 ? 0 : (ends[i - 1] as number) + 1;
        const text = watchFor(plan, lift, from, end).join('\n');
        lift.lines.forEach((line, k) => {
          const said = new RegExp(`\\b${line.id} up to ([\\d.]+) kN`).exec(text);
          for (const { state, equilibrium } of lift.cases) {
            if (state < from || state > end) continue;
            const newton = equilibrium.lines[k]?.tension ?? 0;
            // Printed to three figures.
            if (newton > 0) expect(Number(said?.[1]) * 1000).toBeGreaterThanOrEqual(newton * 0.995 - 5);
          }
        });
      });
    }
    const h = sampleJobs().find(({ name }) => name.startsWith('h-'));
    const plan = planOf(h?.job, h?.file);
    if (plan.lift === null) throw new Error('no movement');
    // The third line is paid out until it hangs slack: the notes of the plan say from step 7 on.
    expect(watchFor(plan, plan.lift, 5, 8)).toContain('F goes slack at step 7');
  });

  test('steps that cannot be done are said once for a row of them, none left out', () => {
    for (const { job } of lifts('metric')) {
      const plan = planOf(job);
      if (plan.lift === null) throw new Error('no movement');
      const said = failuresSaid(plan, plan.lift);
      const steps = said.flatMap((text) => {
        const [, from, to] = /^Steps? (\d+)(?: to (\d+))? CANNOT/.exec(text) ?? [];
        return Array.from({ length: Number(to ?? from) - Number(from) + 1 }, (_, k) => Number(from) + k);
      });
      const failing = plan.lift.states.flatMap((state, i) => (state.failures.length > 0 ? [i + 1] : []));
      expect([...new Set(steps)].sort((p, q) => p - q)).toEqual(failing);
    }
  });

  test('limits as the plate reads: 5 t is 49.03 kN (standard gravity, exact), 2000 lbf is one ton', () => {
    expect(plateLoad(5000 * 9.80665, 'metric')).toBe('5.00 t (49.0 kN)');
    expect(plateLoad(25 * 2000 * 4.4482216152605, 'us')).toBe('25.00 ton (50.0 kip)');
  });
});
