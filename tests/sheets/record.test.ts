import { spawnSync } from 'node:child_process';
import { describe, expect, test } from 'vitest';
import { cross, dot, type Vec3 } from '../../geometry/math/vec.ts';
import { jobJsonSchema } from '../../src/job/jsonschema.ts';
import { readJob } from '../../src/job/read.ts';
import { type Context, contextsOf } from '../../src/sheets/context.ts';
import { type Drawing, flattened, type Page, type TextItem } from '../../src/sheets/drawing.ts';
import { gapLength } from '../../src/sheets/figures.ts';
import { writePdf } from '../../src/sheets/pdf.ts';
import { record } from '../../src/sheets/record.ts';
import { gapSpots, markText, readingRows, withinText } from '../../src/sheets/record-fitup.ts';
import { readingLimits } from '../../src/sheets/record-limits.ts';
import { contextOf, fonts, planOf, sampleJobs, wedgeJob } from './plans.ts';

// biome-ignore lint/suspicious/noExplicitAny: a test takes files apart at will
type Loose = any;

const DEG = Math.PI / 180;

const wordsOf = ({ pages }: Drawing): string =>
  pages
    .flatMap((page) => flattened(page.items).flatMap((item) => (item.kind === 'text' ? [item.text] : [])))
    .join(' ')
    .replaceAll(/\s+/g, ' ');

/** The leaves of a JSON schema by their paths: `face.fromPlumb`, `gaps[].s`. */
function leaves(schema: Loose, path = ''): string[] {
  if (schema.properties !== undefined)
    return Object.entries(schema.properties).flatMap(([key, each]) =>
      leaves(each, path === '' ? key : `${path}.${key}`),
    );
  if (schema.items !== undefined) return leaves(schema.items, `${path}[]`);
  return [path];
}

function asBuiltSchema(): Loose {
  const schema: Loose = JSON.parse(jobJsonSchema());
  const found = schema.properties.fittings.items.properties.asBuilt;
  if (found === undefined) throw new Error('the job takes no asBuilt');
  return found;
}

/** What a person would type from a filled-in record: figures as they stand on it, whichever face or end was circled. */
function typedBack(context: Context, reading: (field: string) => string, gap: (k: number) => string) {
  return {
    face: { fromPlumb: reading('face.fromPlumb'), looksUp: reading('face.looksUp') },
    foot: { fromLevel: reading('foot.fromLevel'), higher: reading('foot.higher') },
    turned: reading('turned'),
    gaps: gapSpots(context).map((spot, k) => ({ s: markText(spot.s, context), gap: gap(k) })),
  };
}

