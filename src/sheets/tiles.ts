import { checkBars } from './checkbars.ts';
import type { Context } from './context.ts';
import { flattened, type Item, type Page, type Point, Sheet, type TextItem } from './drawing.ts';
import { furnish } from './flow.ts';
import { type Fonts, textBox } from './fonts.ts';
import type { PaperSize } from './options.ts';

/** mm. What neighbouring tiles share. */
const OVERLAP = 12;
/** mm. No printer of A4 or Letter that is in use leaves more than a quarter of an inch blank. */
const EDGE = 7;
const MARGIN = 12;
const HEAD = 14;
const FOOT = 30;
/** mm. The middle of the check bars over the foot of the page. */
const BARS = 23.4;
/** mm. A cut this far from what it is to keep clear of is as good as one farther off. */
const CLEAR = 16;

/** A stretch of a drawing, mm. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/** A part of a drawing with its name, mm. */
export interface Outline {
  readonly name: string;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A drawing at true size that goes on as few pages as hold it: mm, origin at its lower left corner. */
export interface Piece {
  readonly title: string;
  /** Tiles of pieces that go before it in the same file: its own are numbered on from there. None where absent. */
  readonly before?: number;
  readonly width: number;
  readonly height: number;
  /** x that a cut keeps clear of where it can: a station, the centre line, a place to write. */
  readonly avoid: readonly number[];
  /** y at which a register cross on an upright cut stands on nothing else. */
  readonly clear: readonly number[];
  /** What the map shows of it. */
  readonly outlines: readonly Outline[];
  /** The drawing, its words standing within the stretches of x given: one for each column of tiles. */
  draw(panes: readonly Span[]): readonly Item[];
}

export interface TileLayout {
  readonly page: { readonly width: number; readonly height: number };
  readonly window: { readonly width: number; readonly height: number };
  /** What each column and each row of tiles shows of the drawing; the lowest row first. */
  readonly columns: readonly Span[];
  readonly rows: readonly Span[];
}

const long = ({ from, to }: Span): number => to - from;

export const tilesIn = ({ columns, rows }: TileLayout): number => columns.length * rows.length;

/** The fewest tiles that hold a drawing of this size, the paper upright or on its side. */
export function tileLayout(
  paper: PaperSize,
  { width, height, avoid = [] }: Pick<Piece, 'width' | 'height'> & Partial<Pick<Piece, 'avoid'>>,
): TileLayout {
  const layouts = [
    [paper.height, paper.width],
    [paper.width, paper.height],
  ].map(([w, h]): TileLayout => {
    const window = { width: (w as number) - 2 * EDGE, height: (h as number) - HEAD - FOOT };
    return {
      page: { width: w as number, height: h as number },
      window,
      columns: spans(width, window.width, avoid),
      rows: spans(height, window.height, []),
    };
  });
  const [lying, upright] = layouts as [TileLayout, TileLayout];
  return tilesIn(upright) < tilesIn(lying) ? upright : lying;
}

/** A length cut into the fewest stretches no longer than `most` that share OVERLAP with the next, about equal, clear of `avoid`. */
function spans(size: number, most: number, avoid: readonly number[]): Span[] {
  const n = Math.max(1, Math.ceil((size - OVERLAP) / (most - OVERLAP) - 1e-9));
  const cuts: number[] = [];
  for (let i = 1; i < n; i++) {
    const before = cuts.at(-1);
    const highest = before === undefined ? most - OVERLAP / 2 : before + most - OVERLAP;
    const lowest = size - (most - OVERLAP / 2) - (n - 1 - i) * (most - OVERLAP);
    const even = (size * i) / n;
    const worth = (x: number): number =>
      Math.min(CLEAR, ...avoid.map((each) => Math.abs(each - x))) - 0.02 * Math.abs(x - even);
    let best = Math.min(highest, Math.max(lowest, even));
    for (let x = lowest; x <= highest; x += 0.5) if (worth(x) > worth(best) + 1e-9) best = x;
    cuts.push(best);
  }
  return Array.from({ length: n }, (_, i) => ({
    from: i === 0 ? 0 : (cuts[i - 1] as number) - OVERLAP / 2,
    to: i === n - 1 ? size : (cuts[i] as number) + OVERLAP / 2,
  }));
}

/** mm. How near the cuts between columns come to what they had better keep clear of. */
export const clearance = ({ avoid }: Piece, { columns }: TileLayout): number =>
  Math.min(CLEAR, ...columns.slice(1).flatMap(({ from }) => avoid.map((x) => Math.abs(x - from - OVERLAP / 2))));

/** The layout that takes the fewest sheets, and of those that with the fewest joins: pieces that may lie on pages in several ways. */
export function fewestSheets(
  paper: PaperSize,
  ways: readonly (readonly Piece[])[],
): { readonly piece: Piece; readonly layout: TileLayout }[] {
  const laid = ways.map((pieces) => pieces.map((piece) => ({ piece, layout: tileLayout(paper, piece) })));
  const cost = (way: (typeof laid)[number]) =>
    way.reduce((sum, { layout }) => sum + 100 * tilesIn(layout) + (tilesIn(layout) - 1), 0);
  const best = laid.reduce((p, q) => (cost(q) < cost(p) ? q : p));
  return best.map(({ piece, layout }, i) => {
    const before = best.slice(0, i).reduce((sum, each) => sum + tilesIn(each.layout), 0);
    return { piece: { ...piece, before }, layout };
  });
}

/** Name of a tile: its number, from the lower left, counted on from the pieces before it. A letter might be taken for a lug's. */
function tileName({ before = 0 }: Piece, layout: TileLayout, row: number, column: number): string {
  return String(before + row * layout.columns.length + column + 1);
}

/**
 * A drawing cut into pages at true size. Neighbours share a strip; the same register crosses stand in it on both, so that two
 * pages are laid over one another against a light. No word is cut: a tile has those that stand whole on it.
 */
export function tilePages(
  context: Context,
  piece: Piece,
  layout: TileLayout,
  sheetTitle: string,
  firstPage: number,
  of: number,
): Page[] {
  const { window, page, columns, rows } = layout;
  const items = wholeWords(context.fonts, piece.draw(panesOf(columns)), layout);
  const crosses = registerCrosses(context.fonts, piece, items, layout);
  const pages: Page[] = [];
  rows.forEach((v, row) => {
    columns.forEach((u, column) => {
      const sheet = new Sheet(page.width, page.height);
      // Whatever a tile shows stands in the middle of its page.
      const x = EDGE + (window.width - long(u)) / 2;
      const y = FOOT + (window.height - long(v)) / 2;
      const shown = items.filter((item) => item.kind !== 'text' || standsIn(boxOf(context.fonts, item), u, v));
      sheet.items.push({
        kind: 'window',
        dx: x - u.from,
        dy: y - v.from,
        clip: { x, y, width: long(u), height: long(v) },
        items: [...shown, ...crosses],
      });
      const edge = { width: 0.1, grey: 0.55 };
      const [right, top] = [x + long(u), y + long(v)];
      if (column > 0) sheet.line(x, y, x, top, edge, 'TEXT');
      if (column + 1 < columns.length) sheet.line(right, y, right, top, edge, 'TEXT');
      if (row > 0) sheet.line(x, y, right, y, edge, 'TEXT');
      if (row + 1 < rows.length) sheet.line(x, top, right, top, edge, 'TEXT');
      const joins = [
        column > 0 ? `left ${tileName(piece, layout, row, column - 1)}` : '',
        column + 1 < columns.length ? `right ${tileName(piece, layout, row, column + 1)}` : '',
        row > 0 ? `below ${tileName(piece, layout, row - 1, column)}` : '',
        row + 1 < rows.length ? `above ${tileName(piece, layout, row + 1, column)}` : '',
      ].filter((word) => word !== '');
      checkBars(sheet, MARGIN, BARS);
      sheet.text(tileName(piece, layout, row, column), page.width - MARGIN, BARS - 3.2, {
        size: 18,
        bold: true,
        align: 'right',
      });
      const words = [
        joins.length > 0 ? `joins ${joins.join(', ')}` : 'whole on this page',
        'print at 100 %, no scaling;',
        'measure a bar first',
      ];
      words.forEach((text, i) => {
        sheet.text(text, page.width - MARGIN - 16, BARS + 3 - 3.5 * i, { size: 8, align: 'right' });
      });
      furnish(sheet, context, `${sheetTitle}, ${piece.title}`, firstPage + pages.length, of, MARGIN);
      pages.push(sheet);
    });
  });
  return pages;
}

/** Where the words of each column of tiles may stand: clear of what it shares with its neighbours. */
const panesOf = (columns: readonly Span[]): Span[] =>
  columns.map(({ from, to }, i) => ({
    from: i === 0 ? from : from + OVERLAP,
    to: i + 1 === columns.length ? to : to - OVERLAP,
  }));

/** Box round a text as it stands, turned or not, mm. */
function boxOf(fonts: Fonts, item: TextItem): { x0: number; y0: number; x1: number; y1: number } {
  const flat = textBox(fonts, item);
  const [cos, sin] = [Math.cos(item.rotation), Math.sin(item.rotation)];
  const corners = [
    [flat.x0, flat.y0],
    [flat.x1, flat.y0],
    [flat.x1, flat.y1],
    [flat.x0, flat.y1],
  ].map(([x, y]) => {
    const [u, v] = [(x as number) - item.at.x, (y as number) - item.at.y];
    return { x: item.at.x + u * cos - v * sin, y: item.at.y + u * sin + v * cos };
  });
  const [xs, ys] = [corners.map((p) => p.x), corners.map((p) => p.y)];
  return { x0: Math.min(...xs), y0: Math.min(...ys), x1: Math.max(...xs), y1: Math.max(...ys) };
}

const standsIn = (box: ReturnType<typeof boxOf>, u: Span, v: Span): boolean =>
  box.x0 >= u.from - 1e-6 && box.x1 <= u.to + 1e-6 && box.y0 >= v.from - 1e-6 && box.y1 <= v.to + 1e-6;

/** The items with every text that stands whole on no tile moved to where it does, no farther than it must. */
function wholeWords(fonts: Fonts, items: readonly Item[], { columns, rows }: TileLayout): Item[] {
  return flattened(items).map((item) => {
    if (item.kind !== 'text') return item;
    const box = boxOf(fonts, item);
    const across = shift(box.x0, box.x1, columns);
    const up = shift(box.y0, box.y1, rows);
    return across === 0 && up === 0 ? item : { ...item, at: { x: item.at.x + across, y: item.at.y + up } };
  });
}

/** The least move that brings from..to wholly into one of the stretches; into the longest where it is longer than any. */
function shift(from: number, to: number, stretches: readonly Span[]): number {
  const moves = stretches
    .filter((each) => long(each) >= to - from)
    .map((each) => Math.max(0, each.from - from) + Math.min(0, each.to - to));
  return moves.reduce((best, move) => (Math.abs(move) < Math.abs(best) ? move : best), moves[0] ?? 0);
}

/** mm. A register cross and what it keeps clear of. */
const CROSS = { reach: 4, ring: 2, apart: 5 };

/** Crosses in the strips that neighbours share, on none of the words, in coordinates of the whole drawing. */
function registerCrosses(fonts: Fonts, piece: Piece, items: readonly Item[], { columns, rows }: TileLayout): Item[] {
  const sheet = new Sheet(0, 0);
  const words = items.flatMap((item) => (item.kind === 'text' ? [boxOf(fonts, item)] : []));
  const free = (x: number, y: number): boolean =>
    words.every(
      (box) =>
        x < box.x0 - CROSS.apart || x > box.x1 + CROSS.apart || y < box.y0 - CROSS.apart || y > box.y1 + CROSS.apart,
    );
  const cross = (x: number, y: number): void => {
    sheet.line(x - CROSS.reach, y, x + CROSS.reach, y, { width: 0.2 }, 'TEXT');
    sheet.line(x, y - CROSS.reach, x, y + CROSS.reach, { width: 0.2 }, 'TEXT');
    sheet.circle(x, y, CROSS.ring, { width: 0.2 }, undefined, 'TEXT');
  };
  /** The first and the last free place along a strip: two at the least, for one would leave the pages free to turn. */
  const ends = (along: Span, at: (t: number) => readonly [number, number]): (readonly [number, number])[] => {
    const places: (readonly [number, number])[] = [];
    for (let t = along.from + CROSS.apart; t <= along.to - CROSS.apart; t += 1) if (free(...at(t))) places.push(at(t));
    const [first, last] = [places[0], places.at(-1)];
    return first === undefined || last === undefined || first === last ? places : [first, last];
  };
  for (const { from } of columns.slice(1)) {
    const x = from + OVERLAP / 2;
    for (const v of rows) {
      const clear = piece.clear.filter((y) => y > v.from + CROSS.apart && y < v.to - CROSS.apart && free(x, y));
      for (const [u, y] of clear.length >= 2 ? clear.map((y) => [x, y] as const) : ends(v, (y) => [x, y])) cross(u, y);
    }
  }
  for (const { from } of rows.slice(1)) {
    for (const u of columns) for (const [x, y] of ends(u, (t) => [t, from + OVERLAP / 2])) cross(x, y);
  }
  return sheet.items;
}

/** The map of the tiles at a scale of k: each tile with its name, the drawing dashed. */
function tileMap(sheet: Sheet, piece: Piece, layout: TileLayout, x: number, y: number, k: number): void {
  layout.rows.forEach((v) => {
    layout.columns.forEach((u) => {
      sheet.rect(x + k * u.from, y + k * v.from, k * long(u), k * long(v), { width: 0.25 });
    });
  });
  const named = piece.outlines.map((each) => {
    const [x0, top] = [x + k * each.x, y + k * (each.y + each.height)];
    sheet.rect(x0, y + k * each.y, k * each.width, k * each.height, { width: 0.4, dash: [1.5, 1] });
    return { text: each.name, x0, x1: x0 + 2 + LETTER * each.name.length, y0: top - 6, y1: top };
  });
  const lines = piece.outlines.flatMap((each) => {
    const [x0, y0, x1, y1] = [
      x + k * each.x,
      y + k * each.y,
      x + k * (each.x + each.width),
      y + k * (each.y + each.height),
    ];
    return [
      { x0, y0, x1, y1: y0 },
      { x0, y0: y1, x1, y1 },
      { x0, y0, x1: x0, y1 },
      { x0: x1, y0, x1, y1 },
    ];
  });
  const off = (p: Point, box: { x0: number; y0: number; x1: number; y1: number }): number =>
    Math.hypot(Math.max(box.x0 - p.x, 0, p.x - box.x1), Math.max(box.y0 - p.y, 0, p.y - box.y1));
  layout.rows.forEach((v, row) => {
    layout.columns.forEach((u, column) => {
      // As near the middle of its tile as it stands on no dashed line and on no name; off what neighbours share.
      const own = {
        x0: x + k * (u.from + (column > 0 ? OVERLAP : 0)),
        x1: x + k * (u.to - (column + 1 < layout.columns.length ? OVERLAP : 0)),
        y0: y + k * (v.from + (row > 0 ? OVERLAP : 0)),
        y1: y + k * (v.to - (row + 1 < layout.rows.length ? OVERLAP : 0)),
      };
      const spots = SHARES.flatMap((fx) =>
        SHARES.map((fy) => ({ x: own.x0 + fx * (own.x1 - own.x0), y: own.y0 + fy * (own.y1 - own.y0) })),
      );
      const free = (p: Point): number =>
        Math.min(
          DISC + 0.6,
          p.x - own.x0,
          own.x1 - p.x,
          p.y - own.y0,
          own.y1 - p.y,
          ...[...lines, ...named].map((box) => off(p, box)),
        );
      const [first] = spots;
      const far = (p: Point): number => Math.hypot(p.x - (first?.x ?? 0), p.y - (first?.y ?? 0));
      const spot = spots.reduce((best, p) => {
        const more = free(p) - free(best);
        return more > 1e-6 || (Math.abs(more) <= 1e-6 && far(p) < far(best)) ? p : best;
      });
      const name = tileName(piece, layout, row, column);
      sheet.circle(spot.x, spot.y, DISC, undefined, 1);
      sheet.text(name, spot.x, spot.y - 1.4, { size: 11, bold: true, align: 'centre' });
    });
  });
  for (const { text, x0, y1 } of named) sheet.text(text, x0 + 2, y1 - 4.5, { size: 8 });
}

/** mm. Room round the name of a tile on the map, and what a letter of a name takes at the most. */
const DISC = 3.4;
const LETTER = 1.8;
/** Shares of a tile at which its name is tried, the middle first. */
const SHARES = [0.5, 0.44, 0.56, 0.38, 0.62, 0.32, 0.68, 0.26, 0.74, 0.2, 0.8, 0.14, 0.86];

/** mm. */
const MAP = { height: 60, between: 8 };

const mapScale = ({ width, height }: Piece, room: number): number => Math.min(room / width, MAP.height / height);

/** mm. What the maps of all pieces, beside one another over this width, are high. */
export const mapsHeight = (laid: readonly { readonly piece: Piece }[], width: number): number =>
  Math.max(...laid.map(({ piece }) => piece.height * mapScale(piece, width / laid.length - MAP.between))) + 2;

/** Maps of all pieces beside one another, from a lower left corner. */
export function tileMaps(
  laid: readonly { readonly piece: Piece; readonly layout: TileLayout }[],
  sheet: Sheet,
  x: number,
  y: number,
  width: number,
): void {
  const each = width / laid.length;
  laid.forEach(({ piece, layout }, i) => {
    tileMap(sheet, piece, layout, x + i * each, y + 1, mapScale(piece, each - MAP.between));
  });
}
