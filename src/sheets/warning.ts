import type { FittingPlan, Plan } from '../plan/types.ts';
import { fails } from './words.ts';

/** What stands against working from the sheets of a lug. */
export interface Against {
  /** Checks that fail, of this lug's own, of this lug over the movement of the load and of the movement itself. */
  readonly failed: number;
  readonly of: number;
  /** The movement fails, be it by another lug alone. */
  readonly movement: boolean;
  /** Another source of the hull differs here by more than the two say of themselves. */
  readonly sources: boolean;
}

export function againstOf(plan: Plan, fittings: readonly FittingPlan[]): Against {
  const ids = new Set(fittings.map(({ id }) => id));
  const swept = (plan.lift?.lugs ?? []).filter(({ id }) => ids.has(id)).flatMap(({ checks }) => checks);
  const checks = [
    ...fittings.flatMap((fitting) => fitting.checks),
    ...swept.map(({ check }) => check),
    ...(plan.lift?.checks ?? []),
  ];
  return {
    failed: checks.filter(({ pass }) => !pass).length,
    of: checks.length,
    movement: plan.lift?.pass === false,
    sources: plan.compare.some(({ fittings: compared }) =>
      compared.some((each) => ids.has(each.id) && each.reached && each.agreement === 'beyond'),
    ),
  };
}

/**
 * The line at the head of every page of lugs that are not to be worked from, the fullest wording first, those at the end with no figure
 * in them; none where nothing stands against them. A sheet goes from hand to hand: what the plan says of it has to go with it.
 */
export function warningOf(plan: Plan, fittings: readonly FittingPlan[]): readonly string[] {
  const { failed, of, movement, sources } = againstOf(plan, fittings);
  const wrong = [
    ...(failed > 0
      ? [
          [
            `${failed} of ${of} ${of === 1 ? 'check' : 'checks'} ${fails(failed)}`,
            `${failed} ${fails(failed)}`,
            `${failed === 1 ? 'a check' : 'checks'} ${fails(failed)}`,
          ],
        ]
      : []),
    ...(failed === 0 && movement ? [[othersFail(plan, fittings), 'the lift FAILS', 'the lift FAILS']] : []),
    ...(sources ? [['sources of the hull DIFFER beyond their ±', 'hull sources DIFFER', 'hull sources DIFFER']] : []),
  ];
  if (wrong.length === 0) return [];
  const [full, short, bare] = [0, 1, 2].map((k) => wrong.map((each) => each[k] as string).join(', ')) as [
    string,
    string,
    string,
  ];
  const not = failed > 0 || sources ? 'do not cut, weld or lift' : 'do not lift';
  const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
  return [
    ...new Set([`${full}: ${not}`, `${short}: ${not}`, `${bare}: ${not}`, `${bare}: do not use`, bare].map(capital)),
  ];
}

function othersFail(plan: Plan, fittings: readonly FittingPlan[]): string {
  const others = (plan.lift?.lugs ?? []).filter((lug) => !lug.pass && !fittings.some(({ id }) => id === lug.id)).length;
  return others > 1 ? `${others} other lugs of this lift FAIL` : 'another lug of this lift FAILS';
}

/** Under a drawing that has no head: the caution, with what stands against it in front. */
export const cautionWith = ({ warning }: { readonly warning: readonly string[] }, more = ''): string =>
  warning.length === 0
    ? `A planning aid: a competent engineer checks every figure.${more}`
    : `${warning[0]}. A planning aid.${more}`;
