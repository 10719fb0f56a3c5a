import type { ValueUnit } from './calculation-values.ts';

/** A symbol of a formula with what it is; mm, N, MPa, rad. */
export interface WorkTerm {
  readonly symbol: string;
  readonly name: string;
  readonly value: number;
  readonly unit: ValueUnit;
  /** Of a component: the size of the whole, which says how many of its figures count. */
  readonly scale?: number;
}

/** A line of the working. Without a value it is worked out from the terms and the lines before it. */
export interface WorkStep {
  readonly symbol: string;
  /** To be worked out by hand; words where it cannot be. */
  readonly formula: string;
  readonly unit: ValueUnit;
  readonly value?: number;
  readonly note?: string;
  readonly scale?: number;
}

/** A check as the calculation sets it: every symbol given, every line of it to be redone on a pocket calculator. */
export interface Amended {
  readonly formula: string;
  readonly terms: readonly WorkTerm[];
  readonly steps: readonly WorkStep[];
  /** What is not worked by hand, as TeX, with the words before it. */
  readonly beside?: { readonly words: string; readonly tex: string };
  /** Where the formula stands better as it is written than in its own symbols. */
  readonly tex?: string;
}
