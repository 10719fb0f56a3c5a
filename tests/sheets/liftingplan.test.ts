import { describe, expect, test } from 'vitest';
import type { LiftPlan } from '../../src/plan/movement/types.ts';
import type { Plan } from '../../src/plan/types.ts';
import { NO_TURN, placeOf, turnFurther } from '../../src/rigging/pose.ts';
import { calculation } from '../../src/sheets/calculation.ts';
import { contextsOf } from '../../src/sheets/context.ts';
import { type Drawing, flattened } from '../../src/sheets/drawing.ts';
import { SHEETS, writeSheets } from '../../src/sheets/index.ts';
import { keepTaut, liftingPlan } from '../../src/sheets/liftingplan.ts';
import { plateLoad } from '../../src/sheets/liftlines.ts';
import { bearers, hoistOrders, lugOver, stepEnds, watchFor } from '../../src/sheets/liftsteps.ts';
import { turnOf, turnsSaid } from '../../src/sheets/liftturns.ts';
import { foundText, hoistLength } from '../../src/sheets/liftunits.ts';
import { waySaid } from '../../src/sheets/liftway.ts';
import { failuresSaid, pushesSaid } from '../../src/sheets/liftwork.ts';
import { lifts, twoLines } from './liftjobs.ts';
import { fonts, planOf, sampleJobs } from './plans.ts';

/** A length as printed, in marks of the tape: whole mm, or 1/32 in. `1.199 m`, `905 mm`, `5 ft 3 1/32 in`, `19 ft`, `15/32 in`. */
function marksIn(text: string): number {
  const metric = /^(\d+(?:\.\d+)?) (mm|m)$/.exec(text);
  if (metric !== null) return Math.round(Number(metric[1]) * (metric[2] === 'm' ? 1000 : 1));
  const [all, feet, whole, above, below] =
    /^(?:(\d+) ft)? ?(?:(?:(\d+)(?: |$))?(?:(\d+)\/(\d+) )?in)?$/.exec(text) ?? [];
  if (all === undefined || all === '') throw new Error(`no length: ${text}`);
  if (below !== undefined && 32 % Number(below) !== 0) throw new Error(`no mark of a tape: ${text}`);
  return Number(feet ?? 0) * 384 + Number(whole ?? 0) * 32 + (32 * Number(above ?? 0)) / Number(below ?? 1);
}

