import { spawnSync } from 'node:child_process';
import { all, create, type FactoryFunctionMap } from 'mathjs';
import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/job/defaults.ts';
import { readingInWords } from '../../src/job/readingname.ts';
import { showPhrase } from '../../src/job/show.ts';
import type { Basis, Display } from '../../src/job/types.ts';
import { withOffers } from '../../src/plan/movement/offers.ts';
import type { Check, Plan } from '../../src/plan/types.ts';
import { uncertaintyOf } from '../../src/plan/uncertainty.ts';
import { calculation } from '../../src/sheets/calculation.ts';
import { assumedValue } from '../../src/sheets/calculation-assumptions.ts';
import { remedyWanted } from '../../src/sheets/calculation-check.ts';
import { readFormula, worked } from '../../src/sheets/calculation-formula.ts';
import { calculationSketch } from '../../src/sheets/calculation-sketch.ts';
import { printed, printedTex, printedText } from '../../src/sheets/calculation-values.ts';
import { type WorkLine, workOf } from '../../src/sheets/calculation-work.ts';
import { type Context, contextsOf } from '../../src/sheets/context.ts';
import { flattened, type Point, Sheet } from '../../src/sheets/drawing.ts';
import { atLeast, atMost, cardLength, roundedShares, sharesText, shopLength } from '../../src/sheets/figures.ts';
import { textBox } from '../../src/sheets/fonts.ts';
import { writePdf } from '../../src/sheets/pdf.ts';
import { sideNames, sidesInWords } from '../../src/sheets/sides.ts';
import { layoutTex, symbolTex } from '../../src/sheets/tex.ts';
import { inOwnUnits } from '../../src/sheets/words.ts';
import { fonts, planOf, sampleJobs, wedgeJob } from './plans.ts';
import { wordsOf } from './readback.ts';

/*
 * An engineer with a pocket calculator: every line of every check, as it stands on the paper, is taken apart from the TeX it is set
 * from, its printed figures with their printed units put into a general-purpose library (mathjs), and what comes out held against
 * the result that is printed behind it. A unit left out or a wrong one does not convert and fails; so does a digit too few.
 */
const math = create(all as FactoryFunctionMap, {});
math.createUnit('ksi', '1000 psi');
// Nothing is nothing in every unit: max(0, b) of lengths.
const [max, min] = [math.max, math.min];
type Value = Parameters<typeof math.multiply>[0];
const alike = (values: Value[]): Value[] => {
  const unit = values.find((value) => math.typeOf(value) === 'Unit');
  return unit === undefined ? values : values.map((value) => (value === 0 ? math.multiply(0, unit) : value));
};
math.import(
  {
    max: (...values: Value[]) => max(...(alike(values) as number[])),
    min: (...values: Value[]) => min(...(alike(values) as number[])),
  },
  { override: true },
);

const UNITS: readonly (readonly [RegExp, string])[] = [
  [/cm³/g, 'cm^3'],
  [/mm²/g, 'mm^2'],
  [/in³/g, 'in^3'],
  [/in²/g, 'in^2'],
  [/\bkip\b/g, 'kip'],
];
const unitText = (unit: string): string => UNITS.reduce((text, [from, to]) => text.replace(from, to), unit);

/** A formula with figures, from the TeX it is set from to what mathjs reads. */
function mathjsOf(tex: string): string {
  let at = 0;
  const group = (): string => {
    while (tex[at] === ' ') at++;
    if (tex[at] !== '{') throw new Error(`a group at ${tex.slice(at)}`);
    const from = ++at;
    for (let depth = 1; depth > 0; at++) depth += tex[at] === '{' ? 1 : tex[at] === '}' ? -1 : 0;
    return mathjsOf(tex.slice(from, at - 1));
  };
  let out = '';
  while (at < tex.length) {
    const rest = tex.slice(at);
    const figure = /^(\d+(?:\.\d+)?)\\,\\mathrm\{((?:[^{}\\]|\\,)*)\}/.exec(rest);
    if (figure !== null) {
      out += `(${figure[1]} ${unitText((figure[2] as string).replaceAll('\\,', ' '))})`;
      at += figure[0].length;
      continue;
    }
    const angle = /^(\d+(?:\.\d+)?)°/.exec(rest);
    if (angle !== null) {
      out += `(${angle[1]} deg)`;
      at += angle[0].length;
      continue;
    }
    const word = /^\\(frac|sqrt|left|right|times|min|max|sin|cos|pi|;|,)/.exec(rest)?.[1];
    if (word !== undefined) {
      at += word.length + 1;
      if (word === 'frac') out += `((${group()})/(${group()}))`;
      else if (word === 'sqrt') out += `sqrt(${group()})`;
      else if (word === 'left' || word === 'right') {
        const sign = tex[at++];
        out += sign === '|' ? (word === 'left' ? 'abs(' : ')') : sign;
      } else if (word === 'times') out += '*';
      else if (word === 'pi') out += 'pi';
      else if (word === 'sin' || word === 'cos') {
        let power = '1';
        if (tex[at] === '^') {
          at++;
          power = group();
        }
        while (tex[at] === ' ') at++;
        if (tex[at] === '{') out += `(${word}(${group()})^(${power}))`;
        else if (power === '1') out += word;
        else throw new Error(`a power of ${rest}`);
      } else out += word === ';' || word === ',' ? ' ' : word;
      continue;
    }
    if (tex[at] === '^') {
      at++;
      out += `^(${group()})`;
      continue;
    }
    const plain = /^(?:\d+(?:\.\d+)?|[+\-(),\s])/.exec(rest)?.[0];
    if (plain === undefined) throw new Error(`cannot read ${rest}`);
    out += plain;
    at += plain.length;
  }
  return out;
}

