import { create } from 'zustand';
import type { HullSide } from '../../../geometry/hull/shell.ts';
import type { MapGrid } from '../../plan/movement/map.ts';
import { useView } from '../store/view.ts';
import type { PlanRequest } from '../worker/protocol.ts';
import type { Running } from '../worker/slow.ts';
import { startSlow } from '../worker/slow.ts';
import type { SlowKinds } from '../worker/slowkinds.ts';
import type { MapAsk, MapSkin, MapSpot, Over } from './kinds.ts';

/** What is painted on the map: how much of its limit what binds uses, or one figure of the spot. */
export type Paint = 'use' | 'gap' | 'bevel' | 'sideways';

/** Spots across and up, always one in the middle: where the lug stands. */
export const FINENESS = { coarse: [17, 13], middle: [33, 25], fine: [65, 49] } as const;
export type Fineness = keyof typeof FINENESS;

/** What a map was asked with, beside the job: another answer here means another map. */
export interface MapFor {
  readonly fitting: number;
  readonly over: Over;
  /** mm either way. */
  readonly along: number;
  readonly round: number;
  readonly fineness: Fineness;
}

/** A map as far as it is known. */
export interface MapShown {
  /** The very input it belongs to. */
  readonly request: PlanRequest;
  readonly asked: MapFor;
  readonly grid: MapGrid;
  readonly side: HullSide;
  /** Row by row; where the fine spot is not known yet, `nearestKnown` has the coarse one. */
  readonly spots: readonly (MapSpot | undefined)[];
  readonly stride: number;
  readonly skin: MapSkin | null;
}

export interface MapState {
  readonly open: boolean;
  readonly wanted: MapFor;
  readonly paint: Paint;
  readonly shown: MapShown | null;
  /** Share known of the map under way, 0..1. */
  readonly done: number;
  readonly running: boolean;
  readonly trouble: string | null;
  readonly cursor: { readonly column: number; readonly row: number } | null;
}

const START: MapFor = { fitting: 0, over: 'place', along: 600, round: 600, fineness: 'middle' };

export const useMap = create<MapState>()(() => ({
  open: false,
  wanted: START,
  paint: 'use',
  shown: null,
  done: 0,
  running: false,
  trouble: null,
  cursor: null,
}));

/** Opens the map, on a narrow screen with the sheet it stands on; or folds it away. */
export function toggleMap(): void {
  const open = !useMap.getState().open;
  useMap.setState({ open });
  if (open) useView.setState({ sheet: 'answers' });
}

/** Opens the map of ways to stand. */
export function showStances(): void {
  useMap.setState((s) => ({ open: true, wanted: { ...s.wanted, over: 'stance' }, cursor: null }));
  document.querySelector('.places')?.scrollIntoView({ block: 'start' });
}

let under:
  | { readonly work: Running<SlowKinds['map']['result']>; readonly request: PlanRequest; readonly asked: MapFor }
  | undefined;

const sameAsked = (a: MapFor, b: MapFor): boolean =>
  a.fitting === b.fitting &&
  a.over === b.over &&
  a.fineness === b.fineness &&
  (a.over === 'stance' || (a.along === b.along && a.round === b.round));

const sameJob = (a: PlanRequest, b: PlanRequest): boolean => a.text === b.text && a.files === b.files;

/** Whether what is shown is an answer to this job as it stands. */
export const belongs = (shown: MapShown, request: PlanRequest): boolean => sameJob(shown.request, request);

/**
 * Sees to it that a map of this job is on its way or there. The map before stays on the screen until the first spots of the new one
 * are known; the axes stay too while the lug looked at is within them.
 */