describe('a record that was filled in can be typed back in', () => {
  test('every field of asBuilt has its blank, named with its word, in its order; no blank is named that is none', async () => {
    const context = await contextOf(wedgeJob(0.3));
    const fields = readingRows(context).map((row) => row[1]);
    expect([...fields, 'gaps[].s', 'gaps[].gap']).toEqual(leaves(asBuiltSchema()));
    const text = wordsOf(record(context));
    let from = text.indexOf('Hold point 1');
    for (const field of [...fields, 'Fields gaps: s, gap']) {
      const at = text.indexOf(field, from);
      expect(at, field).toBeGreaterThan(from);
      from = at;
    }
    // Both answers to a question that has two stand there to be circled.
    for (const answer of ['face- (', 'face+ (', 'end- (', 'end+ (']) expect(text).toContain(answer);
  });

  for (const display of ['metric', 'us'] as const) {
    test(`filled in as planned, ${display}: read, planned, on the sides it was felt at, as near as it is written`, async () => {
      const job = { ...wedgeJob(0.25, { fitting: { heading: '35 deg', stem: 'normal' } }), display };
      const context = await contextOf(job);
      const rows = new Map(readingRows(context).map((row) => [row[1], row[2]]));
      const { frame } = context.fitting;
      const reading = (field: string): string => {
        const planned = rows.get(field) as string;
        if (field === 'face.looksUp' && planned === 'plumb') return 'face+';
        if (field === 'foot.higher' && planned === 'level') return 'end+';
        return planned.replace('°', ' deg');
      };
      const spots = gapSpots(context);
      const asBuilt = typedBack(context, reading, () => (display === 'us' ? '0.020 in' : '0.5 mm'));
      const again = { ...job, fittings: [{ ...job.fittings[0], asBuilt }] };
      const read = readJob(JSON.stringify(again), () => undefined);
      expect(read.ok ? [] : read.faults).toEqual([]);
      const built = planOf(again).fittings[0]?.asBuilt;
      if (built === null || built === undefined) throw new Error('no lug as built');
      // Readings to a tenth of a degree: the stem is found within half of that either way, twice.
      expect(built.offPlanned).toBeLessThan(0.1 * DEG);
      expect(frame.stem).toEqual(context.fitting.frame.stem);
      built.gaps.forEach((felt, k) => {
        const spot = spots[k];
        if (spot === undefined) throw new Error('a gap nobody felt');
        expect(Math.abs(felt.s - spot.s)).toBeLessThan(display === 'us' ? 0.13 : 0.51);
        expect(felt.planned).toBeCloseTo(spot.planned, 1);
      });
      expect(built.gaps.length).toBe(spots.length);
    });
  }

  test('what the written file says: pages read by another program hold fields, limits and marks', async () => {
    if (spawnSync('pdftotext', ['-v']).error !== undefined) return;
    const context = await contextOf({ ...wedgeJob(0.3), display: 'us' });
    const { stdout } = spawnSync('pdftotext', ['-layout', '-', '-'], {
      input: await writePdf(record(context), context.fonts),
    });
    const text = stdout.toString('utf8').replaceAll(/\s+/g, ' ');
    for (const [, field, planned, within] of readingRows(context)) {
      for (const word of [field, planned, ...within.split(' ')]) expect(text).toContain(word);
    }
    for (const spot of gapSpots(context)) expect(text).toContain(markText(spot.s, context));
    const { limits } = context.plan.job;
    expect(text).toContain(`tight to ${gapLength(limits.fitGap, 'us')}`);
  });
});

test('the sketch looks down on the foot from the pin: sides, letters in the order of s, which way a turn counts', async () => {
  for (const side of ['port', 'starboard'] as const) {
    const context = await contextOf(
      wedgeJob(0.25, { fitting: { heading: '35 deg', stem: 'normal', at: { station: '10 m', side, girth: '2 m' } } }),
    );
    const { frame } = context.fitting;
    // A to the right and -C upward: their cross product is the way to the reader, who has to be at the pin.
    const up: Vec3 = [-frame.face[0], -frame.face[1], -frame.face[2]];
    expect(dot(cross(frame.foot, up), frame.stem)).toBeCloseTo(1, 9);
    const page = record(context).pages.find((each) =>
      wordsOf({ title: '', pages: [each] }).includes('seen from the pin'),
    );
    const texts = page?.items.filter((item): item is TextItem => item.kind === 'text') ?? [];
    const at = (start: string) => {
      const found = texts.find((text) => text.bold && (text.text === start || text.text.startsWith(`${start} (`)));
      if (found === undefined) throw new Error(`no ${start} in the sketch`);
      return found.at;
    };
    expect(at('face-').y).toBeGreaterThan(at('face+').y);
    expect(at('end+').x).toBeGreaterThan(at('end-').x);
    // Along face- to the right, down end+, back along face+, up end-.
    const spots = gapSpots(context);
    const letters = spots.map((_, k) => at(String.fromCharCode(97 + k)));
    const middle = { x: (at('end-').x + at('end+').x) / 2, y: (at('face-').y + at('face+').y) / 2 };
    letters.forEach((p, k) => {
      const q = letters[(k + 1) % letters.length] as { x: number; y: number };
      // Clockwise all the way round.
      expect((p.x - middle.x) * (q.y - middle.y) - (q.x - middle.x) * (p.y - middle.y)).toBeLessThan(0);
    });
    const first = letters[0] as { x: number; y: number };
    expect(first.x < middle.x && first.y > middle.y).toBe(true);
  }
});

