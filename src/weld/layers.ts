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

export interface Pass {
  /** From 1: the root as given; later passes lie over it. */
  readonly pass: number;
  readonly runs: readonly PassRun[];
  /** mm, least distance round the joint between its stops and those of the two passes before; Infinity for the first. */
  readonly stagger: number;
  /** mm, least distance of its stops from a corner. */
  readonly cornerDistance: number;
}

export interface PassRules {
  /** mm wanted between a stop and the stops of the two passes before. */
  readonly stagger: number;
  /** mm wanted between a stop and a corner. */
  readonly cornerClear: number;
  /** mm, longest stretch laid without a stop; runs are divided evenly until they are no longer. */
  readonly longest: number;
}

/**
 * Runs of every pass round the joint. The first pass is the root as given. Each later pass repeats the root's order and
 * directions, so it too goes from low to high and closes last at the top; its stops are moved along the joint, away from the
 * stops of the two passes before and from the corners. Every pass covers the joint once.
 *
 * Rules are common practice, no source: stops staggered, none at a corner. Where a foot is too small for both, the stop goes
 * where it comes nearest to both; `stagger` and `cornerDistance` say what was reached.
 *
 * @param rootRuns in the order of welding; they cover the perimeter once.
 * @param perimeter mm, > 0. @param corners mm along the root line. @param passes whole number from 1.
 * @throws RangeError where the root's runs do not cover the perimeter once.
 */
export function layPasses(
  rootRuns: readonly RootRun[],
  perimeter: number,
  corners: readonly number[],
  passes: number,
  rules: PassRules,
): readonly Pass[] {
  const root = rootRuns.map((run, index) => ({ run: index + 1, fromS: run.fromS, toS: run.toS }));
  const ring = new Ring(perimeter, corners);
  const rootStops = Float64Array.from(root.flatMap((run) => [run.fromS, run.toS]));
  const laid: Pass[] = [
    { pass: 1, runs: root, stagger: Number.POSITIVE_INFINITY, cornerDistance: ring.fromCorners(rootStops) },
  ];
  const pieces = dividedRuns(rootRuns, rules.longest);
  const breaks = breaksOf(pieces, perimeter);
  const low = pieces.map((_, index) => breaks.findIndex((each) => each.above === index));
  const high = pieces.map((_, index) => breaks.findIndex((each) => each.below === index));
  const before: Float64Array[] = [Float64Array.from(breaks, (each) => each.s)];
  for (let pass = 2; pass <= passes; pass += 1) {
    // The two passes before decide where stops may stand. They soon come round again, and what follows with them.
    const alike = followsAlike(before);
    if (alike !== undefined) {
      laid.push({ ...(laid[alike] as Pass), pass });
      before.push(before[alike] as Float64Array);
      continue;
    }
    const avoid = joined(before.slice(-2));
    const moves = breaks.map((each) => chooseMove(each, avoid, ring, rules));
    const runs = pieces.map((piece, index) => {
      const start = Math.min(piece.fromS, piece.toS) + (moves[low[index] ?? -1] ?? 0);
      const end = Math.max(piece.fromS, piece.toS) + (moves[high[index] ?? -1] ?? 0);
      return piece.fromS <= piece.toS
        ? { run: index + 1, fromS: start, toS: end }
        : { run: index + 1, fromS: end, toS: start };
    });
    const stops = Float64Array.from(breaks, (each, index) => each.s + (moves[index] ?? 0));
    laid.push({ pass, runs, stagger: ring.between(stops, avoid), cornerDistance: ring.fromCorners(stops) });
    before.push(stops);
  }
  return laid;
}

/** Index of an earlier pass that followed the same two as the next one will; undefined where there is none. */
function followsAlike(stops: readonly Float64Array[]): number | undefined {
  const n = stops.length;
  for (let next = 2; next < n; next++) {
    if (same(stops[next - 1], stops[n - 1]) && same(stops[next - 2], stops[n - 2])) return next;
  }
  return undefined;
}

const same = (p: Float64Array | undefined, q: Float64Array | undefined): boolean =>
  p === q || (p !== undefined && q !== undefined && p.every((x, i) => x === q[i]));

function joined(lists: readonly Float64Array[]): Float64Array {
  const out = new Float64Array(lists.reduce((sum, list) => sum + list.length, 0));
  let at = 0;
  for (const list of lists) {
    out.set(list, at);
    at += list.length;
  }
  return out;
}

/** A place where one piece ends and the next begins, s rising. */
interface Break {
  readonly s: number;
  /** Index of the piece that ends here, and of the one that begins here, s rising. */
  readonly below: number;
  readonly above: number;
  /** How far it may move down and up without squeezing its pieces. */
  readonly down: number;
  readonly up: number;
}

