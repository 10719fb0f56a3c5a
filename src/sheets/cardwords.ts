import { SIDES, type Side } from '../../geometry/fit/rootline.ts';
import type { FittingPlan } from '../plan/types.ts';
import { cardLength } from './figures.ts';
import { sideNames, sideWay, spotText } from './sides.ts';

const SHORT: Readonly<Record<string, string>> = {
  forward: 'FWD',
  aft: 'AFT',
  outboard: 'OUTB’D',
  keel: 'KEEL',
  upper: 'UP',
  lower: 'DOWN',
};

/** A way to go, as short as it can be said. */
export const shortWay = (way: string): string => SHORT[way] ?? way.toUpperCase();

/** A side or corner, as short as it can be said: the same word as the way there, but `UPPER` where the way is `UP`. */
export const shortSide = (way: string): string =>
  way === 'upper' || way === 'lower' ? way.toUpperCase() : shortWay(way);

/** A place said with as few letters as the card has room for: `KEEL side, FWD corner`. */
export const shortPlace = (name: string): string =>
  name.replaceAll(/\b(forward|outboard|keel|aft|upper|lower)\b/g, (way) => shortSide(way));

/** A place along the root at s (mm) as the card says it: `KEEL side, FWD corner`, `KEEL side, 100 mm from AFT corner`. */
export const cardSpot = (fitting: FittingPlan, s: number, display: 'metric' | 'us', of?: Side): string =>
  shortPlace(spotText(fitting, s, (mm) => cardLength(mm, display), of));

/** rad. Smaller than any finder under water can show: half of the last figure printed. */
export const SHOWN_PLUMB = (0.05 * Math.PI) / 180;

/** The face with the wider joint: the one with room for a hand and an instrument. */
export function openFace(fitting: FittingPlan): 'face-' | 'face+' {
  const dihedral = (side: Side) => fitting.weld.sides.find((each) => each.side === side)?.dihedral ?? 0;
  return dihedral('face+') >= dihedral('face-') ? 'face+' : 'face-';
}

/** The side along which most of the root's gas comes out: `outboard side`. */
export function gasSide(fitting: FittingPlan): string {
  const { elements } = fitting.sequence;
  const length = new Map<Side, number>();
  elements.vents.forEach((vent, e) => {
    if (vent.kind !== 'out') return;
    const { corners } = fitting.root;
    const k = corners.findIndex((corner, i) => i < 4 && vent.s >= corner && vent.s <= (corners[i + 1] as number));
    const side = SIDES[Math.max(0, k)] as Side;
    length.set(side, (length.get(side) ?? 0) + (elements.s1[e] as number) - (elements.s0[e] as number));
  });
  const most = [...length].sort((p, q) => q[1] - p[1])[0];
  return sideNames(fitting)[most?.[0] ?? fitting.sequence.finish.side];
}

/** `KEEL` of `keel side`. */
export const bareSide = (name: string): string => shortSide(sideWay(name));
