import type { Phrase } from './phrase.ts';

/** Why an input cannot be computed on. One code, one meaning. */
export type RefusalCode =
  | 'beyond-data'
  | 'ambiguous-place'
  | 'degenerate-hull'
  | 'stem-along-shell'
  | 'stem-into-shell'
  | 'foot-off-shell'
  | 'lug-outline'
  | 'load-at-pin'
  | 'as-built-readings'
  | 'member-unknown'
  | 'no-pull';

/**
 * Input that cannot be computed on. Thrown by `geometry`; whoever reads the job turns it into a fault line.
 *
 * `field` is the path of the input, relative to the thing being planned (`at.girth`, `lug.foot`, `hull.points[3]`);
 * `found` and `expected` are phrases, so that lengths and angles are shown in the reader's units.
 */
export class Refusal extends Error {
  override readonly name = 'Refusal';
  readonly code: RefusalCode;
  readonly field: string;
  readonly found: Phrase;
  readonly expected: Phrase;

  constructor(code: RefusalCode, field: string, found: Phrase, expected: Phrase) {
    super(`${field}: ${code}`);
    this.code = code;
    this.field = field;
    this.found = found;
    this.expected = expected;
  }
}

/** What `make` gives; undefined where it is refused. Any other error goes on. */
export function unlessRefused<T>(make: () => T): T | undefined {
  try {
    return make();
  } catch (e) {
    if (e instanceof Refusal) return undefined;
    throw e;
  }
}
