import { fromAftPerpendicular, showFigure, showPhrase } from '../job/show.ts';
import type { Display } from '../job/types.ts';
import { internalPer } from '../job/units.ts';
import type { Check } from '../plan/types.ts';
import { asBuiltSection } from './calculation-asbuilt.ts';
import { liftSection } from './calculation-lift.ts';
import { calculationSketch } from './calculation-sketch.ts';
import { strengthSection } from './calculation-strength.ts';
import { knownSection } from './calculation-uncertainty.ts';
import { weldSection } from './calculation-weld.ts';
import { CAUTIONS } from './cautions.ts';
import type { Context } from './context.ts';
import type { Drawing } from './drawing.ts';
import { checkValue, degrees, demandAndLimit, fixed, ratioText, shopLength } from './figures.ts';
import { type Cell, type ContentsEntry, Flow, unstraggled } from './flow.ts';
import { placesSaid } from './liftsteps.ts';
import { sideNames, sidesInWords } from './sides.ts';
import { layoutTex, moved, symbolTex } from './tex.ts';
import { plainText } from './text.ts';
import { BASES, STANDINGS, sentence, sourceAndStanding } from './words.ts';

const TITLE = 'Calculation';

/**
 * The calculation an engineer follows and signs: summary first, then contents, basis, assumptions, sketch, every check with its
 * formula, figures, result, source and standing. All checks are drawn from the plan's list: a new one needs nothing here.
 */
export const calculation = (context: Context): Drawing => unstraggled(context, calculationPages);

function calculationPages(context: Context): Drawing {
  // The contents need the pages that an earlier time finds, and take room themselves: until nothing moves any more.
  let contents: readonly ContentsEntry[] = [];
  for (;;) {
    const flow = new Flow(context, TITLE);
    body(flow, context, contents);
    const settled = JSON.stringify(flow.contents) === JSON.stringify(contents);
    if (settled) return { title: `${TITLE} ${context.id}: ${context.title}`, pages: flow.finish() };
    contents = flow.contents;
  }
}

function body(flow: Flow, context: Context, contents: readonly ContentsEntry[]): void {
  summary(flow, context);
  flow.newPage();
  contentsTable(flow, contents);
  // On a page of its own: contents of one page then move nothing behind them.
  flow.newPage();
  basis(flow, context);
  geometry(flow, context);
  loads(flow, context);
  checks(flow, context);
  strengthSection(flow, context);
  liftSection(flow, context);
  asBuiltSection(flow, context);
  knownSection(flow, context);
  advice(flow, context);
  weldSection(flow, context);
  assumptions(flow, context);
  flow.heading(1, 'Cautions');
  for (const caution of CAUTIONS) flow.bullet(caution);
}

/** One line a check: what is asked, what is allowed, how much of it is used, and the verdict in a word. */
export const summaryRows = (list: readonly Check[], context: Context): string[][] =>
  list.map((check) => {
    const { demand, limit } = demandAndLimit(check, context.plan.job.display);
    return [sidesInWords(context.fitting, check.title), demand, limit, ratioText(check), verdictWord(check)];
  });

const verdictWord = (check: Pick<Check, 'pass' | 'screening'>): string =>
  check.pass ? 'passes' : check.screening ? 'WORK IT OUT' : 'FAILS';

const SUMMARY_COLUMNS = [
  { title: 'Check', share: 3.4 },
  { title: 'demand', share: 1.25, align: 'right' },
  { title: 'limit', share: 1.25, align: 'right' },
  { title: 'ratio', share: 0.75, align: 'right' },
  { title: 'verdict', share: 0.95 },
] as const;

