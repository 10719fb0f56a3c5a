import { sectionAngle, slopeShown } from '../../../geometry/hull/attitude.ts';
import { barCurve } from '../../../geometry/hull/barcurve.ts';
import { ReadingsShell, type ReadingsSpec } from '../../../geometry/hull/readings.ts';
import { type SlopeMark, slopeCurve } from '../../../geometry/hull/slopes.ts';
import type { Phrase } from '../../../geometry/phrase.ts';
import { Refusal } from '../../../geometry/refusal.ts';
import { readJob } from '../../job/read.ts';
import { type Json, valueIn } from '../store/jsontext.ts';

const DEG = Math.PI / 180;
/** rad. Error of a slope without a ± of its own: an inclinometer read to a tenth of a degree. */
const SLOPE_ERROR = 0.1 * DEG;
/** mm. Error of a gap without a ± of its own. */
const GAP_ERROR = 0.5;
/** rad. A curve that four readings or more agree on: farther off than this asks for the reading again. */
const FAR = 0.8 * DEG;
/** rad. Two or three readings say less: a misheard figure is farther off than this, a shell seldom. */
const FAR_OF_FEW = 5 * DEG;
/** mm. Of a bend between two marks: a tighter one is no ship's plating but a misheard figure, or a knuckle. */
const TIGHTEST = 300;
/** mm. A gap that far from the arc through the others, or half of what the arc has there. */
const FAR_GAP = 2.5;

/**
 * The readings of a job as they stand, however few: what the job's own reader makes of them, without those that stand in
 * for what has not been read yet. Undefined where the hull is of another kind or the rest of the job cannot be read.
 */
export function readingsIn(job: Json | undefined): ReadingsSpec | undefined {
  const hull = valueIn(job, ['ship', 'hull']);
  if (valueIn(hull, ['kind']) !== 'readings') return undefined;
  const [girth, gaps] = [listIn(hull, ['girth']), listIn(hull, ['fore', 'gaps'])];
  const ship = valueIn(job, ['ship']) as { [key: string]: Json };
  const { compare: _compare, ...alone } = ship;
  const fore = (valueIn(hull, ['fore']) ?? {}) as { [key: string]: Json };
  const filled = {
    ...(job as { [key: string]: Json }),
    ship: {
      ...alone,
      hull: {
        ...(hull as { [key: string]: Json }),
        girth: girth.length > 0 ? girth : [{ at: '0 mm', slope: '0 deg' }],
        fore: { ...fore, gaps: gaps.length > 0 ? gaps : [{ at: '0 mm', gap: '0 mm' }] },
      },
    },
  };
  const reading = readJob(JSON.stringify(filled), () => undefined);
  if (!reading.ok || reading.job.ship.hull.kind !== 'readings') return undefined;
  const spec = reading.job.ship.hull;
  return {
    ...spec,
    girth: girth.length > 0 ? spec.girth : [],
    fore: { ...spec.fore, gaps: gaps.length > 0 ? spec.fore.gaps : [] },
  };
}

const listIn = (hull: Json | undefined, path: readonly string[]): Json[] => {
  const list = valueIn(hull, path);
  return Array.isArray(list) ? list : [];
};

const marksOf = ({ girth, up, side }: ReadingsSpec): SlopeMark[] =>
  girth.map((r) => ({ at: r.at, angle: sectionAngle(r.slope, up, side), error: r.error ?? SLOPE_ERROR }));

/**
 * Why a slope should be asked for again before it is taken: what the least-squares curve through the others has at its mark
 * (`geometry/hull/slopes.ts`), and how far off it is. `at` in mm of tape, `slope` in rad as the inclinometer shows it;
 * `instead`: place in the list of the reading that it is to replace.
 */
export function doubtSlope(spec: ReadingsSpec, at: number, slope: number, instead?: number): Phrase | undefined {
  const others = marksOf(spec).filter((_, i) => i !== instead);
  const angle = sectionAngle(slope, spec.up, spec.side);
  const same = others.find((m) => Math.abs(m.at - at) < 1);
  if (same !== undefined && Math.abs(same.angle - angle) > FAR)
    return ['there is a reading at this mark already, ', ...shown(spec, same.angle), ': ask which of the two it is'];
  if (new Set(others.map((m) => m.at)).size < 2) {
    const [only] = others;
    if (only === undefined || only.at === at) return undefined;
    const radius = Math.abs(at - only.at) / Math.abs(angle - only.angle);
    if (!(radius < TIGHTEST)) return undefined;
    return [
      { rad: Math.abs(angle - only.angle), digits: 1 },
      ' away from the one before within ',
      { mm: Math.abs(at - only.at), digits: 0 },
      ', a bend of ',
      { mm: radius, digits: 0 },
      ' radius: ask again',
    ];
  }
  const curve = slopeCurve(others, at);
  const wanted = curve.angle(at);
  const off = Math.abs(angle - wanted);
  const beyond = Math.max(0, curve.from - at, at - curve.to);
  const sure = others.length >= 4;
  const own = Math.max(...others.map((m) => m.error), SLOPE_ERROR);
  const far =
    (sure ? Math.max(FAR, 5 * own, 4 * curve.error(at)) : FAR_OF_FEW) +
    // Past the last mark the bend may grow by half of what it is.
    Math.abs(curve.rate(at)) * beyond * 0.5;
  if (off <= far) return undefined;
  return [{ rad: off, digits: 1 }, ' off its neighbours, which lead to ', ...shown(spec, wanted), ' here: ask again'];
}

