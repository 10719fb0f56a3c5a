import { fromAftPerpendicular, showPhrase } from '../job/show.ts';
import { asBuiltSection } from './calculation-asbuilt.ts';
import { adviceSection, assumptionsSection } from './calculation-assumptions.ts';
import { basisSection } from './calculation-basis.ts';
import { contentsPage } from './calculation-contents.ts';
import { geometrySection, outOfPlane, pullSection } from './calculation-geometry.ts';
import { liftSection } from './calculation-lift.ts';
import { strengthSection } from './calculation-strength.ts';
import { SUMMARY_COLUMNS, summaryRows } from './calculation-summary.ts';
import { knownSection } from './calculation-uncertainty.ts';
import { printed, printedText, sizeText, valuePhrase } from './calculation-values.ts';
import { weldSection } from './calculation-weld.ts';
import { BLANK, wholeCheck } from './calculation-whole.ts';
import { CAUTIONS } from './cautions.ts';
import type { Context } from './context.ts';
import type { Drawing } from './drawing.ts';
import { degrees, shopLength } from './figures.ts';
import { Flow, setCloser } from './flow.ts';
import { sidesInWords } from './sides.ts';
import { plainText } from './text.ts';
import { againstOf } from './warning.ts';
import { BASES, fails } from './words.ts';

const TITLE = 'Calculation';

/**
 * The calculation an engineer follows and signs: summary first, then contents, basis, assumptions, sketch, every check with its
 * formula, figures, result, source and standing. All checks are drawn from the plan's list: a new one needs nothing here.
 */
export function calculation(context: Context): Drawing {
  const usual = calculationPages(context);
  const alone = signedAlone(usual);
  if (!nearlyEmpty(usual) && !alone) return usual;
  // A last page with little on it, or one for the signatures only: all a little closer, if that saves the page.
  const better = (closer: Drawing): boolean =>
    alone ? !signedAlone(closer) : closer.pages.length < usual.pages.length;
  return setCloser(context, calculationPages, [1, 2, 3], better) ?? usual;
}

/** Whether the second page holds what is left of the summary and little else: who signs, signs under the figures. */
function signedAlone({ pages }: Drawing): boolean {
  const page = pages[1];
  if (page === undefined) return false;
  const texts = page.items.flatMap((item) => (item.kind === 'text' ? [item.text] : []));
  return texts.includes('Signed') && texts.length < SIGNED_ALONE;
}

/** Pieces of text on a page that has the signatures, head and foot only. */
const SIGNED_ALONE = 18;

/** Share of a last page that is to be filled. */
const FILLED = 0.3;

function nearlyEmpty({ pages }: Drawing): boolean {
  const last = pages.at(-1);
  if (last === undefined) return false;
  // What stands below is the foot of the page.
  const foot = 16;
  const lowest = Math.min(
    ...last.items.flatMap((item) => (item.kind === 'text' && item.at.y > foot ? [item.at.y] : [])),
  );
  return last.height - lowest < FILLED * last.height;
}

/** mm that the contents need at the least. */
const CONTENTS = 150;

function calculationPages(context: Context): Drawing {
  const flow = new Flow(context, TITLE);
  summary(flow, context);
  // Under what a second page holds of the summary, if there is room enough.
  if (flow.page === 1 || flow.left < CONTENTS) flow.newPage();
  const drawContents = contentsPage(flow);
  flow.newPage();
  flow.heading(1, 'Cautions');
  for (const caution of CAUTIONS) flow.bullet(caution);
  basisSection(flow, context);
  geometrySection(flow, context);
  pullSection(flow, context);
  checks(flow, context);
  strengthSection(flow, context);
  liftSection(flow, context);
  asBuiltSection(flow, context);
  knownSection(flow, context);
  adviceSection(flow, context);
  weldSection(flow, context);
  assumptionsSection(flow, context);
  drawContents();
  return { title: `${TITLE} ${context.id}: ${context.title}`, pages: flow.finish() };
}

