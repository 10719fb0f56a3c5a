import fontkit from '@pdf-lib/fontkit';
import { MM_PER_POINT, type TextItem } from './drawing.ts';
import { faceForWriting, JOINING } from './embedding.ts';
import { readingRuns } from './text.ts';

/** The two faces all sheets are set in, as the bytes of TrueType files. */
export interface FontBytes {
  readonly regular: Uint8Array;
  readonly bold: Uint8Array;
}

type Face = ReturnType<typeof fontkit.create>;

/** Faces made ready, with what measuring has found out so far. */
export interface Fonts {
  readonly bytes: FontBytes;
  readonly regular: Typeface;
  readonly bold: Typeface;
}

/** Texts whose width is remembered. */
const MEASURED = 10_000;

class Typeface {
  readonly face: Face;
  private readonly bytes: Uint8Array;
  private writing: Face | undefined;
  private readonly widths = new Map<string, number>();
  private readonly lacks = new Map<string, boolean>();
  /** Widths of words and lines in em: most words stand in a sheet many times. */
  private readonly measured = new Map<string, number>();

  constructor(bytes: Uint8Array) {
    this.face = fontkit.create(bytes);
    this.bytes = bytes;
  }

  private missing(character: string): boolean {
    let missing = this.lacks.get(character);
    if (missing === undefined) {
      missing = !this.face.hasGlyphForCodePoint(character.codePointAt(0) ?? 0);
      this.lacks.set(character, missing);
    }
    return missing;
  }

  /** The text with the numbers of those letters in square brackets that the face does not have, `[U+8239 U+8235]`: no empty boxes. */
  printable(text: string): string {
    if (/^[ -~]*$/.test(text)) return text;
    let out = '';
    let codes: string[] = [];
    const close = (): void => {
      if (codes.length > 0) out += `[${codes.join(' ')}]`;
      codes = [];
    };
    for (const character of text) {
      if (this.missing(character)) {
        codes.push(`U+${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`);
      } else {
        close();
        out += character;
      }
    }
    close();
    return out;
  }

  /** Advance of one character in em. */
  private advance(character: string): number {
    let width = this.widths.get(character);
    if (width === undefined) {
      width = this.face.glyphForCodePoint(character.codePointAt(0) ?? 0).advanceWidth / this.face.unitsPerEm;
      this.widths.set(character, width);
    }
    return width;
  }

  /** The face as the PDF writer is to use it, one for all files. */
  get forWriting(): Face {
    this.writing ??= faceForWriting(
      this.face,
      this.bytes,
      (character) => this.advance(character) * this.face.unitsPerEm,
    );
    return this.writing;
  }

  /** Width in mm of a line of text at `size` points. */
  width(text: string, size: number): number {
    let em = this.measured.get(text);
    if (em === undefined) {
      em = this.measure(text);
      if (this.measured.size >= MEASURED) this.measured.clear();
      this.measured.set(text, em);
    }
    return em * size * MM_PER_POINT;
  }

  /** Width in em. */
  private measure(text: string): number {
    let em = 0;
    for (const run of readingRuns(this.printable(text))) {
      // Scripts whose letters join are measured as they are laid out.
      if (JOINING.test(run)) em += this.face.layout(run).advanceWidth / this.face.unitsPerEm;
      else for (const character of run) em += this.advance(character);
    }
    return em;
  }
}

const made = new WeakMap<FontBytes, Fonts>();

/** Faces from their bytes; made once for the same bytes. */
export function fontsFrom(bytes: FontBytes): Fonts {
  let fonts = made.get(bytes);
  if (fonts === undefined) {
    fonts = { bytes, regular: new Typeface(bytes.regular), bold: new Typeface(bytes.bold) };
    made.set(bytes, fonts);
  }
  return fonts;
}

export const widthOf = (fonts: Fonts, text: string, size: number, bold = false): number =>
  (bold ? fonts.bold : fonts.regular).width(text, size);

/** Whether a text has letters that the face lacks, so that their numbers are printed for them. */
export const lacksLetters = (fonts: Fonts, text: string, bold = false): boolean =>
  (bold ? fonts.bold : fonts.regular).printable(text) !== text;

