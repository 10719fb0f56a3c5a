import { shown } from './shown.ts';
import type { Fault } from './types.ts';

/** The version that `jobSchema` describes. */
export const JOB_VERSION = 1;

/** How a file of a version becomes one of the next. A new version adds its step here and nothing elsewhere. */
const STEPS: Readonly<Record<number, (raw: object) => object>> = {};

export type Migration = { readonly ok: true; readonly raw: unknown } | { readonly ok: false; readonly fault: Fault };

/** Brings a parsed job file up to the version of today; what it cannot tell is left for the schema to say. */
export function migrate(
  raw: unknown,
  steps: Readonly<Record<number, (raw: object) => object>> = STEPS,
  current: number = JOB_VERSION,
): Migration {
  if (typeof raw !== 'object' || raw === null || Array.isArray(raw)) return { ok: true, raw };
  const version: unknown = (raw as { version?: unknown }).version;
  if (typeof version !== 'number' || !Number.isInteger(version)) return { ok: true, raw };
  if (version > current) {
    const expected = `${current} or lower: the file was written for a newer release`;
    return { ok: false, fault: { path: 'version', found: shown(version), expected } };
  }
  let value: object = raw;
  for (let v = version; v < current; v++) {
    const step = steps[v];
    if (step === undefined) {
      const known = Object.keys(steps).concat(String(current)).join(', ');
      return { ok: false, fault: { path: 'version', found: shown(version), expected: `one of ${known}` } };
    }
    value = { ...step(value), version: v + 1 };
  }
  return { ok: true, raw: value };
}
