import { type Sourced, within } from './sourced.ts';
import type { ElectrodeKind } from './steel.ts';

/** Steel, kg/mm3: 7850 kg/m3 = 0.2836 lb/in3. */
export const STEEL_DENSITY: Sourced<number> = {
  value: 7.85e-6,
  source: 'steel, 490 lb/ft3 and 0.283 lb/in3 in public rigging and welding tables',
  standing: 'source',
};

/** Deposit by the kind of electrode, kg/mm3. The maker's sheet of the electrode in hand comes first. */
export const DEPOSIT_DENSITY: Readonly<Record<ElectrodeKind, Sourced<number>>> = {
  ferritic: STEEL_DENSITY,
  nickel: {
    value: 8.47e-6,
    source:
      'nickel-chromium-iron alloy UNS N06600, 8.47 g/cm3 and 0.306 lb/in3 in public tables of alloys (aeether.com); that the deposit is like it is a choice, pure nickel has 8.908 g/cm3 (langhe-industry.com)',
    standing: 'choice',
  },
  austenitic: {
    value: 8e-6,
    source:
      'stainless steel UNS S30400, 8000 kg/m3 in a public table of compositions; the deposit is taken to be like it',
    standing: 'choice',
  },
};

/** Deposit, kg, of a cross-section (mm2) over a length (mm). Plain geometry times density (kg/mm3). */
export function depositMass(area: number, length: number, density: number = STEEL_DENSITY.value): number {
  return area * length * density;
}

/**
 * Mass of electrodes to buy for a deposit: deposit / (1 - L), L the share lost as stub, slag and spatter, 0..1 exclusive.
 * Any unit of mass. Reproduces the stick-electrode table (L = 0.45) of a public welding tech page (weldingpro.com).
 */
export function electrodeMass(deposit: number, lost: number): number {
  if (!(lost >= 0 && lost < 1)) throw new RangeError(`the share lost must lie within 0 and below 1, got ${lost}`);
  return deposit / (1 - lost);
}

/** Share of an electrode's length that is burnt: (l - stub) / l. Plain geometry; any one unit. */
export function stubFactor(length: number, stub: number): number {
  within('stub', stub, 0, length);
  return (length - stub) / length;
}

/**
 * Metal, mm3, that one electrode leaves in the joint: core wire less stub, times what reaches the joint.
 * Plain geometry. @param recovery 0..1, share of the molten core that is not lost as spatter; a setting.
 */
export function depositPerElectrode(diameter: number, length: number, stub: number, recovery: number): number {
  within('recovery', recovery, Number.MIN_VALUE, 1);
  return (Math.PI / 4) * diameter * diameter * length * stubFactor(length, stub) * recovery;
}

/**
 * Metal, mm3, of a fillet carried round an outside corner of the foot. Pappus: area x turn x distance of the centroid from
 * the corner's edge, which is leg/3 for a triangle with one side on that edge. Taken for a foot that stands square to the
 * shell: the four corners of a foot together turn 2 pi and lean as much outward as inward.
 * @param leg mm, toe to corner on the shell. @param turn rad, angle swept.
 */
export function cornerVolume(area: number, leg: number, turn: number): number {
  return (area * turn * leg) / 3;
}
