import { rootAt, type Side } from '../../geometry/fit/rootline.ts';
import { scale, type Vec3 } from '../../geometry/math/vec.ts';
import { type ShipWay, shipWay } from '../plan/shipway.ts';
import type { FittingPlan } from '../plan/types.ts';

export type Way = 'forward' | 'aft' | 'outboard' | 'keel' | 'upper' | 'lower';

const CALLED: Readonly<Record<ShipWay, Way>> = {
  forward: 'forward',
  aft: 'aft',
  outboard: 'outboard',
  inboard: 'keel',
  up: 'upper',
  down: 'lower',
};

/** The ship's direction that n points along most, as sides of a foot are called. `outboard` at either side of the ship; `keel` is the way inboard. */
export const wayOf = (n: Vec3, side: 'port' | 'starboard'): Way => CALLED[shipWay(n, side)];

/** Sides of the foot as a diver would say them: faces are `keel side`, `outboard side`; ends `forward end`, `aft end`. */
export function sideNames({ frame, anchor }: Pick<FittingPlan, 'frame' | 'anchor'>): Readonly<Record<Side, string>> {
  const facing = (n: Vec3) => wayOf(n, anchor.side);
  return {
    'face-': `${facing(scale(frame.face, -1))} side`,
    'face+': `${facing(frame.face)} side`,
    'end-': `${facing(scale(frame.foot, -1))} end`,
    'end+': `${facing(frame.foot)} end`,
  };
}

/** The bare way a side faces: `keel`, `aft`. */
export const sideWay = (name: string): string => name.replace(/ (side|end)$/, '');

/**
 * The corner, or the side, at s along the root: `keel side, aft corner`, `outboard side`. A corner belongs to a face and to an end:
 * it is named by the face, or by the side `of` the run that begins or ends there.
 */
export function placeName(fitting: FittingPlan, s: number, of?: Side): string {
  const names = sideNames(fitting);
  const { root } = fitting;
  const at = rootAt(root, s);
  const wrapped = s - root.perimeter * Math.floor(s / root.perimeter);
  const near = 3;
  const corner = [0, ...root.corners.slice(1)].findIndex((c) => Math.abs(c - wrapped) < near);
  if (corner >= 0) {
    const face: Side = corner === 0 || corner === 1 || corner === 4 ? 'face-' : 'face+';
    const end: Side = corner === 1 || corner === 2 ? 'end+' : 'end-';
    const [side, other]: [Side, Side] = of === end ? [end, face] : [face, end];
    return `${names[side]}, ${sideWay(names[other])} corner`;
  }
  return names[at.side];
}

/** How far s lies from the `end-` end along a face, or from `face-` across an end, mm, and which end that is. */
export function alongSide(
  fitting: FittingPlan,
  s: number,
): { readonly side: Side; readonly distance: number; readonly from: string } {
  const names = sideNames(fitting);
  const { root } = fitting;
  const { side } = rootAt(root, s);
  const wrapped = s - root.perimeter * Math.floor(s / root.perimeter);
  const k = ['face-', 'end+', 'face+', 'end-'].indexOf(side);
  const start = root.corners[k] as number;
  const end = root.corners[k + 1] as number;
  const upward = k < 2;
  return {
    side,
    distance: upward ? wrapped - start : end - wrapped,
    from: `${sideWay(names[k % 2 === 0 ? 'end-' : 'face-'])} corner`,
  };
}

/** A place to find by hand: a corner by its name, any other by its distance from a corner, as `say` writes it; `of`: see `placeName`. */
export function spotText(fitting: FittingPlan, s: number, say: (mm: number) => string, of?: Side): string {
  const name = placeName(fitting, s, of);
  if (name.endsWith('corner')) return name;
  const at = alongSide(fitting, s);
  return `${name}, ${say(at.distance)} from ${at.from}`;
}

/** Text of the plan with the sides of the foot called as a diver calls them: `face-` becomes `keel side`. */
export function sidesInWords(fitting: FittingPlan, text: string): string {
  const names = sideNames(fitting);
  return text.replaceAll(/\b(face|end)([+-])(?![\w+-])/g, (side) => names[side as Side] ?? side);
}
