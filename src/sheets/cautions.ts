/* Lifting and diving kill people: what stands on every sheet, and what stands where the plan sends a diver to weld. */

/** At the foot of every page. */
export const PAGE_CAUTION =
  'A planning aid: a competent engineer checks every figure. Local codes, the class society, the qualified welding procedure, the dive supervisor and the equipment maker’s limits come first.';

/** In full, where the plan is read at a desk. */
export const CAUTIONS: readonly string[] = [
  'A planning aid. Every figure is to be checked by a competent engineer before steel is cut or a load is lifted.',
  'Local codes, the class society, the qualified welding procedure, the dive supervisor and the limits of the equipment’s maker come first. No dive table and no decompression advice is given.',
  'Welding under water: direct current only, never alternating; a knife switch opened and closed on the diver’s word alone; insulated gloves and leads; no diver between electrode and work.',
  'Locked out and proved so before a diver goes in: propellers, rudders, thrusters, sea suctions, sonar, impressed-current protection.',
  'Gas trapped behind plating explodes: the space is vented and proved gas-free before an arc is struck.',
  'Work stops at every hold point until someone has looked and agreed.',
];

/** On the card a diver reads: as few words as say it. */
export const DIVE_CAUTIONS =
  'DC only. Knife switch on diver’s word. Insulated gloves, leads. Never between electrode and work. ' +
  'Locked out: propellers, rudders, thrusters, suctions, sonar, impressed current. Space behind proved gas-free. ' +
  'Planning aid: procedure, dive supervisor, class, engineer come first. No dive table.';

/** What nobody does while a load hangs: common practice, no source. */
export const LIFT_NOT: readonly string[] = [
  'Do not be under the load, between load and hull, or in the bight of a line; no diver near while a hoist is worked.',
  'Do not go on where something is not as this plan says (a hoist pulls harder than its greatest pull here, a line goes slack or taut out of turn, a load swings): stop, make safe, ask.',
  'Do not work more hoists at a time than the order of work names, nor any without the word of the one person in charge.',
  'Do not pull a lug across its plate: no tag line on a lug, no come-along and no second hoist on a lug that is planned for one line.',
  'Do not use a hoist to break a stuck load free: its pull is then known to nobody.',
  'Do not lift in a swell, a wash or a current that was not reckoned with.',
];
