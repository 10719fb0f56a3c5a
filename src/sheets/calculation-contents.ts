import type { Sheet } from './drawing.ts';
import type { ContentsEntry, Flow } from './flow.ts';
import { type Fonts, widthOf, wrapped } from './fonts.ts';

/** mm. Line to line at the most. */
const ROW = 5.4;
/** mm. Line to line at the least, before another column is begun. */
const CLOSE = 4.1;
/** Points. */
const SIZE = 9;
/** mm. How far an entry's further lines stand in. */
const HANGING = 4;
const MOST_COLUMNS = 3;
/** mm. Between two columns, and between a name and its page. */
const BETWEEN = 8;
const CLEAR = 3;

/**
 * A page kept for the contents. What comes back draws them on it, in as many columns as they need: to be called when every
 * page is known.
 */
export function contentsPage(flow: Flow): () => void {
  flow.heading(1, 'Contents');
  const room = flow.left - 2;
  let draw: (entries: readonly ContentsEntry[]) => void = () => {};
  const { fonts } = flow.context;
  flow.figure(room, (sheet, left, bottom, width) => {
    draw = (entries) => {
      for (let columns = 1; ; columns++) {
        const wide = (width - (columns - 1) * BETWEEN) / columns;
        const rows = entries.map((entry) => rowOf(fonts, entry, wide));
        const placed = fitted(rows, columns, room);
        if (placed === undefined && columns < MOST_COLUMNS) continue;
        (placed ?? inColumns(rows, CLOSE, room)).forEach(({ row, column, down }) => {
          drawRow(sheet, fonts, row, left + column * (wide + BETWEEN), bottom + room - down - 3.6, wide);
        });
        return;
      }
    };
  });
  return () => draw(flow.contents.filter((entry) => entry.level < 3 && entry.text !== 'Contents'));
}

interface Row {
  readonly lines: readonly string[];
  readonly at: string;
  readonly bold: boolean;
  readonly indent: number;
}

/** An entry broken into lines that leave the number of its page room. */
function rowOf(fonts: Fonts, { level, text, page }: ContentsEntry, wide: number): Row {
  const bold = level === 1;
  const indent = (level - 1) * 5;
  const at = String(page);
  const lines = wrapped(fonts, text, SIZE, wide - indent - HANGING - widthOf(fonts, at, SIZE, bold) - CLEAR, bold);
  return { lines, at, bold, indent };
}

interface PlacedRow {
  readonly row: Row;
  readonly column: number;
  /** mm from the top of the column. */
  readonly down: number;
}

/** Rows under one another with `step` from line to line, the next column begun where one is full; a row stands whole in a column. */
function inColumns(rows: readonly Row[], step: number, room: number): PlacedRow[] {
  let column = 0;
  let down = 0;
  return rows.map((row) => {
    const height = heightOf(row, step);
    if (down > 0 && down + height > room + 1e-9) {
      column++;
      down = 0;
    }
    const at = { row, column, down };
    down += height;
    return at;
  });
}

/** Lines of one entry stand at the least distance, entries apart by the step. */
const heightOf = ({ lines }: Row, step: number): number => step + (lines.length - 1) * CLOSE;

/** As wide apart as these columns take them; undefined where they do not take them at all. */
function fitted(rows: readonly Row[], columns: number, room: number): PlacedRow[] | undefined {
  for (let step = ROW; step >= CLOSE - 1e-9; step -= 0.1) {
    const placed = inColumns(rows, step, room);
    if ((placed.at(-1)?.column ?? 0) < columns) return placed;
  }
  return undefined;
}

function drawRow(sheet: Sheet, fonts: Fonts, row: Row, left: number, top: number, wide: number): void {
  const { lines, at, bold, indent } = row;
  lines.forEach((line, i) => {
    sheet.text(line, left + indent + (i === 0 ? 0 : HANGING), top - i * CLOSE, { size: SIZE, bold });
  });
  const y = top - (lines.length - 1) * CLOSE;
  sheet.text(at, left + wide, y, { size: SIZE, bold, align: 'right' });
  const hanging = lines.length === 1 ? 0 : HANGING;
  const from = left + indent + hanging + widthOf(fonts, lines.at(-1) as string, SIZE, bold) + 1.5;
  const to = left + wide - widthOf(fonts, at, SIZE, bold) - 1.5;
  if (to > from) sheet.line(from, y, to, y, { width: 0.15, grey: 0.6, dash: [0.3, 1.2] });
}
