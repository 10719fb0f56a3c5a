import { STEEL_DENSITY } from './deposit.ts';
import type { Sourced } from './sourced.ts';

/** What a planner may change about the welding. Each has a default with its standing; none is a limit of ours. */
export interface WeldSettings {
  /** mm of an electrode that is thrown away. */
  readonly stub: number;
  /** 0..1, share of the molten core wire that reaches the joint. */
  readonly recovery: number;
  /** min that an electrode burns. */
  readonly burn: number;
  /** mm/min. */
  readonly travel: number;
  /** Bead width over core diameter. */
  readonly beadWidthRatio: number;
  /** kg/mm3 of the deposit. */
  readonly density: number;
  /** min to change an electrode, knife switch included. */
  readonly change: number;
  /** min to grind one start or stop. */
  readonly grindStop: number;
  /** min to clean a metre of bead. */
  readonly cleanMetre: number;
  /** min at a hold point. */
  readonly hold: number;
  /** min of a dive that go to getting there, setting up and clearing away. */
  readonly diveOverhead: number;
  /** mm between a stop and the stops of the beads beside and under it. */
  readonly stagger: number;
  /** mm between a stop and a corner of the foot. */
  readonly cornerClear: number;
  /** V across the arc. */
  readonly arcVolts: number;
  /** m, both leads together. */
  readonly leadMetres: number;
  /** V that the leads may lose. */
  readonly leadDrop: number;
  /** C, temperature of the leads' copper. */
  readonly leadCelsius: number;
}

const choice = (value: number, source: string): Sourced<number> => ({ value, source, standing: 'choice' });
const unverified = (value: number, source: string): Sourced<number> => ({ value, source, standing: 'not-verified' });

/** Defaults, each with where it comes from. */
export const WELD_DEFAULTS: Readonly<Record<keyof WeldSettings, Sourced<number>>> = {
  stub: { value: 50.8, source: 'the stub that public filler-metal tables reckon with', standing: 'source' },
  recovery: choice(0.75, 'share left after flux and spatter; a free figure, weigh a trial bead'),
  burn: unverified(1, 'about a minute for a short electrode, from memory; time a trial bead'),
  travel: choice(150, 'with the other figures it takes as many layers for a fillet as is common practice'),
  beadWidthRatio: choice(2, 'a stringer about twice as wide as the core wire'),
  density: STEEL_DENSITY,
  change: choice(
    1.5,
    'switch opened, electrode changed, switch closed, each on the diver’s word; time your own divers',
  ),
  grindStop: choice(1, 'every start and stop is ground; time your own divers'),
  cleanMetre: choice(3, 'for each 39 in (1000 mm) of bead: slag off and brushed before the next; time your own divers'),
  hold: choice(10, 'photographs, video and an answer from the surface'),
  diveOverhead: choice(10, 'way to the work, setting up and clearing away; the dive supervisor sets it'),
  stagger: choice(25, 'room to grind each of two stops that meet; the procedure may ask for more'),
  cornerClear: choice(25, 'a corner is no place for a start or stop; the procedure may ask for more'),
  arcVolts: unverified(26, 'from memory; read it at the machine less the leads’ loss'),
  leadMetres: choice(120, 'both leads together; measure them'),
  leadDrop: choice(8, 'what the machine can make up; see its plate'),
  leadCelsius: choice(75, 'the warm end: part of the leads lies coiled on deck'),
};

/** The defaults as plain figures. */
export function defaultWeldSettings(): WeldSettings {
  const figures = Object.entries(WELD_DEFAULTS).map(([key, each]) => [key, each.value]);
  return Object.fromEntries(figures) as WeldSettings;
}

/** min of bottom time per dive where nobody has said: a place-holder that the dive supervisor replaces. No dive table. */
export const BOTTOM_TIME_DEFAULT: Sourced<number> = choice(
  60,
  'a figure to count dives with; the dive supervisor sets bottom time, this is no dive table and no decompression advice',
);
