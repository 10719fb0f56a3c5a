import Papa from 'papaparse';
import { expect, test } from 'vitest';
import { bevelCsv, bevelSheet } from '../../src/sheets/beveltable.ts';
import { contextOf, wedgeJob } from './plans.ts';
import { wordsOf } from './readback.ts';

/** Metric: `123.4 mm`; US: the decimal of `8 11/16 in (8.673)` or of `0.011 in`. */
const METRIC = String.raw`(-?[\d.]+) mm`;
const US = String.raw`(?:[\d/ ]+ in \((-?[\d.]+)\)|(-?[\d.]+) in)`;

test('what comes off a square foot is the difference of the depths as they are printed: a straight cut under a wedge', async () => {
  for (const display of ['metric', 'us'] as const) {
    for (const deadrise of [0.05, 0.2, 0.31, 0.43]) {
      const context = await contextOf({ ...wedgeJob(deadrise), display });
      expect(context.fitting.fit.chosen).toBe('straight');
      const text = wordsOf(bevelSheet(context));
      const length = display === 'us' ? US : METRIC;
      const figures = (m: RegExpMatchArray) => m.slice(1).filter((each) => each !== undefined);
      // The first row: station, depth on one face, depth on the other.
      const after = text.slice(text.lastIndexOf('bevel of the shell'));
      const [, minus, plus] = [...after.matchAll(new RegExp(length, 'g'))]
        .slice(0, 3)
        .map((m) => Number(figures(m)[0]));
      const said = /From a square foot take off at the corners: (.*?); straight lines/.exec(text)?.[1] ?? '';
      const amounts = said.split('; ');
      expect(amounts.length).toBe(4);
      const taken = amounts.map((each) => Number(figures(each.match(new RegExp(length)) ?? (['', '0'] as never))[0]));
      // Closed form: the deeper face loses nothing, the other the depths' difference, thickness x tan(deadrise) but for the rounding.
      const difference = Math.abs((minus as number) - (plus as number));
      expect(taken.filter((each) => each === 0).length).toBe(2);
      for (const each of taken.filter((amount) => amount !== 0)) expect(each).toBeCloseTo(difference, 6);
      const exact = (context.fitting.input.lug.thickness * Math.tan(deadrise)) / (display === 'us' ? 25.4 : 1);
      expect(Math.abs(difference - exact)).toBeLessThan(display === 'us' ? 0.00101 : 0.101);
    }
  }
});

test('every row of the spreadsheet file says first what stands against the plan; nothing where nothing does', async () => {
  for (const [force, against] of [
    ['20 kN', false],
    ['20000 kN', true],
  ] as const) {
    const job = wedgeJob(0.2);
    job.fittings[0].load.force = force;
    const context = await contextOf(job);
    const failed = context.fitting.checks.filter(({ pass }) => !pass).length;
    const { data, errors } = Papa.parse<Record<string, string>>(bevelCsv(context), {
      header: true,
      skipEmptyLines: true,
    });
    expect(errors).toEqual([]);
    expect(Object.keys(data[0] ?? {})[0]).toBe('warning');
    expect(data.length).toBeGreaterThan(3);
    expect(failed > 0).toBe(against);
    for (const row of data) {
      expect(row.warning).toBe(context.warning[0] ?? '');
      expect(row.warning?.includes('do not cut')).toBe(against);
      expect(row.warning?.startsWith(`${failed} of `)).toBe(against);
    }
  }
});

test('where lengths stand twice the table says which holds, in US units alone', async () => {
  const us = wordsOf(bevelSheet(await contextOf({ ...wedgeJob(0.2), display: 'us' })));
  expect(us).toContain('the decimal holds');
  expect(wordsOf(bevelSheet(await contextOf(wedgeJob(0.2))))).not.toContain('the decimal holds');
});
