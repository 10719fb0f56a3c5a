import type { BeadStack, LayerKind } from './beadStack.ts';
import type { Pass, PassBead, Stretch } from './layers.ts';
import type { BeadStretch } from './metal.ts';
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
  /** mm3, what is feathered out beyond a corner included. */
  readonly volume: number;
  /** mm3 of it that is feathered out. */
  readonly feathered: number;
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
 * What every pass lays and which earlier passes its stops must keep off, one for each of `passPlaces(sides)` in the same order.
 * Two beads touch where one lies beside the other in its layer, or at least partly under it in the layer below, on any side that
 * has both; the layer of the root counts as under all.
 */
export function passBeads(sides: readonly StackedSide[], perimeter: number): readonly PassBead[] {
  const places = passPlaces(sides);
  const beads = sides.map(({ stack }) => stack.layers.map((layer) => layer.beads.length));
  return places.map((place, index) => {
    const near: number[] = [];
    const touching: number[] = [];
    const beneath: number[] = [];
    for (let k = index - 1; k >= 0; k--) {
      const under = places[k] as PassPlace;
      if (place.layer - under.layer > 2) break;
      near.push(k);
      if (overlaps(beads, place, under)) (place.layer - under.layer < 2 ? touching : beneath).push(k);
    }
    return { on: stretchesWith(sides, place, perimeter), metal: metalOfPass(sides, place), touching, beneath, near };
  });
}

const beadsIn = (side: StackedSide, layer: number): number => side.stack.layers[layer - 1]?.beads.length ?? 0;

/** Share of a bead that is left of it, on the way along, where it is feathered out: it runs to nothing. A choice. */
export const FEATHERED_SHARE = 0.5;

/** The beads of a pass side by side; where a side has none, what the largest of the others leaves there feathered out. */
function metalOfPass(sides: readonly StackedSide[], { layer, bead }: PassPlace): readonly BeadStretch[] {
  const own = sides.map(({ stack }) => stack.layers[layer - 1]?.beads[bead - 1]?.area);
  const largest = Math.max(0, ...own.map((area) => area ?? 0));
  return sides.map(({ fromS, toS }, k) => ({
    from: fromS,
    to: toS,
    area: own[k] ?? FEATHERED_SHARE * largest,
    feathered: own[k] === undefined,
  }));
}

/** @param beads how many each side has in each layer, side by side. */
function overlaps(beads: readonly (readonly number[])[], upper: PassPlace, lower: PassPlace): boolean {
  for (const layers of beads) {
    const above = layers[upper.layer - 1] ?? 0;
    const below = layers[lower.layer - 1] ?? 0;
    if (upper.bead > above || lower.bead > below) continue;
    if (upper.layer === lower.layer) {
      if (upper.bead - lower.bead === 1) return true;
      continue;
    }
    // The beads of a layer divide its width evenly, in the same order in every layer.
    if (lower.layer === 1) return true;
    if ((upper.bead - 1) * below < lower.bead * above && (lower.bead - 1) * above < upper.bead * below) return true;
  }
  return false;
}

/** Sides that have a bead, those that follow each other as one, the last with the first too; null where all have it. */
function stretchesWith(sides: readonly StackedSide[], place: PassPlace, perimeter: number): readonly Stretch[] | null {
  const have = sides.map((side) => place.bead <= beadsIn(side, place.layer));
  if (have.every(Boolean)) return null;
  const out: { from: number; to: number }[] = [];
  sides.forEach(({ fromS, toS }, k) => {
    if (have[k] !== true) return;
    const last = out.at(-1);
    if (have[k - 1] === true && last !== undefined) last.to = toS;
    else out.push({ from: fromS, to: toS });
  });
  const [first, ...rest] = out;
  if (rest.length === 0 || first === undefined || have[0] !== true || have.at(-1) !== true) return out;
  const last = rest.at(-1) as Stretch;
  return [...rest.slice(0, -1), { from: last.from, to: first.to + perimeter }];
}

/**
 * The runs of every pass with the metal they take: bead areas times lengths, and for what is feathered out beyond a corner
 * `FEATHERED_SHARE` of the largest bead of the pass. Less what is feathered out, volumes add up to the sides' areas times their lengths.
 *
 * @param passes of the joint, one for each of `passPlaces(sides)`, in the same order.
 */
export function beadRuns(
  sides: readonly StackedSide[],
  passes: readonly Pass[],
  perimeter: number,
): readonly BeadRun[] {
  const out: BeadRun[] = [];
  const places = passPlaces(sides);
  for (let index = 0; index < places.length; index++) {
    const place = places[index] as PassPlace;
    const { layer, kind, bead } = place;
    const pass = passes[index];
    if (pass === undefined) throw new RangeError(`there is no pass ${index + 1} for layer ${layer}, bead ${bead}`);
    const metal = metalOfPass(sides, place);
    for (const { fromS, toS } of pass.runs) {
      const [low, high] = [Math.min(fromS, toS), Math.max(fromS, toS)];
      // A side lies within its turn; the run may lie any number of turns outside 0..perimeter.
      const first = Math.floor(low / perimeter);
      const last = Math.floor(high / perimeter);
      let volume = 0;
      let feathered = 0;
      for (const stretch of metal) {
        let length = 0;
        for (let turn = first; turn <= last; turn++)
          length += shared(stretch.from + turn * perimeter, stretch.to + turn * perimeter, low, high);
        volume += stretch.area * length;
        if (stretch.feathered) feathered += stretch.area * length;
      }
      out.push({ pass: pass.pass, layer, kind, bead, fromS, toS, volume, feathered });
    }
  }
  return out;
}

/** Length that two stretches of the root line share. */
const shared = (from: number, to: number, low: number, high: number): number =>
  Math.max(0, Math.min(to, high) - Math.max(from, low));
