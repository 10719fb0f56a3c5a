import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { describe, expect, test } from 'vitest';
import { frameAt } from '../../../geometry/align/stem.ts';
import { toShip } from '../../../geometry/lug/frame.ts';
import { dot, type Vec3 } from '../../../geometry/math/vec.ts';
import { Refusal } from '../../../geometry/refusal.ts';
import type { Fitting, Job } from '../../../src/job/types.ts';
import { type PullCase, pullAt, worstOf } from '../../../src/plan/movement/pulls.ts';
import { globalLeast } from '../../../src/plan/movement/search.ts';
import { bestStance, stanceNow } from '../../../src/plan/movement/stance.ts';
import { bestStances, pullsOf } from '../../../src/plan/movement/stances.ts';
import { shellOf, upOf } from '../../../src/plan/plan.ts';
import { sample } from './jobs.ts';

const SEED = 20_240_611;
const DEG = Math.PI / 180;

test('the search finds the least of a function with many valleys and a kinked floor', () => {
  // max(|x - 1|, |y + 0.5|) + a ripple that makes valleys everywhere: least where both kinks meet.
  const f = ([x, y]: readonly number[]): number =>
    Math.max(Math.abs((x as number) - 1), Math.abs((y as number) + 0.5)) + 0.2 * Math.sin(3 * (x as number) - 3) ** 2;
  const [best] = globalLeast(
    [
      { from: -4, to: 4, steps: 20, round: false },
      { from: -4, to: 4, steps: 20, round: false },
    ],
    f,
    8,
  );
  expect(best?.value).toBeLessThan(1e-4);
  expect(best?.at[0]).toBeCloseTo(1, 4);
  expect(best?.at[1]).toBeCloseTo(-0.5, 3);
});

test('the worst of many pulls, made ready, is that of looking at them one by one', () => {
  const random = xoroshiro128plus(SEED + 1);
  const some = (): number => ((random.next() >>> 0) / 2 ** 32 - 0.5) * 4000;
  const vec = (): Vec3 => [some(), some(), some()];
  const unit = (v: Vec3): Vec3 => [v[0] / Math.hypot(...v), v[1] / Math.hypot(...v), v[2] / Math.hypot(...v)];
  for (let k = 0; k < 50; k++) {
    const cases: PullCase[] = Array.from({ length: 1 + (k % 7) }, (_, state) => ({
      state,
      push: null,
      parts: Array.from({ length: 1 + (state % 3) }, (_, i) =>
        i === 1 ? { direction: unit(vec()), force: 1e4 } : { toward: vec(), force: 2e4 },
      ),
    }));
    const [pin, face] = [vec(), unit(vec())];
    const got = worstOf(cases)(pin, face);
    const pulls = cases.map((one) => pullAt(one, pin));
    const sides = pulls.map((pull) => Math.abs(dot(pull, face)));
    expect(got.sideways).toBeCloseTo(Math.max(...sides), 6);
    expect(got.worst).toBe(sides.indexOf(Math.max(...sides)));
    expect(got.greatest).toBeCloseTo(Math.max(...pulls.map((pull) => Math.hypot(...pull))), 6);
  }
});

