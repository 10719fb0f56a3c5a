import { describe, expect, test } from 'vitest';
import { NormalNumbers } from '../../geometry/uncertainty/random.ts';
import { contributions, quantile, spreadOf } from '../../geometry/uncertainty/spread.ts';
import { readJob } from '../../src/job/read.ts';
import { planJob } from '../../src/plan/plan.ts';
import type { Plan } from '../../src/plan/types.ts';
import { sampleFigures, uncertaintyFrom, uncertaintyOf } from '../../src/plan/uncertainty.ts';
import { type Loose, plainJob } from '../job/jobs.ts';

const RAD = Math.PI / 180;

function planOf(change: (job: Loose) => void): Plan {
  const job = plainJob();
  change(job);
  const reading = readJob(JSON.stringify(job), () => undefined);
  if (!reading.ok) throw new Error(JSON.stringify(reading.faults));
  return planJob(reading.job);
}

/** A quarter circle of 3 m: with a plumb stem and a fore-and-aft foot the bevel is girth / R less the heel, to first order. */
const R = 3000;
const circle = (job: Loose): void => {
  job.ship.hull = {
    kind: 'segments',
    start: { y: '0 m', z: '0 m' },
    path: [{ to: { y: '3 m', z: '3 m' }, radius: '3 m' }],
  };
  job.ship.draftAft = '2.4 m';
  job.ship.draftForward = '2.4 m';
  job.ship.heel = '0 deg';
  job.fittings[0].at = { station: '10 m', side: 'port', girth: '1.5 m' };
  job.fittings[0].load = { direction: [0, 0, -1], force: '60 kN' };
};

describe('normal numbers by place', () => {
  test('mean, deviation, tails; no tie between one number and the next, one sample and the next', () => {
    const numbers = new NormalNumbers(7);
    const n = 40_000;
    const z = new Float64Array(3);
    const all = [0, 1, 2].map(() => new Float64Array(n));
    for (let i = 0; i < n; i++) {
      numbers.fill(i, z);
      for (let k = 0; k < 3; k++) (all[k] as Float64Array)[i] = z[k] as number;
    }
    const mean = (a: Float64Array, b: Float64Array) => a.reduce((s, x, i) => s + (x * (b[i] as number)) / n, 0);
    const one = new Float64Array(n).fill(1);
    for (const a of all) {
      // Standard errors at n = 40,000: 0.005 for the mean, 0.0071 for the variance; four of them.
      expect(Math.abs(mean(a, one))).toBeLessThan(0.02);
      expect(Math.abs(mean(a, a) - 1)).toBeLessThan(0.0283);
      // 1.959964: 97.5 % of the normal distribution (standard table).
      const sorted = a.slice().sort();
      expect(Math.abs(quantile(sorted, 0.975) - 1.959964)).toBeLessThan(0.06);
      const later = Float64Array.from(a, (_, i) => a[(i + 1) % n] as number);
      expect(Math.abs(mean(a, later))).toBeLessThan(0.02);
    }
    expect(Math.abs(mean(all[0] as Float64Array, all[1] as Float64Array))).toBeLessThan(0.02);
    expect(Math.abs(mean(all[1] as Float64Array, all[2] as Float64Array))).toBeLessThan(0.02);
  });

  test('shares of a linear figure are those of its terms, and sum to one', () => {
    // y = 3 a + 4 b: shares 9/25 and 16/25 (closed form).
    const numbers = new NormalNumbers(3);
    const n = 20_000;
    const inputs = new Float64Array(2 * n);
    const y = new Float64Array(n);
    for (let i = 0; i < n; i++) {
      numbers.fill(i, inputs.subarray(2 * i, 2 * i + 2));
      y[i] = 3 * (inputs[2 * i] as number) + 4 * (inputs[2 * i + 1] as number);
    }
    const [a, b] = contributions(inputs, 2, y) as [number, number];
    expect(Math.abs(a - 9 / 25)).toBeLessThan(0.02);
    expect(Math.abs(b - 16 / 25)).toBeLessThan(0.02);
    expect(spreadOf(y).deviation).toBeCloseTo(5, 0);
  });
});