function summary(flow: Flow, context: Context): void {
  const { fitting, plan, title, id } = context;
  const { display } = plan.job;
  const { lug } = fitting.input;
  const say = (mm: number) => shopLength(mm, display);
  flow.heading(1, `${TITLE}: lifting lug ${id}`);
  const failing = fitting.checks.filter((check) => !check.pass);
  flow.paragraph(
    failing.length === 0
      ? `All ${fitting.checks.length} checks pass.`
      : `${failing.length} of ${fitting.checks.length} checks FAIL: ${failing.map((check) => sidesInWords(fitting, check.title)).join('; ')}.`,
    { bold: true, size: 11 },
  );
  flow.pairs(
    [
      ['Job', title],
      [
        'Place',
        `${fromAftPerpendicular(fitting.anchor.station, say)}, ${fitting.anchor.side}, ${say(fitting.anchor.girth)} round from the keel`,
      ],
      [
        'Plate',
        `${say(lug.thickness)} thick, foot ${say(lug.foot)}, pin centre ${say(lug.pinHeight)} above the foot, hole ${say(lug.hole)}`,
      ],
      [
        'Pull',
        `${showFigure({ newton: fitting.load.force }, display)}, ${outOfPlane(context, 1)}, ${degrees(Math.abs(fitting.load.inPlane))} off the stem in it`,
      ],
      ['Basis', BASES[plan.job.basis]],
    ],
    0.14,
    8.5,
  );
  flow.table(SUMMARY_COLUMNS, summaryRows(fitting.checks, context), {
    size: 7.5,
    boldRow: (row) => fitting.checks[row]?.pass === false,
    shade: (row) => (fitting.checks[row]?.pass === false ? 0.85 : undefined),
  });
  const swept = plan.lift?.lugs.find((lugSweep) => lugSweep.id === fitting.id);
  if (plan.lift !== null && swept !== undefined) {
    const over = [...plan.lift.checks, ...swept.checks.map(({ check }) => check)];
    const broken = over.filter((check) => !check.pass);
    flow.paragraph(
      broken.length === 0
        ? `Over the movement of the load all ${over.length} checks pass. ${placesSaid(showPhrase(swept.summary, display))}`
        : `Over the movement of the load ${broken.length} of ${over.length} checks FAIL: ${broken.map((check) => sidesInWords(fitting, check.title)).join('; ')}. ${placesSaid(showPhrase(swept.summary, display))}`,
      { bold: true },
    );
  }
  if (fitting.asBuilt !== null) {
    flow.paragraph(`As built: ${sidesInWords(fitting, showPhrase(fitting.asBuilt.verdict, display))}`, { bold: true });
  }
  signatures(flow);
}

/** How far the pull leaves the plane of the plate, and to which side. */
function outOfPlane({ fitting }: Context, digits: number): string {
  const angle = degrees(Math.abs(fitting.load.offPlane), digits);
  if (Number.parseFloat(angle) === 0) return "in the lug's plane";
  return `${angle} out of the lug's plane towards the ${sideNames(fitting)[fitting.load.offPlane > 0 ? 'face+' : 'face-']}`;
}

function signatures(flow: Flow): void {
  const [line, words] = [
    8.5,
    ['calculated by', 'date', 'checked by', 'date', 'engineer responsible', 'licence no., date'],
  ];
  flow.heading(3, 'Signed', (line * words.length) / 2 + 1);
  flow.blanks(words, 2, line);
}

function contentsTable(flow: Flow, contents: readonly ContentsEntry[]): void {
  flow.heading(1, 'Contents');
  const entries = contents.filter((entry) => entry.level < 3 && entry.text !== 'Contents');
  flow.table(
    [
      { title: '', share: 6 },
      { title: '', share: 1, align: 'right' },
    ],
    entries.map((entry) => [`${'      '.repeat(entry.level - 1)}${entry.text}`, `page ${entry.page}`]),
    { boldRow: (row) => entries[row]?.level === 1 },
  );
}

