import { solveByFactor } from '../math/cholesky.ts';

/*
 * A smooth surface through scattered points over a disc: (u, v, h, weight), four numbers each, mm. It says how well it is known,
 * and does not follow ripple. Plain statistics; knows nothing of ships.
 */

/** A power more must bring the residuals down by this share, or it follows the ripple. */
const GAIN = 0.01;
/** mm. Residuals below this are the file's own digits. */
const EXACT = 0.002;
/** mm. Nothing is called a stray that lies within a few of these: a polynomial is not the shell to the last digit. */
const FINEST = 0.01;
/** Tukey's constant: residuals beyond 4.685 standard deviations carry no weight (Holland and Welsch 1977; usual value). */
const TUKEY = 4.685;

/** A polynomial height over a disc, how the points lie about it, and how well it is known. */
export interface SmoothFit {
  readonly power: number;
  readonly c: Float64Array;
  readonly scatter: number;
  readonly worst: number;
  readonly outliers: number;
  /** Lower factor of the coefficients' covariance. */
  readonly shake: Float64Array;
}

/** One power laid through the points: what the choice among them needs, and what its covariance is made from. */
interface Fit extends Omit<SmoothFit, 'shake'> {
  /** What each point counted for in the end, and what the surface leaves of it. */
  readonly counts: Float64Array;
  readonly rest: Float64Array;
  /** Factor of the normal equations. */
  readonly factor: Float64Array;
}

/**
 * The lowest power from which no higher one gains. What counts is not how near a surface comes to the points it was laid through
 * (a high power follows any ripple) but how near to those it was not shown: the disc is cut into cells, and each ninth of them is
 * foretold from the others (cross-validation by blocks; D. R. Roberts et al., Ecography 40, 2017, 913, on blocks against
 * scatter that is tied from neighbour to neighbour).
 */
export function smoothFit(data: Float64Array, radius: number, most: number): SmoothFit | undefined {
  const fits: Fit[] = [];
  let fit: Fit | undefined;
  for (const stage of STAGES) {
    const before = fits.length;
    for (let power = 2 + before; power <= Math.min(stage, most); power++) {
      if (data.length / 4 < (power + 1) * (power + 2)) break;
      const next = robustFit(data, radius, power);
      if (next === undefined) break;
      fits.push(next);
      if (next.scatter < EXACT) break;
    }
    const last = fits[fits.length - 1];
    if (last === undefined) return undefined;
    if (fits.length === before) break;
    fit = chosen(fits, foretold(data, radius, last));
    // Where a middling power already gains nothing, higher ones are not tried.
    if (fit !== last || last.scatter < EXACT) break;
  }
  if (fit === undefined) return undefined;
  const { power, c, scatter, worst, outliers } = fit;
  return { power, c, scatter, worst, outliers, shake: shakeOf(data, radius, fit) };
}

/** Powers tried at first, and beyond. */
const STAGES = [4, 6];

/** The lowest that does as well as the best, for all that the folds tell: worse by no more than chance lets the difference be. */
function chosen(fits: readonly Fit[], missed: readonly Float64Array[]): Fit {
  const rms = (k: number) => Math.sqrt((missed[k] as Float64Array).reduce((sum, v) => sum + v, 0));
  let best = 0;
  for (let k = 1; k < fits.length; k++) if (rms(k) < rms(best)) best = k;
  let at = 0;
  while (at < best && rms(at) > EXACT && clearly(missed[at] as Float64Array, missed[best] as Float64Array)) at++;
  return fits[at] as Fit;
}

/** Standard errors by which it must: Student's t for nine folds that chance exceeds once in a hundred is 2.9 (standard table). */
const CLEARLY = 2.9;

/** Whether one power misses by more than another in fold after fold: the mean difference against its standard error. */
function clearly(worse: Float64Array, better: Float64Array): boolean {
  const n = worse.length;
  let mean = 0;
  for (let f = 0; f < n; f++) mean += ((worse[f] as number) - (better[f] as number)) / n;
  let square = 0;
  for (let f = 0; f < n; f++) square += ((worse[f] as number) - (better[f] as number) - mean) ** 2;
  const whole = better.reduce((sum, v) => sum + v, 0) / n;
  return mean > Math.max(2 * GAIN * whole, CLEARLY * Math.sqrt(square / (n - 1) / n));
}

