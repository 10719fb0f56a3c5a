import type { LiftPlan, SweptCheck } from '../plan/movement/types.ts';
import type { Check, FittingPlan, Plan } from '../plan/types.ts';
import type { Equilibrium } from '../rigging/equilibrium.ts';
import { CAUTIONS, LIFT_NOT } from './cautions.ts';
import type { Context } from './context.ts';
import type { Drawing, Page } from './drawing.ts';
import { Flow, unstraggled } from './flow.ts';
import { linesTable, lugsTable, ownPullsTable, placeText, plateLoad } from './liftlines.ts';
import { liftPictures } from './liftpicture.ts';
import { forceText, foundText, hoistLength, liftPhrase } from './liftunits.ts';
import { everyStep, orderOfWork, pushesSaid } from './liftwork.ts';
import { sidesInWords } from './sides.ts';
import { plainText } from './text.ts';
import { againstOf, warningOf } from './warning.ts';
import { fails } from './words.ts';

const TITLE = 'Lifting plan';

/**
 * For the supervisor and the riggers, one of the whole job: what hangs, which hoist does what in which order, who bears the weight
 * at the end of each item, what it looks like, the worst on every lug, and what nobody does. The same whichever fitting it is asked for.
 */
export function liftingPlan(context: Context): Drawing {
  const [after, before] = [true, false].map(
    (last) => () => unstraggled(context, (each) => liftingPlanPages(each, last)),
  ) as [() => Drawing, () => Drawing];
  // Cautions below the signatures fill their page; on a page of their own they would be all there is on it.
  const drawing = after();
  return isSigned(drawing.pages.at(-1)) ? drawing : before();
}

/** First of the blanks to sign in. */
const IN_CHARGE = 'in charge of the lift';

const isSigned = (page: Page | undefined): boolean =>
  page?.items.some((item) => item.kind === 'text' && item.text === IN_CHARGE) ?? false;

/** @param last whether the cautions come last of all, not before what is ticked off and signed */
function liftingPlanPages(context: Context, last: boolean): Drawing {
  const { plan } = context;
  const ids = plan.fittings.map((fitting) => plainText(fitting.id)).join(', ');
  const flow = new Flow(
    {
      ...context,
      id: `${plan.fittings.length === 1 ? 'Lug' : 'Lugs'} ${ids}`,
      warning: warningOf(plan, plan.fittings),
    },
    TITLE,
  );
  flow.heading(1, TITLE);
  verdict(flow, plan);
  if (plan.lift === null) {
    flow.paragraph(
      'The job gives each lug its pull and no movement of the load: nothing here tells what the lines do on the way. The person in charge of the lift writes the order of work in, and the engineer checks every pull in it against the pull that the lug is planned for.',
    );
    ownPullsTable(flow, plan);
    flow.heading(2, 'Order of work, to be written in before the lift');
    blankWork(flow);
  } else {
    movement(flow, plan, plan.lift, context);
  }
  flow.heading(2, 'Do not', 26);
  flow.paragraph('Common practice, no source, all but the figures of this plan.', { size: 8 });
  if (plan.lift !== null) {
    const { unhookShare } = plan.job.lift?.limits ?? { unhookShare: 0 };
    flow.bullet(
      `Do not take a line off that still pulls: ${forceText(plan, unhookShare * plan.lift.net)} is the most this plan lets it carry then.`,
    );
  }
  for (const not of LIFT_NOT) flow.bullet(not);
  const cautions = (): void => {
    flow.heading(3, 'Cautions');
    for (const caution of CAUTIONS) flow.bullet(caution);
  };
  if (!last) cautions();
  // Ticked off and signed on the spot: one page for all of it.
  flow.heading(2, 'Before the weight is taken', 95);
  flow.table(
    [
      { title: 'What', share: 4 },
      { title: 'found', share: 1.6 },
      { title: 'name, time', share: 1.6 },
    ],
    [
      'Finished welds accepted at the last hold point; records signed',
      'Hoists, chains, shackles: within date, plates read, pins moused',
      'One person in charge; signals agreed with every hoist and with the diver',
      'Weight of the load and what still holds it: known, not guessed; suction and fastenings free',
      'Propellers, rudders, thrusters locked out; no traffic, no wash',
      'Divers clear: not under the load, not between load and hull',
    ].map((what) => [what, '', '']),
    { rowHeight: 7, size: 8 },
  );
  flow.blanks([IN_CHARGE, 'date', 'dive supervisor', 'date', 'engineer', 'date'], 2, 9);
  if (last) cautions();
  return { title: `${TITLE}: ${context.title}`, pages: flow.finish() };
}

