import type { Phrase } from '../../geometry/phrase.ts';

/** One reason why a job cannot be planned: the path of the field, what stood there, what should. */
export interface PlanFault {
  /** Path in the job file, e.g. `fittings[1].lug.foot`. */
  readonly path: string;
  readonly found: Phrase;
  readonly expected: Phrase;
}

/** A job that reads well and cannot be planned. Thrown by `planJob` with everything that is wrong, never with nothing. */
export class PlanRefused extends Error {
  override readonly name = 'PlanRefused';
  readonly faults: readonly PlanFault[];

  constructor(faults: readonly PlanFault[]) {
    super(faults.map((fault) => fault.path).join(', '));
    this.faults = faults;
  }
}