describe('what the job says with a ±', () => {
  test('a job without any has no uncertainty', () => {
    expect(uncertaintyOf(planOf(circle))).toBeUndefined();
  });

  test('the plan itself is the one without the ±', () => {
    const plain = planOf(circle);
    const sure = planOf((job) => {
      circle(job);
      job.fittings[0].at.girth = '1.5 m ± 20 mm';
      job.ship.heel = '0 deg +/- 0.5 deg';
    });
    expect(sure.fittings[0]?.bevel).toEqual(plain.fittings[0]?.bevel);
    expect(sure.job.uncertain?.map(({ path }) => path)).toEqual(['ship.heel', 'fittings[0].at.girth']);
  });

  test('propagation against the closed form: bevel = girth / R and heel, both with errors', () => {
    const plan = planOf((job) => {
      circle(job);
      job.fittings[0].at.girth = '1.5 m ± 30 mm';
      job.ship.heel = '0 deg ± 0.4 deg';
    });
    const got = uncertaintyOf(plan)?.fittings[0];
    // ± is two standard deviations. Slope of the shell against a plumb stem: girth / R + heel on the port side.
    const fromGirth = 15 / R;
    const fromHeel = 0.2 * RAD;
    const both = Math.hypot(fromGirth, fromHeel);
    expect(got?.bevel.deviation).toBeGreaterThan(0.97 * both);
    expect(got?.bevel.deviation).toBeLessThan(1.03 * both);
    expect(Math.abs((got?.bevel.mean ?? 0) - (plan.fittings[0]?.fit.straight.bevel ?? 1))).toBeLessThan(0.05 * both);
    expect(((got?.bevel.high ?? 0) - (got?.bevel.low ?? 0)) / (2 * 1.959964 * both)).toBeCloseTo(1, 1);
    const share = (path: string) => got?.inputs.find((i) => i.path === path)?.bevel ?? 0;
    expect(Math.abs(share('fittings[0].at.girth') - (fromGirth / both) ** 2)).toBeLessThan(0.03);
    expect(Math.abs(share('ship.heel') - (fromHeel / both) ** 2)).toBeLessThan(0.03);
    // The plate of 30 mm is then out by its thickness times the change of slope: gap = gap as cut + t |change| (closed form).
    const asCut = plan.fittings[0]?.fit.straight.maxGap ?? 0;
    const slope = plan.fittings[0]?.fit.straight.bevel ?? 0;
    const perRad = 30 / Math.cos(slope) ** 2;
    expect(Math.abs((got?.gap95 ?? 0) - (asCut + perRad * both * 1.959964))).toBeLessThan(0.06);
    expect(got?.missed).toBe(0);
  });

  test('coverage: of ships drawn by other seeds, 95 of 100 lie within the stated limits', () => {
    const plan = planOf((job) => {
      circle(job);
      job.fittings[0].at.girth = '1.5 m ± 30 mm';
      job.ship.heel = '0.5 deg ± 0.4 deg';
      job.ship.hull.path[0].radius = '3.1 m ± 40 mm';
    });
    const stated = uncertaintyOf(plan, { samples: 4000, seed: 1 })?.fittings[0];
    const other = sampleFigures(plan, 99, 0, 4000);
    let within = 0;
    let ground = 0;
    for (let i = 0; i < 4000; i++) {
      const bevel = other[4 * i] as number;
      if (bevel >= (stated?.bevel.low ?? 0) && bevel <= (stated?.bevel.high ?? 0)) within++;
      if ((other[4 * i + 3] as number) <= (stated?.stock ?? 0)) ground++;
    }
    // Standard error of a share of 0.95 in 4000: 0.0034; twice that from both sides, thrice over.
    expect(Math.abs(within / 4000 - 0.95)).toBeLessThan(0.015);
    expect(Math.abs(ground / 4000 - 0.95)).toBeLessThan(0.015);
  });

  test('shared out between threads the samples are the same', () => {
    const plan = planOf((job) => {
      circle(job);
      job.fittings[0].at.station = '10 m ± 100 mm';
      job.fittings[0].heading = '10 deg ± 1 deg';
    });
    const whole = sampleFigures(plan, 5, 0, 60);
    const parts = [sampleFigures(plan, 5, 0, 23), sampleFigures(plan, 5, 23, 60)];
    expect([...(parts[0] as Float64Array), ...(parts[1] as Float64Array)]).toEqual([...whole]);
    expect(uncertaintyFrom(plan, 5, whole).samples).toBe(60);
  });

  test('readings: each slope moves the section, and the middle ones matter most', () => {
    const plan = planOf((job) => {
      circle(job);
      job.ship.hull = {
        kind: 'readings',
        start: { y: '1 m', z: '0.2 m' },
        girth: [0, 250, 500, 750].map((at) => ({ at: `${at} mm`, slope: `${14 + at / 50} deg ± 0.6 deg` })),
        fore: { gaps: ['-500 mm', '500 mm'].map((at) => ({ at, gap: '2 mm ± 1 mm' })) },
      };
      job.fittings[0].at = { station: '10 m', side: 'port', girth: '375 mm' };
    });
    const got = uncertaintyOf(plan, { samples: 2000 })?.fittings[0];
    expect(plan.job.uncertain).toHaveLength(6);
    // A line through four slopes, in their middle: sigma / 2 (closed form); sigma is half of what stands after ±. Now and
    // then a sample asks for a curve of a power more, which knows its middle a little less well.
    expect(got?.bevel.deviation).toBeGreaterThan(0.9 * 0.15 * RAD);
    expect(got?.bevel.deviation).toBeLessThan(1.3 * 0.15 * RAD);
  });
});
