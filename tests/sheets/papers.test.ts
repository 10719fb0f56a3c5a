import { spawnSync } from 'node:child_process';
import Papa from 'papaparse';
import { describe, expect, test } from 'vitest';
import { newHit } from '../../geometry/hull/shell.ts';
import { bevelCsv, bevelRows, bevelSheet } from '../../src/sheets/beveltable.ts';
import { calculation } from '../../src/sheets/calculation.ts';
import { type Context, contextsOf } from '../../src/sheets/context.ts';
import { diveList } from '../../src/sheets/divelist.ts';
import { type Drawing, flattened } from '../../src/sheets/drawing.ts';
import { shopLength, thirtySeconds } from '../../src/sheets/figures.ts';
import { textBox, widthOf } from '../../src/sheets/fonts.ts';
import { tiledTemplate } from '../../src/sheets/foottemplate.ts';
import { liftingPlan } from '../../src/sheets/liftingplan.ts';
import { markoutSheet } from '../../src/sheets/markout.ts';
import { writePdf } from '../../src/sheets/pdf.ts';
import { plateSheet } from '../../src/sheets/plate.ts';
import { record } from '../../src/sheets/record.ts';
import { sidesInWords } from '../../src/sheets/sides.ts';
import { layoutTex } from '../../src/sheets/tex.ts';
import { trialTemplate } from '../../src/sheets/trial.ts';
import { contextOf, fonts, HOSTILE, HOSTILE_ID, planOf, sampleJobs, wedgeJob } from './plans.ts';
import { openPdf } from './readback.ts';

const PAPERS: Readonly<Record<string, (context: Context) => Drawing>> = {
  calculation,
  record,
  diveList,
  liftingPlan,
  markoutSheet,
  plateSheet,
  bevelSheet,
  tiledTemplate,
  trialTemplate,
};

const textsOf = (page: Drawing['pages'][number]): string[] =>
  flattened(page.items).flatMap((item) => (item.kind === 'text' ? [item.text] : []));

describe('every paper, every sample, both systems of units, both papers', () => {
  for (const { name, job, file } of sampleJobs()) {
    test(name, async () => {
      for (const [display, paper] of [
        ['metric', 'a4'],
        ['us', 'letter'],
        ['us', 'a4'],
      ] as const) {
        for (const context of await contextsOf(planOf({ ...job, display }, file), {
          fonts,
          paper,
          revision: 'C',
          date: '2026-03-14',
        })) {
          const faults: string[] = [];
          for (const [what, make] of Object.entries(PAPERS)) {
            const { pages } = make(context);
            pages.forEach((page, i) => {
              const texts = textsOf(page);
              const mark = texts.find((text) => text.startsWith('job digest '));
              if (!mark?.includes(context.digest)) faults.push(`${what} page ${i + 1}: no digest`);
              if (!mark?.includes('rev C') || !mark.includes('2026-03-14'))
                faults.push(`${what} page ${i + 1}: no revision, date`);
              if (!texts.includes(`page ${i + 1} of ${pages.length}`))
                faults.push(`${what} page ${i + 1}: not numbered`);
              if (!texts.some((text) => text.startsWith('A planning aid')))
                faults.push(`${what} page ${i + 1}: no caution`);
              for (const item of page.items) {
                if (item.kind !== 'text' || item.rotation !== 0) continue;
                const box = textBox(context.fonts, item);
                if (box.x0 < 4 || box.x1 > page.width - 4 || box.y0 < 3 || box.y1 > page.height - 4) {
                  faults.push(`${what} page ${i + 1}: "${item.text}" off the page`);
                }
                if (item.text.includes('NaN') || item.text.includes('undefined') || item.text.includes('Infinity')) {
                  faults.push(`${what} page ${i + 1}: "${item.text}"`);
                }
              }
              const [w, h] = paper === 'a4' ? [210, 297] : [215.9, 279.4];
              if (Math.abs(page.width * page.height - w * h) > 1e-6) faults.push(`${what} page ${i + 1}: not ${paper}`);
            });
          }
          expect(faults).toEqual([]);
        }
      }
    });
  }
});

