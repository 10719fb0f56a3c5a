import { showFigure, showPhrase } from '../job/show.ts';
import type { Assumption, Display } from '../job/types.ts';
import { internalPer } from '../job/units.ts';
import { printed, printedText } from './calculation-values.ts';
import type { Context } from './context.ts';
import { checkValue, fixed, inches, shopLength } from './figures.ts';
import type { Flow } from './flow.ts';
import { plainText } from './text.ts';
import { inOwnUnits, STANDINGS, sentence, sourceAndStanding } from './words.ts';

/** Figures held against usual ones, without a verdict. */
export function adviceSection(flow: Flow, context: Context): void {
  const list = context.fitting.strength.advice;
  if (list.length === 0) return;
  const { display } = context.plan.job;
  flow.heading(1, 'Held against usual figures (no verdict)');
  flow.table(
    [
      { title: 'What', share: 2.4 },
      { title: 'here', share: 1, align: 'right' },
      { title: 'usual', share: 1, align: 'right' },
      { title: '', share: 0.9 },
      { title: 'note, source, standing', share: 4 },
    ],
    list.map((each) => [
      each.title,
      checkValue(each.value, each.unit, display),
      checkValue(each.usual, each.unit, display),
      each.within ? 'within' : 'LOOK AT IT',
      `${sentence(showPhrase(each.text, display))} ${sourceAndStanding(plainText(each.source), each.standing)}`,
    ]),
    { size: 8 },
  );
}

/** What was taken where the job is silent, and why. */
export function assumptionsSection(flow: Flow, context: Context): void {
  const { plan, index } = context;
  flow.heading(1, 'Assumptions: what the job does not say');
  const mine = together(
    plan.assumptions.filter(({ path }) => {
      const of = /^fittings\[(\d+)\]/.exec(path);
      return of === null || Number(of[1]) === index;
    }),
  );
  if (mine.length === 0) {
    flow.paragraph('None: the job gives every figure.');
    return;
  }
  flow.table(
    [
      { title: 'Field of the job', share: 2.35 },
      { title: 'taken', share: 1.5 },
      { title: 'because', share: 3.4 },
      { title: 'standing', share: 1.55 },
    ],
    mine.map((each) => [
      plainText(each.path),
      plainText(assumedValue(each.value, plan.job.display)),
      plainText(plan.job.display === 'us' ? each.reason : inOwnUnits(each.reason, 'metric')),
      STANDINGS[each.standing],
    ]),
    { size: 8, shade: (row) => (mine[row]?.standing === 'not-verified' ? 0.9 : undefined) },
  );
  if (plan.job.display === 'us' && mine.some(({ value }) => value.endsWith(' MPa')))
    flow.paragraph(
      'A strength taken in MPa is worked with as it stands, a little more than the round ksi that such steel is sold by: 250 MPa are 36.26 ksi, sold as 36 ksi. Enter the figure of the mill sheet or of the procedure.',
      { size: 8 },
    );
}

/** Assumptions in a row that take the same for the same reason in one: their fields beside each other. */
function together(list: readonly Assumption[]): Assumption[] {
  const out: Assumption[] = [];
  for (const each of list) {
    const last = out.at(-1);
    if (last?.value === each.value && last.reason === each.reason && last.standing === each.standing)
      out[out.length - 1] = { ...last, path: `${last.path}, ${each.path}` };
    else out.push(each);
  }
  return out;
}

/**
 * What was taken, as the job file would say it, rounded to what can be read; a US page says it in its own units first, lengths and stresses
 * spelled as on every other page.
 */
export function assumedValue(value: string, display: Display): string {
  const [, number, unit] = /^(-?[\d.]+) (mm|m|N|kN|MPa|kg|t|kg\/m3)$/.exec(value) ?? [];
  if (number === undefined || unit === undefined) return value;
  const text = number.replace('.', '').length > 6 ? String(Number(Number(number).toPrecision(5))) : number;
  const given = `${text} ${unit === 'kg/m3' ? 'kg/m³' : unit}`;
  if (display === 'metric') return given;
  const own = usValue(Number(number) * internalPer(unit), unit);
  return own.endsWith(')') ? `${own.slice(0, -1)}; ${given})` : `${own} (${given})`;
}

/** A figure in internal units as a US page says it. */
function usValue(amount: number, unit: string): string {
  switch (unit) {
    case 'mm':
    case 'm':
      return inches(amount) >= LONG ? `${fixed(amount / internalPer('ft'), 0)} ft` : shopLength(amount, 'us');
    case 'MPa':
      return printedText(printed(amount, 'MPa', 'us'));
    case 'kg':
    case 't':
      return showFigure({ kg: amount }, 'us');
    case 'kg/m3':
      return `${fixed(amount / internalPer('lb/ft3'), 1)} lb/ft³`;
    default:
      return showFigure({ newton: amount }, 'us');
  }
}

/** Inches. No length of cable is known to a fraction. */
const LONG = 240;