/** Blocks across the disc, and every how many of them one is left out. */
const BLOCKS = 6;
const APART = 3;

/**
 * By power from the second to that of `fit`, and by fold: share of the mean square, mm^2, by which points are missed in cells that
 * the surface was not shown. Points count as they did in `fit`. Normal equations of a lower power are the first rows of those of a higher one.
 */
function foretold(data: Float64Array, radius: number, { power, counts }: Fit): Float64Array[] {
  const n = data.length / 4;
  const terms = ((power + 1) * (power + 2)) / 2;
  const folds = APART * APART;
  const row = new Float64Array(terms);
  const a = Array.from({ length: folds + 1 }, () => new Float64Array(terms * terms));
  const b = Array.from({ length: folds + 1 }, () => new Float64Array(terms));
  const fold = (i: number): number => {
    const cell = (k: number) => Math.floor((((data[4 * i + k] as number) / radius + 1) / 2) * BLOCKS) % APART;
    return cell(0) * APART + cell(1);
  };
  const whole = folds;
  for (let i = 0; i < n; i++) {
    const w = counts[i] as number;
    if (w === 0) continue;
    powersOf((data[4 * i] as number) / radius, (data[4 * i + 1] as number) / radius, power, row);
    const f = fold(i);
    const [af, bf] = [a[f] as Float64Array, b[f] as Float64Array];
    for (let p = 0; p < terms; p++) {
      const g = w * (row[p] as number);
      bf[p] = (bf[p] as number) + g * (data[4 * i + 2] as number);
      for (let q = p; q < terms; q++) af[p * terms + q] = (af[p * terms + q] as number) + g * (row[q] as number);
    }
  }
  for (let f = 0; f < folds; f++) {
    (a[f] as Float64Array).forEach((v, k) => {
      (a[whole] as Float64Array)[k] = ((a[whole] as Float64Array)[k] as number) + v;
    });
    (b[f] as Float64Array).forEach((v, k) => {
      (b[whole] as Float64Array)[k] = ((b[whole] as Float64Array)[k] as number) + v;
    });
  }
  const total = counts.reduce((sum, w) => sum + w, 0);
  const out: Float64Array[] = [];
  for (let low = 2; low <= power; low++) {
    const m = ((low + 1) * (low + 2)) / 2;
    const models = Array.from({ length: folds }, (_, f) => {
      const rest = new Float64Array(m * m);
      const right = new Float64Array(m);
      for (let p = 0; p < m; p++) {
        right[p] = (b[whole]?.[p] as number) - (b[f]?.[p] as number);
        for (let q = p; q < m; q++)
          rest[p * m + q] = (a[whole]?.[p * terms + q] as number) - (a[f]?.[p * terms + q] as number);
      }
      const factor = cholesky(rest, m);
      return factor === undefined ? undefined : solveByFactor(factor, right, m);
    });
    const squares = new Float64Array(folds);
    for (let i = 0; i < n; i++) {
      const w = counts[i] as number;
      if (w === 0) continue;
      const f = fold(i);
      const c = models[f];
      if (c === undefined) {
        squares[f] = Number.POSITIVE_INFINITY;
        continue;
      }
      powersOf((data[4 * i] as number) / radius, (data[4 * i + 1] as number) / radius, low, row);
      let h = data[4 * i + 2] as number;
      for (let p = 0; p < m; p++) h -= (row[p] as number) * (c[p] as number);
      squares[f] = (squares[f] as number) + (w * h * h) / Math.max(total, 1e-300);
    }
    out.push(squares);
  }
  return out;
}

/** 1, x, y, x^2, x y, y^2, ... up to a power. */
function powersOf(x: number, y: number, power: number, row: Float64Array): void {
  row[0] = 1;
  for (let d = 1, k = 1; d <= power; d++) {
    for (let j = 0; j < d; j++, k++) row[k] = x * (row[k - d] as number);
    row[k] = y * (row[k - d - 1] as number);
    k++;
  }
}

