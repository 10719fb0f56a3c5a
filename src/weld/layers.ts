import { type Downhill, MOST_DOWNHILL } from './fall.ts';
import { type BeadStretch, type Metal, metalOf } from './metal.ts';
import { type MetalAlong, metalAlong } from './metalalong.ts';
import { leastApart, sorted, wrap } from './ring.ts';
import { type Cost, costsRound } from './stopcost.ts';
import { DivideRoom, type DivideRules, stopsBetween } from './stops.ts';

/** One run of the root as the sequence gives it: from..to in the direction of welding, mm along the root line. */
export interface RootRun {
  readonly fromS: number;
  readonly toS: number;
}

/** One run of a pass. An end lies outside 0..perimeter where the run passes s = 0. */
export interface PassRun {
  /** Order within the pass, from 1. */
  readonly run: number;
  readonly fromS: number;
  readonly toS: number;
}

/** What a pass lays and what its stops must keep off. Passes are named by their index, from 0. */
export interface PassBead {
  /** Stretches of the joint that have this bead, mm along s, rising, from < to; null where it goes all round. */
  readonly on: readonly Stretch[] | null;
  /** The bead side by side, rising over 0..perimeter. */
  readonly metal: readonly BeadStretch[];
  /** Earlier passes whose beads lie beside or directly under this one. */
  readonly touching: readonly number[];
  /** Earlier passes of the second layer under this one whose beads lie at least partly under it. */
  readonly beneath: readonly number[];
  /** Earlier passes of the same layer and the two under it, those that touch included. */
  readonly near: readonly number[];
}

export interface Stretch {
  readonly from: number;
  readonly to: number;
}

export interface Pass {
  /** From 1: the root as given; later passes lie over it. */
  readonly pass: number;
  /** As laid: a bead that some sides lack is carried round their corners and feathered out. */
  readonly runs: readonly PassRun[];
  /** mm, least distance round the joint between its stops and those of earlier beads that touch it; Infinity where there are none. */
  readonly stagger: number;
  /** mm, the same from the stops of beads that lie under it two layers down; Infinity where there are none. */
  readonly overlap: number;
  /** mm, the same from the stops of all earlier beads of its layer and the two under it. */
  readonly apart: number;
  /** mm, least distance of its stops from a corner. */
  readonly cornerDistance: number;
}

export interface PassRules {
  /** mm wanted between a stop and the stops of beads that touch. */
  readonly stagger: number;
  /** mm wanted between a stop and a corner. */
  readonly cornerClear: number;
  /** mm, longest stretch laid without a stop. */
  readonly longest: number;
  /** mm3, metal of one electrode; Infinity where runs are not to be kept to it. */
  readonly electrode: number;
  /** How the joint lies: no end of a run above the root goes downhill for more than `MOST_DOWNHILL` where that leaves a choice. */
  readonly downhill: Downhill;
}

/** mm of bead below which no run goes where the joint leaves a choice. Common practice, no source: less is all start and stop. */
export const LEAST_RUN = 25;

/**
 * Shares of the stagger that are wanted from the stops of beads two layers down, and of other beads in the same three layers,
 * which do not lie one over another. Common practice, no source.
 */
export const STAGGER_SHARE = { beneath: 0.5, near: 0.15 } as const;

/** Share of the shorter way up to a turning point by which it may be moved, and the most, mm. A choice: it makes room. */
const TURN_SHARE = 0.35;
const TURN_MOST = 120;

/** Steps in which a stop is moved, per stagger. */
const STEPS_PER_STAGGER = 10;

/** Round-off of a sum of lengths, as a share of the perimeter. */
const CLOSES = 1e-9;

/**
 * Runs of every pass round the joint, as they are laid. The first pass is the root as given. Each later pass climbs as the
 * root does, both ways from low to high, and closes near where the root closes; its stops are placed anew, away from the
 * corners, from the stops of the beads that touch it or lie under it two layers down, and a little from those of every bead of its
 * layer and the two under it. No run of a later pass is longer than `longest` or takes more than one electrode, and none has less
 * than `LEAST_RUN` of bead where that leaves a choice; where one electrode does not lay two such runs, it is as few whole ones as do.
 * A bead that only some sides have is carried round the corner and feathered out.
 *
 * Rules are common practice, no source: stops staggered, none at a corner. Where there is no room for all, a stop goes where it
 * comes nearest to all; `stagger`, `overlap`, `apart` and `cornerDistance` are measured on the runs as laid.
 *
 * @param rootRuns in the order of welding; they cover the perimeter once.
 * @param perimeter mm, > 0. @param corners mm along the root line. @param beads one for each pass, the root's first.
 * @throws RangeError where the root's runs do not cover the perimeter once.
 */
