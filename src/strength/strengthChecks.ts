import type { Advice, Check } from './check.ts';
import { pinPlateChecks } from './checks-pinplate.ts';
import { cheekChecks, lugSectionChecks } from './checks-plate.ts';
import { riggingChecks } from './checks-rigging.ts';
import { frameAdvice, shellChecks } from './checks-shell.ts';
import { type WeldUse, weldChecks, weldUse } from './checks-weld.ts';
import { type Case, type StrengthInput, strengthCase } from './input.ts';

/** Does it hold: every check of one fitting with its working, what is only advice, and the weld's use along the root. */
export interface StrengthResult {
  readonly checks: readonly Check[];
  readonly advice: readonly Advice[];
  readonly weld: WeldUse;
  /** Loads and factors all of it was worked with. */
  readonly basis: Case;
}

/**
 * Checks one fitting to its design basis: pin plate, plate in bending, cheek welds, foot weld, shell, shackle, hoist; each id
 * stands once. Input in mm, N, MPa, rad; vectors in one frame, which the root is in too. Throws RangeError where the root has no
 * length. A verdict is a value: nothing here throws because a lug does not hold.
 */
export function strengthChecks(input: StrengthInput): StrengthResult {
  const c = strengthCase(input);
  const weld = weldUse(c);
  const rigging = riggingChecks(c);
  return {
    checks: [
      ...pinPlateChecks(c),
      ...lugSectionChecks(c),
      ...cheekChecks(c),
      ...weldChecks(c, weld),
      ...shellChecks(c, weld),
      ...rigging.checks,
    ],
    advice: [...frameAdvice(c), ...rigging.advice],
    weld,
    basis: c,
  };
}
