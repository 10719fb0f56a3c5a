import type { BeadStack, LayerKind } from './beadStack.ts';
import type { Pass } from './layers.ts';
import type { JointSide } from './sourced.ts';

/** A side of the joint with the beads that fill it. */
export interface StackedSide {
  readonly side: JointSide;
  /** mm along the root line, fromS < toS, within 0..perimeter. */
  readonly fromS: number;
  readonly toS: number;
  readonly stack: BeadStack;
}

/** One stretch of one bead, welded in one go. */
export interface BeadRun {
  readonly pass: number;
  readonly layer: number;
  readonly kind: LayerKind;
  /** Which bead of its layer. */
  readonly bead: number;
  /** In the direction of welding. */
  readonly fromS: number;
  readonly toS: number;
  /** mm3 of the bead itself; what is feathered out round a corner is not counted. */
  readonly volume: number;
}

/** A pass by what it lays: bead n of a layer, on the sides that have so many. */
export interface PassPlace {
  readonly layer: number;
  readonly kind: LayerKind;
  readonly bead: number;
}

/** The passes of a joint in order: layer by layer, bead by bead. The widest side says how many a layer has. */
export function passPlaces(sides: readonly StackedSide[]): readonly PassPlace[] {
  const places: PassPlace[] = [];
  const layers = Math.max(...sides.map((side) => side.stack.layers.length));
  for (let layer = 1; layer <= layers; layer++) {
    let beads = 0;
    let kind: LayerKind | undefined;
    for (const { stack } of sides) {
      const here = stack.layers[layer - 1];
      if (here === undefined) continue;
      kind ??= here.kind;
      beads = Math.max(beads, here.beads.length);
    }
    for (let bead = 1; bead <= beads; bead++) places.push({ layer, kind: kind ?? 'fill', bead });
  }
  return places;
}

/**
 * The runs of every pass cut down to where its bead lies. Sides differ in beads per layer, as their angles differ: a bead
 * that only some sides have is carried `feather` mm round the corner and feathered out there, so that no stop stands at a
 * corner. Volumes add up to the sides' bead areas times their lengths.
 *
 * @param passes of the joint, one for each of `passPlaces(sides)`, in the same order. @param feather mm, >= 0.
 */
export function beadRuns(
  sides: readonly StackedSide[],
  passes: readonly Pass[],
  perimeter: number,
  feather: number,
): readonly BeadRun[] {
  const out: BeadRun[] = [];
  const places = passPlaces(sides);
  // Bead areas of the pass on each side, mm2; 0 where a side has no such bead.
  const areas = new Float64Array(sides.length);
  for (let index = 0; index < places.length; index++) {
    const { layer, kind, bead } = places[index] as PassPlace;
    const pass = passes[index];
    if (pass === undefined) throw new RangeError(`there is no pass ${index + 1} for layer ${layer}, bead ${bead}`);
    let laid = 0;
    for (let k = 0; k < sides.length; k++) {
      const area = (sides[k] as StackedSide).stack.layers[layer - 1]?.beads[bead - 1]?.area;
      areas[k] = area ?? 0;
      if (area !== undefined) laid++;
    }
    const lay = (from: number, to: number, upward: boolean): void => {
      const volume = volumeWithin(sides, areas, perimeter, from, to);
      if (volume === 0) return;
      const [fromS, toS] = upward ? [from, to] : [to, from];
      out.push({ pass: pass.pass, layer, kind, bead, fromS, toS, volume });
    };
    for (const run of pass.runs) {
      const low = Math.min(run.fromS, run.toS);
      const high = Math.max(run.fromS, run.toS);
      const upward = run.fromS <= run.toS;
      if (laid === sides.length) {
        lay(low, high, upward);
        continue;
      }
      const stretches = stretchesWithin(sides, areas, perimeter, low, high, feather);
      if (!upward) stretches.reverse();
      for (const { from, to } of stretches) lay(from, to, upward);
    }
  }
  return out;
}

interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** Length that two stretches of the root line share. */
const shared = (from: number, to: number, low: number, high: number): number =>
  Math.max(0, Math.min(to, high) - Math.max(from, low));

/** mm3 of the beads between two places, which may lie a turn outside 0..perimeter. */
function volumeWithin(
  sides: readonly StackedSide[],
  areas: Float64Array,
  perimeter: number,
  from: number,
  to: number,
): number {
  let volume = 0;
  for (let k = 0; k < sides.length; k++) {
    const { fromS, toS } = sides[k] as StackedSide;
    for (let turn = -1; turn <= 1; turn++) {
      volume += (areas[k] as number) * shared(fromS + turn * perimeter, toS + turn * perimeter, from, to);
    }
  }
  return volume;
}

/** Spans of the beads touched by low..high, each widened by `feather`, merged, and kept within low..high. */
function stretchesWithin(
  sides: readonly StackedSide[],
  areas: Float64Array,
  perimeter: number,
  low: number,
  high: number,
  feather: number,
): Stretch[] {
  const touched: Stretch[] = [];
  for (let turn = -1; turn <= 1; turn++) {
    for (let k = 0; k < sides.length; k++) {
      const side = sides[k] as StackedSide;
      const from = side.fromS + turn * perimeter;
      const to = side.toS + turn * perimeter;
      if (areas[k] !== 0 && shared(from, to, low, high) > 0) touched.push({ from, to });
    }
  }
  // Turn by turn, side by side: they come in the order of s.
  const merged: { from: number; to: number }[] = [];
  for (const span of touched) {
    const from = Math.max(low, span.from - feather);
    const to = Math.min(high, span.to + feather);
    const last = merged.at(-1);
    if (last !== undefined && from <= last.to) last.to = Math.max(last.to, to);
    else merged.push({ from, to });
  }
  return merged;
}
