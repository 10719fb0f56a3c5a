import type { DocumentState, Stop } from './document.ts';

/**
 * What the browser keeps of one job: the record's type, its validator and its migrations, in one place.
 * `revision` counts the writes: who writes must have read the one before.
 */
export interface JobRecord {
  readonly version: 2;
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
};

export const RECORD_VERSION = 2;

export function readRecord(stored: unknown): RecordReading {
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
  const files: Record<string, string> = {};
  if (isObject(document.files))
    for (const [name, text] of Object.entries(document.files)) if (typeof text === 'string') files[name] = text;
  const stops = Array.isArray(document.stops) ? document.stops.filter(isStop) : [];
  const fileName = typeof document.fileName === 'string' ? document.fileName : 'job.json';
  return {
    kind: 'read',
    record: { version: 2, id, revision, savedAt, document: { text: document.text, files, stops, fileName } },
  };
}

const isStop = (x: unknown): x is Stop =>
  isObject(x) &&
  typeof x.fitting === 'string' &&
  typeof x.run === 'number' &&
  typeof x.s === 'number' &&
  typeof x.order === 'string' &&
  typeof x.at === 'string';