export function layPasses(
  rootRuns: readonly RootRun[],
  perimeter: number,
  corners: readonly number[],
  beads: readonly PassBead[],
  rules: PassRules,
): readonly Pass[] {
  if (!(perimeter > 0)) throw new RangeError(`the perimeter must be a length, got ${perimeter}`);
  if (!(rules.longest > 0)) throw new RangeError(`the longest run must be a length, got ${rules.longest}`);
  if (!(rules.electrode > 0)) throw new RangeError(`an electrode must lay some metal, got ${rules.electrode}`);
  const corner = sorted(corners, perimeter);
  const ways = waysOf(rootRuns, perimeter, rules.downhill);
  const costOf = costsRound(perimeter);
  const room = new DivideRoom();
  room.makeFor(Math.ceil(perimeter / stepOf(rules)), USUAL_STOPS);
  const stops: (readonly number[])[] = [];
  return beads.map((bead, index) => {
    const off = (passes: readonly number[], wanted: number) =>
      passes.map((k) => ({ from: stops[k] ?? NO_STOPS, wanted }));
    // What touches or lies beneath is near too, but more is wanted of it.
    const onlyNear = bead.near.filter((k) => !bead.touching.includes(k) && !bead.beneath.includes(k));
    const cost = costOf([
      { from: corner, wanted: rules.cornerClear },
      ...off(bead.touching, rules.stagger),
      ...off(bead.beneath, STAGGER_SHARE.beneath * rules.stagger),
      ...off(onlyNear, STAGGER_SHARE.near * rules.stagger),
    ]);
    const joint: Joint = {
      ways,
      cost,
      perimeter,
      metal: metalOf(bead.metal, perimeter),
      along: metalAlong(bead.metal, perimeter),
      divide: divideRules(bead, rules),
      room,
    };
    const runs = index === 0 ? rootRuns : bead.on === null ? layRound(joint, rules) : layOn(bead.on, joint, rules);
    const ends: number[] = [];
    for (const { fromS, toS } of runs) ends.push(fromS, toS);
    const own = sorted(ends, perimeter);
    stops.push(own);
    const least = (passes: readonly number[]) => {
      let nearest = Number.POSITIVE_INFINITY;
      for (const k of passes) nearest = Math.min(nearest, leastApart(own, stops[k] ?? NO_STOPS, perimeter));
      return nearest;
    };
    const stagger = least(bead.touching);
    const overlap = least(bead.beneath);
    return {
      pass: index + 1,
      runs: runs.map(({ fromS, toS }, k) => ({ run: k + 1, fromS, toS })),
      stagger,
      overlap,
      apart: Math.min(stagger, overlap, least(onlyNear)),
      cornerDistance: leastApart(own, corner, perimeter),
    };
  });
}

/** Stops of a stretch that there is room for from the first. */
const USUAL_STOPS = 8;

const NO_STOPS: readonly number[] = [];

/** What a pass is laid by. */
interface Joint {
  readonly ways: readonly Way[];
  readonly cost: Cost;
  readonly perimeter: number;
  readonly metal: Metal;
  readonly along: MetalAlong;
  readonly divide: DivideRules;
  readonly room: DivideRoom;
}

function divideRules({ metal }: PassBead, rules: PassRules): DivideRules {
  const widest = Math.max(...metal.map(({ area }) => area));
  const electrodes = Math.max(1, Math.ceil((2 * LEAST_RUN * widest) / rules.electrode));
  return {
    longest: rules.longest,
    most: electrodes * rules.electrode,
    least: LEAST_RUN,
    room: 2 * rules.stagger,
    step: stepOf(rules),
  };
}

/** A stretch of the root that is welded one way: from a turning point to the next, s rising. */
interface Way {
  readonly from: number;
  readonly length: number;
  /** +1: in the direction of s. */
  readonly sense: 1 | -1;
  /** mm by which the turning point it begins at may be moved, against s and along it, before a run goes downhill for too long. */
  readonly back: number;
  readonly on: number;
  /** Root runs along it, s rising, with their place in the order of welding. */
  readonly runs: readonly { readonly to: number; readonly order: number }[];
}

