import type { Vec3 } from '../../geometry/math/vec.ts';
import { showFigure, showPhrase } from '../job/show.ts';
import type { LiftPlan } from '../plan/movement/types.ts';
import type { FittingPlan, Plan } from '../plan/types.ts';
import { CAUTIONS, LIFT_NOT } from './cautions.ts';
import type { Context } from './context.ts';
import type { Drawing } from './drawing.ts';
import { cardLength, degrees, demandAndLimit, fixed, ratioText } from './figures.ts';
import { Flow, unstraggled } from './flow.ts';
import { forceUnit, liftChart } from './liftchart.ts';
import { bearers, hoistOrders, placesSaid, pullText, stepEnds, tensionAt } from './liftsteps.ts';
import { sidesInWords } from './sides.ts';
import { plainText } from './text.ts';

const TITLE = 'Lifting plan';

/**
 * For the supervisor and the riggers, one of the whole job: what hangs, which hoist does what in which order, who bears the weight
 * at the end of each step, the worst on every lug, and what nobody does. The same whichever fitting it is asked for.
 */
export const liftingPlan = (context: Context): Drawing => unstraggled(context, liftingPlanPages);

function liftingPlanPages(context: Context): Drawing {
  const { plan } = context;
  const ids = plan.fittings.map((fitting) => plainText(fitting.id)).join(', ');
  const flow = new Flow({ ...context, id: `${plan.fittings.length === 1 ? 'Lug' : 'Lugs'} ${ids}` }, TITLE);
  flow.heading(1, TITLE);
  verdict(flow, plan);
  if (plan.lift === null) {
    flow.paragraph(
      'The job gives each lug its pull and no movement of the load: nothing here tells what the lines do between first and last. The person in charge of the lift writes the steps in, and the engineer checks every pull in them against the pull of the plan.',
    );
    lugTable(flow, plan);
    flow.heading(2, 'Steps, to be written in before the lift');
    blankSteps(flow);
  } else {
    movement(flow, plan, plan.lift, context);
  }
  flow.heading(2, 'Do not');
  if (plan.lift !== null) {
    const { unhookShare } = plan.job.lift?.limits ?? { unhookShare: 0 };
    flow.bullet(
      `Do not take a line off that still pulls: ${showFigure({ newton: unhookShare * plan.lift.net }, plan.job.display)} is the most this plan lets it carry then (lift.limits.unhookShare).`,
    );
  }
  for (const not of LIFT_NOT) flow.bullet(not);
  flow.paragraph('All but figures of this plan: common practice, no source.', { size: 8 });
  flow.heading(2, 'Before the weight is taken');
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
  flow.blanks(['in charge of the lift', 'date', 'dive supervisor', 'date', 'engineer', 'date'], 2, 9);
  flow.heading(3, 'Cautions');
  for (const caution of CAUTIONS) flow.bullet(caution);
  return { title: `${TITLE}: ${context.title}`, pages: flow.finish() };
}

/** What fails first of all, in the plan of the movement and in that of each lug. */
function verdict(flow: Flow, plan: Plan): void {
  const { lift } = plan;
  const moved =
    lift === null ? [] : [...lift.checks, ...lift.lugs.flatMap((lug) => lug.checks.map(({ check }) => check))];
  const own = plan.fittings.flatMap((fitting) => fitting.checks);
  const failing = [...moved, ...own].filter((check) => !check.pass).length;
  const all = moved.length + own.length;
  flow.paragraph(
    failing === 0
      ? `All ${all} checks of lugs and movement pass. That is no leave to lift: the engineer signs first.`
      : `DO NOT LIFT by this plan: ${failing} of ${all} checks of lugs and movement FAIL.`,
    { bold: true, size: 11 },
  );
  if (failing === 0) return;
  const say = (what: string, check: (typeof own)[number], fitting?: FittingPlan): void => {
    if (check.pass) return;
    const { demand, limit } = demandAndLimit(check, plan.job.display);
    const words = (text: string) => (fitting === undefined ? text : sidesInWords(fitting, text));
    const remedy = words(showPhrase(check.remedy, plan.job.display));
    flow.bullet(`${what}${words(check.title)}: ${demand} against ${limit}. ${remedy}`.trimEnd());
  };
  for (const check of lift?.checks ?? []) say('Movement, ', check);
  for (const fitting of plan.fittings) {
    const id = `Lug ${plainText(fitting.id)}, `;
    for (const check of fitting.checks) say(id, check, fitting);
    for (const swept of lift?.lugs.find((lug) => lug.id === fitting.id)?.checks ?? [])
      say(`${id}at place ${swept.state + 1}, `, swept.check, fitting);
  }
}

