import type { Phrase } from '../../geometry/phrase.ts';
import { showPhrase } from '../job/show.ts';
import type { Display } from '../job/types.ts';
import type { Check, FittingPlan } from '../plan/types.ts';
import { sidesInWords } from '../sheets/sides.ts';
import { withTakeOff } from '../sheets/takeoff.ts';
import { demandAgainstLimit } from './checktext.ts';
import { block } from './layout.ts';

/** Does it hold: the worst strength check with its limit, source and margin, and the toe that goes first. */
export function holdsLines(fitting: FittingPlan, display: Display): string[] {
  const { strength } = fitting;
  const worst = strength.checks.reduce((a, b) => (b.ratio > a.ratio ? b : a));
  const { methods } = strength.methods;
  const governs = methods.find((m) => m.governs);
  const check = methods.find((m) => m.isCheck);
  const beside: Phrase =
    governs && check && governs !== check
      ? [
          ` By ${governs.source.split(';')[0]} the weld comes to `,
          { share: governs.ratio, digits: 0 },
          ' of its limit, by the method of the basis to ',
          { share: check.ratio, digits: 0 },
          '.',
        ]
      : [];
  return [
    ...block(
      'Holds',
      `${strength.checks.every((c) => c.pass) ? 'yes, by every check of it; worst' : 'NO; worst'}: ${worst.title}, ` +
        `${demandAgainstLimit(worst, display)}, ${marginText(worst, display)} (${firstSentence(worst.source)})`,
    ),
    ...block('', sidesInWords(fitting, showPhrase([...strength.toes.text, ...beside], display))),
  ];
}

/** `34 % to spare`, `12 % over`. */
export function marginText({ ratio }: Pick<Check, 'ratio'>, display: Display): string {
  if (ratio <= 1) return showPhrase([{ share: 1 - ratio, digits: 0 }, ' to spare'], display);
  // Beyond this a share says nothing any more.
  if (ratio > 100) return 'far over';
  return showPhrase([{ share: ratio - 1, digits: ratio < 1.1 ? 1 : 0 }, ' over'], display);
}

/** A failed check: what, by how much, whose limit, what to do; a screening says that it is one. */
export function failedLines(fitting: FittingPlan, check: Check, display: Display): string[] {
  const kind = check.screening ? ' Screening: an engineer works it out before anything hangs from it.' : '';
  return [
    ...block(
      'FAILS',
      `${check.title}: ${demandAgainstLimit(check, display)}, ${marginText(check, display)} (${firstSentence(check.source)})${kind}`,
    ),
    ...block('', sidesInWords(fitting, withTakeOff(fitting, showPhrase(check.remedy, display), display))),
  ];
}

/** The whole source stands in the plan file. */
export function firstSentence(text: string): string {
  return text.split(/(?<=[a-z0-9)])\. (?=[A-Z])/)[0] ?? text;
}
