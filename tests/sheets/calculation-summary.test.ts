import { describe, expect, test } from 'vitest';
import { cross, dot, type Vec3 } from '../../geometry/math/vec.ts';
import type { Plan } from '../../src/plan/types.ts';
import { calculation } from '../../src/sheets/calculation.ts';
import { curvatureText } from '../../src/sheets/calculation-geometry.ts';
import { summaryRows } from '../../src/sheets/calculation-summary.ts';
import { checkFigures, isAtLeast, printed, printedText, sizeText } from '../../src/sheets/calculation-values.ts';
import { workOf } from '../../src/sheets/calculation-work.ts';
import { type Context, contextsOf } from '../../src/sheets/context.ts';
import { flattened } from '../../src/sheets/drawing.ts';
import { fonts, planOf, sampleJobs } from './plans.ts';

const known = new Map<string, Plan>();
function planned(letter: string): Plan {
  const sample = sampleJobs().find(({ name }) => name.startsWith(`${letter}-`));
  if (sample === undefined) throw new Error(`no sample ${letter}`);
  const plan = known.get(letter) ?? planOf({ ...sample.job, display: 'metric' }, sample.file);
  known.set(letter, plan);
  return plan;
}

const wordsOf = (context: Context): string =>
  calculation(context)
    .pages.flatMap(({ items }) => flattened(items).flatMap((item) => (item.kind === 'text' ? [item.text] : [])))
    .join(' ')
    .replaceAll(/\s+/g, ' ');

describe('the head of the calculation', () => {
  test('a movement that fails by another lug names the lug and what fails, and where its figures stand', async () => {
    const plan = planned('h');
    const failing = (plan.lift?.lugs ?? []).filter(({ checks }) => checks.some(({ check }) => !check.pass));
    expect(failing.map(({ id }) => id)).toEqual(['P', 'S']);
    for (const context of await contextsOf(plan, { fonts })) {
      const words = wordsOf(context);
      expect(words).not.toContain('see below');
      const others = failing.filter(({ id }) => id !== context.id).map(({ id }) => `lug ${id} (Hoist in this line)`);
      expect(words).toContain(`The movement FAILS by ${others.join(' and by ')}: see the lifting plan.`);
    }
  });

  test('what the job does not give is said not to be checked', async () => {
    const sample = sampleJobs().find(({ name }) => name.startsWith('a-'));
    if (sample === undefined) throw new Error('no sample');
    const fittings = (sample.job.fittings as object[]).map((each) => ({
      ...each,
      shackle: undefined,
      hoist: undefined,
    }));
    const [none] = await contextsOf(planOf({ ...sample.job, fittings }, sample.file), { fonts });
    expect(wordsOf(none as Context)).toContain('Not checked, since the job gives none: shackle, hoist.');
    const [slack] = await contextsOf(planned('h'), { fonts });
    expect(wordsOf(slack as Context)).not.toContain('Not checked');
  });

  test('what is asked for at the least says so, and is met where what is there is more', async () => {
    const [context] = (await contextsOf(planned('h'), { fonts })) as [Context];
    const { checks } = context.fitting;
    let least = 0;
    summaryRows(checks, context).forEach(([, asked = '', there = ''], i) => {
      const check = checks[i];
      if (check === undefined || !isAtLeast(check)) return;
      if (check.id === 'weld.electrode') return;
      least++;
      const [a, b] = [/^at least ([\d.]+)/.exec(asked)?.[1], /^here ([\d.]+)/.exec(there)?.[1]];
      expect(Number(a) <= Number(b)).toBe(check.pass);
      expect(checkFigures(check, 'metric').demand).toBe(asked.replace('at least ', ''));
    });
    expect(least).toBe(5);
  });
});

describe('figures', () => {
  test('no angle of round-off, no plate of 31.8 mm (1 1/4 in is 31.75 mm)', () => {
    expect(printedText(printed((3e-6 * Math.PI) / 180, 'rad', 'metric'))).toBe('0.0°');
    expect(printedText(printed((2e-4 * Math.PI) / 180, 'rad', 'metric'))).toBe('0.0002°');
    expect(printedText(printed(1.25 * 25.4, 'mm', 'metric'))).toBe('31.75 mm');
    expect(sizeText(1.25 * 25.4, 'metric')).toBe('31.75 mm');
    expect(sizeText(32, 'metric')).toBe('32.0 mm');
    expect(printedText(printed(100 / 3, 'mm', 'metric'))).toBe('33.3 mm');
  });

  test('a radius that no foot could show has two figures and is never rounded up (1 ft is 304.8 mm)', () => {
    expect(curvatureText(0, 300, 'metric')).toBe('flat');
    expect(curvatureText(1 / 6582.34, 280, 'metric')).toBe('bulging, radius 6582.3 mm');
    expect(curvatureText(-1 / 359_000, 300, 'metric')).toBe('nearly flat, hollow, radius over 350 m');
    expect(curvatureText(1 / (1158.7 * 304.8), 300, 'us')).toBe('nearly flat, bulging, radius over 1100 ft');
  });
});