describe('limits beside the blank', () => {
  /** So strong and so lightly loaded that nothing but the share across the plate decides. */
  const light = (fitting: Loose = {}) =>
    wedgeJob(0.2, { fitting: { load: { direction: [0, 0, -1], force: '5 kN' }, ...fitting } });

  test('a plumb lug pulled straight down may lean by the arc sine of the share that may act across it (5 %: 2.87 degrees)', async () => {
    const { plan, fitting } = await contextOf(light());
    const limits = readingLimits(plan, fitting);
    const exact = Math.asin(plan.job.limits.sidewaysShare);
    expect(limits.faceLean.planned).toBeCloseTo(0, 9);
    expect(Math.abs((limits.faceLean.within?.to ?? 0) - exact)).toBeLessThan(0.05 * DEG);
    expect(Math.abs((limits.faceLean.within?.from ?? 0) + exact)).toBeLessThan(0.05 * DEG);
    // Never past the limit, whatever the rounding.
    expect(limits.faceLean.within?.to).toBeLessThanOrEqual(exact);
    expect(withinText(limits.faceLean, 'face- up', 'face+ up')).toBe('2.8° face- up to 2.8° face+ up');
    // A pull along the stem stays in the plane of a plate that is turned about the stem.
    expect(limits.turned.binds).toEqual({ from: false, to: false });
  });

  test('a reading at the limit as printed passes when it is typed back in, one a quarter of a degree past it does not', async () => {
    for (const fitting of [{}, { stem: 'normal', heading: '20 deg' }]) {
      const job = light({
        ...fitting,
        ...(fitting.stem === undefined
          ? {}
          : { load: { direction: [0.01, Math.tan(0.2) + 0.015, -1], force: '5 kN' } }),
      });
      const context = await contextOf(job);
      const { faceLean } = readingLimits(context.plan, context.fitting);
      if (faceLean.within === undefined) throw new Error('the plan fails by itself');
      const passes = (lean: number): boolean => {
        const asBuilt = {
          face: { fromPlumb: `${Math.abs(lean) / DEG} deg`, looksUp: lean >= 0 ? 'face+' : 'face-' },
          gaps: [],
        };
        const built = planOf({ ...job, fittings: [{ ...job.fittings[0], asBuilt }] }).fittings[0]?.asBuilt;
        return built?.checks.every((check) => check.pass) ?? false;
      };
      const tenth = 0.1 * DEG;
      expect(passes(Math.floor(faceLean.within.to / tenth) * tenth)).toBe(true);
      expect(passes(Math.ceil(faceLean.within.from / tenth) * tenth)).toBe(true);
      if (faceLean.within.to - faceLean.planned < 4.9 * DEG)
        expect(passes(faceLean.within.to + 0.25 * DEG)).toBe(false);
      if (faceLean.planned - faceLean.within.from < 4.9 * DEG)
        expect(passes(faceLean.within.from - 0.25 * DEG)).toBe(false);
    }
  });

  test('words for limits: rounded to the safe side, with the face they lean to; a plan that fails says so', () => {
    const limits = (from: number, planned: number, to: number) => ({
      planned: planned * DEG,
      within: { from: from * DEG, to: to * DEG },
      binds: { from: true, to: true },
    });
    expect(withinText(limits(-2.86, 0, 1.24), '-', '+')).toBe('2.8° - to 1.2° +');
    expect(withinText(limits(17.12, 20, 22.88), '-', '+')).toBe('17.2° to 22.8° +');
    expect(withinText(limits(-22.88, -20, -17.12), '-', '+')).toBe('17.2° to 22.8° -');
    // Met on one side alone within what was looked at: only that side is a limit.
    const one = (from: number, planned: number, to: number, binds: { from: boolean; to: boolean }) =>
      withinText({ ...limits(from, planned, to), binds }, '-', '+');
    expect(one(-5, 0, 4.56, { from: false, to: true })).toBe('not over 4.5° +');
    expect(one(-1.34, 0.2, 5.2, { from: true, to: false })).toBe('not over 1.3° -');
    expect(one(17.12, 20, 25, { from: true, to: false })).toBe('not under 17.2° +');
    expect(one(-25, -20, -17.12, { from: false, to: true })).toBe('not under 17.2° -');
    expect(one(-5, 0, 5, { from: false, to: false })).toBe('the gaps decide');
    expect(withinText(limits(19.96, 19.97, 19.98), '-', '+')).toBe('20.0°, no more');
    expect(withinText({ planned: 0, binds: { from: true, to: true } }, '-', '+')).toContain('fails');
  });
});

