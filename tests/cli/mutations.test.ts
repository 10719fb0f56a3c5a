import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { expect, test } from 'vitest';
import { fullJob, type Loose, plainJob } from '../job/jobs.ts';
import { runJob } from './system.ts';

/*
 * Job files broken in every way that comes to mind: whatever stands in a file, the command plans it or refuses it with a
 * line for each fault. It never falls over.
 */

const SEED = Number(process.env.MUTATION_SEED ?? 20_260_611);
const CASES = 500;

const random = xoroshiro128plus(SEED);
const below = (n: number): number => uniformInt(random, 0, n - 1);
const pick = <T>(list: readonly T[]): T => list[below(list.length)] as T;

/** What may come to stand in the place of anything. */
const ODD: readonly (() => unknown)[] = [
  () => null,
  () => true,
  () => 0,
  () => -1,
  () => 1e308,
  () => '',
  () => ' ',
  () => [],
  () => ({}),
  () => [[[]]],
  () => ({ kind: 'segments' }),
  () => 'normal',
  () => 'NaN mm',
  () => 'Infinity m',
  () => '1e999 m',
  () => '-1 mm',
  () => '0 mm',
  () => '0.0001 mm',
  () => '999 m',
  () => '12',
  () => '12 furlong',
  () => '1,234 m',
  () => '1/0 in',
  () => '90 deg',
  () => '-89.9999 deg',
  () => '360 deg',
  () => '25 t',
  () => '1e-300 kN',
  () => `${below(4000) - 500} mm`,
  () => `${below(400)} deg`,
  () => `${below(30)} 1/${below(9)} in`,
  () => '\u202E12 mm',
  () => '"; drop\n\u0000',
  () => 'x'.repeat(10_000),
  () => '__proto__',
];

/** Every place in a file: the group or list that holds it, and its key. */
function places(value: Loose): { holder: Loose; key: string | number }[] {
  if (typeof value !== 'object' || value === null) return [];
  const keys = Array.isArray(value) ? value.map((_, i) => i) : Object.keys(value);
  return keys.flatMap((key) => [{ holder: value, key }, ...places(value[key])]);
}

const MUTATIONS: readonly ((job: Loose) => void)[] = [
  (job) => {
    const { holder, key } = pick(places(job));
    holder[key] = pick(ODD)();
  },
  (job) => {
    const { holder, key } = pick(places(job));
    if (Array.isArray(holder)) holder.splice(Number(key), 1);
    else delete holder[key];
  },
  (job) => {
    const { holder } = pick(places(job));
    if (Array.isArray(holder)) holder.push(pick(ODD)());
    else holder[pick(['foo', '__proto__x', 'constructor', 'toString', 'foot ', '', 'a.b', 'fit\nGap'])] = pick(ODD)();
  },
  (job) => {
    const [one, two] = [pick(places(job)), pick(places(job))];
    [one.holder[one.key], two.holder[two.key]] = [
      structuredClone(two.holder[two.key]),
      structuredClone(one.holder[one.key]),
    ];
  },
  // A figure that stays a figure: what the geometry has to cope with.
  (job) => {
    const figures = places(job).filter(({ holder, key }) => /^-?[\d.]+ (m|mm|deg|kN)$/.test(String(holder[key])));
    const { holder, key } = pick(figures);
    const [count, unit] = String(holder[key]).split(' ');
    holder[key] = `${Number(count) * pick([-1, 0.001, 0.1, 0.5, 0.99, 1.01, 2, 3, 10, 100])} ${unit}`;
  },
  (job) => {
    const { hull } = job.ship;
    const points = [hull.start, ...(hull.path ?? []).map((step: Loose) => step.to)].filter((p) => p !== undefined);
    job.ship.hull = pick<Loose>([
      { kind: 'spline', points },
      { kind: 'spline', points: [...points, ...points] },
      {
        kind: 'sections',
        sections: [
          { station: '0 m', points },
          { station: '30 m', points: points.slice(0, 2) },
        ],
      },
      { kind: 'offsets', file: 'lines.csv', unit: pick(['m', 'mm', 'ft', 'ft-in-8', 'yd']) },
      { kind: 'offsets', file: pick(['../lines.csv', 'none.csv', '']), unit: 'm' },
    ]);
  },
];

const TABLES = [
  'st,0,1,2,3\n0,0,1,2,2.5\n10,0.5,2,3,3.5\n20,0.5,2,3,3.5\n',
  'st,0,1,2,3\n0,,,,2.5\n10,0.5,,3,3.5\n20,0.5,2,3,\n',
  'st,0,1,2,3\n0,0,0,0,0\n10,0,0,0,0\n20,0,0,0,0\n',
  'st;0;1\n0;x;1\n',
  '\u0000\u0001',
];

/** Text that is no longer quite JSON. */
function bent(text: string): string {
  const at = below(text.length);
  return pick([
    text.slice(0, at),
    text.slice(0, at) + text.slice(at + 1),
    text.slice(0, at) + pick(['"', '{', ',', '\\', '\u0000', '\n', '9']) + text.slice(at),
  ]);
}

const LINE = /^job\.json: (?:[^\n]*: )?found [^\n]+, expected [^\n]+$/;

test(`${CASES} broken jobs, seed ${SEED}: planned or refused, never fallen over`, { timeout: 120_000 }, async () => {
  const seen = { planned: 0, refused: 0 };
  let slowest = { ms: 0, text: '' };
  for (let i = 0; i < CASES; i++) {
    const job = below(2) === 0 ? plainJob() : fullJob();
    const times = pick([1, 1, 1, 2, 3]);
    for (let k = 0; k < times; k++) {
      try {
        pick(MUTATIONS)(job);
      } catch (error) {
        // A place that an earlier change has taken away.
        if (!(error instanceof TypeError)) throw error;
      }
    }
    const whole = JSON.stringify(job, null, 1) ?? 'null';
    const text = below(10) === 0 ? bent(whole) : whole;
    const started = performance.now();
    const { status, out, err } = await runJob(text, ['--json'], { 'lines.csv': pick(TABLES) });
    const ms = performance.now() - started;
    if (ms > slowest.ms) slowest = { ms, text };
    const story = `seed ${SEED}, case ${i}, status ${status}\n${err}\n${text}`;
    if (status === 2) {
      seen.refused += 1;
      expect(out, story).toBe('');
      expect(err, story).not.toBe('');
      for (const line of err.trimEnd().split('\n')) expect(line, story).toMatch(LINE);
    } else {
      seen.planned += 1;
      expect([0, 1], story).toContain(status);
      expect(err, story).toBe('');
      expect(JSON.parse(out).format, story).toBe('lugwright.plan');
    }
    expect(err, story).not.toMatch(/\bat .*:\d+:\d+|undefined|NaN is|\[object/);
  }
  // A planner is waiting: nothing that can be written in a job may keep it for long.
  expect(slowest.ms, `seed ${SEED}: ${slowest.text}`).toBeLessThan(5000);
  // Both ends of the road must have been travelled for this to mean anything.
  expect(seen.planned).toBeGreaterThan(20);
  expect(seen.refused).toBeGreaterThan(100);
});
