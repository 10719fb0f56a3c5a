import { showPhrase } from '../job/show.ts';
import type { Display } from '../job/types.ts';
import type { Check } from '../plan/types.ts';
import { ROOM_ENOUGH } from '../strength/check.ts';
import { withTakeOff } from './beveltable.ts';
import { verdictWord } from './calculation-summary.ts';
import { askedAndHere, isAtLeast, printedTex, printedText } from './calculation-values.ts';
import { type WorkLine, workOf } from './calculation-work.ts';
import type { Context } from './context.ts';
import { ratioText } from './figures.ts';
import type { Cell, Flow } from './flow.ts';
import type { Fonts } from './fonts.ts';
import { sidesInWords } from './sides.ts';
import { layoutTex, type MathBox, moved, symbolTex, wordsBox } from './tex.ts';
import { plainText } from './text.ts';
import { BASES, inOwnUnits, STANDINGS, sentence } from './words.ts';

/** Checks that say what is done in any case, passed or not. */
const ORDERED: ReadonlySet<string> = new Set(['fit-gap', 'weld.electrode']);

/** Checks that something is there or goes together: once passed there is no more of it to be had. */
const EITHER_OR: ReadonlySet<string> = new Set(['shackle-pin', 'shackle-jaw', 'weld.leg.least']);

/** The field of the job that a limit comes from: for the table of assumptions, which names fields. */
const FIELD = / \((?:\w+\.)*limits\.\w+\)/;

/**
 * One check in full: formula, what its symbols are, each line with the figures put in, verdict, source.
 * @param where said behind the verdict: at which step of a movement it is
 */
export function checkSection(flow: Flow, context: Context, check: Check, number: string, where = ''): void {
  const { display } = context.plan.job;
  const words = (text: string) => sidesInWords(context.fitting, text);
  const work = workOf(check, context);
  flow.heading(2, `${number}  ${words(check.title)}`, 46);
  if (work.relation === undefined) flow.paragraph(typed(check.formula), { indent: 4, size: 9.5 });
  else mathematics(flow, [work.relation], 12);
  if (work.beside !== undefined) {
    flow.paragraph(work.beside.words, { size: 8.5 });
    mathematics(flow, [work.beside.tex], 11);
  }
  symbolTable(
    flow,
    work.terms.map(({ term, printed }) => [term.symbol, words(term.name.replace(FIELD, '')), printedText(printed)]),
  );
  work.lines.forEach((line, i) => {
    // The verdict never stands alone at the head of a page.
    if (i === work.lines.length - 1) flow.room(check.screening ? TOGETHER_SCREENING : TOGETHER);
    workLine(flow, line);
  });
  flow.paragraph(
    `${askedText(check, display)}, ratio ${ratioText(check)}: ${check.pass ? 'passes' : verdictWord(check)}.${where === '' ? '' : ` ${where}`}`,
    { bold: true },
  );
  flow.paragraph(
    `Basis: ${check.basis === 'trade' ? 'rule of the trade, whatever the design basis' : BASES[check.basis as keyof typeof BASES]}. Source: ${sentence(plainText(inOwnUnits(check.source, display)))} Standing: ${STANDINGS[check.standing]}.`,
    { size: 8 },
  );
  if (check.screening)
    flow.paragraph(
      'A screening check: it only sorts out the easy cases; where it fails the engineer works the case out.',
      { size: 8 },
    );
  if (remedyWanted(check)) {
    const remedy = sentence(words(withTakeOff(context, showPhrase(check.remedy, display))));
    const optional = check.pass && !ORDERED.has(check.id);
    flow.paragraph(optional ? `Passes with little to spare; if more is wanted: ${lower(remedy)}` : remedy, {
      size: 8,
      bold: !check.pass,
    });
  }
}

/** What is asked and what is there, as the verdict says it. */
function askedText(check: Check, display: Display): string {
  const [asked, there] = askedAndHere(check, display);
  if (check.id === 'weld.electrode') return `Asked for ${asked}, here ${there}`;
  return isAtLeast(check) ? `Asked for ${asked}, ${there}` : `Demand ${asked}, limit ${there}`;
}

/** A sentence that goes on behind a colon. */
const lower = (text: string): string => text.replace(/^[A-Z](?![A-Z])/, (letter) => letter.toLowerCase());

/** Whether a check's remedy is worth its line: where it fails, comes close to its limit, or says what is done in any case. */
export const remedyWanted = (check: Pick<Check, 'id' | 'pass' | 'ratio' | 'remedy'>): boolean =>
  check.remedy.length > 0 &&
  (!check.pass || ORDERED.has(check.id) || (check.ratio > ROOM_ENOUGH && !EITHER_OR.has(check.id)));