describe('the movement', () => {
  /*
   * Statics: what the weld brings at every point, with the figures told beside the check, adds up to the pull and to its moment; and at
   * no other point of the root is the line force greater than where the check says the worst point is.
   */
  test('the weld under the worst pull of a movement is told so that it is in balance, at its worst point', async () => {
    let seen = 0;
    for (const letter of ['g', 'h']) {
      const plan = planned(letter);
      for (const context of await contextsOf(plan, { fonts })) {
        const { frame, root, pin } = context.fitting;
        const sweep = plan.lift?.lugs.find(({ id }) => id === context.id);
        const swept = sweep?.checks.find(({ check }) => check.id === 'weld');
        if (swept === undefined) continue;
        seen++;
        const { terms } = workOf(swept.check, context);
        const value = (symbol: string): number =>
          terms.find(({ term }) => term.symbol === symbol)?.term.value ?? Number.NaN;
        const vector = (symbol: string): Vec3 => [value(`${symbol}_A`), value(`${symbol}_B`), value(`${symbol}_C`)];
        const [F, w, p, r] = [vector('F'), vector('w'), vector('p'), vector('r')];
        const L = value('L');
        const lugAxes = (v: Vec3): Vec3 => [dot(v, frame.foot), dot(v, frame.stem), dot(v, frame.face)];
        const point = (list: Float64Array, k: number): Vec3 =>
          lugAxes([list[3 * k] as number, list[3 * k + 1] as number, list[3 * k + 2] as number]);
        const at = lugAxes(pin);
        const from = (x: Vec3): Vec3 => [x[0] - at[0] + p[0], x[1] - at[1] + p[1], x[2] - at[2] + p[2]];
        const line = (arm: Vec3): Vec3 => {
          const turn = cross(w, arm);
          return [F[0] / L + turn[0], F[1] / L + turn[1], F[2] / L + turn[2]];
        };
        const sum = [0, 0, 0];
        const moment = [0, 0, 0];
        root.quadrature.weight.forEach((ds, k) => {
          const arm = from(point(root.quadrature.position, k));
          const q = line(arm);
          const m = cross(arm, q);
          for (const i of [0, 1, 2]) {
            sum[i] = (sum[i] as number) + (q[i] as number) * ds;
            moment[i] = (moment[i] as number) + (m[i] as number) * ds;
          }
        });
        const M = cross(p, F);
        const whole = Math.hypot(...F);
        for (const i of [0, 1, 2]) {
          expect(Math.abs((sum[i] as number) - (F[i] as number))).toBeLessThan(1e-6 * whole);
          expect(Math.abs((moment[i] as number) - (M[i] as number))).toBeLessThan(1e-6 * whole * Math.hypot(...p));
        }
        expect(Math.hypot(...line(r))).toBeCloseTo(swept.check.demand, 6);
        // On a flat shell the line force square to it is greatest where the whole is: one place for both.
        const shear = sweep?.checks.find(({ check }) => check.id === 'shell-punching')?.check;
        expect(shear?.terms.find(({ symbol }) => symbol === 's')?.value).toBe(
          swept.check.terms.find(({ symbol }) => symbol === 's')?.value,
        );
        for (let k = 0; k < root.count; k++) {
          expect(Math.hypot(...line(from(point(root.position, k))))).toBeLessThanOrEqual(
            swept.check.demand * (1 + 1e-6),
          );
        }
      }
    }
    expect(seen).toBeGreaterThanOrEqual(5);
  });

  test('plus and minus across the plate: the side that the line leads to from the pin, in ship axes', async () => {
    const plan = planned('g');
    const { lift } = plan;
    const way = new Map<string, readonly [said: string, leads: string]>();
    for (const context of await contextsOf(plan, { fonts })) {
      if (lift === null || !/^[PS]$/.test(context.id)) continue;
      const said = /Across and out of plane: plus towards the (\w+) side, minus towards the (\w+) side\./.exec(
        wordsOf(context),
      );
      const pulls = lift.lugs.find(({ id }) => id === context.id)?.pulls ?? [];
      const size = (i: number): number => Math.abs(pulls[i]?.sideways ?? 0);
      const step = pulls.reduce((best, _, i) => (size(i) > size(best) ? i : best), 0);
      const rest = lift.states[step]?.rest;
      const k = lift.lines.findIndex(({ fitting }) => fitting === context.id);
      const direction = rest?.found ? rest.equilibrium.lines[k]?.direction : undefined;
      if (direction === undefined) throw new Error('not at rest');
      // Told from the pin to the load; y is to port, so that outboard is + on port and - on starboard.
      const outward = direction[1] * (context.id === 'P' ? 1 : -1);
      way.set(context.id, [said?.[(pulls[step]?.sideways ?? 0) > 0 ? 1 : 2] ?? '', outward > 0 ? 'outboard' : 'keel']);
    }
    expect([...way.keys()]).toEqual(['P', 'S']);
    for (const [said, leads] of way.values()) expect(said).toBe(leads);
  });
});
