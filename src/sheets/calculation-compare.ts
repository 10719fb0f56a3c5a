import { showPhrase } from '../job/show.ts';
import type { Context } from './context.ts';
import { degrees, gapLength } from './figures.ts';
import type { Flow } from './flow.ts';
import { sideNames } from './sides.ts';
import { plainText } from './text.ts';

/** Stations along the foot that are printed of those looked at. */
const EVERY = 4;

/** The other sources of the hull laid over the one planned on, at this lug; nothing where the job names no other. */
export function compareSection(flow: Flow, context: Context): void {
  const { plan, fitting } = context;
  const { display } = plan.job;
  if (plan.compare.length === 0) return;
  const gap = (mm: number) => gapLength(mm, display);
  flow.heading(1, 'The shell by other sources');
  flow.paragraph(
    'Each other source laid over the hull that was planned on, under this foot; differences along the stem, other less own, positive farther out.',
  );
  for (const { name, fittings } of plan.compare) {
    const f = fittings.find((each) => each.id === fitting.id);
    if (f === undefined) continue;
    flow.heading(2, plainText(name));
    flow.paragraph(plainText(showPhrase(f.words, display)));
    if (!f.reached) continue;
    const { found, errors } = f;
    flow.pairs([
      ['Least and greatest difference, root mean square', `${gap(found.least)}, ${gap(found.most)}, ${gap(found.rms)}`],
      [
        'At the place; slope along the foot; bevel',
        `${gap(found.offset)}; ${degrees(found.footSlope, 2)}; ${degrees(found.bevel, 2)}`,
      ],
      [
        'One standard deviation of these, as stated',
        f.agreement === 'unstated'
          ? 'not stated'
          : `${gap(errors.offset)}; ${degrees(errors.footSlope, 2)}; ${degrees(errors.bevel, 2)}`,
      ],
      ['Difference in shape that no shift and no tilt takes away', gap(found.shape)],
      [
        'Gap of the cut as planned, on the hull planned on and on this one',
        `${gap(found.gapOwn)}, ${gap(found.gapOther)}`,
      ],
    ]);
    flow.table(
      [
        { title: `along the foot from its middle, + towards the ${sideNames(fitting)['end+']}`, share: 2 },
        { title: 'difference', share: 1, align: 'right' },
        { title: 'bevel planned on', share: 1, align: 'right' },
        { title: 'bevel on this one', share: 1, align: 'right' },
      ],
      found.along
        .filter((_, i) => i % EVERY === 0)
        .map((at) => [gap(at.a), gap(at.difference), degrees(at.bevelOwn, 2), degrees(at.bevelOther, 2)]),
    );
  }
}
