import type { Figure, Phrase } from '../../geometry/phrase.ts';
import type { Display } from './types.ts';
import { internalPer } from './units.ts';

/** Between the numbers inside the program and the text people read. Inside: mm, N, MPa, rad, kg, min. */

/**
 * A figure as text with its unit. Metric: mm, from 1000 mm on m; US: inches to the nearest 1/32 (below 1/8 in
 * thousandths), from 36 in on feet and inches to the same 1/32. `digits` asks for that many decimals of a millimetre, degree, kN, MPa, kg or per cent; in
 * US units for what comes nearest to that, in decimal inches. A length or a stress that stands for a least or a most is never shown on its
 * wrong side.
 * @throws RangeError for a figure that is no number: it must not reach a person as text
 */
export function showFigure(figure: Figure, display: Display): string {
  const us = display === 'us';
  if ('mm' in figure)
    return us ? usLength(figure.mm, figure.digits, figure.bound) : metricLength(figure.mm, figure.digits, figure.bound);
  if ('rad' in figure) return `${fixed(figure.rad / internalPer('deg'), figure.digits ?? 1)}°`;
  if ('newton' in figure) return us ? usForce(figure.newton, figure.digits) : metricForce(figure.newton, figure.digits);
  if ('newtonPerMm' in figure) return lineForce(figure.newtonPerMm, figure.digits, us);
  if ('mpa' in figure) {
    const digits = (figure.digits ?? 0) + (us ? 1 : 0);
    const value = us ? figure.mpa / internalPer('ksi') : figure.mpa;
    return `${fixed(bounded(value, 10 ** -digits, figure.bound), digits)} ${us ? 'ksi' : 'MPa'}`;
  }
  if ('kg' in figure) {
    if (us) return `${fixed(figure.kg / internalPer('lb'), figure.digits ?? 1)} lb`;
    return `${fixed(figure.kg, figure.digits ?? 1)} kg`;
  }
  if ('minutes' in figure) return duration(figure.minutes, figure.digits);
  if ('share' in figure) return `${fixed(figure.share * 100, figure.digits ?? 1)} %`;
  return fixed(figure.count, figure.digits ?? 0);
}

/** A sentence with its figures in the reader's units. */
export function showPhrase(phrase: Phrase, display: Display): string {
  return phrase.map((part) => (typeof part === 'string' ? part : showFigure(part, display))).join('');
}

type Bound = Figure['bound'];

/** On a mark of so many steps: up to the next for a least, down for a most; as it is for what is neither. */
export function bounded(value: number, step: number, bound: Bound): number {
  if (bound === undefined) return value;
  return (bound === 'least' ? Math.ceil(value / step - ON_MARK) : Math.floor(value / step + ON_MARK)) * step;
}

/** What a figure may miss a mark by and still be on it, of a step. */
const ON_MARK = 1e-6;

function metricLength(of: number, digits: number | undefined, bound: Bound): string {
  const decimals = digits ?? 1;
  const mm = bounded(of, 10 ** -decimals, bound);
  if (Math.abs(Number(fixed(mm, decimals))) >= 1000) return `${fixed(bounded(of, 1, bound) / internalPer('m'), 3)} m`;
  return `${fixed(mm, decimals)} mm`;
}

/** Inches. Below this a gap is what a feeler gauge reads: thousandths, where 1/32 would be one figure for all. */
const FINE = 1 / 8;

function usLength(mm: number, digits: number | undefined, bound: Bound): string {
  const inches = mm / internalPer('in');
  const decimal = (places: number): string => `${fixed(bounded(inches, 10 ** -places, bound), places)} in`;
  if (digits !== undefined && Math.abs(inches) < 36) return decimal(digits + 2);
  if (Math.abs(inches) < FINE && fixed(inches, 3) !== '0.000') return decimal(3);
  const marked = bounded(inches, 1 / 32, bound);
  if (Math.abs(inches) < 36) return `${fractional(marked, 32)} in`;
  return feetAndInches(marked * internalPer('in'));
}

/** A length in feet and inches to the nearest 1/32 in, mm: `5 ft 3 1/32 in`, `4 ft 0 15/32 in`, `19 ft`. */
export function feetAndInches(mm: number): string {
  const parts = Math.round(finite(Math.abs(mm / internalPer('in'))) * 32);
  const feet = Math.floor(parts / (12 * 32));
  const rest = parts / 32 - feet * 12;
  const all = `${mm < 0 ? '-' : ''}${feet} ft`;
  // Without a whole inch a nought stands in its place: a bare fraction after feet is heard as a figure that got lost.
  return rest === 0 ? all : `${all} ${rest < 1 ? '0 ' : ''}${fractional(rest, 32)} in`;
}

function metricForce(newton: number, digits: number | undefined): string {
  const kilo = newton / internalPer('kN');
  return `${fixed(kilo, digits ?? (Math.abs(kilo) < 10 ? 2 : 1))} kN`;
}

function usForce(newton: number, digits: number | undefined): string {
  const pounds = newton / internalPer('lbf');
  if (Math.abs(pounds) < 10_000) return `${fixed(pounds, 0)} lbf`;
  return `${fixed(newton / internalPer('kip'), digits ?? 1)} kip`;
}

function lineForce(newtonPerMm: number, digits: number | undefined, us: boolean): string {
  if (!us) return `${fixed(newtonPerMm, digits ?? 0)} N/mm`;
  const kipPerInch = (newtonPerMm * internalPer('in')) / internalPer('kip');
  return `${fixed(kipPerInch, (digits ?? 0) + 2)} kip/in`;
}

function duration(minutes: number, digits: number | undefined): string {
  if (digits !== undefined || Math.abs(minutes) < 59.5) return `${fixed(minutes, digits ?? 0)} min`;
  const whole = Math.round(finite(Math.abs(minutes)));
  const rest = whole % 60;
  return `${minutes < 0 ? '-' : ''}${Math.floor(whole / 60)} h${rest === 0 ? '' : ` ${rest} min`}`;
}

/** Where a station lies, said so that nobody has to think of a sign: "6.300 m forward of the aft perpendicular", "400 mm abaft …". */
export const fromAftPerpendicular = (station: number, length: (mm: number) => string): string =>
  `${length(Math.abs(station))} ${station < 0 ? 'abaft' : 'forward of'} the aft perpendicular`;

/** Decimals as asked, no minus before a zero. */
function fixed(value: number, digits: number): string {
  const text = finite(value).toFixed(digits);
  return /^-[0.]+$/.test(text) ? text.slice(1) : text;
}

function finite(value: number): number {
  if (Number.isFinite(value)) return value;
  throw new RangeError('a figure that is no number was to be shown');
}

/** `1 17/32`, `3/8`, `-2`: the nearest fraction with this denominator, in lowest terms. */
function fractional(value: number, denominator: number): string {
  const parts = Math.round(finite(Math.abs(value)) * denominator);
  if (parts === 0) return '0';
  const sign = value < 0 ? '-' : '';
  const whole = Math.floor(parts / denominator);
  let [above, below] = [parts % denominator, denominator];
  while (above > 0 && above % 2 === 0) [above, below] = [above / 2, below / 2];
  if (above === 0) return `${sign}${whole}`;
  return whole === 0 ? `${sign}${above}/${below}` : `${sign}${whole} ${above}/${below}`;
}