function basis(flow: Flow, context: Context): void {
  const { plan, fitting } = context;
  const { job } = plan;
  const { display } = job;
  const mpa = (value: number) => showFigure({ mpa: value }, display);
  const say = (mm: number) => shopLength(mm, display);
  flow.heading(1, 'Basis of design');
  flow.pairs([
    ['Design basis', BASES[job.basis]],
    ['Steel of the lug', `yield ${mpa(job.steel.lug.yield)}, tensile ${mpa(job.steel.lug.tensile)}`],
    [
      'Steel of the shell',
      `yield ${mpa(job.steel.shell.yield)}, tensile ${mpa(job.steel.shell.tensile)}, ${say(job.steel.shell.thickness)} thick`,
    ],
    [
      'Behind the shell',
      `frames every ${say(job.steel.frameSpacing)}, longitudinals every ${say(job.steel.longitudinalSpacing)}`,
    ],
    ['Weld metal', `${job.electrode.kind} electrode, tensile ${mpa(job.electrode.tensile)}`],
    [
      'Ship',
      `length between perpendiculars ${say(job.ship.lpp)}, draft aft ${say(job.ship.draftAft)}, forward ${say(job.ship.draftForward)}, heel ${degrees(job.ship.heel, 2)}, trim ${degrees(plan.trim, 2)} by the stern`,
    ],
  ]);
  const { factors } = fitting.strength;
  const names: readonly (readonly [string, keyof typeof factors])[] = [
    ['dynamic factor', 'dynamic'],
    ['skew load factor', 'skew'],
    ['consequence factor', 'consequence'],
    ['load factor of the basis', 'load'],
    ['least share of the pull across the plate', 'sidewaysAllowance'],
  ];
  flow.heading(2, 'Factors on the pull');
  flow.table(
    [
      { title: 'Factor', share: 2 },
      { title: 'value', share: 0.7, align: 'right' },
      { title: 'reason', share: 4 },
      { title: 'standing', share: 1.6 },
    ],
    names.map(([name, key]) => {
      const f = factors[key];
      return [
        name,
        key === 'sidewaysAllowance' ? showFigure({ share: f.value }, display) : fixed(f.value, 3),
        f.reason,
        STANDINGS[f.standing],
      ];
    }),
  );
  flow.heading(2, 'Limits of the trade');
  const { limits } = job;
  const rows: [string, string][] = [
    ['gap up to which a fit is tight (limits.fitGap)', say(limits.fitGap)],
    ['gap beyond which the foot is cut again (limits.recutGap)', say(limits.recutGap)],
    ['share of the pull across the plate (limits.sidewaysShare)', showFigure({ share: limits.sidewaysShare }, display)],
    ['root welded against a closed vent (limits.sealedLength)', say(limits.sealedLength)],
    ['height that counts as level (limits.level)', say(limits.level)],
    ['least angle between stem and shell (limits.stemToShell)', degrees(limits.stemToShell)],
  ];
  if (limits.offPlane !== undefined) rows.push(['pull out of the plane (limits.offPlane)', degrees(limits.offPlane)]);
  flow.pairs(rows, 0.6, 8.5);
}

