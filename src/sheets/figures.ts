import type { Figure } from '../../geometry/phrase.ts';
import { bounded, showFigure } from '../job/show.ts';
import type { Display } from '../job/types.ts';
import { internalPer } from '../job/units.ts';
import type { CheckUnit } from '../plan/types.ts';

/** Inches of a length in mm. */
export const inches = (mm: number): number => mm / internalPer('in');

/**
 * A length for the shop. Metric: mm with `digits` decimals, from 10 m on m. US: inches to the nearest 1/32 with the decimal
 * behind, `11 1/32 in (11.024)`; under 1/32 the decimal alone, `0.011 in`; from 36 in on feet and inches to the same 1/32 with the inches
 * behind.
 */
export function shopLength(mm: number, display: Display, digits = 1): string {
  if (display === 'metric') return Math.abs(mm) < 10_000 ? `${fixed(mm, digits)} mm` : `${fixed(mm / 1000, 3)} m`;
  const decimal = fixed(inches(mm), 3);
  if (Math.abs(inches(mm)) >= 36) return `${showFigure({ mm }, 'us')} (${decimal} in)`;
  return lessThanFraction(mm) ? `${decimal} in` : `${thirtySeconds(mm)} in (${decimal})`;
}

/** Whether a fraction of an inch would say nothing of a length, or twice of it: under 1/32 in. mm */
const lessThanFraction = (mm: number): boolean => Math.abs(inches(mm)) < 1 / 32 - 1e-9;

/** A length on a card that is read under water: one way of saying it, no more figures than a tape can tell; US as `shopLength` has it. */
export function cardLength(mm: number, display: Display): string {
  if (display === 'metric') return Math.abs(mm) < 1000 ? `${fixed(mm, 0)} mm` : `${fixed(mm / 1000, 3)} m`;
  return Math.abs(inches(mm)) < 36 ? `${thirtySeconds(mm)} in` : showFigure({ mm }, 'us');
}

/** The same without its unit, where a unit stands for the whole drawing. */
export const cardCount = (mm: number, display: Display): string =>
  display === 'metric' ? fixed(mm, 0) : thirtySeconds(mm);

/**
 * A length that there must be at the least, never rounded down. Metric: up to the next `digits` decimals of a mm; US: up to the next
 * 1/32 in, with the decimal of that fraction behind. Input mm.
 */
export const atLeast = (mm: number, display: Display, digits = 1): string =>
  shopLength(markUp(mm, display, digits), display, digits);

/** A length that there may be at the most, never rounded up; as `atLeast` otherwise. */
export const atMost = (mm: number, display: Display, digits = 1): string =>
  shopLength(markDown(mm, display, digits), display, digits);

/** mm from mark to mark of the scale a length is told in: `digits` decimals of a mm, or 1/32 in. */
export const markStep = (display: Display, digits = 0): number =>
  display === 'us' ? internalPer('in') / 32 : 10 ** -digits;

/** mm, on the next mark from there up. */
export const markUp = (mm: number, display: Display, digits = 0): number =>
  bounded(mm, markStep(display, digits), 'least');

/** mm, up to the next that a gap is told in: a tenth of a mm, a thousandth of an inch. */
export const gapUp = (mm: number, display: Display): number =>
  bounded(mm, display === 'us' ? internalPer('in') / 1000 : 0.1, 'least');

/** mm, on the next mark from there down. */
export const markDown = (mm: number, display: Display, digits = 0): number =>
  bounded(mm, markStep(display, digits), 'most');

/**
 * The throat of a fillet: no tape's length but what follows from legs that are rounded up, so it stands in decimals, to the nearest.
 * Rounded up by a step of its own it would be more than the legs beside it give. Input mm.
 */
export const throatLength = (mm: number, display: Display): string =>
  display === 'us' ? `${fixed(inches(mm), 3)} in` : `${fixed(mm, 2)} mm`;

/**
 * A gap, planned or allowed. Metric: `1.6 mm`. US: under 1/8 in the decimal, which the feeler gauge reads, and only then what a tape would
 * show, said to be about that where it is not that: `0.043 in (about 1/32)`, `0.063 in (1/16)`; under 1/32 the decimal alone. From 1/8 in on
 * as other lengths, `3/16 in (0.189)`. Input mm.
 */
export function gapLength(mm: number, display: Display): string {
  if (display === 'metric') return `${fixed(mm, 1)} mm`;
  if (lessThanFraction(mm) || Math.abs(inches(mm)) >= 1 / 8) return shopLength(mm, display);
  const near = Math.round(inches(mm) * 32) / 32;
  // A thousandth of an inch is the last figure printed.
  const about = Math.abs(near - inches(mm)) < 0.0005 + 1e-9 ? '' : 'about ';
  return `${fixed(inches(mm), 3)} in (${about}${thirtySeconds(mm)})`;
}

