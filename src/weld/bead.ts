import { within } from './sourced.ts';

/** A stringer as one electrode lays it. mm, mm2. */
export interface StringerBead {
  readonly area: number;
  /** Across the run. */
  readonly width: number;
  /** What it adds in height: area / width. */
  readonly thickness: number;
}

/**
 * The stringer that an electrode leaves at a travel speed: area = metal per electrode / (travel x burn time); width is a
 * multiple of the core diameter, no weaving. Plain geometry of the figures given.
 *
 * @param metal mm3 per electrode (`depositPerElectrode`). @param travel mm/min. @param burn min per electrode.
 * @param diameter mm. @param widthRatio bead width over core diameter, a setting.
 */
export function stringerBead(
  metal: number,
  travel: number,
  burn: number,
  diameter: number,
  widthRatio: number,
): StringerBead {
  for (const [name, value] of Object.entries({ metal, travel, burn, diameter, widthRatio }))
    within(name, value, Number.MIN_VALUE, Number.MAX_VALUE);
  const area = metal / (travel * burn);
  const width = widthRatio * diameter;
  return { area, width, thickness: area / width };
}
