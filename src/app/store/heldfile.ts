/** A file beside the job that is no text (a scan, a model), as the app holds it: its bytes stay where the browser keeps them. */
export interface HeldFile {
  /** Tells these bytes from any others. */
  readonly key: string;
  readonly size: number;
  readonly blob: Blob;
}

/** A file beside the job: text that is planned from as it stands, or bytes. */
export type JobFile = string | HeldFile;
export type JobFileSet = Readonly<Record<string, JobFile>>;

/** Names whose files are bytes to the app. */
export const HELD = /\.(stl|obj|ply|stp|step|igs|iges)$/i;

export function textIn(files: JobFileSet, name: string): string | undefined {
  const file = Object.hasOwn(files, name) ? files[name] : undefined;
  return typeof file === 'string' ? file : undefined;
}

export function heldIn(files: JobFileSet, name: string): HeldFile | undefined {
  const file = Object.hasOwn(files, name) ? files[name] : undefined;
  return typeof file === 'object' ? file : undefined;
}

/** Takes bytes in: a copy of our own, which stays good whatever becomes of the file they were read from. */
export async function hold(bytes: ArrayBuffer): Promise<HeldFile> {
  return { key: await keyOf(bytes), size: bytes.byteLength, blob: new Blob([bytes]) };
}

/** SHA-256 of the bytes; where a page may not reckon that (plain http), a name that no other file has. */
async function keyOf(bytes: ArrayBuffer): Promise<string> {
  if (globalThis.crypto.subtle === undefined) return crypto.getRandomValues(new Uint32Array(4)).join('-');
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return Array.from(digest, (b) => b.toString(16).padStart(2, '0')).join('');
}
