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
  passPlaces(sides).forEach(({ layer, kind, bead }, index) => {
    const pass = passes[index];
    if (pass === undefined) throw new RangeError(`there is no pass ${index + 1} for layer ${layer}, bead ${bead}`);
    const spans: Span[] = [];
    for (const side of sides) {
      const area = side.stack.layers[layer - 1]?.beads[bead - 1]?.area;
      if (area === undefined) continue;
      for (const turn of [-perimeter, 0, perimeter]) spans.push(spanOf(side, turn, area));
    }
    const everywhere = spans.length === 3 * sides.length;
    for (const run of pass.runs) {
      const low = Math.min(run.fromS, run.toS);
      const high = Math.max(run.fromS, run.toS);
      const upward = run.fromS <= run.toS;
      const stretches = everywhere ? [{ from: low, to: high }] : stretchesWithin(spans, low, high, feather);
      for (let k = 0; k < stretches.length; k++) {
        const { from, to } = stretches[upward ? k : stretches.length - 1 - k] as Stretch;
        let volume = 0;
        for (const span of spans) volume += span.area * overlap(span, from, to);
        if (volume === 0) continue;
        out.push({
          pass: pass.pass,
          layer,
          kind,
          bead,
          fromS: upward ? from : to,
          toS: upward ? to : from,
          volume,
        });
      }
    }
  });
  return out;
}

interface Stretch {
  readonly from: number;
  readonly to: number;
}

interface Span {
  readonly from: number;
  readonly to: number;
  readonly area: number;
}

function spanOf(side: StackedSide, turn: number, area: number): Span {
  return { from: side.fromS + turn, to: side.toS + turn, area };
}

function overlap(span: Span, from: number, to: number): number {
  return Math.max(0, Math.min(span.to, to) - Math.max(span.from, from));
}

/** Spans touched by low..high, each widened by `feather`, merged, and kept within low..high. */
function stretchesWithin(spans: readonly Span[], low: number, high: number, feather: number): readonly Stretch[] {
  const touched = spans.filter((span) => overlap(span, low, high) > 0).sort((a, b) => a.from - b.from);
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
