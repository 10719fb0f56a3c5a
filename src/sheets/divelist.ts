import { WORTH_GRINDING } from '../../geometry/asbuilt/grind.ts';
import { rootAt, type Side } from '../../geometry/fit/rootline.ts';
import { showFigure, showPhrase } from '../job/show.ts';
import { MOST_DOWNHILL } from '../weld/fall.ts';
import type { Dive } from '../weld/schedule.ts';
import type { WeldHold, WeldRun } from '../weld/weldPlan.ts';
import { feltTable } from './calculation-asbuilt.ts';
import { CAUTIONS } from './cautions.ts';
import type { Context } from './context.ts';
import { endOf, partsOf, rodsOf, rodsOfDives, workList } from './dives.ts';
import type { Drawing } from './drawing.ts';
import { featheredAt } from './feathered.ts';
import { cardLength, fixed, shopLength, spansText } from './figures.ts';
import { flatFoot } from './flatten.ts';
import { Flow, setCloser, unstraggled } from './flow.ts';
import { fromFramePairs } from './markout-behind.ts';
import { behindOf } from './markout-drawing.ts';
import { beyond, roundWords } from './markout-ways.ts';
import { shopPhrase } from './shopphrase.ts';
import { sideNames, sidesInWords, spotText } from './sides.ts';
import { divesToCome, rootRunAt, type Standing, standingOf } from './standing.ts';
import { plainText } from './text.ts';
import { depthOf } from './view.ts';

/** What every dive is to get done, in what it starts and ends, and what it takes down: for the supervisor to hand out. */
export function diveList(context: Context): Drawing {
  const usual = unstraggled(context, diveListPages);
  if (!sparse(usual)) return usual;
  return setCloser(context, diveListPages, [1, 2], ({ pages }) => pages.length < usual.pages.length) ?? usual;
}

/** Lines of text on a last page from which on it is worth its paper: a third of one. */
const WORTH_A_PAGE = 18;

/** Whether the last page holds the tail of a list only. */
function sparse({ pages }: Drawing): boolean {
  const last = pages.at(-1);
  if (pages.length < 2 || last === undefined) return false;
  const lines = last.items.flatMap((item) => (item.kind === 'text' ? [Math.round(item.at.y)] : []));
  return new Set(lines).size < WORTH_A_PAGE;
}

