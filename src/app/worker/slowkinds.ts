import type { BestAsk, BestEnd, MapAsk, MapEnd, MapStep } from '../places/kinds.ts';
import type { PlanRequest, TakeAway } from './protocol.ts';
import type { Share } from './slowwork.ts';
import type { SureEnd } from './sure.ts';

/*
 * Work that takes longer than a blink.
 * A new kind is one entry here and one line in `slow.worker.ts`.
 */

export interface SlowKinds {
  /** Every paper of a job in one archive; `null` where the job cannot be planned. */
  readonly papers: { readonly input: PlanRequest; readonly progress: Share; readonly result: TakeAway | null };
  /** Where a lug may go, or how it may stand where it is: coarse first, then finer. */
  readonly map: { readonly input: MapAsk; readonly progress: MapStep; readonly result: MapEnd };
  /** How lugs stand best. */
  readonly best: { readonly input: BestAsk; readonly progress: Share; readonly result: BestEnd };
  /** What the errors of the readings do to fit and pull. */
  readonly sure: { readonly input: PlanRequest; readonly progress: Share; readonly result: SureEnd };
}