/** What fails first of all, in the plan of the movement and in that of each lug. */
function verdict(flow: Flow, plan: Plan): void {
  const { lift } = plan;
  const { failed, of, sources } = againstOf(plan, plan.fittings);
  const lugs = plan.fittings.length === 1 ? 'the lug' : 'the lugs';
  const whose = lift === null ? lugs : `${lugs} and the movement`;
  flow.paragraph(
    failed === 0
      ? `All ${of} checks of ${whose} pass. That is no leave to lift: the engineer signs first.`
      : `NOT TO BE LIFTED by this plan: ${failed} of ${of} checks of ${whose} ${fails(failed)}.`,
    { bold: true, size: 11 },
  );
  if (sources)
    flow.paragraph(
      'NOT TO BE LIFTED: another source of the hull DIFFERS at a lug by more than the two say of themselves, see its calculation, “The shell by other sources”.',
      { bold: true, size: 11 },
    );
  if (failed === 0) return;
  // One check after another, each with everything that it fails at and what would mend the worst of it.
  const found = new Map<string, Failing[]>();
  const note = (where: string, check: Check, fitting?: FittingPlan, or = ''): void => {
    if (check.pass) return;
    const words = (text: string) => (fitting === undefined ? text : sidesInWords(fitting, text));
    const title = words(check.title);
    const remedy = words(liftPhrase(plan, check.remedy)).replace(/\.?$/, or === '' ? '$&' : `${or}.`);
    found.set(title, [...(found.get(title) ?? []), { where, check, remedy }]);
  };
  for (const check of lift?.checks ?? []) note('the movement', check);
  for (const fitting of plan.fittings) {
    const id = `lug ${plainText(fitting.id)}`;
    for (const check of fitting.checks) note(id, check, fitting);
    for (const swept of lift?.lugs.find((lug) => lug.id === fitting.id)?.checks ?? [])
      note(
        `${id} at step ${swept.state + 1}`,
        swept.check,
        fitting,
        lift === null ? '' : keepTaut(lift, fitting.id, swept),
      );
  }
  for (const [title, list] of found) {
    const said = list.map(({ where, check }) => `${where} (${foundText(plan, check)})`);
    const worst = list.toSorted((p, q) => q.check.ratio - p.check.ratio)[0] as Failing;
    // Which steps, and why, stands under the order of work.
    if (worst.check.id === 'lift-steps')
      flow.bullet(`${title}: ${worst.check.demand} of ${lift?.states.length}. See under “Order of work”.`);
    else flow.bullet(`${title}: ${said.join('; ')}. ${worst.remedy}`.trimEnd());
  }
}

/**
 * What else mends a hoist that is pulled too hard: not to let a line beside it go slack, named where it is slack at that step, pulled at
 * one before, and the hoist was within its limit, pushes included, as long as all such lines pulled. Empty where that mends nothing.
 */
export function keepTaut(lift: LiftPlan, id: string, { check, state, push }: SweptCheck): string {
  if (check.id !== 'hoist-wll') return '';
  const worst = lift.cases.find((each) => each.state === state && each.push === push)?.equilibrium;
  if (worst === undefined) return '';
  const slack = lift.lines.flatMap((line, k) =>
    line.fitting !== id && Number.isFinite(lift.states[state]?.lengths[k]) && worst.lines[k]?.tension === 0 ? [k] : [],
  );
  // What the lines of this lug pull together, with what hangs in them.
  const pull = ({ lines }: Equilibrium): number => {
    const on = lift.lines.flatMap((line, k) => {
      const each = lines[k];
      return line.fitting === id && each !== undefined && each.tension > 0 ? [{ ...each, own: line.own }] : [];
    });
    const along = [0, 1, 2].map((x) => on.reduce((sum, each) => sum + each.tension * (each.direction[x] as number), 0));
    return Math.hypot(...along) + on.reduce((sum, each) => sum + each.own, 0);
  };
  const taut = lift.cases.filter(
    (each) => each.state < state && slack.every((k) => (each.equilibrium.lines[k]?.tension ?? 0) > 0),
  );
  const mends = taut.length > 0 && taut.every((each) => (pull(each.equilibrium) / pull(worst)) * check.ratio <= 1);
  if (slack.length === 0 || !mends) return '';
  const names = slack.map((k) => plainText(lift.lines[k]?.id ?? ''));
  return `, or do not let ${names.length === 1 ? 'line' : 'lines'} ${names.join(' and ')} go slack`;
}

interface Failing {
  readonly where: string;
  readonly check: Check;
  readonly remedy: string;
}

function movement(flow: Flow, plan: Plan, lift: LiftPlan, context: Context): void {
  const { display } = plan.job;
  const tape = (mm: number) => hoistLength(mm, display);
  flow.heading(2, lift.name === 'load' ? 'The load' : `The load: ${plainText(lift.name)}`);
  const pushes = pushesSaid(plan, lift);
  flow.pairs(
    [
      [
        'Weight',
        `${plateLoad(lift.load.weight, display, plan)} in air, ${plateLoad(lift.net, display, plan)} in this water`,
      ],
      ['Centre of gravity, as drawn', placeText(lift.load.centre, tape)],
      ['Pushes looked at', pushes.length === 0 ? 'none: no current, no hand on the load' : pushes.join('\n')],
    ],
    0.26,
  );
  for (const note of lift.notes) flow.bullet(plainText(liftPhrase(plan, note)));
  linesTable(flow, plan, lift);
  orderOfWork(flow, plan, lift);
  liftPictures(flow, context, lift);
  everyStep(flow, context, lift);
  lugsTable(flow, plan, lift);
}

/** Rows to write the order of work in. */
function blankWork(flow: Flow): void {
  flow.table(
    [
      { title: 'No.', share: 0.6, align: 'right' },
      { title: 'what each hoist does', share: 3.4 },
      { title: 'bears the weight then', share: 2 },
      { title: 'greatest pull', share: 1.2 },
      { title: 'done', share: 0.9 },
    ],
    Array.from({ length: 8 }, (_, i) => [`${i + 1}.`, '', '', '', '']),
    { size: 8, rowHeight: 8 },
  );
}
