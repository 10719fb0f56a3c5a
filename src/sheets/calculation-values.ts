import type { Phrase } from '../../geometry/phrase.ts';
import { showFigure } from '../job/show.ts';
import type { Display } from '../job/types.ts';
import { internalPer } from '../job/units.ts';
import type { Check, CheckUnit } from '../plan/types.ts';
import { shopLength } from './figures.ts';

/** Units of the figures of a calculation: those of a check, and what a line weld needs beside them. */
export type ValueUnit = CheckUnit | 'mm3' | 'N/mm2';

/** A figure as it is printed: its digits, its unit, and what exactly it says, in mm, N, MPa, rad. */
export interface Printed {
  readonly digits: string;
  readonly unit: string;
  readonly value: number;
  /** Half of the last digit printed, in mm, N, MPa, rad. */
  readonly half: number;
  /** True where more digits would say nothing more. */
  readonly exact: boolean;
}

interface Shown {
  readonly unit: string;
  readonly per: number;
  /** Decimals at the least. */
  readonly decimals: number;
  /** Figures that count at the least. */
  readonly figures: number;
}

const DEGREE = Math.PI / 180;
const METRIC: Readonly<Record<ValueUnit, Shown>> = {
  mm: { unit: 'mm', per: 1, decimals: 1, figures: 2 },
  rad: { unit: '°', per: DEGREE, decimals: 1, figures: 1 },
  N: { unit: 'kN', per: 1000, decimals: 2, figures: 3 },
  MPa: { unit: 'MPa', per: 1, decimals: 1, figures: 3 },
  'N/mm': { unit: 'N/mm', per: 1, decimals: 1, figures: 3 },
  share: { unit: '', per: 1, decimals: 0, figures: 3 },
  count: { unit: '', per: 1, decimals: 0, figures: 3 },
  'N mm': { unit: 'kN m', per: 1e6, decimals: 3, figures: 3 },
  mm3: { unit: 'cm³', per: 1e3, decimals: 1, figures: 3 },
  'N/mm2': { unit: 'N/mm²', per: 1, decimals: 4, figures: 3 },
};

const usUnits = (): Readonly<Record<ValueUnit, Shown>> => {
  const [inch, kip] = [internalPer('in'), internalPer('kip')];
  return {
    ...METRIC,
    mm: { unit: 'in', per: inch, decimals: 3, figures: 1 },
    N: { unit: 'kip', per: kip, decimals: 2, figures: 3 },
    MPa: { unit: 'ksi', per: internalPer('ksi'), decimals: 2, figures: 3 },
    'N/mm': { unit: 'kip/in', per: kip / inch, decimals: 3, figures: 3 },
    'N mm': { unit: 'kip in', per: kip * inch, decimals: 2, figures: 3 },
    mm3: { unit: 'in³', per: inch ** 3, decimals: 1, figures: 3 },
    'N/mm2': { unit: 'kip/in²', per: kip / inch ** 2, decimals: 4, figures: 3 },
  };
};
let us: Readonly<Record<ValueUnit, Shown>> | undefined;

const shownIn = (unit: ValueUnit, display: Display): Shown => {
  if (display === 'metric') return METRIC[unit];
  us ??= usUnits();
  return us[unit];
};

/** Beyond this a figure says only that nothing is there to meet it. */
const BEYOND = 1e12;
/** Below this a figure, in the unit it is printed in, is none. */
const NOTHING = 5e-8;
/** Degrees: no angle of steel or rope is known to this, so less is round-off. */
const NO_ANGLE = 1e-4;
/** Decimals beyond which nothing is printed. */
const MOST = 8;

/**
 * A figure as the calculation prints it: units that go together on a pocket calculator (kN, mm, MPa or kip, in, ksi), at least the
 * usual decimals, and `more` of them where a line needs them to come out; no noughts that say nothing beyond the usual.
 * @param scale what the figures that count are counted from: of a component, the whole
 */