/** Weighted least squares by the normal equations (the powers are of numbers within 1), reweighted by Tukey's biweight. */
function robustFit(data: Float64Array, radius: number, power: number): Fit | undefined {
  const n = data.length / 4;
  const terms = ((power + 1) * (power + 2)) / 2;
  const row = new Float64Array(terms);
  const rest = new Float64Array(n);
  const tame = new Float64Array(n).fill(1);
  const fill = (i: number): void =>
    powersOf((data[4 * i] as number) / radius, (data[4 * i + 1] as number) / radius, power, row);
  let c: Float64Array | undefined;
  let scatter = 0;
  let inverse: Float64Array | undefined;
  for (let round = 0; round < 6; round++) {
    const a = new Float64Array(terms * terms);
    const b = new Float64Array(terms);
    for (let i = 0; i < n; i++) {
      const w = (data[4 * i + 3] as number) * (tame[i] as number);
      if (w === 0) continue;
      fill(i);
      const h = data[4 * i + 2] as number;
      for (let p = 0; p < terms; p++) {
        const f = w * (row[p] as number);
        b[p] = (b[p] as number) + f * h;
        for (let q = p; q < terms; q++) a[p * terms + q] = (a[p * terms + q] as number) + f * (row[q] as number);
      }
    }
    const factor = cholesky(a, terms);
    if (factor === undefined) return undefined;
    c = solveByFactor(factor, b, terms);
    inverse = factor;
    for (let i = 0; i < n; i++) {
      fill(i);
      let h = data[4 * i + 2] as number;
      for (let p = 0; p < terms; p++) h -= (row[p] as number) * (c[p] as number);
      rest[i] = h;
    }
    const size = rest.map(Math.abs).sort();
    const next = 1.4826 * (size[n >> 1] as number);
    const settled = Math.abs(next - scatter) < 1e-3 * next;
    scatter = next;
    if (settled || scatter < 1e-9) break;
    const limit = TUKEY * Math.max(scatter, FINEST);
    for (let i = 0; i < n; i++) {
      const u = (rest[i] as number) / limit;
      tame[i] = Math.abs(u) < 1 ? (1 - u * u) ** 2 : 0;
    }
  }
  if (c === undefined || inverse === undefined) return undefined;
  // The spread of those that count: where most lie exactly on the surface the median says nothing of the others.
  let sum = 0;
  let total = 0;
  let worst = 0;
  let strays = 0;
  const limit = TUKEY * Math.max(scatter, FINEST);
  for (let i = 0; i < n; i++) {
    const r = Math.abs(rest[i] as number);
    if (r > limit) strays++;
    else {
      const w = data[4 * i + 3] as number;
      sum += w * r * r;
      total += w;
      worst = Math.max(worst, r);
    }
  }
  const spreadOf = Math.sqrt((sum / Math.max(total, 1e-300)) * (n / (n - terms)));
  const counts = tame.map((t, i) => t * (data[4 * i + 3] as number));
  return { power, c, scatter: spreadOf, worst, outliers: strays / n, counts, rest, factor: inverse };
}

/** Cells across the disc within which scatter may be tied together: the coarsest that still leaves cells enough to tell, and finer. */
const CELLS = [12, 8, 6, 4];

/**
 * Lower factor of the covariance of the coefficients of a weighted fit: A^-1 M A^-1 with A = sum w x x' (W. H. Greene, Econometric Analysis, on
 * weighted and clustered least squares; standard). M = s^2 sum w^2 x x' where the scatter is free from point to point. A scan's
 * ripple is not: neighbours stray together, and there are fewer points than corners. How much more the estimate strays is told by
 * the scores summed cell by cell (the clustered M), for cells of several sizes: `tied` is the greatest ratio of the two, never
 * less than 1. Ripple longer than the coarsest cells is taken for shape.
 */
