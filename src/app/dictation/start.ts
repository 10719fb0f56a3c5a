import { append, type Json, setIn, valueIn } from '../store/jsontext.ts';
import { parsed } from '../store/parsed.ts';

/** Where the tape lies, as typed: its zero in the ship, and the lug's place on it. */
export interface TapeStart {
  readonly out: string;
  readonly up: string;
  /** Mark at which the lug stands; empty: its place stays as the job gives it. */
  readonly mark: string;
  /** The hull as it was stays in the job as another source, laid over the readings. */
  readonly keep: boolean;
}

/** What is known of it from the hull as it stands. */
export function knownStart(job: Json | undefined, fitting: number): TapeStart {
  const hull = valueIn(job, ['ship', 'hull']);
  const first = [
    valueIn(hull, ['start']),
    valueIn(hull, ['points', 0]),
    valueIn(hull, ['sections', 0, 'points', 0]),
  ].find((p) => p !== undefined);
  const words = (v: Json | undefined): string => (typeof v === 'string' ? v : '');
  return {
    out: words(valueIn(first, ['y'])),
    up: words(valueIn(first, ['z'])),
    mark: words(valueIn(job, ['fittings', fitting, 'at', 'girth'])),
    keep: true,
  };
}

/**
 * The job on a hull of readings of which none has been taken yet, round the place of one lug. Nothing is made up: until the
 * diver has read enough the job cannot be planned, and says so.
 */
export function withReadingsHull(text: string, fitting: number, start: TapeStart): string {
  const job = parsed(text);
  const before = valueIn(job, ['ship', 'hull']);
  const at = valueIn(job, ['fittings', fitting, 'at']);
  const side = valueIn(at, ['side']);
  const station = valueIn(at, ['station']);
  let next = setIn(text, ['ship', 'hull'], {
    kind: 'readings',
    start: { y: start.out, z: start.up },
    girth: [],
    fore: { gaps: [] },
    ...(typeof station === 'string' ? { station } : {}),
    ...(typeof side === 'string' ? { side } : {}),
  });
  if (start.mark !== '' && typeof station === 'string' && typeof side === 'string')
    next = setIn(next, ['fittings', fitting, 'at'], { station, side, girth: start.mark });
  if (start.keep && before !== undefined)
    next = append(next, ['ship', 'compare'], { name: 'the hull before the readings', hull: before });
  return next;
}
