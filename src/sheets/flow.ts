import { PAGE_CAUTION } from './cautions.ts';
import type { Context } from './context.ts';
import { type Drawing, type Item, MM_PER_POINT, type Page, type Pen, Sheet, THIN } from './drawing.ts';
import { type Fonts, lacksLetters, shortened, widthOf, wrapped } from './fonts.ts';
import { layoutTex, moved } from './tex.ts';

/** mm. Margins of a page with text on it. */
const SIDE_MARGIN = 16;
const TOP = 18.5;
const BOTTOM = 18;
/** Points. */
export const BODY = 9;
const LINE = 1.28;
/** mm. A table lower than this is not parted. */
const SHORT_TABLE = 45;
/** mm. A heading, with what stands between it and a table or figure, goes to the next page with them if it is lower than this. */
const CARRIED = 45;

export interface Column {
  readonly title: string;
  /** Share of the width. */
  readonly share: number;
  readonly align?: 'left' | 'right' | 'centre';
  readonly bold?: boolean;
}

/** What stands in a cell: text, or a formula. */
export type Cell = string | { readonly tex: string };

export interface ContentsEntry {
  readonly level: number;
  readonly text: string;
  readonly page: number;
}

/**
 * Pages of text, tables and figures under one another, broken where a page is full. Headings and rows are never parted from
 * what belongs to them. Header and footer go on at the end, when the number of pages is known.
 */
export class Flow {
  readonly context: Context;
  readonly width: number;
  readonly contents: ContentsEntry[] = [];
  private readonly sheetTitle: string;
  private readonly sheets: Sheet[] = [];
  private y = 0;
  /** Where the last heading begins: its page, the height it started at, its first item and its entry in the contents. */
  private head = { page: 0, from: 0, to: 0, item: 0, entry: 0 };

  constructor(context: Context, sheetTitle: string) {
    this.context = context;
    this.sheetTitle = sheetTitle;
    this.width = context.paper.width - 2 * SIDE_MARGIN;
    this.newPage();
  }

  /** Of the usual distance from line to line and row to row. */
  get tight(): number {
    return 1 - 0.03 * (this.context.tight ?? 0);
  }

  /** Line to line as a share of the size of the letters. */
  private get spacing(): number {
    return LINE * this.tight;
  }

  get page(): number {
    return this.sheets.length;
  }

  private get sheet(): Sheet {
    return this.sheets.at(-1) as Sheet;
  }

  get left(): number {
    return this.y - BOTTOM;
  }

  newPage(): void {
    this.sheets.push(new Sheet(this.context.paper.width, this.context.paper.height));
    this.y = this.context.paper.height - TOP;
  }

  /** Starts a new page unless `height` mm are left on this one. */
  room(height: number): void {
    const full = this.context.paper.height - TOP - BOTTOM;
    if (this.left < Math.min(height, full)) this.newPage();
  }

  /** As `room`, but a heading right above goes along to the new page. */
  private roomUnderHeading(height: number): void {
    const { head } = this;
    const top = this.context.paper.height - TOP;
    const carried = head.from - this.y;
    if (this.left >= Math.min(height, top - BOTTOM)) return;
    const alone =
      head.page !== this.page || carried > CARRIED || head.from > top - 1 || carried + height > top - BOTTOM;
    const items = alone ? [] : this.sheet.items.splice(head.item);
    this.newPage();
    if (alone) return;
    this.sheet.add(moved(items, 0, top - head.from));
    this.y = top - carried;
    this.head = { ...head, page: this.page, from: top, to: head.to + top - head.from, item: 0 };
    for (let k = head.entry; k < this.contents.length; k++) {
      this.contents[k] = { ...(this.contents[k] as ContentsEntry), page: this.page };
    }
  }

  space(height: number): void {
    this.y -= height;
  }

  heading(level: 1 | 2 | 3, text: string, keep = 20): void {
    const size = [15, 11.5, 9.5][level - 1] as number;
    const lines = wrapped(this.context.fonts, text, size, this.width, true);
    const height = lines.length * size * MM_PER_POINT * this.spacing;
    // One heading right under another belongs to it.
    const under = this.head.page === this.page && Math.abs(this.head.to - this.y) < 1e-6;
    if (under) this.roomUnderHeading(height + keep);
    else this.room(height + keep);
    if (!under) {
      const item = this.sheet.items.length;
      this.head = { page: this.page, from: this.y, to: 0, item, entry: this.contents.length };
    }
    if (this.y < this.context.paper.height - TOP - 1) this.y -= level === 1 ? 4 : 3;
    this.contents.push({ level, text, page: this.page });
    this.lines(lines, 0, size, true);
    this.y -= 0.8;
    this.head.to = this.y;
  }