function shakeOf(data: Float64Array, radius: number, { power, c, scatter, counts, rest, factor }: Fit): Float64Array {
  const terms = c.length;
  const free = new Float64Array(terms * terms);
  const x = new Float64Array(terms);
  const scores = CELLS.map((across) => new Float64Array(across * across * terms));
  const held = CELLS.map((across) => new Uint8Array(across * across));
  for (let i = 0; i < rest.length; i++) {
    const w = counts[i] as number;
    if (w === 0) continue;
    const [u, v] = [(data[4 * i] as number) / radius, (data[4 * i + 1] as number) / radius];
    powersOf(u, v, power, x);
    const r = w * (rest[i] as number);
    for (let k = 0; k < CELLS.length; k++) {
      const across = CELLS[k] as number;
      const cell = Math.floor(((u + 1) / 2) * across) * across + Math.floor(((v + 1) / 2) * across);
      const score = scores[k] as Float64Array;
      (held[k] as Uint8Array)[cell] = 1;
      for (let p = 0; p < terms; p++)
        score[cell * terms + p] = (score[cell * terms + p] as number) + r * (x[p] as number);
    }
    const f = (w * scatter) ** 2;
    for (let p = 0; p < terms; p++) {
      const g = f * (x[p] as number);
      for (let q = p; q < terms; q++) free[p * terms + q] = (free[p * terms + q] as number) + g * (x[q] as number);
    }
  }
  const covariance = between(factor, whole(free, terms), terms);
  let tied = 1;
  CELLS.forEach((across, k) => {
    const size = (held[k] as Uint8Array).reduce((n, h) => n + h, 0);
    // As many cells as coefficients are fitted through, whatever the scatter: too few say nothing.
    if (size < 2 * terms) return;
    const spare = size / (size - terms);
    const score = scores[k] as Float64Array;
    const clustered = new Float64Array(terms * terms);
    for (let cell = 0; cell < across * across; cell++) {
      if ((held[k] as Uint8Array)[cell] === 0) continue;
      for (let p = 0; p < terms; p++) {
        const g = spare * (score[cell * terms + p] as number);
        for (let q = p; q < terms; q++)
          clustered[p * terms + q] = (clustered[p * terms + q] as number) + g * (score[cell * terms + q] as number);
      }
    }
    const more = between(factor, whole(clustered, terms), terms);
    let ratio = 0;
    for (let j = 0; j < terms; j++)
      ratio += (more[j * terms + j] as number) / Math.max(covariance[j * terms + j] as number, 1e-300) / terms;
    tied = Math.max(tied, ratio);
  });
  const scaled = covariance.map((v) => v * tied);
  return cholesky(scaled, terms) ?? diagonalOf(scaled, terms);
}

/** A symmetric matrix whose upper half is given, whole. */
function whole(a: Float64Array, n: number): Float64Array {
  const out = a.slice();
  for (let p = 0; p < n; p++) for (let q = 0; q < p; q++) out[p * n + q] = out[q * n + p] as number;
  return out;
}

/** A^-1 M A^-1, A by its factor. */
function between(factor: Float64Array, m: Float64Array, n: number): Float64Array {
  const half = new Float64Array(n * n);
  // M is symmetric: its rows are its columns, and so are those of the result.
  for (let i = 0; i < n; i++) half.set(solveByFactor(factor, m.slice(i * n, (i + 1) * n), n), i * n);
  const out = new Float64Array(n * n);
  for (let j = 0; j < n; j++) {
    const column = Float64Array.from({ length: n }, (_, i) => half[i * n + j] as number);
    out.set(solveByFactor(factor, column, n), j * n);
  }
  return out;
}

/** Where the covariance is none by its last digits (a surface without scatter), its diagonal does. */
function diagonalOf(a: Float64Array, n: number): Float64Array {
  const out = new Float64Array(n * n);
  for (let i = 0; i < n; i++) out[i * n + i] = Math.sqrt(Math.max(0, a[i * n + i] as number));
  return out;
}

/** Lower factor of a symmetric positive matrix whose upper half is given; undefined where it is not positive. */
function cholesky(a: Float64Array, n: number): Float64Array | undefined {
  const l = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let s = a[j * n + i] as number;
      for (let k = 0; k < j; k++) s -= (l[i * n + k] as number) * (l[j * n + k] as number);
      if (i === j) {
        if (!(s > 1e-13 * (a[i * n + i] as number))) return undefined;
        l[i * n + i] = Math.sqrt(s);
      } else l[i * n + j] = s / (l[j * n + j] as number);
    }
  }
  return l;
}
