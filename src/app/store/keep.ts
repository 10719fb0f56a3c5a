import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import type { DocumentState } from './document.ts';
import { asStored, type JobRecord, keysIn, RECORD_VERSION, type RecordReading, readRecord } from './record.ts';

/**
 * What is kept where:
 *   jobs      one record a job, the newest state
 *   earlier   the states before it, the last `EARLIER_KEPT` of each job, by job and revision
 *   damaged   whatever could not be read, as found: nothing is thrown away
 *   files     bytes of scans and models, by key: once, however many records name them
 */
interface Kept extends DBSchema {
  jobs: { key: string; value: unknown };
  earlier: { key: [string, number]; value: unknown };
  damaged: { key: number; value: unknown };
  files: { key: string; value: Blob };
}

const EARLIER_KEPT = 30;

/** A state is kept for good when this long has passed since the last one kept. ms */
const EARLIER_EVERY = 60_000;

let opened: Promise<IDBPDatabase<Kept>> | undefined;

function database(): Promise<IDBPDatabase<Kept>> {
  opened ??= openDB<Kept>('lugwright', 2, {
    upgrade(db, before) {
      if (before < 1) {
        db.createObjectStore('jobs');
        db.createObjectStore('earlier');
        db.createObjectStore('damaged', { autoIncrement: true });
      }
      if (before < 2) db.createObjectStore('files');
    },
    blocking(_now, _wanted, event) {
      (event.target as IDBDatabase).close();
      opened = undefined;
    },
    terminated() {
      opened = undefined;
    },
  });
  opened.catch(() => {
    opened = undefined;
  });
  return opened;
}

export type SaveResult =
  | { readonly kind: 'saved'; readonly revision: number }
  /** Someone else wrote in between: nothing was overwritten. */
  | { readonly kind: 'overtaken' }
  | { readonly kind: 'failed'; readonly reason: string };

const reasonOf = (error: unknown): string => {
  const name = error instanceof DOMException ? error.name : '';
  if (name === 'QuotaExceededError') return 'the browser has no room left for it';
  if (name === 'SecurityError' || name === 'InvalidStateError')
    return 'the browser forbids pages to keep anything here';
  return error instanceof Error ? error.message : String(error);
};

/** Writes a job if the kept one is still at `revision` (0: none is kept). */
export async function saveJob(id: string, revision: number, document: DocumentState): Promise<SaveResult> {
  try {
    const db = await database();
    const tx = db.transaction(['jobs', 'earlier', 'files'], 'readwrite');
    const jobs = tx.objectStore('jobs');
    const before = await jobs.get(id);
    const reading = before === undefined ? undefined : readRecord(before);
    const kept = reading?.kind === 'read' ? reading.record : undefined;
    if ((kept?.revision ?? 0) !== revision || reading?.kind === 'newer') {
      tx.abort();
      await tx.done.catch(() => {});
      return { kind: 'overtaken' };
    }
    const files = tx.objectStore('files');
    for (const file of Object.values(document.files)) {
      if (typeof file === 'string' || (await files.getKey(file.key)) !== undefined) continue;
      await files.put(file.blob, file.key);
    }
    const record = {
      version: RECORD_VERSION,
      id,
      revision: revision + 1,
      savedAt: new Date().toISOString(),
      document: asStored(document),
    };
    await jobs.put(record, id);
    if (kept !== undefined) await keepEarlier(tx.objectStore('earlier'), kept, before);
    await tx.done;
    return { kind: 'saved', revision: revision + 1 };
  } catch (error) {
    return { kind: 'failed', reason: reasonOf(error) };
  }
}

interface EarlierStore {
  getAllKeys(range: IDBKeyRange): Promise<[string, number][]>;
  get(key: [string, number]): Promise<unknown>;
  put?: (value: unknown, key: [string, number]) => Promise<unknown>;
  delete?: (key: [string, number]) => Promise<void>;
}

/** @param stored the record as it stands in the store */
async function keepEarlier(store: EarlierStore, record: JobRecord, stored: unknown): Promise<void> {
  const keys = await store.getAllKeys(IDBKeyRange.bound([record.id, 0], [record.id, Number.MAX_SAFE_INTEGER]));
  const last = keys.at(-1);
  if (last !== undefined) {
    const reading = readRecord(await store.get(last));
    if (reading.kind === 'read' && Date.parse(record.savedAt) - Date.parse(reading.record.savedAt) < EARLIER_EVERY)
      return;
  }
  await store.put?.(stored, [record.id, record.revision]);
  for (const key of keys.slice(0, Math.max(0, keys.length + 1 - EARLIER_KEPT))) await store.delete?.(key);
}

export type LoadResult =
  | RecordReading
  | { readonly kind: 'none' }
  | { readonly kind: 'failed'; readonly reason: string };

async function bytesFor(db: IDBPDatabase<Kept>, records: readonly unknown[]): Promise<Map<string, Blob>> {
  const found = new Map<string, Blob>();
  for (const key of new Set(records.flatMap(keysIn))) {
    const blob = await db.get('files', key);
    if (blob !== undefined) found.set(key, blob);
  }
  return found;
}

/** Lets go of bytes that no record names any more. */
export async function sweepFiles(): Promise<void> {
  try {
    const tx = (await database()).transaction(['jobs', 'earlier', 'damaged', 'files'], 'readwrite');
    const records = [
      ...(await tx.objectStore('jobs').getAll()),
      ...(await tx.objectStore('earlier').getAll()),
      ...(await tx.objectStore('damaged').getAll()),
    ];
    const named = new Set(records.flatMap(keysIn));
    const files = tx.objectStore('files');
    for (const key of await files.getAllKeys()) if (!named.has(key)) await files.delete(key);
    await tx.done;
  } catch {
    // storage is forbidden: there is nothing to let go of
  }
}

/** Reads a job; a record that cannot be read is set aside as it was found. */
export async function loadJob(id: string): Promise<LoadResult> {
  try {
    const db = await database();
    const stored = await db.get('jobs', id);
    if (stored === undefined) return { kind: 'none' };
    const reading = readRecord(stored, await bytesFor(db, [stored]));
    if (reading.kind === 'corrupt') {
      await db.add('damaged', stored);
      await db.delete('jobs', id);
    }
    return reading;
  } catch (error) {
    return { kind: 'failed', reason: reasonOf(error) };
  }
}

/** All jobs kept, newest first, without files of bytes; those that cannot be read are left out. */
export async function listJobs(): Promise<JobRecord[]> {
  try {
    const all = await (await database()).getAll('jobs');
    return all
      .map((stored) => readRecord(stored))
      .flatMap((r) => (r.kind === 'read' ? [r.record] : []))
      .sort((a, b) => b.savedAt.localeCompare(a.savedAt));
  } catch {
    return [];
  }
}

/** Earlier states of a job, newest first. */
export async function listEarlier(id: string): Promise<JobRecord[]> {
  try {
    const range = IDBKeyRange.bound([id, 0], [id, Number.MAX_SAFE_INTEGER]);
    const db = await database();
    const all = await db.getAll('earlier', range);
    const bytes = await bytesFor(db, all);
    return all
      .map((stored) => readRecord(stored, bytes))
      .flatMap((r) => (r.kind === 'read' ? [r.record] : []))
      .reverse();
  } catch {
    return [];
  }
}
