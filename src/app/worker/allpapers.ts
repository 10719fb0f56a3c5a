import { zipSync } from 'three/addons/libs/fflate.module.js';
import { planFile } from '../../plan/planfile.ts';
import type { Plan } from '../../plan/types.ts';
import { type FontBytes, SHEETS } from '../../sheets/index.ts';
import { fileStem } from '../../sheets/text.ts';
import type { HeldFile } from '../store/heldfile.ts';
import type { PlanRequest, TakeAway } from './protocol.ts';
import type { Share } from './slowwork.ts';

/** No zip knows an earlier day, and none but this makes the same bytes of the same job. Local time, as zips have it. */
const NO_DAY = new Date(1980, 0, 1);

/**
 * Every paper of every fitting in one archive, with the plan file, and with the job and its files in a folder of their own. Tells
 * how far it is after each paper. The same job gives the same bytes.
 */
export async function* allPapers(
  request: PlanRequest,
  plan: Plan,
  fonts: FontBytes,
): AsyncGenerator<Share, TakeAway, undefined> {
  const text = new TextEncoder();
  const files: Record<string, Uint8Array> = {
    'plan.json': text.encode(`${JSON.stringify(planFile(plan), null, 1)}\n`),
    'job/job.json': text.encode(request.text),
  };
  for (const [name, content] of Object.entries(request.files))
    files[`job/${name}`] = typeof content === 'string' ? text.encode(content) : await bytesOf(content);
  const of = SHEETS.length * plan.fittings.length;
  let done = 0;
  for (const fitting of plan.fittings) {
    for (const sheet of SHEETS) {
      yield { done: done / of };
      done++;
      if (sheet.ofJob === true && fitting !== plan.fittings[0]) continue;
      for (const { name, bytes } of await sheet.make(plan, fitting, { fonts })) files[name] = bytes;
    }
  }
  yield { done: 1 };
  return {
    name: `${fileStem(plan.job.title)}-papers.zip`,
    type: 'application/zip',
    // Sheets are compressed inside already: trying harder takes long and gains little.
    content: zipSync(files, { level: 3, mtime: NO_DAY }),
  };
}

const bytesOf = async ({ blob }: HeldFile): Promise<Uint8Array> => new Uint8Array(await blob.arrayBuffer());
