import type { ContentsEntry, Flow } from './flow.ts';
import { shortened, widthOf } from './fonts.ts';

/** mm. Line to line at the most. */
const ROW = 5.4;
/** mm. Line to line at the least, before another column is begun. */
const CLOSE = 4.1;
/** Points. */
const SIZE = 9;
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
      const columns = Math.max(1, Math.ceil((entries.length * CLOSE) / room));
      const down = Math.ceil(entries.length / columns);
      const step = Math.min(ROW, room / down);
      const wide = (width - (columns - 1) * BETWEEN) / columns;
      entries.forEach(({ level, text, page }, i) => {
        const x = left + Math.floor(i / down) * (wide + BETWEEN);
        const y = bottom + room - (i % down) * step - 3.6;
        const bold = level === 1;
        const indent = (level - 1) * 5;
        const at = `page ${page}`;
        const long = widthOf(fonts, at, SIZE, bold);
        const name = shortened(fonts, text, SIZE, wide - indent - long - CLEAR, bold);
        sheet.text(name, x + indent, y, { size: SIZE, bold });
        sheet.text(at, x + wide, y, { size: SIZE, bold, align: 'right' });
        const from = x + indent + widthOf(fonts, name, SIZE, bold) + 1.5;
        const to = x + wide - long - 1.5;
        if (to > from) sheet.line(from, y, to, y, { width: 0.15, grey: 0.6, dash: [0.3, 1.2] });
      });
    };
  });
  return () => draw(flow.contents.filter((entry) => entry.level < 3 && entry.text !== 'Contents'));
}
