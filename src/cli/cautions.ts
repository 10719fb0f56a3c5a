/** What every report says, whatever the plan. */
export const CAUTIONS: readonly string[] = [
  'A planning aid. A competent engineer checks every figure before steel is cut; lifting and diving kill people.',
  'Local codes, the class society, the qualified welding procedure, the dive supervisor and the limits of the equipment’s maker come first. No dive table and no decompression advice is given here.',
  'Under water: direct current only, never alternating; the knife switch opens on the diver’s word; insulated gloves and leads; no diver between electrode and work.',
  'Locked out before a diver goes in: propellers, rudders, thrusters, sea suctions, sonar, impressed-current protection.',
  'Gas trapped behind plating explodes: vent it and have it proved gas-free before an arc is struck.',
  'Hold points: fit-up before the root, root before the hot pass, the finished weld. Someone has looked and agreed.',
];