/** Inches to the nearest 1/32, lowest terms: `1 17/32`, `3/8`, `0`. */
export function thirtySeconds(mm: number): string {
  const denominator = 32;
  const parts = Math.round(Math.abs(inches(mm)) * denominator);
  const sign = mm < 0 && parts > 0 ? '-' : '';
  const whole = Math.floor(parts / denominator);
  let [above, below] = [parts % denominator, denominator];
  while (above > 0 && above % 2 === 0) [above, below] = [above / 2, below / 2];
  if (above === 0) return `${sign}${whole}`;
  return whole === 0 ? `${sign}${above}/${below}` : `${sign}${whole} ${above}/${below}`;
}

/** Decimals as asked, no minus before a zero. Throws for what is no number: it must not reach paper. */
export function fixed(value: number, digits: number): string {
  if (!Number.isFinite(value)) throw new RangeError('a figure that is no number was to be drawn');
  const text = value.toFixed(digits);
  return /^-[0.]+$/.test(text) ? text.slice(1) : text;
}

export const degrees = (rad: number, digits = 1): string => `${fixed((rad * 180) / Math.PI, digits)}°`;

/** Beyond this a demand or a ratio says only that nothing is there to meet it. */
const BEYOND = 1e12;

/** A value of a check in the reader's units. @param more decimals on top of the usual */
export function checkValue(value: number, unit: CheckUnit, display: Display, more = 0): string {
  if (!(Math.abs(value) < BEYOND)) return 'beyond any figure';
  if (unit === 'N mm') {
    const kipIn = internalPer('kip') * internalPer('in');
    return display === 'us' ? `${fixed(value / kipIn, 2 + more)} kip in` : `${fixed(value / 1e6, 3 + more)} kN m`;
  }
  if (unit === 'mm' && display === 'us') return `${fixed(inches(value), 3 + more)} in`;
  return showFigure(figureOf(value, unit, more), display);
}

function figureOf(value: number, unit: Exclude<CheckUnit, 'N mm'>, more: number): Figure {
  switch (unit) {
    case 'mm':
      return { mm: value, digits: Math.abs(value) < 10 ? 2 + more : 1 + more };
    case 'rad':
      return { rad: value, digits: 1 + more };
    case 'N':
      return more > 0 ? { newton: value, digits: 1 + more } : { newton: value };
    case 'MPa':
      return { mpa: value, digits: 1 + more };
    case 'N/mm':
      return { newtonPerMm: value, digits: 1 + more };
    case 'share':
      return { share: value, digits: 1 + more };
    case 'count':
      return { count: value, digits: Number.isInteger(value) ? 0 : 3 + more };
  }
}

/** Demand and limit with as many decimals as it takes for a figure past its limit to look so. */
export function demandAndLimit(
  check: { readonly demand: number; readonly limit: number; readonly unit: CheckUnit },
  display: Display,
): { demand: string; limit: string } {
  for (let more = 0; ; more++) {
    const demand = checkValue(check.demand, check.unit, display, more);
    const limit = checkValue(check.limit, check.unit, display, more);
    if (demand !== limit || check.demand <= check.limit || more === 6) return { demand, limit };
  }
}

/** Demand over limit to two decimals; never one that reads as a pass where it is none. */
export function ratioText(check: { readonly ratio: number; readonly pass: boolean }): string {
  if (check.ratio > 1000) return '> 1000';
  for (let digits = 2; digits < 9; digits++) {
    const text = fixed(check.ratio, digits);
    if (check.pass || Number(text) > 1) return text;
  }
  return '> 1';
}

/**
 * Shares of one whole, 0..1, in per cent with `digits` decimals, so rounded that what is printed adds up to the rounded sum: each down, and
 * what is missing to those that lost most by it (largest remainder). The first of equal ones goes first.
 */
export function roundedShares(shares: readonly number[], digits = 0): number[] {
  const units = 10 ** digits;
  const exact = shares.map((share) => share * 100 * units);
  const down = exact.map((value) => Math.floor(value + 1e-9));
  const total = Math.round(exact.reduce((sum, value) => sum + value, 0));
  const missing = total - down.reduce((sum, value) => sum + value, 0);
  const lost = (i: number) => (exact[i] as number) - (down[i] as number);
  const order = down.map((_, i) => i).sort((p, q) => lost(q) - lost(p) || p - q);
  const up = new Set(order.slice(0, Math.max(0, missing)));
  return down.map((value, i) => (value + (up.has(i) ? 1 : 0)) / units);
}

/** The same as text: `33.4 %`. */
export const sharesText = (shares: readonly number[], digits = 0): string[] =>
  roundedShares(shares, digits).map((share) => `${fixed(share, digits)} %`);

/** Numbers in order with those that follow one another in one: `5–7`, `2, 5–7`. */
export function spansText(numbers: readonly number[]): string {
  const spans: [number, number][] = [];
  for (const each of [...numbers].sort((p, q) => p - q)) {
    const last = spans.at(-1);
    if (last !== undefined && each === last[1] + 1) last[1] = each;
    else spans.push([each, each]);
  }
  return spans.map(([from, to]) => (from === to ? `${from}` : `${from}–${to}`)).join(', ');
}
