import * as z from 'zod';
import { expectedQuantity, readQuantity } from './quantity.ts';
import type { Kind } from './units.ts';

/* Kinds of field that a job file is made of: what each takes, and the words in which it says what it expected. */

export interface Range {
  /** Least value in internal units, itself allowed. */
  readonly min?: number;
  /** Greater than this. */
  readonly over?: number;
  /** Less than this. */
  readonly under?: number;
  readonly max?: number;
  /** The range in words. */
  readonly words: string;
}

export const POSITIVE: Range = { over: 0, words: 'greater than zero' };
export const NOT_NEGATIVE: Range = { min: 0, words: 'zero or more' };

function within(value: number, range: Range): boolean {
  return (
    value >= (range.min ?? -Infinity) &&
    value > (range.over ?? -Infinity) &&
    value < (range.under ?? Infinity) &&
    value <= (range.max ?? Infinity)
  );
}

export function quantity(kind: Kind, like: string, range?: Range) {
  const expected = expectedQuantity(kind, like);
  return z
    .string({ error: expected })
    .superRefine((text, ctx) => {
      const reading = readQuantity(text, kind, like);
      if (!reading.ok) ctx.addIssue({ code: 'custom', message: reading.expected });
      else if (range !== undefined && !within(reading.value, range)) {
        ctx.addIssue({ code: 'custom', message: `${expected}, ${range.words}` });
      }
    })
    .meta({ description: expected, examples: [like] });
}

export const length = (like: string, range?: Range) => quantity('length', like, range);
export const size = (like: string) => length(like, POSITIVE);
/** Sizes of a lug: beyond 5 m it is something else, and its root would take points without end. */
export const LUG_SIZE: Range = { over: 0, max: 5000, words: 'greater than zero, at most 5 m' };
export const lugSize = (like: string) => length(like, LUG_SIZE);
/** The thinnest leaf of a feeler gauge set: below it no fit can be told from another. */
export const FEELER: Range = { min: 0.05, words: 'at least 0.05 mm' };
/** Shorter, a run is all start and stop. */
export const RUN: Range = { min: 20, words: 'at least 20 mm' };
export const between = (min: number, max: number, words: string): Range => ({ min, max, words });
export const angle = (like: string, range?: Range) => quantity('angle', like, range);
export const underRight: Range = { over: -Math.PI / 2, under: Math.PI / 2, words: 'between -90 deg and 90 deg' };
export const acute: Range = { min: 0, under: Math.PI / 2, words: 'from 0 deg to less than 90 deg' };

/** Message of an unknown field: the known ones, which `faults.ts` takes apart again. */
export const KNOWN_FIELDS = 'known fields: ';

export function group<S extends z.core.$ZodLooseShape>(shape: S) {
  const known = KNOWN_FIELDS + Object.keys(shape).join(', ');
  return z.strictObject(shape, {
    error: (issue) => (issue.code === 'unrecognized_keys' ? known : 'a group of fields in { }'),
  });
}

export function oneOf<const T extends readonly [string, ...string[]]>(values: T) {
  return z.enum(values, { error: `one of ${values.map((v) => `"${v}"`).join(', ')}` });
}

export function list<T extends z.ZodType>(item: T, least: number, what: string) {
  const expected = `a list of at least ${least} ${what}`;
  return z.array(item, { error: expected }).min(least, { error: expected });
}

export function text(expected: string, most = 200) {
  return z
    .string({ error: expected })
    .min(1, { error: expected })
    .max(most, { error: `${expected}, at most ${most} characters long` });
}

export function number(expected: string, min: number, max: number) {
  return z.number({ error: expected }).min(min, { error: expected }).max(max, { error: expected });
}

/** Exactly one of these optional fields is there. Looked at even where other fields of the group are wrong. */
export function exactlyOne<T extends z.ZodObject>(shape: T, names: readonly string[], expected: string) {
  return shape
    .refine((value) => names.filter((n) => value[n as keyof typeof value] !== undefined).length === 1, {
      error: expected,
      params: { names },
      when: (payload) => typeof payload.value === 'object' && payload.value !== null && !Array.isArray(payload.value),
    })
    .meta({ oneOf: names.map((name) => ({ required: [name] })) });
}
