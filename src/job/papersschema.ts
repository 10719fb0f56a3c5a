import * as z from 'zod';
import { between, group, length, oneOf, text } from './fields.ts';

/* What is said once for all papers of a job, as it stands in its file. */

const DAY = 'a day as year-month-day, like "2026-03-14"';

/** A day of the calendar, proleptic Gregorian (ISO 8601). */
function isDay(value: string): boolean {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(value);
  if (match === null) return false;
  const [year, month, day] = match.slice(1).map(Number) as [number, number, number];
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  const days = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1];
  return days !== undefined && day >= 1 && day <= days;
}

export const papersSchema = group({
  revision: text('a revision, like "B"', 12).optional(),
  date: z
    .string({ error: DAY })
    .refine(isDay, { error: DAY })
    .meta({ description: DAY, examples: ['2026-03-14'], format: 'date' })
    .optional(),
  kerf: length('2 mm', between(0.05, 12, 'from 0.05 mm to 12 mm')).optional(),
  stock: length('3 mm', between(0, 50, 'from 0 mm to 50 mm')).optional(),
  cleanMargin: length('50 mm', between(0, 500, 'from 0 mm to 500 mm')).optional(),
  paper: oneOf(['a4', 'letter']).optional(),
});
