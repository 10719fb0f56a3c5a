import { showFigure } from '../job/show.ts';
import type { LiftPlan } from '../plan/movement/types.ts';
import type { Plan } from '../plan/types.ts';
import type { Context } from './context.ts';
import { degrees } from './figures.ts';
import type { Flow } from './flow.ts';
import { liftChart } from './liftchart.ts';
import { bearers, hoistOrders, pullText, stepEnds, stepText, tensionAt, watchFor } from './liftsteps.ts';
import { isFree } from './liftturns.ts';
import { hoistLength, liftPhrase, liftUnit } from './liftunits.ts';
import { plainText } from './text.ts';

/*
 * A movement is looked at in steps, counted through from the first to the last. What the people at the hoists are told is the order of
 * work, a numbered item for each thing that is done; an item takes one step or several.
 */

/** mm. */
const HALF_PAGE = 115;

/** mm. Height of the chart of the pulls. */
const CHART = 62;

/** What each hoist does, item by item; who bears the weight at the end of each, and what to watch meanwhile. */
export function orderOfWork(flow: Flow, plan: Plan, lift: LiftPlan): void {
  flow.heading(2, 'Order of work');
  flow.paragraph(
    'One item at a time, the next on the word of the person in charge. Lengths are from pin to load, before the line stretches. The weight borne is a share of the weight in water, at the end of the item. Leans and turns, these as seen from above, are from how the load is drawn; where it goes is told of its centre of gravity, from the end of the item before, the first from how it is drawn. A pull over the one named: stop.',
    { size: 8 },
  );
  const items = itemsOf(lift);
  flow.table(
    [
      { title: 'No.', share: 0.5, align: 'right', bold: true },
      { title: 'what', share: 1.3 },
      { title: 'what each hoist does', share: 3.5 },
      { title: 'bears the weight then', share: 1.15 },
      { title: 'watch', share: 2.2 },
      { title: 'done', share: 0.55 },
    ],
    items.map(({ before, end }, i) => {
      const state = lift.states[end] as LiftPlan['states'][number];
      const first = before + 2;
      return [
        `${i + 1}.`,
        `${plainText(state.label)}\n${first === end + 1 ? `step ${first}` : `steps ${first} to ${end + 1}`}`,
        [
          ...hoistOrders(plan, lift, lift.states[before], state),
          ...(together(lift, before, end) ? [TOGETHER] : []),
        ].join('\n'),
        bearers(plan, lift, state).join('\n'),
        watchFor(plan, lift, before + 1, end).join('\n'),
        '',
      ];
    }),
    { size: 8, rowHeight: 9 },
  );
  for (const text of failuresSaid(plan, lift)) flow.bullet(text);
  if (items.some(({ before, end }) => together(lift, before, end))) lengthsOnTheWay(flow, plan, lift);
}

/** The items of the order of work: the step where the one before ended, -1 before the first, and the step where it ends itself, from 0. */
const itemsOf = (lift: LiftPlan): { readonly before: number; readonly end: number }[] =>
  stepEnds(lift).map((end, i, ends) => ({ before: ends[i - 1] ?? -1, end }));

/** What stands under the hoists of an item in which several of them work, from step to step. */
const TOGETHER = 'together, step by step: lengths below';

/** Whether several hoists work in an item of several steps, from the step where the item before ended; both counted from 0. */
function together(lift: LiftPlan, before: number, end: number): boolean {
  if (end - before < 2) return false;
  const [from, to] = [lift.states[before], lift.states[end]];
  return lift.lines.filter((_, k) => (from?.lengths[k] ?? Number.NaN) !== to?.lengths[k]).length > 1;
}

/**
 * The length of every line at every step, where an item takes several steps and several hoists work in it: halfway on each line is not
 * halfway on the load's way.
 */
