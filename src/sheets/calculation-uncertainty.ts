import { showFigure } from '../job/show.ts';
import { compareSection } from './calculation-compare.ts';
import type { Context } from './context.ts';
import { degrees, gapLength } from './figures.ts';
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
      { title: '95 of 100 between', share: 2, align: 'right' },
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
    ['Metal to leave so that 95 of 100 can be ground to fit', gap(found.stock)],
    ['Gap that 95 of 100 stay below', gap(found.gap95)],
  ]);
  flow.table(
    [
      { title: 'Share of the variance that each reading explains', share: 3 },
      { title: 'bevel', share: 1, align: 'right' },
      { title: 'gap', share: 1, align: 'right' },
      { title: 'pull', share: 1, align: 'right' },
    ],
    found.inputs.map((each) => [plainText(each.path), share(each.bevel), share(each.gap), share(each.offPlane)]),
  );
}
