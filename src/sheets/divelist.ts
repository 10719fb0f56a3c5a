import { showFigure } from '../job/show.ts';
import { CAUTIONS } from './cautions.ts';
import type { Context } from './context.ts';
import { endOf } from './dives.ts';
import type { Drawing } from './drawing.ts';
import { cardLength, fixed } from './figures.ts';
import { Flow, unstraggled } from './flow.ts';
import { sideNames, spotText } from './sides.ts';

/** What every dive is to get done, in what it starts and ends, and what it takes down: for the supervisor to hand out. */
export const diveList = (context: Context): Drawing => unstraggled(context, diveListPages);

function diveListPages(context: Context): Drawing {
  const { fitting, plan } = context;
  const { display } = plan.job;
  const { schedule, work, totals } = fitting.weld;
  const names = sideNames(fitting);
  const flow = new Flow(context, 'Dive list');
  flow.heading(1, `Dive list: lug ${context.id}`);
  flow.paragraph(
    'Dives are counted with a bottom time that the dive supervisor sets; this is no dive table and no decompression advice. A dive may be cut short at any moment: write where it ended, and plan the rest again from there.',
    { bold: true },
  );
  if (schedule === null) flow.paragraph('No bottom time is given: dives are not counted.');
  else if (schedule.kind === 'dive-too-short') {
    flow.paragraph(
      `A dive is too short: one step of the work needs ${showFigure({ minutes: schedule.least }, display)} of bottom time.`,
      { bold: true },
    );
  } else {
    flow.paragraph(
      `Bottom time taken: ${showFigure({ minutes: schedule.terms.bottomTime }, display)} a dive, of which ${showFigure({ minutes: schedule.terms.overhead }, display)} is not work. ${totals.electrodes} electrodes in all; spares come on top.`,
    );
    flow.table(
      [
        { title: 'Dive', share: 0.6, align: 'right', bold: true },
        { title: 'min', share: 0.6, align: 'right' },
        { title: 'rods', share: 0.6, align: 'right' },
        { title: 'work', share: 3.2 },
        { title: 'ends at', share: 3.4 },
        { title: 'diver', share: 1.3 },
        { title: 'really ended at', share: 1.8 },
      ],
      schedule.dives.map((dive) => {
        const items = dive.pieces.flatMap((piece) => {
          const item = work.find((each) => each.no === piece.no);
          return item === undefined ? [] : [{ piece, item }];
        });
        const rods = items.reduce(
          (sum, { piece, item }) => sum + item.electrodes * (piece.toShare - piece.fromShare),
          0,
        );
        const words = items.map(({ item }) =>
          item.task === 'hold' ? `HOLD ${item.hold}` : `layer ${item.layer} (${item.kind}) bead ${item.bead}`,
        );
        const last = items.at(-1);
        return [
          String(dive.dive),
          fixed(dive.minutes, 0),
          String(Math.ceil(rods - 1e-9)),
          counted(words).join('; '),
          last === undefined ? '' : endOf(context, last.item, last.piece),
          '',
          '',
        ];
      }),
      { rowHeight: 8, size: 7.5 },
    );
  }
  flow.heading(2, 'Every run in order');
  const spot = (s: number) => shortSpot(spotText(fitting, s, (mm) => cardLength(mm, display)));
  flow.paragraph(
    `From and to: side of the foot, then how far from which corner of that side. Sides: ${Object.values(names).join(', ')}.`,
    { size: 8 },
  );
  flow.table(
    [
      { title: 'No.', share: 0.6, align: 'right' },
      { title: 'layer', share: 1.2 },
      { title: 'bead', share: 0.6, align: 'right' },
      { title: 'from', share: 2.5 },
      { title: 'to', share: 2.5 },
      { title: 'rods', share: 0.6, align: 'right' },
      { title: 'min', share: 0.6, align: 'right' },
      { title: 'done', share: 0.9 },
    ],
    work.map((item) =>
      item.task === 'hold'
        ? [String(item.no), `HOLD: ${item.hold}`, '', '', '', '', fixed(item.minutes, 0), '']
        : [
            String(item.no),
            `${item.layer} ${item.kind}`,
            String(item.bead),
            spot(item.fromS),
            spot(item.toS),
            fixed(item.electrodes, 1),
            fixed(item.minutes, 1),
            '',
          ],
    ),
    { size: 7, boldRow: (row) => work[row]?.task === 'hold' },
  );
  flow.heading(3, 'Cautions');
  for (const caution of CAUTIONS) flow.bullet(caution);
  return { title: `Dive list ${context.id}: ${context.title}`, pages: flow.finish() };
}

/** `keel, 125 mm from aft`: as short as it can be said in a table that names its columns. */
const shortSpot = (text: string): string => text.replace(/ (?:side|end),/, ',').replace(/(from \w+) corner$/, '$1');

/** Equal words that follow one another said once, with how many. */
function counted(words: readonly string[]): string[] {
  const out: { word: string; count: number }[] = [];
  for (const word of words) {
    const last = out.at(-1);
    if (last !== undefined && last.word === word) last.count += 1;
    else out.push({ word, count: 1 });
  }
  return out.map(({ word, count }) => (count === 1 ? word : `${word}, ${count} runs`));
}
