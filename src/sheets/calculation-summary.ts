import type { Check } from '../plan/types.ts';
import { askedAndHere } from './calculation-values.ts';
import type { Context } from './context.ts';
import { ratioText } from './figures.ts';
import { sidesInWords } from './sides.ts';

/** One line a check: what is asked, what is allowed, how much of it is used, and the verdict in a word. */
export const summaryRows = (list: readonly Check[], context: Context): string[][] =>
  list.map((check) => {
    const figures = askedAndHere(check, context.plan.job.display);
    return [sidesInWords(context.fitting, check.title), ...figures, ratioText(check), verdictWord(check)];
  });

/** A screening that fails is a failed check, here as in the plan file: its remedy says that it is to be worked out. */
export const verdictWord = (check: Pick<Check, 'pass'>): string => (check.pass ? 'passes' : 'FAILS');

export const SUMMARY_COLUMNS = [
  { title: 'Check', share: 3.4 },
  { title: 'demand', share: 1.25, align: 'right' },
  { title: 'limit', share: 1.25, align: 'right' },
  { title: 'ratio', share: 0.75, align: 'right' },
  { title: 'verdict', share: 0.95 },
] as const;
