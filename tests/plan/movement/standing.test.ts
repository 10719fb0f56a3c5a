import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { describe, expect, test } from 'vitest';
import { frameAt } from '../../../geometry/align/stem.ts';
import { toShip } from '../../../geometry/lug/frame.ts';
import { unlessRefused } from '../../../geometry/refusal.ts';
import type { Structure } from '../../../src/job/structuretypes.ts';
import type { Fitting, Job } from '../../../src/job/types.ts';
import { planFitting } from '../../../src/plan/fitting.ts';
import {
  bestStanceOf,
  bestStanceSteps,
  placeGridOf,
  placeMapOf,
  stanceGridOf,
  stanceMapOf,
} from '../../../src/plan/movement/ask.ts';
import type { SpotVerdict } from '../../../src/plan/movement/map.ts';
import { type PullCase, worstOf } from '../../../src/plan/movement/pulls.ts';
import { bestStance, stanceNow } from '../../../src/plan/movement/stance.ts';
import { pullsOf } from '../../../src/plan/movement/stances.ts';
import type { StanceResult } from '../../../src/plan/movement/stancetypes.ts';
import { planJob, shellOf, upOf } from '../../../src/plan/plan.ts';
import { flatJob, type OnFlat } from '../flatbottom.ts';
import { sample } from './jobs.ts';

const SEED = 20_260_317;
const LEG = 12;

function stanceOn(of: OnFlat, freedom: { girth?: number; station?: number }): StanceResult & { found: true } {
  const out = bestStanceOf({ job: flatJob(of) }, ['P1'], { heading: false, lean: false, ...freedom });
  const result = out.lugs[0]?.result;
  if (!result?.found) throw new Error('nothing found');
  return result;
}

describe('on a flat bottom, by plain geometry', () => {
  // The pull goes to a point below girth 2500: with the foot along the ship only the distance across from there acts sideways.
  const toward = [6000, 2500, -5000] as const;

  test('nothing in the way: right above the load', () => {
    const { best, stops } = stanceOn({ toward }, { girth: 800 });
    // Stances are told apart by a share of 2e-4 of the pull: as much across in 5 m of line is a millimetre.
    expect(Math.abs(best.girth - 2500)).toBeLessThan(2e-4 * 5220);
    expect(stops).toBe('in-plane');
  });

  test('a zone right above the load: as near to it as zone, weld and half a plate leave room, and the zone is named', () => {
    const radius = 140;
    const zone = { name: 'echo sounder', from: { station: 6000, girth: 2500 }, radius };
    const { best, stops, reason } = stanceOn({ toward, structure: { keepClear: [zone] } }, { girth: 800 });
    expect(Math.abs(best.girth - 2500)).toBeCloseTo(radius + LEG + 15, 0);
    expect(stops).toBe('limit');
    expect(reason.join('')).toContain('echo sounder');
  });

  test('a lug that stands in a zone gets out of it, though it takes more sideways there', () => {
    const zone = { name: 'zinc', from: { station: 6000, girth: 2500 }, radius: 140 };
    const fitting = { at: { station: 6000, side: 'port', by: 'girth', value: 2500 } } as const;
    const { best, before, stands } = stanceOn({ toward, fitting, structure: { keepClear: [zone] } }, { girth: 800 });
    expect(stands).toBe(false);
    expect(best.sideways).toBeGreaterThan(before.sideways);
    expect(Math.abs(best.girth - 2500)).toBeCloseTo(140 + LEG + 15, 0);
  });

  test('a foot across the ship that is to stand over a frame: the nearer frame, with its edge just on it', () => {
    const frames = [5300, 5800, 6400].map((station, i) => ({ name: `${i}`, station }));
    const { best, stops, reason } = stanceOn(
      { toward: [6050, 2000, -5000], structure: { frames }, fitting: { over: 'frame', heading: Math.PI / 2 } },
      { station: 700 },
    );
    expect(best.station).toBeCloseTo(5800 + 15, 0);
    expect(stops).toBe('limit');
    expect(reason.join('')).toContain('frame');
  });

  test('a seam right above the load: the room that the job asks for lies between it and the toe', () => {
    const seams = [{ name: 'K', from: { station: 4000, girth: 2500 }, to: { station: 8000, girth: 2500 } }];
    const { best } = stanceOn({ toward, seamClear: 60, structure: { seams } }, { girth: 800 });
    expect(Math.abs(best.girth - 2500)).toBeCloseTo(60 + LEG + 15, 0);
  });

  test('nowhere within reach: said, with no stance', () => {
    const zone = { name: 'all of it', from: { station: 6000, girth: 2000 }, radius: 2500 };
    const out = bestStanceOf({ job: flatJob({ structure: { keepClear: [zone] } }) }, ['P1'], {
      heading: true,
      lean: true,
      girth: 300,
      station: 300,
    });
    expect(out.lugs[0]?.result.found).toBe(false);
  });
});

