import type { Figure } from '../../../geometry/phrase.ts';
import { readQuantity } from '../../job/quantity.ts';
import { showFigure } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import { internalPer, type Kind } from '../../job/units.ts';
import { writtenIn } from '../sentence/stepping.ts';

/** A figure of the job file for reading: as it was written if that suits the display, else in the display's units. */
export function figureText(raw: string, kind: Kind, display: Display): string {
  if (writtenIn(raw, display)) return raw.replace(/\s*\bdeg\b/g, '°').replace(/\s*\+\s*\/?\s*[-−]\s*/, ' ± ');
  const reading = readQuantity(raw, kind);
  if (!reading.ok) return raw;
  const small = (value: number): string | undefined =>
    kind === 'length' && display === 'us' ? smallFraction(value) : undefined;
  const shown = (value: number): string => small(value) ?? showFigure(figureOf(value, kind), display);
  return reading.error === undefined ? shown(reading.value) : `${shown(reading.value)} ± ${shown(reading.error)}`;
}

/** in. Below this, lengths that are worked out are shown in thousandths, as a feeler gauge reads. */
const FINE = 1 / 8;

/**
 * A length that is a sixty-fourth of an inch or a few, to the thousandth, as it would be asked for: `1/16 in` for 1.6 mm.
 * Only for figures of the job: what was worked out is held against feeler gauges, and stays in thousandths.
 */
function smallFraction(mm: number): string | undefined {
  const inches = mm / internalPer('in');
  const parts = Math.round(inches * 64);
  if (parts <= 0 || inches >= FINE || inches.toFixed(3) !== (parts / 64).toFixed(3)) return undefined;
  const shared = [8, 4, 2].find((d) => parts % d === 0) ?? 1;
  return `${parts / shared}/${64 / shared} in`;
}

function figureOf(value: number, kind: Kind): Figure {
  switch (kind) {
    case 'length':
      return { mm: value };
    case 'angle':
      return { rad: value };
    case 'force':
    case 'load':
      return { newton: value };
    case 'mass':
      return { kg: value };
    case 'stress':
      return { mpa: value };
    case 'time':
      return { minutes: value };
    case 'share':
      return { share: value };
    default:
      return { count: value, digits: 1 };
  }
}
