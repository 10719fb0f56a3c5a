import { planFile } from '../plan/planfile.ts';
import type { Plan } from '../plan/types.ts';
import type { Deliverable } from './files.ts';
import { report } from './report.ts';
import { typefaces } from './typefaces.ts';

interface Maker {
  readonly name: string;
  readonly make: (plan: Plan) => Deliverable['content'] | Promise<Deliverable['content']>;
}

/** What `--out` writes. A new sheet is one line here. */
const MAKERS: readonly Maker[] = [
  { name: 'plan.json', make: (plan) => `${JSON.stringify(planFile(plan), null, 1)}\n` },
  { name: 'report.txt', make: report },
];

/** Every deliverable of a plan, ready to be written: the tables and the sheets. The sheets' libraries are loaded here. */
export async function makeAll(plan: Plan): Promise<readonly Deliverable[]> {
  const tables = await Promise.all(MAKERS.map(async ({ name, make }) => ({ name, content: await make(plan) })));
  const { writeSheets } = await import('../sheets/index.ts');
  const sheets = await writeSheets(plan, { fonts: typefaces() });
  return [...tables, ...sheets.map(({ name, bytes }) => ({ name, content: bytes }))];
}