function shown({ up, side }: ReadingsSpec, angle: number): Phrase {
  const slope = slopeShown(angle, up, side);
  return [{ rad: Math.abs(slope), digits: 1 }, slope < 0 ? ' falling outboard' : ' rising outboard'];
}

/** The same for a gap under the bar: `at` in mm forward of its middle, `gap` in mm. */
export function doubtGap({ fore }: ReadingsSpec, at: number, gap: number, instead?: number): Phrase | undefined {
  if (gap > 0 && gap >= Math.abs(at) / 2 && fore.touch === 'middle')
    return at === 0
      ? ['a gap in the middle of a bar that touches there: ask again']
      : ['a gap of half its distance from the middle, or more: ask again'];
  if (fore.touch !== 'middle') return undefined;
  const others = fore.gaps.filter((_, i) => i !== instead).map((g) => ({ ...g, error: g.error ?? GAP_ERROR }));
  if (others.every((g) => g.at === 0) || at === 0) return undefined;
  try {
    const wanted = barCurve(others, 'middle', fore.length).depth(at);
    if (Math.abs(gap - wanted) <= Math.max(FAR_GAP, Math.abs(wanted) / 2)) return undefined;
    return [
      { mm: Math.abs(gap - wanted), digits: 1 },
      ' off the arc through the other gaps, which has ',
      { mm: Math.max(0, wanted), digits: 1 },
      ' here: ask again',
    ];
  } catch (e) {
    if (e instanceof Refusal) return undefined;
    throw e;
  }
}

/** How far the readings are from making a shell. */
export interface Needs {
  /** Readings still needed before there is a shell at all. */
  readonly slopes: number;
  readonly gaps: number;
  /** Which one would help most. */
  readonly help: Phrase | undefined;
  /** Place in the list of slopes of one that all others agree to be wrong. */
  readonly odd: number | undefined;
}

export function needsOf(spec: ReadingsSpec): Needs {
  const slopes = Math.max(0, 2 - new Set(spec.girth.map((g) => g.at)).size);
  const away = new Set(spec.fore.gaps.filter((g) => g.at !== 0).map((g) => Math.abs(g.at))).size;
  const ends = spec.fore.touch === 'ends';
  const known = spec.fore.gaps.length + (ends && spec.fore.length !== undefined ? 1 : 0);
  const gaps = ends ? Math.max(0, 2 - known) : Math.max(0, 1 - away);
  try {
    new ReadingsShell(spec);
  } catch (e) {
    if (!(e instanceof Refusal)) throw e;
    return { slopes, gaps, help: spec.girth.length === 0 ? firstSlopes(spec) : e.expected, odd: undefined };
  }
  const odd = slopeCurve(marksOf(spec), 0).outlier;
  return { slopes, gaps, help: helpful(spec, odd), odd };
}

/** Before any has been read: either side of the lug. */
function firstSlopes({ place }: ReadingsSpec): Phrase {
  return place === undefined
    ? ['slopes either side of the lug']
    : ['slopes either side of the lug, which stands at ', { mm: place.girth, digits: 0 }, ' on the tape'];
}

/** Where there is a shell: the reading that would best check those there are. */
function helpful(spec: ReadingsSpec, odd: number | undefined): Phrase | undefined {
  const marks = spec.girth.map((g) => g.at);
  if (odd !== undefined)
    return ['the slope at ', { mm: marks[odd] as number, digits: 0 }, ' again: all others agree without it'];
  if (marks.length === 2)
    return [
      'one more slope, best at ',
      { mm: ((marks[0] as number) + (marks[1] as number)) / 2, digits: 0 },
      ' on the tape: it would show a wrong one',
    ];
  const { gaps, touch } = spec.fore;
  if (touch === 'middle') {
    const fore = gaps.filter((g) => g.at > 0).map((g) => g.at);
    const aft = gaps.filter((g) => g.at < 0).map((g) => -g.at);
    if (fore.length === 0 || aft.length === 0)
      return [
        'a gap ',
        { mm: Math.max(...fore, ...aft), digits: 0 },
        ` ${fore.length === 0 ? 'forward' : 'aft'} of the middle of the bar`,
      ];
  }
  if (spec.fore.slope === undefined) return ['the slope of the bar, fore and aft'];
  return undefined;
}

/** mm. Marks of one tape lie closer together than this. */
const FAR_MARK = 3000;

/** Why a mark should be asked for again: `at` in mm of tape. */
export function doubtMark(spec: ReadingsSpec, at: number, instead?: number): Phrase | undefined {
  const others = spec.girth.filter((_, i) => i !== instead).map((g) => Math.abs(g.at - at));
  const nearest = Math.min(...others);
  if (others.length === 0 || nearest < FAR_MARK) return undefined;
  return [{ mm: nearest, digits: 0 }, ' from the nearest other mark: ask again'];
}