function geometry(flow: Flow, context: Context): void {
  const { plan, fitting } = context;
  const { display } = plan.job;
  const { frame, anchor } = fitting;
  const names = sideNames(fitting);
  const say = (mm: number) => shopLength(mm, display);
  const unit = (v: readonly number[]) => `(${v.map((x) => fixed(x, 4)).join(', ')})`;
  const place = (v: readonly number[]) => `(${v.map((x) => say(x)).join(', ')})`;
  flow.heading(1, 'Geometry');
  flow.paragraph(
    'Ship axes: x forward from the aft perpendicular, y to port from the centreline, z up from the baseline. Lug axes: A along the foot, B from foot to pin (the stem), C = A × B across the plate, origin O on the shell.',
  );
  flow.figure(88, (sheet, x, y, width) => calculationSketch(sheet, context, { x, y, width, height: 88 }));
  flow.pairs(
    [
      ['O, the place on the shell', place(anchor.position)],
      ['n, outward normal of the shell', unit(anchor.normal)],
      ['A, along the foot', `${unit(frame.foot)}: towards the ${names['end+']}`],
      ['B, stem', `${unit(frame.stem)}, ${degrees(fitting.slope, 2)} from n`],
      ['C, across the plate', `${unit(frame.face)}: towards the ${names['face+']}`],
      ['up, normal of the water plane', unit(plan.up)],
      ['Pin centre', place(fitting.pin)],
      [
        'Principal curvatures of the shell',
        `${radius(anchor.curvature.k1, display)}; ${radius(anchor.curvature.k2, display)}`,
      ],
      ['Foot as cut', sidesInWords(fitting, showPhrase(fitting.fit.verdict, display))],
      ['Bevel of the shell along the foot', span(degrees(fitting.bevel.min, 2), degrees(fitting.bevel.max, 2))],
      ['Dihedral angle round the root', span(degrees(fitting.joint.dihedral.min), degrees(fitting.joint.dihedral.max))],
      [
        'Root line',
        `${say(fitting.joint.perimeter)} round; ${say(fitting.joint.highest.height - fitting.joint.lowest.height)} from lowest to highest`,
      ],
      [
        'Inclinometer',
        `stem ${degrees(fitting.readings.stemFromPlumb, 2)} and face ${degrees(fitting.readings.faceFromPlumb, 2)} from plumb, foot ${degrees(fitting.readings.footFromLevel, 2)} from level`,
      ],
      [
        'Weight of the lug',
        `${showFigure({ kg: fitting.body.mass, digits: 2 }, display)}, centre at ${place(fitting.body.centre)} in lug axes`,
      ],
    ],
    0.3,
    8.5,
  );
  if (plan.hullNotes.length > 0) {
    flow.heading(2, 'What the hull data leaves open');
    for (const note of plan.hullNotes) flow.bullet(showPhrase(note, display));
  }
}

const span = (from: string, to: string): string => (from === to ? from : `${from} to ${to}`);

const radius = (k: number, display: 'metric' | 'us'): string =>
  Math.abs(k) < 1e-9 ? 'flat' : `${k > 0 ? 'bulging' : 'hollow'}, radius ${shopLength(Math.abs(1 / k), display)}`;

function loads(flow: Flow, context: Context): void {
  const { plan, fitting } = context;
  const { display } = plan.job;
  const { load, strength } = fitting;
  const force = (newton: number) => showFigure({ newton }, display);
  flow.heading(1, 'The pull');
  flow.table(
    [
      { title: '', share: 2.4 },
      { title: 'along the stem (B)', share: 1.2, align: 'right' },
      { title: 'along the foot (A)', share: 1.2, align: 'right' },
      { title: 'across the plate (C)', share: 1.2, align: 'right' },
      { title: 'whole', share: 1.2, align: 'right' },
    ],
    [
      ['pull given in the job', force(load.alongStem), force(load.alongFoot), force(load.sideways), force(load.force)],
      [
        `as checked, factor ${fixed(strength.load.factor, 3)}`,
        force(strength.load.alongStem),
        force(strength.load.alongFoot),
        force(strength.load.sideways),
        force(strength.load.force),
      ],
    ],
  );
  flow.paragraph(
    strength.load.allowanceGoverns
      ? `Across the plate the allowance of ${showFigure({ share: strength.factors.sidewaysAllowance.value }, display)} of the pull governs: ${force(strength.load.sidewaysAllowed)}, to either side; the direction of the pull itself gives ${force(strength.load.sidewaysActual)}.`
      : `Across the plate the direction of the pull itself governs: ${force(strength.load.sidewaysActual)}; the allowance would be ${force(strength.load.sidewaysAllowed)}.`,
  );
  flow.paragraph(
    `The pull stands ${outOfPlane(context, 2)}; in the plane ${degrees(load.inPlane, 2)} off the stem, positive towards the ${sideNames(fitting)['end+']}. Greatest line force in the weld under the pull given: ${showFigure({ newtonPerMm: strength.weldGroup.worst.force, digits: 1 }, display)} on the ${sideNames(fitting)[strength.weldGroup.worst.side]}.`,
  );
}

function checks(flow: Flow, context: Context): void {
  flow.heading(1, 'Checks');
  context.fitting.checks.forEach((check, i) => {
    checkSection(flow, context, check, String(i + 1));
  });
}