describe('calculation', () => {
  test('every check of the plan stands in the summary and in full, failures in words and first', async () => {
    for (const { job, file } of sampleJobs()) {
      for (const context of await contextsOf(planOf(job, file), { fonts })) {
        const drawing = calculation(context);
        const all = drawing.pages.map((page) => textsOf(page).join(' '));
        const text = all.join(' ');
        const { checks } = context.fitting;
        const failing = checks.filter((check) => !check.pass);
        if (failing.length > 0) expect(all[0]).toContain(`${failing.length} of ${checks.length} checks FAIL`);
        else expect(all[0]).toMatch(new RegExp(`All ${checks.length} checks (of its own pull )?pass\\.`));
        checks.forEach((check, i) => {
          const title = sidesInWords(context.fitting, check.title);
          expect(text.replaceAll(/\s+/g, ' ')).toContain(`${i + 1}  ${title}`.replaceAll(/\s+/g, ' '));
        });
        const words = (text.match(/: FAILS\./g) ?? []).length;
        expect(words).toBeGreaterThanOrEqual(failing.length);
        if (context.plan.lift !== null) expect(all[0]).toContain('Over the movement of the load');
        expect(text).toContain('Signed');
      }
    }
  });

  test('errors of the readings stand in it where they were followed through, and only there', async () => {
    const plan = planOf(wedgeJob(0.3));
    const spread = { mean: 0.31, deviation: 0.01, low: 0.29, median: 0.31, high: 0.33 };
    const uncertainty = {
      samples: 4000,
      seed: 7,
      fittings: [
        {
          id: 'A',
          bevel: spread,
          gap: spread,
          offPlane: spread,
          fits: 0.913,
          usable: 0.99,
          missed: 0,
          stock: 2.4,
          gap95: 1.9,
          inputs: [{ path: 'ship.heel', bevel: 0.7, gap: 0.2, offPlane: 0.1 }],
        },
      ],
    };
    const textOf = async (with_: typeof plan) => {
      const [context] = await contextsOf(with_, { fonts });
      return calculation(context as Context)
        .pages.map((page) => textsOf(page).join(' '))
        .join(' ');
    };
    const text = await textOf({ ...plan, uncertainty });
    for (const word of ['4000 times (seed 7)', '91.3 %', '2.4 mm', 'heel', '70 %', '30 %'])
      expect(text).toContain(word);
    expect(await textOf(plan)).not.toContain('What the errors of the readings do');
  });

  test('the contents name the page each part stands on', async () => {
    for (const { job, file } of sampleJobs().slice(0, 4)) {
      for (const display of ['metric', 'us'] as const) {
        const context = (await contextsOf(planOf({ ...job, display }, file), { fonts }))[0] as Context;
        const pages = calculation(context).pages.map(textsOf);
        const from = pages.findIndex((texts) => texts.includes('Contents'));
        const faults: string[] = [];
        let entries = 0;
        pages.slice(from, from + 1).forEach((texts) => {
          texts.forEach((text, i) => {
            const number = /^\d+$/.exec(text)?.[0];
            if (number === undefined) return;
            entries++;
            // A long heading is broken where a cell of the contents is not.
            const heading = (texts[i - 1] as string).trim();
            if (!pages[Number(number) - 1]?.join(' ').includes(heading)) faults.push(`${heading}: ${text}`);
          });
        });
        expect(faults).toEqual([]);
        expect(entries).toBeGreaterThan(25);
      }
    }
  });

  test('every formula is set as mathematics: no command left over, nothing without size', async () => {
    const seen = new Set<string>();
    for (const basis of ['aisc-360-asd', 'aisc-360-lrfd', 'en-1993', 'bth-1']) {
      for (const { job, file } of sampleJobs()) {
        for (const context of await contextsOf(planOf({ ...job, basis }, file), { fonts })) {
          for (const { tex } of context.fitting.checks) {
            if (tex === '' || seen.has(tex)) continue;
            seen.add(tex);
            const box = layoutTex(context.fonts, tex, 11);
            expect(box.width).toBeGreaterThan(3);
            const words = box.items.flatMap((item) => (item.kind === 'text' ? [item.text] : []));
            for (const word of words) {
              expect(word).not.toMatch(/[\\{}^_]/);
              // A word of more letters than one is a name a reader knows or set upright, not a command that was not.
              const upright = [...tex.matchAll(/\\mathrm\{([a-z]+)\}/g)].map((match) => match[1]);
              if (/^[a-z]{2,}$/.test(word)) {
                expect(['max', 'min', 'sin', 'cos', 'arcsin', 'mm', ...upright]).toContain(word);
              }
            }
          }
        }
      }
    }
    expect(seen.size).toBeGreaterThan(20);
  });

  test('a fraction stands with its line between, a root covers what is under it (positions by hand)', async () => {
    const context = await contextOf(wedgeJob(0.3));
    const box = layoutTex(context.fonts, String.raw`\frac{a}{b}`, 10);
    const at = (text: string) => {
      const item = box.items.find((each) => each.kind === 'text' && each.text === text);
      if (item?.kind !== 'text') throw new Error(`no ${text}`);
      return item.at;
    };
    const line = box.items.find((item) => item.kind === 'path');
    if (line?.kind !== 'path') throw new Error('no line');
    const y = line.points[0]?.y ?? 0;
    expect(at('a').y).toBeGreaterThan(y);
    expect(at('b').y).toBeLessThan(y);
    const root = layoutTex(context.fonts, String.raw`\sqrt{abc}`, 10);
    const inner = widthOf(context.fonts, 'abc', 10);
    const bar = root.items.find((item) => item.kind === 'path');
    if (bar?.kind !== 'path') throw new Error('no root');
    expect(Math.max(...bar.points.map((p) => p.x))).toBeGreaterThan(inner);
    expect(layoutTex(context.fonts, String.raw`\unheard x`, 10).items.length).toBe(2);
  });
});

