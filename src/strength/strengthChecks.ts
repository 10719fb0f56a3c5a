import { type Case, strengthCase } from './case.ts';
import type { Advice, Check } from './check.ts';
import { pinPlateChecks } from './checks-pinplate.ts';
import { cheekChecks, lugSectionChecks } from './checks-plate.ts';
import { riggingChecks } from './checks-rigging.ts';
import { frameAdvice, type ShellGains, shellChecks } from './checks-shell.ts';
import { type WeldUse, weldChecks, weldUse } from './checks-weld.ts';
import type { StrengthInput } from './input.ts';
import { preparedForSweep } from './prepared.ts';
import { type ToeVerdict, toeVerdict } from './toes.ts';
import { type WeldMethods, weldMethods } from './weldmethods.ts';

/** The verdicts under one load: what a sweep over loads gives for each. */
export interface StrengthVerdict {
  readonly checks: readonly Check[];
  readonly advice: readonly Advice[];
  readonly weld: WeldUse;
  readonly shell: ShellGains;
  /** Loads and factors all of it was worked with. */
  readonly basis: Case;
}

/** Does it hold: every check of one fitting with its working, what is only advice, and the weld's use along the root. */
export interface StrengthResult extends StrengthVerdict {
  /** The foot weld by other methods beside that of the basis. */
  readonly methods: WeldMethods;
  readonly toes: ToeVerdict;
}

/**
 * Checks one fitting to its design basis: pin plate, plate in bending, cheek welds, foot weld, shell, shackle, hoist; each id
 * stands once. Input in mm, N, MPa, rad; vectors in one frame, which the root is in too. Throws RangeError where the root has no
 * length. A verdict is a value: nothing here throws because a lug does not hold.
 */
export function strengthChecks(input: StrengthInput): StrengthResult {
  const verdict = verdictOf(strengthCase(input));
  let methods: WeldMethods | undefined;
  return {
    ...verdict,
    // Only papers show the other methods: worked out when one of them asks.
    get methods() {
      methods ??= weldMethods(verdict.basis);
      return methods;
    },
    toes: toeVerdict(verdict.basis, verdict.weld),
  };
}

/** The load of a fitting and its angles: what a sweep changes. N, lug frame, before any factor; rad. */
export type SweptLoad = Pick<StrengthInput, 'load' | 'inPlane' | 'offPlane' | 'fromPlumb'>;

/**
 * The checks of one fitting under many loads: what no load changes (weld bed, cells, the panel's response to a unit force along
 * each axis of the lug) is worked out once here; what comes back gives the verdict under a load. Throws as `strengthChecks` does.
 */
export function strengthSweep(input: StrengthInput): (load: SweptLoad) => StrengthVerdict {
  const prepared = preparedForSweep(input);
  return (load) => verdictOf(strengthCase({ ...input, ...load }, prepared));
}

function verdictOf(c: Case): StrengthVerdict {
  const weld = weldUse(c);
  const shell = shellChecks(c, weld);
  const rigging = riggingChecks(c);
  return {
    checks: [
      ...pinPlateChecks(c),
      ...lugSectionChecks(c),
      ...cheekChecks(c),
      ...weldChecks(c, weld),
      ...shell.checks,
      ...rigging.checks,
    ],
    advice: [...frameAdvice(c), ...rigging.advice],
    weld,
    shell: shell.gains,
    basis: c,
  };
}