function movement(flow: Flow, plan: Plan, lift: LiftPlan, context: Context): void {
  const { display } = plan.job;
  const force = (newton: number) => showFigure({ newton }, display);
  const tape = (mm: number) => cardLength(mm, display);
  flow.heading(2, `The load: ${plainText(lift.name)}`);
  flow.pairs(
    [
      ['Weight', `${force(lift.load.weight)} in air, ${force(lift.net)} in this water`],
      ['Centre of gravity, as drawn', placeText(lift.load.centre, tape)],
      [
        'Pushes looked at',
        lift.pushes.map((push) => `${plainText(push.name)} ${force(push.force)}`).join('; ') || 'none',
      ],
    ],
    0.26,
  );
  for (const note of lift.notes) flow.bullet(placesSaid(plainText(showPhrase(note, display))));
  flow.heading(2, 'Lines and hoists');
  flow.table(
    [
      { title: 'Line', share: 0.8, bold: true },
      { title: 'hangs from', share: 1.7 },
      { title: 'hoist, limit', share: 1.2, align: 'right' },
      { title: 'shackle, limit', share: 1.2, align: 'right' },
      { title: 'reach, pin to load', share: 1.9, align: 'right' },
      { title: 'greatest pull', share: 1.2, align: 'right' },
      { title: 'where', share: 1.9 },
    ],
    lift.lines.map((line, k) => {
      const fitting = plan.fittings.find((each) => each.id === line.fitting);
      const asked = plan.job.lift?.lines[k];
      const reach = [asked?.shortest, asked?.longest].map((mm) => (mm === undefined ? '' : tape(mm)));
      const reachText = reach.every((text) => text === '')
        ? 'not given'
        : reach.map((text) => text || '…').join(' to ');
      return [
        plainText(line.id),
        line.fitting === null ? `a point of its own, ${placeText(line.pin, tape)}` : `lug ${plainText(line.fitting)}`,
        fitting?.input.hoist === undefined ? 'not given' : force(fitting.input.hoist.wll),
        fitting?.input.shackle === undefined ? 'not given' : force(fitting.input.shackle.wll),
        reachText,
        line.greatest === null ? 'never pulls' : force(line.greatest.tension),
        line.greatest === null
          ? ''
          : `place ${line.greatest.state + 1}${line.greatest.push === null ? '' : `, ${plainText(line.greatest.push)}`}`,
      ];
    }),
    { size: 7.5 },
  );
  flow.heading(2, 'Steps in order');
  flow.paragraph(
    'Lengths are from pin to load, before the line stretches; places are counted in the table below. Part of the weight: of the weight in water, at the end of the step.',
    { size: 8 },
  );
  const ends = stepEnds(lift);
  flow.table(
    [
      { title: 'Step', share: 0.6, align: 'right', bold: true },
      { title: 'what', share: 2 },
      { title: 'places', share: 0.8 },
      { title: 'what each hoist does', share: 3.4 },
      { title: 'bears the weight then', share: 2 },
      { title: 'done', share: 0.9 },
    ],
    ends.map((end, i) => {
      const state = lift.states[end] as LiftPlan['states'][number];
      const before = i === 0 ? undefined : lift.states[ends[i - 1] as number];
      const first = i === 0 ? 1 : (ends[i - 1] as number) + 2;
      return [
        String(i + 1),
        plainText(state.label),
        first === end + 1 ? String(first) : `${first} to ${end + 1}`,
        hoistOrders(plan, lift, before, state).join('\n'),
        `${bearers(plan, lift, state)}${state.rest.found && state.rest.equilibrium.stability.kind !== 'stable' ? `; hangs ${state.rest.equilibrium.stability.kind}` : ''}`,
        '',
      ];
    }),
    { size: 8, rowHeight: 9 },
  );
  for (const [i, state] of lift.states.entries()) {
    for (const failure of state.failures)
      flow.bullet(`Place ${i + 1} CANNOT BE DONE: ${plainText(showPhrase(failure.text, display))}`);
    for (const contact of state.contacts)
      flow.bullet(`Place ${i + 1} TOUCHES: ${plainText(showPhrase(contact.text, display))}`);
  }
  flow.figure(58, (sheet, x, y, width) =>
    liftChart(
      sheet,
      context.fonts,
      { x, y, width, height: 58 },
      {
        title: 'Pull in each line over the places of the load, at rest',
        places: lift.states.length,
        ends,
        unit: forceUnit(display),
        series: lift.lines.map((line, k) => ({
          name: plainText(line.id),
          values: lift.states.map((state) => tensionAt(state, k)),
        })),
      },
    ),
  );
  flow.heading(2, 'Every place of the load');
  flow.table(
    [
      { title: 'Place', share: 0.6, align: 'right' },
      { title: 'step', share: 2 },
      ...lift.lines.map((line) => ({ title: plainText(line.id), share: 1, align: 'right' as const })),
      { title: 'hangs', share: 0.8 },
    ],
    lift.states.map((state, i) => [
      String(i + 1),
      `${plainText(state.label)}${state.parts === 1 ? '' : ` ${state.part}/${state.parts}`}`,
      ...lift.lines.map((_, k) => pullText(plan, state, k)),
      state.rest.found ? state.rest.equilibrium.stability.kind : 'NOT AT REST',
    ]),
    { size: 7.5, boldRow: (row) => (lift.states[row]?.failures.length ?? 0) > 0 },
  );
  flow.paragraph('Stable: it comes back when pushed. Neutral: it turns or drifts freely, a tag line holds it.', {
    size: 8,
  });
  flow.heading(2, 'The worst on each lug');
  flow.table(
    [
      { title: 'Lug', share: 0.8, bold: true },
      { title: 'greatest pull', share: 1.3, align: 'right' },
      { title: 'where', share: 1.7 },
      { title: 'greatest across the plate', share: 1.4, align: 'right' },
      { title: 'where', share: 1.7 },
      { title: 'most used check', share: 2.6 },
    ],
    lift.lugs.map((lug) => {
      if (lug.worst === undefined) return [plainText(lug.id), 'carries nothing', '', '', '', ''];
      const { tension, sideways } = lug.worst;
      const where = (at: typeof tension) =>
        `place ${at.state + 1}, ${at.push === null ? 'at rest' : plainText(at.push)}`;
      const most = lug.checks.toSorted((p, q) => q.check.ratio - p.check.ratio)[0]?.check;
      const fitting = plan.fittings.find((each) => each.id === lug.id);
      return [
        plainText(lug.id),
        force(tension.pull.force),
        where(tension),
        `${force(Math.abs(sideways.pull.sideways))}, ${degrees(Math.abs(sideways.pull.offPlane))} off`,
        where(sideways),
        most === undefined || fitting === undefined
          ? ''
          : `${sidesInWords(fitting, most.title)}: ${ratioText(most)}${most.pass ? '' : ' FAILS'}`,
      ];
    }),
    { size: 7.5, boldRow: (row) => lift.lugs[row]?.pass === false },
  );
}

