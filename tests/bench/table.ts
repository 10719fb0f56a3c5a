/** One line of the bench's answer. */
export interface Row {
  readonly group: string;
  readonly what: string;
  readonly value: number;
  /** Beside a median: the least of all rounds. */
  readonly least?: number;
  readonly unit: 'ms' | 'x' | 'mm' | 'MB' | 'bytes' | '';
  /** What is wanted of it; absent for a figure that stands there for comparison. */
  readonly wanted?: { readonly most: number } | { readonly least: number };
  readonly note?: string;
}

/** Whether a row is what was wanted; undefined where nothing was. */
export function met({ value, wanted }: Row): boolean | undefined {
  if (wanted === undefined) return undefined;
  return 'most' in wanted ? value <= wanted.most : value >= wanted.least;
}

/** Rows as text in columns, group by group. */
export function tableOf(rows: readonly Row[]): string {
  const cells = rows.map((row) => [
    row.what,
    `${figure(row.value)} ${row.unit}`.trim(),
    leastOf(row),
    wish(row),
    row.note ?? '',
  ]);
  const width = (column: number) => Math.max(...cells.map((c) => (c[column] as string).length));
  const widths = [width(0), width(1), width(2), width(3)] as const;
  const lines: string[] = [];
  rows.forEach((row, i) => {
    if (row.group !== rows[i - 1]?.group) lines.push('', row.group);
    const [what = '', value = '', least = '', wanted = '', note = ''] = cells[i] ?? [];
    lines.push(
      [` ${what.padEnd(widths[0])}`, value.padStart(widths[1]), least.padEnd(widths[2]), wanted.padEnd(widths[3]), note]
        .join('  ')
        .trimEnd(),
    );
  });
  return lines.join('\n');
}

const leastOf = (row: Row): string => (row.least === undefined ? '' : `(least ${figure(row.least)})`);

function wish(row: Row): string {
  if (row.wanted === undefined) return '';
  const text = 'most' in row.wanted ? `<= ${row.wanted.most}` : `>= ${row.wanted.least}`;
  return `${text} ${met(row) === true ? 'met' : 'NOT MET'}`;
}

/** Three significant digits. */
function figure(x: number): string {
  const size = Math.abs(x);
  if (size !== 0 && (size < 1e-3 || size >= 1e6)) return x.toExponential(2);
  return size >= 100 ? x.toFixed(0) : x.toPrecision(3);
}