function diveListPages(context: Context): Drawing {
  const { fitting, plan } = context;
  const { display } = plan.job;
  const { work, totals } = fitting.weld;
  const names = sideNames(fitting);
  const standing = standingOf(fitting);
  const schedule = divesToCome(fitting, standing);
  const flow = new Flow(context, 'Dive list');
  flow.heading(1, `Dive list: lug ${context.id}`);
  flow.pairs(placePairs(context), 0.24);
  flow.paragraph(
    'Dives are counted with a bottom time that the dive supervisor sets; this is no dive table and no decompression advice. A dive may be cut short at any moment: write where it ended, and plan the rest again from there.',
    { bold: true },
  );
  flow.heading(3, 'Cautions');
  for (const caution of CAUTIONS) flow.bullet(caution);
  beforeTheRoot(flow, context);
  flow.heading(2, 'Dives');
  const stands = standingText(context, standing);
  if (stands !== '') flow.paragraph(stands, { bold: true });
  if (schedule === null) flow.paragraph('No bottom time is given: dives are not counted.');
  else if (schedule.kind === 'dive-too-short') {
    flow.paragraph(
      `A dive is too short: one step of the work needs ${showFigure({ minutes: schedule.least }, display)} of bottom time.`,
      { bold: true },
    );
  } else {
    const taken = rodsOfDives(context, schedule.dives);
    const rods =
      standing.kind === 'stands'
        ? `${taken} electrodes for the dives to come, each dive’s rounded up; ${totals.electrodes} burned in all`
        : `${taken} electrodes, each dive’s rounded up; ${totals.electrodes} burned in all`;
    const minutes = wholeMinutes(schedule.dives.map((dive) => dive.minutes));
    const together = minutes.reduce((sum, each) => sum + each, 0);
    flow.paragraph(
      `Bottom time taken: ${showFigure({ minutes: schedule.terms.bottomTime }, display)} a dive, of which ${showFigure({ minutes: schedule.terms.overhead }, display)} is not work; all together ${showFigure({ minutes: together }, display)}. ${rods}; a part-burnt rod is struck again; spares come on top.`,
    );
    flow.table(
      [
        { title: 'Dive', share: 0.75, align: 'right', bold: true },
        { title: 'min', share: 0.6, align: 'right' },
        { title: 'rods', share: 0.65, align: 'right' },
        { title: 'work', share: 3.6 },
        { title: 'ends', share: 3.2 },
        { title: 'diver', share: 1.2 },
        { title: 'really ended at', share: 1.7 },
      ],
      schedule.dives.map((dive, i) => {
        const parts = partsOf(context, dive);
        const last = parts.at(-1);
        return [
          String(dive.dive),
          String(minutes[i]),
          String(rodsOf(parts)),
          workList(context, parts),
          last === undefined ? '' : endOf(context, last.item, last.piece),
          '',
          '',
        ];
      }),
      { rowHeight: 8 },
    );
  }
  const downhill = work.filter((item) => item.task === 'run' && item.downhill > MOST_DOWNHILL);
  // Not without its first rows.
  flow.heading(2, 'Every run in order', downhill.length > 0 ? 62 : 20);
  const on = (item: { readonly fromS: number; readonly toS: number }) =>
    rootAt(fitting.root, (item.fromS + item.toS) / 2).side;
  const spot = (s: number, of: Side) => shortSpot(spotText(fitting, s, (mm) => cardLength(mm, display), of));
  flow.paragraph(
    `From and to: side of the foot, then how far from which corner of that side. Sides: ${Object.values(names).join(', ')}. ${featherText(context)}Runs of the root bear the numbers that the dive card has. ${numbersText(work)}`,
    { size: 8 },
  );
  if (downhill.length > 0) {
    flow.paragraph(
      `DOWNHILL for more than ${cardLength(25.4, plan.job.display)} of their way: no. ${spansText(downhill.map(({ no }) => no))}. The procedure says whether they are laid so, begun at their other end, or parted where they turn; the root only climbs.`,
      { size: 8, bold: true },
    );
  }
  const dives = schedule?.kind === 'planned' ? divesOf(schedule.dives) : undefined;
  const dive = (no: number): string[] => (dives === undefined ? [] : [dives.get(no)?.join(', ') ?? '']);
  flow.table(
    [
      { title: 'No.', share: 0.6, align: 'right' },
      ...(dives === undefined ? [] : [{ title: 'dive', share: 0.6, align: 'right' as const }]),
      { title: 'layer', share: 1.4 },
      { title: 'run, bead', share: 0.85, align: 'right' },
      { title: 'from', share: 2.75 },
      { title: 'to', share: 2.75 },
      { title: 'rods', share: 0.65, align: 'right' },
      { title: 'min', share: 0.6, align: 'right' },
      { title: 'done', share: 0.75 },
    ],
    work.map((item, index) => {
      const done = doneText(standing, index);
      return item.task === 'hold'
        ? [holdMark(work, item), ...dive(item.no), `HOLD ${item.hold}`, '', '', '', '', fixed(item.minutes, 0), done]
        : runRow(context, item, dive(item.no), [spot(item.fromS, on(item)), spot(item.toS, on(item))], done);
    }),
    { size: 8, boldRow: (row) => work[row]?.task === 'hold' },
  );
  return { title: `Dive list ${context.id}: ${context.title}`, pages: flow.finish() };
}

