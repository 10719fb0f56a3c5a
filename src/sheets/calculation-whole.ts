import type { Check } from '../plan/types.ts';
import { checkSection } from './calculation-check.ts';
import type { Context } from './context.ts';
import { Flow } from './flow.ts';

/** mm. A check is begun on a new page rather than parted, if no more than this is left blank. */
export const BLANK = 150;

/**
 * A check in full, heading, formula, working and verdict on one page: begun on a new one where it would be parted, unless it is longer
 * than a page or would leave most of one blank.
 * @param where said behind the verdict: at which step of a movement it is
 */
export function wholeCheck(flow: Flow, context: Context, check: Check, number: string, where = ''): void {
  if (flow.left < BLANK && flow.left < heightOf(context, check, number, where)) flow.newPage();
  checkSection(flow, context, check, number, where);
}

/** Pages that only have to tell how much room is taken: no formula is drawn on them. */
class Measure extends Flow {
  override items(height: number): void {
    this.figure(height, () => {});
  }
}

/** mm that a check takes on a page of its own; none where it takes more than a page. */
function heightOf(context: Context, check: Check, number: string, where: string): number {
  const scratch = new Measure(context, '');
  // As it stands under another, not at the head of a page.
  scratch.space(1.5);
  const { left } = scratch;
  checkSection(scratch, context, check, number, where);
  return scratch.page > 1 ? 0 : left - scratch.left;
}
