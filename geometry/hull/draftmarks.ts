import { leastSquares } from '../math/leastsquares.ts';
import { Refusal } from '../refusal.ts';

/** A draft read at a mark: station and distance from the centreline (to port positive), mm; draft above the baseline, mm. */
export interface DraftMark {
  readonly station: number;
  readonly offset: number;
  readonly draft: number;
  /** One standard deviation of the reading, mm. */
  readonly error?: number;
}

export interface Attitude {
  /** mm, at the perpendiculars. */
  readonly draftAft: number;
  readonly draftForward: number;
  /** rad, positive with the starboard side down; 0 where all marks lie on the centreline. */
  readonly heel: number;
  /** One standard deviation of each, from the readings' errors, or from their scatter where that is more. */
  readonly errors: { readonly draftAft: number; readonly draftForward: number; readonly heel: number };
  /** Reading less plane, mm, in the order given: a hull that hogs or sags, or a wrong reading, shows here. */
  readonly residuals: readonly number[];
}

/** mm. A draft read between waves. A default; a mark may carry its own error. */
const READING = 20;

/**
 * Drafts at the perpendiculars and heel from drafts read at three marks or more, by least squares: the water is the plane
 * z = draftAft + (draftForward - draftAft) x / lpp - y tan(heel). Two marks on the centreline give the drafts alone.
 * Throws `Refusal` (field `marks`) where the marks do not tell.
 */
export function attitudeFrom(marks: readonly DraftMark[], lpp: number): Attitude {
  const level = marks.every((m) => m.offset === (marks[0]?.offset ?? 0)) && (marks[0]?.offset ?? 0) === 0;
  const columns = level ? 2 : 3;
  const rows = marks.flatMap((m) => [1 - m.station / lpp, m.station / lpp, ...(level ? [] : [-m.offset])]);
  const weights = marks.map((m) => 1 / (m.error ?? READING) ** 2);
  const fit = leastSquares(
    rows,
    columns,
    marks.map((m) => m.draft),
    weights,
  );
  if (fit === undefined) {
    throw new Refusal(
      'degenerate-hull',
      'marks',
      [{ count: marks.length }, ' draft marks that leave trim or heel open'],
      ['drafts at two stations at least, and on both sides where the ship heels'],
    );
  }
  const [draftAft, draftForward, tan = 0] = fit.coefficients as unknown as [number, number, number?];
  const freedom = marks.length - columns;
  const spread = freedom > 0 ? Math.max(1, Math.sqrt(fit.squares / freedom)) : 1;
  const error = (k: number) => (k < columns ? spread * Math.sqrt(fit.covariance[k * columns + k] as number) : 0);
  return {
    draftAft,
    draftForward,
    heel: Math.atan(tan),
    errors: { draftAft: error(0), draftForward: error(1), heel: error(2) / (1 + tan * tan) },
    residuals: marks.map((m) => m.draft - draftAft - ((draftForward - draftAft) * m.station) / lpp + m.offset * tan),
  };
}
