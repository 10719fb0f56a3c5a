import { showFigure } from '../job/show.ts';
import type { FittingPlan } from '../plan/types.ts';
import { bracketWords } from './brackets.ts';
import { CAUTIONS } from './cautions.ts';
import type { Context } from './context.ts';
import { rodsToTake } from './dives.ts';
import type { Drawing } from './drawing.ts';
import { atLeast, cardLength, gapLength, shopLength, throatLength } from './figures.ts';
import { toeOnShell } from './flatten.ts';
import { type Column, Flow, unstraggled } from './flow.ts';
import { forceText } from './liftunits.ts';
import {
  gapSpots,
  gapText,
  leanText,
  markCell,
  markoutRows,
  paperRows,
  readingRows,
  spotLetter,
} from './record-fitup.ts';
import { limitsWords } from './record-limitwords.ts';
import { drawFeelerSketch, SKETCH } from './record-sketch.ts';
import { placeName, sideNames, spotText } from './sides.ts';
import { divesToCome, standingOf } from './standing.ts';
import { plainText } from './text.ts';
import { againstOf } from './warning.ts';

const TITLE = 'Record';
/** How close the record is set. */
interface Setting {
  /** mm. A row that a gloved hand can write in: 8 mm at the least, even where all is set a little closer. */
  readonly row: number;
  /** mm that a hold point wants under its heading on the page it begins on. */
  readonly keep: number;
  /** Rows for dives that nobody planned. */
  readonly spare: number;
  /** Whether there is room for the sketch of where the feeler goes. */
  readonly sketch: boolean;
}

const SETTINGS: readonly Setting[] = [
  { row: 8.6, keep: 60, spare: 2, sketch: true },
  { row: 8.6, keep: 44, spare: 2, sketch: true },
  { row: 8.6, keep: 44, spare: 1, sketch: true },
  { row: 8.6, keep: 44, spare: 1, sketch: false },
];
/** Pages that an inspector is asked to carry, where the number of runs and dives allows it. */
const PAGES = 4;

/**
 * The record filled in on the job: hold points in order, what to measure with the limit beside the blank, photographs, electrodes,
 * runs as welded, signatures. What is written down at fit-up is what a later plan reads as the lug as built.
 */
export function record(context: Context): Drawing {
  let best: Drawing | undefined;
  for (const setting of SETTINGS) {
    const drawing = unstraggled(context, (each) => recordPages(each, setting));
    if (best === undefined || drawing.pages.length < best.pages.length) best = drawing;
    if (best.pages.length <= PAGES) break;
  }
  return best as Drawing;
}

function recordPages(context: Context, setting: Setting): Drawing {
  const flow = new Flow(context, TITLE);
  const { row } = setting;
  flow.heading(1, `${TITLE}: lug ${context.id}, ${context.fitting.anchor.side}`);
  flow.paragraph(
    'Written on the surface as the diver reports. A blank that was not measured is struck out, not left. Work stops at each hold point until someone has looked and agreed.',
  );
  const brackets = bracketWords(context.plan.job.display);
  if (brackets !== '') flow.paragraph(brackets);
  flow.blanks(['ship, berth', 'date', 'dive supervisor', 'inspector', 'procedure no.', 'power source no.'], 3, row);
  flow.heading(3, 'Cautions');
  for (const caution of CAUTIONS) flow.bullet(caution);
  beforeDiving(flow, context, row);
  markedOut(flow, context, row);
  fitUp(flow, context, setting);
  root(flow, context, setting);
  fillAndCap(flow, context, setting);
  finished(flow, context, setting);
  weightTaken(flow, context, row);
  return { title: `${TITLE} ${context.id}: ${context.title}`, pages: flow.finish() };
}

function beforeDiving(flow: Flow, context: Context, row: number): void {
  const { fitting, plan } = context;
  const { electrode, display } = plan.job;
  const { weld } = fitting;
  flow.heading(2, 'Before anyone dives');
  flow.table(
    [
      { title: 'What', share: 5 },
      { title: 'found', share: 1.6 },
      { title: 'name, time', share: 1.6 },
    ],
    [
      'Propellers, rudders, thrusters locked out; who holds the keys',
      'Sea suctions, sonar, impressed-current protection shut off and locked',
      'Space behind the plating vented and proved gas-free; by whom, when',
      'Direct current, polarity proved; knife switch tried; leads, gloves sound',
      `Test plates welded at the site, broken and examined: ${weld.testPlates.map((plate) => plate.aws).join(', ')}`,
      `Electrodes dry and sound: ${electrode.kind}, ${shopLength(electrode.diameter, display)}, ${rodsToTake(context)} and spares; batch no.`,
      'Shell: thickness by gauge, frames and seams found, clean to bright metal',
      'This record, the dive card and the template bear one digest',
    ].map((text) => [text, '', '']),
    { rowHeight: row },
  );
}

