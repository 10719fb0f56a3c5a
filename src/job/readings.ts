import { upOf } from '../../geometry/hull/attitude.ts';
import type { HullSpec } from '../../geometry/hull/spec.ts';
import { mayHeel } from './draftmarks.ts';
import { valueAt } from './faults.ts';
import { readQuantity } from './quantity.ts';
import type { RawHull, RawJob } from './schema.ts';
import { pathText, quoted } from './shown.ts';
import type { Fault } from './types.ts';
import type { Kind } from './units.ts';

type Attitude = Parameters<typeof upOf>[0];
type RawReadings = Extract<RawHull, { kind: 'readings' }>;

/** With heel the two sides show an inclinometer different slopes: which one was read must be plain. */
export function readingsFaults(raw: unknown, path: readonly PropertyKey[]): Fault[] {
  if (valueAt(raw, [...path, 'side']) !== undefined) return [];
  const sides = new Set(fittingSides(raw));
  if (sides.size < 2 || !mayHeel(raw)) return [];
  const expected =
    'the side on which the readings were taken, "port" or "starboard": there are lugs on both, and the ship heels';
  return [{ path: `${pathText(path)}.side`, found: 'nothing', expected }];
}

function fittingSides(raw: unknown): unknown[] {
  const fittings = valueAt(raw, ['fittings']);
  return Array.isArray(fittings) ? fittings.map((fitting) => valueAt(fitting, ['at', 'side'])) : [];
}

/** A quantity that the schema has read once already: its value, and one standard deviation where it carries its own ±. */
function read(text: string, kind: Kind): { value: number; error?: number } {
  const reading = readQuantity(text, kind);
  if (!reading.ok) throw new Error(`a quantity that passed the schema does not read: ${quoted(text)}`);
  const { value, error } = reading;
  // ± holds 95 in 100: two standard deviations.
  return error !== undefined && error > 0 ? { value, error: error / 2 } : { value };
}

const length = (text: string): number => read(text, 'length').value;

/** What the diver read, with the ship's attitude and the first fitting's place: it was read there unless the job says where. */
export function readingsSpec(hull: RawReadings, { fittings }: RawJob, attitude: Attitude): HullSpec {
  const [first] = fittings;
  if (first === undefined) throw new Error('a job without fittings passed the schema');
  const { fore } = hull;
  return {
    kind: 'readings',
    start: { y: length(hull.start.y), z: length(hull.start.z) },
    girth: hull.girth.map(({ at, slope }) => {
      const { value, error } = read(slope, 'angle');
      return { at: length(at), slope: value, ...(error === undefined ? {} : { error }) };
    }),
    fore: {
      gaps: fore.gaps.map(({ at, gap }) => {
        const { value, error } = read(gap, 'length');
        return { at: length(at), gap: value, ...(error === undefined ? {} : { error }) };
      }),
      touch: fore.touch ?? 'middle',
      ...(fore.slope === undefined ? {} : { slope: read(fore.slope, 'angle').value }),
      ...(fore.length === undefined ? {} : { length: length(fore.length) }),
    },
    up: upOf(attitude),
    side: hull.side ?? first.at.side,
    station: length(hull.station ?? first.at.station),
    ...(first.at.girth === undefined ? {} : { place: { girth: length(first.at.girth) } }),
  };
}
