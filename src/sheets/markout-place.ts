import { dot, type Vec3 } from '../../geometry/math/vec.ts';
import { fromAftPerpendicular } from '../job/show.ts';
import { shellOf } from '../plan/plan.ts';
import type { Behind } from './behind.ts';
import type { Context } from './context.ts';
import { cardLength, degrees, shopLength } from './figures.ts';
import { goesOver, otherSide } from './flatten.ts';
import { fromFramePairs, named } from './markout-behind.ts';
import { beyond, type RoundWords, roundWords } from './markout-ways.ts';
import { depthOf } from './view.ts';

/** Where the tape round the girth begins: on the centreline, or where the section itself does. */
export function girthFrom({ plan, fitting }: Context): { readonly short: string; readonly long: string } {
  const shell = shellOf(plan.job.ship.hull);
  const { station, side } = fitting.anchor;
  if (goesOver(shell, station, side)) return { short: 'centreline', long: 'the centreline at the keel' };
  const say = (mm: number) => shopLength(mm, plan.job.display);
  const [, y, z] = shell.pointAt(station, shell.girthRange(station).from, side).position;
  return {
    short: 'tape’s zero',
    long: `the first point of the section, ${say(Math.abs(y))} off the centreline and ${say(Math.abs(z))} ${z < 0 ? 'below' : 'above'} the baseline`,
  };
}

/** What is said of a corner that lies beyond the keel. */
export const acrossKeel = ({ fitting }: Context): string => `on the ${otherSide(fitting.anchor.side)} side`;

/** Where the place is, in every way that it can be found: from what is named near it first, from the perpendicular too. */
export function placePairs(context: Context, about: readonly Behind[]): [string, string][] {
  const { fitting, plan } = context;
  const { display } = plan.job;
  const { anchor } = fitting;
  const say = (mm: number) => shopLength(mm, display);
  const slope = (v: Vec3, along: string, way: string) => {
    const rise = Math.asin(Math.max(-1, Math.min(1, dot(v, plan.up))));
    const text = degrees(Math.abs(rise));
    return text === '0.0°' ? `level ${along}` : `${text} off level ${along}, ${rise > 0 ? 'rising' : 'falling'} ${way}`;
  };
  return [
    ['Place O, from the perpendicular', `${fromAftPerpendicular(anchor.station, say)}, ${anchor.side} side`],
    ...fromFramePairs(context, say),
    ['Round the girth', `${say(anchor.girth)} from ${girthFrom(context).long}`],
    ...nearestRound(about, roundWords(fitting), say),
    ['Depth at the drafts given', cardLength(depthOf(plan, anchor.position), display)],
    [
      'Angle finder on bare shell',
      `${slope(anchor.tGirth, 'round the girth', roundWords(fitting).out)}; ${slope(anchor.tFore, 'fore and aft', 'forward')}`,
    ],
  ];
}

/** From the nearest longitudinal and the nearest seam that the girth through the place crosses. */
function nearestRound(about: readonly Behind[], ways: RoundWords, say: (mm: number) => string): [string, string][] {
  const words = (['longitudinal', 'seam'] as const).flatMap((kind) => {
    const lines = about.filter((each) => each.kind === kind && each.round !== undefined);
    const nearest = lines.sort((p, q) => Math.abs(p.round as number) - Math.abs(q.round as number))[0];
    if (nearest?.round === undefined) return [];
    const off = nearest.round;
    if (Math.abs(off) < 0.05) return [`on ${named(nearest)}`];
    return [`${say(Math.abs(off))} ${off < 0 ? beyond(ways.out) : beyond(ways.in)} ${named(nearest)}`];
  });
  return words.length === 0 ? [] : [['From what lies nearest', `O is ${words.join(', ')}`]];
}