const LENGTH = String.raw`(?:\d+ ft(?: (?:\d+ )?(?:\d+\/\d+ )?in)?|(?:\d+ )?(?:\d+\/\d+ )?in|\d+(?:\.\d+)? mm?)`;

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
    expect(bearers(plan, lift, last)).toEqual(['P 50.0 %', 'S 50.0 %']);
    // Half a per cent of stretch under the whole weight is a quarter under half: 1.5 m / 1.0025 = 1.496 m through the hoist.
    for (const order of hoistOrders(plan, lift, first, last)) expect(order).toMatch(/^[PS]: pay out 1\.496 m, to /);
    // Half of 4000 kg x 9.80665 m/s^2 on each lug.
    for (const fitting of plan.fittings) {
      const { force } = lugOver(plan, lift, fitting);
      for (const value of force.values) expect(value ?? 0).toBeCloseTo(2000 * 9.80665, 0);
    }
  });

  test('where several hoists work from step to step, every length on the way is told; two lines alike pay out equal parts (closed form)', async () => {
    const plan = planOf(twoLines('metric'));
    const [context] = await contextsOf(plan, { fonts });
    if (context === undefined || plan.lift === null) throw new Error('no movement');
    const text = wordsOf(liftingPlan(context));
    expect(text).toContain('Lengths step by step');
    // 1.496 m in all, see above, in three equal steps.
    const lengths = plan.lift.states.map((state) => state.lengths[0] as number);
    for (const [from, to] of [0, 1, 2].map((k) => [lengths[k], lengths[k + 1]] as [number, number]))
      expect(Math.abs(to - from - 1500 / 1.0025 / 3)).toBeLessThan(0.5);
    for (const mm of lengths) expect(text).toContain(hoistLength(mm, 'metric'));
    expect(text.split('together, step by step').length - 1).toBe(1);
  });

  test('parts of the weight add up to all of it wherever a load is at rest: the sum of what the lines hold up is the weight in water', () => {
    for (const { job, file } of sampleJobs()) {
      const plan = planOf(job, file);
      const { lift } = plan;
      if (lift === null) continue;
      for (const state of lift.states) {
        if (!state.rest.found) continue;
        const parts = bearers(plan, lift, state).flatMap((word) => {
          const match = / (-?\d+(?:\.\d)?) %$/.exec(word);
          return match === null ? [] : [Number(match[1])];
        });
        expect(parts.reduce((sum, part) => sum + part, 0)).toBeCloseTo(100, 6);
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
        expect(text).toContain(failing === 0 ? 'no leave to lift' : `NOT TO BE LIFTED by this plan: ${failing} of`);
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

  test('a length as printed is read back as it is meant', () => {
    expect(['1.199 m', '905 mm', '19 ft', '5 ft 3 1/32 in', '1 5/32 in', '15/32 in', '6 in'].map(marksIn)).toEqual([
      1199, 905, 7296, 2017, 37, 15, 192,
    ]);
    expect(() => marksIn('1 1/33 in')).toThrow();
    expect(() => marksIn('m')).toThrow();
  });

  test('lengths paid out and hauled in, as printed, lead from length to length as printed, to the mark on the tape', () => {
    for (const display of ['metric', 'us'] as const) {
      const jobs = [
        ...sampleJobs().filter((each) => each.job.lift !== undefined),
        ...lifts(display).map((each) => ({ ...each, file: () => undefined })),
      ];
      let sums = 0;
      for (const { job, file } of jobs) {
        const plan = planOf({ ...job, display }, file);
        const { lift } = plan;
        if (lift === null) throw new Error('no movement');
        const at = new Map<string, number>();
        stepEnds(lift).forEach((end, i, ends) => {
          const before = i === 0 ? undefined : lift.states[ends[i - 1] as number];
          for (const order of hoistOrders(plan, lift, before, lift.states[end] as (typeof lift.states)[number])) {
            const [, id, what] = /^(.*): (.*)$/.exec(order) as unknown as [string, string, string];
            if (what === 'take it off') {
              at.delete(id);
              continue;
            }
            const moved = /^(pay out|haul in) (.*), to (.*)$/.exec(what);
            if (moved !== null) {
              const by = marksIn(moved[2] as string);
              expect((at.get(id) ?? Number.NaN) + (moved[1] === 'pay out' ? by : -by)).toBe(
                marksIn(moved[3] as string),
              );
              sums += 1;
            }
            const said = /^(?:hook on, set to|hook on at .*, haul in to|stays at|.*, to) (.*)$/.exec(what)?.[1] ?? '';
            if (what.startsWith('stays')) expect(marksIn(said)).toBe(at.get(id));
            at.set(id, marksIn(said));
          }
        });
        // Where the last item leaves each line is where the movement does, to half a mark.
        const last = lift.states.at(-1);
        lift.lines.forEach((line, k) => {
          const mm = last?.lengths[k] ?? Number.POSITIVE_INFINITY;
          if (Number.isFinite(mm))
            expect(Math.abs((at.get(line.id) ?? 0) - mm / (display === 'metric' ? 1 : 25.4 / 32))).toBeLessThanOrEqual(
              0.5001,
            );
        });
      }
      expect(sums).toBeGreaterThan(10);
    }
  });

  test('a line is hooked on as long as the load then hangs from its pin, and hauled in from there', () => {
    const i = sampleJobs().find(({ name }) => name.startsWith('i-'));
    if (i === undefined) throw new Error('no sample i');
    const plan = planOf({ ...i.job, display: 'metric' }, i.file);
    const { lift } = plan;
    if (lift === null) throw new Error('no movement');
    const [, aft, out] = lift.lines.map(({ pin, attachment }) =>
      Math.hypot(...pin.map((p, k) => p - attachment[k as 0])),
    );
    const orders = stepEnds(lift).flatMap((end, n, ends) =>
      hoistOrders(plan, lift, n === 0 ? undefined : lift.states[ends[n - 1] as number], lift.states[end] as never),
    );
    // Before both, the load hangs plumb from the hoist, where it is drawn but for what the hoist stretches and swings: 18 ft and 5 ft 6 in, 20 ft and 8 ft 6 in, by Pythagoras.
    for (const [id, from, at] of [
      ['aft', aft, Math.hypot(18, 5.5) * 304.8],
      ['out', out, Math.hypot(20, 8.5) * 304.8],
    ] as const) {
      expect(from).toBeCloseTo(at, 3);
      const said = Number(
        orders.map((o) => new RegExp(`^${id}: hook on at (.*) m, haul in to`).exec(o)?.[1]).find(Boolean),
      );
      expect(Math.abs((said * 1000) / at - 1)).toBeLessThan(0.005);
    }
    expect(orders[0]).toMatch(/^hoist: hook on, set to/);
  });

  test('every order to a hoist stands on the sheet, and the reach printed lies within the reach of the hoist, by less than a mark', async () => {
    for (const display of ['metric', 'us'] as const) {
      for (const [shortest, longest] of [
        [450.4, 5999.6],
        [451.6, 6000.4],
        [12.3, 2540],
      ] as const) {
        const job = twoLines(display);
        for (const line of job.lift.lines)
          Object.assign(line, { shortest: `${shortest} mm`, longest: `${longest} mm` });
        const plan = planOf(job);
        const { lift } = plan;
        if (lift === null) throw new Error('no movement');
        const context = (await contextsOf(plan, { fonts }))[0];
        if (context === undefined) throw new Error('no lug');
        const text = wordsOf(liftingPlan(context));
        for (const order of hoistOrders(plan, lift, lift.states[0], lift.states[3] as (typeof lift.states)[number]))
          expect(text).toContain(order);
        const said = [...text.matchAll(new RegExp(`lug [PS] (${LENGTH}) to (${LENGTH}) `, 'g'))];
        expect(said.length).toBe(2);
        const mark = display === 'metric' ? 1 : 25.4 / 32;
        for (const [, least = '', most = ''] of said) {
          expect(marksIn(least) * mark).toBeGreaterThanOrEqual(shortest - 1e-6);
          expect(marksIn(least) * mark).toBeLessThan(shortest + mark);
          expect(marksIn(most) * mark).toBeLessThanOrEqual(longest + 1e-6);
          expect(marksIn(most) * mark).toBeGreaterThan(longest - mark);
        }
      }
    }
  });

  test('a hoist that is too small only while a line beside it hangs slack: that line kept taut is named as a way out, else not', async () => {
    const h = sampleJobs().find(({ name }) => name.startsWith('h-'));
    const plan = planOf(h?.job, h?.file);
    const { lift } = plan;
    if (lift === null) throw new Error('no movement');
    const context = (await contextsOf(plan, { fonts }))[0];
    if (context === undefined) throw new Error('no lug');
    expect(wordsOf(liftingPlan(context))).toContain('add a line, or do not let line F go slack.');
    const failing = (of: NonNullable<Plan['lift']>) =>
      of.lugs.flatMap(({ id, checks }) =>
        checks.filter(({ check }) => check.id === 'hoist-wll' && !check.pass).map((swept) => ({ id, swept })),
      );
    // Three lines that pull share the weight so that no hoist is past its limit: read off the balance of the step before.
    for (const { id, swept } of failing(lift)) {
      const k = lift.lines.findIndex((line) => line.fitting === id);
      const wll = plan.fittings.find((each) => each.id === id)?.input.hoist?.wll ?? 0;
      const { rest } = lift.states[swept.state - 1] as (typeof lift.states)[number];
      if (!rest.found) throw new Error('not at rest');
      expect(rest.equilibrium.lines.every(({ tension }) => tension > 0)).toBe(true);
      expect(rest.equilibrium.lines[k]?.tension).toBeLessThan(wll);
    }
    // Past its limit while all lines pull too: no help in that.
    const small = structuredClone(h?.job);
    for (const fitting of small.fittings) fitting.hoist = { wll: '1 t' };
    const weak = planOf(small, h?.file).lift;
    if (weak === null) throw new Error('no movement');
    expect(failing(weak).length).toBeGreaterThan(1);
    for (const { id, swept } of failing(weak)) expect(keepTaut(weak, id, swept)).toBe('');
    // Two lines that both pull: none is slack.
    const two = twoLines('metric');
    for (const fitting of two.fittings) fitting.hoist = { wll: '1 t' };
    const both = planOf(two).lift;
    if (both === null) throw new Error('no movement');
    expect(failing(both).length).toBe(2);
    for (const { id, swept } of failing(both)) expect(keepTaut(both, id, swept)).toBe('');
  });

  test('who ticks off signs on the same page, no page holds cautions and signatures only, and no field of the file is named', async () => {
    const jobs = [...sampleJobs(), ...lifts('metric').map((each) => ({ ...each, file: () => undefined }))];
    for (const { job, file } of jobs) {
      for (const [display, paper] of [
        ['metric', 'a4'],
        ['us', 'letter'],
      ] as const) {
        const context = (await contextsOf(planOf({ ...job, display }, file), { fonts, paper }))[0];
        if (context === undefined) throw new Error('no lug');
        const drawing = liftingPlan(context);
        const pages = drawing.pages.map((page) => wordsOf({ ...drawing, pages: [page] }));
        const signed = pages.filter((text) => text.includes('in charge of the lift date'));
        expect(signed.length).toBe(1);
        for (const part of ['Before the weight is taken', 'Divers clear:', 'dive supervisor', 'engineer'])
          expect(signed[0]).toContain(part);
        expect(pages.at(-1)).toBe(signed[0]);
        expect(pages.join(' ')).not.toMatch(/\[\]\.|\b(fittings?|lift|load|ship|limits|welding)\.[a-z]/);
      }
    }
  });

  /** A movement that is nothing but the turns given, deg about plumb and then a lean about the ship's length; null: as before, and free. */
  const turning = (plan: Plan, turns: readonly (number | null)[], lean = 0): LiftPlan => {
    const { lift } = plan;
    const state = lift?.states[0];
    if (lift === null || state === undefined || !state.rest.found) throw new Error('no movement');
    const { rest } = state;
    const { equilibrium } = rest;
    let held = 0;
    return {
      ...lift,
      states: turns.map((deg, step): LiftPlan['states'][number] => {
        held = deg ?? held;
        const about = plan.up.map((x) => (x * held * Math.PI) / 180) as [number, number, number];
        const turn = turnFurther(turnFurther(NO_TURN, about), [(lean * Math.PI) / 180, 0, 0]);
        const stability = { ...equilibrium.stability, kind: deg === null ? ('neutral' as const) : ('stable' as const) };
        const pose = { ...equilibrium.pose, turn };
        return { ...state, step, rest: { ...rest, equilibrium: { ...equilibrium, pose, stability } } };
      }),
    };
  };

  test('which way the load goes is told from the end of the item before, level and plumb apart (plain geometry)', () => {
    for (const display of ['metric', 'us'] as const) {
      const plan = planOf(twoLines(display));
      const { lift } = plan;
      const state = lift?.states[0];
      if (lift === null || state === undefined || !state.rest.found) throw new Error('no movement');
      const { rest } = state;
      const { equilibrium } = rest;
      const at = ([along, across, up]: readonly [number, number, number], free = false): LiftPlan['states'][number] => {
        const drawn = lift.load.centre;
        // Level ways of a ship that floats upright; one that trims has its own up.
        const centre = plan.up.map((x, i) => (drawn[i] as number) + x * up) as [number, number, number];
        centre[0] += along;
        centre[1] += across;
        const stability = { ...equilibrium.stability, kind: free ? ('neutral' as const) : ('stable' as const) };
        const pose = { ...equilibrium.pose, centre };
        return { ...state, rest: { ...rest, equilibrium: { ...equilibrium, pose, stability } } };
      };
      const states = [
        at([0, 0, 0]),
        at([0, 0, -1600]),
        at([-305, 12, -1600]),
        at([-305, 12, -1600]),
        at([0, 30, 0], true),
      ];
      const way = (from: number, to: number) => waySaid(plan, { ...lift, states }, from, to);
      const us = display === 'us';
      expect(way(0, 0)).toEqual([]);
      expect(way(1, 1)).toEqual([us ? 'load goes 5 ft 3 in down' : 'load goes 1.600 m down']);
      expect(way(2, 2)).toEqual([us ? 'load goes 1 ft aft' : 'load goes 305 mm aft']);
      expect(way(3, 3)).toEqual([]);
      expect(way(4, 4)[0]).toMatch(/^load goes about .* forward, .* up$/);
      // All of it in one step of two.
      expect(way(2, 3)).toEqual([us ? 'load goes 1 ft aft, at step 3' : 'load goes 305 mm aft, at step 3']);
      // From the drawing on, two items in one.
      expect(way(0, 2)[0]).toMatch(
        us ? /^load goes 1 ft aft, 5 ft 3 in down$/ : /^load goes 305 mm aft, 1\.600 m down$/,
      );
    }
  });

  test('a turn about plumb is told as it begins, goes on and goes back, anticlockwise where port goes aft (closed form)', () => {
    const plan = planOf(twoLines('metric'));
    const said = (turns: readonly (number | null)[], from: number, to: number): string[] =>
      turnsSaid(plan, turning(plan, turns), from, to);
    expect(said([0, 0.4, 1], 0, 2)).toEqual([]);
    expect(said([0, 20, 49], 0, 2)).toEqual(['load turns to 49° anticlockwise by step 3']);
    expect(said([0, 20, 49, 49, 49], 3, 4)).toEqual([]);
    expect(said([0, -20, -49, -30], 0, 3)).toEqual([
      'load turns to 49° clockwise by step 3',
      'load turns back to 30° clockwise by step 4',
    ]);
    expect(said([0, 30, 0], 2, 2)).toEqual(['load turns back to how it is drawn by step 3']);
    expect(said([0, 10, -10], 2, 2)).toEqual(['load turns to 10° clockwise by step 3']);
    // Slowly, a degree at a time, in two items.
    expect(said([0, 1, 2, 3, 4, 5, 6], 0, 3)).toEqual(['load turns to 3° anticlockwise by step 4']);
    expect(said([0, 1, 2, 3, 4, 5, 6], 4, 6)).toEqual(['load turns to 6° anticlockwise by step 7']);
    // The shorter way round, on past half a turn.
    expect(said([0, 90, 170, -170], 0, 3)).toEqual(['load turns to 190° anticlockwise by step 4']);
    // Free from the fourth on, then held again.
    expect(said([0, 30, 50, null, null, 12], 0, 5)).toEqual([
      'load turns to 50° anticlockwise by step 3',
      'load turns back to 12° anticlockwise by step 6',
    ]);
    // Anticlockwise from above: what was to port (y) comes aft (-x). A lean besides changes nothing of it.
    for (const lean of [0, 5, 35]) {
      const state = turning(plan, [49], lean).states[0] as LiftPlan['states'][number];
      expect(((turnOf(plan, state) ?? Number.NaN) * 180) / Math.PI).toBeCloseTo(49, 9);
    }
  });

  test('a load walked to a line beside it is turned by so much as its ends on the lines say, told in the order of work and at its picture', async () => {
    const g = sampleJobs().find(({ name }) => name.startsWith('g-'));
    const plan = planOf(g?.job, g?.file);
    const { lift } = plan;
    const context = (await contextsOf(plan, { fonts }))[0];
    const state = lift?.states[13];
    if (lift === null || context === undefined || !state?.rest.found) throw new Error('no movement');
    // By hand: from the end of line S to that of line P, drawn and as it hangs, seen from above.
    const [p, s] = ['P', 'S'].map((id) => lift.lines.findIndex((line) => line.id === id));
    const { pose } = state.rest.equilibrium;
    const along = (at: (k: number) => readonly number[]): number => {
      const [from, to] = [at(s as number), at(p as number)];
      return Math.atan2((to[1] as number) - (from[1] as number), (to[0] as number) - (from[0] as number));
    };
    const drawn = (k: number) => lift.lines[k]?.attachment ?? [0, 0, 0];
    const hangs = (k: number) => placeOf(pose, lift.load.centre, drawn(k) as [number, number, number]);
    const deg = ((along(hangs) - along(drawn)) * 180) / Math.PI;
    const text = wordsOf(liftingPlan(context));
    // Its lean of 6 degrees foreshortens what is seen from above by no more than half a degree.
    const told = Number(/load turns to (\d+)° anticlockwise by step 14/.exec(text.replaceAll('\n', ' '))?.[1]);
    expect(Math.abs(told - deg)).toBeLessThan(1);
    expect(text).toContain(`turned ${told}° anticlockwise, seen from above`);
    expect(text).toContain('load turns back to about');
    expect(pushesSaid(plan, lift).join(' ')).toMatch(/turns it about \d+° there: nothing keeps it/);
  });

  test('one unit of force on a sheet, and a foot or more in feet and inches', async () => {
    for (const { job, file } of sampleJobs().filter((each) => each.job.lift !== undefined)) {
      const plan = planOf({ ...job, display: 'us' }, file);
      const context = (await contextsOf(plan, { fonts }))[0];
      if (context === undefined) throw new Error('no lug');
      // Pushes are a hand's force and stand in their own.
      const text = wordsOf(liftingPlan(context)).replaceAll(/”, \d+ lbf:/g, '');
      expect(/\d kip\b/.test(text) && /\d lbf\b/.test(text)).toBe(false);
      for (const [all, whole] of text.matchAll(/(?<![\d/.])(\d+) (?:\d+\/\d+ )?in\b/g))
        expect(Number(whole), all).toBeLessThan(12);
    }
    expect([304.8, 304.7, 300, 25.4 * 30.625, -914.4].map((mm) => hoistLength(mm, 'us'))).toEqual([
      '1 ft',
      '1 ft',
      '11 13/16 in',
      '2 ft 6 5/8 in',
      '-3 ft',
    ]);
  });

  test('a limit is said for what it is: a most, or a least', () => {
    const plan = planOf(twoLines('metric'));
    expect(foundText(plan, { id: 'hoist-wll', demand: 32642, limit: 31381, unit: 'N' })).toBe(
      '32.6 kN, at most 31.4 kN',
    );
    expect(foundText(plan, { id: 'hoist-wll', demand: 31390, limit: 31381, unit: 'N' })).toBe(
      '31.39 kN, at most 31.38 kN',
    );
    expect(foundText(plan, { id: 'keep-clear', demand: 50, limit: 31, unit: 'mm' })).toBe(
      '31.0 mm, wanted at least 50.0 mm',
    );
  });
});