/** Height of capitals and figures over the base line, and reach of descenders under it, as shares of the size. */
export const CAP_HEIGHT = 0.729;
const DESCENT = 0.24;

/** Box round a text as it is drawn, not turned: mm. */
export function textBox(fonts: Fonts, item: TextItem): { x0: number; y0: number; x1: number; y1: number } {
  const width = widthOf(fonts, item.text, item.size, item.bold);
  const height = item.size * MM_PER_POINT;
  const x0 = item.at.x - (item.align === 'left' ? 0 : item.align === 'centre' ? width / 2 : width);
  return { x0, y0: item.at.y - DESCENT * height, x1: x0 + width, y1: item.at.y + CAP_HEIGHT * height };
}

/** Text broken into lines no wider than `width` mm: at spaces, but not between a figure and its unit; within a word only where the word alone is too wide. */
export function wrapped(fonts: Fonts, text: string, size: number, width: number, bold = false): string[] {
  const measure = (part: string) => widthOf(fonts, part, size, bold);
  const space = measure(' ');
  const lines: string[] = [];
  for (const paragraph of text.split('\n')) {
    let line: string[] = [];
    let used = 0;
    for (const word of words(paragraph, (part) => measure(part) <= width)) {
      const wide = measure(word);
      if (line.length > 0 && used + space + wide > width) {
        lines.push(line.join(' '));
        line = [];
        used = 0;
      }
      if (line.length === 0 && wide > width) {
        const pieces = broken(word, measure, width);
        lines.push(...pieces.slice(0, -1));
        const rest = pieces.at(-1) ?? '';
        line = [rest];
        used = measure(rest);
      } else {
        used += (line.length > 0 ? space : 0) + wide;
        line.push(word);
      }
    }
    lines.push(line.join(' '));
  }
  return lines;
}

const UNIT = /^(?:\d+\/\d+|mm|m|in|ft|kN|N|lbf|kip|kg|lb|MPa|ksi|kJ\/mm|N\/mm|kip\/in|kN m|%|h|min|A|V|°)[.,;:)]*$/;

/** What stays with the word before it: inches with their feet, what a quantity is divided by, a mark of one letter. */
const follows = (last: string, word: string): boolean =>
  last.endsWith('±') ||
  (UNIT.test(word) && /\d$/.test(last)) ||
  (/\d ft$/.test(last) && /^\d/.test(word)) ||
  word === '/' ||
  last === '/' ||
  last.endsWith(' /') ||
  word === 'F';

/** Words of a line; a figure, its fraction and its unit are one where they fit. */
function words(line: string, fits: (part: string) => boolean): string[] {
  const out: string[] = [];
  for (const word of line.split(' ')) {
    const last = out.at(-1);
    const both = `${last} ${word}`;
    if (last !== undefined && follows(last, word) && fits(both)) out[out.length - 1] = both;
    else out.push(word);
  }
  return out;
}

/** A word too wide for a line in pieces that are not; a character at least in each. */
function broken(word: string, measure: (part: string) => number, width: number): string[] {
  const pieces: string[] = [];
  let piece = '';
  for (const character of word) {
    if (piece !== '' && measure(piece + character) > width) {
      // A path is parted behind a dot, where one is near.
      const cut = piece.lastIndexOf('.') + 1;
      const end = cut > piece.length / 3 ? cut : piece.length;
      pieces.push(piece.slice(0, end));
      piece = piece.slice(end);
    }
    piece += character;
  }
  return [...pieces, piece];
}

/** The text, or as much of it as fits with an ellipsis. */
export function shortened(fonts: Fonts, text: string, size: number, width: number, bold = false): string {
  if (widthOf(fonts, text, size, bold) <= width) return text;
  const characters = [...text];
  let n = characters.length;
  while (n > 0 && widthOf(fonts, `${characters.slice(0, n).join('').trimEnd()}…`, size, bold) > width) n--;
  return `${characters.slice(0, n).join('').trimEnd()}…`;
}
