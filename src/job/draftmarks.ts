import { type Attitude, attitudeFrom, type DraftMark } from '../../geometry/hull/draftmarks.ts';
import { Refusal } from '../../geometry/refusal.ts';
import { valueAt } from './faults.ts';
import { readQuantity } from './quantity.ts';
import type { RawJob } from './schema.ts';
import { showPhrase } from './show.ts';
import { quoted } from './shown.ts';
import type { Fault, Ship } from './types.ts';

/** How the ship floats: drafts at the perpendiculars, mm, and heel, rad; with what the draft marks say of it. */
type Floating = Pick<Ship, 'lpp' | 'draftAft' | 'draftForward' | 'heel' | 'draftMarks'>;

function read(text: string, kind: 'length' | 'angle') {
  const reading = readQuantity(text, kind);
  if (!reading.ok) throw new Error(`a quantity that passed the schema does not read: ${quoted(text)}`);
  return reading;
}

type RawMark = NonNullable<RawJob['ship']['draftMarks']>[number];

function markOf({ station, side, halfBreadth, draft }: RawMark): DraftMark {
  const { value, error } = read(draft, 'length');
  const offset = halfBreadth === undefined ? 0 : read(halfBreadth, 'length').value;
  return {
    station: read(station, 'length').value,
    offset: side === 'starboard' ? -offset : offset,
    draft: value,
    // ± holds 95 in 100: two standard deviations.
    ...(error !== undefined && error > 0 ? { error: error / 2 } : {}),
  };
}

const onCentreline = (marks: readonly DraftMark[]): boolean => marks.every(({ offset }) => offset === 0);

/** Marks that leave trim or heel open, each with the reading that would help most. The schema has found the job good. */
export function draftMarkFaults({ ship }: RawJob): Fault[] {
  if (ship.draftMarks === undefined) return [];
  const marks = ship.draftMarks.map(markOf);
  const level = onCentreline(marks);
  if (level && ship.heel === undefined) {
    return [
      {
        path: 'ship.heel',
        found: 'nothing, and draft marks on the centreline alone',
        expected: 'the heel read, or a draft mark to the side: as far out as there is one',
      },
    ];
  }
  if (!level && ship.heel !== undefined) {
    return [{ path: 'ship.heel', found: quoted(ship.heel), expected: 'nothing beside draft marks that tell the heel' }];
  }
  try {
    attitudeFrom(marks, read(ship.lpp, 'length').value);
    return [];
  } catch (e) {
    if (!(e instanceof Refusal)) throw e;
    const [found, expected] = [showPhrase(e.found, 'metric'), showPhrase(e.expected, 'metric')];
    return [{ path: 'ship.draftMarks', found, expected }];
  }
}

/** How the ship of a job floats; `draftMarkFaults` has found nothing. */
export function floatingOf({ ship }: RawJob): Floating {
  const lpp = read(ship.lpp, 'length').value;
  const heel = ship.heel === undefined ? 0 : read(ship.heel, 'angle').value;
  if (ship.draftMarks === undefined) {
    const [aft, forward] = [ship.draftAft, ship.draftForward];
    if (aft === undefined || forward === undefined) throw new Error('a ship without drafts passed the schema');
    return { lpp, draftAft: read(aft, 'length').value, draftForward: read(forward, 'length').value, heel };
  }
  const marks = ship.draftMarks.map(markOf);
  const found: Attitude = attitudeFrom(marks, lpp);
  return {
    lpp,
    draftAft: found.draftAft,
    draftForward: found.draftForward,
    heel: onCentreline(marks) ? heel : found.heel,
    draftMarks: {
      marks: marks.map((mark, i) => ({
        ...mark,
        ...(ship.draftMarks?.[i]?.name === undefined ? {} : { name: ship.draftMarks[i]?.name as string }),
        residual: found.residuals[i] as number,
      })),
      errors: found.errors,
      freedom: found.freedom,
      scattered: found.scattered,
      next: found.next,
    },
  };
}

/** The heel of a job that may not be good yet: zero is known to be zero. */
export function mayHeel(raw: unknown): boolean {
  const marks = valueAt(raw, ['ship', 'draftMarks']);
  if (Array.isArray(marks) && marks.some((mark) => valueAt(mark, ['halfBreadth']) !== undefined)) return true;
  const heel = valueAt(raw, ['ship', 'heel']);
  const reading = typeof heel === 'string' ? readQuantity(heel, 'angle') : undefined;
  return reading?.ok === true && reading.value !== 0;
}