describe('the best stance against every stance of a fine grid', () => {
  const job = sample('a-plumb-lug-rounded-bottom', (raw) => {
    raw.limits = { bevel: '40 deg' };
  });
  const shell = shellOf(job.ship.hull);
  const up = upOf(job.ship);
  const random = xoroshiro128plus(SEED);
  const between = (lo: number, hi: number): number => lo + ((random.next() >>> 0) / 2 ** 32) * (hi - lo);

  const drawn = Array.from({ length: 10 }, (_, k) => {
    const fitting: Fitting = {
      ...(job.fittings[0] as Fitting),
      at: { station: 6000, side: k % 2 === 0 ? 'port' : 'starboard', by: 'girth', value: between(1200, 5200) },
      stem: { kind: 'normal' },
    };
    const place = shell.pointAt(6000, fitting.at.value, fitting.at.side);
    const cases: PullCase[] = Array.from({ length: 1 + (k % 5) }, (_, state) => {
      const toward: Vec3 = [
        place.position[0] + between(-1500, 1500),
        place.position[1] + between(-1200, 1200),
        place.position[2] - between(1500, 4000),
      ];
      return { state, push: null, parts: [{ toward, force: between(20e3, 90e3) }] };
    });
    return { fitting, cases };
  });

  drawn.forEach(({ fitting, cases }, k) => {
    test(`job ${k + 1} of seed ${SEED}: ${cases.length} pulls`, () => {
      const result = bestStance(job, fitting, shell, up, cases, { heading: true, lean: true });
      if (!result.found) throw new Error(result.reason.join(''));
      const place = shell.pointAt(6000, fitting.at.value, fitting.at.side);
      let least = Number.POSITIVE_INFINITY;
      let greatest = 0;
      for (let h = -90; h < 90; h += 1) {
        // A degree inside the bevel of 40 deg that is cut: along a curved foot the bevel is not the lean everywhere.
        for (let lean = -39; lean <= 39; lean += 1) {
          let frame: ReturnType<typeof frameAt>;
          try {
            frame = frameAt(
              place,
              h * DEG,
              { kind: 'lean', angle: lean * DEG },
              fitting.load,
              up,
              job.limits.stemToShell,
            );
          } catch (e) {
            if (e instanceof Refusal) continue;
            throw e;
          }
          const pin = toShip(frame, 0, fitting.lug.pinHeight, 0);
          let worst = 0;
          for (const one of cases) {
            const pull = pullAt(one, pin);
            worst = Math.max(worst, Math.abs(dot(pull, frame.face)));
            greatest = Math.max(greatest, Math.hypot(...pull));
          }
          least = Math.min(least, worst);
        }
      }
      // No spot of the grid is better by more than what stances are told apart by.
      expect(result.best.sideways).toBeLessThan(least + 5e-4 * greatest);
      // And the figure is that of the stance it names.
      const again = stanceNow(job, result.best.fitting, shell, up, cases);
      expect(again.sideways).toBeCloseTo(result.best.sideways, 3);
    });
  });
});

describe('over a movement', () => {
  const looked = (name: string, id: string) => {
    const job = sample(name);
    const shell = shellOf(job.ship.hull);
    const up = upOf(job.ship);
    const out = bestStances(job, [id], shell, up, { heading: true, lean: true });
    const result = out.lugs[0]?.result;
    if (!result?.found) throw new Error('nothing found');
    return { job, shell, up, out, result };
  };

  test('no heading and no lean saves the lug of that sample: better than it stands, and not good enough', () => {
    const { result, job, shell, up } = looked('i-no-heading-saves-it', 'L');
    expect(result.saves).toBe(false);
    expect(result.best.sideways).toBeLessThan(0.5 * result.before.sideways);
    expect(result.best.share).toBeGreaterThan(3 * job.limits.sidewaysShare);
    expect(result.stops).toBe('balance');
    // Brute force with the movement worked out anew for each stance.
    let least = Number.POSITIVE_INFINITY;
    for (let h = -90; h < 90; h += 15) {
      for (let lean = -45; lean <= 45; lean += 9) {
        const tried: Job = {
          ...job,
          fittings: job.fittings.map((f) => ({ ...f, heading: h * DEG, stem: { kind: 'lean', angle: lean * DEG } })),
        };
        const pulls = pullsOf(tried, shell, up)[0] as PullCase[];
        least = Math.min(least, stanceNow(tried, tried.fittings[0] as Fitting, shell, up, pulls).sideways);
      }
    }
    expect(result.best.sideways).toBeLessThan(1.02 * least);
  }, 120_000);

  test('the rudder lug gets better, and the job that comes back is the one it is better in', () => {
    const { result, out, shell, up } = looked('g-rudder-walked-aft', 'P');
    expect(result.best.sideways).toBeLessThan(result.before.sideways);
    const pulls = pullsOf(out.job, shell, up);
    const i = out.job.fittings.findIndex((f) => f.id === 'P');
    const now = stanceNow(out.job, out.job.fittings[i] as Fitting, shell, up, pulls[i] as PullCase[]);
    expect(now.sideways).toBeCloseTo(result.best.sideways, 3);
  });

  test('two lugs together: the worse of the two is no worse than before', () => {
    const job = sample('g-rudder-walked-aft');
    const out = bestStances(job, ['P', 'S'], shellOf(job.ship.hull), upOf(job.ship), { heading: true, lean: false });
    const worst = (of: 'before' | 'best'): number =>
      Math.max(...out.lugs.map(({ result }) => (result.found ? result[of].share : 1)));
    expect(worst('best')).toBeLessThan(worst('before'));
  });
});
