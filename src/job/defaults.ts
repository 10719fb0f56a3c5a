import { readQuantity } from './quantity.ts';
import type { Assumption, Standing } from './types.ts';
import type { Kind } from './units.ts';

interface Default {
  /** As it would stand in a job file. */
  readonly value: string;
  /** Absent for a word. */
  readonly kind?: Kind;
  readonly reason: string;
  readonly standing: Standing;
}

const D1_1 = 'AWS D1.1 as quoted on a public AWS forum, not read in the code itself';
const NOT_THIS_SHIP = 'a stand-in, not from this ship: enter the real one';

/**
 * What is taken where a job says nothing, each with its reason. A figure here is a start to be replaced, and every one
 * that was used is shown with the plan.
 */
export const DEFAULTS = {
  basis: {
    value: 'aisc-360-asd',
    reason: 'a design basis has to be chosen; allowable stress design is the usual one for lifting gear',
    standing: 'choice',
  },
  'limits.fitGap': {
    value: '1.6 mm',
    kind: 'length',
    reason: `a root opening over 1/16 in (1.6 mm) is added to the leg (${D1_1})`,
    standing: 'source',
  },
  'limits.recutGap': {
    value: '4.8 mm',
    kind: 'length',
    reason: `a root opening over 3/16 in (4.8 mm) may not be made up by the leg (${D1_1})`,
    standing: 'source',
  },
  'limits.sidewaysShare': {
    value: '5 %',
    kind: 'share',
    reason: 'a lug is designed for a side force of 5 % of the static sling load (API RP 2A-WSD)',
    standing: 'source',
  },
  'limits.bevel': {
    value: '45 deg',
    kind: 'angle',
    reason: 'a torch on a track cuts to about this, steeper is ground (common practice, no source)',
    standing: 'common-practice',
  },
  'limits.stemToShell': {
    value: '10 deg',
    kind: 'angle',
    reason: 'a plate that lies flatter than this against the shell is no fillet joint',
    standing: 'choice',
  },
  'limits.level': {
    value: '1 mm',
    kind: 'length',
    reason: 'a smaller difference in height is no way up for gas that a diver could rely on',
    standing: 'choice',
  },
  'limits.sealedLength': {
    value: '5 mm',
    kind: 'length',
    reason: 'about two electrode diameters of root welded against a closed way out are borne with',
    standing: 'choice',
  },
  'limits.seamClear': {
    value: '50 mm',
    kind: 'length',
    reason: 'a new weld is kept off an old one by about this (common practice, no source): class may ask for more',
    standing: 'common-practice',
  },
  'steel.lug.yield': {
    value: '250 MPa',
    kind: 'stress',
    reason: 'plate like ASTM A36 is assumed, sold as 36 ksi (250 MPa): enter the figure of the mill sheet',
    standing: 'choice',
  },
  'steel.lug.tensile': {
    value: '400 MPa',
    kind: 'stress',
    reason: 'plate like ASTM A36 is assumed, sold as 58 ksi (400 MPa): enter the figure of the mill sheet',
    standing: 'choice',
  },
  'steel.shell.yield': {
    value: '250 MPa',
    kind: 'stress',
    reason: `plating like ASTM A36 is assumed, sold as 36 ksi (250 MPa): ${NOT_THIS_SHIP}`,
    standing: 'choice',
  },
  'steel.shell.tensile': {
    value: '400 MPa',
    kind: 'stress',
    reason: `plating like ASTM A36 is assumed, sold as 58 ksi (400 MPa): ${NOT_THIS_SHIP}`,
    standing: 'choice',
  },
  'steel.shell.thickness': { value: '12 mm', kind: 'length', reason: NOT_THIS_SHIP, standing: 'choice' },
  'steel.shell.stressPresent': {
    value: '0 MPa',
    kind: 'stress',
    reason: 'the hull’s own stress there is not given: enter it',
    standing: 'choice',
  },
  'steel.shell.carbonEquivalent': {
    value: 'unknown',
    reason: 'no carbon equivalent and no composition given: the plating is treated as steel that may crack',
    standing: 'choice',
  },
  'steel.frameSpacing': { value: '600 mm', kind: 'length', reason: NOT_THIS_SHIP, standing: 'choice' },
  'steel.longitudinalSpacing': { value: '700 mm', kind: 'length', reason: NOT_THIS_SHIP, standing: 'choice' },
  'electrode.kind': {
    value: 'nickel',
    reason:
      'no electrode is named, and nickel-type ones suit steel that may crack and steel that does not: name the one that is qualified (common practice)',
    standing: 'common-practice',
  },
  'electrode.diameter': {
    value: '2.4 mm',
    kind: 'length',
    reason: 'the usual size of nickel-type wet electrode (common practice)',
    standing: 'common-practice',
  },
  'electrode.length': {
    value: '350 mm',
    kind: 'length',
    reason: 'the usual length of electrode at this size (common practice)',
    standing: 'common-practice',
  },
  'electrode.tensile': {
    value: '415 MPa',
    kind: 'stress',
    reason:
      "the lowest of the usual filler classes, sold as 60 ksi (415 MPa), from memory: enter the qualified procedure's figure",
    standing: 'not-verified',
  },
  'welding.runLength': {
    value: '150 mm',
    kind: 'length',
    reason: 'about what one short wet electrode lays (common practice)',
    standing: 'common-practice',
  },
  'lift.waterDensity': {
    value: '1025 kg/m3',
    kind: 'density',
    reason: 'sea water, from memory: less carries the load less, so enter that of the berth',
    standing: 'not-verified',
  },
  'lift.limits.clearance': {
    value: '50 mm',
    kind: 'length',
    reason: 'a load on lines moves by more than nothing when it is pushed',
    standing: 'choice',
  },
  'lift.limits.stretch': {
    value: '2 %',
    kind: 'share',
    reason: 'no chain or wire rope in use stretches by more: a line that would have to is too short',
    standing: 'choice',
  },
  'lift.limits.miss': {
    value: '50 mm',
    kind: 'length',
    reason: 'a load on hoists alone is not set down nearer than this',
    standing: 'choice',
  },
  'lift.limits.unhookShare': {
    value: '1 %',
    kind: 'share',
    reason: 'a line is taken off when it is slack; this much is its own weight',
    standing: 'choice',
  },
  'lift.limits.tilt': {
    value: '20 deg',
    kind: 'angle',
    reason: 'a load that hangs more crookedly than this is not the one that was drawn',
    standing: 'choice',
  },
  'papers.stock': {
    value: '3 mm',
    kind: 'length',
    reason: 'a flame-cut edge is ground back to sound metal by about this (common practice, no source)',
    standing: 'common-practice',
  },
  'papers.cleanMargin': {
    value: '50 mm',
    kind: 'length',
    reason: 'bright metal for weld, clamp and gauge; the welding procedure decides',
    standing: 'choice',
  },
  cut: {
    value: 'simplest',
    reason: 'the straight cut if it fits, else the faceted, else the scribed: the least work in the shop',
    standing: 'choice',
  },
} as const satisfies Readonly<Record<string, Default>>;

export type DefaultPath = keyof typeof DEFAULTS;

/** Hands out defaults and remembers which were used. */
export class DefaultsUsed {
  private readonly used: Assumption[] = [];

  get assumptions(): readonly Assumption[] {
    return this.used;
  }

  /**
   * The default for a field, noted as used.
   * @param path where it would stand, if that is not the default's own path (a field of one fitting)
   */
  text<P extends DefaultPath>(of: P, path: string = of): (typeof DEFAULTS)[P]['value'] {
    const { value, reason, standing }: Default = DEFAULTS[of];
    this.used.push({ path, value, reason, standing });
    return value as (typeof DEFAULTS)[P]['value'];
  }

  /** The default for a quantity, in internal units, noted as used. */
  value(of: DefaultPath): number {
    return defaultValue(of, this.text(of));
  }
}

function defaultValue(of: DefaultPath, text: string): number {
  const { kind }: Default = DEFAULTS[of];
  const reading = kind === undefined ? undefined : readQuantity(text, kind);
  if (reading?.ok !== true) throw new Error(`the default for ${of} is no quantity`);
  return reading.value;
}
