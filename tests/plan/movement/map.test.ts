import { describe, expect, test } from 'vitest';
import { footField } from '../../../geometry/fit/footfield.ts';
import type { Fitting } from '../../../src/job/types.ts';
import { planFitting } from '../../../src/plan/fitting.ts';
import { evenly, placeMap, type Spot, stanceMap } from '../../../src/plan/movement/map.ts';
import type { PullCase } from '../../../src/plan/movement/pulls.ts';
import { chosenGap, scribedGap, straightGap } from '../../../src/plan/movement/quickfit.ts';
import { pullsOf } from '../../../src/plan/movement/stances.ts';
import { planJob, shellOf, upOf } from '../../../src/plan/plan.ts';
import { sample } from './jobs.ts';

const start = (name: string, change?: Parameters<typeof sample>[1]) => {
  const job = sample(name, change);
  const shell = shellOf(job.ship.hull);
  const up = upOf(job.ship);
  const fitting = job.fittings[0] as Fitting;
  const cases = pullsOf(job, shell, up)[0] as PullCase[];
  return { job, shell, up, fitting, cases };
};

/** What stands in the map under names of its own, and the checks of the plan of the weld. */
const LEFT_OUT = /^(?:fit-gap|sideways-share|weld\.)/;

describe('a map of places', () => {
  for (const name of ['e-pulled-sideways', 'd-facets-fit-where-straight-fails', 'f-offsets-from-a-lines-plan']) {
    test(`${name}: what it says at a spot is what planning the lug there says`, () => {
      const { job, shell, up, fitting, cases } = start(name);
      const girth = planJob(job).fittings[0]?.anchor.girth as number;
      const grid = {
        columns: evenly(fitting.at.station - 400, fitting.at.station + 400, 3),
        rows: evenly(girth - 500, girth + 500, 3),
      };
      const spots = [...placeMap(job, fitting, shell, up, cases, grid)].flatMap((batch) => [...batch.spots]);
      expect(spots).toHaveLength(9);
      // Members as the fitting's own field has them, evenly spaced from there: how far the next one abaft or inboard is.
      const beyond = (x: number, one: number, spacing: number) => x - one - spacing * Math.floor((x - one) / spacing);
      const behindThere = (x: number, g: number): Pick<Fitting, 'behind'> => {
        const { fromFrame, fromLongitudinal } = fitting.behind ?? {};
        return {
          behind: {
            ...(fromFrame === undefined
              ? {}
              : { fromFrame: beyond(x, fitting.at.station - fromFrame, job.steel.frameSpacing) }),
            ...(fromLongitudinal === undefined
              ? {}
              : { fromLongitudinal: beyond(g, girth - fromLongitudinal, job.steel.longitudinalSpacing) }),
          },
        };
      };
      let stands = 0;
      for (const { station, girth: g, verdict } of spots) {
        if (verdict.kind !== 'stands') continue;
        stands += 1;
        const at = { station, side: fitting.at.side, by: 'girth' as const, value: g };
        const plan = planFitting(job, { ...fitting, at, ...behindThere(station, g) }, shell, up);
        expect(verdict.bevel).toBeCloseTo(Math.max(plan.bevel.max, -plan.bevel.min), 3);
        expect(verdict.sideways).toBeCloseTo(Math.abs(plan.load.sideways), 3);
        expect(verdict.force).toBeCloseTo(plan.load.force, 3);
        const cut = verdict.cut === 'straight' ? plan.fit.straight.maxGap : plan.fit.scribed.maxGap;
        // Looked at on nodes at most 8 mm apart, to 0.001 mm; what lies between them is left out.
        expect(Math.abs(verdict.gap - Math.min(cut, plan.fit.straight.maxGap))).toBeLessThan(0.01 + 0.02 * cut);
        for (const { id, ratio } of verdict.limits) {
          const check = plan.checks.find((c) => c.id === id);
          if (check === undefined) expect(['gap', 'bevel', 'sideways']).toContain(id);
          else expect(ratio, id).toBeCloseTo(check.ratio, 6);
        }
        // Every check of the plan is in the map, but for those that it says it leaves out and those of the weld's own plan.
        const known = new Set(verdict.limits.map((limit) => limit.id));
        const strength = plan.checks.filter((c) => !LEFT_OUT.test(c.id)).map((c) => c.id);
        expect(strength.filter((id) => !known.has(id))).toEqual([]);
        // Greatest first; whether the shackle goes on is the same everywhere and comes last where it does.
        const idle = verdict.limits.filter((l) => /^shackle-(pin|jaw)$/.test(l.id) && l.ratio <= 1);
        const others = verdict.limits.filter((l) => !idle.includes(l));
        expect(verdict.limits).toEqual([...others.toSorted((p, q) => q.ratio - p.ratio), ...idle]);
      }
      expect(stands).toBeGreaterThan(4);
    }, 60_000);
  }

  test('coarse first, every spot once, and no more than is asked for', () => {
    const { job, shell, up, fitting, cases } = start('a-plumb-lug-rounded-bottom');
    const grid = { columns: evenly(5000, 8000, 21), rows: evenly(500, 4000, 13) };
    const seen = new Map<string, Spot>();
    const strides: number[] = [];
    for (const batch of placeMap(job, fitting, shell, up, cases, grid)) {
      strides.push(batch.stride);
      for (const spot of batch.spots) {
        const key = `${spot.column} ${spot.row}`;
        expect(seen.has(key)).toBe(false);
        seen.set(key, spot);
      }
      expect(batch.done).toBeCloseTo(seen.size / (21 * 13), 12);
    }
    expect(seen.size).toBe(21 * 13);
    expect(strides).toEqual(strides.toSorted((p, q) => q - p));
    expect(strides[0]).toBe(8);
    // Stopped after the first batch: a generator does no work that nobody asks for.
    let worked = 0;
    const counted = cases.map((one) => ({
      ...one,
      get parts() {
        worked += 1;
        return one.parts;
      },
    }));
    for (const batch of placeMap(job, fitting, shell, up, counted, grid)) {
      expect(batch.spots).toHaveLength(6);
      break;
    }
    expect(worked).toBeLessThanOrEqual(6);
  });

  test('spots off the data, in a keep-clear solid or without a stem are said to be so', () => {
    const { job, shell, up, fitting, cases } = start('g-rudder-walked-aft', (raw) => {
      raw.lift.keepClear = [
        { name: 'a pipe', from: ['2 m', '1.2 m', '4.6 m'], to: ['4 m', '1.2 m', '4.6 m'], radius: '150 mm' },
      ];
    });
    const grid = { columns: [2500], rows: [1200, 50_000] };
    const spots = [...placeMap(job, fitting, shell, up, cases, grid)].flatMap((batch) => [...batch.spots]);
    const at = (row: number) => spots.find((s) => s.row === row)?.verdict;
    expect(at(0)).toEqual({ kind: 'cannot', why: 'keep-clear' });
    expect(at(1)).toEqual({ kind: 'cannot', why: 'off-the-data' });
  });
});

