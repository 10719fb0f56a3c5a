import { inches, type Sourced } from './sourced.ts';

/** Up to and with this thickness (mm) of the thinner part, at least this leg (mm). */
export interface LeastLegRow {
  readonly upTo: number;
  readonly leg: number;
}

/** Least single-pass fillet, as printed in each unit system; the last row has no upper end. */
export const LEAST_LEG: Sourced<{ readonly metric: readonly LeastLegRow[]; readonly us: readonly LeastLegRow[] }> = {
  value: {
    metric: [
      { upTo: 6, leg: 3 },
      { upTo: 13, leg: 5 },
      { upTo: 19, leg: 6 },
      { upTo: Number.POSITIVE_INFINITY, leg: 8 },
    ],
    us: [
      { upTo: inches(1 / 4), leg: inches(1 / 8) },
      { upTo: inches(1 / 2), leg: inches(3 / 16) },
      { upTo: inches(3 / 4), leg: inches(1 / 4) },
      { upTo: Number.POSITIVE_INFINITY, leg: inches(5 / 16) },
    ],
  },
  source: 'AISC 360, Table J2.4 (thickness of the thinner part, single-pass weld)',
  standing: 'source',
};

/** How a leg is called on the job. */
export type LegPractice = 'metric' | 'us';

/**
 * Share by which a plate may be over the end of a row through round-off alone: 3/4 in read from 1.905 cm comes out a hair over 19.05 mm.
 * Far below any thickness tolerance of a mill.
 */
const ROW_ROUND_OFF = 1e-6;

/**
 * Least leg of a fillet by the thickness of the thinner part joined, mm. Source: `LEAST_LEG`.
 * The part may also be met by a rule on the thicker part (AWS D1.1 without low hydrogen; from memory, not applied).
 */
export function leastLeg(thinner: number, practice: LegPractice = 'metric'): number {
  const rows = LEAST_LEG.value[practice];
  const row = rows.find((each) => thinner <= each.upTo * (1 + ROW_ROUND_OFF));
  if (row === undefined) throw new RangeError(`thickness must be a number, got ${thinner}`);
  return row.leg;
}

/** A thin edge carries a leg as thick as itself; from 6.35 mm (1/4 in) on, 1.6 mm (1/16 in) less. */
export const MOST_LEG_AT_EDGE: Sourced<{ readonly thin: number; readonly less: number }> = {
  value: { thin: inches(1 / 4), less: inches(1 / 16) },
  source: 'AISC 360, J2.2b, fillet along an edge; from memory, not verified',
  standing: 'not-verified',
};

/**
 * Greatest leg of a fillet that runs along a plate's edge, mm: so that the edge stays visible and is not melted away.
 * A foot's own fillets stand on the faces of the plate, which sets no such bound; it is said of a doubler's edge or a cheek
 * plate's. A default to change. Source: `MOST_LEG_AT_EDGE`.
 */
export function mostLegAtEdge(thickness: number): number {
  const { thin, less } = MOST_LEG_AT_EDGE.value;
  return thickness < thin ? thickness : thickness - less;
}

/** Step to which legs are called up: whole millimetres, or sixteenths of an inch. Common practice, no source. */
export const LEG_STEP: Sourced<Readonly<Record<LegPractice, number>>> = {
  value: { metric: 1, us: inches(1 / 16) },
  source: 'common practice, no source',
  standing: 'common-practice',
};

/** Share of a step by which a leg may exceed a step through round-off alone. */
const STEP_ROUND_OFF = 1e-9;

/** The leg as called up, mm: the next whole step, never below what is needed. */
export function calledLeg(leg: number, practice: LegPractice = 'metric'): number {
  const step = LEG_STEP.value[practice];
  return Math.ceil(leg / step - STEP_ROUND_OFF) * step;
}
