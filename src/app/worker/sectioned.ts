import type { Range, Shell } from '../../../geometry/hull/shell.ts';
import { Refusal } from '../../../geometry/refusal.ts';

/** mm. Steps in which the ragged end of a scan is looked for. */
const STEP = 40;

/** The stretch of stations round a place, within `range`, all of whose ends have a section: a scan is ragged where it ends. */
export function sectioned(shell: Shell, range: Range, place: number): Range {
  if (hasSection(shell, range.from) && hasSection(shell, range.to)) return range;
  let { from, to } = { from: place, to: place };
  while (from > range.from && hasSection(shell, Math.max(from - STEP, range.from)))
    from = Math.max(from - STEP, range.from);
  while (to < range.to && hasSection(shell, Math.min(to + STEP, range.to))) to = Math.min(to + STEP, range.to);
  return { from, to };
}

function hasSection(shell: Shell, station: number): boolean {
  try {
    const { from, to } = shell.girthRange(station);
    return to > from;
  } catch (error) {
    if (error instanceof Refusal) return false;
    throw error;
  }
}
