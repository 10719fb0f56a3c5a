import { readingInWords } from '../job/readingname.ts';
import { showFigure } from '../job/show.ts';
import { compareSection } from './calculation-compare.ts';
import type { Context } from './context.ts';
import { degrees, gapLength, gapUp, sharesText } from './figures.ts';
import type { Flow } from './flow.ts';
import { plainText } from './text.ts';

/** How well the shell is known: what other sources find, and what the ± of the readings do. */
export function knownSection(flow: Flow, context: Context): void {
  compareSection(flow, context);
  uncertaintySection(flow, context);
}

/** What the ± of the job's readings do to fit and pull; nothing where they were not followed through. */
function uncertaintySection(flow: Flow, context: Context): void {
  const { plan, fitting } = context;
  const { display } = plan.job;
  const found = plan.uncertainty?.fittings.find((each) => each.id === fitting.id);
  if (plan.uncertainty === undefined || found === undefined) return;
  const share = (value: number) => showFigure({ share: value }, display);
  const gap = (mm: number) => gapLength(mm, display);
  flow.heading(1, 'What the errors of the readings do');
  flow.paragraph(
    `The job with every ± moved by a normal error, ${plan.uncertainty.samples} times (seed ${plan.uncertainty.seed}); the plate stays as cut for the plan.`,
  );
  const rows = [
    ['bevel the shell asks for', found.bevel, (x: number) => degrees(x, 2)],
    ['largest gap of the plate as cut', found.gap, gap],
    ['pull out of the plane', found.offPlane, (x: number) => degrees(x, 2)],
  ] as const;
  flow.table(
    [
      { title: '', share: 2.4 },
      { title: 'mean', share: 1, align: 'right' },
      { title: 'standard deviation', share: 1, align: 'right' },
      { title: '95 of 100 between (as many below as above)', share: 2, align: 'right' },
    ],
    rows.map(([name, spread, say]) => [
      name,
      say(spread.mean),
      say(spread.deviation),
      `${say(spread.low)} and ${say(spread.high)}`,
    ]),
  );
  flow.pairs([
    ['Tight fits', share(found.fits)],
    ['Fits that need no new cut', share(found.usable)],
    ['Feet that found no shell', share(found.missed)],
    ['Metal to leave so that 95 of 100 can be ground to fit', gap(gapUp(found.stock, display))],
    ['Gap that 95 of 100 stay below', gap(gapUp(found.gap95, display))],
  ]);
  const rest = 'all else, and what is in no proportion to any one reading';
  const columns = [
    [found.bevel.deviation < SMALL_ANGLE, found.inputs.map((each) => each.bevel)],
    [found.gap.deviation < SMALL_GAP, found.inputs.map((each) => each.gap)],
    [found.offPlane.deviation < SMALL_ANGLE, found.inputs.map((each) => each.offPlane)],
  ] as const;
  const told = found.inputs.map((_, i) => columns.some(([, list]) => (list[i] as number) >= TELLING));
  const shares = columns.map(([still, list]) => {
    const kept = list.filter((_, i) => told[i]);
    return still ? [...kept, 0].map(() => 'does not move') : sharesText(ofOne(kept));
  });
  flow.table(
    [
      { title: 'Share of the variance that each reading explains', share: 3 },
      { title: 'bevel', share: 1, align: 'right' },
      { title: 'gap', share: 1, align: 'right' },
      { title: 'pull', share: 1, align: 'right' },
    ],
    [...found.inputs.filter((_, i) => told[i]).map(({ path }) => plainText(readingInWords(path, plan.job))), rest].map(
      (name, i) => [name, ...shares.map((list) => list[i] as string)],
    ),
  );
}

/** A share that rounds to nothing in whole per cent is not told on a line of its own. */
const TELLING = 0.005;
/** mm and rad. A standard deviation below this is printed as none: there is nothing to share out. */
const SMALL_GAP = 0.05;
const SMALL_ANGLE = (0.005 * Math.PI) / 180;

/** Shares with what is left of the whole behind them; all of one whole, though each was estimated alone and they may come to a little more. */
function ofOne(shares: readonly number[]): number[] {
  const sum = shares.reduce((total, share) => total + share, 0);
  const whole = Math.max(1, sum);
  return [...shares.map((share) => share / whole), 1 - sum / whole];
}
