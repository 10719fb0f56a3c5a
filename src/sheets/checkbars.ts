import type { Sheet } from './drawing.ts';

/** pt */
const TYPE = 8;

/** Bars of 100 mm and 4 in, end to end over one another: if they do not measure true, the print is not 1:1. */
export function checkBars(sheet: Sheet, x: number, y: number): void {
  for (const [long, text, up] of [
    [100, '100 mm', 3.2],
    [101.6, '4 in', -3.2],
  ] as const) {
    sheet.line(x, y + up, x + long, y + up, { width: 0.3 }, 'CHECK_BAR');
    for (const at of [0, long]) sheet.line(x + at, y + up - 1.8, x + at, y + up + 1.8, { width: 0.3 }, 'CHECK_BAR');
    sheet.text(text, x + long + 2, y + up - 0.9, { size: TYPE, layer: 'CHECK_BAR' });
  }
}