/** Checks of a plan that a stance is looked for within. */
const WITHIN = new Set(['fit-gap', 'keep-clear', 'seam-clear', 'over-member']);

describe('ten random jobs: the best heading and place against every one of a fine grid, each planned in full', () => {
  const random = xoroshiro128plus(SEED);
  const between = (lo: number, hi: number): number => lo + ((random.next() >>> 0) / 2 ** 32) * (hi - lo);
  const HULLS = ['a-plumb-lug-rounded-bottom', 'f-offsets-from-a-lines-plan'] as const;
  const REACH = 320;

  const drawn = Array.from({ length: 10 }, (__, k) => {
    const base = sample(HULLS[k % 2] as string);
    const shell = shellOf(base.ship.hull);
    const own = base.fittings[0] as Fitting;
    const station = own.at.station;
    const girth = own.at.by === 'girth' ? own.at.value : shell.girthAt(station, own.at.by, own.at.value, own.at.side);
    const spot = () => ({ station: station + between(-350, 350), girth: girth + between(-350, 350) });
    const structure: Structure = {
      frames: [station - 700, station - 120 + between(0, 240), station + 560].map((x, i) => ({
        name: `${i}`,
        station: x,
      })),
      longitudinals: [],
      seams: k % 3 === 0 ? [{ name: 'seam', from: spot(), to: spot() }] : [],
      keepClear: [
        { name: 'one', from: spot(), radius: between(60, 180) },
        ...(k % 2 === 0 ? [] : [{ name: 'two', from: spot(), to: spot(), radius: between(30, 90) }]),
      ],
    };
    const { behind: _, ...bare } = own;
    const fitting: Fitting = {
      ...bare,
      at: { station, side: own.at.side, by: 'girth', value: girth },
      stem: { kind: 'normal' },
      ...(k % 4 === 1 ? { over: 'frame' as const } : {}),
    };
    const job: Job = {
      ...base,
      ship: { ...base.ship, structure },
      limits: { ...base.limits, seamClear: between(20, 60) },
      fittings: [fitting],
    };
    const at = shell.pointAt(station, girth, own.at.side).position;
    const cases: PullCase[] = Array.from({ length: 1 + (k % 4) }, (_, state) => ({
      state,
      push: null,
      parts: [
        {
          toward: [at[0] + between(-900, 900), at[1] + between(-700, 700), at[2] - between(1500, 4000)],
          force: between(2e4, 9e4),
        },
      ],
    }));
    return { job, fitting, cases, shell, station, girth };
  });

  drawn.forEach(({ job, fitting, cases, shell, station, girth }, k) => {
    test(`job ${k + 1} of seed ${SEED}: ${cases.length} pulls, ${job.ship.structure?.keepClear.length} zones${fitting.over === undefined ? '' : ', over a frame'}`, () => {
      const up = upOf(job.ship);
      const lawful = (of: Fitting): boolean => {
        const plan = planFitting(job, of, shell, up);
        return (
          Math.max(plan.bevel.max, -plan.bevel.min) <= job.limits.bevel + 1e-9 &&
          plan.checks.every((check) => !WITHIN.has(check.id) || check.pass)
        );
      };
      const freedom = { heading: true, lean: false, girth: REACH, station: REACH };
      const result = bestStance(job, fitting, shell, up, cases, freedom);
      if (!result.found) throw new Error(result.reason.join(''));
      expect(lawful(result.best.fitting)).toBe(true);
      const worst = worstOf(cases);
      let greatest = 0;
      const better: { readonly sideways: number; readonly fitting: Fitting }[] = [];
      for (let i = -8; i <= 8; i++) {
        for (let j = -8; j <= 8; j++) {
          const x = station + (REACH / 8) * i;
          const g = girth + (REACH / 8) * j;
          const place = shell.pointAt(x, g, fitting.at.side);
          for (let h = -90; h < 90; h += 6) {
            const heading = (h * Math.PI) / 180;
            const frame = unlessRefused(() =>
              frameAt(place, heading, fitting.stem, fitting.load, up, job.limits.stemToShell),
            );
            if (frame === undefined) continue;
            const pull = worst(toShip(frame, 0, fitting.lug.pinHeight, 0), frame.face);
            greatest = Math.max(greatest, pull.greatest);
            const at = { station: x, side: fitting.at.side, by: 'girth' as const, value: g };
            better.push({ sideways: pull.sideways, fitting: { ...fitting, at, heading } });
          }
        }
      }
      // What is better by more than stances are told apart by must break a limit; the anchor in a zone does, whatever else.
      const inZone = ({ at }: Fitting): boolean =>
        (job.ship.structure?.keepClear ?? []).some(
          ({ from, to, radius }) =>
            to === undefined && Math.hypot(at.station - from.station, at.value - from.girth) < radius,
        );
      const rivals = better.filter((b) => b.sideways < result.best.sideways - 1e-3 * greatest && !inZone(b.fitting));
      // The nearest rivals by count, spread over all of them: planning every one of thousands would say no more.
      const step = Math.max(1, Math.floor(rivals.length / 60));
      const beaten = rivals
        .toSorted((p, q) => p.sideways - q.sideways)
        .filter((_, i) => i % step === 0)
        .filter((rival) => lawful(rival.fitting));
      expect(beaten.map((b) => [b.sideways, b.fitting.at, b.fitting.heading])).toEqual([]);
    }, 60_000);
  });
});

