import { ROUND_OFF_MM } from '../../geometry/math/tolerance.ts';
import { legAddedForGap } from './legs.ts';
import { inches, type Sourced } from './sourced.ts';

/** Where the limits of a fillet's fit-up are from. */
export const FIT_UP_SOURCE = 'AWS D1.1, fillet fit-up, as quoted on a public AWS forum, not read in the code itself';

/** Gaps of a fillet fit-up, mm. tight: no leg added; most: beyond it the foot is cut again. */
export const FIT_UP_GAPS: Sourced<{ readonly tight: number; readonly most: number }> = {
  value: { tight: inches(1 / 16), most: inches(3 / 16) },
  source: `${FIT_UP_SOURCE}: over 1/16 in (1.6 mm) the leg grows by the gap; 3/16 in (4.8 mm) at most; 5/16 in (8 mm) only for parts of 3 in (75 mm) and more, with backing`,
  standing: 'source',
};

export type GapRuling =
  | { readonly kind: 'weld'; readonly leg: number; readonly added: number }
  | { readonly kind: 'recut' };

/**
 * Leg to weld over a gap, mm, or that the foot must be cut again. All lengths in mm. Source: `FIT_UP_GAPS`.
 */
export function gapRuling(
  leg: number,
  gap: number,
  gaps: { readonly tight: number; readonly most: number } = FIT_UP_GAPS.value,
): GapRuling {
  if (gap > gaps.most + ROUND_OFF_MM) return { kind: 'recut' };
  const added = legAddedForGap(gap, gaps.tight + ROUND_OFF_MM);
  return { kind: 'weld', leg: leg + added, added };
}
