import { describe, expect, test } from 'vitest';
import { contextsOf } from '../../src/sheets/context.ts';
import { type Drawing, flattened } from '../../src/sheets/drawing.ts';
import { SHEETS, writeSheets } from '../../src/sheets/index.ts';
import { liftingPlan } from '../../src/sheets/liftingplan.ts';
import { bearers, hoistOrders, lugOver, placesSaid, stepEnds } from '../../src/sheets/liftsteps.ts';
import { fonts, planOf, sampleJobs, wedgeJob } from './plans.ts';

const wordsOf = ({ pages }: Drawing): string =>
  pages.flatMap((page) => flattened(page.items).flatMap((item) => (item.kind === 'text' ? [item.text] : []))).join(' ');

/** Two plumb lines on a flat bottom, alike to port and starboard, and a load of 4 t that is as heavy in water. */
function twoLines(display: 'metric' | 'us') {
  const job = wedgeJob(0, { job: { display } });
  const [port] = job.fittings;
  job.fittings = ['port', 'starboard'].map((side) => ({
    ...port,
    id: side === 'port' ? 'P' : 'S',
    at: { ...port.at, side },
    load: { ...port.load, force: '30 kN' },
  }));
  const pins = planOf(job).fittings.map((fitting) => fitting.pin);
  const at = (k: number, z: number) => [`${pins[k]?.[0]} mm`, `${pins[k]?.[1]} mm`, `${z} mm`];
  job.lift = {
    load: { name: 'grating', mass: '4 t', volume: '0 m3', centre: ['10 m', '0 mm', '-2 m'] },
    lines: [
      { id: 'P', fitting: 'P', to: at(0, -1000) },
      { id: 'S', fitting: 'S', to: at(1, -1000) },
    ],
    steps: [
      { name: 'take the weight', to: ['10 m', '0 m', '-2 m'] },
      { name: 'lower', lower: '1.5 m', parts: 3 },
    ],
  };
  return planOf(job);
}

describe('lifting plan', () => {
  test('two lines alike carry half each and pay out what the load goes down (closed form)', () => {
    const plan = twoLines('metric');
    const { lift } = plan;
    if (lift === null) throw new Error('no movement');
    const ends = stepEnds(lift);
    expect(ends).toEqual([0, 3]);
    const [first, last] = ends.map((end) => lift.states[end] as (typeof lift.states)[number]);
    if (first === undefined || last === undefined) throw new Error('no places');
    expect(bearers(plan, lift, last)).toBe('P 50 %, S 50 %');
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
        const parts = [...bearers(plan, lift, state).matchAll(/ (-?\d+) %/g)].map((match) => Number(match[1]));
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
        if (plan.lift === null) expect(text).toContain('Steps, to be written in');
        for (const step of plan.job.lift?.steps ?? []) expect(text).toContain(step.name.split(' ')[0] as string);
        if (display === 'us') expect(text).not.toMatch(/\d (mm|kN|m)\b/);
      }
    }
  });

  test('its file is made once for a job of several lugs, with the same bytes from each', async () => {
    const plan = twoLines('us');
    const named = (await writeSheets(plan, { fonts })).filter((file) => file.name.includes('lifting-plan'));
    expect(named.map((file) => file.name)).toEqual(['lifting-plan.pdf']);
    const sheet = SHEETS.find((each) => each.ofJob);
    const [p, s] = await Promise.all(plan.fittings.map((fitting) => sheet?.make(plan, fitting, { fonts })));
    expect(Buffer.compare(Buffer.from(p?.[0]?.bytes ?? []), Buffer.from(s?.[0]?.bytes ?? [1]))).toBe(0);
  });

  test('places of the load are not called steps of the job', () => {
    expect(placesSaid('Steps 15 to 18: slack. Worst at step 3 of 9')).toBe(
      'Places 15 to 18: slack. Worst at place 3 of 9',
    );
  });
});