/** What is to be ground or set anew where the lug was measured as it stands: whoever goes down first has it with him. */
function beforeTheRoot(flow: Flow, context: Context): void {
  const { fitting, plan } = context;
  const { asBuilt } = fitting;
  if (asBuilt === null || asBuilt.orders.length === 0) return;
  const words = (text: string) => sidesInWords(fitting, text);
  flow.heading(2, 'As built: before an arc is struck');
  flow.paragraph(words(showPhrase(asBuilt.verdict, plan.job.display)), { bold: true });
  const { display } = plan.job;
  // Where to grind is told from a corner, as a diver finds it; those orders come last.
  const ground = (asBuilt.grind?.reseatOnly === false ? asBuilt.grind.spots : []).flatMap((spot, i) => {
    const felt = asBuilt.gaps[i];
    return felt === undefined || spot.grind < WORTH_GRINDING ? [] : [{ s: felt.s, off: spot.grind }];
  });
  const rest = asBuilt.orders.length - ground.length;
  for (const order of asBuilt.orders.slice(0, rest)) flow.bullet(words(shopPhrase(order, display)));
  if (ground.length > 0)
    flow.bullet('Free the lug, grind as follows, set it in anew, and feel every gap again before an arc is struck.');
  for (const { s, off } of ground)
    flow.bullet(
      `Grind ${shopPhrase([{ mm: off, digits: 1 }], display)} off the foot on the ${spotText(fitting, s, (mm) => cardLength(mm, display))}, running out to the readings next to it.`,
    );
  feltTable(flow, context);
}

/** Minutes of each dive in whole ones that add up to what the dives take together: none is a minute off. */
export function wholeMinutes(minutes: readonly number[]): number[] {
  let [sum, said] = [0, 0];
  return minutes.map((each) => {
    sum += each;
    const whole = Math.round(sum) - said;
    said += whole;
    return whole;
  });
}

/** mm along the root are said by `[from, to]`; `F` stands where the bead is feathered out. */
function runRow(
  context: Context,
  item: WeldRun,
  dive: readonly string[],
  [from, to]: readonly [string, string],
  done: string,
): string[] {
  const feathered = featheredAt(context.fitting, item);
  const marked = (text: string, is: boolean) => (is ? `${text} ${FEATHERED}` : text);
  return [
    String(item.no),
    ...dive,
    `${item.layer} ${item.kind}`,
    marked(item.layer === 1 ? rootRunText(context, item) : String(item.bead), feathered.between),
    marked(from, feathered.from),
    marked(to, feathered.to),
    fixed(item.electrodes, 1),
    fixed(item.minutes, 1),
    done,
  ];
}

/** The dives that each run or hold point is done in, by its number. */
function divesOf(dives: readonly Dive[]): ReadonlyMap<number, readonly number[]> {
  const of = new Map<number, number[]>();
  for (const { dive, pieces } of dives)
    for (const { no } of pieces) {
      const list = of.get(no);
      if (list === undefined) of.set(no, [dive]);
      else list.push(dive);
    }
  return of;
}

const FEATHERED = 'F';

/** What the mark means, where a row bears it. */
function featherText({ fitting }: Context): string {
  const all = fitting.weld.work.flatMap((item) => (item.task === 'hold' ? [] : [featheredAt(fitting, item)]));
  const ends = all.some(({ from, to }) => from || to);
  const between = all.some((each) => each.between);
  if (!ends && !between) return '';
  const where = ends ? `${FEATHERED} after a place` : `${FEATHERED} after a bead’s number`;
  const also = ends && between ? `; ${FEATHERED} after a bead’s number: the same between its ends` : '';
  return `${where}: there the run is on a side that lacks this bead, past its corner, and begins or ends feathered${also}; rods and minutes count half a bead there. `;
}

/** `H2`: hold points are counted by themselves. */
const holdMark = (work: readonly (WeldRun | WeldHold)[], hold: WeldHold): string =>
  `H${work.filter((each) => each.task === 'hold' && each.no <= hold.no).length}`;

