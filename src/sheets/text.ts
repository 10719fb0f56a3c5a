import { escaped } from '../job/shown.ts';

/** Text from a job as it may stand on a sheet: one line, nothing that does not print, nothing that turns the reading direction. */
export const plainText = (text: string): string => escaped(text.replaceAll(/[\s\u2028\u2029]+/gu, ' ').trim());

/** A spreadsheet takes a cell that begins with one of these for a formula: a name from a job must not be one. */
export const cellText = (text: string): string => (/^[\s]*[=+\-@\t\r]/.test(text) ? `'${text}` : text);

/**
 * A file name from the id of a fitting: letters and digits of any script, the rest as dashes; never empty, never a name that
 * a system keeps for itself.
 */
export function fileStem(id: string): string {
  const plain = id
    .normalize('NFC')
    .replaceAll(/[^\p{L}\p{N}]+/gu, '-')
    .replaceAll(/^-+|-+$/g, '');
  const short = [...plain].slice(0, 40).join('');
  if (short === '') return 'fitting';
  return /^(con|prn|aux|nul|com\d|lpt\d)$/i.test(short) ? `${short}-fitting` : short;
}

/** Stems for a list of ids, no two alike whatever the system thinks of capitals. */
export function fileStems(ids: readonly string[]): string[] {
  const taken = new Set<string>();
  return ids.map((id) => {
    const stem = fileStem(id);
    let name = stem;
    for (let n = 2; taken.has(name.toLowerCase()); n++) name = `${stem}-${n}`;
    taken.add(name.toLowerCase());
    return name;
  });
}

/** Letters that read from the right; their digits do not. */
const RIGHT_LETTER = /[\u0590-\u065F\u066A-\u06EF\u06FA-\u08FF\uFB1D-\uFDFF\uFE70-\uFEFC]/u;
const DIGIT = /\p{Nd}/u;
const LEFT_LETTER = /[\p{L}\p{M}\p{Nl}]/u;
const SEPARATOR = /[.,:/+-]/;
const MIRRORED: Readonly<Record<string, string>> = {
  '(': ')',
  ')': '(',
  '[': ']',
  ']': '[',
  '{': '}',
  '}': '{',
  '<': '>',
  '>': '<',
  '«': '»',
  '»': '«',
};

/** At the head of a line: the line as a whole reads from the right. Text from a job cannot bring one, `plainText` escapes it. */
const FROM_THE_RIGHT = '\u200F';

/**
 * A name that stands alone on its line reads the way of its first letter (UAX #9: P2, P3), not of the sheet about it.
 * @param whole the name, where `text` is one of the lines it was broken into
 */
export function ownLine(text: string, whole = text): string {
  const first = [...whole].find((c) => LEFT_LETTER.test(c));
  return first !== undefined && RIGHT_LETTER.test(first) ? FROM_THE_RIGHT + text : text;
}

/**
 * Stretches of a line that read the same way, in the order they stand on paper, in a line that as a whole reads from the left
 * (from the right where `ownLine` says so):
 * the implicit levels of the Unicode bidirectional algorithm (UAX #9: W2, W4, W7, N0, N1, N2, I1, I2, L2, L4) for text without
 * direction marks, which `plainText` has escaped. A number within text that reads from the right reads from the left itself.
 * A stretch with letters that read from the right is left in the order of reading: laying it out turns it round.
 */
export function readingRuns(text: string): string[] {
  if (!RIGHT_LETTER.test(text)) return [text];
  const fromRight = text.startsWith(FROM_THE_RIGHT);
  const characters = [...(fromRight ? text.slice(1) : text)];
  let strong = fromRight ? 'R' : 'L';
  const kinds = characters.map((c) => {
    if (RIGHT_LETTER.test(c)) strong = 'R';
    else if (DIGIT.test(c)) return strong === 'R' ? 'N' : 'L';
    else if (LEFT_LETTER.test(c)) strong = 'L';
    else return 'O';
    return strong;
  });
  characters.forEach((c, i) => {
    // One separator between two digits belongs to the number.
    if (SEPARATOR.test(c) && kinds[i - 1] === 'N' && kinds[i + 1] === 'N') kinds[i] = 'N';
  });
  pairBrackets(characters, kinds, fromRight ? 'R' : 'L');
  const side = (kind: string | undefined): string => (kind === 'R' || kind === 'N' ? 'R' : 'L');
  const ends = fromRight ? 'R' : 'L';
  const left = fromRight ? 2 : 0;
  const levels = kinds.map((kind, i) => {
    if (kind !== 'O') return kind === 'N' ? 2 : kind === 'R' ? 1 : left;
    const before = side(kinds.slice(0, i).findLast((each) => each !== 'O') ?? ends);
    const after = side(kinds.slice(i).find((each) => each !== 'O') ?? ends);
    return (before === after ? before : ends) === 'R' ? 1 : left;
  });
  const out: string[] = [];
  // Where the stretch that is being turned round begins in `out`.
  let turned = 0;
  for (let i = 0; i < characters.length; ) {
    let end = i + 1;
    while (end < characters.length && levels[end] === levels[i]) end++;
    const run = characters.slice(i, end);
    if (levels[i] === 0) {
      out.push(run.join(''));
      turned = out.length;
    } else {
      out.splice(turned, 0, levels[i] === 1 ? fromTheRight(run) : run.join(''));
    }
    i = end;
  }
  return out;
}

/** N0: a pair of brackets reads from the right where what is in it does, and what stands before it. */
function pairBrackets(characters: readonly string[], kinds: string[], line: 'L' | 'R'): void {
  const open: { at: number; closes: string }[] = [];
  characters.forEach((c, i) => {
    const closes = '([{'.includes(c) ? MIRRORED[c] : undefined;
    if (closes !== undefined) open.push({ at: i, closes });
    const mate = open.findLastIndex((each) => each.closes === c);
    if (mate < 0) return;
    const { at } = open[mate] as { at: number };
    open.length = mate;
    const inside = kinds.slice(at + 1, i).filter((kind) => kind !== 'O');
    const before = kinds.slice(0, at).findLast((kind) => kind !== 'O');
    if (inside.length === 0) return;
    const rights = inside.some((kind) => kind !== 'L');
    const right =
      line === 'R' ? rights || (before ?? 'R') !== 'L' : !inside.includes('L') && (before === 'R' || before === 'N');
    kinds[at] = right ? 'R' : 'L';
    kinds[i] = right ? 'R' : 'L';
  });
}

/** Brackets that open the other way; signs alone, which no layout turns round, in the order they stand. */
function fromTheRight(run: readonly string[]): string {
  const mirrored = run.map((c) => MIRRORED[c] ?? c);
  return (run.some((c) => RIGHT_LETTER.test(c)) ? mirrored : mirrored.reverse()).join('');
}
