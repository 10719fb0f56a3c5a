/**
 * A sentence with figures left as numbers in SI-like base units, so that whoever shows it can choose metric or US.
 * `geometry` and `plan` speak in phrases; only the edges (`cli`, `sheets`, `app`) turn them into text.
 */
export type Figure =
  | { readonly mm: number; readonly digits?: number }
  | { readonly rad: number; readonly digits?: number }
  | { readonly newton: number; readonly digits?: number }
  | { readonly newtonPerMm: number; readonly digits?: number }
  | { readonly mpa: number; readonly digits?: number }
  | { readonly kg: number; readonly digits?: number }
  | { readonly minutes: number; readonly digits?: number }
  | { readonly share: number; readonly digits?: number }
  | { readonly count: number; readonly digits?: number };

export type Phrase = readonly (string | Figure)[];
