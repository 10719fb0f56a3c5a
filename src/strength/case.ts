import { type Design, designFor } from './basis.ts';
import { type DesignLoad, defaultFactors, designLoad, type LiftFactors } from './factors.ts';
import type { StrengthInput } from './input.ts';
import { type PreparedStrength, preparedOnce } from './prepared.ts';

/** Pin diameter taken where no shackle is given: this share of the hole. A choice: a loose pin bears on less steel. */
export const PIN_WITHOUT_SHACKLE = 0.9;

/** What every check of one fitting starts from. */
export interface Case {
  readonly input: StrengthInput;
  readonly design: Design;
  readonly factors: LiftFactors;
  /** With the basis's load factor: strength. */
  readonly load: DesignLoad;
  /** Without it: WLLs and serviceability. */
  readonly service: DesignLoad;
  readonly pin: number;
  readonly pinIsGiven: boolean;
  /** What no load changes. */
  readonly prepared: PreparedStrength;
}

/** The case of an input; `prepared` where it was made ready before, for a sweep over loads. */
export function strengthCase(input: StrengthInput, prepared: PreparedStrength = preparedOnce(input)): Case {
  const factors = { ...defaultFactors(input.basis), ...input.factors };
  return {
    input,
    design: designFor(input.basis, input.en, input.bth),
    factors,
    load: designLoad(input.load, factors),
    service: designLoad(input.load, factors, true),
    pin: input.shackle?.pin ?? PIN_WITHOUT_SHACKLE * input.lug.hole,
    pinIsGiven: input.shackle !== undefined,
    prepared,
  };
}
