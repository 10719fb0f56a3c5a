import type { Figure } from '../../../geometry/phrase.ts';
import { readQuantity } from '../../job/quantity.ts';
import { showFigure } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import type { Kind } from '../../job/units.ts';
import { writtenIn } from '../sentence/stepping.ts';

/** A figure of the job file for reading: as it was written if that suits the display, else in the display's units. */
export function figureText(raw: string, kind: Kind, display: Display): string {
  if (writtenIn(raw, display)) return raw.replace(/\s*deg$/, '°');
  const reading = readQuantity(raw, kind);
  return reading.ok ? showFigure(figureOf(reading.value, kind), display) : raw;
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
