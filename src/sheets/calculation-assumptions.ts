import { showFigure, showPhrase } from '../job/show.ts';
import type { Display } from '../job/types.ts';
import { internalPer } from '../job/units.ts';
import type { Context } from './context.ts';
import { checkValue, fixed, inches, thirtySeconds } from './figures.ts';
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
  const mine = plan.assumptions.filter(({ path }) => {
    const of = /^fittings\[(\d+)\]/.exec(path);
    return of === null || Number(of[1]) === index;
  });
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
}

/** What was taken, as the job file would say it, rounded to what can be read; a US page says it in its own units first. */
export function assumedValue(value: string, display: Display): string {
  const [, number, unit] = /^(-?[\d.]+) (mm|m|N|kN|MPa|kg|t|kg\/m3)$/.exec(value) ?? [];
  if (number === undefined || unit === undefined) return value;
  const text = number.replace('.', '').length > 6 ? String(Number(Number(number).toPrecision(5))) : number;
  const given = `${text} ${unit === 'kg/m3' ? 'kg/m³' : unit}`;
  return display === 'metric' ? given : `${usValue(Number(number) * internalPer(unit), unit)} (${given})`;
}

/** A figure in internal units as a US page says it. */
function usValue(amount: number, unit: string): string {
  switch (unit) {
    case 'mm':
    case 'm':
      return usAssumed(amount);
    case 'MPa':
      return showFigure({ mpa: amount }, 'us');
    case 'kg':
    case 't':
      return showFigure({ kg: amount }, 'us');
    case 'kg/m3':
      return `${fixed(amount / internalPer('lb/ft3'), 1)} lb/ft³`;
    default:
      return showFigure({ newton: amount }, 'us');
  }
}

/** mm. A length nearer to a thirty-second of an inch than this is that fraction: 2.4 mm is 3/32 in. */
const SAME = 0.06;
/** Inches. No length of cable is known to a fraction. */
const LONG = 240;

function usAssumed(mm: number): string {
  const thirtySecond = internalPer('in') / 32;
  const near = Math.abs(mm - Math.round(mm / thirtySecond) * thirtySecond) < SAME;
  if (inches(mm) >= LONG) return `${fixed(mm / internalPer('ft'), 0)} ft`;
  return near ? `${thirtySeconds(mm)} in` : showFigure({ mm }, 'us');
}
