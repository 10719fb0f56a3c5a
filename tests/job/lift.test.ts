import { expect, test } from 'vitest';
import { readJob } from '../../src/job/read.ts';
import { type Loose, plainJob } from './jobs.ts';

/** A job with a movement that leaves open what may be left open. */
function liftJob(): Loose {
  return {
    ...plainJob(),
    lift: {
      load: { mass: '6 t', volume: '0.8 m3', centre: ['10.2 m', '1.5 m', '-3 m'] },
      lines: [{ id: '1', fitting: 'A', to: ['10.2 m', '1.5 m', '-2.4 m'] }],
      steps: [
        { name: 'take up', to: ['10 m', '1.5 m', '-3 m'] },
        { name: 'lower', lower: '0.5 m' },
      ],
    },
  };
}

const read = (job: Loose) => readJob(JSON.stringify(job), () => undefined);
const faults = (job: Loose): string[] => {
  const reading = read(job);
  return reading.ok ? [] : reading.faults.map((f) => `${f.path}: ${f.found} | ${f.expected}`);
};
const lift = (job: Loose) => {
  const reading = read(job);
  if (!reading.ok) throw new Error(JSON.stringify(reading.faults));
  return { lift: reading.job.lift, assumptions: reading.job.assumptions };
};

test('a job without a movement has none', () => {
  const reading = read(plainJob());
  expect(reading.ok && reading.job.lift).toBeUndefined();
});

test('a movement in internal units, its defaults told', () => {
  const { lift: got, assumptions } = lift(liftJob());
  expect(got?.load).toMatchObject({ mass: 6000, centre: [10_200, 1500, -3000], buoyancyCentre: [10_200, 1500, -3000] });
  // 0.8 m3 of water at 1025 kg/m3.
  expect(got?.load.displaced).toBeCloseTo(820, 9);
  expect(got?.steps).toEqual([
    { kind: 'walk', name: 'take up', parts: 4, target: { to: [10_000, 1500, -3000] } },
    { kind: 'walk', name: 'lower', parts: 4, target: { lower: 500 } },
  ]);
  // Half a per cent of stretch under the whole weight: EA = m g / 0.005.
  expect(got?.lines[0]?.stretch).toEqual({ kind: 'axial', ea: expect.closeTo((6000 * 9.80665) / 0.005, 3) });
  const paths = assumptions.map((a) => a.path).filter((path) => path.startsWith('lift'));
  expect(paths.sort()).toEqual([
    'lift.limits.clearance',
    'lift.limits.miss',
    'lift.limits.stretch',
    'lift.limits.tilt',
    'lift.limits.unhookShare',
    'lift.lines[0].ea',
    'lift.load.buoyancyCentre',
    'lift.waterDensity',
  ]);
});

test('volume, mass in water and density say the same', () => {
  const displaced = (load: Loose): number | undefined => {
    const job = liftJob();
    job.lift.load = { mass: '6 t', centre: job.lift.load.centre, ...load };
    job.lift.waterDensity = '1000 kg/m3';
    return lift(job).lift?.load.displaced;
  };
  expect(displaced({ volume: '0.75 m3' })).toBeCloseTo(750, 9);
  expect(displaced({ massInWater: '5250 kg' })).toBeCloseTo(750, 9);
  expect(displaced({ density: '8 t/m3' })).toBeCloseTo(750, 9);
  // A cubic foot is 0.3048^3 m3 and a pound 0.45359237 kg, both by definition.
  expect(displaced({ volume: '10 ft3' })).toBeCloseTo(1000 * 10 * 0.3048 ** 3, 6);
  expect(displaced({ density: '490 lb/ft3' })).toBeCloseTo(6e6 / ((490 * 0.45359237) / 0.3048 ** 3), 6);
});

test('a stated stretch is a spring', () => {
  const job = liftJob();
  job.lift.lines[0].stretch = { by: '12 mm', under: '60 kN' };
  expect(lift(job).lift?.lines[0]?.stretch).toEqual({ kind: 'spring', k: 5000 });
});

test('every fault has the path of its field', () => {
  const job = liftJob();
  job.lift.load.massInWater = '7 t';
  job.lift.lines = [
    { id: '1', fitting: 'B', to: ['1 m', '1 m', '1 m'], ea: '1 MN', stretch: { by: '1 mm', under: '1 kN' } },
    { id: '1', fitting: 'A', from: ['1 m', '1 m', '1 m'], to: ['1 m', '1 m', '1 m'], shortest: '3 m', longest: '2 m' },
  ];
  job.lift.steps = [
    { name: 'a', set: { 2: '1 m' }, to: ['1 m', '1 m', '1 m'] },
    { name: 'b', by: ['1 m', '1 m', '1 m'], with: ['3'] },
    { name: 'c', set: {} },
    { name: 'd', lower: '4 kg', parts: 0 },
  ];
  const paths = faults(job).map((text) => text.split(':')[0]);
  expect(paths.sort()).toEqual(
    [
      'lift.load',
      'lift.load.massInWater',
      'lift.lines[0]',
      'lift.lines[0].fitting',
      'lift.lines[1]',
      'lift.lines[1].id',
      'lift.lines[1].longest',
      'lift.steps[0]',
      'lift.steps[0].set["2"]',
      'lift.steps[1].with[0]',
      'lift.steps[2].set',
      'lift.steps[3].lower',
      'lift.steps[3].parts',
    ].sort(),
  );
});

test('one to six lines', () => {
  const job = liftJob();
  const one = job.lift.lines[0];
  job.lift.lines = Array.from({ length: 7 }, (_, i) => ({ ...one, id: String(i) }));
  expect(faults(job)).toEqual([expect.stringContaining('at most 6 lines')]);
  job.lift.lines = [];
  expect(faults(job)).toEqual([expect.stringContaining('at least 1 lines')]);
});
