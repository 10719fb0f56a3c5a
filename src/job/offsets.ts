import Papa from 'papaparse';
import { readNumber } from './number.ts';
import { plainText } from './quantity.ts';
import { quoted } from './shown.ts';
import { internalPer } from './units.ts';

/** A table of offsets: lengths in mm, stations and waterlines ascending. */
export interface OffsetsTable {
  readonly stations: readonly number[];
  readonly waterlines: readonly number[];
  /** [station][waterline]; null where there is no shell. */
  readonly halfBreadths: readonly (readonly (number | null)[])[];
}

export type OffsetsUnit = 'mm' | 'cm' | 'm' | 'in' | 'ft' | 'ft-in-8';

/** What is wrong in a table: where it stands in it, what was found, what was expected. */
export interface TableFault {
  readonly found: string;
  readonly expected: string;
}

export type OffsetsReading =
  | { readonly ok: true; readonly table: OffsetsTable }
  | { readonly ok: false; readonly faults: readonly TableFault[] };

/** Rows and columns beyond which a table is no table of offsets. */
const MOST_CELLS = 200_000;
/** Cells of one table that are reported before the rest is only counted. */
const MOST_FAULTS = 20;

/**
 * Reads a table of offsets: first row the waterline heights, first column the stations, cells the half-breadths, all in
 * `unit`. A blank cell is "no shell there"; what stands in the corner is passed over. Delimiter: comma, semicolon or tab;
 * in the last two a comma may be the decimal mark. Rows and columns may run either way.
 *
 * @param name of the file, for the messages
 */
export function readOffsets(text: string, unit: OffsetsUnit, name: string): OffsetsReading {
  const parsed = Papa.parse<string[]>(text.replace(/^\uFEFF/, ''), {
    skipEmptyLines: false,
    delimitersToGuess: [',', ';', '\t'],
  });
  const quotes = parsed.errors.find((error) => error.type === 'Quotes');
  if (quotes !== undefined) {
    const found = `${quoted(name)}, row ${(quotes.row ?? 0) + 1}: ${quotes.message.toLowerCase()}`;
    return { ok: false, faults: [{ found, expected: 'quotes that open and close round a cell' }] };
  }
  const rows = withoutEmptyEdges(parsed.data.map((row) => row.map((cell) => cell.trim())));
  return new Table(rows, unit, name, parsed.meta.delimiter).read();
}

/** A spreadsheet leaves empty rows below and empty columns to the right: they say nothing. */
function withoutEmptyEdges(rows: readonly (readonly string[])[]): readonly (readonly string[])[] {
  const last = rows.findLastIndex((row) => row.some((cell) => cell !== ''));
  const kept = rows.slice(0, last + 1);
  let width = 0;
  for (const row of kept) width = Math.max(width, row.findLastIndex((cell) => cell !== '') + 1);
  return kept.map((row) => row.slice(0, width));
}

class Table {
  private readonly faults: TableFault[] = [];
  private more = 0;
  private readonly commaIsDecimal: boolean;
  private readonly rows: readonly (readonly string[])[];
  private readonly unit: OffsetsUnit;
  private readonly name: string;

  constructor(rows: readonly (readonly string[])[], unit: OffsetsUnit, name: string, delimiter: string) {
    this.rows = rows;
    this.unit = unit;
    this.name = name;
    this.commaIsDecimal = delimiter !== ',' && !rows.slice(1).some((row) => row.some((cell) => /\d\.\d/.test(cell)));
  }

  read(): OffsetsReading {
    const [head = [], ...body] = this.rows;
    const width = head.length;
    if (body.length < 2 || width < 3) {
      this.fault(
        undefined,
        undefined,
        `${body.length} rows by ${Math.max(0, width - 1)} columns of half-breadths`,
        'at least 2 stations by 2 waterlines',
      );
      return { ok: false, faults: this.faults };
    }
    if (body.length * width > MOST_CELLS) {
      this.fault(undefined, undefined, `${body.length * width} cells`, `at most ${MOST_CELLS}`);
      return { ok: false, faults: this.faults };
    }
    const waterlines = head.slice(1).map((cell, j) => this.number(cell, 0, j + 1, 'the height of a waterline'));
    const stations = body.map((row, i) => this.number(row[0] ?? '', i + 1, 0, 'a station'));
    const cells = body.map((row, i) => head.slice(1).map((_, j) => this.cell(row[j + 1] ?? '', i + 1, j + 1)));
    body.forEach((row, i) => {
      if (row.length > width)
        this.fault(i + 1, width, quoted(row[width] ?? ''), 'no cell where the first row has no waterline');
      else if (row.every((cell, j) => j === 0 || cell === ''))
        this.fault(i + 1, undefined, 'no half-breadth', 'at least one at each station');
    });
    this.monotone(waterlines, (j) => [0, j + 1], 'waterlines');
    this.monotone(stations, (i) => [i + 1, 0], 'stations');
    if (this.more > 0)
      this.faults.push({ found: `${this.file()}: ${this.more} more faults`, expected: 'a table without faults' });
    if (this.faults.length > 0) return { ok: false, faults: this.faults };
    return { ok: true, table: ascending(stations, waterlines, cells) };
  }

