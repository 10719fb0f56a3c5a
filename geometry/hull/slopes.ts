import { chiSquareLimit, leastSquares, oneMoreLimit } from '../math/leastsquares.ts';
import { monotoneSlopes } from '../math/monotone.ts';
import { polynomialAt, polynomialSlope } from '../math/polynomial.ts';
import { intervalOf } from '../math/spline.ts';
import type { Phrase } from '../phrase.ts';
import { Refusal } from '../refusal.ts';

/** A reading of the section's tangent: girth (mm) on the tape, angle (rad) in the section's plane, its error (rad). */
export interface SlopeMark {
  readonly at: number;
  readonly angle: number;
  readonly error: number;
}

/** Angle of the section's tangent along the tape, with how it was found. */
export interface SlopeCurve {
  /** First and last reading used, mm of tape. */
  readonly from: number;
  readonly to: number;
  /** rad at mm of tape, and its change per mm: the section's curvature, positive where it bulges. */
  angle(s: number): number;
  rate(s: number): number;
  /** rad, reading less curve, in the order of the marks given; what was left out has its own. */
  readonly residuals: readonly number[];
  /** Index of the reading left out because all others agree without it. */
  readonly outlier?: number;
  /** rad. Standard error of the angle at mm of tape. */
  error(s: number): number;
  readonly notes: readonly Phrase[];
}

/** Highest power of the tape's length that is tried: beyond it a curve follows the readings' errors. */
const MOST_POWER = 4;
/** rad. Readings farther off than this from every smooth curve are not scatter: the shell itself turns between them. */
const SHAPE = Math.PI / 180;
/** rad and times its error: a reading that far from a curve which all others agree on is wrong. */
const OUTLIER = (0.8 * Math.PI) / 180;

/**
 * The tangent's angle as a smooth function of the tape, from readings at two places or more, in any order.
 *
 * The lowest power of the tape's length (two readings: an arc of a circle) that leaves no more than the readings' errors
 * explain is fitted by least squares; one power more is taken only where it lowers the residuals by more than chance does.
 * Where no such curve fits and leaving one reading out mends it, that reading is named and left out. Where nothing does
 * (flat of bottom into bilge), the readings are joined by a curve that does not overshoot: then no reading checks another.
 *
 * Throws `Refusal` (field `hull.girth`) for readings at fewer than two places; `help` is the place on the tape where one
 * more would help most.
 */
export function slopeCurve(marks: readonly SlopeMark[], help: number): SlopeCurve {
  const places = new Set(marks.map((m) => m.at)).size;
  if (places < 2) {
    throw new Refusal(
      'degenerate-hull',
      'hull.girth',
      places === 0
        ? ['no slope on the tape']
        : [
            'slopes at one place only, ',
            { mm: (marks[0] as SlopeMark).at },
            ' on the tape: nothing tells how the shell curves',
          ],
      ['one more slope, best at ', { mm: help, digits: 0 }, ' on the tape'],
    );
  }
  const whole = bestPower(marks);
  if (whole?.fits === true) return powerCurve(marks, whole, undefined);
  const outlier = oneWrong(marks);
  if (outlier !== undefined) return powerCurve(marks, outlier.power, outlier.index);
  if (whole !== undefined && whole.scatter <= SHAPE) return powerCurve(marks, whole, undefined);
  return joined(marks);
}

interface Power {
  readonly mid: number;
  readonly half: number;
  readonly c: Float64Array;
  readonly covariance: Float64Array;
  readonly freedom: number;
  /** Standard deviation of a reading of error one: 1 where no reading is to spare. */
  readonly spread: number;
  /** rad. Root mean square of the residuals over the degrees of freedom. */
  readonly scatter: number;
  readonly fits: boolean;
}