test('US lengths: nearest 1/32 in lowest terms with the decimal (closed form)', () => {
  expect(thirtySeconds(25.4 * (1 + 17 / 32))).toBe('1 17/32');
  expect(thirtySeconds(12.7)).toBe('1/2');
  expect(thirtySeconds(25.4 / 100)).toBe('0');
  expect(thirtySeconds(-25.4 * 2.25)).toBe('-2 1/4');
  expect(thirtySeconds(25.4 * (63.9 / 64))).toBe('1');
  expect(shopLength(280, 'us')).toBe('11 1/32 in (11.024)');
  expect(shopLength(280, 'metric')).toBe('280.0 mm');
});

describe('bevel table', () => {
  test('read back by a CSV reader it is the plan: stations, bevels in degrees, gaps not below zero', async () => {
    for (const { job, file } of sampleJobs()) {
      for (const context of await contextsOf(planOf(job, file), { fonts })) {
        const { data, errors } = Papa.parse<Record<string, string>>(bevelCsv(context), {
          header: true,
          skipEmptyLines: true,
        });
        expect(errors).toEqual([]);
        // The plan's own stations, or every inch: there the shell's own ray tells its height on either face.
        const { field, bevel } = context.fitting;
        const inches = context.plan.job.display === 'us';
        if (!inches) expect(data.length).toBe(bevel.schedule.length);
        const hit = newHit();
        const shell = (a: number, c: number) => {
          if (!field.cast(a, c, hit)) throw new Error(`no shell at ${a}`);
          return hit.f;
        };
        data.forEach((row, i) => {
          const number = (name: string) => Number(row[name]);
          const end = (i === 0 ? -1 : i === data.length - 1 ? 1 : 0) * field.halfFoot;
          const a = !inches
            ? (bevel.schedule[i]?.a ?? Number.NaN)
            : end === 0
              ? 25.4 * (i - (data.length - 1) / 2)
              : end;
          expect(number('along foot a (mm)')).toBeCloseTo(a, 2);
          expect(number('along foot a (in)') * 25.4).toBeCloseTo(a, 1);
          const [minus, plus] = [shell(a, -field.halfThickness), shell(a, field.halfThickness)];
          expect(number('shell at face- (mm)')).toBeCloseTo(minus, 2);
          const angle = Math.atan((plus - minus) / (2 * field.halfThickness));
          expect(number('shell bevel (deg)')).toBeCloseTo((angle * 180) / Math.PI, 2);
          if (!inches) expect(angle).toBeCloseTo(bevel.schedule[i]?.bevel ?? Number.NaN, 6);
          expect(number('gap at face- (mm)')).toBeGreaterThanOrEqual(-0.001);
          expect(number('cut at face+ (mm)') - number('shell at face+ (mm)')).toBeCloseTo(
            number('gap at face+ (mm)'),
            2,
          );
        });
        const { maxGap } = context.fitting.fit[context.fitting.fit.chosen];
        for (const row of bevelRows(context)) expect(Math.max(row.gapMinus, row.gapPlus)).toBeLessThan(maxGap + 1e-3);
      }
    }
  });

  test('a name that a spreadsheet would take for a formula is text', async () => {
    const context = await contextOf(wedgeJob(0.3, { fitting: { id: HOSTILE_ID }, job: { title: HOSTILE } }));
    const { data, errors } = Papa.parse<Record<string, string>>(bevelCsv(context), {
      header: true,
      skipEmptyLines: true,
    });
    expect(errors).toEqual([]);
    for (const row of data) {
      expect(row.fitting).toMatch(/^'=1\+1/);
      expect(row.job).toMatch(/^'=2\+3 "Aft"; 0 SECTION/);
      for (const [name, cell] of Object.entries(row))
        if (!/^-?[\d.]+$/.test(cell)) expect(`${name} ${cell}`).not.toMatch(/ [=+@\t\r]/);
    }
  });
});

describe('text from the job is text in the PDF', () => {
  const reads = spawnSync('pdftotext', ['-v']).error === undefined;
  test.skipIf(!reads)(
    'quotes, ends of line, markup, codes and right-to-left letters come out as they went in',
    async () => {
      const context = await contextOf(wedgeJob(0.3, { job: { title: 'Say "<b>no</b>" (x) \\) ≤ 3° שלום end' } }));
      const bytes = await writePdf(record(context), context.fonts);
      const { stdout } = spawnSync('pdftotext', ['-l', '1', '-', '-'], { input: bytes });
      const text = stdout.toString('utf8');
      expect(text).toContain('Say "<b>no</b>" (x) \\) ≤ 3°');
      expect(text).toMatch(/[\u0590-\u05FF]{4}/);
    },
  );

  test.skipIf(!reads)(
    'letters the typeface lacks are printed by their numbers, and every page that has them says so',
    async () => {
      const context = await contextOf(wedgeJob(0.3, { job: { title: 'Rudder 船舵 off' } }));
      const drawing = record(context);
      const { stdout } = spawnSync('pdftotext', ['-', '-'], { input: await writePdf(drawing, context.fonts) });
      const pages = stdout
        .toString('utf8')
        .split('\f')
        .filter((page) => page.trim() !== '');
      expect(pages.length).toBe(drawing.pages.length);
      for (const page of pages) {
        expect(page).toContain('Rudder [U+8239 U+8235] off');
        expect(page).toContain('letters this sheet cannot print');
      }
      const plain = await contextOf(wedgeJob(0.3, { job: { title: 'Ruder ab, äöü ЖД λ' } }));
      expect(textsOf(record(plain).pages[0] as Drawing['pages'][number]).join(' ')).not.toContain('cannot print');
    },
  );

  test('nothing a reader would run: no script, no action, no file attached', async () => {
    const context = await contextOf(wedgeJob(0.3, { job: { title: HOSTILE } }));
    const bytes = await writePdf(record(context), context.fonts);
    const text = Buffer.from(bytes).toString('latin1');
    expect(text).not.toMatch(/\/(JavaScript|JS|OpenAction|Launch|EmbeddedFile|URI)\b/);
    expect((await openPdf(bytes)).getTitle()).toContain('SECTION');
  });
});
