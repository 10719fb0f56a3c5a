import { dot } from '../../../geometry/math/vec.ts';
import type { Phrase } from '../../../geometry/phrase.ts';
import type { Display } from '../../job/types.ts';
import { internalPer } from '../../job/units.ts';
import { sideNames, spotName } from '../text/sides.ts';
import type { ScreenFitting, ScreenPlan } from '../worker/protocol.ts';
import { type Entry, entryIn, type Part, type Taken } from './course.ts';

/** A place where the feeler goes. */
export interface Spot {
  readonly s: number;
  readonly name: string;
  /** As the job file writes it. */
  readonly mark: Entry;
}

const SIDES = ['face-', 'end+', 'face+', 'end-'] as const;

/** The corners, three places along each face and the middle of each end: those of the record of the fit-up. */
export function feelerSpots(fitting: ScreenFitting, display: Display): Spot[] {
  const names = sideNames(fitting);
  const { corners } = fitting.root;
  const quarter = (end: 'end-' | 'end+'): string => `${names[end].replace(/ end$/, '')} quarter`;
  return SIDES.flatMap((side, k) => {
    const [from, to] = [corners[k] as number, corners[k + 1] as number];
    // face- runs from end- to end+, face+ back again.
    const [near, far] = k === 0 ? (['end-', 'end+'] as const) : (['end+', 'end-'] as const);
    const places: readonly (readonly [number, string])[] = side.startsWith('face')
      ? [
          [0.25, quarter(near)],
          [0.5, 'middle'],
          [0.75, quarter(far)],
        ]
      : [[0.5, 'middle']];
    const spot = (s: number, name: string): Spot => ({ s, name, mark: entryIn(inUnits(s, display), 'length') });
    return [
      spot(from, spotName(fitting, from, names)),
      ...places.map(([share, words]) => spot(from + share * (to - from), `${names[side]}, ${words}`)),
    ];
  });
}

/** The name of the place at a mark along the root, where the feeler goes to one there. */
export const spotAt = (spots: readonly Spot[], mark: Entry): string | undefined =>
  spots.find((spot) => Math.abs(mark.value - spot.s) < SAME_SPOT)?.name;

/** rad, mm: less than an angle finder and a feeler gauge read. */
const [SAME_ANGLE, SAME_GAP] = [0.0018, 0.06];

/** Whether what stands in the job as read off the lug is the plan's own, to the rounding: put in to be written over. */
export function untouched({ asBuilt }: ScreenFitting): boolean {
  if (asBuilt === null) return false;
  return asBuilt.offPlanned < SAME_ANGLE && asBuilt.gaps.every((g) => Math.abs(g.gap - g.planned) < SAME_GAP);
}

const inUnits = (mm: number, display: Display): string =>
  display === 'us' ? `${Number((mm / internalPer('in')).toFixed(2))} in` : `${Number(mm.toFixed(1))} mm`;

/** mm. Marks nearer than this are the same place to a feeler. */
const SAME_SPOT = 4;

/** The places where nothing has been felt yet, in order. */
export const unfelt = (spots: readonly Spot[], taken: readonly Taken[]): Spot[] =>
  spots.filter((spot) => !taken.some((t) => t.mark !== null && Math.abs(t.mark.value - spot.s) < SAME_SPOT));

/** rad. A lug that was tacked to its marks stands nearer to the plan than this: farther off, the figure was misheard or the lug is wrong. */
const FAR = (5 * Math.PI) / 180;

/** Why a reading off the tacked lug should be asked for again: held against what the plan has there. */
export function doubtFitup(
  part: Part,
  mark: Entry | null,
  value: Entry,
  fitting: ScreenFitting,
  { up, job }: Pick<ScreenPlan, 'up' | 'job'>,
): Phrase | undefined {
  const names = sideNames(fitting);
  const against = (planned: number, plus: string, minus: string): Phrase | undefined => {
    if (Math.abs(value.value - planned) <= FAR) return undefined;
    return [
      { rad: Math.abs(value.value - planned), digits: 1 },
      ' off the plan, which has ',
      { rad: Math.abs(planned), digits: 1 },
      `, ${planned < 0 ? minus : plus}: ask again`,
    ];
  };
  const rise = (v: number): number => Math.asin(Math.max(-1, Math.min(1, v)));
  switch (part) {
    case 'face':
      return against(rise(dot(fitting.frame.face, up)), `${names['face+']} looks up`, `${names['face-']} looks up`);
    case 'foot':
      return against(rise(dot(fitting.frame.foot, up)), `${names['end+']} higher`, `${names['end-']} higher`);
    case 'turned':
      return Math.abs(value.value) <= FAR
        ? undefined
        : ['turned by ', { rad: Math.abs(value.value), digits: 1 }, ' from its marks: ask again'];
    case 'feelers': {
      const { perimeter } = fitting.joint;
      const s = mark?.value ?? 0;
      if (s > perimeter) return ['a mark past the end of the root, which is ', { mm: perimeter }, ' round: ask again'];
      const near = fitting.joint.points.reduce((p, q) => (Math.abs(q.s - s) < Math.abs(p.s - s) ? q : p));
      if (value.value <= job.limits.recutGap) return undefined;
      return [
        'over ',
        { mm: job.limits.recutGap },
        ', the limit for a new cut, where ',
        { mm: near.opening },
        ' was planned: ask again',
      ];
    }
    default:
      return undefined;
  }
}
