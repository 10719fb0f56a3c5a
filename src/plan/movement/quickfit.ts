import { facetedCut, scribedCut, straightCut } from '../../../geometry/fit/cuts.ts';
import type { FootField } from '../../../geometry/fit/footfield.ts';
import type { Shell } from '../../../geometry/hull/shell.ts';
import { minimaxPlane } from '../../../geometry/math/minimax.ts';
import type { CutChoice } from '../../job/types.ts';

/** mm, asked of the plane. */
const ACCURACY = 1e-3;

/**
 * Largest stem gap (mm) of the best straight cut, from the nodes of the foot alone: twice the error of the Chebyshev plane. Less than
 * that of `straightCut` by what the shell does between nodes 8 mm apart.
 */
export function straightGap(field: FootField): number {
  const { a, c, f } = field;
  const na = a.length;
  const nc = c.length;
  const count = na * nc;
  const as = new Float64Array(count);
  const cs = new Float64Array(count);
  for (let i = 0; i < na; i++) {
    for (let j = 0; j < nc; j++) {
      as[i * nc + j] = a[i] as number;
      cs[i * nc + j] = c[j] as number;
    }
  }
  const corners = [0, nc - 1, count - nc, count - 1] as const;
  return 2 * minimaxPlane({ a: as, c: cs, f, count }, [...corners], ACCURACY).error;
}

/**
 * Largest stem gap (mm) of the scribed cut, from the nodes of the foot alone: for each column the straight line through both faces, all
 * of them raised together until nothing of the shell stands above.
 */
export function scribedGap({ a, c, f }: FootField): number {
  const nc = c.length;
  const first = c[0] as number;
  const thickness = (c[nc - 1] as number) - first;
  let above = 0;
  let below = 0;
  for (let i = 0; i < a.length; i++) {
    const minus = f[i * nc] as number;
    const slope = ((f[i * nc + nc - 1] as number) - minus) / thickness;
    for (let j = 1; j < nc - 1; j++) {
      const off = (f[i * nc + j] as number) - minus - slope * ((c[j] as number) - first);
      above = Math.max(above, off);
      below = Math.min(below, off);
    }
  }
  return above - below;
}

/** Largest stem gap of the cut that a foot would get: the quick figure where the straight one is tight, else worked out in full. */
export function chosenGap(field: FootField, shell: Shell, cut: CutChoice, tight: number): number {
  const quick = straightGap(field);
  if (cut === 'straight') return straightCut(field, shell).maxGap;
  if (cut === 'simplest' && quick <= 0.95 * tight) return quick;
  if (cut === 'scribed') return scribedCut(field, shell).maxGap;
  const straight = straightCut(field, shell);
  if (cut === 'simplest' && straight.maxGap <= tight) return straight.maxGap;
  const faceted = facetedCut(field, shell, tight, straight).maxGap;
  return cut === 'faceted' || faceted <= tight
    ? faceted
    : Math.min(faceted, straight.maxGap, scribedCut(field, shell).maxGap);
}