/** Why the numbers of the runs have gaps. */
function numbersText(work: readonly (WeldRun | WeldHold)[]): string {
  const holds = work.flatMap((item) => (item.task === 'hold' ? [item] : []));
  const said = (list: readonly string[]) => list.join(', ').replace(/, ([^,]*)$/, ' and $1');
  const numbers = said(holds.map(({ no }) => String(no)));
  const marks = said(holds.map((hold) => holdMark(work, hold)));
  return `All work is numbered through in the order in which it is done; ${holds.length === 1 ? `number ${numbers} is the hold point` : `numbers ${numbers} are the hold points`} ${marks}.`;
}

/** `run 3`, as the card numbers it; the bead where it belongs to no run of the root. */
function rootRunText({ fitting }: Context, item: WeldRun): string {
  const run = rootRunAt(fitting, item)?.run;
  return run === undefined ? String(item.bead) : `run ${run}`;
}

/** Where the lug goes, from what a diver can find: the frames about it, the nearest longitudinal and seam, the keel. */
function placePairs(context: Context): [string, string][] {
  const { fitting, plan } = context;
  const { display } = plan.job;
  const tape = (mm: number) => (display === 'us' ? cardLength(mm, 'us') : shopLength(mm, display));
  const ways = roundWords(fitting);
  const behind = behindOf(context, flatFoot(plan, fitting));
  const rounds = (['longitudinal', 'seam'] as const).flatMap((kind) => {
    const off = ({ round }: { round?: number }) => Math.abs(round ?? Infinity);
    const nearest = behind.filter((each) => each.kind === kind).sort((p, q) => off(p) - off(q))[0];
    if (nearest?.round === undefined) return [];
    const plain = plainText(nearest.name);
    const name = plain.toLowerCase().startsWith(kind) ? plain : `${kind} ${plain}`;
    if (off(nearest) < 1) return [`on ${name}`];
    // A line that lies outward of the place has the place inward of it.
    return [`${tape(off(nearest))} ${beyond(nearest.round > 0 ? ways.in : ways.out)} ${name}`];
  });
  const { station, girth, side, position } = fitting.anchor;
  const along = `${tape(Math.abs(station))} ${station < 0 ? 'abaft' : 'forward of'} the aft perpendicular`;
  return [
    [
      'The place O, middle of the foot',
      [
        side,
        along,
        ...rounds,
        `${tape(girth)} round from the keel`,
        `depth ${cardLength(depthOf(plan, position), display)}`,
      ].join(', '),
    ],
    ...fromFramePairs(context, tape),
  ];
}

/** Where earlier dives ended, in a sentence; empty where none has. */
function standingText({ fitting, plan }: Context, standing: Standing): string {
  if (standing.kind === 'none') return '';
  const again = 'Find out what is welded before an arc is struck.';
  if (standing.kind === 'void')
    return `THE END OF AN EARLIER DIVE IN THE JOB BELONGS TO ANOTHER ORDER OF RUNS: nothing below says what is done. ${again}`;
  const { runs } = fitting.sequence;
  const { dive, done, partTo } = standing;
  const range = done === 0 ? '' : done === 1 ? 'run 1' : `runs 1 to ${done}`;
  const next = runs[done];
  const part =
    partTo === undefined || next === undefined
      ? ''
      : `run ${next.run} as far as ${spotText(fitting, partTo, (mm) => cardLength(mm, plan.job.display))}`;
  const list = [range, part].filter((each) => each !== '').join(' and ');
  const what =
    list === ''
      ? 'nothing of the root is welded'
      : `of the root ${list} ${done === 1 && part === '' ? 'is' : 'are'} welded`;
  return `Dive ${dive} has ended: ${what}. The dives below are what is left.`;
}

function doneText(standing: Standing, index: number): string {
  if (standing.kind !== 'stands') return '';
  const { progress } = standing;
  if (index < progress.index) return 'done';
  return index === progress.index && progress.share > 0 ? 'in part' : '';
}

/** `keel, 125 mm from aft`: as short as it can be said in a table that names its columns. */
const shortSpot = (text: string): string => text.replace(/ (?:side|end),/, ',').replace(/(from \w+) corner$/, '$1');
