import type { Vec3 } from '../../geometry/math/vec.ts';
import { showPhrase } from '../job/show.ts';
import type { Display } from '../job/types.ts';
import type { Check, CheckUnit } from './types.ts';

/* Figures and checks as they stand in the plan file. */

export function checkFile(check: Check, display: Display) {
  return {
    id: check.id,
    title: check.title,
    demand: inFileUnit(check.demand, check.unit),
    limit: inFileUnit(check.limit, check.unit),
    unit: fileUnit(check.unit),
    ratio: finite(check.ratio),
    pass: check.pass,
    /** A screening that fails is a failed check: it says that an engineer has to work it out. */
    screening: check.screening,
    basis: check.basis,
    source: check.source,
    standing: check.standing,
    formula: check.formula,
    tex: check.tex,
    terms: check.terms.map((term) => ({
      symbol: term.symbol,
      name: term.name,
      value: inFileUnit(term.value, term.unit),
      unit: fileUnit(term.unit),
    })),
    steps: check.steps.map((step) => ({
      symbol: step.symbol,
      formula: step.formula,
      value: inFileUnit(step.value, step.unit),
      unit: fileUnit(step.unit),
    })),
    remedy: showPhrase(check.remedy, display),
  };
}

export function fileUnit(unit: CheckUnit): Exclude<CheckUnit, 'rad'> | 'deg' {
  return unit === 'rad' ? 'deg' : unit;
}

export function inFileUnit(value: number, unit: CheckUnit): number {
  return unit === 'rad' ? degrees(value) : finite(value);
}

export function vector(v: Vec3): [number, number, number] {
  return [finite(v[0]), finite(v[1]), finite(v[2])];
}

export function degrees(rad: number): number {
  return finite((rad * 180) / Math.PI);
}

export function kilonewtons(newtons: number): number {
  return finite(newtons / 1000);
}

/** A figure that is no number is a fault of the program, not something to write into a file as null. */
export function finite(value: number): number {
  if (!Number.isFinite(value)) throw new RangeError('a figure of the plan is no number');
  return value === 0 ? 0 : value;
}
