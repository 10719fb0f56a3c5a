import type { DocumentState, Stop } from './document.ts';
import type { HeldFile, JobFile } from './heldfile.ts';

/**
 * What the browser keeps of one job: the record's type, its validator and its migrations, in one place. Of a scan or a model
 * the record has only the key and the size: its bytes are kept once, beside the records.
 * `revision` counts the writes: who writes must have read the one before.
 */
export interface JobRecord {
  readonly version: 3;
  readonly id: string;
  readonly revision: number;
  /** ISO 8601. */
  readonly savedAt: string;
  readonly document: DocumentState;
}

export type RecordReading =
  | { readonly kind: 'read'; readonly record: JobRecord }
  /** Written by a newer program: left alone. */
  | { readonly kind: 'newer'; readonly version: number }
  | { readonly kind: 'corrupt'; readonly reason: string };

type Loose = Record<string, unknown>;
/** A file of bytes as a record has it. */
export type KeptFile = Omit<HeldFile, 'blob'>;

const isObject = (x: unknown): x is Loose => typeof x === 'object' && x !== null && !Array.isArray(x);

/** One step each: from the version of the key to the next. Version 1 kept no stops and no file name. */
const MIGRATIONS: Readonly<Record<number, (old: Loose) => Loose>> = {
  1: (old) => ({
    ...old,
    version: 2,
    document: {
      text: old.text,
      files: isObject(old.files) ? old.files : {},
      stops: [],
      fileName: 'job.json',
    },
  }),
  // Version 2 kept no files of bytes.
  2: (old) => ({ ...old, version: 3 }),
};

export const RECORD_VERSION = 3;

const isKeptFile = (x: unknown): x is KeptFile =>
  isObject(x) && typeof x.key === 'string' && typeof x.size === 'number';

/** Keys of the bytes that a record as it is stored belongs with; none where there is no telling. */
export function keysIn(stored: unknown): string[] {
  const document = isObject(stored) ? stored.document : undefined;
  const files = isObject(document) && isObject(document.files) ? Object.values(document.files) : [];
  return files.flatMap((file) => (isKeptFile(file) ? [file.key] : []));
}

/** The document as it is stored: of a file of bytes only its label. */
export const asStored = (document: DocumentState): unknown => ({
  ...document,
  files: Object.fromEntries(
    Object.entries(document.files).map(([name, file]) => [
      name,
      typeof file === 'string' ? file : { key: file.key, size: file.size },
    ]),
  ),
});

/** @param bytes of the files that records name, by key; a file whose bytes are not among them is left out */
export function readRecord(stored: unknown, bytes: ReadonlyMap<string, Blob> = new Map()): RecordReading {
  if (!isObject(stored)) return { kind: 'corrupt', reason: 'not a record' };
  let at = stored;
  let version = at.version;
  if (typeof version === 'number' && version > RECORD_VERSION) return { kind: 'newer', version };
  while (version !== RECORD_VERSION) {
    const step = typeof version === 'number' ? MIGRATIONS[version] : undefined;
    if (step === undefined) return { kind: 'corrupt', reason: `no such version: ${String(version)}` };
    at = step(at);
    version = at.version;
  }
  const { id, revision, savedAt, document } = at;
  if (typeof id !== 'string' || typeof revision !== 'number' || typeof savedAt !== 'string')
    return { kind: 'corrupt', reason: 'its label is damaged' };
  if (!isObject(document) || typeof document.text !== 'string')
    return { kind: 'corrupt', reason: 'its text is missing' };
  const files: Record<string, JobFile> = {};
  for (const [name, file] of Object.entries(isObject(document.files) ? document.files : {})) {
    if (typeof file === 'string') files[name] = file;
    else if (isKeptFile(file)) {
      const blob = bytes.get(file.key);
      if (blob !== undefined) files[name] = { key: file.key, size: file.size, blob };
    }
  }
  const stops = Array.isArray(document.stops) ? document.stops.filter(isStop) : [];
  const fileName = typeof document.fileName === 'string' ? document.fileName : 'job.json';
  return {
    kind: 'read',
    record: {
      version: RECORD_VERSION,
      id,
      revision,
      savedAt,
      document: { text: document.text, files, stops, fileName },
    },
  };
}

const isStop = (x: unknown): x is Stop =>
  isObject(x) &&
  typeof x.fitting === 'string' &&
  typeof x.run === 'number' &&
  typeof x.s === 'number' &&
  typeof x.order === 'string' &&
  typeof x.at === 'string';