function summary(flow: Flow, context: Context): void {
  const { fitting, plan, title, id } = context;
  const { display } = plan.job;
  const { lug } = fitting.input;
  const say = (mm: number) => shopLength(mm, display);
  const size = (mm: number) => sizeText(mm, display);
  flow.heading(1, `${TITLE}: lifting lug ${id}`);
  const failing = fitting.checks.filter((check) => !check.pass);
  const { failed, movement, sources } = againstOf(plan, [fitting]);
  const over = failed - failing.length;
  const swept = plan.lift?.lugs.find((lugSweep) => lugSweep.id === fitting.id);
  const moving = swept === undefined ? [] : [...(plan.lift?.checks ?? []), ...swept.checks.map(({ check }) => check)];
  const against = [
    ...(over === 0 && !movement && moving.length > 0
      ? [`Over the movement of the load all ${moving.length} pass.`]
      : []),
    ...(over > 0
      ? [
          `Over the movement of the load ${over} more ${fails(over)}${swept === undefined ? '' : ', named under the table'}.`,
        ]
      : []),
    ...sistersFailing(context),
    ...(sources
      ? [
          'But another source of the hull DIFFERS here by more than the two say of themselves: see “The shell by other sources”.',
        ]
      : []),
  ];
  const unchecked = notGiven(fitting);
  const own =
    failing.length > 0
      ? `${failing.length} of ${fitting.checks.length} checks ${fails(failing.length)}: ${failing.map((check) => sidesInWords(fitting, check.title)).join('; ')}.`
      : `All ${fitting.checks.length} checks ${over > 0 || movement || swept !== undefined ? 'of its own pull ' : ''}pass.`;
  flow.paragraph([own, ...against].join(' '), { bold: true, size: 11 });
  if (unchecked.length > 0)
    flow.paragraph(`Not checked, since the job gives none: ${unchecked.join(', ')}.`, { bold: true });
  flow.pairs(
    [
      ['Job', title],
      [
        'Place',
        `${fromAftPerpendicular(fitting.anchor.station, say)}, ${fitting.anchor.side}, ${say(fitting.anchor.girth)} round from the keel`,
      ],
      [
        'Plate',
        `${size(lug.thickness)} thick, foot ${size(lug.foot)}, pin centre ${size(lug.pinHeight)} above the foot, hole ${size(lug.hole)}`,
      ],
      [
        'Pull',
        `${printedText(printed(fitting.load.force, 'N', display))}, ${outOfPlane(context, 1)}, ${degrees(Math.abs(fitting.load.inPlane))} off the stem in it`,
      ],
      ['Basis', BASES[plan.job.basis]],
    ],
    0.14,
    8.5,
  );
  flow.table(SUMMARY_COLUMNS, summaryRows(fitting.checks, context), {
    size: 8,
    boldRow: (row) => fitting.checks[row]?.pass === false,
    shade: (row) => (fitting.checks[row]?.pass === false ? 0.85 : undefined),
  });
  if (plan.lift !== null && swept !== undefined) {
    const broken = moving.filter((check) => !check.pass);
    flow.paragraph(
      broken.length === 0
        ? `Over the movement of the load all ${moving.length} checks pass, ${swept.checks.length} of the lug and ${plan.lift.checks.length} of the movement itself. ${valuePhrase(swept.summary, display)}`
        : `Over the movement of the load ${broken.length} of ${moving.length} checks ${fails(broken.length)}: ${broken.map((check) => sidesInWords(fitting, check.title)).join('; ')}. ${valuePhrase(swept.summary, display)}`,
      { bold: true, keep: SIGNED_WITH },
    );
  }
  if (fitting.asBuilt !== null) {
    flow.paragraph(`As built: ${sidesInWords(fitting, showPhrase(fitting.asBuilt.verdict, display))}`, { bold: true });
  }
  signatures(flow);
}

/** What of the tackle the job does not give, so that no check of it stands on the page. */
const notGiven = ({ input }: Context['fitting']): string[] => [
  ...(input.shackle === undefined ? ['shackle'] : []),
  ...(input.hoist === undefined ? ['hoist'] : []),
];

/** The other lugs that the movement fails by, each with its checks: their figures stand on papers of their own. */
function sistersFailing({ plan, fitting }: Context): string[] {
  const sisters = (plan.lift?.lugs ?? []).flatMap(({ id, checks }) => {
    const sister = plan.fittings.find((each) => each.id === id);
    const titles = checks.flatMap(({ check }) => (check.pass ? [] : [check.title]));
    if (id === fitting.id || sister === undefined || titles.length === 0) return [];
    return [`lug ${plainText(id)} (${titles.map((title) => sidesInWords(sister, title)).join('; ')})`];
  });
  return sisters.length === 0 ? [] : [`The movement FAILS by ${sisters.join(' and by ')}: see the lifting plan.`];
}

/** mm. What was found over the movement, with who signs it under it: signatures never stand alone on a page. */
const SIGNED_WITH = 52;

function signatures(flow: Flow): void {
  const [line, words] = [
    8.5,
    ['calculated by', 'date', 'checked by', 'date', 'engineer responsible', 'licence no., date'],
  ];
  flow.heading(3, 'Signed', (line * words.length) / 2 + 5);
  flow.blanks(words, 2, line);
}

function checks(flow: Flow, context: Context): void {
  flow.heading(1, 'Checks', BLANK);
  context.fitting.checks.forEach((check, i) => {
    wholeCheck(flow, context, check, String(i + 1));
  });
}
