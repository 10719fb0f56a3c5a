import type { Figure } from '../../../geometry/phrase.ts';
import { showFigure } from '../../job/show.ts';
import type { Display, Job } from '../../job/types.ts';
import type { SpotLimit, SpotVerdict } from '../../plan/movement/map.ts';
import { ratioText } from '../text/checks.ts';
import type { MapSpot, Over } from './kinds.ts';
import type { Paint } from './store.ts';

/** What is said of a spot of a map, in words. */

type Stands = Extract<SpotVerdict, { kind: 'stands' }>;

const WHY: Readonly<Record<Extract<SpotVerdict, { kind: 'cannot' }>['why'], string>> = {
  'off-the-data': "off the hull's data",
  stem: 'the stem would stand too close to the shell',
  'keep-clear': 'in what must be kept clear',
  foot: 'the foot does not come down on the shell',
};

/** Demand and limit of what a spot's own figures give; nothing for the limits that only come as a ratio. */
function pair({ id }: SpotLimit, v: Stands, limits: Job['limits']): readonly [Figure, Figure] | undefined {
  if (id === 'gap') return [{ mm: v.gap }, { mm: limits.recutGap }];
  if (id === 'bevel') return [{ rad: v.bevel }, { rad: limits.bevel }];
  if (id === 'sideways') return [{ newton: v.sideways }, { newton: limits.sidewaysShare * v.force }];
  return undefined;
}

const SHORT: Readonly<Record<string, string>> = { gap: 'gap', bevel: 'bevel', sideways: 'sideways pull' };

/** "gap 2.1 mm of 1.6 mm", or "shell panel bent: 0.84 of the limit". */
export function limitText(limit: SpotLimit, v: Stands, limits: Job['limits'], display: Display): string {
  const figures = pair(limit, v, limits);
  const name = SHORT[limit.id] ?? lowerFirst(limit.title);
  if (figures === undefined) return `${name}, ${ratioText(limit.ratio, display)}`;
  const [p, q] = figures.map((f) => showFigure(f, display)) as [string, string];
  // What fails by a hair must not read like what just passes.
  return p === q && limit.ratio > 1 ? `${name} just over ${q}` : `${name} ${p} of ${q}`;
}

const lowerFirst = (text: string): string => (/^[A-Z][a-z]/.test(text) ? text[0]?.toLowerCase() + text.slice(1) : text);

/** Whether it stands there, and what binds: "stands; gap 0.9 mm of 1.6 mm binds". */
export function verdictText(verdict: SpotVerdict, limits: Job['limits'], display: Display): string {
  if (verdict.kind === 'cannot') return `cannot stand here: ${WHY[verdict.why]}`;
  const [first] = verdict.limits;
  const binds = first === undefined ? '' : `${limitText(first, verdict, limits, display)} binds`;
  return `${verdict.passes ? 'stands' : 'does not pass'}; ${binds}`;
}

/** What comes after the limit that binds: of a spot that fails all others that fail too, else the next one. */
export function nextText(verdict: SpotVerdict, limits: Job['limits'], display: Display): string {
  if (verdict.kind === 'cannot') return '';
  const rest = verdict.limits.slice(1);
  const told = verdict.passes ? rest.slice(0, 1) : rest.filter((l) => l.ratio > 1);
  const lead = verdict.passes ? 'then' : 'also over';
  return told.length === 0 ? '' : `${lead} ${told.map((l) => limitText(l, verdict, limits, display)).join('; ')}`;
}

/** Where it is: "9.500 m forward of the aft perpendicular, 2.200 m round", or heading and lean. */
export function placeText(spot: MapSpot, over: Over, display: Display): string {
  if (over === 'stance')
    return `heading ${showFigure({ rad: spot.heading }, display)}, leaned ${showFigure({ rad: spot.lean ?? 0 }, display)} from square`;
  return `station ${showFigure({ mm: spot.station }, display)}, girth ${showFigure({ mm: spot.girth }, display)}`;
}

export interface PaintScale {
  readonly title: string;
  /** Figure of a spot in internal units. */
  readonly of: (v: Stands) => number;
  /** Where the scale begins and ends for these spots. */
  readonly least: (spots: readonly (MapSpot | undefined)[]) => number;
  readonly most: (spots: readonly (MapSpot | undefined)[], limits: Job['limits']) => number;
  readonly figure: (value: number) => Figure;
}

const greatest =
  (of: (v: Stands) => number, floor: (limits: Job['limits']) => number): PaintScale['most'] =>
  (spots, limits) =>
    spots.reduce((m, s) => (s?.verdict.kind === 'stands' ? Math.max(m, of(s.verdict)) : m), floor(limits));

/** A scale of use begins near the least used spot that passes: what a person chooses between is then told apart. */
const leastUse: PaintScale['least'] = (spots) => {
  const least = spots.reduce(
    (m, s) => (s?.verdict.kind === 'stands' && s.verdict.passes ? Math.min(m, use(s.verdict)) : m),
    1,
  );
  return least < 1 ? Math.floor(Math.min(least, 0.95) * 20) / 20 : 0;
};

const use = (v: Stands): number => v.limits[0]?.ratio ?? 0;

export const PAINTS: Readonly<Record<Paint, PaintScale>> = {
  use: {
    title: 'use of the limit that binds',
    of: use,
    least: leastUse,
    most: () => 1,
    figure: (share) => ({ share, digits: 0 }),
  },
  gap: {
    title: 'largest gap of the foot, after the cut it needs',
    of: (v) => v.gap,
    least: () => 0,
    most: greatest(
      (v) => v.gap,
      (l) => l.recutGap,
    ),
    figure: (mm) => ({ mm }),
  },
  bevel: {
    title: 'steepest bevel of the foot',
    of: (v) => v.bevel,
    least: () => 0,
    most: greatest(
      (v) => v.bevel,
      () => 0.01,
    ),
    figure: (rad) => ({ rad }),
  },
  sideways: {
    title: 'greatest sideways pull',
    of: (v) => v.sideways,
    least: () => 0,
    most: greatest(
      (v) => v.sideways,
      () => 1,
    ),
    figure: (newton) => ({ newton }),
  },
};
