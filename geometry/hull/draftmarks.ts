import { chiSquareLimit, leastSquares } from '../math/leastsquares.ts';
import type { Phrase } from '../phrase.ts';
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
  /** Readings to spare; with none no reading checks another. */
  readonly freedom: number;
  /** True where the residuals are more than the readings' errors explain (95 % of chi-square). */
  readonly scattered: boolean;
  /** Where one more reading would make the attitude surest: mm, ship axes. */
  readonly next: Place;
}

/** rad. A heel known no better than this, one standard deviation, is none to plan by: an eye on the horizon tells more. */
const BARELY = (5 * Math.PI) / 180;

type Place = Pick<DraftMark, 'station' | 'offset'>;

/** mm. A draft read between waves. A default; a mark may carry its own error. */
export const READING = 20;

/**
 * Drafts at the perpendiculars and heel from drafts read at three marks or more, by least squares: the water is the plane
 * z = draftAft + (draftForward - draftAft) x / lpp - y tan(heel). Two marks on the centreline give the drafts alone.
 * Throws `Refusal` (field `marks`) where the marks do not tell, with the reading that would.
 */
export function attitudeFrom(marks: readonly DraftMark[], lpp: number): Attitude {
  const level = marks.every((m) => m.offset === 0);
  const fit = solve(marks, lpp, level);
  const next = mostHelpful(marks, lpp, level);
  if (fit === undefined) {
    throw new Refusal(
      'degenerate-hull',
      'marks',
      [{ count: marks.length }, ' draft marks that leave trim or heel open'],
      next === undefined
        ? ['drafts at two stations at least, and on both sides where the ship heels']
        : ['one more draft, best ', ...placeWords(next)],
    );
  }
  const [draftAft, draftForward, tan = 0] = fit.coefficients as unknown as [number, number, number?];
  const columns = fit.coefficients.length;
  const freedom = marks.length - columns;
  const spread = freedom > 0 ? Math.max(1, Math.sqrt(fit.squares / freedom)) : 1;
  const error = (k: number) => (k < columns ? spread * Math.sqrt(fit.covariance[k * columns + k] as number) : 0);
  const heelError = error(2) / (1 + tan * tan);
  if (heelError > BARELY) {
    throw new Refusal(
      'degenerate-hull',
      'marks',
      ['draft marks so close together that they tell the heel only to ', { rad: heelError }],
      ['a draft mark as far out to either side as there is one'],
    );
  }
  return {
    draftAft,
    draftForward,
    heel: Math.atan(tan),
    errors: { draftAft: error(0), draftForward: error(1), heel: heelError },
    residuals: marks.map((m) => m.draft - draftAft - ((draftForward - draftAft) * m.station) / lpp + m.offset * tan),
    freedom,
    scattered: freedom > 0 && fit.squares > chiSquareLimit(freedom),
    next: next ?? { station: 0, offset: 0 },
  };
}

function solve(marks: readonly DraftMark[], lpp: number, level: boolean) {
  const columns = level ? 2 : 3;
  return leastSquares(
    marks.flatMap((m) => [1 - m.station / lpp, m.station / lpp, ...(level ? [] : [-m.offset])]),
    columns,
    marks.map((m) => m.draft),
    marks.map((m) => 1 / (m.error ?? READING) ** 2),
  );
}

/**
 * Of the places where a draft can be read the one at which one more leaves the water's plane surest: the sum of the variances of its
 * height at the ends and sides of the ship is least. A draft is read on the centreline at the ends of the ship, and beside it where a mark
 * that was read says how broad she is there, on either side: a hull narrows towards its ends, and nobody reads a mark in the open
 * water. Undefined where one more is not enough.
 */
