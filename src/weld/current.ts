import type { Sourced } from './sourced.ts';
import type { ElectrodeKind } from './steel.ts';

/** Direct current only: alternating current is never used in the water, so it has no name here. */
export type Polarity = 'DCEP' | 'DCEN';

export interface CurrentWindow {
  readonly polarity: Polarity;
  /** A, least and most. */
  readonly amperes: readonly [number, number];
}

/** One row of settings: electrode kind and core diameter, mm. */
export interface CurrentRow extends Sourced<CurrentWindow> {
  readonly kind: ElectrodeKind;
  readonly diameter: number;
}

const NOT_VERIFIED = 'from memory, not verified: the maker’s sheet and a trial bead at working depth decide';

/** Windows by electrode. Only the first row is common practice; the others are starting points to change. */
export const CURRENT_WINDOWS: readonly CurrentRow[] = [
  {
    kind: 'nickel',
    diameter: 2.4,
    value: { polarity: 'DCEP', amperes: [80, 95] },
    source: 'common practice, no source: electrode positive penetrates deeper and gives a thicker throat',
    standing: 'common-practice',
  },
  row('nickel', 3.2, 'DCEP', 105, 125),
  row('nickel', 4, 'DCEP', 130, 155),
  row('ferritic', 2.4, 'DCEN', 80, 110),
  row('ferritic', 3.2, 'DCEN', 120, 150),
  row('ferritic', 4, 'DCEN', 150, 190),
  row('austenitic', 2.4, 'DCEP', 75, 95),
  row('austenitic', 3.2, 'DCEP', 100, 130),
];

function row(kind: ElectrodeKind, diameter: number, polarity: Polarity, least: number, most: number): CurrentRow {
  return {
    kind,
    diameter,
    value: { polarity, amperes: [least, most] },
    source: NOT_VERIFIED,
    standing: 'not-verified',
  };
}

/** mm. Electrodes are sold by nominal diameters: 2.4 and 3/32 in (2.38) are one size. */
const SAME_DIAMETER = 0.06;

export type CurrentAdvice = { readonly kind: 'window'; readonly row: CurrentRow } | { readonly kind: 'no-window' };

/**
 * Current window of an electrode. `no-window` where the table has no row for it: the maker's sheet must give one; nothing is
 * extrapolated. @param diameter mm, of the core wire.
 */
export function currentWindow(
  kind: ElectrodeKind,
  diameter: number,
  rows: readonly CurrentRow[] = CURRENT_WINDOWS,
): CurrentAdvice {
  const found = rows.find((each) => each.kind === kind && Math.abs(each.diameter - diameter) <= SAME_DIAMETER);
  return found === undefined ? { kind: 'no-window' } : { kind: 'window', row: found };
}

/** What each polarity does, for the card. Common practice, no source. */
export const POLARITY_EFFECT: Readonly<Record<Polarity, string>> = {
  DCEP: 'electrode positive: deeper penetration, thicker throat',
  DCEN: 'electrode negative: flatter bead',
};
