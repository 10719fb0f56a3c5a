import type { Phrase } from '../../../geometry/phrase.ts';
import { showPhrase } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import type { Check, FittingPlan } from '../../plan/types.ts';
import { shopPhrase } from '../../sheets/shopphrase.ts';
import { sidesInWords } from '../../sheets/sides.ts';
import { withTakeOff } from '../../sheets/takeoff.ts';

/** What of a fitting's plan names sides of the foot or lengths to cut: as the sheets say it, not as the plan file does. */
export type Worded = Pick<FittingPlan, 'checks' | 'asBuilt'> & Pick<FittingPlan['fit'], 'verdict' | 'remedies'>;

const SIDE = /(?:face|end)[+-]/;

/** The same texts with sides by where they face, what comes off a square foot as the bevel table prints it, orders as a shop measures. */
export function inWords(fitting: FittingPlan, display: Display): Worded {
  const say = (phrase: Phrase): string => showPhrase(phrase, display);
  const sides = (text: string): Phrase => [sidesInWords(fitting, text)];
  const remedy = (phrase: Phrase): Phrase => sides(withTakeOff(fitting, say(phrase), display));
  const { fit, checks, asBuilt } = fitting;
  const named = (term: Check['terms'][number]): Check['terms'][number] =>
    SIDE.test(term.name) ? { ...term, name: sidesInWords(fitting, term.name) } : term;
  const worded = (check: Check): Check => ({
    ...check,
    terms: check.terms.map(named),
    remedy: check.remedy.length === 0 ? check.remedy : remedy(check.remedy),
  });
  return {
    verdict: sides(say(fit.verdict)),
    remedies: fit.remedies.map(remedy),
    checks: checks.map(worded),
    asBuilt:
      asBuilt === null
        ? null
        : {
            ...asBuilt,
            verdict: sides(say(asBuilt.verdict)),
            orders: asBuilt.orders.map((order) => sides(shopPhrase(order, display))),
            checks: asBuilt.checks.map(worded),
          },
  };
}
