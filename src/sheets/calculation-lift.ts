import type { LiftPlan, LugSweep } from '../plan/movement/types.ts';
import { GOES_TOGETHER } from '../strength/checks-rigging.ts';
import { balanceSection } from './calculation-balance.ts';
import { SUMMARY_COLUMNS, summaryRows } from './calculation-summary.ts';
import { printed, printedText, valuePhrase } from './calculation-values.ts';
import { wholeCheck } from './calculation-whole.ts';
import type { Context } from './context.ts';
import { cardLength, degrees } from './figures.ts';
import type { Flow } from './flow.ts';
import { forceUnit, liftChart } from './liftchart.ts';
import { placeText } from './liftlines.ts';
import { lugOver, stepEnds, stepText } from './liftsteps.ts';
import { pushesSaid } from './liftwork.ts';
import { sideNames } from './sides.ts';
import { plainText } from './text.ts';

/** mm. Height of a chart. */
const CHART = 52;

/** The movement of the load as it comes to this lug: where its pulls come from, the worst of every check and where; nothing without one. */
export function liftSection(flow: Flow, context: Context): void {
  const { plan, fitting } = context;
  const { lift } = plan;
  if (lift === null) return;
  const { display } = plan.job;
  const swept = lift.lugs.find((each) => each.id === fitting.id);
  flow.heading(1, lift.name === 'load' ? 'Movement of the load' : `Movement of the load: ${plainText(lift.name)}`, 55);
  const force = (newton: number) => printedText(printed(newton, 'N', display));
  const tape = (mm: number) => cardLength(mm, display);
  const pushes = pushesSaid(plan, lift);
  flow.pairs([
    ['Weight in air, W', force(lift.load.weight)],
    ['Buoyancy, B', force(lift.load.buoyancy)],
    ['Weight in water, W - B', force(lift.net)],
    ['Centre of gravity, as drawn', placeText(lift.load.centre, tape)],
    ['Centre of buoyancy, as drawn', placeText(lift.load.buoyancyCentre, tape)],
    ['Steps that were looked at', String(lift.states.length)],
    ['Pushes', pushes.length === 0 ? 'none: no current, no hand on the load' : pushes.join('\n')],
  ]);
  for (const note of lift.notes) flow.bullet(plainText(valuePhrase(note, display)));
  const worst = swept?.worst?.tension.state ?? lift.lines.find((line) => line.greatest !== null)?.greatest?.state ?? 0;
  // Where the lug is pulled hardest, and where the check that it misses by most is at its worst.
  const missed = swept?.checks.filter(({ check }) => !check.pass).toSorted((p, q) => q.check.ratio - p.check.ratio)[0];
  balanceSection(flow, context, lift, [...new Set([worst, missed?.state ?? worst])]);
  if (lift.checks.length > 0) {
    flow.heading(2, 'The movement itself');
    flow.table(SUMMARY_COLUMNS, summaryRows(lift.checks, context), {
      size: 8,
      boldRow: (row) => lift.checks[row]?.pass === false,
    });
    flow.paragraph(
      lift.checks
        .map((check) => `${check.title}: ${plainText(check.source)}.`)
        .join(' ')
        .replaceAll('..', '.'),
      { size: 8 },
    );
  }
  if (swept !== undefined) lugSection(flow, context, lift, swept);
}

