import { readQuantity } from './quantity.ts';
import { pathText } from './shown.ts';
import type { Display, Job, Uncertain } from './types.ts';
import type { Kind } from './units.ts';
import { quantityText } from './write.ts';

const KINDS: readonly Kind[] = [
  'length',
  'angle',
  'force',
  'load',
  'stress',
  'time',
  'potential',
  'current',
  'mass',
  'share',
];
const MARK = /±|\+\s*\/\s*[-\u2212]|\+-/;
/** A job with more is not a job but a table: each is read anew. */
const MOST = 500;

interface Found {
  readonly path: readonly PropertyKey[];
  readonly kind: Kind;
  readonly value: number;
  readonly error: number;
}

function withError(raw: unknown, path: readonly PropertyKey[], out: Found[]): void {
  if (typeof raw === 'string') {
    if (!MARK.test(raw)) return;
    for (const kind of KINDS) {
      const reading = readQuantity(raw, kind);
      if (reading.ok && reading.error !== undefined && reading.error > 0) {
        out.push({ path, kind, value: reading.value, error: reading.error });
        return;
      }
    }
  } else if (Array.isArray(raw)) {
    raw.forEach((item, i) => {
      withError(item, [...path, i], out);
    });
  } else if (typeof raw === 'object' && raw !== null) {
    for (const [key, item] of Object.entries(raw)) withError(item, [...path, key], out);
  }
}

/** The same file with another text at a path; all else is shared. */
function replaced(raw: unknown, path: readonly PropertyKey[], text: string): unknown {
  const [step, ...rest] = path;
  if (step === undefined) return text;
  if (Array.isArray(raw)) return raw.map((item, i) => (i === step ? replaced(item, rest, text) : item));
  const fields = raw as Record<PropertyKey, unknown>;
  return { ...fields, [step]: replaced(fields[step], rest, text) };
}

/**
 * Every quantity of the job that carries its own ±, with what one standard deviation of it does to the job's figures. ± is
 * read as two standard deviations of a normal error: 95 of 100 readings lie within. What a quantity moves is found by reading
 * the job once more with the quantity moved.
 *
 * @param again reads a file that is known to be good
 */
export function uncertainIn<Raw>(raw: Raw, job: Job, again: (raw: Raw) => Job): Uncertain[] {
  const found: Found[] = [];
  withError(raw, [], found);
  return found.slice(0, MOST).map(({ path, kind, value, error }) => {
    const step = error / 2;
    const display: Display = 'metric';
    const text = `${quantityText(value + step, kind, display)} ± ${quantityText(error, kind, display)}`;
    const moved = again(replaced(raw, path, text) as Raw);
    const leaves: { path: readonly PropertyKey[]; step: number }[] = [];
    for (const part of ['ship', 'fittings'] as const) differences(job[part], moved[part], [part], leaves);
    return { path: pathText(path), kind, error, leaves };
  });
}

function differences(
  a: unknown,
  b: unknown,
  path: readonly PropertyKey[],
  out: { path: readonly PropertyKey[]; step: number }[],
): void {
  if (typeof a === 'number' && typeof b === 'number') {
    if (a !== b && Number.isFinite(b - a)) out.push({ path, step: b - a });
  } else if (Array.isArray(a) && Array.isArray(b)) {
    a.forEach((item, i) => {
      differences(item, b[i], [...path, i], out);
    });
  } else if (plain(a) && plain(b)) {
    for (const key of Object.keys(a)) differences(a[key], b[key], [...path, key], out);
  }
}

/** A group of fields, not triangles or any other thing with a life of its own. */
const plain = (x: unknown): x is Record<string, unknown> =>
  typeof x === 'object' && x !== null && !Array.isArray(x) && Object.getPrototypeOf(x) === Object.prototype;