  paragraph(
    text: string,
    style: { size?: number; bold?: boolean; italic?: boolean; indent?: number; keep?: number } = {},
  ): void {
    const size = style.size ?? BODY;
    const indent = style.indent ?? 0;
    const lines = wrapped(this.context.fonts, text, size, this.width - indent, style.bold);
    if (style.keep !== undefined) this.room(style.keep);
    this.lines(lines, indent, size, style.bold ?? false, style.italic ?? false);
    this.y -= 0.9;
  }

  /** A page never ends on the first line of several, nor begins with the last of them. */
  private lines(lines: readonly string[], indent: number, size: number, bold: boolean, italic = false): void {
    const step = size * MM_PER_POINT * this.spacing;
    const n = lines.length;
    lines.forEach((line, i) => {
      const together = i === 0 || i === n - 2 ? (n <= 3 ? n - i : 2) : 1;
      this.room(Math.min(together, n - i) * step);
      this.sheet.text(line, SIDE_MARGIN + indent, this.y - size * MM_PER_POINT * 0.95, { size, bold, italic });
      this.y -= step;
    });
  }

  bullet(text: string, mark = '•'): void {
    const step = BODY * MM_PER_POINT * this.spacing;
    const n = wrapped(this.context.fonts, text, BODY, this.width - 5).length;
    this.room((n <= 3 ? n : 2) * step);
    const y = this.y;
    const page = this.page;
    this.paragraph(text, { indent: 5 });
    const sheet = this.sheets[page - 1] as Sheet;
    sheet.text(mark, SIDE_MARGIN + 1, y - BODY * MM_PER_POINT * 0.95, { size: BODY });
  }

  /** Room of `height` mm across the page, drawn by the caller with the lower left corner at the origin it is given. */
  figure(height: number, draw: (sheet: Sheet, x: number, y: number, width: number) => void): void {
    this.roomUnderHeading(height);
    draw(this.sheet, SIDE_MARGIN, this.y - height, this.width);
    this.y -= height + 1;
  }

  items(height: number, items: (x: number, y: number) => readonly Item[]): void {
    this.figure(height, (sheet, x, y) => sheet.add(items(x, y)));
  }

