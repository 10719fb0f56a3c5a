import { describe, expect, test } from 'vitest';
import { calculation } from '../../src/sheets/calculation.ts';
import { heelText, trimText } from '../../src/sheets/calculation-basis.ts';
import { contextsOf } from '../../src/sheets/context.ts';
import { gapLength, shopLength } from '../../src/sheets/figures.ts';
import { cornerRows } from '../../src/sheets/plate-corners.ts';
import { contextOf, fonts, planOf, sampleJobs, wedgeJob } from './plans.ts';
import { wordsOf } from './readback.ts';

const DEG = Math.PI / 180;

const sample = (letter: string) => {
  const found = sampleJobs().find(({ name }) => name.startsWith(`${letter}-`));
  if (found === undefined) throw new Error(`no sample ${letter}`);
  return found;
};

test('a length under 1/32 in is told by its decimal alone, in thousandths; from there on by fraction and decimal', () => {
  for (const say of [shopLength, gapLength]) {
    expect(say(0, 'us')).toBe('0.000 in');
    expect(say(25.4 * 0.011, 'us')).toBe('0.011 in');
    expect(say(25.4 * 0.031, 'us')).toBe('0.031 in');
    expect(say(0, 'metric')).toBe('0.0 mm');
  }
  expect(shopLength(25.4 / 32, 'us')).toBe('1/32 in (0.031)');
  expect(gapLength(25.4 / 32, 'us')).toBe('0.031 in (1/32)');
});

test('heel and trim by the side and the end that lie deeper: heel is positive with the starboard side down', () => {
  expect(heelText(0.3 * DEG)).toBe('0.30° to starboard');
  expect(heelText(-0.5 * DEG)).toBe('0.50° to port');
  expect(heelText(0)).toBe('none');
  expect(trimText(0.33 * DEG)).toBe('0.33° by the stern');
  expect(trimText(-0.33 * DEG)).toBe('0.33° by the bow');
  expect(trimText(0)).toBe('none');
});

test('corners of the plate are told by a way from the centre line, also where the foot runs athwartships', async () => {
  const { job, file } = sample('b');
  const [context] = await contextsOf(planOf(job, file), { fonts });
  if (context === undefined) throw new Error('no lug');
  const across = cornerRows(context).map((row) => row[2] as string);
  expect(across.some((text) => / towards the keel$/.test(text))).toBe(true);
  for (const text of across) expect(text).toMatch(/( towards the keel| outboard| each way|^on it)$/);
});

describe('the calculation of a movement', () => {
  for (const letter of ['g', 'h']) {
    test(`sample ${letter}: pushes are told of where the job has them, and nowhere else`, async () => {
      const { job, file } = sample(letter);
      for (const pushes of [true, false]) {
        const { pushes: listed = [], current: _, ...lift } = job.lift;
        const has = pushes && listed.length > 0;
        const [context] = await contextsOf(planOf({ ...job, lift: has ? job.lift : lift }, file), { fonts });
        if (context === undefined) throw new Error('no lug');
        const told = context.plan.lift?.pushes.length ?? 0;
        const text = wordsOf(calculation(context));
        for (const word of [
          'pull, pushed',
          'across, pushed',
          'pushed by',
          'What a push adds',
          'still and pushed',
          'under a push',
        ])
          expect(text.includes(word), word).toBe(told > 0);
        // What no pull comes into is the same at every step and has no worst one.
        expect(text).toMatch(/Pin through the hole.{0,600}? passes\. The same at every step\./);
        expect(text).toMatch(/(passes|FAILS[^.]*|LOOK[^.]*)\. Worst at step \d+ of \d+/);
      }
    });
  }
});

test('the calculation says what a leg is worked from: throat and Z-loss; no bare symbol stands in a source', async () => {
  const context = await contextOf(wedgeJob(0.7));
  const text = wordsOf(calculation(context));
  expect(text).toContain('(throat + Z-loss) / cos(ψ/2)');
  expect(text).not.toContain('F_EXX');
  expect(text).not.toMatch(/ at s \d/);
});

test('orders of the lug as built: on a US page fraction and decimal, on a metric page neither', async () => {
  const { job, file } = sample('m');
  for (const display of ['us', 'metric'] as const) {
    const [context] = await contextsOf(planOf({ ...job, display }, file), { fonts });
    if (context === undefined) throw new Error('no lug');
    const orders = [
      ...wordsOf(calculation(context)).matchAll(/Grind (.{1,30}?) off the foot at (.{1,40}?) along the root/g),
    ];
    expect(orders.length).toBeGreaterThan(0);
    for (const [, off, at] of orders) {
      const fraction =
        display === 'us'
          ? /^([\d ]+|[\d/ ]+) in \(\d*\.\d{3}\)$|^0\.\d{3} in( \((about )?\d+\/\d+\))?$/
          : /^\d+(\.\d)? mm$/;
      expect(off).toMatch(fraction);
      expect(at).toMatch(fraction);
    }
  }
});
