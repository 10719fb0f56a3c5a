import { showPhrase } from '../job/show.ts';
import { escaped } from '../job/shown.ts';
import type { Display } from '../job/types.ts';
import type { SourceComparison } from '../plan/comparison.ts';
import { block } from './layout.ts';

/** What the other sources of the hull find at one lug, as lines of the report; none where the job names no other. */
export function compareLines(compare: readonly SourceComparison[], index: number, display: Display): string[] {
  return compare.flatMap(({ fittings }, k) => {
    const f = fittings[index];
    return f === undefined ? [] : block(k === 0 ? 'Against' : '', escaped(showPhrase(f.words, display)));
  });
}
