import type { Context } from './context.ts';
import { type Item, type Page, Sheet } from './drawing.ts';
import { furnish } from './flow.ts';
import type { PaperSize } from './options.ts';
import { checkBars } from './template-view.ts';

/** mm. What neighbouring tiles share. */
const OVERLAP = 12;
const MARGIN = 12;
const HEAD = 17;
const FOOT = 31;

export interface TileLayout {
  readonly page: { readonly width: number; readonly height: number };
  readonly window: { readonly width: number; readonly height: number };
  readonly columns: number;
  readonly rows: number;
}

/** The fewest tiles that hold a drawing of this size, the paper upright or on its side. */
export function tileLayout(paper: PaperSize, width: number, height: number): TileLayout {
  const layouts = [
    [paper.height, paper.width],
    [paper.width, paper.height],
  ].map(([w, h]) => {
    const window = { width: (w as number) - 2 * MARGIN, height: (h as number) - HEAD - FOOT };
    const count = (size: number, each: number) => Math.max(1, Math.ceil((size - OVERLAP) / (each - OVERLAP) - 1e-9));
    return {
      page: { width: w as number, height: h as number },
      window,
      columns: count(width, window.width),
      rows: count(height, window.height),
    };
  });
  const [lying, upright] = layouts as [TileLayout, TileLayout];
  return upright.columns * upright.rows < lying.columns * lying.rows ? upright : lying;
}

export interface Tiled {
  readonly title: string;
  readonly letter: string;
  readonly items: readonly Item[];
  readonly width: number;
  readonly height: number;
}

/** Name of a tile: the letter of its drawing, row and column, counted from the lower left. */
const tileName = (tiled: Tiled, layout: TileLayout, row: number, column: number): string =>
  `${tiled.letter}${row * layout.columns + column + 1}`;

/**
 * A drawing cut into pages at true size. Neighbours share a strip; the same register crosses stand in it on both, so that two
 * pages are laid over one another against a light. `pages` numbers are filled in by the caller's furnishing.
 */
export function tilePages(
  context: Context,
  tiled: Tiled,
  layout: TileLayout,
  sheetTitle: string,
  firstPage: number,
  of: number,
): Page[] {
  const { window, page, columns, rows } = layout;
  const stepX = window.width - OVERLAP;
  const stepY = window.height - OVERLAP;
  const crosses = registerCrosses(layout);
  const pages: Page[] = [];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const sheet = new Sheet(page.width, page.height);
      const x = MARGIN;
      const y = FOOT;
      // The last tile, and a single one, is no wider than what is left to show; a lone drawing stands in the middle.
      const dx = x - column * stepX + (columns === 1 ? (window.width - tiled.width) / 2 : 0);
      const dy = y - row * stepY + (rows === 1 ? (window.height - tiled.height) / 2 : 0);
      sheet.items.push({ kind: 'window', dx, dy, clip: { x, y, ...window }, items: [...tiled.items, ...crosses] });
      sheet.rect(x, y, window.width, window.height, { width: 0.1, grey: 0.55 }, undefined, 'TEXT');
      const name = tileName(tiled, layout, row, column);
      sheet.text(name, page.width - MARGIN - 2, y - 9.5, { size: 18, bold: true, align: 'right' });
      const joins = [
        column > 0 ? `left ${tileName(tiled, layout, row, column - 1)}` : '',
        column + 1 < columns ? `right ${tileName(tiled, layout, row, column + 1)}` : '',
        row > 0 ? `below ${tileName(tiled, layout, row - 1, column)}` : '',
        row + 1 < rows ? `above ${tileName(tiled, layout, row + 1, column)}` : '',
      ].filter((word) => word !== '');
      checkBars(sheet, MARGIN, y - 8);
      const text = joins.length > 0 ? `joins ${joins.join(', ')}` : 'one page';
      sheet.text(text, page.width - MARGIN - 18, y - 5.5, { size: 8, align: 'right' });
      sheet.text('print at 100 %, no scaling; measure a bar first', page.width - MARGIN - 18, y - 9.5, {
        size: 7,
        align: 'right',
      });
      furnish(sheet, context, `${sheetTitle}, ${tiled.title}`, firstPage + pages.length, of, MARGIN);
      pages.push(sheet);
    }
  }
  return pages;
}

/** Crosses in the strips that neighbours share, in coordinates of the whole drawing. */
function registerCrosses(layout: TileLayout): Item[] {
  const { window, columns, rows } = layout;
  const sheet = new Sheet(0, 0);
  const cross = (x: number, y: number): void => {
    sheet.line(x - 4, y, x + 4, y, { width: 0.2 }, 'TEXT');
    sheet.line(x, y - 4, x, y + 4, { width: 0.2 }, 'TEXT');
    sheet.circle(x, y, 2, { width: 0.2 }, undefined, 'TEXT');
  };
  const stepX = window.width - OVERLAP;
  const stepY = window.height - OVERLAP;
  for (let row = 0; row < rows; row++) {
    for (let column = 1; column < columns; column++) {
      for (const share of [0.12, 0.88]) cross(column * stepX + OVERLAP / 2, row * stepY + share * window.height);
    }
  }
  for (let row = 1; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      for (const share of [0.12, 0.88]) cross(column * stepX + share * window.width, row * stepY + OVERLAP / 2);
    }
  }
  return sheet.items;
}

/** The map of the tiles, drawn to fit a box. */
export function tileMap(
  sheet: Sheet,
  tiled: Tiled,
  layout: TileLayout,
  x: number,
  y: number,
  width: number,
  height: number,
): void {
  const { window, columns, rows } = layout;
  const stepX = window.width - OVERLAP;
  const stepY = window.height - OVERLAP;
  const wide = (columns - 1) * stepX + window.width;
  const tall = (rows - 1) * stepY + window.height;
  const k = Math.min(width / wide, height / tall);
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const left = x + k * column * stepX;
      const low = y + k * row * stepY;
      sheet.rect(left, low, k * window.width, k * window.height, { width: 0.25 });
    }
  }
  const offX = columns === 1 ? (window.width - tiled.width) / 2 : 0;
  const offY = rows === 1 ? (window.height - tiled.height) / 2 : 0;
  sheet.rect(x + k * offX, y + k * offY, k * tiled.width, k * tiled.height, { width: 0.4, dash: [1.5, 1] });
  // Names last, on white: no line runs through them.
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const middle = { x: x + k * (column * stepX + window.width / 2), y: y + k * (row * stepY + window.height / 2) };
      sheet.circle(middle.x, middle.y, 5.5, undefined, 1);
      sheet.text(tileName(tiled, layout, row, column), middle.x, middle.y - 1.4, {
        size: 11,
        bold: true,
        align: 'centre',
      });
    }
  }
}
