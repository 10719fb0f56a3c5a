import type { Phrase } from '../../geometry/phrase.ts';
import type { Spread } from '../../geometry/uncertainty/spread.ts';
import { readingInWords } from '../job/readingname.ts';
import { showPhrase } from '../job/show.ts';
import { escaped } from '../job/shown.ts';
import type { Job } from '../job/types.ts';
import type { FittingUncertainty, Uncertainty } from '../plan/spreads.ts';
import { block } from './layout.ts';

/** Inputs named at most: what explains less than this says little. */
const MOST_INPUTS = 4;
const LEAST_SHARE = 0.02;

/** How sure the plan is of one lug, as lines of the report; none where nothing carries a ±. */
export function uncertaintyLines(uncertainty: Uncertainty | undefined, index: number, job: Job): string[] {
  const f = uncertainty?.fittings[index];
  if (uncertainty === undefined || f === undefined) return [];
  const say = (...phrase: Phrase) => showPhrase(phrase, job.display);
  return [
    ...block(
      'How sure',
      `of ${uncertainty.samples} ships that the readings allow, ${say({ share: f.fits })} take the lug as cut with a tight fit, ` +
        `${say({ share: f.usable })} without a new cut${f.missed > 0 ? `; on ${say({ share: f.missed })} the foot finds no shell` : ''}.`,
    ),
    ...block(
      '',
      `95 of 100: bevel ${range(f.bevel, 'rad', say)}, gap ${range(f.gap, 'mm', say)}, pull ${range(f.offPlane, 'rad', say)} off the plane.`,
    ),
    ...block(
      '',
      say(
        'To grind it to fit in 95 of 100 cases leave ',
        { mm: f.stock, bound: 'least' },
        ' on the foot; as cut the gap stays below ',
        { mm: f.gap95, bound: 'least' },
        ' in 95 of 100, which is what it may add to the square leg.',
      ),
    ),
    ...block('', readingsText(f, job, say)),
  ];
}

function range({ low, high }: Spread, unit: 'mm' | 'rad', say: (...phrase: Phrase) => string): string {
  const figure = (x: number) => (unit === 'mm' ? { mm: x } : { rad: x });
  return say(figure(low), ' to ', figure(high));
}

function readingsText({ inputs }: FittingUncertainty, job: Job, say: (...phrase: Phrase) => string): string {
  const named = (path: string) => escaped(readingInWords(path, job));
  const list = inputs.filter((i) => i.bevel >= LEAST_SHARE).slice(0, MOST_INPUTS);
  if (list.length === 0) return 'No single reading stands out in the bevel.';
  const shares = list.map((i) => `${named(i.path)} ${say({ share: i.bevel, digits: 0 })}`).join(', ');
  return `What the bevel's uncertainty comes from, in front what to read again first: ${shares}.`;
}
