import * as z from 'zod';
import { jobSchema } from './schema.ts';

/**
 * The job file's schema for editors (JSON Schema, draft 2020-12), as text. It knows the fields and the words; whether a
 * quantity reads and lies in its range is for `readJob` to say.
 */
export function jobJsonSchema(): string {
  const schema = z.toJSONSchema(jobSchema, { target: 'draft-2020-12', io: 'input', reused: 'inline' });
  return `${JSON.stringify({ title: 'Lugwright job file, version 1', ...schema }, null, 2)}\n`;
}
