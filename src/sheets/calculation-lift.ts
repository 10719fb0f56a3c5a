import { showFigure, showPhrase } from '../job/show.ts';
import { checkSection, summaryRows } from './calculation.ts';
import type { Context } from './context.ts';
import { degrees } from './figures.ts';
import type { Flow } from './flow.ts';
import { forceUnit, liftChart } from './liftchart.ts';
import { lugOver, placesSaid, stepEnds } from './liftsteps.ts';
import { plainText } from './text.ts';

/** mm. Height of a chart. */
const CHART = 46;

/** The movement of the load as it comes to this lug: greatest pulls, the worst of every check and where; nothing without one. */
export function liftSection(flow: Flow, context: Context): void {
  const { plan, fitting } = context;
  const { lift } = plan;
  if (lift === null) return;
  const { display } = plan.job;
  const swept = lift.lugs.find((each) => each.id === fitting.id);
  flow.heading(1, `Movement of the load: ${plainText(lift.name)}`);
  const force = (newton: number) => showFigure({ newton }, display);
  flow.pairs([
    ['Weight in water', force(lift.net)],
    ['Places of the load that were looked at', String(lift.states.length)],
    ['Pushes', lift.pushes.map((push) => `${plainText(push.name)} ${force(push.force)}`).join('; ') || 'none'],
  ]);
  for (const note of lift.notes) flow.bullet(placesSaid(showPhrase(note, display)));
  if (lift.checks.length > 0) {
    flow.heading(2, 'The movement itself');
    flow.table(
      [
        { title: 'Check', share: 3.4 },
        { title: 'demand', share: 1.25, align: 'right' },
        { title: 'limit', share: 1.25, align: 'right' },
        { title: 'ratio', share: 0.75, align: 'right' },
        { title: 'verdict', share: 0.95 },
      ],
      summaryRows(lift.checks, context),
      { size: 7.5, boldRow: (row) => lift.checks[row]?.pass === false },
    );
  }
  if (swept === undefined) return;
  flow.heading(2, 'This lug over the movement');
  flow.paragraph(placesSaid(showPhrase(swept.summary, display)), { bold: true });
  if (swept.worst !== undefined) {
    const { worst } = swept;
    const rows = [
      ['greatest pull', worst.tension],
      ['greatest across the plate', worst.sideways],
      ['farthest out of the plane', worst.offPlane],
      ['farthest off the stem', worst.inPlane],
    ] as const;
    flow.table(
      [
        { title: '', share: 2 },
        { title: 'pull', share: 1.2, align: 'right' },
        { title: 'across', share: 1.2, align: 'right' },
        { title: 'out of plane', share: 1, align: 'right' },
        { title: 'off the stem', share: 1, align: 'right' },
        { title: 'at place', share: 0.8, align: 'right' },
        { title: 'pushed by', share: 1.2 },
      ],
      rows.map(([name, { pull, state, push }]) => [
        name,
        force(pull.force),
        force(pull.sideways),
        degrees(pull.offPlane),
        degrees(pull.inPlane),
        String(state + 1),
        push === null ? 'at rest' : plainText(push),
      ]),
    );
  }
  const over = lugOver(plan, lift, fitting);
  const box = (x: number, y: number, width: number) => ({ x, y, width, height: CHART });
  const common = { places: lift.states.length, ends: stepEnds(lift), unit: forceUnit(display) };
  flow.figure(2 * CHART + 3, (sheet, x, y, width) => {
    liftChart(sheet, context.fonts, box(x, y + CHART + 3, width), {
      ...common,
      title: 'Pull on this lug at each place: dots at rest, ticks the most under a push',
      series: [{ name: '', ...over.force }],
    });
    const limit = swept.checks.find(({ check }) => check.id === 'lift-sideways')?.check.limit;
    liftChart(sheet, context.fonts, box(x, y, width), {
      ...common,
      title: 'Force across its plate',
      series: [{ name: '', ...over.sideways }],
      ...(limit === undefined ? {} : { limit: { value: limit, text: `limit ${force(limit)}` } }),
    });
  });
  swept.checks.forEach(({ check, state, push }, i) => {
    checkSection(flow, context, check, `M${i + 1}`);
    flow.paragraph(
      `Worst at place ${state + 1} of ${lift.states.length}, ${push === null ? 'at rest' : `pushed by ${plainText(push)}`}.`,
      { size: 8 },
    );
  });
}