describe('the map and the structure', () => {
  const structure = {
    frames: [5800, 6500].map((station, i) => ({ name: `${i}`, station })),
    seams: [{ name: 'K', from: { station: 4000, girth: 2600 }, to: { station: 8000, girth: 2500 } }],
    keepClear: [{ name: 'zinc', from: { station: 6300, girth: 1700 }, radius: 150 }],
  };
  const job = flatJob({ structure, seamClear: 50, fitting: { over: 'frame' } });
  const shell = shellOf(job.ship.hull);
  const fitting = job.fittings[0] as Fitting;

  test('every spot says what planning the lug there says of zone, seam and member, and the same limit binds', () => {
    const grid = placeGridOf({ job }, 0, { station: 500, girth: 800 }, 7, 7);
    expect([grid.columns[0], grid.columns[6], grid.rows[0], grid.rows[6]]).toEqual([5500, 6500, 1200, 2800]);
    const kinds = new Map<string, number>();
    for (const { spots } of placeMapOf({ job }, 0, grid)) {
      for (const { station, girth, verdict } of spots) {
        const at = { station, side: 'port', by: 'girth', value: girth } as const;
        const plan = planFitting(job, { ...fitting, at }, shell, upOf(job.ship));
        const zone = plan.checks.find((check) => check.id === 'keep-clear');
        const key = verdict.kind === 'cannot' ? verdict.why : (verdict.limits[0]?.id ?? '');
        kinds.set(key, (kinds.get(key) ?? 0) + 1);
        if (zone?.pass === false) expect(verdict).toEqual({ kind: 'cannot', why: 'keep-clear' } satisfies SpotVerdict);
        else if (verdict.kind === 'cannot') throw new Error(verdict.why);
        else {
          for (const { id, ratio } of verdict.limits) {
            const check = plan.checks.find((c) => c.id === id);
            if (check !== undefined) expect(ratio, id).toBeCloseTo(check.ratio, 6);
          }
          // The shackle goes on wherever the lug stands: that binds nowhere.
          const placed = plan.checks.filter((c) => !/^weld\.|^shackle-(pin|jaw)$/.test(c.id));
          const most = Math.max(...placed.map((c) => c.ratio));
          const bevel = Math.max(plan.bevel.max, -plan.bevel.min) / job.limits.bevel;
          expect(verdict.limits[0]?.ratio).toBeCloseTo(Math.max(most, bevel), 6);
        }
      }
    }
    expect([...kinds.keys()]).toEqual(expect.arrayContaining(['keep-clear', 'seam-clear', 'over-member']));
  }, 60_000);

  test('of ways to stand: an athwartships foot does not get to the frame that a fore-and-aft one crosses', () => {
    const near = flatJob({ structure, fitting: { over: 'frame', at: { ...fitting.at, station: 5700 } } });
    const grid = stanceGridOf({ job: near }, 4, 3);
    expect(grid.columns.map((h) => Math.round((h * 180) / Math.PI))).toEqual([-90, -45, 0, 45]);
    for (const { spots } of stanceMapOf({ job: near }, 0, grid)) {
      for (const { column, row, verdict } of spots) {
        if (row !== 1 || verdict.kind !== 'stands') continue;
        const over = verdict.limits.find((limit) => limit.id === 'over-member')?.ratio ?? Number.NaN;
        // 100 mm to go; a foot of 300 x 30 at 0, 45 and 90 deg reaches half of its extent along the ship.
        const h = grid.columns[column] as number;
        expect(over).toBeCloseTo(100 / (150 * Math.abs(Math.cos(h)) + 15 * Math.abs(Math.sin(h))), 6);
      }
    }
  });
});