function lengthsOnTheWay(flow: Flow, plan: Plan, lift: LiftPlan): void {
  // Hand over hand it is read whole, where it is no longer than half a page.
  flow.heading(2, 'Lengths step by step', Math.min(HALF_PAGE, 22 + 5.2 * lift.states.length));
  flow.paragraph(
    'From pin to load, before the line stretches. Where an item takes several steps its hoists go together: each to its length here, then all to the next.',
    { size: 8 },
  );
  flow.table(
    [
      { title: 'Step', share: 0.6, align: 'right' },
      { title: 'what', share: 2 },
      ...lift.lines.map((line) => ({ title: `line ${plainText(line.id)}`, share: 1.3, align: 'right' as const })),
    ],
    lift.states.map((state, i) => [
      String(i + 1),
      stepText(state),
      ...lift.lines.map((_, k) => {
        const mm = state.lengths[k] ?? Number.POSITIVE_INFINITY;
        return Number.isFinite(mm) ? hoistLength(mm, plan.job.display) : 'off';
      }),
    ]),
    { size: 8 },
  );
}

/** Why steps cannot be done, once for those in a row of which the same is true: `Steps 2 to 8 CANNOT BE DONE: ...`. */
export function failuresSaid(plan: Plan, lift: LiftPlan): string[] {
  const all = lift.states.map((state) => state.failures.map(({ text }) => plainText(liftPhrase(plan, text))));
  return all.flatMap((texts, i) =>
    texts.flatMap((text) => {
      if (all[i - 1]?.includes(text)) return [];
      let end = i;
      while (all[end + 1]?.includes(text)) end++;
      return [`${end === i ? `Step ${i + 1}` : `Steps ${i + 1} to ${end + 1}`} CANNOT BE DONE: ${text}`];
    }),
  );
}

/** Every pull at every step, drawn and in figures. */
export function everyStep(flow: Flow, context: Context, lift: LiftPlan): void {
  const { plan } = context;
  const series = lift.lines.map((line, k) => ({
    name: `line ${plainText(line.id)}`,
    values: lift.states.map((state) => tensionAt(state, k)),
  }));
  flow.heading(2, 'Pull in each line');
  // Of one step there is no way to draw.
  if (lift.states.length > 1)
    flow.figure(CHART, (sheet, x, y, width) =>
      liftChart(
        sheet,
        context.fonts,
        { x, y, width, height: CHART },
        {
          title: 'At rest, over the steps of the movement',
          steps: lift.states.length,
          ends: stepEnds(lift),
          unit: liftUnit(plan),
          series,
        },
      ),
    );
  flow.table(
    [
      { title: 'Step', share: 0.6, align: 'right' },
      { title: 'what', share: 2 },
      ...lift.lines.map((line) => ({ title: `line ${plainText(line.id)}`, share: 1, align: 'right' as const })),
      { title: 'hangs', share: 0.9 },
    ],
    lift.states.map((state, i) => [
      String(i + 1),
      stepText(state),
      ...lift.lines.map((_, k) => pullText(plan, state, k)),
      state.rest.found ? state.rest.equilibrium.stability.kind : 'NOT AT REST',
    ]),
    { size: 8, boldRow: (row) => (lift.states[row]?.failures.length ?? 0) > 0 },
  );
  flow.paragraph(
    `Stable: it comes back when pushed. Neutral: it turns or drifts freely, a tag line on the load holds it. ${lift.pushes.length === 0 ? 'Pulls are those at rest; no push was looked at.' : 'Pulls are those at rest; what a push adds is in the greatest pulls.'}`,
    { size: 8 },
  );
}

/**
 * What each push does to the load, in a line each: how far it moves it where it moves it farthest, and how it turns it there. The turn of
 * a load that nothing keeps from turning is told roughly.
 */
export const pushesSaid = (plan: Plan, lift: LiftPlan): string[] =>
  lift.pushes.map(({ name, force, worst }) => {
    const { display } = plan.job;
    const said = `“${plainText(name)}”, ${showFigure({ newton: force }, display)}`;
    if (worst === null) return `${said}: the load is nowhere at rest.`;
    const { distance, turn } = worst.swing;
    const state = lift.states[worst.state];
    const free = state !== undefined && isFree(state);
    const turns = free
      ? `about ${degrees(turn, 0)} there: nothing keeps it from turning.`
      : `${showFigure({ rad: turn }, display)} there.`;
    return `${said}: moves the load farthest at step ${worst.state + 1}, by ${hoistLength(distance, display)}, and turns it ${turns}`;
  });
