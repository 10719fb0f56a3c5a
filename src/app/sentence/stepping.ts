import { readQuantity } from '../../job/quantity.ts';
import type { Display } from '../../job/types.ts';
import { internalPer, type Kind, unitCalled } from '../../job/units.ts';

/**
 * Figures as they stand in a job file, moved by steps or set anew, each staying in the unit it was written in.
 * The step is what a hand on the job would take: a millimetre, a sixteenth, half a degree.
 */
export type Stride = 'fine' | 'plain' | 'coarse';

interface Steps {
  readonly fine: number;
  readonly plain: number;
  readonly coarse: number;
}

/** By the unit as `unitCalled` names it, in that unit. */
const STEPS: Readonly<Record<string, Steps>> = {
  mm: { fine: 0.1, plain: 1, coarse: 10 },
  cm: { fine: 0.01, plain: 0.1, coarse: 1 },
  m: { fine: 0.001, plain: 0.01, coarse: 0.1 },
  in: { fine: 1 / 32, plain: 1 / 16, coarse: 1 / 2 },
  ft: { fine: 1 / 192, plain: 1 / 24, coarse: 1 / 2 },
  deg: { fine: 0.1, plain: 0.5, coarse: 5 },
  rad: { fine: 0.001, plain: 0.01, coarse: 0.1 },
  N: { fine: 10, plain: 100, coarse: 1000 },
  kN: { fine: 0.1, plain: 1, coarse: 10 },
  lbf: { fine: 10, plain: 100, coarse: 1000 },
  thousandLbf: { fine: 0.1, plain: 0.5, coarse: 5 },
  tonf: { fine: 0.1, plain: 0.5, coarse: 5 },
  kg: { fine: 1, plain: 10, coarse: 100 },
  t: { fine: 0.1, plain: 0.5, coarse: 5 },
  lb: { fine: 1, plain: 10, coarse: 100 },
  MPa: { fine: 1, plain: 5, coarse: 50 },
  kipPerSquareInch: { fine: 0.1, plain: 1, coarse: 5 },
  A: { fine: 1, plain: 1, coarse: 5 },
  minute: { fine: 1, plain: 5, coarse: 30 },
  '%': { fine: 0.1, plain: 0.5, coarse: 5 },
};

const FALLBACK: Steps = { fine: 0.01, plain: 0.1, coarse: 1 };

const US_UNITS = new Set(['in', 'ft', 'lbf', 'thousandLbf', 'tonf', 'lb', 'kipPerSquareInch', 'lbfPerSquareInch']);

