import { planOf, wedgeJob } from './plans.ts';

// biome-ignore lint/suspicious/noExplicitAny: a test takes files apart at will
type Loose = any;

/** Two lugs under a flat bottom, alike to port and starboard, with a hoist and a shackle each; no movement yet. */
export function twoLugs(display: 'metric' | 'us'): { job: Loose; pins: readonly (readonly number[])[] } {
  const job = wedgeJob(0, { job: { display } });
  const [port] = job.fittings;
  job.fittings = ['port', 'starboard'].map((side) => ({
    ...port,
    id: side === 'port' ? 'P' : 'S',
    at: { ...port.at, side },
    load: { ...port.load, force: '30 kN' },
    shackle: { wll: '9.5 t', pin: '32 mm', jaw: '47 mm' },
    hoist: { wll: '5 t' },
  }));
  return { job, pins: planOf(job).fittings.map((fitting) => fitting.pin) };
}

const below = (pin: readonly number[] | undefined, z: number): string[] => [
  `${pin?.[0]} mm`,
  `${pin?.[1]} mm`,
  `${z} mm`,
];

/** Two plumb lines, alike, and a load of 4 t that is as heavy in water: taken, then lowered. */
export function twoLines(display: 'metric' | 'us', more: Loose = {}): Loose {
  const { job, pins } = twoLugs(display);
  job.lift = {
    load: { name: 'grating', mass: '4 t', volume: '0 m3', centre: ['10 m', '0 mm', '-2 m'] },
    lines: ['P', 'S'].map((id, k) => ({ id, fitting: id, to: below(pins[k], -1000) })),
    steps: [
      { name: 'take the weight', to: ['10 m', '0 m', '-2 m'] },
      { name: 'lower', lower: '1.5 m', parts: 3 },
    ],
    ...more,
  };
  return job;
}

/** The kinds of lift that a page must bear: one line; three of them in turn under a current; a load that all but floats, its buoyancy off. */
export function lifts(display: 'metric' | 'us'): { name: string; job: Loose }[] {
  const one = wedgeJob(0.1, { job: { display } });
  const pin = planOf(one).fittings[0]?.pin;
  one.lift = {
    load: { mass: '2 t', volume: '0.3 m3', centre: below(pin, -1500) },
    lines: [{ id: 'L1', fitting: 'A', to: below(pin, -700) }],
    steps: [{ name: 'lower', to: below(pin, -2500) }],
  };
  const outline = [-1, 1].flatMap((x) =>
    [-1, 1].flatMap((y) => [-600, -1400].map((z) => [`${10000 + 900 * x} mm`, `${2200 * y} mm`, `${z - 400} mm`])),
  );
  const three = twoLines(display, {
    load: { name: 'thruster', mass: '5 t', volume: '1.2 m3', centre: ['10 m', '0 m', '-1.4 m'], outline },
    steps: [
      { name: 'take the weight', to: ['10 m', '0 m', '-1.5 m'], with: ['P', 'S'] },
      { name: 'hook on the line from the quay', set: { 'quay, aft': '7 m' } },
      { name: 'haul aft', set: { 'quay, aft': '4.4 m' }, parts: 4 },
      { name: 'hand S on', set: { S: '1.2 m' }, parts: 2 },
    ],
    pushes: [{ name: 'current of 1 kn', force: '900 N', direction: [-1, 0, 0] }],
    keepClear: [{ name: 'shaft bracket', from: ['11.5 m', '-1 m', '-1 m'], to: ['12 m', '1 m', '0 m'] }],
  });
  three.lift.lines.push({ id: 'quay, aft', from: ['4 m', '0 m', '-0.4 m'], to: ['9.1 m', '0 m', '-1 m'] });
  const buoyant = twoLines(display, {
    load: {
      name: 'tank full of foam',
      mass: '4 t',
      volume: '3.5 m3',
      centre: ['10 m', '0 m', '-2 m'],
      buoyancyCentre: ['10.05 m', '0.02 m', '-1.6 m'],
      outline,
    },
    pushes: [{ name: "a diver's push", force: '150 N' }],
  });
  return [
    { name: 'one line', job: one },
    { name: 'three in turn', job: three },
    { name: 'buoyant', job: buoyant },
  ];
}
