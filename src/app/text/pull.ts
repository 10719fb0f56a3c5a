import { showFigure } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import { leantWay, turnedWay } from '../../plan/pullremedy.ts';
import type { ScreenFitting } from '../worker/protocol.ts';
import { sideNames } from './sides.ts';

type Pulled = Pick<ScreenFitting, 'frame' | 'anchor' | 'load'>;

/** A size with the way it goes, or the size alone where it rounds to nothing. */
function towards(size: string, way: string): string {
  return Number.parseFloat(size) === 0 ? size : `${size} towards the ${way}`;
}

/** How far the pull leaves the plane of the plate, and which way: "8.6° towards the keel side". */
export const offPlaneWords = (f: Pulled, display: Display): string =>
  towards(showFigure({ rad: Math.abs(f.load.offPlane) }, display), acrossTo(f));

/** How far the pull leans from the stem within the plate, and which way: "5.8° from the stem towards the forward end". */
export function fromStemWords(f: Pulled, display: Display): string {
  const names = sideNames(f);
  const size = showFigure({ rad: Math.abs(f.load.inPlane) }, display);
  return towards(`${size} from the stem`, names[f.load.inPlane > 0 ? 'end+' : 'end-']);
}

/** The force across the plate, and which way: "11.7 kN towards the keel side". */
export const sidewaysWords = (f: Pulled, display: Display): string =>
  towards(showFigure({ newton: Math.abs(f.load.sideways) }, display), acrossTo(f));

/** The force along the foot, and which way. */
export function alongFootWords(f: Pulled, display: Display): string {
  const names = sideNames(f);
  const size = showFigure({ newton: Math.abs(f.load.alongFoot) }, display);
  return towards(size, names[f.load.alongFoot > 0 ? 'end+' : 'end-']);
}

const acrossTo = (f: Pulled): string => sideNames(f)[f.load.offPlane > 0 ? 'face+' : 'face-'];

/** "5.8° anticlockwise, seen from the water" @param angle rad, as a heading is counted */
export const turnWords = (angle: number, { anchor }: Pick<ScreenFitting, 'anchor'>, display: Display): string =>
  `${showFigure({ rad: Math.abs(angle) }, display)} ${turnedWay(angle, { anchor })}, seen from the water`;

/** "0.4° inboard" @param angle rad, as a lean is counted */
export const leanWords = (
  angle: number,
  { anchor, frame, input }: Pick<ScreenFitting, 'anchor' | 'frame' | 'input'>,
  display: Display,
): string =>
  `${showFigure({ rad: Math.abs(angle) }, display)} ${leantWay(angle, { anchor, stem: frame.stem, heading: input.heading })}`;