function waysOf(runs: readonly RootRun[], perimeter: number, downhill: Downhill): readonly Way[] {
  const spans = runs.map(({ fromS, toS }, order) => ({
    order,
    from: wrap(Math.min(fromS, toS), perimeter),
    length: Math.abs(toS - fromS),
    sense: (toS >= fromS ? 1 : -1) as 1 | -1,
  }));
  spans.sort((a, b) => a.from - b.from);
  const total = spans.reduce((sum, span) => sum + span.length, 0);
  spans.forEach((span, k) => {
    const last = spans[(k + spans.length - 1) % spans.length] ?? span;
    const gap = Math.abs(last.from + last.length - span.from);
    const off = Math.abs(gap - perimeter * Math.round(gap / perimeter));
    if (off > CLOSES * perimeter)
      throw new RangeError(`the root's runs leave or overlap ${off} mm before s = ${span.from}`);
  });
  if (Math.abs(total - perimeter) > CLOSES * perimeter)
    throw new RangeError(`the root's runs measure ${total} mm on a perimeter of ${perimeter} mm`);
  // Begin at a turning point; where all go one way round, at the run that is welded first.
  const turn = spans.findIndex((span, k) => span.sense !== spans[(k + spans.length - 1) % spans.length]?.sense);
  const at = turn >= 0 ? turn : spans.findIndex((span) => span.order === (span.sense > 0 ? 0 : spans.length - 1));
  const ways: { from: number; length: number; sense: 1 | -1; runs: { to: number; order: number }[] }[] = [];
  let s = spans[at]?.from ?? 0;
  for (let k = 0; k < spans.length; k++) {
    const span = spans[(at + k) % spans.length] as (typeof spans)[number];
    let way = ways.at(-1);
    if (way === undefined || way.sense !== span.sense) {
      way = { from: s, length: 0, sense: span.sense, runs: [] };
      ways.push(way);
    }
    s += span.length;
    way.length += span.length;
    way.runs.push({ to: s, order: span.order });
  }
  return ways.map((way, k) => {
    const before = ways[(k + ways.length - 1) % ways.length] as (typeof ways)[number];
    const { from } = way;
    // What the turning point leaves behind is welded the other way.
    return {
      ...way,
      back: farthest(TURN_MOST, (far) => downhillOf(downhill, from - far, from, way.sense)),
      on: farthest(TURN_MOST, (far) => downhillOf(downhill, from, from + far, before.sense)),
    };
  });
}

/** mm downhill where low..high is welded in that sense. */
const downhillOf = (downhill: Downhill, low: number, high: number, sense: 1 | -1): number =>
  sense > 0 ? downhill(low, high) : downhill(high, low);

const isBorne = (downhill: number): boolean => downhill <= MOST_DOWNHILL * (1 + CLOSES);

/** Farthest that leads downhill no more than is borne, mm, up to `most`. @param of rises with its place. */
function farthest(most: number, of: (far: number) => number): number {
  if (isBorne(of(most))) return most;
  let [low, high] = [0, most];
  while (high - low > FAR_STEP) {
    const middle = (low + high) / 2;
    if (isBorne(of(middle))) low = middle;
    else high = middle;
  }
  return low;
}

/** mm. */
const FAR_STEP = 1e-3;

interface Piece {
  readonly low: number;
  readonly high: number;
  readonly sense: 1 | -1;
  /** Place in the order of the pass. */
  order: number;
}

const before = (ways: readonly Way[], k: number): Way => ways[(k + ways.length - 1) % ways.length] as Way;

/** The way that a place lies on. */
const wayAt = (ways: readonly Way[], s: number, perimeter: number): Way =>
  ways.find(({ from, length }) => wrap(s - from, perimeter) < length) ?? (ways[0] as Way);

/** mm: what lies beside a place, whatever round-off says of the place itself. */
const BESIDE = 0.01;

