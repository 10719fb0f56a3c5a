import type * as z from 'zod';
import { group, length, list, NOT_NEGATIVE, oneOf, size, text } from './fields.ts';

/* What is behind and on the plating, as it stands in a job file: places on the shell by station and girth. */

const MOST = 2000;
const name = text('a name, like "frame 12"', 40);
const station = length('9.5 m');
const girth = length('2.2 m', NOT_NEGATIVE);
const side = oneOf(['port', 'starboard']).optional();
const spot = group({ station, girth });
const many = <T extends z.ZodType>(item: T, what: string) =>
  list(item, 1, what)
    .max(MOST, { error: `a list of at most ${MOST} ${what}` })
    .optional();

export const structureSchema = group({
  frames: many(group({ name, station }), 'frames'),
  longitudinals: many(group({ name, girth, side, from: station.optional(), to: station.optional() }), 'longitudinals'),
  seams: many(group({ name, from: spot, to: spot, side }), 'seams'),
  keepClear: many(group({ name, from: spot, to: spot.optional(), radius: size('150 mm'), side }), 'keep-clear zones'),
});

export type RawStructure = z.output<typeof structureSchema>;
