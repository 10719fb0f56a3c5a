import { cross, dot, length, sub } from '../../geometry/math/vec.ts';
import { shellOf } from '../plan/plan.ts';
import { fromFrameAt, nearestFrame } from './behind.ts';
import type { Context } from './context.ts';
import { atMost, degrees, fixed, gapLength, inches, shopLength, thirtySeconds } from './figures.ts';
import { flatFoot } from './flatten.ts';
import { acrossKeel, girthFrom } from './markout-place.ts';
import { type Reading, type ReadingLimits, readingLimits } from './record-limits.ts';
import { placeName, sideNames, sideWay } from './sides.ts';
import { plainText } from './text.ts';

/* What is measured on the tacked lug: what the job takes back (`asBuilt`, in the order of its fields), and what stays on paper. */

/** A reading that the job takes back: what it is, the field it goes into, what was planned, how far off it may be, what is written. */
export type ReadingRow = readonly [what: string, field: string, planned: string, within: string, found: string];

/** The angles, by their fields under `asBuilt`. */
export function readingRows({ plan, fitting }: Context): ReadingRow[] {
  const limits = readingLimits(plan, fitting);
  const names = sideNames(fitting);
  const either = (minus: 'face-' | 'end-', plus: 'face+' | 'end+') =>
    `${minus} (${sideWay(names[minus])}) / ${plus} (${sideWay(names[plus])})`;
  const signed = (reading: Reading, minus: string, plus: string, none: string): [string, string] => {
    const { planned } = limits[reading];
    const flat = degrees(Math.abs(planned), 1) === '0.0°';
    return [degrees(Math.abs(planned), 1), flat ? none : planned > 0 ? plus : minus];
  };
  const [lean, up] = signed('faceLean', 'face-', 'face+', 'plumb');
  const [rise, higher] = signed('footRise', 'end-', 'end+', 'level');
  return [
    [
      'Face of the plate, from plumb',
      'face.fromPlumb',
      lean,
      withinText(limits.faceLean, '(face- up)', '(face+ up)'),
      '',
    ],
    ['Face that looks up', 'face.looksUp', up, 'circle one', either('face-', 'face+')],
    [
      'Sight line (foot), from level',
      'foot.fromLevel',
      rise,
      withinText(limits.footRise, '(end- up)', '(end+ up)'),
      '',
    ],
    ['End that is higher', 'foot.higher', higher, 'circle one', either('end-', 'end+')],
    [
      'Foot turned alone, face and rise as planned; clockwise from the water is minus',
      'turned',
      degrees(0, 1),
      withinText(limits.turned, 'clockwise', 'anticlockwise'),
      '',
    ],
  ];
}

const TENTH = Math.PI / 1800;
/** Of a limit that is met on one side alone: the other way no check fails as far as a reading is followed. */
const OTHER_WAY = '; the other way the gaps decide';

/**
 * Limits to the tenth of a degree, on the safe side of what was worked out: `2.8° (face- up) to 2.8° (face+ up)`; of one that is met on one
 * side alone only that.
 */
export function withinText({ planned, within, binds }: ReadingLimits, minus: string, plus: string): string {
  if (within === undefined) return 'the plan itself fails: see calculation';
  if (!binds.from && !binds.to) return 'the gaps decide';
  const from = Math.ceil(within.from / TENTH - 1e-6) * TENTH;
  const to = Math.floor(within.to / TENTH + 1e-6) * TENTH;
  // A plan that has next to nothing in hand: no tenth of a degree within limits but what it says itself.
  if (from > to) return `${degrees(Math.abs(planned), 1)}, no more`;
  const named = (value: number) => `${degrees(Math.abs(value), 1)} ${value < 0 ? minus : plus}`;
  if (!binds.from) return `not ${to < 0 ? 'under' : 'over'} ${named(to)}${OTHER_WAY}`;
  if (!binds.to) return `not ${from > 0 ? 'under' : 'over'} ${named(from)}${OTHER_WAY}`;
  if (from >= 0 || to <= 0) {
    const [least, most] = [Math.abs(from), Math.abs(to)].sort((p, q) => p - q) as [number, number];
    return `${degrees(least, 1)} to ${degrees(most, 1)} ${to <= 0 ? minus : plus}`;
  }
  return `${named(from)} to ${named(to)}`;
}

/** A place for the feeler gauge. */
export interface GapSpot {
  readonly name: string;
  /** mm along the root. */
  readonly s: number;
  readonly planned: number;
}

/** Where the feeler goes: the corners, three places between them on the faces, one on the ends, in the order of s. */
export function gapSpots({ fitting }: Context): GapSpot[] {
  const { root, joint } = fitting;
  const names = sideNames(fitting);
  const near = (s: number) => joint.points.reduce((best, p) => (Math.abs(p.s - s) < Math.abs(best.s - s) ? p : best));
  return (['face-', 'end+', 'face+', 'end-'] as const).flatMap((side, k) => {
    const from = root.corners[k] as number;
    const to = root.corners[k + 1] as number;
    const spot = (name: string, s: number): GapSpot => ({ name, s, planned: near(s).opening });
    const shares = side.startsWith('face') ? [0.25, 0.5, 0.75] : [0.5];
    return [
      spot(placeName(fitting, from), from),
      ...shares.map((share) => {
        const end = share < 0.5 === k < 2 ? 'end-' : 'end+';
        return spot(
          `${names[side]}, ${share === 0.5 ? 'middle' : `${sideWay(names[end])} quarter`}`,
          from + share * (to - from),
        );
      }),
    ];
  });
}

