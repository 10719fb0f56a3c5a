import type { Display, Papers } from '../job/types.ts';
import type { FontBytes } from './fonts.ts';

export type Paper = 'a4' | 'letter';

/** What making sheets needs besides the plan. What is given here stands before what the job says of its papers. */
export interface SheetOptions {
  /** Bytes of the two faces in `fonts/`. */
  readonly fonts: FontBytes;
  /** A4 for a metric job, Letter for a US one, where nobody says. */
  readonly paper?: Paper;
  /** As the user writes it; a blank to fill in where absent. */
  readonly revision?: string;
  /** Day as `2026-03-14`, given by the user; no date anywhere where absent, so that the same job gives the same bytes. */
  readonly date?: string;
  /** mm of metal that the torch takes away; no line for its middle is drawn where absent. */
  readonly kerf?: number;
  /** mm on the outside of the outline of plate and cheek, for edges that are dressed after cutting. */
  readonly stock?: number;
  /** mm of clean metal beyond the weld toes; a choice, the welding procedure decides. */
  readonly cleanMargin?: number;
  /** Told after each sheet: how many of how many are done. */
  readonly progress?: (done: number, of: number) => void;
}

export interface PaperSize {
  readonly paper: Paper;
  /** mm, upright. */
  readonly width: number;
  readonly height: number;
}

const SIZES: Readonly<Record<Paper, PaperSize>> = {
  // ISO 216; Letter is 8 1/2 by 11 in.
  a4: { paper: 'a4', width: 210, height: 297 },
  letter: { paper: 'letter', width: 215.9, height: 279.4 },
};

export const paperOf = (options: Pick<SheetOptions, 'paper'>, display: Display): PaperSize =>
  SIZES[options.paper ?? (display === 'us' ? 'letter' : 'a4')];

/** mm, upright: half of the paper, A5 or half Letter. */
export const cardSize = ({ paper, width, height }: PaperSize): { width: number; height: number } =>
  paper === 'a4' ? { width: 148, height: 210 } : { width: height / 2, height: width };

/** The options with what the job says of its papers in the places that were left open. */
export function withPapers<T extends Partial<SheetOptions>>(options: T, papers: Papers): T & Papers {
  const given = Object.entries(options).filter(([, value]) => value !== undefined);
  return { ...papers, ...Object.fromEntries(given) } as T & Papers;
}
