import type { Phrase } from '../../geometry/phrase.ts';
import type { Overlay } from '../../geometry/uncertainty/overlay.ts';

/** Another source of the hull (`ship.compare`) laid over the one that was planned on. */
export interface SourceComparison {
  readonly name: string;
  /** In the order of the plan's fittings. */
  readonly fittings: readonly FittingComparison[];
}

export type FittingComparison =
  | {
      readonly id: string;
      readonly reached: true;
      readonly found: Overlay;
      /** One standard deviation of each difference, from what the two sources say of themselves; 0: neither says anything. */
      readonly errors: Differences;
      readonly agreement: Agreement;
      /** What the cut as planned is on the other source: its gap against the limits of the job. */
      readonly cut: 'tight' | 'usable' | 'recut';
      readonly words: Phrase;
    }
  /** The other source gives no shell under the whole foot: it does not reach, or has a hole or a knuckle there. */
  | { readonly id: string; readonly reached: false; readonly words: Phrase };

/** Height at the place, mm; slope along the foot and through its thickness, rad. */
export interface Differences {
  readonly offset: number;
  readonly footSlope: number;
  readonly bevel: number;
}

/**
 * Whether two sources agree: `within` where no difference is more than two standard deviations of what they say of themselves,
 * `beyond` where one is, `unstated` where neither says how sure it is.
 */
export type Agreement = 'within' | 'beyond' | 'unstated';
