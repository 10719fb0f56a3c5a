import type { Display } from '../job/types.ts';
import type { Check } from '../plan/types.ts';
import { amended } from './calculation-amended.ts';
import { type Formula, formulaTex, readFormula, readRelation, symbolsOf, worked } from './calculation-formula.ts';
import type { Amended, WorkTerm } from './calculation-terms.ts';
import { type Printed, printed, printedTex, type ValueUnit } from './calculation-values.ts';
import type { Context } from './context.ts';
import { symbolTex } from './tex.ts';

/** A line of the working: what is worked out, from what, with what figures, and what comes out. */
export interface WorkLine {
  /** TeX of the symbol, or `demand` or `limit`. */
  readonly name: string;
  /** TeX in symbols; absent where it is worked by no formula. */
  readonly symbols?: string;
  /** TeX with the figures put in; absent where nothing is to be put in. */
  readonly figures?: string;
  /** Words that stand in place of a formula, or behind it. */
  readonly words?: string;
  readonly result: Printed;
}

/** The working of a check as it is printed: the figures on the lines are the figures of the table, and give the results printed. */
export interface Work {
  /** The formula as TeX; absent where the check is told in words. */
  readonly relation?: string;
  readonly beside?: Amended['beside'];
  readonly terms: readonly { readonly term: WorkTerm; readonly printed: Printed }[];
  readonly lines: readonly WorkLine[];
}

/** How far, in units of the last digit printed, what the figures give may lie from the figure printed: rounding, and no more. */
export const ROUNDING = 0.55;
/** Decimals beyond the usual that are tried. */
const MOST_MORE = 6;

interface Line {
  readonly symbol?: string;
  readonly name: string;
  readonly formula?: Formula;
  readonly words?: string;
  readonly value: number;
  readonly unit: ValueUnit;
  readonly scale?: number;
}

const known = new WeakMap<Check, { readonly of: Context['fitting']; readonly display: Display; readonly work: Work }>();

/** The working of a check; the same for the same check, fitting and units, worked out once. */
export function workOf(check: Check, context: Context): Work {
  const { fitting, plan } = context;
  const { display } = plan.job;
  const before = known.get(check);
  if (before?.of === fitting && before.display === display) return before.work;
  const work = workedOut(check, context);
  known.set(check, { of: fitting, display, work });
  return work;
}

function workedOut(check: Check, context: Context): Work {
  const { display } = context.plan.job;
  const set = amended(check, context);
  const values = new Map<string, number>();
  const units = new Map<string, ValueUnit>();
  const scales = new Map<string, number>();
  for (const term of set.terms) {
    values.set(term.symbol, term.value);
    units.set(term.symbol, term.unit);
    if (term.scale !== undefined) scales.set(term.symbol, term.scale);
  }
  const lines: Line[] = [];
  for (const step of set.steps) {
    const read = readFormula(step.formula);
    const formula = read !== undefined && symbolsOf(read).every((s) => values.has(s)) ? read : undefined;
    const value = step.value ?? (formula && worked(formula, (s) => values.get(s)));
    if (value === undefined) throw new Error(`${check.id}: nothing gives ${step.symbol}`);
    const words = formula === undefined ? step.formula : step.note;
    lines.push({
      symbol: step.symbol,
      name: symbolTex(step.symbol) ?? step.symbol,
      ...(formula && { formula }),
      ...(words !== undefined && { words }),
      value,
      unit: step.unit,
      ...(step.scale !== undefined && { scale: step.scale }),
    });
    if (values.has(step.symbol)) continue;
    values.set(step.symbol, value);
    units.set(step.symbol, step.unit);
    if (step.scale !== undefined) scales.set(step.symbol, step.scale);
  }
  const relation = readRelation(set.formula);
  for (const side of ['demand', 'limit'] as const) {
    const formula = relation?.[side];
    if (formula === undefined || formula.kind === 'symbol' || formula.kind === 'number') continue;
    if (!symbolsOf(formula).every((s) => values.has(s))) continue;
    lines.push({ name: String.raw`\mathrm{${side}}`, formula, value: check[side], unit: check.unit });
  }

  // Decimals beyond the usual, by symbol: as few as make every line come out as printed.
  const more = new Map<string, number>();
  const print = (symbol: string): Printed =>
    printed(
      values.get(symbol) as number,
      units.get(symbol) as ValueUnit,
      display,
      more.get(symbol) ?? 0,
      scales.get(symbol),
    );
  const resultOf = (line: Line): Printed =>
    line.symbol === undefined || line.value !== values.get(line.symbol)
      ? printed(line.value, line.unit, display, 0, line.scale)
      : print(line.symbol);
  const comesOut = (line: Line, formula: Formula): boolean => {
    const result = resultOf(line);
    const got = worked(formula, (s) => print(s).value);
    return (
      got !== undefined && Math.abs(got - result.value) <= 2 * ROUNDING * result.half + 1e-12 * Math.abs(result.value)
    );
  };
  const coarseness = (symbol: string): number =>
    print(symbol).half / Math.max(Math.abs(values.get(symbol) as number), scales.get(symbol) ?? 0);
  for (let changed = true; changed; ) {
    changed = false;
    for (const line of lines) {
      const { formula } = line;
      if (formula === undefined || comesOut(line, formula)) continue;
      // The figure that says least about its value gets one more digit.
      const open = symbolsOf(formula).filter((s) => (more.get(s) ?? 0) < MOST_MORE && !print(s).exact);
      const [worst] = open.sort((p, q) => coarseness(q) - coarseness(p));
      if (worst === undefined) continue;
      more.set(worst, (more.get(worst) ?? 0) + 1);
      changed = true;
    }
  }

  const used = new Set(lines.flatMap((line) => (line.formula ? symbolsOf(line.formula) : [])));
  for (const side of relation ? [relation.demand, relation.limit] : []) for (const s of symbolsOf(side)) used.add(s);
  const bare = /^(lug|pin)-/.test(check.id);
  const symbols = { symbol: (s: string) => symbolTex(s) ?? s, figures: false };
  const figures = { symbol: (s: string) => printedTex(print(s)), figures: true };
  return {
    ...(relation
      ? { relation: `${formulaTex(relation.demand, symbols)} \\le ${formulaTex(relation.limit, symbols)}` }
      : check.tex === ''
        ? {}
        : { relation: check.tex }),
    ...(set.beside && { beside: set.beside }),
    terms: set.terms
      .filter((term) => !bare || used.has(term.symbol))
      .map((term) => ({ term, printed: print(term.symbol) })),
    lines: lines.map((line) => ({
      name: line.name,
      ...(line.formula && { symbols: formulaTex(line.formula, symbols) }),
      ...(line.formula && symbolsOf(line.formula).length > 0 && { figures: formulaTex(line.formula, figures) }),
      ...(line.words !== undefined && { words: line.words }),
      result: resultOf(line),
    })),
  };
}