/** Rows of a table by the rectangles of their cells: height, and the words that stand in each. */
function rowsOf(page: Page): { height: number; cells: string[] }[] {
  const rects = page.items.flatMap((item) => {
    if (item.kind !== 'path' || !item.closed || item.points.length !== 4 || item.pen?.grey !== 0.35) return [];
    const [xs, ys] = [item.points.map((p) => p.x), item.points.map((p) => p.y)];
    return [{ x0: Math.min(...xs), x1: Math.max(...xs), y0: Math.min(...ys), y1: Math.max(...ys) }];
  });
  const texts = page.items.filter((item): item is TextItem => item.kind === 'text');
  const rows = new Map<string, { height: number; cells: string[] }>();
  for (const r of rects) {
    const key = `${r.y0.toFixed(3)} ${r.y1.toFixed(3)}`;
    const row = rows.get(key) ?? { height: r.y1 - r.y0, cells: [] };
    const inside = texts.filter(({ at }) => at.x >= r.x0 && at.x <= r.x1 && at.y >= r.y0 && at.y <= r.y1);
    row.cells.push(inside.map((text) => text.text).join(' '));
    rows.set(key, row);
  }
  return [...rows.values()];
}

describe('every sample, both systems of units', () => {
  for (const { name, job, file } of sampleJobs()) {
    test(`${name}: four pages at the most, rows to write in at least 8 mm high, no type under 8 points but in the foot`, async () => {
      for (const display of ['metric', 'us'] as const) {
        for (const context of await contextsOf(planOf({ ...job, display }, file), { fonts })) {
          const { pages } = record(context);
          expect(pages.length).toBeLessThanOrEqual(4);
          const low = pages.flatMap(rowsOf).filter(({ height, cells }) => cells.includes('') && height < 8 - 1e-6);
          expect(low).toEqual([]);
          const rows = pages.flatMap(rowsOf).length;
          expect(rows).toBeGreaterThan(45);
          const small = pages.flatMap((page) =>
            page.items.filter((item) => item.kind === 'text' && item.size < 8 && item.at.y > 16),
          );
          expect(small).toEqual([]);
        }
      }
    });
  }

  test('hold points stand in the order they are met, each with its blanks; every run has a row; signatures come last', async () => {
    for (const { job, file } of sampleJobs().slice(0, 4)) {
      for (const context of await contextsOf(planOf(job, file), { fonts })) {
        const text = wordsOf(record(context));
        const { holds } = context.fitting.weld;
        const order = [
          'Before anyone dives',
          'Marked out on the shell',
          `Hold point 1: ${holds[0]?.seen}`,
          `Hold point 2: ${holds[1]?.seen}`,
          'Hot pass, fill and cap',
          `Hold point 3: ${holds.at(-1)?.seen}`,
          'Weight taken',
          'signature date',
        ].map((words) => text.lastIndexOf(words));
        expect(order.every((at) => at >= 0)).toBe(true);
        expect(order).toEqual([...order].sort((p, q) => p - q));
        expect(text.split('agreed yes / no, by').length - 1).toBe(holds.length);
        const runs = rowsOfAll(record(context)).filter(
          ({ cells }) => /^\d+$/.test(cells[0] ?? '') && cells.length === 9,
        );
        expect(runs.map(({ cells }) => Number(cells[0]))).toEqual(context.fitting.sequence.runs.map(({ run }) => run));
      }
    }
  });
});

const rowsOfAll = ({ pages }: Drawing) => pages.flatMap(rowsOf);
