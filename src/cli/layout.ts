/** Columns of the report. */
const WIDTH = 100;
/** Columns of the word at the left. */
const LABEL = 10;

/** Text in lines of at most 100 columns, hanging beside a word at the left. */
export function block(label: string, text: string): string[] {
  const indent = ' '.repeat(LABEL);
  const lines: string[] = [];
  let line = label.length < LABEL ? label.padEnd(LABEL) : `${label}  `;
  let empty = true;
  for (const word of text.split(' ')) {
    if (!empty && line.length + 1 + word.length > WIDTH) {
      lines.push(line);
      [line, empty] = [indent, true];
    }
    line += empty ? word : ` ${word}`;
    empty = false;
  }
  return [...lines, line].map((l) => l.trimEnd());
}

/** A table under the text column: every cell padded to its column's widest. */
export function table(head: readonly string[], rows: readonly (readonly string[])[]): string[] {
  const all = [head, ...rows];
  const widths = head.map((_, j) => Math.max(...all.map((row) => [...(row[j] ?? '')].length)));
  return all.map((row) => {
    const cells = row.map((cell, j) => cell + ' '.repeat((widths[j] ?? 0) - [...cell].length));
    return `${' '.repeat(LABEL)}${cells.join('  ')}`.trimEnd();
  });
}
