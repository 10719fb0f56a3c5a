import type { Phrase } from '../../geometry/phrase.ts';
import { feetAndInches, showFigure } from '../job/show.ts';
import type { Display } from '../job/types.ts';
import type { Check, Plan } from '../plan/types.ts';
import { isAtLeast } from './calculation-values.ts';
import { cardLength, demandAndLimit, fixed, inches } from './figures.ts';
import { type Chart, forceUnit } from './liftchart.ts';

/*
 * How the lifting plan spells its figures: one unit for all forces of a lift, one way to say a length.
 */

const known = new WeakMap<Plan, Chart['unit']>();

/** The unit of all forces of a lift: that of the greatest among pulls, weights and limits of the gear. */
export function liftUnit(plan: Plan): Chart['unit'] {
  const unit = known.get(plan) ?? unitOf(plan);
  known.set(plan, unit);
  return unit;
}

function unitOf(plan: Plan): Chart['unit'] {
  const { lift } = plan;
  const gear = plan.fittings.flatMap(({ input, load }) => [load.force, input.hoist?.wll ?? 0, input.shackle?.wll ?? 0]);
  const pulls = lift?.cases.flatMap(({ equilibrium }) => equilibrium.lines.map(({ tension }) => tension)) ?? [];
  const most = [...gear, ...pulls, lift?.load.weight ?? 0].reduce((p, q) => Math.max(p, q), 0);
  return forceUnit(plan.job.display, most);
}

/** A force of the movement, N, in words, in the unit of the whole lift. @param more decimals on top of the usual */
export function forceText(plan: Plan, newton: number, more = 0): string {
  const unit = liftUnit(plan);
  const value = newton / unit.is;
  const digits = unit.name === 'lbf' ? 0 : Math.abs(value) < 10 ? 2 : 1;
  return `${fixed(value, digits + more)} ${unit.name}`;
}

/** A length for the people at the hoists, mm. US: from a foot on in feet and inches, to the nearest 1/32 in. */
export function hoistLength(mm: number, display: Display): string {
  if (display === 'metric') return cardLength(mm, display);
  return Math.round(Math.abs(inches(mm)) * 32) < 12 * 32 ? cardLength(mm, display) : feetAndInches(mm);
}

/** A sentence with its forces in the unit of the lift and its lengths as the order of work has them. */
export const liftPhrase = (plan: Plan, phrase: Phrase): string =>
  phrase
    .map((part) => {
      if (typeof part === 'string') return part;
      if ('newton' in part) return forceText(plan, part.newton);
      if ('mm' in part && Math.abs(inches(part.mm)) >= 12 && plan.job.display === 'us')
        return hoistLength(part.mm, 'us');
      return showFigure(part, plan.job.display);
    })
    .join('');

/** What a check finds and what it asks for: `32.6 kN, at most 31.4 kN`; `6.0 mm, wanted at least 8.0 mm`. */
export function foundText(plan: Plan, check: Pick<Check, 'id' | 'demand' | 'limit' | 'unit'>): string {
  const { demand, limit } = check.unit === 'N' ? forces(plan, check) : demandAndLimit(check, plan.job.display);
  // Such a check is written with what it asks for on the left, as a demand.
  return isAtLeast(check) ? `${limit}, wanted at least ${demand}` : `${demand}, at most ${limit}`;
}

/** Forces with as many decimals as it takes for one past its limit to look so. */
function forces(plan: Plan, check: Pick<Check, 'demand' | 'limit'>): { demand: string; limit: string } {
  for (let more = 0; ; more++) {
    const [demand, limit] = [forceText(plan, check.demand, more), forceText(plan, check.limit, more)];
    if (demand !== limit || check.demand <= check.limit || more === 6) return { demand, limit };
  }
}
