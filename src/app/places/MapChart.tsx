import { type KeyboardEvent, type MouseEvent, type PointerEvent, useEffect, useId, useRef } from 'react';
import { showFigure } from '../../job/show.ts';
import type { Display, Job } from '../../job/types.ts';
import { useView } from '../store/view.ts';
import type { MapSpot } from './kinds.ts';
import { painted } from './paint.ts';
import { placeText, verdictText } from './saying.ts';
import { type MapShown, mostToSpare, nearestKnown, type Paint, useMap } from './store.ts';

interface Props {
  readonly shown: MapShown;
  readonly paint: Paint;
  readonly limits: Job['limits'];
  readonly display: Display;
  /** Where the lug stands, in the map's own axes. */
  readonly lug: { readonly x: number; readonly y: number };
  readonly stale: boolean;
  readonly onPut: (spot: MapSpot) => void;
}

/** The map as a chart: pointed at, walked with the arrow keys; a click or Enter puts the lug there. */
export function MapChart({ shown, paint, limits, display, lug, stale, onPut }: Props) {
  const theme = useView((s) => s.theme);
  const cursor = useMap((s) => s.cursor);
  const canvas = useRef<HTMLCanvasElement>(null);
  const touched = useRef(false);
  const how = useId();
  const { grid, asked } = shown;
  const [w, h] = [grid.columns.length, grid.rows.length];

  useEffect(() => {
    const to = canvas.current;
    if (to === null) return;
    const from = painted(shown, paint, theme, limits);
    to.width = from.width;
    to.height = from.height;
    to.getContext('2d')?.drawImage(from, 0, 0);
  }, [shown, paint, theme, limits]);

  const at = cursor ?? cellAt(shown, lug);
  const spot = nearestKnown(shown, at.column, at.row);
  const move = (column: number, row: number): void =>
    useMap.setState({
      cursor: { column: Math.min(w - 1, Math.max(0, column)), row: Math.min(h - 1, Math.max(0, row)) },
    });
  const under = (e: PointerEvent | MouseEvent) => {
    const box = e.currentTarget.getBoundingClientRect();
    return {
      column: Math.min(w - 1, Math.max(0, Math.floor(((e.clientX - box.left) / box.width) * w))),
      row: Math.min(h - 1, Math.max(0, Math.floor((1 - (e.clientY - box.top) / box.height) * h))),
    };
  };
  const onKey = (e: KeyboardEvent): void => {
    const far = e.shiftKey ? 4 : 1;
    const by: Readonly<Record<string, readonly [number, number]>> = {
      ArrowLeft: [-far, 0],
      ArrowRight: [far, 0],
      ArrowUp: [0, far],
      ArrowDown: [0, -far],
      Home: [-w, 0],
      End: [w, 0],
      PageUp: [0, 4],
      PageDown: [0, -4],
    };
    const go = by[e.key];
    if (go === undefined) return;
    e.preventDefault();
    move(at.column + go[0], at.row + go[1]);
  };
  const onClick = (e: MouseEvent): void => {
    if (e.detail === 0) {
      if (spot !== undefined) onPut(spot);
      return;
    }
    const to = under(e);
    const same = cursor !== null && cursor.column === to.column && cursor.row === to.row;
    move(to.column, to.row);
    // A finger covers what it points at: it looks first, and puts the lug there when it comes again.
    if (touched.current && !same) return;
    const there = nearestKnown(shown, to.column, to.row);
    if (there !== undefined) onPut(there);
  };
  const spare = mostToSpare(shown);
  const place = lugIn(shown, lug);
  const over = asked.over;
  const length = (mm: number): string => showFigure({ mm }, display);
  const angle = (rad: number): string => showFigure({ rad, digits: 0 }, display);
  const label = over === 'place' ? length : angle;
  const ends = (list: readonly number[]): readonly [number, number, number] => [
    list[0] as number,
    ((list[0] as number) + (list.at(-1) as number)) / 2,
    list.at(-1) as number,
  ];
  const [x0, , x2] = ends(grid.columns);
  const [y0, y1, y2] = ends(grid.rows);
  return (
    <div className="mapchart" data-stale={stale}>
      <div className="axis up" aria-hidden="true">
        <span>{label(y2)}</span>
        <span>{label(y1)}</span>
        <span>{label(y0)}</span>
      </div>
      <button
        type="button"
        className="chart"
        style={{ aspectRatio: String(ratioOf(shown)) }}
        aria-label={
          spot === undefined
            ? 'Map: this spot is not known yet'
            : `Map: ${placeText(spot, over, display)}: ${verdictText(spot.verdict, limits, display)}`
        }
        aria-describedby={how}
        onKeyDown={onKey}
        onPointerDown={(e) => {
          touched.current = e.pointerType === 'touch';
        }}
        onPointerMove={(e) => {
          if (e.pointerType === 'touch') return;
          const to = under(e);
          if (cursor?.column !== to.column || cursor.row !== to.row) move(to.column, to.row);
        }}
        onClick={onClick}
      >
        <canvas ref={canvas} />
        <svg viewBox={`0 0 ${w} ${h}`} preserveAspectRatio="none" aria-hidden="true">
          {spare !== undefined && (
            <circle className="spare" cx={spare.column + 0.5} cy={h - spare.row - 0.5} r={0.42} />
          )}
          <g className="lug">
            <path
              d={`M${place.x - 1} ${h - place.y}H${place.x + 1}M${place.x} ${h - place.y - 1}V${h - place.y + 1}`}
            />
            <path
              d={`M${place.x - 1} ${h - place.y}H${place.x + 1}M${place.x} ${h - place.y - 1}V${h - place.y + 1}`}
            />
          </g>
          {cursor !== null && (
            <g className="cursor">
              <rect x={cursor.column} y={h - 1 - cursor.row} width={1} height={1} />
              <rect x={cursor.column} y={h - 1 - cursor.row} width={1} height={1} />
            </g>
          )}
        </svg>
      </button>
      <div className="axis along" aria-hidden="true">
        <span>{label(x0)}</span>
        <span>{over === 'place' ? 'station, aft to fore' : 'heading'}</span>
        <span>{label(x2)}</span>
      </div>
      <p className="unseen" id={how}>
        Arrow keys move the spot, with Shift four at a time; Enter{' '}
        {over === 'place' ? 'puts the lug there' : 'stands the lug so'}.
      </p>
    </div>
  );
}

