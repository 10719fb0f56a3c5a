/**
 * A sentence with figures left as numbers in SI-like base units, so that whoever shows it can choose metric or US.
 * `geometry` and `plan` speak in phrases; only the edges (`cli`, `sheets`, `app`) turn them into text.
 */
export type Figure = Quantity & {
  readonly digits?: number;
  /** The figure stands for a least or a most that would do: it is shown rounded up or down, not to the nearest. */
  readonly bound?: 'least' | 'most';
};

type Quantity =
  | { readonly mm: number }
  | { readonly rad: number }
  | { readonly newton: number }
  | { readonly newtonPerMm: number }
  | { readonly mpa: number }
  | { readonly kg: number }
  | { readonly minutes: number }
  | { readonly share: number }
  | { readonly count: number };

export type Phrase = readonly (string | Figure)[];
