import type { Phrase } from '../phrase.ts';
import type { CutFit, FacetedCut, ScribedCut, StraightCut } from './cuts.ts';

/** tight: no leg is added; made-up: the weld leg makes up the gap; recut: beyond what a leg may make up. */
export type FitGrade = 'tight' | 'made-up' | 'recut';
export type CutName = 'straight' | 'faceted' | 'scribed';

export interface FitVerdict {
  readonly chosen: CutName;
  readonly grade: FitGrade;
  readonly verdict: Phrase;
  readonly remedies: readonly Phrase[];
}

export interface CutSet {
  readonly square: CutFit;
  readonly straight: StraightCut;
  readonly faceted: FacetedCut;
  readonly scribed: ScribedCut;
}

/**
 * Which cut the foot gets and how well it fits, in words. `wanted` may leave the choice to us: the simplest cut that is
 * tight, else the one with the least gap. `tight` and `most` are the gaps (mm) up to which a fit is tight and up to
 * which a weld leg may make it up. The stem gap decides: it is never less than the root opening a feeler finds.
 */
export function fitVerdict(
  cuts: CutSet,
  wanted: CutName | 'simplest',
  tight: number,
  most: number,
  halfThickness: number,
): FitVerdict {
  const order: CutName[] = ['straight', 'faceted', 'scribed'];
  const gap = (name: CutName) => cuts[name].maxGap;
  const firstTight = order.find((name) => gap(name) <= tight);
  const least = order.reduce((p, q) => (gap(q) < gap(p) ? q : p));
  const chosen = wanted === 'simplest' ? (firstTight ?? least) : wanted;
  const g = gap(chosen);
  const grade: FitGrade = g <= tight ? 'tight' : g <= most ? 'made-up' : 'recut';
  const what: Phrase = describeCut(cuts, chosen);
  const verdict: Phrase =
    grade === 'tight'
      ? g < UNFELT
        ? ['Tight: ', ...what, ', no gap over ', { mm: UNFELT }, '; ', { mm: tight }, ' allowed.']
        : ['Tight: ', ...what, ', largest gap ', { mm: g }, ' of ', { mm: tight }, ' allowed.']
      : grade === 'made-up'
        ? [
            'The weld makes it up: ',
            ...what,
            ', largest gap ',
            { mm: g },
            ', over ',
            { mm: tight },
            '; the leg grows by the root opening, up to ',
            { mm: most },
            '.',
          ]
        : [
            'Cut again: ',
            ...what,
            ', largest gap ',
            { mm: g },
            ', over the ',
            { mm: most },
            ' that a leg may make up.',
          ];
  const remedies: Phrase[] = [];
  if (grade !== 'tight') {
    if (firstTight)
      remedies.push(['Cut it otherwise: ', ...describeCut(cuts, firstTight), ' leaves ', { mm: gap(firstTight) }, '.']);
    else
      remedies.push([
        'No cut of this plate is tight here; the least gap, ',
        { mm: gap(least) },
        ', is left by ',
        ...describeCut(cuts, least),
        '. Move the lug, turn it, or take a thinner plate.',
      ]);
  }
  if (chosen === 'straight') remedies.push(takeOff(cuts.straight, halfThickness));
  if (chosen === 'faceted' && !cuts.faceted.withinTolerance) {
    remedies.push(['The shell bends through the thickness of the plate: more facets do not help.']);
  }
  return { chosen, grade, verdict, remedies };
}

function describeCut(cuts: CutSet, name: CutName): Phrase {
  if (name === 'straight') {
    const { bevel } = cuts.straight;
    return isSquare(bevel) ? ['one straight cut, square'] : ['one straight cut, bevel ', ...bevelOf(bevel)];
  }
  if (name === 'scribed') return ['a cut scribed to the shell'];
  const n = cuts.faceted.facets.length;
  const bevels = cuts.faceted.facets.map((q) => q.bevel);
  const low = Math.min(...bevels);
  const high = Math.max(...bevels);
  if (bevels.every(isSquare)) return n === 1 ? ['one facet, square'] : [{ count: n }, ' facets, all cut square'];
  if (n === 1) return ['one facet, bevel ', ...bevelOf(low)];
  if (low * high < 0) return [{ count: n }, ' facets, bevel from ', ...bevelOf(low), ' to ', ...bevelOf(high)];
  const [flat, steep] = Math.abs(low) < Math.abs(high) ? [low, high] : [high, low];
  return [{ count: n }, ' facets, bevel ', { rad: Math.abs(flat) }, ' to ', ...bevelOf(steep)];
}

/** A bevel as a shop says it: how far off square, and which face it leaves shorter. */
function bevelOf(bevel: number): Phrase {
  const angle = Math.abs(bevel);
  if (isSquare(bevel)) return [{ rad: angle }];
  return [{ rad: angle }, bevel > 0 ? ', face+ the shorter' : ', face- the shorter'];
}

/** mm. No feeler gauge tells a gap under this from none. */
const UNFELT = 0.1;

/** rad. Below this no torch is tilted: 0.05 degrees. */
const LEAST_BEVEL = Math.PI / 3600;
const isSquare = (bevel: number): boolean => Math.abs(bevel) < LEAST_BEVEL;

/** What comes off a square foot at each corner so that the straight cut remains, from the corner that stands deepest. */
function takeOff(cut: StraightCut, halfThickness: number): Phrase {
  const half = cut.surface.breaks[1] as number;
  const corners = [
    { name: 'face-/end-', k: cut.surface.height(-half, -halfThickness) },
    { name: 'face-/end+', k: cut.surface.height(half, -halfThickness) },
    { name: 'face+/end+', k: cut.surface.height(half, halfThickness) },
    { name: 'face+/end-', k: cut.surface.height(-half, halfThickness) },
  ];
  const deepest = Math.min(...corners.map((q) => q.k));
  const amounts = corners.flatMap((q, i): Phrase => {
    const off = q.k - deepest;
    return [i > 0 ? `, ${q.name} ` : `${q.name} `, ...(off < 0.05 ? ['nothing'] : [{ mm: off }])];
  });
  return ['From a square foot take off at the corners: ', ...amounts, '; straight lines between them.'];
}