test('a map of headings and leans: a pull square to the shell takes any heading, and none with much lean', () => {
  const { job, shell, up, fitting } = start('a-plumb-lug-rounded-bottom');
  const anchor = planJob(job).fittings[0]?.anchor;
  if (!anchor) throw new Error('no anchor');
  const cases: PullCase[] = [{ state: 0, push: null, parts: [{ direction: anchor.normal, force: 30e3 }] }];
  const grid = { columns: evenly(-1.5, 1.5, 5), rows: [-0.35, 0, 0.35] };
  for (const { spots } of stanceMap(job, fitting, shell, up, cases, grid)) {
    for (const { row, verdict } of spots) {
      if (verdict.kind !== 'stands') throw new Error(verdict.why);
      // Sideways is the pull times the sine of the lean.
      expect(verdict.sideways).toBeCloseTo(30e3 * Math.abs(Math.sin(grid.rows[row] as number)), 3);
      expect(verdict.limits.find((limit) => limit.id === 'sideways')?.ratio ?? 0).toBeCloseTo(
        Math.abs(Math.sin(grid.rows[row] as number)) / job.limits.sidewaysShare,
        6,
      );
    }
  }
});

test('the quick gaps are those of the cuts, to what lies between the nodes', () => {
  for (const name of ['b-athwartships-on-the-bilge', 'd-facets-fit-where-straight-fails', 'e-pulled-sideways']) {
    const { job, shell } = start(name);
    const plan = planJob(job).fittings[0];
    if (!plan) throw new Error('no fitting');
    const field = footField(shell, plan.frame, plan.input.lug.foot, plan.input.lug.thickness);
    const { straight, scribed } = plan.fit;
    expect(Math.abs(straightGap(field) - straight.maxGap)).toBeLessThan(0.005 + 0.01 * straight.maxGap);
    expect(Math.abs(scribedGap(field) - scribed.maxGap)).toBeLessThan(0.005 + 0.01 * scribed.maxGap);
    const chosen = plan.fit[plan.fit.chosen].maxGap;
    expect(Math.abs(chosenGap(field, shell, plan.input.cut, job.limits.fitGap) - chosen)).toBeLessThan(0.02);
  }
});
