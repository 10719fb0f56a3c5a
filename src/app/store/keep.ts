import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import type { DocumentState } from './document.ts';
import { type JobRecord, RECORD_VERSION, type RecordReading, readRecord } from './record.ts';

/**
 * What is kept where:
 *   jobs      one record a job, the newest state
 *   earlier   the states before it, the last `EARLIER_KEPT` of each job, by job and revision
 *   damaged   whatever could not be read, as found: nothing is thrown away
 */
interface Kept extends DBSchema {
  jobs: { key: string; value: unknown };
  earlier: { key: [string, number]; value: unknown };
  damaged: { key: number; value: unknown };
}

const EARLIER_KEPT = 30;

/** A state is kept for good when this long has passed since the last one kept. ms */
const EARLIER_EVERY = 60_000;

let opened: Promise<IDBPDatabase<Kept>> | undefined;

function database(): Promise<IDBPDatabase<Kept>> {
  opened ??= openDB<Kept>('lugwright', 1, {
    upgrade(db) {
      db.createObjectStore('jobs');
      db.createObjectStore('earlier');
      db.createObjectStore('damaged', { autoIncrement: true });
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
    const tx = db.transaction(['jobs', 'earlier'], 'readwrite');
    const jobs = tx.objectStore('jobs');
    const before = await jobs.get(id);
    const reading = before === undefined ? undefined : readRecord(before);
    const kept = reading?.kind === 'read' ? reading.record : undefined;
    if ((kept?.revision ?? 0) !== revision || reading?.kind === 'newer') {
      tx.abort();
      await tx.done.catch(() => {});
      return { kind: 'overtaken' };
    }
    const record: JobRecord = {
      version: RECORD_VERSION,
      id,
      revision: revision + 1,
      savedAt: new Date().toISOString(),
      document,
    };
    await jobs.put(record, id);
    if (kept !== undefined) await keepEarlier(tx.objectStore('earlier'), kept);
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

async function keepEarlier(store: EarlierStore, record: JobRecord): Promise<void> {
  const keys = await store.getAllKeys(IDBKeyRange.bound([record.id, 0], [record.id, Number.MAX_SAFE_INTEGER]));
  const last = keys.at(-1);
  if (last !== undefined) {
    const reading = readRecord(await store.get(last));
    if (reading.kind === 'read' && Date.parse(record.savedAt) - Date.parse(reading.record.savedAt) < EARLIER_EVERY)
      return;
  }
  await store.put?.(record, [record.id, record.revision]);
  for (const key of keys.slice(0, Math.max(0, keys.length + 1 - EARLIER_KEPT))) await store.delete?.(key);
}

export type LoadResult =
  | RecordReading
  | { readonly kind: 'none' }
  | { readonly kind: 'failed'; readonly reason: string };

/** Reads a job; a record that cannot be read is set aside as it was found. */
export async function loadJob(id: string): Promise<LoadResult> {
  try {
    const db = await database();
    const stored = await db.get('jobs', id);
    if (stored === undefined) return { kind: 'none' };
    const reading = readRecord(stored);
    if (reading.kind === 'corrupt') {
      await db.add('damaged', stored);
      await db.delete('jobs', id);
    }
    return reading;
  } catch (error) {
    return { kind: 'failed', reason: reasonOf(error) };
  }
}

/** All jobs kept, newest first; those that cannot be read are left out. */
export async function listJobs(): Promise<JobRecord[]> {
  try {
    const all = await (await database()).getAll('jobs');
    return all
      .map(readRecord)
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
    const all = await (await database()).getAll('earlier', range);
    return all
      .map(readRecord)
      .flatMap((r) => (r.kind === 'read' ? [r.record] : []))
      .reverse();
  } catch {
    return [];
  }
}