/** Width over height as it is drawn: true to the shell as far as that can be looked at. */
function ratioOf({ grid, asked }: MapShown): number {
  if (asked.over === 'stance') return 1.35;
  const span = (list: readonly number[]): number => (list.at(-1) as number) - (list[0] as number);
  return Math.min(2.4, Math.max(0.85, span(grid.columns) / Math.max(1, span(grid.rows))));
}

const shareOf = (x: number, list: readonly number[]): number => {
  const [from, to] = [list[0] as number, list.at(-1) as number];
  return to > from ? (x - from) / (to - from) : 0;
};

/** Where the lug stands, in cells from the lower left corner of the map. */
function lugIn({ grid }: MapShown, lug: Props['lug']): { readonly x: number; readonly y: number } {
  return {
    x: shareOf(lug.x, grid.columns) * (grid.columns.length - 1) + 0.5,
    y: shareOf(lug.y, grid.rows) * (grid.rows.length - 1) + 0.5,
  };
}

export function cellAt(shown: MapShown, lug: Props['lug']): { readonly column: number; readonly row: number } {
  const { x, y } = lugIn(shown, lug);
  const { columns, rows } = shown.grid;
  return {
    column: Math.min(columns.length - 1, Math.max(0, Math.floor(x))),
    row: Math.min(rows.length - 1, Math.max(0, Math.floor(y))),
  };
}