  /** A table; the head is repeated on every page. A row stands whole on a page, unless it is longer than one. */
  table(
    columns: readonly Column[],
    rows: readonly (readonly Cell[])[],
    style: {
      size?: number;
      rowHeight?: number;
      shade?: (row: number) => number | undefined;
      boldRow?: (row: number) => boolean;
    } = {},
  ): void {
    const { fonts } = this.context;
    const size = style.size ?? 8;
    const pad = 1.2;
    const step = size * MM_PER_POINT * this.spacing;
    const total = columns.reduce((sum, column) => sum + column.share, 0);
    const widths = columns.map((column) => (this.width * column.share) / total);
    const cellLines = (cells: readonly Cell[], bold: boolean) =>
      cells.map((cell, i) =>
        typeof cell === 'string'
          ? wrapped(fonts, cell, size, (widths[i] as number) - 2 * pad, bold || columns[i]?.bold)
          : [''],
      );
    const heightOf = (lines: readonly (readonly string[])[]) =>
      Math.max(
        (style.rowHeight ?? 0) * this.tight,
        Math.max(1, ...lines.map((each) => each.length)) * step + 2 * pad * 0.8,
      );
    const head = cellLines(
      columns.map((column) => column.title),
      true,
    );
    const hasHead = columns.some((column) => column.title !== '');
    const put = (
      lines: readonly (readonly string[])[],
      height: number,
      bold: boolean,
      fill: number | undefined,
      cells: readonly Cell[] = [],
    ) => {
      let x = SIDE_MARGIN;
      columns.forEach((column, i) => {
        const width = widths[i] as number;
        this.sheet.rect(x, this.y - height, width, height, CELL, fill);
        const align = column.align ?? 'left';
        const at = align === 'left' ? x + pad : align === 'right' ? x + width - pad : x + width / 2;
        (lines[i] ?? []).forEach((line, k) => {
          const y = this.y - pad * 0.8 - k * step - size * MM_PER_POINT * 0.95;
          this.sheet.text(line, at, y, { size, bold: bold || (column.bold ?? false), align });
        });
        const cell = cells[i];
        if (cell !== undefined && typeof cell !== 'string') {
          const box = layoutTex(fonts, cell.tex, size + 0.5);
          this.sheet.add(moved(box.items, x + pad, this.y - pad * 0.8 - size * MM_PER_POINT * 0.95));
        }
        x += width;
      });
      this.y -= height;
    };
    const headHeight = heightOf(head);
    const putHead = () => {
      if (hasHead) put(head, headHeight, true, 0.88);
    };
    const wrappedRows: (readonly (readonly string[])[])[] = [];
    const rowLines = (r: number): readonly (readonly string[])[] => {
      wrappedRows[r] ??= cellLines(rows[r] ?? [], style.boldRow?.(r) ?? false);
      return wrappedRows[r] as readonly (readonly string[])[];
    };
    const rowHeight = (r: number): number => (rows[r] === undefined ? 0 : heightOf(rowLines(r)));
    const pageHeight = this.context.paper.height - TOP - BOTTOM - headHeight;
    // The head with two rows at least; a short table whole, where little would be left blank.
    const whole = rows.reduce((sum, _, r) => sum + rowHeight(r), 0);
    this.roomUnderHeading(headHeight + (whole < SHORT_TABLE ? whole : rowHeight(0) + rowHeight(1)));
    putHead();
    rows.forEach((row, r) => {
      const bold = style.boldRow?.(r) ?? false;
      let lines = rowLines(r);
      const height = heightOf(lines);
      // The last row never stands alone on a page.
      const last = r === rows.length - 2 && r > 0 ? rowHeight(r + 1) : 0;
      if (this.left < height + (height + last > pageHeight ? 0 : last)) {
        if (height > pageHeight) {
          // Longer than a page: broken between its lines.
          while (heightOf(lines) > this.left) {
            const fits = Math.max(1, Math.floor((this.left - 2 * pad) / step));
            put(
              lines.map((each) => each.slice(0, fits)),
              heightOf(lines.map((each) => each.slice(0, fits))),
              bold,
              style.shade?.(r),
            );
            lines = lines.map((each) => each.slice(fits));
            this.newPage();
            putHead();
          }
        } else {
          this.newPage();
          putHead();
        }
      }
      put(lines, heightOf(lines), bold, style.shade?.(r), row);
    });
    this.y -= 2;
  }

  /** Names with their values, two columns without lines. */
  pairs(rows: readonly (readonly [string, string])[], share = 0.34, size = BODY): void {
    const { fonts } = this.context;
    const step = size * MM_PER_POINT * this.spacing;
    for (const [name, value] of rows) {
      const left = wrapped(fonts, name, size, this.width * share - 2);
      const right = wrapped(fonts, value, size, this.width * (1 - share), true);
      const n = Math.max(left.length, right.length);
      this.room(n * step);
      left.forEach((line, k) => {
        this.sheet.text(line, SIDE_MARGIN, this.y - k * step - size * MM_PER_POINT * 0.95, { size });
      });
      right.forEach((line, k) => {
        const y = this.y - k * step - size * MM_PER_POINT * 0.95;
        this.sheet.text(line, SIDE_MARGIN + this.width * share, y, { size, bold: true });
      });
      this.y -= n * step + 0.4;
    }
    this.y -= 1;
  }

  /** Lines to write on, each with a word before it, `across` to a row. */
  blanks(words: readonly string[], across: number, usual = 9): void {
    const height = usual * this.tight;
    // Who signs signs on one page.
    if (words.length <= 8) this.room(Math.ceil(words.length / across) * height);
    for (let k = 0; k < words.length; k += across) {
      this.room(height);
      const row = words.slice(k, k + across);
      const width = this.width / across;
      row.forEach((word, i) => {
        const x = SIDE_MARGIN + i * width;
        const y = this.y - height + 2.4;
        this.sheet.text(word, x, y, { size: 8 });
        const from = x + widthOf(this.context.fonts, word, 8) + 1.5;
        if (from < x + width - 4) this.sheet.line(from, y - 0.6, x + width - 3, y - 0.6, THIN);
      });
      this.y -= height;
    }
  }

  /** The pages with their headers and footers; `after` pages of another make follow in the same file. */
  finish(after = 0): Page[] {
    this.sheets.forEach((sheet, i) => {
      furnish(sheet, this.context, this.sheetTitle, i + 1, this.sheets.length + after);
    });
    return [...this.sheets];
  }
}

/** Lines of text that a last page holds at the least. */
const FEWEST = 5;

