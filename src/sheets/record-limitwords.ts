import type { Context } from './context.ts';
import { type Decides, type Reading, readingLimits } from './record-limits.ts';
import { plainText } from './text.ts';

const CALLED: Readonly<Record<Reading, string>> = {
  faceLean: 'Lean of the face',
  footRise: 'Rise of the foot',
  turned: 'Turn',
};

/**
 * Under which pulls the limits beside the blanks hold, and which of them sets each: the pull planned, or a step of the movement. A record
 * typed back in is looked at under the same pulls.
 */
export function limitsWords({ plan, fitting }: Context): string {
  const pulls = plan.lift?.lugs.find(({ id }) => id === fitting.id)?.worst !== undefined;
  if (!pulls) return 'Limits: at the pull planned, each reading by itself.';
  const steps = plan.lift?.states.length;
  const said = (by: Decides): string => {
    if (by === 'planned') return 'the pull planned';
    const push = by.push === null ? '' : ` under the push “${plainText(by.push)}”`;
    return `step ${by.state + 1} of ${steps}${push}`;
  };
  const limits = readingLimits(plan, fitting);
  const sets = (Object.keys(CALLED) as Reading[]).flatMap((reading) => {
    const { by = [], within } = limits[reading];
    const list = [...new Set(by.map(said))];
    return list.length === 0 ? [] : [{ reading, words: list.join(' and '), fails: within === undefined }];
  });
  const head =
    'Limits: each reading by itself, under the pull planned and every pull of the movement, as the plan looks at what is typed back in.';
  // As planned is as planned, whichever reading is asked: what fails is one and the same.
  const fails = sets.find((each) => each.fails);
  if (fails !== undefined) return `${head} As planned the lug fails already, at ${fails.words}.`;
  return [head, ...sets.map(({ reading, words }) => `${CALLED[reading]}: set by ${words}.`)].join(' ');
}