  private cell(text: string, row: number, column: number): number | null {
    if (text === '') return null;
    const value = this.number(text, row, column, 'a half-breadth');
    if (value < 0) this.fault(row, column, quoted(text), 'a half-breadth, zero or more');
    return value;
  }

  /** NaN, with a fault noted, where the cell is no number. */
  private number(text: string, row: number, column: number, what: string): number {
    const value = this.unit === 'ft-in-8' ? feetInchesEighths(text) : this.decimal(text);
    if (value !== undefined && Math.abs(value) <= 1e6) return value;
    const like = this.unit === 'ft-in-8' ? 'feet-inches-eighths, like 3-4-7' : `a bare number of ${this.unit}`;
    this.fault(row, column, text === '' ? 'a blank cell' : quoted(text), `${what}, ${like}`);
    return Number.NaN;
  }

  private decimal(text: string): number | undefined {
    const plain = plainText(text);
    const digits = plain.replace(/^[+-] ?/, '');
    const oneComma = this.commaIsDecimal && /^\d*,\d+$/.test(digits);
    const reading = readNumber(oneComma ? digits.replace(',', '.') : digits);
    if (!reading.ok || this.unit === 'ft-in-8') return undefined;
    return (plain.startsWith('-') && reading.value !== 0 ? -reading.value : reading.value) * internalPer(this.unit);
  }

  private monotone(values: readonly number[], where: (index: number) => readonly [number, number], what: string): void {
    if (values.some(Number.isNaN)) return;
    const down = (values.at(-1) ?? 0) < (values[0] ?? 0);
    const bad = values.findIndex((v, i) => i > 0 && (down ? v >= (values[i - 1] ?? 0) : v <= (values[i - 1] ?? 0)));
    if (bad < 0) return;
    const [row, column] = where(bad);
    const order = down ? 'falling' : 'rising';
    this.fault(row, column, quoted(this.rows[row]?.[column] ?? ''), `${what} strictly ${order} from first to last`);
  }

  private fault(row: number | undefined, column: number | undefined, found: string, expected: string): void {
    if (this.faults.length >= MOST_FAULTS) {
      this.more += 1;
      return;
    }
    const place = [
      row === undefined ? '' : `, row ${row + 1}`,
      column === undefined ? '' : `, column ${column + 1}`,
    ].join('');
    this.faults.push({ found: `${this.file()}${place}: ${found}`, expected });
  }

  private file(): string {
    return quoted(this.name);
  }
}

/**
 * `3-4-7` is 3 ft 4 7/8 in; a trailing `+` adds a sixteenth of an inch, `-` takes one off, as lines plans print them.
 * A bare `0` is no breadth at all. @returns mm, undefined where the text is no such figure
 */
export function feetInchesEighths(text: string): number | undefined {
  const plain = plainText(text);
  if (plain === '0') return 0;
  const match = /^(-?)(\d{1,4}) ?- ?(\d{1,2}) ?- ?([0-7]) ?([+-]?)$/.exec(plain);
  if (match === null) return undefined;
  const [, sign, feet, inches, eighths, sixteenth] = match;
  if (Number(inches) > 11) return undefined;
  const half = sixteenth === '+' ? 1 : sixteenth === '-' ? -1 : 0;
  const total = Number(feet) * 12 + Number(inches) + (2 * Number(eighths) + half) / 16;
  return (sign === '-' && total !== 0 ? -total : total) * internalPer('in');
}

function ascending(
  stations: readonly number[],
  waterlines: readonly number[],
  cells: readonly (readonly (number | null)[])[],
): OffsetsTable {
  const order = (values: readonly number[]) =>
    values.map((_, i) => i).sort((i, j) => (values[i] ?? 0) - (values[j] ?? 0));
  const [rows, columns] = [order(stations), order(waterlines)];
  return {
    stations: rows.map((i) => stations[i] ?? 0),
    waterlines: columns.map((j) => waterlines[j] ?? 0),
    halfBreadths: rows.map((i) => columns.map((j) => cells[i]?.[j] ?? null)),
  };
}