/** mm. The last line of the working, the verdict and where it comes from. */
const TOGETHER = 24;
const TOGETHER_SCREENING = 46;
/** Points. */
const SYMBOLS = 8.5;

/** Symbols with what they are, two beside each other. */
function symbolTable(flow: Flow, rows: readonly (readonly [string, string, string])[]): void {
  if (rows.length === 0) return;
  const across = rows.length > 2 ? 2 : 1;
  const down = Math.ceil(rows.length / across);
  const columns = [
    { title: '', share: 0.7 },
    { title: '', share: 2.75 },
    { title: '', share: 1.75, align: 'right' },
  ] as const;
  const cells = (row: readonly [string, string, string] | undefined): Cell[] =>
    row === undefined ? ['', '', ''] : [symbolCell(row[0]), row[1], row[2]];
  flow.table(
    across === 1 ? columns : [...columns, ...columns],
    Array.from({ length: down }, (_, i) => [...cells(rows[i]), ...(across === 1 ? [] : cells(rows[down + i]))]),
    { size: SYMBOLS },
  );
}

const symbolCell = (symbol: string): Cell => {
  const tex = symbolTex(symbol);
  return tex === undefined ? symbol : { tex };
};

function workLine(flow: Flow, { name, symbols, figures, words, result }: WorkLine): void {
  const answer = printedTex(result);
  if (symbols === undefined) {
    mathematics(flow, [name, `= ${answer}`], 10, words === undefined ? '' : words);
    return;
  }
  const parts = [name, `= ${symbols}`, ...(figures === undefined || figures === answer ? [] : [`= ${figures}`])];
  mathematics(flow, figures === undefined && symbols === answer ? parts : [...parts, `= ${answer}`], 10, words);
}

const INDENT = 4;
/** mm. How far a line that goes on stands in from the one it belongs to. */
const GOES_ON = 8;
/** mm. Above and below a line together. */
const LEAD = 1.2;
/** Points. */
const LEAST = 8;

const laid = new WeakMap<Fonts, Map<string, MathBox>>();
/** Formulas kept at the most. */
const KEPT = 4000;

/** A formula as it is set: the same one stands on trial pages and on those that are printed. */
function laidOut(fonts: Fonts, tex: string, points: number): MathBox {
  const known = laid.get(fonts) ?? new Map<string, MathBox>();
  laid.set(fonts, known);
  const key = `${points} ${tex}`;
  const before = known.get(key);
  if (before !== undefined) return before;
  if (known.size >= KEPT) known.clear();
  const box = layoutTex(fonts, tex, points);
  known.set(key, box);
  return box;
}

/**
 * A line of mathematics in parts: all on one line where they fit, else broken before an equals sign, smaller where a part is wider
 * than the page. Words stand behind it in upright type.
 */
export function mathematics(flow: Flow, parts: readonly string[], size: number, words = ''): void {
  const { fonts } = flow.context;
  for (let points = size; ; points -= 0.5) {
    const boxes = parts.map((tex) => laidOut(fonts, tex, points));
    if (words !== '') boxes.push(wordsBox(fonts, `    ${words}`, Math.max(LEAST, points - 1.5)));
    const rows: MathBox[][] = [];
    let x = Number.POSITIVE_INFINITY;
    const widest = flow.width - INDENT;
    for (const box of boxes) {
      if (x + box.width > widest) {
        rows.push([]);
        x = rows.length === 1 ? 0 : GOES_ON;
      }
      (rows.at(-1) as MathBox[]).push(box);
      x += box.width;
    }
    const fits = rows.every(
      (row, i) => row.reduce((total, box) => total + box.width, i === 0 ? 0 : GOES_ON) <= widest + 1e-9,
    );
    if (!fits && points > LEAST) continue;
    const heights = rows.map((row) => ({
      up: Math.max(...row.map((box) => box.up)),
      down: Math.max(...row.map((box) => box.down)),
    }));
    // A line that goes on stands whole on a page.
    flow.room(heights.reduce((total, { up, down }) => total + up + down + LEAD + 1, 0));
    rows.forEach((row, i) => {
      const { up, down } = heights[i] as { up: number; down: number };
      flow.items(up + down + LEAD, (left, y) => {
        let at = left + INDENT + (i === 0 ? 0 : GOES_ON);
        return row.flatMap((box) => {
          const items = moved(box.items, at, y + down + LEAD / 2);
          at += box.width;
          return items;
        });
      });
    });
    return;
  }
}

const typed = (formula: string): string => formula.replaceAll('<=', '≤').replaceAll('>=', '≥').replaceAll(' . ', ' · ');