/** How far the figures put in give another result than the one printed, in units of its last digit. */
function miss(line: WorkLine): number {
  const { digits, unit } = line.result;
  const got = math.evaluate(mathjsOf(line.figures as string));
  const amount =
    unit === ''
      ? math.typeOf(got) === 'Unit'
        ? math.number(got.to('1'))
        : Number(got)
      : got.toNumber(unit === '°' ? 'deg' : unitText(unit));
  const last = 10 ** -(digits.split('.')[1]?.length ?? 0);
  return Math.abs(amount - Number(digits)) / last;
}

const checksOf = (plan: Plan, { fitting }: Context): readonly Check[] => [
  ...fitting.checks,
  ...(plan.lift?.checks ?? []),
  ...(plan.lift?.lugs.filter((lug) => lug.id === fitting.id).flatMap((lug) => lug.checks.map(({ check }) => check)) ??
    []),
];

/** What is wrong with a check as it is printed. */
function faultsOf(check: Check, context: Context): string[] {
  const { display } = context.plan.job;
  const work = workOf(check, context);
  const faults: string[] = [];
  const names = [
    ...work.terms.map(({ term }) => symbolTex(term.symbol) ?? term.symbol),
    ...work.lines.map((l) => l.name),
  ];
  const known = [...names].sort((p, q) => q.length - p.length);
  const strange = (tex: string): string =>
    known
      .reduce(
        (rest, name) => rest.replaceAll(name, ' '),
        tex.replaceAll(/\\(?:(?:frac|sqrt|left|right|times|min|max|sin|cos|pi|le)(?![A-Za-z])|[;,])/g, ' '),
      )
      .replaceAll(/[\d.+\-(),{}^|\s]/g, '');
  // What is told in vectors: each letter is told beside it, or stands in the table with its components.
  const letters = [...(work.beside?.tex ?? '').matchAll(/\\mathbf\s*\{?\s*([A-Za-z])/g)].map(
    (found) => found[1] as string,
  );
  for (const letter of new Set(letters)) {
    const told = new RegExp(`\\b${letter}\\b`).test(work.beside?.words ?? '');
    const listed = names.some((name) => name === letter || name.startsWith(`${letter}_`));
    const made =
      ['q', 'u', 'w'].includes(letter) && new RegExp(`mathbf ${letter}( =|,| )`).test(work.beside?.tex ?? '');
    if (!told && !listed && !made) faults.push(`${check.id}: ${letter} of ${work.beside?.tex} is not explained`);
  }
  if (work.relation === undefined)
    faults.push(`${check.id}: "${check.formula}" is no formula whose symbols can be looked up`);
  const formulas = [work.relation ?? '', ...work.lines.map((line) => line.symbols ?? '')];
  for (const tex of formulas)
    if (strange(tex) !== '') faults.push(`${check.id}: "${strange(tex)}" of ${tex} is not explained`);
  for (const line of work.lines) {
    if (line.figures === undefined) continue;
    const by = miss(line);
    if (!(by <= 0.551)) faults.push(`${check.id}: ${line.figures} is not ${printedText(line.result)}, off by ${by}`);
  }
  // Where a side of the formula is one symbol, that symbol is what is asked or allowed.
  const sides = (work.relation ?? '').split(String.raw` \le `);
  (['demand', 'limit'] as const).forEach((side, i) => {
    const name = sides[i];
    const term = work.terms.find((each) => (symbolTex(each.term.symbol) ?? '') === name);
    const line = work.lines.findLast((each) => each.name === name);
    const found = term?.printed ?? line?.result;
    if (found === undefined) return;
    const asked = printed(check[side], check.unit, display);
    if (Math.abs(found.value - check[side]) > found.half * 1.001 + 1e-9)
      faults.push(`${check.id}: ${side} ${printedText(asked)}, but ${name} = ${printedText(found)}`);
  });
  return faults;
}

const BASES: readonly Basis[] = ['aisc-360-asd', 'aisc-360-lrfd', 'en-1993', 'bth-1'];
const SYSTEMS: readonly Display[] = ['metric', 'us'];

/** Lugs that the samples leave out: thin and thick cheeks, loose pins, a pull aslant and across, own limits, a wet weld's factors. */
function strangeJobs() {
  const lug = {
    foot: '300 mm',
    thickness: '30 mm',
    pinHeight: '200 mm',
    hole: '50 mm',
    topRadius: '90 mm',
    shoulder: '50 mm',
  };
  const shackle = { wll: '25 t', pin: '42 mm', jaw: '74 mm' };
  const fittings = [
    { lug: { ...lug, cheek: { radius: '70 mm', thickness: '12 mm' } }, shackle },
    {
      lug: { ...lug, thickness: '12 mm', cheek: { radius: '82 mm', thickness: '20 mm' } },
      load: { direction: [0.4, 0.3, -1], force: '47 kN' },
    },
    {
      lug: { ...lug, foot: '9 1/2 in', thickness: '1 1/4 in' },
      stem: 'normal',
      load: { direction: [-1, 0.2, -0.6], force: '31.7 kip' },
    },
    {
      lug: { ...lug, foot: '60 mm', topRadius: '45 mm', hole: '26 mm', shoulder: '20 mm' },
      load: { direction: [0, 1, -1], force: '400 kN' },
      shackle: { ...shackle, pin: '25 mm' },
    },
    { lug: { ...lug, foot: '600 mm', thickness: '80 mm' }, load: { direction: [0, 0.05, -1], force: '900 kN' } },
  ];
  return fittings.map((fitting, i) => ({
    name: `made up ${i + 1}`,
    job: wedgeJob(0.1 + 0.13 * i, { fitting, job: i === 1 ? { limits: { offPlane: '8 deg' } } : {} }),
    file: () => undefined,
  }));
}

describe('every line of every check with a pocket calculator (mathjs)', () => {
  test('what the translation reads is what is set', () => {
    expect(
      mathjsOf(String.raw`\frac{2 \times 38.0\,\mathrm{mm}}{\sqrt{3} \times 1.25} -\left(-0.1\,\mathrm{kN\,m}\right)`),
    ).toBe('((2 * (38.0 mm))/(sqrt(3) * 1.25)) -(-(0.1 kN m))');
    expect(math.evaluate(mathjsOf(String.raw`\left|\sin {30.0°}\right| + \cos^{2} {60.0°}`))).toBeCloseTo(0.75, 12);
    // A figure with a digit too few, one in another unit, one without: each is found.
    const line = (figures: string): WorkLine => ({
      name: 'F',
      figures,
      result: { digits: '891.43', unit: 'kN', value: 891430, half: 5, exact: false },
    });
    const by = (b: string) =>
      miss(line(String.raw`\frac{400.0\,\mathrm{MPa} \times 2 \times 38.0\,\mathrm{mm} \times ${b}}{2}`));
    expect(by(String.raw`58.647\,\mathrm{mm}`)).toBeLessThan(0.55);
    expect(by(String.raw`58.6\,\mathrm{mm}`)).toBeGreaterThan(50);
    expect(by(String.raw`58.647\,\mathrm{cm}`)).toBeGreaterThan(1000);
    expect(() => by('58.647')).toThrow();
  });

  for (const { name, job, file } of [...sampleJobs(), ...strangeJobs()]) {
    test(name, async () => {
      const faults: string[] = [];
      let lines = 0;
      for (const basis of BASES) {
        for (const display of SYSTEMS) {
          const plan = planOf({ ...job, basis, display }, file);
          for (const context of await contextsOf(plan, { fonts })) {
            for (const check of checksOf(plan, context)) {
              faults.push(...faultsOf(check, context).map((fault) => `${basis} ${display} ${fault}`));
              lines += workOf(check, context).lines.filter((line) => line.figures !== undefined).length;
            }
          }
        }
      }
      expect(faults).toEqual([]);
      expect(lines).toBeGreaterThan(150);
    });
  }
});

type Pages = ReturnType<typeof calculation>['pages'];
const textsOn = (page: Pages[number]): string[] =>
  flattened(page.items).flatMap((item) => (item.kind === 'text' ? [item.text] : []));

describe('the pages of the calculation', () => {
  for (const { name, job, file } of sampleJobs().filter((sample) => /^[akg]-/.test(sample.name))) {
    test(`${name}: what was worked is what stands on the paper, figure for figure`, async () => {
      for (const display of SYSTEMS) {
        const plan = planOf({ ...job, display }, file);
        for (const context of await contextsOf(plan, { fonts })) {
          const pages = calculation(context).pages.map((page) => textsOn(page).join('\u0001'));
          const missing: string[] = [];
          const stands = (texts: readonly string[]): boolean => {
            const run = texts.join('\u0001');
            return pages.some((page) => page.includes(run));
          };
          for (const check of context.fitting.checks) {
            const { lines, terms } = workOf(check, context);
            for (const line of lines) {
              const parts = [line.figures, printedTexOf(line)].filter((tex) => tex !== undefined);
              for (const tex of parts) {
                const box = layoutTex(context.fonts, `= ${tex}`, 10);
                const texts = box.items.flatMap((item) => (item.kind === 'text' ? [item.text] : []));
                if (!stands(texts)) missing.push(`${check.id}: ${tex}`);
              }
            }
            for (const term of terms)
              if (!stands([printedText(term.printed)])) missing.push(`${check.id}: ${term.term.symbol}`);
          }
          expect(missing).toEqual([]);
        }
      }
    });
  }

  test('no type under 8 pt, US pages without a metric unit in their formulas, metric pages without an inch', async () => {
    for (const { job, file } of sampleJobs()) {
      for (const display of SYSTEMS) {
        for (const context of await contextsOf(planOf({ ...job, display }, file), { fonts, date: '2026-03-14' })) {
          for (const page of calculation(context).pages) {
            const small = flattened(page.items).filter((item) => item.kind === 'text' && item.size < 8);
            expect(small.map((item) => (item.kind === 'text' ? `${item.text}: ${item.size} pt` : ''))).toEqual([]);
          }
          for (const check of context.fitting.checks) {
            const { relation, beside, lines, terms } = workOf(check, context);
            const all = [
              relation,
              beside?.tex,
              ...lines.flatMap((line) => [line.symbols, line.figures, printedText(line.result)]),
              ...terms.map((term) => printedText(term.printed)),
            ].join(' ');
            expect(all).not.toMatch(display === 'us' ? /\b(mm|kN|MPa|N)\b|cm³/ : /\b(in|kip|ksi|lbf)\b|in³/);
          }
        }
      }
    }
  });

  const reads = spawnSync('pdftotext', ['-v']).error === undefined;
  const pdfText = async (context: Context): Promise<string> => {
    const { stdout } = spawnSync('pdftotext', ['-layout', '-', '-'], {
      input: await writePdf(calculation(context), context.fonts),
      maxBuffer: 1 << 26,
    });
    return stdout.toString('utf8');
  };

  test.skipIf(!reads)('heat input on the written page: its figures give it (a watt is a joule a second)', async () => {
    for (const display of SYSTEMS) {
      const sample = sampleJobs().find(({ name }) => name.startsWith('a-'));
      const plan = planOf({ ...sample?.job, display }, sample?.file);
      const [context] = await contextsOf(plan, { fonts });
      const text = (await pdfText(context as Context)).replaceAll(/\s+/g, ' ');
      const found =
        /60 s\/min × ([\d.]+) V × ([\d.]+) A \/ \(1000 J\/kJ × ([\d.]+) (mm|in)\/min\) = ([\d.]+) kJ\/(mm|in)/.exec(
          text,
        );
      if (found === null) throw new Error('no heat input');
      const [, volts, amperes, travel, per, heat, unit] = found;
      expect(per).toBe(display === 'us' ? 'in' : 'mm');
      expect(unit).toBe(per);
      const got = math.evaluate(`${volts} V * ${amperes} A / (${travel} ${per}/minute)`).toNumber(`kJ/${per}`);
      expect(Math.abs(got - Number(heat))).toBeLessThan(0.0055);
      expect(context?.fitting.weld.supply?.heatKjPerMm).toBeCloseTo(
        math.evaluate(`${heat} kJ/${per}`).toNumber('kJ/mm'),
        2,
      );
    }
  });

  test.skipIf(!reads)(
    'what the ± of the readings do stands in the written file as it was sampled, in both systems',
    async () => {
      const sample = sampleJobs().find(({ name }) => name.startsWith('n-'));
      for (const display of SYSTEMS) {
        const plan = planOf({ ...sample?.job, display }, sample?.file);
        const uncertainty = uncertaintyOf(plan, { samples: 200, seed: 11 });
        if (uncertainty === undefined) throw new Error('nothing carries a ± in this sample');
        const [context] = await contextsOf({ ...plan, uncertainty }, { fonts });
        const whole = await pdfText(context as Context);
        const text = whole.slice(whole.lastIndexOf('What the errors of the readings do'));
        const [found] = uncertainty.fittings;
        if (found === undefined) throw new Error('no fitting');
        expect(text).toContain('200 times (seed 11)');
        // By hand: a degree is pi/180, an inch 25.4 mm; a gap stands to a tenth of a mm or a thousandth of an inch.
        const degree = (rad: number) => `${((rad * 180) / Math.PI).toFixed(2)}°`.replace(/^-(0\.00°)$/, '$1');
        const thousandths = (mm: number) => (mm / 25.4).toFixed(3).replace(/^0/, '');
        // Half of 1/32 in and more stands as a fraction too.
        const inch = (mm: number) => (mm / 25.4 < 1 / 64 ? `${thousandths(mm)} in` : `(${thousandths(mm)})`);
        const gap = (mm: number) => (display === 'metric' ? `${mm.toFixed(1)} mm` : inch(mm));
        const row = (name: string) => text.split('\n').find((line) => line.includes(name)) ?? '';
        const spreads = [
          ['bevel the shell asks for', found.bevel, degree],
          ['largest gap of the plate as cut', found.gap, gap],
          ['pull out of the plane', found.offPlane, degree],
        ] as const;
        for (const [name, spread, say] of spreads) {
          for (const value of [spread.mean, spread.deviation, spread.low, spread.high]) {
            expect(row(name), name).toContain(say(value));
          }
        }
        expect(row('Tight fits')).toContain(`${(found.fits * 100).toFixed(1)} %`);
        expect(row('Fits that need no new cut')).toContain(`${(found.usable * 100).toFixed(1)} %`);
        expect(row('Feet that found no shell')).toContain(`${(found.missed * 100).toFixed(1)} %`);
        // What is left on, and what 95 of 100 stay below, is told up to the next of these.
        const step = display === 'metric' ? 0.1 : 0.0254;
        const up = (mm: number) => gap(Math.ceil(mm / step - 1e-6) * step);
        expect(row('Metal to leave')).toContain(up(found.stock));
        expect(row('Gap that 95')).toContain(up(found.gap95));
        expect(found.inputs.length).toBeGreaterThan(0);
        const table = text.slice(text.indexOf('Share of the variance')).split('\n');
        const column = (k: number) =>
          table
            .slice(1, 1 + table.findIndex((line) => line.includes('all else, and what')))
            .flatMap((line) => line.match(/\d+ ?%|does not move/g)?.[k] ?? []);
        const all = [
          [found.bevel, 'bevel'],
          [found.gap, 'gap'],
          [found.offPlane, 'offPlane'],
        ] as const;
        all.forEach(([spread, of], k) => {
          const printedShares = column(k);
          if (spread.deviation < (of === 'gap' ? 0.05 : 0.005 * (Math.PI / 180)))
            expect(new Set(printedShares)).toEqual(new Set(['does not move']));
          else {
            const numbers = printedShares.map((share) => Number.parseInt(share, 10));
            expect(numbers.reduce((p, q) => p + q, 0)).toBe(100);
            // Each within one per cent of what was found, beside the scaling to a whole.
            const sum = Math.max(1, ...[found.inputs.reduce((p, q) => p + q[of], 0)]);
            const told = found.inputs.filter((each) => Math.max(each.bevel, each.gap, each.offPlane) >= 0.005);
            told.forEach((each, i) => {
              expect(Math.abs((numbers[i] as number) - (100 * each[of]) / sum)).toBeLessThan(1);
            });
          }
        });
        // Nobody reads a path of the file there.
        expect(table.join('\n').split('Held against')[0]).not.toMatch(/ship\.|fittings\[/);
        expect(text).toContain('draft at the mark “aft, port”');
      }
    },
  );
});

const printedTexOf = ({ result }: WorkLine): string | undefined =>
  /^-?\d/.test(result.digits) ? printedTex(result) : undefined;

describe('formulas as the checks write them', () => {
  const at = (text: string, values: Record<string, number>): number | undefined => {
    const formula = readFormula(text);
    return formula && worked(formula, (symbol) => values[symbol]);
  };
  test('blank, stroke and power from left to right; functions, sizes, subscripts (by hand)', () => {
    expect(at('a b/c d', { a: 2, b: 3, c: 4, d: 5 })).toBe(7.5);
    expect(at('F_c t_c/2/(pi R_c^2)', { F_c: 8, t_c: 3, R_c: 2 })).toBeCloseTo(12 / (4 * Math.PI), 12);
    expect(at('0.60 F_w/2.00 k_q k_s', { F_w: 480, k_q: 0.5, k_s: 0.9 })).toBeCloseTo(64.8, 12);
    expect(at('1 + 0.5 sin^1.5 theta', { theta: Math.PI / 2 })).toBe(1.5);
    expect(
      at('max(0, -cos theta) (d/2 + C) + |sin theta| (W/2 + 1)', { theta: Math.PI, d: 4, C: 3, W: 8 }),
    ).toBeCloseTo(5, 12);
    expect(at('(M/M_Rd)^2 + (F_v/F_v,Rd)^2', { M: 3, M_Rd: 5, F_v: 4, 'F_v,Rd': 5 })).toBeCloseTo(1, 12);
    expect(at('sqrt3 a', { a: 2 })).toBeCloseTo(2 * Math.sqrt(3), 12);
    expect(at('-a - (b - c)', { a: 1, b: 5, c: 2 })).toBe(-4);
  });
  test('words are no formula', () => {
    for (const words of ['from I w = M, r from the centroid', '|u', 'a +', '', '2 (3', 'sin']) {
      expect(readFormula(words), words).toBeUndefined();
    }
  });
});

describe('figures that must not be rounded the wrong way', () => {
  const { numerator } = {
    numerator: (text: string) => math.number(math.evaluate(text.replace(/^(\d+) (\d)/, '$1 + $2'))),
  };
  test('at least goes up to the next 1/32 in, at most down, what stands on one stays (by hand)', () => {
    // 0.445 in lies between 14/32 (0.4375) and 15/32 (0.46875).
    expect(atLeast(0.445 * 25.4, 'us')).toBe('15/32 in (0.469)');
    expect(atMost(0.445 * 25.4, 'us')).toBe('7/16 in (0.438)');
    for (const say of [atLeast, atMost]) {
      expect(say(12.7, 'us')).toBe('1/2 in (0.500)');
      expect(say(11.3, 'metric')).toBe('11.3 mm');
    }
    expect(atLeast(11.31, 'metric')).toBe('11.4 mm');
    expect(atMost(11.39, 'metric')).toBe('11.3 mm');
    expect(atLeast(203.2, 'metric', 0)).toBe('204 mm');
    for (let mm = 0.05; mm < 900; mm *= 1.013) {
      const fraction = (text: string) => 25.4 * numerator(/^[\d /]+/.exec(text)?.[0].trim() as string);
      expect(fraction(atLeast(mm, 'us'))).toBeGreaterThanOrEqual(mm - 1e-4);
      expect(fraction(atMost(mm, 'us'))).toBeLessThanOrEqual(mm + 1e-4);
      expect(fraction(atLeast(mm, 'us')) - fraction(atMost(mm, 'us'))).toBeLessThan(25.4 / 32 + 1e-4);
    }
  });
  test('a length is the same on card and calculation, below and from 36 in on', () => {
    for (let mm = 100; mm < 20_000; mm *= 1.0171) {
      const card = cardLength(mm, 'us');
      expect(shopLength(mm, 'us').replace(/ \([\d.]+( in)?\)$/, '')).toBe(card);
      const [, feet = '0', rest = '0'] = /^(?:(\d+) ft ?)?([\d /]+)?/.exec(card) ?? [];
      const read = 25.4 * (12 * Number(feet) + (rest.trim() === '' ? 0 : numerator(rest.trim())));
      expect(Math.abs(read - mm)).toBeLessThanOrEqual(25.4 / 64 + 1e-9);
    }
  });
  test('shares of a whole add up as printed (largest remainder, by hand)', () => {
    expect(sharesText([1 / 3, 1 / 3, 1 / 3])).toEqual(['34 %', '33 %', '33 %']);
    expect(roundedShares([0.356, 0.354, 0.141, 0.149], 0)).toEqual([36, 35, 14, 15]);
    expect(roundedShares([0.125, 0.375, 0.5], 1)).toEqual([12.5, 37.5, 50]);
    expect(roundedShares([], 0)).toEqual([]);
    for (let n = 2; n < 40; n++) {
      const raw = Array.from({ length: n }, (_, i) => 1 + ((i * 7919) % 104_729) / 1000);
      const whole = raw.reduce((p, q) => p + q, 0);
      const shares = raw.map((each) => each / whole);
      const rounded = roundedShares(shares);
      expect(rounded.reduce((p, q) => p + q, 0)).toBe(100);
      rounded.forEach((each, i) => {
        expect(Math.abs(each - 100 * (shares[i] as number))).toBeLessThan(1);
      });
    }
  });
});

describe('assumptions in the units of the page', () => {
  test('reason and figure agree: what is sold by one system’s round figure is told in both (mathjs)', () => {
    let pairs = 0;
    for (const { value, reason } of Object.values(DEFAULTS)) {
      for (const [, us, metric] of reason.matchAll(/([\d./]+ (?:in|ksi)) \(([\d.]+ (?:mm|MPa))\)/g)) {
        expect(metric).toBe(value);
        const ratio = math.number(math.divide(math.evaluate(us as string), math.evaluate(metric as string)) as never);
        expect(Math.abs(ratio - 1)).toBeLessThan(0.011);
        pairs++;
      }
      expect(inOwnUnits(reason, 'metric')).not.toMatch(/\d (in|ksi|lb|ft)\b/);
    }
    expect(pairs).toBe(7);
  });
  test('figures of a US page, each held against mathjs; as it stands in the job behind it', () => {
    expect(assumedValue('1.6 mm', 'us')).toBe('1/16 in (0.063; 1.6 mm)');
    expect(assumedValue('2.4 mm', 'us')).toBe('3/32 in (0.094; 2.4 mm)');
    expect(assumedValue('4.8 mm', 'us')).toBe('3/16 in (0.189; 4.8 mm)');
    expect(assumedValue('1 mm', 'us')).toBe('1/32 in (0.039; 1 mm)');
    expect(assumedValue('1025 kg/m3', 'us')).toBe('64.0 lb/ft³ (1025 kg/m³)');
    expect(math.evaluate('1025 kg/m^3').toNumber('lb/ft^3')).toBeCloseTo(64, 1);
    expect(assumedValue('120 m', 'us')).toBe('394 ft (120 m)');
    expect(math.evaluate('120 m').toNumber('ft')).toBeCloseTo(394, 0);
    expect(assumedValue('250 MPa', 'us')).toBe('36.26 ksi (250 MPa)');
    for (const { value } of Object.values(DEFAULTS))
      expect(assumedValue(value, 'metric')).toBe(value.replace('m3', 'm³'));
  });
});

describe('pages that are read before the checks', () => {
  for (const { name, job, file } of sampleJobs().filter((sample) => /^[abcgh]-/.test(sample.name))) {
    test(`${name}: contents in full, labels clear of the arrows, remedies where there is something to mend`, async () => {
      for (const display of SYSTEMS) {
        for (const context of await contextsOf(planOf({ ...job, display }, file), { fonts })) {
          const { pages } = calculation(context);
          const page = pages.find((each) => textsOn(each).includes('Contents')) as Pages[number];
          const contents = textsOn(page);
          expect(contents.join(' ')).not.toContain('…');
          const spaceless = contents.join('').replaceAll(/\s+/g, '');
          context.fitting.checks.forEach((check, i) => {
            expect(spaceless).toContain(`${i + 1}${sidesInWords(context.fitting, check.title)}`.replaceAll(/\s+/g, ''));
          });
          // Nothing of it meets another word or leaves the page.
          const boxes = flattened(page.items).flatMap((item) =>
            item.kind === 'text' ? [textBox(context.fonts, item)] : [],
          );
          for (const [i, p] of boxes.entries())
            for (const q of boxes.slice(i + 1))
              expect(p.x0 < q.x1 && q.x0 < p.x1 && p.y0 + 0.3 < q.y1 && q.y0 + 0.3 < p.y1).toBe(false);

          const sheet = new Sheet(210, 297);
          calculationSketch(sheet, context, { x: 20, y: 100, width: 170, height: 110 });
          const marks = sheet.items.flatMap((item) =>
            item.kind === 'text' && item.layer === 'TEXT' ? [{ ...textBox(context.fonts, item), text: item.text }] : [],
          );
          expect(marks.map(({ text }) => text.split(' ')[0]).sort()).toEqual([
            'A',
            'B',
            'C',
            'C',
            'O',
            'fwd',
            'n',
            'pull',
            'up',
          ]);
          // An arrow is a stroke of two points and the filled triangle at its head.
          const strokes = sheet.items.flatMap((item) => {
            if (item.kind !== 'path' || item.layer !== 'DRAWING') return [];
            const triangle = item.closed && item.points.length === 3;
            if (!triangle && (item.closed || item.points.length !== 2)) return [];
            return [triangle ? [...item.points, ...item.points.slice(0, 1)] : item.points];
          });
          expect(strokes.length).toBe(14);
          for (const box of marks) {
            for (const points of strokes) {
              for (let i = 1; i < points.length; i++) {
                const [p, q] = [points[i - 1] as Point, points[i] as Point];
                for (let k = 0; k <= 200; k++) {
                  const x = p.x + ((q.x - p.x) * k) / 200;
                  const y = p.y + ((q.y - p.y) * k) / 200;
                  const inside = x > box.x0 && x < box.x1 && y > box.y0 && y < box.y1;
                  expect(inside, `${context.id} ${display}: ${box.text} lies on an arrow`).toBe(false);
                }
              }
            }
          }

          const words = pages.flatMap(textsOn).join(' ');
          const spare = words.split('Passes with little to spare').length - 1;
          const near = checksOfPages(context).filter(
            (check) =>
              check.pass && check.ratio > 0.8 && remedyWanted(check) && !/^(fit-gap|weld\.electrode)$/.test(check.id),
          );
          expect(spare).toBe(near.length);
          expect(words).not.toContain('Not needed to pass');
        }
      }
    });
  }

  test('bottom time: work, what each dive loses, and the sum of the dive list', async () => {
    const sample = sampleJobs().find(({ name }) => name.startsWith('c-'));
    const plan = planOf({ ...sample?.job, display: 'metric' }, sample?.file);
    const [context] = await contextsOf(plan, { fonts });
    if (context === undefined) throw new Error('no fitting');
    const { schedule, totals } = context.fitting.weld;
    if (schedule?.kind !== 'planned') throw new Error('no dives were counted');
    const said = calculation(context).pages.flatMap(textsOn).join(' ').replaceAll(/\s+/g, ' ');
    const minutes = (text: string) => {
      const [, h = '0', min = '0'] = /^(?:(\d+) h)? ?(?:(\d+) min)?$/.exec(text) ?? [];
      return 60 * Number(h) + Number(min);
    };
    const found =
      /(\d+) dives? of up to ([\dhmin ]+?), each with ([\dhmin ]+?) that are not work(?:, and ([\dhmin ]+?) to grind stops where a dive leaves off)?: ([\dhmin ]+?) of bottom time in all/.exec(
        said,
      );
    if (found === null) throw new Error('no bottom time');
    const [, count, , overhead, again = '0 min', all] = found as unknown as [
      string,
      string,
      string,
      string,
      string,
      string,
    ];
    const work = /hold points ([\dhmin ]+?) of work/.exec(said)?.[1] ?? '';
    expect(Math.abs(minutes(work) - totals.workMin)).toBeLessThanOrEqual(0.5);
    const list = schedule.dives.reduce((sum, dive) => sum + dive.minutes, 0);
    expect(Math.abs(minutes(all) - list)).toBeLessThanOrEqual(0.5);
    expect(
      Math.abs(minutes(work) + Number(count) * minutes(overhead) + minutes(again) - minutes(all)),
    ).toBeLessThanOrEqual(2);
    expect(list).toBeGreaterThan(totals.workMin);
  });
});

test('as built: how much acts across the plate is told with its side, not with a sign', async () => {
  const sample = sampleJobs().find(({ name }) => name.startsWith('m-'));
  const [context] = await contextsOf(planOf(sample?.job, sample?.file), { fonts });
  const load = context?.fitting.asBuilt?.load;
  if (context === undefined || load === undefined) throw new Error('nothing was built');
  const said = calculation(context).pages.flatMap(textsOn).join(' ').replaceAll(/\s+/g, ' ');
  const found =
    /Pull on the lug as it stands ([\d.]+) kN across the plate, ([\d.]+)° out of its plane, towards the (\w+)/.exec(
      said,
    );
  if (found === null) throw new Error('no pull as built');
  expect(Math.abs(Number(found[1]) - Math.abs(load.sideways) / 1000)).toBeLessThan(0.051);
  expect(Math.abs(Number(found[2]) - Math.abs((load.offPlane * 180) / Math.PI))).toBeLessThan(0.0051);
  expect(sideNames(context.fitting)[load.sideways > 0 ? 'face+' : 'face-']).toContain(found[3]);
});

test('readings are called by what they are', async () => {
  const sample = sampleJobs().find(({ name }) => name.startsWith('n-'));
  const [context] = await contextsOf(planOf(sample?.job, sample?.file), { fonts });
  const said = (path: string) => readingInWords(path, (context as Context).plan.job);
  expect(said('ship.draftMarks[4].draft')).toBe('draft at the mark “stem”');
  expect(said('ship.draftMarks[0].halfBreadth')).toBe('half breadth at the mark “aft, port”');
  expect(said('ship.draftAft')).toBe('draft aft');
  expect(said('fittings[0].at.height')).toBe('place of the lug: height');
  expect(said('ship.hull.girth[2].slope')).toBe('of the hull: girth 3, slope');
  expect(said('ship.hull.file')).toBe('scatter of the scan itself');
});

/** The checks that stand in full on the pages: the fitting's own and those of the movement. */
const checksOfPages = (context: Context): readonly Check[] => [
  ...context.fitting.checks,
  ...(context.plan.lift?.lugs.find((lug) => lug.id === context.fitting.id)?.checks.map(({ check }) => check) ?? []),
];

test('another stance that was looked for stands with the lug that it is for, as the report has it', async () => {
  const sample = sampleJobs().find(({ name }) => name.startsWith('i-'));
  const plan = withOffers(planOf(sample?.job, sample?.file));
  expect(plan.offers?.length).toBeGreaterThan(0);
  const [context] = await contextsOf(plan, { fonts });
  const said = wordsOf(calculation(context as Context));
  for (const { text } of plan.offers ?? []) expect(said).toContain(showPhrase(text, plan.job.display).slice(0, 60));
  const [none] = await contextsOf(planOf(sample?.job, sample?.file), { fonts });
  expect(wordsOf(calculation(none as Context))).not.toContain('Another stance');
});