export function seekMap(
  request: PlanRequest,
  asked: MapFor,
  lug: { readonly station: number; readonly girth: number },
): void {
  const { shown, done } = useMap.getState();
  if (under !== undefined && sameJob(under.request, request) && sameAsked(under.asked, asked)) return;
  if (
    under === undefined &&
    done === 1 &&
    shown !== null &&
    sameJob(shown.request, request) &&
    sameAsked(shown.asked, asked)
  )
    return;
  under?.work.cancel();
  const keep = shown !== null && sameAsked(shown.asked, asked) && holds(shown, lug) ? shown.grid : undefined;
  const [columns, rows] = FINENESS[asked.fineness];
  const ask: MapAsk = {
    request: { ...request, drawn: asked.fitting },
    fitting: asked.fitting,
    over: asked.over,
    reach: { station: asked.along, girth: asked.round },
    columns,
    rows,
    keep,
  };
  useMap.setState({ running: true, done: 0, trouble: null });
  let base: Pick<MapShown, 'grid' | 'side'> | undefined;
  let next: MapShown | undefined;
  const work = startSlow('map', ask, (step) => {
    if (under?.work !== work) return;
    if (step.kind === 'grid') {
      base = { grid: step.grid, side: step.side };
      return;
    }
    if (base === undefined) return;
    const empty: MapShown = {
      request,
      asked,
      ...base,
      spots: new Array<MapSpot | undefined>(base.grid.columns.length * base.grid.rows.length).fill(undefined),
      stride: 1,
      skin: keep !== undefined ? (useMap.getState().shown?.skin ?? null) : null,
    };
    const now: MapShown = next ?? empty;
    if (step.kind === 'skin') {
      next = { ...now, skin: step.skin };
      useMap.setState({ shown: next });
      return;
    }
    const spots = now.spots.slice();
    for (const spot of step.spots) spots[spot.row * base.grid.columns.length + spot.column] = spot;
    next = { ...now, spots, stride: step.stride };
    useMap.setState((s) => ({
      shown: next as MapShown,
      done: step.done,
      cursor: heldCursor(s.cursor, next as MapShown, s.shown),
    }));
  });
  under = { work, request, asked };
  void work.result.then((outcome) => {
    if (under?.work !== work) return;
    under = undefined;
    if (outcome.kind === 'done' && outcome.value.kind === 'mapped') {
      useMap.setState({ running: false, done: 1 });
      return;
    }
    const trouble =
      outcome.kind === 'broken'
        ? outcome.message
        : outcome.kind === 'done' && outcome.value.kind === 'refused'
          ? outcome.value.reason
          : null;
    useMap.setState({ running: false, trouble });
  });
}

/** Stops the map under way; what is known of it stays. */
export function stopMap(): void {
  under?.work.cancel();
  under = undefined;
  useMap.setState({ running: false });
}

/** Whether a lug is well within the axes of a map of places; a map of stances holds every lug. */
function holds({ grid, asked }: MapShown, lug: { readonly station: number; readonly girth: number }): boolean {
  if (asked.over === 'stance') return true;
  const within = (x: number, list: readonly number[]): boolean =>
    x >= (list[0] as number) && x <= (list.at(-1) as number);
  return within(lug.station, grid.columns) && within(lug.girth, grid.rows);
}

function heldCursor(cursor: MapState['cursor'], next: MapShown, before: MapShown | null): MapState['cursor'] {
  return cursor !== null && before !== null && before.grid === next.grid
    ? cursor
    : before?.request === next.request
      ? cursor
      : cursorIn(cursor, next);
}

const cursorIn = (cursor: MapState['cursor'], { grid }: MapShown): MapState['cursor'] =>
  cursor !== null && cursor.column < grid.columns.length && cursor.row < grid.rows.length ? cursor : null;

/** The spot at a column and row, or the nearest coarser one that is known already. */
export function nearestKnown(
  { grid, spots }: Pick<MapShown, 'grid' | 'spots'>,
  column: number,
  row: number,
): MapSpot | undefined {
  const [w, h] = [grid.columns.length, grid.rows.length];
  for (let stride = 1; stride <= 8; stride *= 2) {
    const near = (x: number, n: number): number =>
      Math.min(Math.round(x / stride) * stride, Math.floor((n - 1) / stride) * stride);
    const spot = spots[near(row, h) * w + near(column, w)];
    if (spot !== undefined) return spot;
  }
  return undefined;
}

/** The spot that stands within all limits with the most to spare, of those that are known. */
export function mostToSpare({ spots }: Pick<MapShown, 'spots'>): MapSpot | undefined {
  let best: MapSpot | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const spot of spots) {
    if (spot?.verdict.kind !== 'stands' || !spot.verdict.passes) continue;
    const ratio = spot.verdict.limits[0]?.ratio ?? 0;
    if (ratio < least) [best, least] = [spot, ratio];
  }
  return best;
}