/** Share of a piece by which either of its ends may move: the two together leave a fifth of it. */
const MOVABLE = 0.4;

/** Round-off of a sum of lengths, as a share of the perimeter. */
const CLOSES = 1e-9;

function breaksOf(pieces: readonly RootRun[], perimeter: number): readonly Break[] {
  const spans = pieces.map(({ fromS, toS }, index) => ({
    index,
    start: wrap(Math.min(fromS, toS), perimeter),
    length: Math.abs(toS - fromS),
  }));
  spans.sort((a, b) => a.start - b.start);
  const length = spans.reduce((sum, span) => sum + span.length, 0);
  const breaks = spans.map((span, order) => {
    const last = spans[(order + spans.length - 1) % spans.length] ?? span;
    const gap = ring(last.start + last.length - span.start, perimeter);
    if (gap > CLOSES * perimeter)
      throw new RangeError(`the root's runs leave or overlap ${gap} mm before s = ${span.start}`);
    return {
      s: span.start,
      below: last.index,
      above: span.index,
      down: MOVABLE * last.length,
      up: MOVABLE * span.length,
    };
  });
  if (Math.abs(length - perimeter) > CLOSES * perimeter)
    throw new RangeError(`the root's runs measure ${length} mm on a perimeter of ${perimeter} mm`);
  return breaks;
}

function dividedRuns(runs: readonly RootRun[], longest: number): readonly RootRun[] {
  if (!(longest > 0)) throw new RangeError(`the longest run must be a length, got ${longest}`);
  return runs.flatMap(({ fromS, toS }) => {
    const parts = Math.max(1, Math.ceil(Math.abs(toS - fromS) / longest - CLOSES));
    const at = (part: number) => (part === parts ? toS : fromS + ((toS - fromS) * part) / parts);
    return Array.from({ length: parts }, (_, part) => ({ fromS: at(part), toS: at(part + 1) }));
  });
}

/** Steps in which a stop is moved, per stagger. */
const STEPS_PER_STAGGER = 5;

function chooseMove(each: Break, avoid: Float64Array, joint: Ring, rules: PassRules): number {
  const step = rules.stagger / STEPS_PER_STAGGER;
  const steps = step > 0 ? Math.floor(Math.max(each.down, each.up) / step) : 0;
  let best = 0;
  let bestScore = Number.NEGATIVE_INFINITY;
  for (let tried = 0; tried <= 2 * steps; tried += 1) {
    // 0, then one step up, one down, two up, two down, ...
    const move = Math.ceil(tried / 2) * step * (tried % 2 === 1 ? 1 : -1);
    if (move > each.up || move < -each.down) continue;
    const clear = share(joint.nearest(each.s + move, joint.corners), rules.cornerClear);
    if (clear <= bestScore) continue;
    const score = Math.min(clear, share(joint.nearest(each.s + move, avoid), rules.stagger));
    if (score > bestScore + CLOSES) {
      best = move;
      bestScore = score;
    }
    if (bestScore >= 1) return best;
  }
  return best;
}

/** How much of what is wanted is reached, at most all of it; a hair of round-off counts as reached. */
function share(reached: number, wanted: number): number {
  return wanted <= 0 || reached >= wanted * (1 - CLOSES) ? 1 : reached / wanted;
}

function wrap(s: number, perimeter: number): number {
  const rest = s % perimeter;
  return rest < 0 ? rest + perimeter : rest;
}

/** Shorter way between two places that are `difference` apart. */
function ring(difference: number, perimeter: number): number {
  return Math.abs(difference - perimeter * Math.round(difference / perimeter));
}

class Ring {
  readonly perimeter: number;
  readonly corners: Float64Array;

  constructor(perimeter: number, corners: readonly number[]) {
    if (!(perimeter > 0)) throw new RangeError(`the perimeter must be a length, got ${perimeter}`);
    this.perimeter = perimeter;
    this.corners = Float64Array.from(corners);
  }

  /** Places are up to a few perimeters apart: the shorter way round is found by taking whole turns off. */
  nearest(place: number, others: Float64Array): number {
    const { perimeter } = this;
    const half = perimeter / 2;
    let least = Number.POSITIVE_INFINITY;
    for (let i = 0; i < others.length; i++) {
      let apart = Math.abs(place - (others[i] as number));
      while (apart > half) apart = Math.abs(apart - perimeter);
      if (apart < least) least = apart;
    }
    return least;
  }

  between(places: Float64Array, others: Float64Array): number {
    let least = Number.POSITIVE_INFINITY;
    for (let i = 0; i < places.length; i++) least = Math.min(least, this.nearest(places[i] as number, others));
    return least;
  }

  fromCorners(places: Float64Array): number {
    return this.between(places, this.corners);
  }
}
