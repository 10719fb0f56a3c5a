import type { Job } from '../../job/types.ts';
import { ramp } from '../scene/palette.ts';
import type { Theme } from '../store/view.ts';
import type { MapSpot } from './kinds.ts';
import { PAINTS } from './saying.ts';
import { type MapShown, nearestKnown, type Paint } from './store.ts';

/** How a cell of the map is painted: what stands by the scale, what does not pass hatched, what cannot stand crossed. */
export type Cell =
  | { readonly kind: 'unknown' }
  | { readonly kind: 'cannot' }
  | { readonly kind: 'fails'; readonly share: number }
  | { readonly kind: 'passes'; readonly share: number };

export function cellOf(spot: MapSpot | undefined, paint: Paint, [least, most]: readonly [number, number]): Cell {
  if (spot === undefined) return { kind: 'unknown' };
  if (spot.verdict.kind === 'cannot') return { kind: 'cannot' };
  const share = Math.min(1, Math.max(0, (PAINTS[paint].of(spot.verdict) - least) / (most - least)));
  return { kind: spot.verdict.passes ? 'passes' : 'fails', share };
}

/** Both ends of the scale that a map is painted by, internal units. */
export function endsOf(
  { spots }: Pick<MapShown, 'spots'>,
  paint: Paint,
  limits: Job['limits'],
): readonly [number, number] {
  const { least, most } = PAINTS[paint];
  return [least(spots), most(spots, limits)];
}

/** Cells of a map row by row, each by the nearest spot that is known. */
export function cellsOf(shown: MapShown, paint: Paint, limits: Job['limits']): Cell[] {
  const { columns, rows } = shown.grid;
  const ends = endsOf(shown, paint, limits);
  return rows.flatMap((_, row) => columns.map((_, column) => cellOf(nearestKnown(shown, column, row), paint, ends)));
}

interface Inks {
  readonly fails: string;
  readonly hatch: string;
  readonly cannot: string;
  readonly cross: string;
  readonly edge: string;
  readonly halo: string;
}

/** As in the style sheet, where the legend has them too. */
export const INKS: Readonly<Record<Theme, Inks>> = {
  dark: { fails: '#5c2a2a', hatch: '#ffb3a6', cannot: '#16262c', cross: '#7d949c', edge: '#ffffff', halo: '#04141a' },
  light: { fails: '#efc7bf', hatch: '#8c1f10', cannot: '#dfe6e7', cross: '#60757d', edge: '#0b1f26', halo: '#ffffff' },
};

/** Pixels of a cell. */
const CELL = 16;

let last:
  | { readonly shown: MapShown; readonly paint: Paint; readonly theme: Theme; readonly canvas: HTMLCanvasElement }
  | undefined;

/** The map as a picture, `CELL` pixels a spot, higher rows above; the same for the chart and for the shell in the water. */
export function painted(shown: MapShown, paint: Paint, theme: Theme, limits: Job['limits']): HTMLCanvasElement {
  if (last !== undefined && last.shown === shown && last.paint === paint && last.theme === theme) return last.canvas;
  const canvas = document.createElement('canvas');
  const [w, h] = [shown.grid.columns.length, shown.grid.rows.length];
  canvas.width = w * CELL;
  canvas.height = h * CELL;
  const context = canvas.getContext('2d');
  if (context !== null) draw(context, cellsOf(shown, paint, limits), w, h, paint, INKS[theme]);
  last = { shown, paint, theme, canvas };
  return canvas;
}

function draw(
  c: CanvasRenderingContext2D,
  cells: readonly Cell[],
  w: number,
  h: number,
  paint: Paint,
  inks: Inks,
): void {
  const corner = (i: number): [number, number] => [(i % w) * CELL, (h - 1 - Math.floor(i / w)) * CELL];
  cells.forEach((cell, i) => {
    const [x, y] = corner(i);
    if (cell.kind === 'unknown') return;
    if (cell.kind === 'cannot') c.fillStyle = inks.cannot;
    else if (cell.kind === 'fails' && paint === 'use') c.fillStyle = inks.fails;
    else c.fillStyle = css(ramp(cell.share));
    c.fillRect(x, y, CELL, CELL);
    if (cell.kind === 'passes') return;
    c.lineWidth = 1.5;
    c.strokeStyle = cell.kind === 'cannot' ? inks.cross : paint === 'use' ? inks.hatch : '#0b1f26';
    c.beginPath();
    // Both strokes run on from cell to cell.
    c.moveTo(x, y + CELL);
    c.lineTo(x + CELL, y);
    if (cell.kind === 'cannot') {
      c.moveTo(x, y);
      c.lineTo(x + CELL, y + CELL);
    }
    c.stroke();
  });
  // The border of what stands within all limits: seen without colour.
  const passes = (column: number, row: number): boolean => cells[row * w + column]?.kind === 'passes';
  const known = (column: number, row: number): boolean => (cells[row * w + column]?.kind ?? 'unknown') !== 'unknown';
  c.beginPath();
  for (let row = 0; row < h; row++)
    for (let column = 0; column < w; column++) {
      const [x, y] = corner(row * w + column);
      if (
        column + 1 < w &&
        known(column + 1, row) &&
        known(column, row) &&
        passes(column, row) !== passes(column + 1, row)
      ) {
        c.moveTo(x + CELL, y);
        c.lineTo(x + CELL, y + CELL);
      }
      if (
        row + 1 < h &&
        known(column, row + 1) &&
        known(column, row) &&
        passes(column, row) !== passes(column, row + 1)
      ) {
        c.moveTo(x, y);
        c.lineTo(x + CELL, y);
      }
    }
  c.lineCap = 'square';
  c.strokeStyle = inks.halo;
  c.lineWidth = 5;
  c.stroke();
  c.strokeStyle = inks.edge;
  c.lineWidth = 2;
  c.stroke();
}

const css = ([r, g, b]: readonly [number, number, number]): string =>
  `rgb(${Math.round(r * 255)} ${Math.round(g * 255)} ${Math.round(b * 255)})`;