/** Checks that say what is done in any case, passed or not. */
const ORDERED: ReadonlySet<string> = new Set(['fit-gap', 'weld.electrode']);

/** One check in full. */
export function checkSection(flow: Flow, context: Context, check: Check, number: string): void {
  const { display } = context.plan.job;
  const words = (text: string) => sidesInWords(context.fitting, text);
  flow.heading(2, `${number}  ${words(check.title)}`, 46);
  formula(flow, context, check);
  if (check.terms.length > 0) {
    flow.table(
      [
        { title: 'symbol', share: 1 },
        { title: 'what it is', share: 4 },
        { title: 'value', share: 1.4, align: 'right' },
      ],
      check.terms.map((term) => [
        symbolCell(term.symbol),
        words(term.name),
        checkValue(term.value, term.unit, display),
      ]),
      { size: 7.5 },
    );
  }
  if (check.steps.length > 0) {
    flow.table(
      [
        { title: 'step', share: 1 },
        { title: 'worked from', share: 4 },
        { title: 'result', share: 1.4, align: 'right' },
      ],
      check.steps.map((step) => [
        symbolCell(step.symbol),
        typed(step.formula),
        checkValue(step.value, step.unit, display),
      ]),
      { size: 7.5 },
    );
  }
  const { demand, limit } = demandAndLimit(check, display);
  flow.paragraph(
    `Demand ${demand}, limit ${limit}, ratio ${ratioText(check)}: ${check.pass ? 'passes' : verdictWord(check)}.`,
    { bold: true },
  );
  flow.paragraph(
    `Basis: ${check.basis}. Source: ${sentence(plainText(check.source))} Standing: ${STANDINGS[check.standing]}.`,
    { size: 8 },
  );
  if (check.screening)
    flow.paragraph(
      'A screening check: it only sorts out the easy cases; where it fails the engineer works the case out.',
      { size: 8 },
    );
  if (check.remedy.length > 0) {
    const remedy = sentence(words(showPhrase(check.remedy, display)));
    const optional = check.pass && !ORDERED.has(check.id);
    flow.paragraph(optional ? `Not needed to pass; for more room: ${remedy}` : remedy, { size: 8, bold: !check.pass });
  }
}

const symbolCell = (symbol: string): Cell => {
  const tex = symbolTex(symbol);
  return tex === undefined ? symbol : { tex };
};

/** The formula as mathematics; as plain text where the check gives no other, or where it is wider than the page. */
function formula(flow: Flow, context: Context, check: Check): void {
  let box = check.tex === '' ? undefined : layoutTex(context.fonts, check.tex, 11);
  for (let size = 10; box !== undefined && box.width > flow.width - 8; size -= 1) {
    box = size < 7 ? undefined : layoutTex(context.fonts, check.tex, size);
  }
  if (box === undefined) {
    flow.paragraph(typed(check.formula), { indent: 4, size: 9.5 });
    return;
  }
  const { items, up, down } = box;
  flow.items(up + down + 3, (x, y) => moved(items, x + 4, y + down + 1.5));
  flow.paragraph(`As text: ${typed(check.formula)}`, { size: 7.5 });
}

const typed = (formula: string): string => formula.replaceAll('<=', '≤').replaceAll('>=', '≥').replaceAll(' . ', ' · ');

function advice(flow: Flow, context: Context): void {
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
    { size: 7.5 },
  );
}

function assumptions(flow: Flow, context: Context): void {
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
      { title: 'Field of the job', share: 2 },
      { title: 'taken', share: 1.1 },
      { title: 'because', share: 3.6 },
      { title: 'standing', share: 1.6 },
    ],
    mine.map((each) => [
      plainText(each.path),
      plainText(assumedValue(each.value, plan.job.display)),
      plainText(each.reason),
      STANDINGS[each.standing],
    ]),
    { size: 7.5, shade: (row) => (mine[row]?.standing === 'not-verified' ? 0.9 : undefined) },
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
