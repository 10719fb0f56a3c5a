import type { Kind } from '../../job/units.ts';

/**
 * The job as sentences: which words stand where, and which of them are figures of the job file. Pure data, so that the
 * screen, the keyboard and a test all see the same statement.
 */
export type Piece =
  | string
  /** A quantity with its unit. `clear`: the field may be taken out again. */
  | { readonly quantity: string; readonly kind: Kind; readonly label: string; readonly clear?: boolean }
  /** A bare number. */
  | { readonly number: string; readonly label: string }
  /** Free text. */
  | { readonly words: string; readonly label: string }
  | {
      readonly choice: string;
      readonly label: string;
      readonly value: string;
      readonly options: readonly Option[];
      readonly choose: (text: string, value: string) => string;
    }
  | { readonly action: string; readonly change: (text: string) => string }
  | { readonly hull: true };

export interface Option {
  readonly value: string;
  readonly label: string;
}

export interface Group {
  readonly id: string;
  readonly title: string;
  readonly sentences: readonly (readonly Piece[])[];
  /** Folded until someone wants it: figures that most jobs leave as they are. */
  readonly folded?: boolean;
}