function markedOut(flow: Flow, context: Context, row: number): void {
  flow.heading(2, 'Marked out on the shell');
  twoUp(flow, row, ['Tape', 'planned', 'found'], markoutRows(context));
  photographs(flow, row, ['the place before work, tape in it', 'shell cleaned, mark-out on it']);
}

/** What the job takes back stands first, in the order of its fields and in their words; then what stays on paper. */
function fitUp(flow: Flow, context: Context, { row, keep, sketch }: Setting): void {
  const { fitting, plan } = context;
  const { display, limits } = plan.job;
  const hold = fitting.weld.holds[0];
  flow.heading(2, `Hold point 1: ${hold?.seen ?? 'fit-up'}, before ${hold?.before ?? 'the root'}`, keep);
  flow.paragraph(
    `Typed back into the job file (asBuilt of this lug) by the fields named here: the plan then says whether it is within limits and what to grind. ${limitsWords(context)}`,
  );
  flow.table(
    [
      { title: 'Read on the tacked lug', share: 2.3 },
      { title: 'field', share: 1.3 },
      { title: 'planned', share: 0.8 },
      { title: 'within', share: 2.6 },
      { title: 'found', share: 2.3 },
    ],
    readingRows(context),
    { rowHeight: row },
  );
  flow.paragraph(
    `Gaps by feeler gauge round the root: tight to ${gapLength(limits.fitGap, display)}; the leg makes it up to ${gapLength(limits.recutGap, display)}; over that, cut again. Fields gaps: s, gap.`,
    { bold: true, keep: 40 },
  );
  const spots = gapSpots(context);
  const half = Math.ceil(spots.length / 2);
  const cells = (k: number): string[] => {
    const spot = spots[k];
    return spot === undefined
      ? ['', '', '', '']
      : [`${spotLetter(k)}  ${spot.name}`, markCell(spot.s, context), gapText(spot.planned, context), ''];
  };
  const columns: Column[] = [
    { title: 'Feeler at', share: 1.9 },
    { title: 's', share: display === 'us' ? 1.25 : 0.95, align: 'right' },
    { title: 'gap planned', share: display === 'us' ? 1.35 : 1.2, align: 'right' },
    { title: 'found', share: 1 },
  ];
  flow.table(
    [...columns, ...columns],
    Array.from({ length: half }, (_, k) => [...cells(k), ...cells(k + half)]),
    { rowHeight: row },
  );
  if (sketch) flow.figure(SKETCH, (sheet, x, y, width) => drawFeelerSketch(sheet, context, spots, { x, y, width }));
  twoUp(flow, row, ['Kept on paper', 'planned', 'found'], paperRows(context));
  photographs(flow, row, ['angle finder on face, stem, foot', 'feeler in the gap, all four sides']);
  agreed(flow, row);
}

function root(flow: Flow, context: Context, { row, keep }: Setting): void {
  const { fitting, plan } = context;
  const say = (mm: number) => shopLength(mm, plan.job.display);
  const tape = (mm: number) => cardLength(mm, plan.job.display);
  const names = sideNames(fitting);
  const { runs } = fitting.sequence;
  const hold = fitting.weld.holds[1];
  flow.heading(2, `Hold point 2: ${hold?.seen ?? 'root'}, before ${hold?.before ?? 'the hot pass'}`, keep);
  const [first, last] = [runs[0], runs.at(-1)];
  if (first !== undefined && last !== undefined) {
    flow.paragraph(
      `First strike: run ${first.run}, ${spotText(fitting, first.fromS, tape, first.side)}, going ${first.travel.towards}. Closed last: run ${last.run}, ending at ${placeName(fitting, last.toS, last.side)}. Photograph each run as laid and as ground.`,
    );
  }
  flow.table(
    [
      { title: 'Run', share: 0.58, align: 'right' },
      { title: 'side, towards', share: 1.8 },
      { title: 'from', share: 2.45 },
      { title: 'length', share: 1.65, align: 'right' },
      { title: 'diver, dive', share: 1.15 },
      { title: 'amps', share: 0.85 },
      { title: 'rods, batch', share: 1 },
      { title: 'gas out', share: 0.85 },
      { title: 'photo', share: 0.85 },
    ],
    runs.map((run) => [
      String(run.run),
      `${names[run.side]}, ${run.travel.towards}`,
      spotText(fitting, run.fromS, tape, run.side),
      say(Math.abs(run.toS - run.fromS)),
      '',
      '',
      '',
      '',
      '',
    ]),
    { rowHeight: row },
  );
  // Into the job too: where the next diver takes the root up.
  flow.blanks(['dive ended in run no.', 'at, from which corner', 'dive no., time'], 3, row);
  agreed(flow, row);
}

