import { showFigure, showPhrase } from '../job/show.ts';
import type { Display } from '../job/types.ts';
import { internalPer } from '../job/units.ts';
import type { Context } from './context.ts';
import { checkValue } from './figures.ts';
import type { Flow } from './flow.ts';
import { plainText } from './text.ts';
import { STANDINGS, sentence, sourceAndStanding } from './words.ts';

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
      { title: 'Field of the job', share: 2.1 },
      { title: 'taken', share: 1.45 },
      { title: 'because', share: 3.6 },
      { title: 'standing', share: 1.55 },
    ],
    mine.map((each) => [
      plainText(each.path),
      plainText(assumedValue(each.value, plan.job.display)),
      plainText(each.reason),
      STANDINGS[each.standing],
    ]),
    { size: 8, shade: (row) => (mine[row]?.standing === 'not-verified' ? 0.9 : undefined) },
  );
}

/** What was taken, as the job file would say it, rounded to what can be read; a US page says it in its own units first. */
function assumedValue(value: string, display: Display): string {
  const [, number, unit] = /^(-?[\d.]+) (mm|m|N|kN|MPa|kg|t)$/.exec(value) ?? [];
  if (number === undefined || unit === undefined) return value;
  const text = number.replace('.', '').length > 6 ? String(Number(Number(number).toPrecision(5))) : number;
  const given = `${text} ${unit}`;
  if (display === 'metric') return given;
  const amount = Number(number) * internalPer(unit);
  const figure =
    unit === 'mm' || unit === 'm'
      ? { mm: amount }
      : unit === 'MPa'
        ? { mpa: amount }
        : unit === 'kg' || unit === 't'
          ? { kg: amount }
          : { newton: amount };
  return `${showFigure(figure, display)} (${given})`;
}
