import { WORTH_GRINDING } from '../../geometry/asbuilt/grind.ts';
import { showFigure, showPhrase } from '../job/show.ts';
import { SUMMARY_COLUMNS, summaryRows } from './calculation-summary.ts';
import type { Context } from './context.ts';
import { degrees, gapLength } from './figures.ts';
import type { Flow } from './flow.ts';
import { shopPhrase } from './shopphrase.ts';
import { sideNames, sidesInWords, spotText } from './sides.ts';

/** The lug as it was really built, held against the limits; nothing where nothing was measured. */
export function asBuiltSection(flow: Flow, context: Context): void {
  const { fitting, plan } = context;
  const { asBuilt } = fitting;
  if (asBuilt === null) return;
  const { display } = plan.job;
  const words = (text: string) => sidesInWords(fitting, text);
  flow.heading(1, 'As built');
  flow.paragraph(words(showPhrase(asBuilt.verdict, display)), { bold: true });
  for (const order of asBuilt.orders) flow.bullet(words(shopPhrase(order, display)));
  const force = (newton: number) => showFigure({ newton }, display);
  flow.pairs([
    ['Stem, off the planned one', degrees(asBuilt.offPlanned, 2)],
    [
      'Instrument, from plumb and level',
      `face ${degrees(asBuilt.readings.faceFromPlumb, 2)}, stem ${degrees(asBuilt.readings.stemFromPlumb, 2)}, sight line ${degrees(asBuilt.readings.footFromLevel, 2)}`,
    ],
    ['Pull on the lug as it stands', acrossText(context, force)],
  ]);
  feltTable(flow, context);
  if (asBuilt.checks.length === 0) return;
  flow.table(
    SUMMARY_COLUMNS.map((column, i) => (i === 0 ? { ...column, title: 'Check, as built' } : column)),
    summaryRows(asBuilt.checks, context),
    { size: 8, boldRow: (row) => asBuilt.checks[row]?.pass === false },
  );
  flow.paragraph('Each of them stands in full among the checks.', { size: 8 });
}

/** Every gap that was felt, what is to come off there, and what is left once the lug is set in anew; nothing where none was felt. */
export function feltTable(flow: Flow, { fitting, plan }: Context): void {
  const { asBuilt } = fitting;
  if (asBuilt === null || asBuilt.gaps.length === 0) return;
  const { display } = plan.job;
  flow.table(
    [
      { title: 'Gap felt at', share: 3 },
      { title: 'planned', share: 1.2, align: 'right' },
      { title: 'found', share: 1.2, align: 'right' },
      { title: 'grind off', share: 1.2, align: 'right' },
      { title: 'left then', share: 1.2, align: 'right' },
    ],
    asBuilt.gaps.map((felt, i) => {
      const spot = asBuilt.grind?.spots[i];
      return [
        spotText(fitting, felt.s, (mm) => gapLength(mm, display)),
        gapLength(felt.planned, display),
        gapLength(felt.gap, display),
        spot === undefined ? '' : spot.grind < WORTH_GRINDING ? 'none' : gapLength(spot.grind, display),
        spot === undefined ? '' : gapLength(spot.left, display),
      ];
    }),
  );
}

/** How much of the pull acts across the plate as it was built, and to which side. */
function acrossText({ fitting }: Context, force: (newton: number) => string): string {
  const { sideways = 0, offPlane = 0 } = fitting.asBuilt?.load ?? {};
  const angle = degrees(Math.abs(offPlane), 2);
  if (Number.parseFloat(angle) === 0) return 'in the plane of the plate';
  const side = sideNames(fitting)[offPlane > 0 ? 'face+' : 'face-'];
  return `${force(Math.abs(sideways))} across the plate, ${angle} out of its plane, towards the ${side}`;
}