function fillAndCap(flow: Flow, context: Context, { row, keep, spare }: Setting): void {
  flow.heading(2, 'Hot pass, fill and cap, dive by dive', keep);
  flow.paragraph(
    'Stringer beads only; every start and stop ground before the next bead. Where the dive ended is written so that the next diver finds it.',
  );
  const dives = hotPassDives(context)?.map(String) ?? Array.from({ length: UNPLANNED }, () => '');
  const rows = [...dives, ...Array.from({ length: spare }, () => '')].map((dive) => [
    dive,
    ...Array.from({ length: 6 }, () => ''),
  ]);
  const columns: Column[] = [
    { title: 'Dive', share: 0.6 },
    { title: 'diver, date', share: 1.7 },
    { title: 'layer, bead, from where to where', share: 3 },
    { title: 'amps', share: 0.8 },
    { title: 'rods, batch', share: 1.2 },
    { title: 'stops ground', share: 0.9 },
    { title: 'ended at', share: 1.7 },
  ];
  const fits = Math.floor((flow.left - HEAD) / (row * flow.tight) + 1e-9);
  const planned = dives.length;
  if (fits >= planned && fits < rows.length && rows.length > 2) {
    // A page never begins with rows for dives that nobody planned: fewer of them, or the last planned one goes along.
    const here = fits > planned ? fits : planned - 1;
    flow.table(columns, rows.slice(0, here), { rowHeight: row });
    if (fits > planned) return;
    flow.newPage();
    flow.table(columns, rows.slice(here), { rowHeight: row });
    return;
  }
  flow.table(columns, rows, { rowHeight: row });
}

/** mm. Head of the table of dives: two lines. */
const HEAD = 9.2;

/** Rows where no dives were planned. */
const UNPLANNED = 8;

/** Numbers of the dives to come that lay more than the root, as the list of dives has them; undefined where no dives were planned. */
export function hotPassDives({ fitting }: Context): number[] | undefined {
  const schedule = divesToCome(fitting, standingOf(fitting));
  if (schedule?.kind !== 'planned') return undefined;
  const above = (no: number): boolean => {
    const item = fitting.weld.work.find((each) => each.no === no);
    return item !== undefined && item.task !== 'hold' && item.layer > 1;
  };
  return schedule.dives.filter(({ pieces }) => pieces.some((piece) => above(piece.no))).map(({ dive }) => dive);
}

const WHAT_FOUND: readonly Column[] = [
  { title: 'What', share: 1.75 },
  { title: 'planned, allowed', share: 2.6 },
  { title: 'found', share: 1.25 },
  { title: 'What', share: 1.75 },
  { title: 'allowed', share: 1.3 },
  { title: 'found', share: 1.4 },
];

function finished(flow: Flow, context: Context, { row, keep }: Setting): void {
  const { fitting, plan } = context;
  const least = (mm: number) => atLeast(mm, plan.job.display);
  const names = sideNames(fitting);
  const { weld } = fitting;
  const hold = weld.holds.at(-1);
  flow.heading(2, `Hold point 3: ${hold?.seen ?? 'finished weld'}, before ${hold?.before ?? 'any load'}`, keep);
  const limit = (title: string): Column[] => [
    { title: `${title}, not under`, share: 1.45, align: 'right' },
    { title: 'found least', share: 1 },
  ];
  flow.table(
    [{ title: 'Side', share: 1.3 }, ...limit('leg on plate'), ...limit('leg on shell'), ...limit('throat')],
    weld.sides.map((side) => [
      names[side.side],
      least(side.calledLegAlongPlate),
      '',
      least(toeOnShell(fitting, side.side)),
      '',
      throatLength(side.builtThroat, plan.job.display),
      '',
    ]),
    { rowHeight: row },
  );
  const sharp = weld.sides.filter(({ zLoss }) => zLoss > 0);
  if (sharp.length > 0) {
    const losses = sharp
      .map(({ side, zLoss }) => `${names[side]} incl. Z-loss ${shopLength(zLoss, plan.job.display)}`)
      .join(', ');
    flow.paragraph(`Throat: ${losses}: what the rod does not fuse at the root of so sharp a corner is welded on top.`, {
      size: 8.5,
      bold: true,
    });
  }
  flow.table(
    WHAT_FOUND,
    [
      ['Cracks, porosity, overlap', 'per procedure', '', 'Undercut, deepest', 'per procedure', ''],
      ['Face from plumb, after welding', leanText(context), '', 'Method of test, report no.', '', ''],
    ],
    { rowHeight: row },
  );
  photographs(flow, row, ['hot pass, all round', 'finished weld, sides and corners, gauge on it']);
  agreed(flow, row);
}

