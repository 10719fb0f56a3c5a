import type { Display } from './types.ts';
import { internalPer, type Kind } from './units.ts';

/** The unit each kind is written in. A rated load is held as a force. */
const UNITS: Readonly<Record<Display, Readonly<Record<Kind, string>>>> = {
  metric: {
    length: 'mm',
    angle: 'deg',
    force: 'kN',
    mass: 'kg',
    load: 'kN',
    stress: 'MPa',
    current: 'A',
    potential: 'V',
    time: 'min',
    share: '%',
    volume: 'm3',
    density: 'kg/m3',
  },
  us: {
    length: 'in',
    angle: 'deg',
    force: 'lbf',
    mass: 'lb',
    load: 'tonf',
    stress: 'ksi',
    current: 'A',
    potential: 'V',
    time: 'min',
    share: '%',
    volume: 'ft3',
    density: 'lb/ft3',
  },
};

/** Largest denominator of an inch that is written as a fraction. */
const FINEST = 64;

/**
 * A quantity as it may stand in a job file, exact to twelve digits: `310 mm`, `3.4 m`, `1 1/2 in`, `12.5 deg`.
 * Reading it back gives the value again, within one part in 10^11.
 *
 * @param value in internal units (mm, rad, N, kg, MPa, A, V, min; a share as 0..1)
 * @throws RangeError where the value is no finite number
 */
export function quantityText(value: number, kind: Kind, display: Display): string {
  if (!Number.isFinite(value)) throw new RangeError('a quantity that is no number was to be written');
  if (kind === 'length' && display === 'metric' && Math.abs(value) >= 1000) {
    return `${digits(value / internalPer('m'))} m`;
  }
  const unit = UNITS[display][kind];
  const count = value / internalPer(unit);
  if (kind === 'length' && display === 'us') return usLengthText(count);
  return `${digits(count)} ${unit}`;
}

function usLengthText(inches: number): string {
  const parts = Math.round(Math.abs(inches) * FINEST);
  const whole = Math.floor(parts / FINEST);
  const isFraction = Math.abs(Math.abs(inches) * FINEST - parts) < 1e-11 * Math.max(1, parts);
  if (!isFraction) return `${digits(inches)} in`;
  const sign = inches < 0 && parts > 0 ? '-' : '';
  if (whole >= 36 && parts % (FINEST * 12) === 0) return `${sign}${whole / 12} ft`;
  let [above, below] = [parts % FINEST, FINEST];
  while (above > 0 && above % 2 === 0) [above, below] = [above / 2, below / 2];
  const fraction = above === 0 ? '' : `${above}/${below}`;
  if (whole >= 36) return `${sign}${Math.floor(whole / 12)} ft ${mixed(whole % 12, fraction)} in`;
  return `${sign}${mixed(whole, fraction)} in`;
}

function mixed(whole: number, fraction: string): string {
  if (fraction === '') return String(whole);
  return whole === 0 ? fraction : `${whole} ${fraction}`;
}

/** Twelve significant digits without a tail of zeros, never as `1e-7`. */
function digits(value: number): string {
  if (value === 0) return '0';
  const places = Math.min(20, Math.max(0, 11 - Math.floor(Math.log10(Math.abs(value)))));
  const text = value.toFixed(places);
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}
