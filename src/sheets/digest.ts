import type { Job } from '../job/types.ts';

/**
 * Short digest of what a job says: the first 48 bits of SHA-256 (FIPS 180-4) of the job written in one fixed way, as three
 * groups of four hex digits, `7f3a-91c2-04de`. Whether the papers are metric or US (`display`) is part of it: sizes that are called
 * up, a leg or a sight line, are rounded in the one or the other, and sheets of both are not to be mixed. What unit a figure was
 * given in is no part of it, nor are notes on which defaults were used. Nor is what was measured at the
 * fit-up (`asBuilt`) or where dives ended (`stopped`): typing the record back in does not turn the sheets in hand into old ones. Nor are revision, date and
 * size of the papers, which head a sheet and change nothing on it; kerf, stock and clean margin move lines that are cut and
 * marked by, and count.
 */
export function digestOf(job: Job): Promise<string> {
  let digest = made.get(job);
  if (digest === undefined) {
    digest = digestAnew(job);
    made.set(job, digest);
  }
  return digest;
}

/** Every sheet asks for it, and a scan of many triangles takes a while to go through. */
const made = new WeakMap<Job, Promise<string>>();

async function digestAnew(job: Job): Promise<string> {
  const { assumptions: _assumptions, fittings, papers, ...rest } = job;
  const { revision: _revision, date: _date, paper: _paper, ...cutting } = papers;
  const planned = {
    ...rest,
    papers: cutting,
    fittings: fittings.map(({ asBuilt: _asBuilt, stopped: _stopped, ...fitting }) => fitting),
  };
  const hash = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(canonical(planned)));
  const hex = [...new Uint8Array(hash).subarray(0, 6)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
  return `${hex.slice(0, 4)}-${hex.slice(4, 8)}-${hex.slice(8)}`;
}

/**
 * A digest as it was typed off a sheet, written the one way: spaces, dashes and capitals as may be, `o`, `i` and `l` for the
 * figures they look like. @returns undefined for what is no digest
 */
export function digestIn(typed: string): string | undefined {
  const plain = typed
    .normalize('NFKC')
    .toLowerCase()
    .replaceAll(/[\s\p{Pd}\u2212_.:]/gu, '')
    .replaceAll('o', '0')
    .replaceAll(/[il]/g, '1');
  if (!/^[0-9a-f]{12}$/.test(plain)) return undefined;
  return `${plain.slice(0, 4)}-${plain.slice(4, 8)}-${plain.slice(8)}`;
}

/**
 * What a digest read off a sheet says of the sheet: of the job as it now stands (`now`), of the same job printed in the other system
 * of units (`other-units`), or of neither, which holds too for what is no digest at all.
 */
export async function sheetOf(job: Job, typed: string): Promise<'now' | 'other-units' | 'neither'> {
  const digest = digestIn(typed);
  if (digest === undefined) return 'neither';
  if (digest === (await digestOf(job))) return 'now';
  return digest === (await digestOf({ ...job, display: otherUnits(job) })) ? 'other-units' : 'neither';
}

export const otherUnits = ({ display }: Pick<Job, 'display'>): Job['display'] => (display === 'us' ? 'metric' : 'us');

/** Whether a sheet is of the job as it now stands, in the units that it has now. */
export const belongsTo = async (job: Job, typed: string): Promise<boolean> => (await sheetOf(job, typed)) === 'now';

/** JSON with names in order and numbers to twelve digits: 12 in and 304.8 mm are the same length. */
function canonical(value: unknown): string {
  if (typeof value === 'number') return Number.isFinite(value) ? String(Number(value.toPrecision(12)) + 0) : 'null';
  if (ArrayBuffer.isView(value)) return canonical([...(value as Float64Array)]);
  if (Array.isArray(value)) return `[${value.map(canonical).join(',')}]`;
  if (value !== null && typeof value === 'object') {
    const fields = Object.entries(value).filter(([, field]) => field !== undefined);
    fields.sort(([a], [b]) => (a < b ? -1 : 1));
    return `{${fields.map(([name, field]) => `${JSON.stringify(name)}:${canonical(field)}`).join(',')}}`;
  }
  return JSON.stringify(value);
}
