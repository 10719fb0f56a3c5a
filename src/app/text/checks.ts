import type { Figure } from '../../../geometry/phrase.ts';
import { showFigure } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import type { Check, CheckUnit } from '../../plan/types.ts';

/** A value of a check in the reader's units. Moments are shown as force times length. */
export function checkValue(value: number, unit: CheckUnit, display: Display): string {
  if (!Number.isFinite(value) || Math.abs(value) >= 1e12) return 'beyond any figure';
  if (unit === 'N mm') {
    // One metre of lever, or one foot, with the force that makes the moment there.
    return display === 'us'
      ? `${showFigure({ newton: value / 304.8 }, display)} × 1 ft`
      : `${showFigure({ newton: value / 1000 }, display)} × 1 m`;
  }
  return showFigure(figureFor(value, unit), display);
}

function figureFor(value: number, unit: Exclude<CheckUnit, 'N mm'>): Figure {
  switch (unit) {
    case 'mm':
      return { mm: value };
    case 'rad':
      return { rad: value };
    case 'N':
      return { newton: value };
    case 'MPa':
      return { mpa: value };
    case 'N/mm':
      return { newtonPerMm: value };
    case 'share':
      return { share: value };
    case 'count':
      return { count: value, digits: Number.isInteger(value) ? 0 : 3 };
  }
}

/**
 * Demand against limit, with as many decimals as it takes for a figure beyond its limit to look so: what fails by a hair
 * must not read like what just passes.
 */
export function againstLimit(check: Pick<Check, 'demand' | 'limit' | 'unit'>, display: Display): string {
  const plain = [checkValue(check.demand, check.unit, display), checkValue(check.limit, check.unit, display)];
  if (plain[0] !== plain[1] || check.demand === check.limit || check.unit === 'N mm') return plain.join(' against ');
  for (let digits = 2; digits < 9; digits++) {
    const figure = (x: number): string =>
      showFigure({ ...figureFor(x, check.unit as Exclude<CheckUnit, 'N mm'>), digits }, display);
    if (figure(check.demand) !== figure(check.limit)) return `${figure(check.demand)} against ${figure(check.limit)}`;
  }
  return plain.join(' against ');
}

/** Share of a limit that is used, or that nothing is there to meet the demand. */
export const ratioText = (ratio: number, display: Display): string =>
  ratio > 1000 ? 'far beyond its limit' : `${showFigure({ count: ratio, digits: 2 }, display)} of the limit`;

export const STANDINGS = {
  source: 'from a source, as named',
  'common-practice': 'common practice, no source',
  'not-verified': 'from memory, not verified: check it before use',
  choice: 'a choice, not a rule',
} as const;
