import { MM_PER_POINT, type Sheet } from './drawing.ts';
import { type Fonts, widthOf } from './fonts.ts';

/** Words at one size, and every word with a figure in it larger and bold: a figure is what a diver looks for. */
export interface RichStyle {
  readonly size: number;
  readonly figures: number;
  readonly bold?: boolean;
}

interface Word {
  readonly text: string;
  readonly size: number;
  readonly bold: boolean;
  readonly width: number;
}

export interface RichLine {
  readonly words: readonly Word[];
  readonly height: number;
}

/** Line spacing as a share of the size. */
const SPACING = 1.13;

/** Text broken into lines no wider than `width` mm. */
export function richLines(fonts: Fonts, text: string, width: number, style: RichStyle): RichLine[] {
  const lines: Word[][] = [[]];
  let used = 0;
  const space = widthOf(fonts, ' ', style.size);
  for (const part of text.split(' ').flatMap((word) => piecesThatFit(fonts, word, width, style))) {
    const figure = /\d/.test(part);
    const size = figure ? style.figures : style.size;
    const bold = figure || (style.bold ?? false) || isLoud(part);
    const word = { text: part, size, bold, width: widthOf(fonts, part, size, bold) };
    const line = lines.at(-1) as Word[];
    const needed = (line.length > 0 ? space : 0) + word.width;
    if (line.length > 0 && used + needed > width) {
      // What belongs to the word goes to the next line with it, as far as there is room and something stays.
      const next = [word];
      used = word.width;
      while (line.length > 1) {
        const before = line.at(-1) as Word;
        const wider = used + space + before.width;
        if (!sticks(before, next[0] as Word) || wider > width) break;
        next.unshift(line.pop() as Word);
        used = wider;
      }
      lines.push(next);
    } else {
      line.push(word);
      used += needed;
    }
  }
  // A line of small words among lines with figures keeps its own, smaller height.
  return lines.map((words) => ({
    words,
    height: Math.max(style.size, ...words.map((word) => word.size)) * MM_PER_POINT * SPACING,
  }));
}

/** A figure and its fraction or unit, a side of the foot and its figure: apart, at the end of a line, each would be read for itself. */
const sticks = (before: Word, after: Word): boolean =>
  (/\d$/.test(before.text) && /^(?:\d+\/\d+[,;.]?|mm|m|in|ft|A)[,;.]?$/.test(after.text)) ||
  before.text === '+' ||
  after.text === '+' ||
  (isLoud(before.text) && !/\d/.test(before.text) && /^\d/.test(after.text));

/** A word in capitals is said aloud. */
const isLoud = (word: string): boolean => /^[^a-z]*[A-Z]{2}[^a-z]*$/.test(word);

function piecesThatFit(fonts: Fonts, word: string, width: number, style: RichStyle): string[] {
  const fits = (text: string) => widthOf(fonts, text, Math.max(style.size, style.figures), true) <= width;
  const pieces: string[] = [];
  let rest = [...word];
  while (rest.length > 1 && !fits(rest.join(''))) {
    let n = rest.length - 1;
    while (n > 1 && !fits(rest.slice(0, n).join(''))) n--;
    pieces.push(rest.slice(0, n).join(''));
    rest = rest.slice(n);
  }
  pieces.push(rest.join(''));
  return pieces;
}

export const heightOf = (lines: readonly RichLine[]): number => lines.reduce((sum, line) => sum + line.height, 0);

/** Draws lines downward from `top`; returns the y under the last. */
export function drawRich(sheet: Sheet, fonts: Fonts, lines: readonly RichLine[], x: number, top: number): number {
  let y = top;
  for (const line of lines) {
    const size = Math.max(...line.words.map((word) => word.size), 0);
    const base = y - size * MM_PER_POINT * 0.86;
    let at = x;
    for (const word of line.words) {
      sheet.text(word.text, at, base, { size: word.size, bold: word.bold });
      at += word.width + widthOf(fonts, ' ', word.size === size ? word.size * 0.8 : word.size);
    }
    y -= line.height;
  }
  return y;
}