function lugSection(flow: Flow, context: Context, lift: LiftPlan, swept: LugSweep): void {
  const { plan, fitting } = context;
  const { display } = plan.job;
  // One unit down a column, that of the checks.
  const force = (newton: number) => printedText(printed(newton, 'N', display));
  // Of a pull the part across, to as many decimals as its greatest has, and one.
  const part = (newton: number) => printedText(printed(newton, 'N', display, 1, swept.worst?.tension.pull.force));
  flow.heading(2, 'This lug over the movement');
  flow.paragraph(plainText(valuePhrase(swept.summary, display)), { bold: true });
  if (swept.worst === undefined) return;
  const { worst } = swept;
  // Without a push in the job there is nothing to tell of one.
  const pushable = lift.pushes.length > 0;
  const rows = [
    ['greatest pull', worst.tension],
    ['greatest across the plate', worst.sideways],
    ['farthest out of the plane', worst.offPlane],
    ['farthest off the stem', worst.inPlane],
  ] as const;
  flow.table(
    [
      { title: 'worst by', share: 2 },
      { title: 'pull', share: 1.2, align: 'right' },
      { title: 'across', share: 1.2, align: 'right' },
      { title: 'out of plane', share: 1, align: 'right' },
      { title: 'off the stem', share: 1, align: 'right' },
      { title: 'at step', share: 0.8, align: 'right' },
      ...(pushable ? [{ title: 'pushed by', share: 1.2 }] : []),
    ],
    rows.map(([name, { pull, state, push }]) => [
      name,
      force(pull.force),
      part(pull.sideways),
      degrees(pull.offPlane),
      degrees(pull.inPlane),
      String(state + 1),
      ...(pushable ? [push === null ? 'at rest' : plainText(push)] : []),
    ]),
  );
  const names = sideNames(fitting);
  flow.paragraph(
    `Across and out of plane: plus towards the ${names['face+']}, minus towards the ${names['face-']}. Off the stem: plus towards the ${names['end+']}, minus towards the ${names['end-']}. The greatest are the greatest either way.`,
    { size: 8 },
  );
  for (const { text } of plan.offers?.filter(({ id }) => id === fitting.id) ?? [])
    flow.paragraph(`Another stance looked for. ${plainText(valuePhrase(text, display))}`);
  const over = lugOver(plan, lift, fitting);
  const box = (x: number, y: number, width: number) => ({ x, y, width, height: CHART });
  const limit = swept.checks.find(({ check }) => check.id === 'lift-sideways')?.check.limit;
  // That of the checks, however small the pulls.
  const unit = forceUnit(display, Number.POSITIVE_INFINITY);
  const common = { steps: lift.states.length, ends: stepEnds(lift) };
  const draw = (): void => {
    flow.figure(CHART + 1, (sheet, x, y, width) =>
      liftChart(sheet, context.fonts, box(x, y, width), {
        ...common,
        unit,
        title: `Pull on this lug at each step${pushable ? ': dots at rest, ticks the most under a push' : ''}`,
        series: [{ name: 'pull', ...over.force }],
      }),
    );
    flow.figure(CHART, (sheet, x, y, width) =>
      liftChart(sheet, context.fonts, box(x, y, width), {
        ...common,
        unit,
        title: 'Force across its plate at each step',
        series: [{ name: 'across', ...over.sideways }],
        ...(limit === undefined ? {} : { limit: { value: limit, text: `allowed ${force(limit)}` } }),
      }),
    );
  };
  // Of one step there is no way to draw.
  if (lift.states.length > 1) draw();
  flow.paragraph(
    `In bold: the steps of the greatest pull and of the greatest force across the plate${pushable ? ', at rest or pushed; pushed: the most that any push makes of it, either way' : ''}. Signs as above.`,
    { size: 8 },
  );
  flow.table(
    [
      { title: 'Step', share: 0.6, align: 'right' },
      { title: 'what', share: pushable ? 2.2 : 2.6 },
      { title: pushable ? 'pull at rest' : 'pull', share: 1.1, align: 'right' },
      { title: 'across', share: 1.1, align: 'right' },
      { title: 'out of plane', share: 0.9, align: 'right' },
      { title: 'off the stem', share: 0.9, align: 'right' },
      ...(pushable
        ? ([
            { title: 'pull, pushed', share: 1.1, align: 'right' },
            { title: 'across, pushed', share: 1.1, align: 'right' },
          ] as const)
        : []),
    ],
    lift.states.map((state, i) => {
      const pull = swept.pulls[i];
      const [whole, across] = [over.force.pushed[i], over.sideways.pushed[i]];
      const pushed = [whole == null ? '' : force(whole), across == null ? '' : part(across)];
      const figures =
        pull == null
          ? [state.rest.found ? 'none' : 'NOT AT REST', '', '', '']
          : [force(pull.force), part(pull.sideways), degrees(pull.offPlane), degrees(pull.inPlane)];
      return [String(i + 1), stepText(state), ...figures, ...(pushable ? pushed : [])];
    }),
    { size: 8, boldRow: (row) => row === worst.tension.state || row === worst.sideways.state },
  );
  swept.checks.forEach(({ check, state, push }, i) => {
    const by = push !== null ? `, under the push “${plainText(push)}”` : pushable ? ', at rest' : '';
    const where = GOES_TOGETHER.has(check.id)
      ? 'The same at every step.'
      : `Worst at step ${state + 1} of ${lift.states.length}${by}.`;
    wholeCheck(flow, context, check, `M${i + 1}`, lift.states.length === 1 ? '' : where);
  });
}