function weightTaken(flow: Flow, context: Context, row: number): void {
  flow.heading(2, 'Weight taken', 40);
  const words = notToBeLoaded(context);
  if (words !== undefined) flow.paragraph(words, { bold: true });
  flow.paragraph(pullWords(context), { bold: true });
  photographs(flow, row, ['shackle and hoist before load', 'weld after the first load']);
  flow.blanks(['test load, if asked for', 'asked for by', 'seen by'], 3, row);
  flow.space(2);
  flow.table(
    [
      { title: 'For', share: 1.2 },
      { title: 'name', share: 2 },
      { title: 'signature', share: 2 },
      { title: 'date', share: 1 },
    ],
    ['welder-diver', 'dive supervisor', 'inspector', 'engineer', 'the client'].map((who) => [who, '', '', '']),
    { rowHeight: row },
  );
}

/** Why the lug must not be loaded: a check of its own fails, or one of another lug that the same load hangs from; undefined where none does. */
function notToBeLoaded({ plan, fitting }: Context): string | undefined {
  const failing = (each: FittingPlan): number => againstOf(plan, [each]).failed;
  const own = failing(fitting);
  if (own > 0) return `NOT TO BE LOADED: ${own === 1 ? '1 check FAILS' : `${own} checks FAIL`}, see calculation.`;
  const others = plan.lift === null ? [] : plan.fittings.filter((each) => failing(each) > 0);
  if (others.length === 0)
    return againstOf(plan, [fitting]).sources
      ? 'NOT TO BE LOADED: another source of the hull DIFFERS here by more than the two say of themselves, see calculation.'
      : undefined;
  if (!plan.lift?.lugs.some(({ id }) => id === fitting.id)) return undefined;
  const names = others.map(({ id }) => plainText(id));
  const listed = [names.slice(0, -1).join(', '), names.at(-1) as string].filter((text) => text !== '').join(' and ');
  return `NOT TO BE LOADED: checks FAIL of ${names.length === 1 ? 'lug' : 'lugs'} ${listed}, from which the load hangs too.`;
}

/** What comes on the lug: the greatest pull of the movement, where the job has one that pulls it, else the pull planned. */
function pullWords({ plan, fitting }: Context): string {
  const greatest = plan.lift?.lugs.find(({ id }) => id === fitting.id)?.worst?.tension;
  if (greatest === undefined)
    return `Pull as planned: ${showFigure({ newton: fitting.load.force }, plan.job.display)}.`;
  const { pull, state, push } = greatest;
  const by = push === null ? '' : `, under the push “${plainText(push)}”`;
  return `Greatest pull of the movement: ${forceText(plan, pull.force)}, at step ${state + 1} of ${plan.lift?.states.length}${by}.`;
}

/** Rows of a name and its figure, two beside one another, each with a blank. */
function twoUp(
  flow: Flow,
  row: number,
  titles: readonly [string, string, string],
  rows: readonly (readonly string[])[],
): void {
  const columns: Column[] = [
    { title: titles[0], share: 2.3 },
    { title: titles[1], share: 1.55, align: 'right' },
    { title: titles[2], share: 1.55 },
  ];
  flow.table(
    [...columns, ...columns],
    Array.from({ length: Math.ceil(rows.length / 2) }, (_, k) =>
      [rows[2 * k], rows[2 * k + 1]].flatMap((each) => [each?.[0] ?? '', each?.[1] ?? '', '']),
    ),
    { rowHeight: row },
  );
}

/** Pictures and film that belong to a hold point, with a blank for the number of each. */
function photographs(flow: Flow, row: number, what: readonly string[]): void {
  const columns: Column[] = [
    { title: '', share: 2.3 },
    { title: '', share: 1 },
  ];
  flow.table([...columns, ...columns], [what.flatMap((each) => [`photo: ${each}`, ''])], { rowHeight: row });
}

function agreed(flow: Flow, row: number): void {
  flow.blanks(['agreed yes / no, by', 'signature', 'date, time'], 3, row + 1);
}