function mostHelpful(marks: readonly DraftMark[], lpp: number, level: boolean): Place | undefined {
  const side = Math.max(...marks.map((m) => Math.abs(m.offset)));
  const places = [0, lpp].flatMap((station) =>
    (level ? [0] : [side, -side, 0]).map((offset): Place => ({ station, offset })),
  );
  const readable: Place[] = [
    ...[0, lpp].map((station) => ({ station, offset: 0 })),
    ...marks
      .filter((m) => m.offset !== 0)
      .flatMap(({ station, offset }) => [offset, -offset].map((o) => ({ station, offset: o }))),
  ];
  let best: { readonly place: Place; readonly variance: number } | undefined;
  for (const place of readable) {
    const fit = solve([...marks, { ...place, draft: 0 }], lpp, level);
    if (fit === undefined) continue;
    const n = level ? 2 : 3;
    let variance = 0;
    for (const { station, offset } of places) {
      const row = [1 - station / lpp, station / lpp, -offset];
      for (let i = 0; i < n; i++)
        for (let j = 0; j < n; j++)
          variance += (row[i] as number) * (row[j] as number) * (fit.covariance[i * n + j] as number);
    }
    // Symmetrical places help alike: the first of them is named, whatever the last digit says.
    if (best === undefined || variance < best.variance * (1 - 1e-9)) best = { place, variance };
  }
  return best?.place;
}

/** `at station 0.0 mm, 4.500 m to starboard` */
export const placeWords = ({ station, offset }: Place): Phrase => [
  'at station ',
  { mm: station },
  ...(offset === 0
    ? [' on the centreline']
    : [', ', { mm: Math.abs(offset) }, offset > 0 ? ' to port' : ' to starboard']),
];

/** Where one more reading helps most: a mark that was read, by its name, or a place that had none. */
function helpWords(marks: readonly (DraftMark & { readonly name?: string })[], next: Place): Phrase {
  const known = marks.find(({ station, offset }) => station === next.station && offset === next.offset);
  if (known === undefined) return ['. One more draft would help most ', ...placeWords(next), '.'];
  return [
    '. Reading again would help most at the mark ',
    ...(known.name === undefined ? placeWords(known) : [JSON.stringify(known.name)]),
    '.',
  ];
}

/** Marks as read, each with what the plane leaves of it, and the attitude they gave: what a person should know of it. */
export function draftNotes(
  marks: readonly (DraftMark & { readonly name?: string; readonly residual: number })[],
  { errors, freedom, scattered, next }: Pick<Attitude, 'errors' | 'freedom' | 'scattered' | 'next'>,
): Phrase[] {
  const worst = marks.reduce((p, q) => (Math.abs(q.residual) > Math.abs(p.residual) ? q : p));
  const named = (mark: (typeof marks)[number]): Phrase =>
    mark.name === undefined ? placeWords(mark) : [JSON.stringify(mark.name)];
  const sure: Phrase = [
    ' Known by that to, one standard deviation: draft aft ',
    { mm: errors.draftAft, digits: 0 },
    ', draft forward ',
    { mm: errors.draftForward, digits: 0 },
    ...(errors.heel > 0 ? [', heel ', { rad: errors.heel, digits: 2 }] : []),
    ...helpWords(marks, next),
  ];
  if (freedom === 0) {
    return [['Trim and heel follow from ', { count: marks.length }, ' draft marks: none checks another.', ...sure]];
  }
  return [
    [
      "The water's plane was laid through ",
      { count: marks.length },
      ' draft marks by least squares; readings less plane: ',
      ...marks.flatMap(
        (m, i): Phrase => (i === 0 ? [{ mm: m.residual, digits: 0 }] : [', ', { mm: m.residual, digits: 0 }]),
      ),
      '. Farthest off: ',
      ...named(worst),
      ', by ',
      { mm: Math.abs(worst.residual), digits: 0 },
      '.',
      ...sure,
    ],
    ...(scattered
      ? [
          [
            "The draft marks scatter by more than the readings' errors explain: a wrong reading, a mark that is not where it is said to be, or a hull that hogs or sags. Have them read again before steel is cut.",
          ],
        ]
      : []),
  ];
}