/** A pass all round: turning points first, then each way up divided. */
function layRound(joint: Joint, rules: PassRules): readonly RootRun[] {
  const { ways, cost, perimeter } = joint;
  const turns = ways.map(({ from, length, back, on }, k) => {
    const reach = TURN_SHARE * Math.min(before(ways, k).length, length);
    return turnNear(from, from - Math.min(back, reach), from + Math.min(on, reach), cost, rules);
  });
  const last = (turns[0] as number) + perimeter;
  const pieces: Piece[] = [];
  ways.forEach((way, k) => {
    pieces.push(...divided(way.from, way, turns[k] as number, turns[k + 1] ?? last, joint));
  });
  return inOrder(pieces);
}

/** A pass on some sides: its ends feathered out beyond their corners, turning points where they lie well within. */
function layOn(on: readonly Stretch[], joint: Joint, rules: PassRules): readonly RootRun[] {
  const { ways, cost, perimeter } = joint;
  const borne = (low: number, high: number, sense: 1 | -1) => isBorne(downhillOf(rules.downhill, low, high, sense));
  const spans = on.map((span, k) => {
    const before = on[(k + on.length - 1) % on.length] as Stretch;
    const after = on[(k + 1) % on.length] as Stretch;
    const below = span.from - before.to + (k === 0 ? perimeter : 0);
    const above = after.from - span.to + (k === on.length - 1 ? perimeter : 0);
    // What does not hold two runs is laid in one, its ends with it. `feathered` takes half the room for each end.
    const length = span.to - span.from;
    const whole =
      length < 3 * LEAST_RUN ? Math.max(2 * rules.cornerClear, rules.longest - length) : Number.POSITIVE_INFINITY;
    const first = wayAt(ways, span.from + BESIDE, perimeter).sense;
    const last = wayAt(ways, span.to - BESIDE, perimeter).sense;
    return {
      from: feathered(
        span.from,
        -1,
        Math.min(below, whole),
        (far) => borne(span.from - far, span.from, first),
        cost,
        rules,
      ),
      to: feathered(span.to, 1, Math.min(above, whole), (far) => borne(span.to, span.to + far, last), cost, rules),
    };
  });
  const pieces: Piece[] = [];
  for (const span of meeting(spans, perimeter)) {
    const starts = startsOn(span, joint, rules);
    starts.forEach(({ s, way, from }, k) => {
      pieces.push(...divided(from, way, s, starts[k + 1]?.s ?? span.to, joint));
    });
  }
  return inOrder(pieces);
}

/** A way up with where it begins on a stretch that has the bead, and where its own turning point lies, in the stretch's turn. */
interface Start {
  readonly s: number;
  readonly way: Way;
  readonly from: number;
}

/**
 * The ways up of one stretch, s rising. A turning point stands well within it, or where a run would go downhill for too long without
 * it, and is not moved to where a run on either side of it has too little bead.
 */
function startsOn(span: Stretch, { ways, cost, perimeter, metal }: Joint, rules: PassRules): readonly Start[] {
  const falls = (low: number, high: number, { sense }: Way) => downhillOf(rules.downhill, low, high, sense);
  const clear = 2 * rules.stagger;
  const low = metal.after(span.from, LEAST_RUN);
  const high = metal.before(span.to, LEAST_RUN);
  const whole: Start[] = [];
  const turns: Start[] = [];
  let first: Start | undefined;
  for (const turn of [-1, 0, 1, 2]) {
    ways.forEach((way, k) => {
      const from = way.from + turn * perimeter;
      if (from + way.length <= span.from || from >= span.to) return;
      const start = { s: span.from, way, from };
      whole.push(start);
      const last = before(ways, k);
      if (from <= low || (from <= span.from + clear && isBorne(falls(span.from, from, way)))) first = start;
      else if (from < high && (from < span.to - clear || !isBorne(falls(from, span.to, last)))) {
        const down = Math.min(way.back, TURN_SHARE * Math.min(from - span.from, last.length), from - low);
        const up = Math.min(way.on, TURN_SHARE * Math.min(span.to - from, way.length), high - from);
        turns.push({ s: turnNear(from, from - down, from + up, cost, rules), way, from });
      }
    });
  }
  if (turns.length > 0 || first === undefined) {
    turns.sort((a, b) => a.s - b.s);
    const [one, ...rest] = turns;
    return first === undefined ? [{ ...(one as Start), s: span.from }, ...rest] : [first, ...turns];
  }
  // Laid one way from end to end: that of the ways it lies on that climbs best, where the first goes downhill for too long.
  let least = falls(span.from, span.to, first.way);
  if (isBorne(least)) return [first];
  for (const each of whole) {
    const here = falls(span.from, span.to, each.way);
    if (here < least) [least, first] = [here, each];
  }
  return [first];
}

