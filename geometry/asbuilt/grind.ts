import { type HeightSamples, minimaxPlane } from '../math/minimax.ts';

/** A gap felt with feeler gauges at the root: where on the foot (lug frame, mm) and how wide (mm). */
export interface FeltGap {
  readonly a: number;
  readonly c: number;
  readonly gap: number;
}

/** mm. Less than this is not worth putting a grinder to. */
export const WORTH_GRINDING = 0.1;

/** What must come off so that the plate can be set closer. mm. */
export interface GrindMap {
  /** True where setting the plate in anew, without grinding, brings every gap within the tolerance. */
  readonly reseatOnly: boolean;
  /** How far the plate moves in at (a, c): w0 + w1 a + w2 c, after the grinding. */
  readonly move: { readonly w0: number; readonly w1: number; readonly w2: number };
  /** In the order of the gaps: what to take off there, and the gap that is left. */
  readonly spots: readonly { readonly grind: number; readonly left: number }[];
  /** The most that comes off anywhere; as little as any way of setting the plate allows. */
  readonly most: number;
}

/**
 * Least grinding that brings every felt gap within `tolerance`.
 *
 * The plate is rigid: it may move in by any plane d(a, c). After that the gap is gap - d; where that is negative, the foot
 * stands in the way and d - gap comes off. So d must reach gap - tolerance everywhere and pass gap by as little as may be:
 * with E the error of the Chebyshev plane of the gaps, d is that plane lowered by tolerance - E, and the most that comes
 * off is 2 E - tolerance (nothing, if that is negative). No other plane does with less, since E is the least error.
 *
 * At least three gaps that do not stand in a line; fewer give `undefined`.
 */
export function grindMap(gaps: readonly FeltGap[], tolerance: number): GrindMap | undefined {
  const plane = chebyshev(gaps);
  if (!plane) return undefined;
  const most = Math.max(0, 2 * plane.error - tolerance);
  // Without grinding, the plate is set in until it touches; with it, no further than the tolerance asks for.
  const shift = most > 0 ? plane.error - tolerance : -plane.error;
  const w0 = plane.p0 + shift;
  const spots = gaps.map(({ a, c, gap }) => {
    const d = w0 + plane.p1 * a + plane.p2 * c;
    return { grind: Math.max(0, d - gap), left: Math.max(0, gap - d) };
  });
  return { reseatOnly: most === 0, move: { w0, w1: plane.p1, w2: plane.p2 }, spots, most };
}

/** Chebyshev plane of the gaps, started from the four that are spread widest; `undefined` where they stand in a line. */
function chebyshev(gaps: readonly FeltGap[]): { p0: number; p1: number; p2: number; error: number } | undefined {
  if (gaps.length < 3) return undefined;
  const start = spread(gaps);
  if (!start) return undefined;
  // Three gaps lie on a plane of their own; a fourth sample on it, at their middle, changes nothing and gives the method its start.
  const all = start.length === 4 ? gaps : [...gaps, middle(start.map((i) => gaps[i] as FeltGap))];
  const samples: HeightSamples = {
    a: all.map((g) => g.a),
    c: all.map((g) => g.c),
    f: all.map((g) => g.gap),
    count: all.length,
  };
  const [i, j, k, l = all.length - 1] = start as [number, number, number, number?];
  return minimaxPlane(samples, [i, j, k, l], 1e-9);
}

/** Indices of three or four gaps that span the widest area, no three of the four in a line. */
function spread(gaps: readonly FeltGap[]): readonly number[] | undefined {
  const area = (i: number, j: number, k: number): number => {
    const p = gaps[i] as FeltGap;
    const q = gaps[j] as FeltGap;
    const r = gaps[k] as FeltGap;
    return Math.abs((q.a - p.a) * (r.c - p.c) - (r.a - p.a) * (q.c - p.c));
  };
  let best: readonly number[] = [];
  let widest = 0;
  for (let i = 0; i < gaps.length; i++) {
    for (let j = i + 1; j < gaps.length; j++) {
      for (let k = j + 1; k < gaps.length; k++) {
        if (area(i, j, k) > widest) {
          widest = area(i, j, k);
          best = [i, j, k];
        }
      }
    }
  }
  if (best.length === 0) return undefined;
  const [i, j, k] = best as [number, number, number];
  let fourth = -1;
  let least = 1e-9 * widest;
  for (let l = 0; l < gaps.length; l++) {
    if (l === i || l === j || l === k) continue;
    const own = Math.min(area(i, j, l), area(j, k, l), area(i, k, l));
    if (own > least) {
      least = own;
      fourth = l;
    }
  }
  return fourth < 0 ? best : [i, j, k, fourth];
}

const middle = (gaps: readonly FeltGap[]): FeltGap => {
  const mean = (of: (g: FeltGap) => number) => gaps.reduce((sum, g) => sum + of(g), 0) / gaps.length;
  return { a: mean((g) => g.a), c: mean((g) => g.c), gap: mean((g) => g.gap) };
};
