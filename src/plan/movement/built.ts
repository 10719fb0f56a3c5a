import { type LugFrame, toShip } from '../../../geometry/lug/frame.ts';
import { check } from '../../strength/check.ts';
import { BOW_LIES, GOES_TOGETHER } from '../../strength/checks-rigging.ts';
import type { FittingPlan } from '../types.ts';
import type { SweptCheck } from './types.ts';

/*
 * A lug that stands otherwise than planned, under every pull of the movement: poses and tensions stay those of the lug as planned, whose pin
 * is a few millimetres away.
 */

/** Whether parts go together and what a hoist holds no way of standing changes. */
export const decidedByStance = (id: string): boolean => !GOES_TOGETHER.has(id) && id !== 'hoist-wll';

/** The lug as planned, but standing as it was found to. */
export const standingAs = (fitting: FittingPlan, frame: LugFrame): FittingPlan => ({
  ...fitting,
  frame,
  pin: toShip(frame, 0, fitting.input.lug.pinHeight, 0),
});

/** Of the checks of a lug over the movement as it stands those that its stance decides, each named for it. */
export function builtChecks(swept: readonly SweptCheck[]): SweptCheck[] {
  const sideways = swept.filter(({ check: { id } }) => id === 'lift-sideways');
  const angle = swept.filter(({ check: { id } }) => id === 'lift-off-plane');
  const rest = swept.filter(({ check: { id } }) => !id.startsWith('lift-') && decidedByStance(id));
  const strength = rest.filter(({ check: { id } }) => !BOW_LIES.has(id));
  const bow = rest.filter(({ check: { id } }) => BOW_LIES.has(id));
  return [
    ...sideways.map((s) => renamed(s, 'lift-as-built-sideways', 'Sideways force over the movement, as the lug stands')),
    ...angle.map((s) =>
      renamed(
        s,
        'lift-as-built-off-plane',
        'Angle of the load line to the lug plane over the movement, as the lug stands',
      ),
    ),
    ...worst(strength, 'lift-as-built-strength', 'Strength over the movement, as the lug stands'),
    ...worst(bow, 'lift-as-built-clearance', 'Shackle over the movement, as the lug stands'),
  ];
}

function worst(of: readonly SweptCheck[], id: string, title: string): SweptCheck[] {
  const [first, ...others] = of;
  if (first === undefined) return [];
  const most = others.reduce((p, q) => (q.check.ratio > p.check.ratio ? q : p), first);
  const { title: own } = most.check;
  return [renamed(most, id, `${title}: ${own.charAt(0).toLowerCase()}${own.slice(1)}`)];
}

const renamed = ({ check: of, state, push }: SweptCheck, id: string, title: string): SweptCheck => ({
  check: check({ ...of, id, title }),
  state,
  push,
});