/** Where the bead ends that is carried on past a corner into a side that lacks it. @param borne how far it may go. */
function feathered(
  corner: number,
  way: 1 | -1,
  room: number,
  borne: (far: number) => boolean,
  cost: Cost,
  rules: PassRules,
): number {
  // Not so far that the two ends of a gap meet, unless the gap is too short for both.
  const most = Math.min(room / 2 > rules.cornerClear ? room / 2 : room, 3 * rules.cornerClear);
  const step = stepOf(rules) / 2;
  let best = Math.min(rules.cornerClear, room / 2);
  let least = cost(corner + way * best);
  for (let far = step; far < most; far += step) {
    const moved = (NEARNESS * far) / most;
    // What lies farther costs this much at least, or goes as far downhill.
    if (moved >= least || !borne(far)) break;
    const here = cost(corner + way * far) + moved;
    if (here < least) [best, least] = [far, here];
  }
  return corner + way * best;
}

/** What a turning point moved as far as it may costs, of the cost of a stop on top of another. */
const NEARNESS = 1e-4;

function turnNear(at: number, from: number, to: number, cost: Cost, rules: PassRules): number {
  const step = stepOf(rules);
  let best = at;
  let least = cost(at);
  for (let k = 1; at + k * step <= to || at - k * step >= from; k++) {
    const moved = (NEARNESS * k * step) / (to - from);
    // What lies farther costs this much at least.
    if (moved >= least) break;
    const above = at + k * step;
    if (above >= from && above <= to) {
      const here = cost(above) + moved;
      if (here < least) [best, least] = [above, here];
    }
    const below = at - k * step;
    if (below >= from && below <= to) {
      const here = cost(below) + moved;
      if (here < least) [best, least] = [below, here];
    }
  }
  return best;
}

const stepOf = ({ stagger, cornerClear, longest }: PassRules): number =>
  Math.min(
    (stagger > 0 ? stagger : Math.max(STEPS_PER_STAGGER, cornerClear)) / STEPS_PER_STAGGER,
    longest / LEAST_STEPS,
  );

/** A run is not divided more coarsely than this. */
const LEAST_STEPS = 20;

/** Pieces between two stops, welded the way's way, with their place in the root's order. */
function divided(
  wayFrom: number,
  way: Way,
  from: number,
  to: number,
  { cost, metal, along, divide, room }: Joint,
): Piece[] {
  const pieces: Piece[] = [];
  let low = from;
  for (const high of [...stopsBetween(from, to, cost, metal, along, divide, room), to]) {
    const middle = (low + high) / 2 - wayFrom + way.from;
    const run = way.runs.find((each) => middle < each.to) ?? way.runs.at(-1);
    pieces.push({ low, high, sense: way.sense, order: run?.order ?? 0 });
    low = high;
  }
  if (way.sense < 0) pieces.reverse();
  // Along a way a piece never comes before the one it follows.
  let most = -1;
  for (const piece of pieces) {
    most = Math.max(most, piece.order);
    piece.order = most;
  }
  return pieces;
}

/** Runs of a pass in the root's order. The sort is stable: pieces of one way keep theirs. */
function inOrder(pieces: Piece[]): readonly RootRun[] {
  return pieces
    .sort((a, b) => a.order - b.order)
    .map(({ low, high, sense }) => (sense > 0 ? { fromS: low, toS: high } : { fromS: high, toS: low }));
}

/** Stretches that overlap or meet made one, round the joint too. */
function meeting(spans: readonly Stretch[], perimeter: number): readonly Stretch[] {
  const out: { from: number; to: number }[] = [];
  for (const span of spans) {
    const last = out.at(-1);
    if (last !== undefined && span.from <= last.to) last.to = Math.max(last.to, span.to);
    else out.push({ ...span });
  }
  const first = out[0];
  const last = out.at(-1);
  if (first !== undefined && last !== undefined && first !== last && last.to - perimeter >= first.from) {
    first.from = last.from - perimeter;
    out.pop();
  }
  return out;
}
