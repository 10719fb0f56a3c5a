import type { Side } from '../../geometry/fit/rootline.ts';
import type { Display } from '../job/types.ts';
import { internalPer } from '../job/units.ts';
import type { FittingPlan } from '../plan/types.ts';
import { chosenCut } from './cut.ts';
import { shopLength } from './figures.ts';
import { sideNames, sideWay } from './sides.ts';

/** What a shop takes off a square foot, as the plan says it. */
const TAKE_OFF = /From a square foot take off at the corners: .*; straight lines between them\./;

/** A remedy of the fit with what comes off a square foot said by the depths that the bevel table prints. */
export const withTakeOff = (fitting: FittingPlan, remedy: string, display: Display): string =>
  remedy.replace(TAKE_OFF, () => takeOffText(fitting, display));

/**
 * What comes off a square foot at each corner, from the one that stands deepest: the differences of the depths as the bevel table
 * prints them, to 0.1 mm or to 0.001 in. Light enough for a report: nothing of the sheets' drawing is loaded with it.
 */
export function takeOffText(fitting: FittingPlan, display: Display): string {
  const names = sideNames(fitting);
  const step = display === 'us' ? internalPer('in') / 1000 : 0.1;
  const { surface } = chosenCut(fitting);
  const { halfFoot, halfThickness } = fitting.field;
  const corner = (face: Extract<Side, 'face-' | 'face+'>, end: Extract<Side, 'end-' | 'end+'>) => {
    const last = end === 'end+';
    const cut = surface.height(last ? halfFoot : -halfFoot, face === 'face+' ? halfThickness : -halfThickness, last);
    return {
      name: `${names[face]}, ${sideWay(names[end])} corner`,
      // In whole steps of the last figure printed.
      depth: Math.round((fitting.input.lug.pinHeight - cut) / step),
    };
  };
  const corners = [corner('face-', 'end-'), corner('face-', 'end+'), corner('face+', 'end+'), corner('face+', 'end-')];
  const deepest = Math.max(...corners.map((each) => each.depth));
  const amounts = corners.map((each) => {
    const off = deepest - each.depth;
    return `${each.name} ${off === 0 ? 'nothing' : shopLength(off * step, display)}`;
  });
  return `From a square foot take off at the corners: ${amounts.join('; ')}; straight lines between them.`;
}