function fitPower(marks: readonly SlopeMark[], power: number): Power | undefined {
  const from = Math.min(...marks.map((m) => m.at));
  const to = Math.max(...marks.map((m) => m.at));
  const mid = (from + to) / 2;
  const half = (to - from) / 2;
  if (!(half > 0)) return undefined;
  const rows: number[] = [];
  for (const m of marks) for (let k = 0; k <= power; k++) rows.push(((m.at - mid) / half) ** k);
  const fit = leastSquares(
    rows,
    power + 1,
    marks.map((m) => m.angle),
    marks.map((m) => 1 / m.error ** 2),
  );
  if (fit === undefined) return undefined;
  const freedom = marks.length - power - 1;
  const errors = marks.reduce((sum, m) => sum + m.error ** 2, 0) / marks.length;
  const share = freedom > 0 ? fit.squares / freedom : 0;
  return {
    mid,
    half,
    c: fit.coefficients,
    covariance: fit.covariance,
    freedom,
    spread: Math.max(1, Math.sqrt(share)),
    scatter: Math.sqrt(share * errors),
    fits: freedom === 0 ? marks.length === 2 : fit.squares <= chiSquareLimit(freedom),
  };
}

/** The power that is enough; undefined where none leaves a reading to spare. */
function bestPower(marks: readonly SlopeMark[]): Power | undefined {
  if (marks.length === 2) return fitPower(marks, 1);
  const places = new Set(marks.map((m) => m.at)).size;
  const list: Power[] = [];
  for (let power = 1; power <= Math.min(MOST_POWER, places - 1, marks.length - 2); power++) {
    const fit = fitPower(marks, power);
    if (fit === undefined) break;
    list.push(fit);
  }
  let k = list.findIndex((p) => p.fits);
  if (k < 0) k = 0;
  for (let next = k + 1; next < list.length; next++) {
    const [now, more] = [list[k] as Power, list[next] as Power];
    const before = now.scatter ** 2 * now.freedom;
    const after = more.scatter ** 2 * more.freedom;
    // Powers skipped over share what they gain together.
    const gain = (before - after) / (now.freedom - more.freedom);
    if (gain > oneMoreLimit(more.freedom) * (after / more.freedom) && before > 1e-18) k = next;
  }
  return list[k];
}

/** The one reading without which all others agree: the one whose absence leaves least, if that fits and it lies far off. */
function oneWrong(marks: readonly SlopeMark[]): { index: number; power: Power } | undefined {
  if (marks.length < 5) return undefined;
  let best: { index: number; power: Power } | undefined;
  for (let i = 0; i < marks.length; i++) {
    const rest = marks.filter((_, k) => k !== i);
    const power = bestPower(rest);
    if (power === undefined || !power.fits || power.freedom < 2) continue;
    const mark = marks[i] as SlopeMark;
    const off = Math.abs(mark.angle - polynomialAt(power.c, (mark.at - power.mid) / power.half));
    if (off < Math.max(OUTLIER, 5 * mark.error)) continue;
    if (best === undefined || power.scatter < best.power.scatter) best = { index: i, power };
  }
  return best;
}

function powerCurve(marks: readonly SlopeMark[], fit: Power, outlier: number | undefined): SlopeCurve {
  const used = marks.filter((_, i) => i !== outlier);
  const from = Math.min(...used.map((m) => m.at));
  const to = Math.max(...used.map((m) => m.at));
  const { c, mid, half } = fit;
  const angle = (s: number) => polynomialAt(c, (s - mid) / half);
  const residuals = marks.map((m) => m.angle - angle(m.at));
  const n = c.length;
  const error = (s: number) => {
    let sum = 0;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) sum += (fit.covariance[i * n + j] as number) * ((s - mid) / half) ** (i + j);
    }
    return fit.spread * Math.sqrt(sum);
  };
  const notes: Phrase[] = [];
  const shape = [
    '',
    'an arc of a circle',
    'a curve of second power',
    'a curve of third power',
    'a curve of fourth power',
  ][n - 1];
  if (fit.freedom === 0) {
    notes.push([
      `The section is ${shape} through the two slopes read on the tape: no reading checks another. One more slope, best at `,
      { mm: mid, digits: 0 },
      ', would show a wrong one.',
    ]);
  } else {
    const worst = used.reduce(
      (k, m, i) =>
        Math.abs(m.angle - angle(m.at)) > Math.abs((used[k] as SlopeMark).angle - angle((used[k] as SlopeMark).at))
          ? i
          : k,
      0,
    );
    const mark = used[worst] as SlopeMark;
    notes.push([
      `The section is ${shape} laid through `,
      { count: used.length },
      ' slopes read on the tape by least squares; readings less curve: ',
      ...listed(used.map((m) => ({ rad: m.angle - angle(m.at), digits: 2 }))),
      '. Farthest off: ',
      { rad: Math.abs(mark.angle - angle(mark.at)), digits: 2 },
      ' at ',
      { mm: mark.at, digits: 0 },
      ' on the tape. Standard error of the slope in the middle of the tape: ',
      { rad: error(mid), digits: 2 },
      '.',
    ]);
    if (!fit.fits) {
      notes.push([
        'The slopes scatter by ',
        { rad: fit.scatter, digits: 2 },
        ', more than their stated error explains: have them read again before steel is cut.',
      ]);
    }
  }
  if (outlier !== undefined) {
    const wrong = marks[outlier] as SlopeMark;
    notes.push([
      'The slope read at ',
      { mm: wrong.at, digits: 0 },
      ' on the tape is ',
      { rad: Math.abs(residuals[outlier] as number), digits: 1 },
      ' away from the curve through all others and was LEFT OUT: have it read again.',
    ]);
  }
  return {
    from,
    to,
    angle,
    rate: (s) => polynomialSlope(c, (s - mid) / half) / half,
    residuals,
    error,
    notes,
    ...(outlier === undefined ? {} : { outlier }),
  };
}