/** The pull that each lug was planned for, where no movement was. */
function lugTable(flow: Flow, plan: Plan): void {
  const { display } = plan.job;
  const force = (newton: number) => showFigure({ newton }, display);
  flow.heading(2, 'Lugs');
  flow.table(
    [
      { title: 'Lug', share: 0.8, bold: true },
      { title: 'pull planned for', share: 1.2, align: 'right' },
      { title: 'off plumb', share: 0.9, align: 'right' },
      { title: 'out of the plane of the plate', share: 1.4, align: 'right' },
      { title: 'hoist, limit', share: 1.2, align: 'right' },
      { title: 'shackle, limit', share: 1.2, align: 'right' },
      { title: 'checks', share: 1.4 },
    ],
    plan.fittings.map((fitting) => {
      const { load, input, checks } = fitting;
      const down = -load.direction.reduce((sum, d, i) => sum + d * (plan.up[i] as number), 0);
      const failing = checks.filter((check) => !check.pass).length;
      return [
        plainText(fitting.id),
        force(load.force),
        degrees(Math.acos(Math.max(-1, Math.min(1, down)))),
        degrees(Math.abs(load.offPlane)),
        input.hoist === undefined ? 'not given' : force(input.hoist.wll),
        input.shackle === undefined ? 'not given' : force(input.shackle.wll),
        failing === 0 ? `all ${checks.length} pass` : `${failing} of ${checks.length} FAIL`,
      ];
    }),
    { size: 7.5 },
  );
  flow.paragraph(
    'In its plane a plate is strong, across it weak: a pull farther out of the plane than planned for is for the engineer.',
  );
  if (plan.fittings.length > 1)
    flow.paragraph(
      'The pulls of several lugs, added up, are no measure of what may be lifted: how they share it is not planned here.',
    );
}

/** Rows to write the steps in. */
function blankSteps(flow: Flow): void {
  flow.table(
    [
      { title: 'Step', share: 0.6, align: 'right' },
      { title: 'what each hoist does', share: 3.4 },
      { title: 'bears the weight then', share: 2 },
      { title: 'greatest pull', share: 1.2 },
      { title: 'done', share: 0.9 },
    ],
    Array.from({ length: 8 }, (_, i) => [fixed(i + 1, 0), '', '', '', '']),
    { size: 8, rowHeight: 8 },
  );
}

/** A place in ship axes as it is found with a tape. */
function placeText([x, y, z]: Vec3, tape: (mm: number) => string): string {
  const fore = `${tape(Math.abs(x))} ${x >= 0 ? 'forward of' : 'abaft'} the aft perpendicular`;
  const side = Math.abs(y) < 0.5 ? 'on the centreline' : `${tape(Math.abs(y))} to ${y > 0 ? 'port' : 'starboard'}`;
  return `${fore}, ${side}, ${tape(Math.abs(z))} ${z >= 0 ? 'above' : 'below'} the baseline`;
}