/** The unit a figure was written in, as spelled; the first one of `5 ft 6 in`. */
export function unitIn(raw: string): { readonly spelled: string; readonly unit: string } | undefined {
  for (const m of raw.matchAll(/[A-Za-z%°"']+[0-9^]*/g)) {
    const known = unitCalled(m[0]);
    if (known !== undefined) return { spelled: m[0], unit: known.unit };
  }
  return undefined;
}

/** Whether a figure was written in the units of the display; those that know no country fit both. */
export function writtenIn(raw: string, display: Display): boolean {
  const unit = unitIn(raw)?.unit;
  if (unit === undefined || unit === 'deg' || unit === '%' || unit === 'A' || unit === 'V' || unit === 'minute')
    return true;
  return US_UNITS.has(unit) === (display === 'us');
}

const trim = (x: number, digits: number): string => {
  const text = x.toFixed(digits);
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
};

/** Inches as people write them: `12 1/8` where a thirty-second meets it, decimals elsewhere. */
function inches(value: number): string {
  const parts = Math.round(Math.abs(value) * 32);
  if (Math.abs(Math.abs(value) * 32 - parts) > 1e-6) return trim(value, 4);
  const whole = Math.floor(parts / 32);
  let top = parts % 32;
  let bottom = 32;
  while (top > 0 && top % 2 === 0) {
    top /= 2;
    bottom /= 2;
  }
  const sign = value < 0 && parts > 0 ? '-' : '';
  if (top === 0) return `${sign}${whole}`;
  return `${sign}${whole > 0 ? `${whole} ` : ''}${top}/${bottom}`;
}

/** Text of a figure of so many `unit`s, spelled as it was. */
function inUnit(value: number, unit: string, spelled: string): string {
  if (unit === 'in') return `${inches(value)} ${spelled}`;
  if (unit === 'ft') {
    const sign = value < 0 ? '-' : '';
    const total = Math.abs(value) * 12;
    let feet = Math.floor(total / 12 + 1e-9);
    let rest = inches(total - feet * 12);
    if (rest === '12') {
      feet++;
      rest = '0';
    }
    if (rest === '0') return `${sign}${feet} ${spelled}`;
    return feet === 0 ? `${sign}${rest} in` : `${sign}${feet} ${spelled} ${rest} in`;
  }
  const step = STEPS[unit] ?? FALLBACK;
  const digits = Math.max(0, Math.min(4, Math.ceil(-Math.log10(step.fine))));
  return `${trim(value, digits)} ${spelled}`;
}

const HOME: Readonly<Record<Display, Partial<Record<Kind, string>>>> = {
  metric: {
    length: 'mm',
    angle: 'deg',
    force: 'kN',
    mass: 'kg',
    load: 't',
    stress: 'MPa',
    current: 'A',
    time: 'min',
    share: '%',
  },
  us: {
    length: 'in',
    angle: 'deg',
    force: 'kip',
    mass: 'lb',
    load: 'tonf',
    stress: 'ksi',
    current: 'A',
    time: 'min',
    share: '%',
  },
};

/**
 * A value in internal units (mm, rad, N, kg, MPa, A, min, share 0..1) as text for the job file: in the unit of `like`,
 * or where `like` has none the usual one. Lengths along the ship stay in metres or feet if they were.
 */
export function asWritten(value: number, kind: Kind, like: string, display: Display): string {
  const found = unitIn(like);
  const spelled = found?.spelled ?? HOME[display][kind] ?? '';
  const unit = found?.unit ?? unitCalled(spelled)?.unit ?? spelled;
  const per = internalPer(spelled);
  return inUnit(value / per, unit, spelled);
}

/** What stands after a figure to say how far it may be off: `± 20 mm`, with the blanks before it. */
const TOLERANCE = /\s*(?:±|\+\s*\/?\s*[-\u2212]).*$/;

/** The figure `steps` strides on, its ± kept. A figure that cannot be read stays as it is. */
export function stepped(raw: string, kind: Kind, steps: number, stride: Stride, display: Display): string {
  const reading = readQuantity(raw, kind);
  if (!reading.ok) return raw;
  const found = unitIn(raw);
  const spelled = found?.spelled ?? HOME[display][kind] ?? '';
  const unit = found?.unit ?? unitCalled(spelled)?.unit ?? spelled;
  const per = internalPer(spelled);
  // A load written as a mass reads back as a force: its own figure is what is stepped.
  const own = kind === 'load' ? Number.parseFloat(raw.replace(',', '.')) : reading.value / per;
  const by = (STEPS[unit] ?? FALLBACK)[stride] * steps;
  return inUnit(own + by, unit, spelled) + (TOLERANCE.exec(raw)?.[0] ?? '');
}

/** What was typed, with the unit of the figure it replaces where it has none of its own; after ± it may stand for both. */
export function completed(typed: string, before: string): string {
  const text = typed.trim();
  if (!/^[-+−]?[\d.,/\s]*\d[\d.,/\s]*((±|\+\s*\/?\s*[-−])[\d.,/\s]*\d[\d.,/\s]*)?$/.test(text)) return text;
  const unit = unitIn(before)?.spelled;
  return unit === undefined ? text : `${text} ${unit}`;
}
