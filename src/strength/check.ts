import type { Phrase } from '../../geometry/phrase.ts';

/** How well a figure is known. `not-verified` is never a pass/fail value without being shown as such. */
export type Standing = 'source' | 'common-practice' | 'not-verified' | 'choice';

export type CheckUnit = 'mm' | 'rad' | 'N' | 'MPa' | 'N/mm' | 'share' | 'count' | 'N mm';

/** One symbol of a formula with its value: what a person needs to redo the check by hand. */
export interface Term {
  readonly symbol: string;
  readonly name: string;
  readonly value: number;
  readonly unit: CheckUnit;
}

/** A line of the working between the terms and the demand or the limit, in the order it is computed. */
export interface Step {
  readonly symbol: string;
  /** Plain text, with the symbols of the terms and of earlier steps. */
  readonly formula: string;
  readonly value: number;
  readonly unit: CheckUnit;
}

/** A limit of the trade held against a figure. `ratio` and `pass` are derived by `check()`, never typed. */
export interface Check {
  readonly id: string;
  readonly title: string;
  readonly demand: number;
  readonly limit: number;
  readonly unit: CheckUnit;
  readonly ratio: number;
  readonly pass: boolean;
  /** The job's design basis, or `trade` for a rule that no design basis changes. */
  readonly basis: string;
  readonly source: string;
  readonly standing: Standing;
  /** Plain text: demand <= limit, in the symbols of the terms. */
  readonly formula: string;
  /** The same in TeX. */
  readonly tex: string;
  readonly terms: readonly Term[];
  readonly steps: readonly Step[];
  readonly remedy: Phrase;
  /** True for a check that only sorts easy cases from those an engineer must work out: a fail means "work it out". */
  readonly screening: boolean;
}

/** What a check is made from: all of it but what is derived; working, TeX and remedy may be left out. */
export type CheckInput = Omit<Check, 'ratio' | 'pass' | 'steps' | 'tex' | 'remedy' | 'screening'> & {
  readonly steps?: readonly Step[];
  readonly tex?: string;
  readonly remedy?: Phrase;
  readonly screening?: boolean;
};

/**
 * A figure held against a usual value: from rules for other lifts than this, recalled, or only good practice. Shown, never a
 * verdict. `within` says on which side of it the figure lies.
 */
export interface Advice {
  readonly id: string;
  readonly title: string;
  readonly value: number;
  readonly usual: number;
  readonly unit: CheckUnit;
  readonly within: boolean;
  readonly source: string;
  readonly standing: Standing;
  readonly text: Phrase;
}

/** Ratio shown where there is a demand and nothing to meet it: finite, so that it can be written and sorted. */
export const NO_CAPACITY_RATIO = Number.MAX_VALUE;

/**
 * Demand over limit, both in one unit, neither negative by meaning: a demand of zero (or less) is 0 whatever the limit;
 * a demand against no limit at all is `NO_CAPACITY_RATIO`; so is a demand or a limit that is not a number.
 */
export function ratioOf(demand: number, limit: number): number {
  if (Number.isNaN(demand) || Number.isNaN(limit)) return NO_CAPACITY_RATIO;
  if (demand <= 0) return 0;
  if (limit <= 0) return NO_CAPACITY_RATIO;
  return Math.min(demand / limit, NO_CAPACITY_RATIO);
}

/** A check whose ratio is no more than this has room enough: a remedy beside it would read like a fault. */
export const ROOM_ENOUGH = 0.8;

/** `check`, with the remedy only where it fails or has little left. */
export const strengthCheck = (input: CheckInput): Check => made(input, ROOM_ENOUGH);

/** The check with its ratio and verdict: it passes where the ratio is at most 1, with no rounding in its favour. */
export const check = (input: CheckInput): Check => made(input, Number.NEGATIVE_INFINITY);

function made(input: CheckInput, remedyAbove: number): Check {
  const ratio = ratioOf(input.demand, input.limit);
  // Field by field: spreading twenty checks a load would cost a sweep more than working them out.
  return {
    id: input.id,
    title: input.title,
    demand: input.demand,
    limit: input.limit,
    unit: input.unit,
    ratio,
    pass: ratio <= 1,
    basis: input.basis,
    source: input.source,
    standing: input.standing,
    formula: input.formula,
    tex: input.tex ?? '',
    terms: input.terms,
    steps: input.steps ?? [],
    remedy: ratio > remedyAbove ? (input.remedy ?? []) : [],
    screening: input.screening ?? false,
  };
}
