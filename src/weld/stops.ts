import type { Metal } from './metal.ts';
import type { MetalAlong } from './metalalong.ts';
import type { Cost } from './stopcost.ts';

export interface DivideRules {
  /** mm, no piece is longer. */
  readonly longest: number;
  /** mm3, no piece takes more. */
  readonly most: number;
  /** mm of bead, what is feathered out left out; no piece has less where that leaves a choice. */
  readonly least: number;
  /** mm by which a stop should be free to move; one more piece is made where there is less. */
  readonly room: number;
  /** mm between the places tried. */
  readonly step: number;
}

/** Shares of an even piece below which no piece goes: the next is tried where one leaves no choice. */
const SHORTEST = [0.45, 0.2, 0] as const;

/** What an uneven division costs, of the cost of a stop on top of another: it decides only between equals. */
const EVENNESS = 1e-4;

/** Round-off of a division into whole pieces. */
const WHOLE = 1e-9;

/**
 * Where a stretch is divided so that no piece is longer than `longest` or takes more metal than `most`: of all divisions into that
 * many pieces, on a scale of `step`, the one whose stops cost least together (dynamic programming over the stops in turn). Even
 * division where the pieces leave no choice. mm.
 *
 * @param from < to. @param cost of a stop at s, 0 to 1. Stops come rising, without the two ends.
 */
export function stopsBetween(
  from: number,
  to: number,
  cost: Cost,
  metal: Metal,
  along: MetalAlong,
  rules: DivideRules,
  room: DivideRoom,
): number[] {
  const length = to - from;
  const fewest = pieceCount(from, to, metal, rules);
  if (fewest === 1) return [];
  const count = Math.floor(length / rules.step);
  // The last division tried is into one piece more than the fewest.
  room.makeFor(count + 1, fewest);
  for (let k = 0; k <= count; k++) room.cost[k] = cost(from + k * rules.step);
  along(from, rules.step, count, room.volume, room.bead);
  const scale: Scale = { from, to, count, room, volumeTo: metal.volume(to), beadTo: metal.length(to) };
  for (const share of SHORTEST) {
    const least = share > 0 ? rules.least : 0;
    for (const pieces of [fewest, fewest + 1]) {
      const stops = best(scale, pieces, (share * length) / pieces, least, rules);
      if (stops !== undefined) return stops;
    }
  }
  return Array.from({ length: fewest - 1 }, (_, k) => from + (length * (k + 1)) / fewest);
}

/** A stretch on a scale of steps. */
interface Scale {
  readonly from: number;
  readonly to: number;
  /** Of steps. */
  readonly count: number;
  readonly room: DivideRoom;
  readonly volumeTo: number;
  readonly beadTo: number;
}

/** Memory that one division after another is worked out in, each filling it anew: a plan makes near a hundred. */
export class DivideRoom {
  /** At each step the cost of a stop, and metal and bead up to there. */
  cost = new Float64Array(0);
  volume = new Float64Array(0);
  bead = new Float64Array(0);
  /** Least cost of the stops so far with the last of them at a step, for the stop before and for this one. */
  before = new Float64Array(0);
  now = new Float64Array(0);
  /** Steps that the piece before a stop may begin at. */
  line = new Int32Array(0);
  /** For each stop a row of steps: where the stop before it stands. */
  came = new Int32Array(0);

  /** Makes room for so many places on the scale and so many stops. */
  makeFor(places: number, stops: number): void {
    if (this.cost.length < places) {
      this.cost = new Float64Array(places);
      this.volume = new Float64Array(places);
      this.bead = new Float64Array(places);
      this.before = new Float64Array(places);
      this.now = new Float64Array(places);
      this.line = new Int32Array(places);
    }
    if (this.came.length < stops * places) this.came = new Int32Array(stops * places);
  }
}

function best(
  scale: Scale,
  pieces: number,
  shortest: number,
  least: number,
  { step, longest, most }: DivideRules,
): number[] | undefined {
  const { from, to, count, volumeTo, beadTo } = scale;
  const { cost, volume, bead, line, came } = scale.room;
  const length = to - from;
  const far = Math.floor(longest / step + WHOLE);
  const close = Math.max(1, Math.ceil(shortest / step - WHOLE));
  const mostHere = most * (1 + WHOLE);
  const leastHere = least * (1 - WHOLE);
  let { before, now } = scale.room;
  before[0] = 0;
  // Stops of one number lie within low..high: others leave too much or too little on one side.
  let low = 0;
  let high = 0;
  for (let stop = 1; stop < pieces; stop++) {
    const first = Math.max(low + close, count - (pieces - stop) * far);
    const last = Math.min(high + far, count - (pieces - stop) * close + 1, count);
    const row = (stop - 1) * (count + 1);
    const even = (length * stop) / pieces;
    // Least of `before` over the places a piece may begin at, as k rises: those that may still be the least, dearer ones dropped.
    let head = 0;
    let tail = 0;
    let enters = low;
    for (let k = first; k <= last; k++) {
      while (enters <= high && enters <= k - close && (bead[k] as number) - (bead[enters] as number) >= leastHere) {
        while (tail > head && (before[line[tail - 1] as number] as number) > (before[enters] as number)) tail--;
        line[tail++] = enters++;
      }
      while (
        head < tail &&
        ((line[head] as number) < k - far ||
          (volume[k] as number) - (volume[line[head] as number] as number) > mostHere)
      )
        head++;
      now[k] = Number.POSITIVE_INFINITY;
      if (head === tail) continue;
      const place = line[head] as number;
      const uneven = (k * step - even) / length;
      came[row + k] = place;
      now[k] = (before[place] as number) + (cost[k] as number) + EVENNESS * uneven * uneven;
    }
    if (last < first) return undefined;
    [before, now] = [now, before];
    [low, high] = [first, last];
  }
  let end = -1;
  let cheapest = Number.POSITIVE_INFINITY;
  for (let k = low; k <= high; k++) {
    const rest = length - k * step;
    if (rest < shortest || rest > longest * (1 + WHOLE) || !((before[k] as number) < cheapest)) continue;
    if (volumeTo - (volume[k] as number) > mostHere || beadTo - (bead[k] as number) < leastHere) continue;
    end = k;
    cheapest = before[k] as number;
  }
  if (end < 0) return undefined;
  const stops = new Array<number>(pieces - 1);
  for (let stop = pieces - 1; stop > 0; stop--) {
    stops[stop - 1] = from + end * step;
    end = came[(stop - 1) * (count + 1) + end] as number;
  }
  return stops;
}

/** Fewest pieces, each as long as it may be, or one more where they leave too little room. */
function pieceCount(from: number, to: number, metal: Metal, { longest, most, room }: DivideRules): number {
  const round = WHOLE * (to - from);
  let pieces = 0;
  let at = from;
  while (at < to - round) {
    at = metal.reach(at, most, longest);
    pieces++;
  }
  return pieces > 1 && at - to < room ? pieces + 1 : Math.max(1, pieces);
}
