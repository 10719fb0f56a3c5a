import { chiSquareLimit, leastSquares } from '../math/leastsquares.ts';
import type { Phrase } from '../phrase.ts';
import { Refusal } from '../refusal.ts';

/** A gap between bar and shell: mm along the bar from its middle, positive forward; mm square to the bar; its error. */
export interface BarGap {
  readonly at: number;
  readonly gap: number;
  readonly error: number;
}

/**
 * The shell under a straight bar, as the depth below it: depth 0 where the bar touches at its middle. Along the bar t (mm,
 * forward), depth positive away from the bar, that is inward.
 */
export interface BarCurve {
  /** Curvature at the middle, 1/mm, positive where the shell bulges into the water. */
  readonly curvature: number;
  /** Least and greatest t that the gaps speak for. */
  readonly from: number;
  readonly to: number;
  /** Depth less the depth at the middle, its first and second derivative. */
  depth(t: number): number;
  slope(t: number): number;
  bend(t: number): number;
  readonly residuals: readonly number[];
  readonly notes: readonly Phrase[];
}

/**
 * The arc of a circle through the gaps under a straight bar: by least squares where there are more than are needed.
 * Touching at its middle the bar is a tangent there, and gap = (1 - sqrt(1 - k^2 t^2)) / k, the sagitta of the arc. Touching
 * at its ends it is a chord: the gap at the middle and, where gaps lie on both sides, a small tilt are found as well.
 *
 * @param length of the bar, mm: with `touch` "ends" the two places where the gap is nothing
 * Throws `Refusal` (field `hull.fore...`) for gaps that determine no arc.
 */
export function barCurve(gaps: readonly BarGap[], touch: 'middle' | 'ends', length: number | undefined): BarCurve {
  const all = [...gaps];
  if (touch === 'ends' && length !== undefined) {
    const error = gaps[0]?.error ?? 1;
    for (const at of [-length / 2, length / 2])
      if (!gaps.some((g) => Math.abs(g.at - at) < 1)) all.push({ at, gap: 0, error });
  }
  const useful = touch === 'middle' ? all.filter((g) => g.at !== 0) : all;
  const spans = new Set(useful.map((g) => Math.abs(g.at))).size;
  if (touch === 'middle' && spans === 0) {
    throw new Refusal(
      'degenerate-hull',
      'hull.fore.gaps',
      ['no gap away from the middle of the bar, where it touches'],
      ['a gap towards either end of the bar, as far from its middle as it reaches'],
    );
  }
  if (touch === 'ends' && spans < 2) {
    throw new Refusal(
      'degenerate-hull',
      'hull.fore.gaps',
      ['gaps at one distance from the middle of the bar only'],
      [
        'the length of the bar that touches at both its ends (fore.length), or a gap at another place: best at its middle',
      ],
    );
  }
  for (const [i, g] of gaps.entries()) {
    const arm = touch === 'middle' ? Math.abs(g.at) : Math.max(...all.map((q) => Math.abs(q.at)));
    if (g.gap > 0 && g.gap >= arm / 2) {
      throw new Refusal(
        'degenerate-hull',
        `hull.fore.gaps[${i}].gap`,
        [{ mm: g.gap }],
        ['a gap small against the length of the bar, at most ', { mm: arm / 2 }, ' here'],
      );
    }
  }
  const sided = useful.some((g) => g.at > 0) && useful.some((g) => g.at < 0);
  const hasTilt = touch === 'ends' && sided && spans >= 2 && useful.length >= 3;
  const columns = 1 + (touch === 'ends' ? 1 : 0) + (hasTilt ? 1 : 0);
  // Gauss-Newton on k: the arc's gap is k t^2 / (1 + sqrt(1 - k^2 t^2)), nearly linear in k.
  let k = 0;
  let tilt = 0;
  let middle = 0;
  let squares = 0;
  for (let it = 0; it < 30; it++) {
    const rows: number[] = [];
    const rest: number[] = [];
    for (const g of useful) {
      const root = Math.sqrt(Math.max(1e-6, 1 - (k * g.at) ** 2));
      const arc = (k * g.at ** 2) / (1 + root);
      // d arc / dk = t^2 / (root (1 + root)), from differentiating the line above.
      rows.push(g.at ** 2 / (root * (1 + root)));
      if (touch === 'ends') rows.push(1);
      if (hasTilt) rows.push(g.at);
      rest.push(g.gap - middle - tilt * g.at - arc);
    }
    const fit = leastSquares(
      rows,
      columns,
      rest,
      useful.map((g) => 1 / g.error ** 2),
    );
    if (fit === undefined) {
      throw new Refusal(
        'degenerate-hull',
        'hull.fore.gaps',
        ['gaps that no arc can be laid through'],
        ['a gap at another place along the bar'],
      );
    }
    const step = fit.coefficients[0] as number;
    k += step;
    if (touch === 'ends') middle += fit.coefficients[1] as number;
    if (hasTilt) tilt += fit.coefficients[2] as number;
    squares = fit.squares;
    if (Math.abs(step) < 1e-16) break;
  }
  if (touch === 'ends' && k > 0 && middle < 0) {
    throw new Refusal(
      'degenerate-hull',
      'hull.fore.touch',
      ['"ends" with gaps that grow towards the ends'],
      ['"middle" where the shell falls away from the bar towards its ends'],
    );
  }
  const reach = Math.max(...useful.map((g) => Math.abs(g.at)));
  const root = (t: number) => Math.sqrt(Math.max(1e-6, 1 - (k * t) ** 2));
  const depth = (t: number) => tilt * t + (k * t * t) / (1 + root(t));
  const residuals = gaps.map((g) => g.gap - middle - depth(g.at));
  const freedom = useful.length - columns;
  const notes: Phrase[] = [
    [
      k === 0
        ? 'Fore and aft the shell is straight under the bar'
        : `Fore and aft the shell is ${k > 0 ? 'rounded' : 'hollow'} under the bar to a radius of `,
      ...(k === 0 ? [] : [{ mm: 1 / Math.abs(k), digits: 0 }]),
      ', from ',
      { count: gaps.length },
      gaps.length === 1 ? ' gap' : ' gaps',
      ...(freedom > 0
        ? [
            '; gaps less curve: ',
            ...residuals.flatMap((r, i) => (i === 0 ? [{ mm: r, digits: 2 }] : [', ', { mm: r, digits: 2 }])),
          ]
        : []),
      '.',
    ],
  ];
  if (!sided)
    notes.push([
      'Gaps were taken on one side of the middle of the bar only: the shell is taken to curve alike on the other. A gap there would help most.',
    ]);
  if (freedom > 0 && squares > chiSquareLimit(freedom)) {
    notes.push(['The gaps under the bar do not lie on one arc within their errors: have them taken again.']);
  }
  return {
    curvature: k,
    from: -reach,
    to: reach,
    depth,
    slope: (t) => tilt + (k * t) / root(t),
    bend: (t) => k / root(t) ** 3,
    residuals,
    notes,
  };
}