/** The letter of a place for the feeler, in the order of s. */
export const spotLetter = (k: number): string => String.fromCharCode('a'.charCodeAt(0) + k);

/** A mark along the root as the job file takes it back: one unit, however long the root. */
export const markText = (s: number, { plan }: Context): string =>
  plan.job.display === 'us' ? `${fixed(inches(s), 2)} in` : `${fixed(s, 0)} mm`;

/** The same as it stands on the record: by the tape first in US units, `2 31/32 (2.95 in)`. */
export const markCell = (s: number, context: Context): string =>
  context.plan.job.display === 'us' ? `${thirtySeconds(s)} (${markText(s, context)})` : markText(s, context);

/** The lean of the face, planned and allowed: what an angle finder may still show when the lug is welded. */
export function leanText(context: Context): string {
  const { plan, fitting } = context;
  const { faceLean } = readingLimits(plan, fitting);
  const names = sideNames(fitting);
  const up = (face: 'face-' | 'face+') => `(${sideWay(names[face])} face up)`;
  const flat = degrees(Math.abs(faceLean.planned), 1) === degrees(0, 1);
  const planned = `planned ${degrees(Math.abs(faceLean.planned), 1)}${flat ? '' : ` ${up(faceLean.planned < 0 ? 'face-' : 'face+')}`}`;
  if (faceLean.within === undefined) return `${planned}; the plan itself fails`;
  if (!faceLean.binds.from && !faceLean.binds.to) return planned;
  return `${planned}; allowed ${withinText(faceLean, up('face-'), up('face+'))}`;
}

/** A planned gap; nothing where it is less than half a thousandth of an inch. */
export const gapText = (mm: number, { plan }: Context): string =>
  plan.job.display === 'us' && fixed(inches(mm), 3) === fixed(0, 3) ? '0' : gapLength(mm, plan.job.display);

/** Where the foot is marked out, by the tapes of the mark-out: stays on paper. */
export function markoutRows(context: Context): [string, string][] {
  const { plan, fitting } = context;
  const say = (mm: number) => shopLength(mm, plan.job.display);
  const { corners, diagonals } = flatFoot(plan, fitting);
  const corner = corners[0];
  if (corner === undefined) throw new Error('a foot without corners');
  const frame = nearestFrame(plan, fitting);
  const from = frame && fromFrameAt(plan, fitting, frame.name, corner);
  // A frame that the job knows the distance to, and no number.
  const taken = fitting.input.behind?.fromFrame;
  const mm = from?.along ?? (taken === undefined ? undefined : taken + corner.x);
  const name = from === undefined ? 'frame no. ____' : plainText(from.name);
  const along: [string, string] =
    mm === undefined
      ? ['Corner 1 from frame no. ____, along', '']
      : [`Corner 1 ${mm >= 0 ? 'forward of' : 'abaft'} ${name}, along`, say(Math.abs(mm))];
  return [
    along,
    [
      `Corner 1 from ${girthFrom(context).short}, round${corner.girth < 0 ? `, ${acrossKeel(context)}` : ''}`,
      say(Math.abs(corner.girth)),
    ],
    ['Diagonal 1 to 3, on the shell', say(diagonals[0])],
    ['Diagonal 2 to 4, on the shell', say(diagonals[1])],
  ];
}

/** What else is read on the tacked lug and stays on paper. */
export function paperRows({ plan, fitting }: Context): [string, string][] {
  const { distance } = shellOf(plan.job.ship.hull).closest(fitting.pin);
  return [
    ['Centre line (stem), from plumb', degrees(fitting.readings.stemFromPlumb, 1)],
    swungRow({ plan, fitting }) ?? ['Pin centre to the shell, shortest way', shopLength(distance, plan.job.display)],
  ];
}

/** rad. Nearer to plumb than this a root lets the plate be swung about it without an angle finder that sees it. */
const UNSEEN = (15 * Math.PI) / 180;

/**
 * Where the root stands near plumb an angle finder does not see the plate swung about it: the pin then has to stand where it is planned
 * along the ship. How far off it may be: a swing of a puts no more than sin a of the pull across, beside what is there as planned.
 */
function swungRow({ plan, fitting }: Pick<Context, 'plan' | 'fitting'>): [string, string] | undefined {
  const { frame, pin, anchor, load } = fitting;
  if (Math.abs(dot(frame.foot, plan.up)) < Math.cos(UNSEEN)) return undefined;
  const { display, limits } = plan.job;
  const off = pin[0] - anchor.station;
  const arm = length(cross(sub(pin, anchor.position), frame.foot));
  const swing = Math.asin(Math.min(1, limits.sidewaysShare)) - Math.abs(load.offPlane);
  const within = swing > 0 ? `, ± ${atMost(arm * Math.sin(swing), display)}` : '';
  return [
    'Pin centre from O along the ship (the finder does not see this)',
    `${shopLength(Math.abs(off), display)} ${off >= 0 ? 'fwd' : 'aft'}${within}`,
  ];
}