test('told step by step it comes to the same, and does no work that nobody asks for', () => {
  const job = flatJob({ toward: [6300, 2500, -5000] });
  const freedom = { heading: true, lean: true, girth: 300, station: 300 };
  const steps = bestStanceSteps({ job }, ['P1'], freedom);
  const told: number[] = [];
  let step = steps.next();
  while (step.done !== true) {
    told.push(step.value.done);
    step = steps.next();
  }
  expect(told[0]).toBe(0);
  expect(told).toEqual(told.toSorted((p, q) => p - q));
  expect(told.every((done) => done >= 0 && done <= 1)).toBe(true);
  expect(step.value.lugs).toEqual(bestStanceOf({ job }, ['P1'], freedom).lugs);
  const stopped = bestStanceSteps({ job }, ['P1'], freedom);
  stopped.next();
  expect(stopped.return(undefined as never).done).toBe(true);
});

describe('port and starboard', () => {
  test('a ship mirrored about her centreline stands her lug as well, at the mirrored place', () => {
    const zone = { name: 'zinc', from: { station: 6200, girth: 2200 }, radius: 150 };
    const job = (side: 'port' | 'starboard') => {
      const sign = side === 'port' ? 1 : -1;
      return flatJob({
        structure: { keepClear: [{ ...zone, side }] },
        fitting: { at: { station: 6000, side, by: 'girth', value: 2000 } },
        toward: [6300, 2300 * sign, -4000],
      });
    };
    const freedom = { heading: true, lean: true, girth: 300, station: 300 };
    const [port, starboard] = (['port', 'starboard'] as const).map((side) => {
      const result = bestStanceOf({ job: job(side) }, ['P1'], freedom).lugs[0]?.result;
      if (!result?.found) throw new Error('nothing found');
      return result.best;
    });
    expect(starboard?.sideways).toBeCloseTo(port?.sideways ?? Number.NaN, 6);
    expect(starboard?.station).toBeCloseTo(port?.station ?? Number.NaN, 6);
    expect(starboard?.girth).toBeCloseTo(port?.girth ?? Number.NaN, 6);
    expect(starboard?.heading).toBeCloseTo(port?.heading ?? Number.NaN, 9);
  });
});

describe('over a movement', () => {
  const job = sample('g-rudder-walked-aft');
  const shell = shellOf(job.ship.hull);
  const up = upOf(job.ship);

  test('two lugs together: as good as the best of a grid of both headings, the movement worked out for each', () => {
    const turned = (p: number, s: number): Job => ({
      ...job,
      fittings: job.fittings.map((f) =>
        f.id === 'P' ? { ...f, heading: p } : f.id === 'S' ? { ...f, heading: s } : f,
      ),
    });
    const shareOf = (of: Job): number => {
      const pulls = pullsOf(of, shell, up);
      return Math.max(
        ...of.fittings.flatMap((f, i) =>
          f.id === 'A' ? [] : [stanceNow(of, f, shell, up, pulls[i] as PullCase[]).share],
        ),
      );
    };
    const out = bestStanceOf({ job }, ['P', 'S'], { heading: true, lean: false });
    const best = Math.max(...out.lugs.map(({ result }) => (result.found ? result.best.share : 1)));
    expect(shareOf(out.job)).toBeCloseTo(best, 9);
    let least = Number.POSITIVE_INFINITY;
    for (let p = -90; p < 90; p += 20)
      for (let s = -90; s < 90; s += 20)
        least = Math.min(least, shareOf(turned((p * Math.PI) / 180, (s * Math.PI) / 180)));
    expect(best).toBeLessThan(least + 1e-3);
  }, 120_000);

  test('the map at the place where the lug stands says of the movement what its sweep says', () => {
    const plan = planJob(job);
    plan.fittings.forEach((fitting, i) => {
      const { station, girth } = fitting.anchor;
      const [batch] = placeMapOf({ job }, i, { columns: [station], rows: [girth] });
      const verdict = batch?.spots[0]?.verdict;
      if (verdict?.kind !== 'stands') throw new Error('it does not stand');
      const swept = new Map(
        plan.lift?.lugs.find(({ id }) => id === fitting.id)?.checks.map(({ check }) => [check.id, check.ratio]),
      );
      const ratio = (id: string) => verdict.limits.find((limit) => limit.id === id)?.ratio;
      expect(ratio('sideways')).toBeCloseTo(swept.get('lift-sideways') ?? Number.NaN, 6);
      for (const { id, ratio: found } of verdict.limits) {
        const most = swept.get(id);
        if (most === undefined) continue;
        // Under a few pulls of the sweep only: never worse than the worst of all, and within three hundredths of it.
        expect(found, id).toBeLessThan(most + 1e-6);
        expect(found, id).toBeGreaterThan(0.97 * most);
      }
      for (const id of ['lug-bearing', 'shackle-wll', 'weld'])
        expect(ratio(id), id).toBeCloseTo(swept.get(id) ?? NaN, 6);
    });
  });
});