/** The pages as they are, unless the last of them would hold a few lines only: then all a little closer, if that saves the page. */
export function unstraggled(context: Context, make: (context: Context) => Drawing): Drawing {
  const usual = make(context);
  if (!straggles(usual)) return usual;
  return setCloser(context, make, [1, 2], (closer) => !straggles(closer)) ?? usual;
}

/** The first of the closer settings that is `better` than the usual one; undefined where none is. */
export function setCloser(
  context: Context,
  make: (context: Context) => Drawing,
  settings: readonly number[],
  better: (closer: Drawing) => boolean,
): Drawing | undefined {
  for (const tight of settings) {
    const closer = make({ ...context, tight });
    if (better(closer)) return closer;
  }
  return undefined;
}

function straggles({ pages }: Drawing): boolean {
  const last = pages.at(-1);
  if (pages.length < 2 || last === undefined) return false;
  const lines = new Set<number>();
  for (const item of last.items) {
    if (item.kind === 'text' && item.at.y > BOTTOM - 2 && item.at.y < last.height - 12)
      lines.add(Math.round(item.at.y));
  }
  return lines.size < FEWEST;
}

const CELL: Pen = { width: 0.15, grey: 0.35 };

/** What every page of A4 and Letter carries: what it is, of which job, its digest and revision, its number, and the caution. */
export function furnish(
  sheet: Sheet,
  context: Context,
  sheetTitle: string,
  page: number,
  of: number,
  margin = SIDE_MARGIN,
): void {
  const { fonts, title, id, digest, revision, date, warning } = context;
  const { width, height } = sheet;
  const right = width - margin;
  const top = height - 10;
  const number = `page ${page} of ${of}`;
  const name = shortened(fonts, `${id}  ${sheetTitle}`, 10, (width - 2 * margin) * 0.55, true);
  sheet.text(name, margin, top, { size: 10, bold: true });
  const room = width - 2 * margin - widthOf(fonts, name, 10, true) - 6;
  // What stands against the sheet takes the place of the name of the job, which goes before it, or else to the foot.
  const warned = warning.length > 0;
  const left = room - (warned ? warningBox(sheet, fonts, warning, right, top, room) + 4 : 0);
  const below = widthOf(fonts, title, 9) > left;
  if (!below) sheet.text(title, right - room + left, top, { size: 9, align: 'right' });
  sheet.line(margin, top - 2.4, right, top - 2.4, { width: 0.3 });
  sheet.line(margin, 16.3, right, 16.3, { width: 0.3 });
  const lacks = (item: Item): boolean =>
    item.kind === 'window' ? item.items.some(lacks) : item.kind === 'text' && lacksLetters(fonts, item.text, item.bold);
  const strange = sheet.items.some(lacks) || (below && lacksLetters(fonts, title));
  const letters = strange ? '[U+…]: letters this sheet cannot print, read them in the job file' : '';
  const mark = [`job digest ${digest}`, revision, date, letters].filter((part) => part !== '').join('   ');
  const foot = width - 2 * margin - widthOf(fonts, number, 8) - 4;
  const whole = `${mark}   ${title}`;
  const beside = below && widthOf(fonts, whole, 8) <= foot;
  sheet.text(shortened(fonts, beside ? whole : mark, 8, foot), margin, 12.6, { size: 8 });
  // Too long for there too: on a line of its own under the head, whole as far as the page is wide.
  if (below && !beside) sheet.text(shortened(fonts, title, 8, width - 2 * margin), margin, top - 5.9, { size: 8 });
  sheet.text(number, right, 12.6, { size: 8, align: 'right' });
  wrapped(fonts, PAGE_CAUTION, 8, width - 2 * margin).forEach((line, i) => {
    sheet.text(line, margin, 9.1 - i * 3.2, { size: 8 });
  });
}

/** White on black, its right end at `right`, the fullest wording that fits into `room` mm. Gives back how wide it is. */
function warningBox(
  sheet: Sheet,
  fonts: Fonts,
  wordings: readonly string[],
  right: number,
  base: number,
  room: number,
): number {
  const [size, pad] = [9, 1.5];
  const wide = (text: string): number => widthOf(fonts, text, size, true) + 2 * pad;
  const text = wordings.find((each) => wide(each) <= room) ?? (wordings.at(-1) as string);
  sheet.rect(right - wide(text), base - 1.4, wide(text), 4.4, undefined, 0);
  sheet.text(text, right - pad, base, { size, bold: true, align: 'right', grey: 1 });
  return wide(text);
}
