import type { Phrase } from '../../../geometry/phrase.ts';
import type { Fitting } from '../../job/types.ts';
import type { PullCase } from './pulls.ts';

/** What may be changed. Lengths mm either way from where the lug stands; 0 or absent leaves it there. */
export interface StanceFreedom {
  readonly heading: boolean;
  readonly lean: boolean;
  readonly girth?: number;
  readonly station?: number;
}

/** One way to stand, and what it comes to. */
export interface Stance {
  /** The fitting so placed and turned, ready to be planned. */
  readonly fitting: Fitting;
  /** rad */
  readonly heading: number;
  /** Stem against the shell's normal, rad, about the heading; for a stem that follows a rule, what the rule comes to. */
  readonly lean: number;
  readonly station: number;
  readonly girth: number;
  /** N: greatest sideways force over all pulls, and the pull and its case there. */
  readonly sideways: number;
  readonly share: number;
  readonly worst: PullCase;
}

export type StanceResult =
  | {
      readonly found: true;
      readonly before: Stance;
      readonly best: Stance;
      /** What keeps it from being better. */
      readonly stops: 'in-plane' | 'balance' | 'limit';
      readonly reason: Phrase;
      /** True where it stands within the limits already; where not, the best may take more sideways force than it does now. */
      readonly stands: boolean;
      /** True where the best is within the share of sideways pull that the job allows. */
      readonly saves: boolean;
    }
  | { readonly found: false; readonly reason: Phrase };

/** Another way to stand for one lug of a movement, the others left where they are. */
export interface StanceOffer {
  readonly id: string;
  /** What was allowed to change: the heading, and where that alone does not do it the lean as well. */
  readonly freedom: 'heading' | 'heading-and-lean';
  readonly result: StanceResult & { readonly found: true };
  /** In words, with what keeps it from being better. */
  readonly text: Phrase;
}