const listed = <T>(items: readonly T[]): (T | string)[] =>
  items.flatMap((item, i) => (i === 0 ? [item] : [', ', item]));

/** Mark to mark, without overshoot; readings at one place are averaged. Beyond the ends the curvature stays. */
function joined(marks: readonly SlopeMark[]): SlopeCurve {
  const at = [...new Set(marks.map((m) => m.at))].sort((p, q) => p - q);
  const of = (s: number) => marks.filter((m) => m.at === s);
  const weight = (list: readonly SlopeMark[]) => list.reduce((w, m) => w + 1 / m.error ** 2, 0);
  const y = at.map((s) => of(s).reduce((sum, m) => sum + m.angle / m.error ** 2, 0) / weight(of(s)));
  const errors = at.map((s) => 1 / Math.sqrt(weight(of(s))));
  const m = monotoneSlopes(at, y);
  const first = at[0] as number;
  const last = at[at.length - 1] as number;
  const piece = (s: number) => {
    const i = intervalOf(at, s);
    const h = (at[i + 1] as number) - (at[i] as number);
    const p = (s - (at[i] as number)) / h;
    return { i, h, p };
  };
  const inside = (s: number) => {
    const { i, h, p } = piece(s);
    const [y0, y1, m0, m1] = [y[i] as number, y[i + 1] as number, (m[i] as number) * h, (m[i + 1] as number) * h];
    return y0 + p * (m0 + p * (3 * (y1 - y0) - 2 * m0 - m1 + p * (m0 + m1 - 2 * (y1 - y0))));
  };
  const slope = (s: number) => {
    const { i, h, p } = piece(s);
    const [y0, y1, m0, m1] = [y[i] as number, y[i + 1] as number, (m[i] as number) * h, (m[i + 1] as number) * h];
    return (m0 + p * (2 * (3 * (y1 - y0) - 2 * m0 - m1) + 3 * p * (m0 + m1 - 2 * (y1 - y0)))) / h;
  };
  const held = (s: number) => Math.min(last, Math.max(first, s));
  const angle = (s: number) => inside(held(s)) + (s - held(s)) * slope(held(s));
  return {
    from: first,
    to: last,
    angle,
    rate: (s) => slope(held(s)),
    residuals: marks.map((k) => k.angle - angle(k.at)),
    error: (s) => {
      const { i, p } = piece(held(s));
      return Math.hypot((1 - p) * (errors[i] as number), p * (errors[i + 1] as number));
    },
    notes: [
      [
        'No smooth curve fits the slopes within their errors: they are joined one to the next without overshoot, so no reading checks another and a wrong one would not show. More slopes between ',
        ...widest(at, y),
        ' would help most.',
      ],
    ],
  };
}

/** Ends of the stretch over which the slope turns most: where one more reading helps most. */
function widest(at: readonly number[], y: readonly number[]): Phrase {
  let k = 0;
  for (let i = 1; i + 1 < at.length; i++) {
    if (Math.abs((y[i + 1] as number) - (y[i] as number)) > Math.abs((y[k + 1] as number) - (y[k] as number))) k = i;
  }
  return [{ mm: at[k] as number, digits: 0 }, ' and ', { mm: at[k + 1] as number, digits: 0 }];
}