export function printed(value: number, unit: ValueUnit, display: Display, more = 0, scale = value): Printed {
  if (!(Math.abs(value) < BEYOND)) return { digits: 'beyond any figure', unit: '', value, half: 0, exact: true };
  const shown = shownIn(unit, display);
  // What no page could tell from nothing is round-off.
  const amount = Math.abs(value / shown.per) < (unit === 'rad' ? NO_ANGLE : NOTHING) ? 0 : value / shown.per;
  const size = scale === 0 ? 0 : Math.floor(Math.log10(Math.abs(scale / shown.per)));
  const least = Math.min(MOST, Math.max(shown.decimals, shown.figures - 1 - size));
  const says = (decimals: number) => Math.abs(Number(amount.toFixed(decimals)) - amount) <= 1e-10 * Math.abs(amount);
  const loose = unit === 'share' || unit === 'count';
  let decimals = loose ? 0 : shown.decimals;
  // A plate sold by the inch is so many hundredths of a mm: 31.75 is not 31.8.
  const sold = unit === 'mm' && display === 'metric' && says(2) && !says(1);
  if (sold) decimals = 2;
  const end = Math.min(MOST, least + more);
  while (decimals < end && !says(decimals)) decimals++;
  const text = amount.toFixed(decimals).replace(/^-([0.]+)$/, '$1');
  return {
    digits: text,
    unit: shown.unit,
    value: Number(text) * shown.per,
    half: (shown.per * 10 ** -decimals) / 2,
    exact: decimals >= MOST || says(decimals),
  };
}

/** A figure with its unit as plain text. */
export const printedText = ({ digits, unit }: Printed): string =>
  unit === '' ? digits : unit === '°' ? `${digits}°` : `${digits} ${unit}`;

/** A figure with its unit as TeX. */
export const printedTex = ({ digits, unit }: Printed): string =>
  unit === ''
    ? /^-?\d/.test(digits)
      ? digits
      : String.raw`\text{${digits.replaceAll(' ', String.raw`\ `)}}`
    : unit === '°'
      ? `${digits}°`
      : String.raw`${digits}\,\mathrm{${unit.replaceAll(' ', String.raw`\,`)}}`;

/** A length on the lug as the calculation prints it, mm: with hundredths in metric where it is so many of them. */
export const sizeText = (mm: number, display: Display): string =>
  shopLength(mm, display, Math.abs(mm * 10 - Math.round(mm * 10)) < 1e-6 ? 1 : 2);

/**
 * Checks that ask for so much at the least, of what is there: their formula is written with what is asked on the left, as any other's,
 * so that what they call the limit is the figure of the lug.
 */
const AT_LEAST: ReadonlySet<string> = new Set([
  'weld.angle.least',
  'weld.leg.least',
  'weld.length.least',
  'weld.electrode',
  'keep-clear',
  'seam-clear',
  'shackle-bow',
  'shackle-shell',
  'as-built-clearance',
]);

/** Whether a check asks for so much at the least. */
export const isAtLeast = ({ id }: { readonly id: string }): boolean => AT_LEAST.has(id);

/** What a check asks for and what is there, as a summary says it. */
export function askedAndHere(check: Pick<Check, 'id' | 'demand' | 'limit' | 'unit'>, display: Display): string[] {
  const { demand, limit } = checkFigures(check, display);
  if (check.id === 'weld.electrode')
    return [check.demand >= NICKEL ? 'nickel-type' : 'any class', check.limit >= NICKEL ? 'nickel-type' : 'ordinary'];
  return isAtLeast(check) ? [`at least ${demand}`, `here ${limit}`] : [demand, limit];
}

/** The class of an electrode from which it is of nickel type; under it, ordinary. */
const NICKEL = 2;

/** Demand and limit of a check, with as many decimals as it takes for a figure past its limit to look so; shares in per cent. */
export function checkFigures(
  check: { readonly demand: number; readonly limit: number; readonly unit: CheckUnit },
  display: Display,
): { demand: string; limit: string } {
  const say = (value: number, more: number): string => {
    if (check.unit !== 'share' || !(Math.abs(value) < BEYOND))
      return printedText(printed(value, check.unit, display, more));
    return `${(value * 100).toFixed(2 + more)} %`;
  };
  for (let more = 0; ; more++) {
    const [demand, limit] = [say(check.demand, more), say(check.limit, more)];
    if (demand !== limit || check.demand <= check.limit || more === 6) return { demand, limit };
  }
}

/** A sentence with its forces in the unit of the checks, other figures as everywhere. */
export const valuePhrase = (phrase: Phrase, display: Display): string =>
  phrase
    .map((part) => {
      if (typeof part === 'string') return part;
      return 'newton' in part ? printedText(printed(part.newton, 'N', display)) : showFigure(part, display);
    })
    .join('');
