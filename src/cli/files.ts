import {
  mkdirSync,
  mkdtempSync,
  openSync,
  readFileSync,
  readSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join, resolve, sep } from 'node:path';
import type { ByteSource } from '../job/meshfile/bytes.ts';
import type { Threads } from './sampling.ts';

/** A file to be written: its name inside the folder, and all of it. */
export interface Deliverable {
  readonly name: string;
  readonly content: string | Uint8Array;
}

export type TextReading = { readonly ok: true; readonly text: string } | { readonly ok: false; readonly why: string };

/** All that the command sees and touches of the machine it runs on. */
export interface System {
  out(text: string): void;
  err(text: string): void;
  read(file: string): TextReading;
  /** The text of a file named in `job`, from the job's folder; undefined where it cannot be read. */
  readBeside(job: string, name: string): string | undefined;
  /** The same as bytes, read piece by piece. */
  bytesBeside(job: string, name: string): ByteSource | undefined;
  /** Other threads for what is sampled; absent: there are none. */
  readonly threads?: Threads;
  /** Writes all files into the folder or none. @returns what went wrong, undefined when all stand there */
  writeAll(folder: string, files: readonly Deliverable[]): string | undefined;
}

/** Reads a text file in UTF-8. A file that is not in UTF-8 is refused: its figures could be read wrongly. */
export function readTextFile(file: string): TextReading {
  let bytes: Uint8Array;
  try {
    bytes = readFileSync(file);
  } catch (error) {
    return { ok: false, why: reason(error) };
  }
  try {
    return { ok: true, text: new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes) };
  } catch {
    return { ok: false, why: 'a file that is not text in UTF-8' };
  }
}

/** As `readTextFile`, for a file named in a job: nothing outside the job's folder is read, not through a link either. */
export function readFileBeside(job: string, name: string): string | undefined {
  const file = fileBeside(job, name);
  const reading = file === undefined ? undefined : readTextFile(file);
  return reading?.ok === true ? reading.text : undefined;
}

/** The bytes of a file named in a job. */
export function bytesBeside(job: string, name: string): ByteSource | undefined {
  const file = fileBeside(job, name);
  if (file === undefined) return undefined;
  try {
    const { size } = statSync(file);
    const open = openSync(file, 'r');
    let buffer = new Uint8Array(0);
    return {
      size,
      read: (offset, length) => {
        const n = Math.max(0, Math.min(length, size - offset));
        if (buffer.length < n) buffer = new Uint8Array(n);
        let got = 0;
        while (got < n) {
          const more = readSync(open, buffer, got, n - got, offset + got);
          if (more === 0) break;
          got += more;
        }
        return buffer.subarray(0, got);
      },
    };
  } catch {
    return undefined;
  }
}

function fileBeside(job: string, name: string): string | undefined {
  try {
    const folder = realpathSync(dirname(resolve(job)));
    const file = realpathSync(join(folder, name));
    if (!file.startsWith(folder.endsWith(sep) ? folder : folder + sep)) return undefined;
    return statSync(file).isFile() ? file : undefined;
  } catch {
    return undefined;
  }
}

/**
 * Writes files so that each is complete or absent, and none appears before all are ready: they are written into a folder
 * of their own inside `folder`, then moved into place one by one. A file that stood there is replaced in one step.
 */
export function writeAllFiles(folder: string, files: readonly Deliverable[]): string | undefined {
  let made: string | undefined;
  let staging: string | undefined;
  try {
    made = mkdirSync(folder, { recursive: true });
    staging = mkdtempSync(join(folder, '.writing-'));
    for (const { name } of files) {
      if (statSync(join(folder, name), { throwIfNoEntry: false })?.isDirectory() === true) {
        throw new Error(`${name} is a folder there`);
      }
    }
    for (const { name, content } of files) writeFileSync(join(staging, name), content, { flush: true });
    for (const { name } of files) renameSync(join(staging, name), join(folder, name));
    made = undefined;
    return undefined;
  } catch (error) {
    return reason(error);
  } finally {
    if (staging !== undefined) rmSync(staging, { recursive: true, force: true });
    if (made !== undefined) rmSync(made, { recursive: true, force: true });
  }
}

function reason(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? error.code : undefined;
  switch (code) {
    case 'ENOENT':
      return 'no such file';
    case 'EISDIR':
      return 'a folder';
    case 'EACCES':
    case 'EPERM':
      return 'no leave to open it';
    case 'ENOTDIR':
    case 'EEXIST':
      return 'a file where a folder should be';
    case 'ENOSPC':
      return 'no room left on the disk';
    case 'EDQUOT':
    case 'EFBIG':
      return 'more than may be written there';
    case 'EROFS':
      return 'a disk that may only be read';
    case 'ENAMETOOLONG':
      return 'a name that is too long';
    default:
      return error instanceof Error ? (error.message.split('\n')[0] ?? 'an error') : 'an error';
  }
}
