import type { ByteSource } from '../../job/meshfile/bytes.ts';
import {
  isModel,
  type MeshReading,
  type MeshRequest,
  readTriangles,
  sifted,
  siftFor,
} from '../../job/meshfile/load.ts';
import { MeshFault } from '../../job/meshfile/sift.ts';
import { type JobReading, readJob } from '../../job/read.ts';
import { type DrawingReader, drawingReader } from '../../job/sectiondrawing.ts';
import { quoted } from '../../job/shown.ts';
import { type HeldFile, heldIn, textIn } from '../store/heldfile.ts';
import type { PlanRequest } from './protocol.ts';
import { play, type Tape, TapeRecorder } from './tape.ts';
import type { FileRead, Want } from './wanted.ts';

/*
 * Jobs that name scans, models and drawings, read in the thread that plans. A file is read once and stays as a tape; from then
 * on its job reads as fast as any other, however often a lug is moved.
 */

type OwnRequest = Pick<PlanRequest, 'text' | 'files'>;

/** Tapes kept, and readings of them: a tape is as large as the file. */
const TAPES = 3;
const READINGS = 8;

const tapes = new Map<string, FileRead>();
const readings = new Map<string, MeshReading>();
let drawings: DrawingReader | undefined;

/** The unit plays no part in the triangles of a mesh, and must be the file's own for a model. */
const nameOf = ({ file, unit, held }: Want): string => JSON.stringify([held.key, file, isModel(file) ? unit : '']);

function remember<T>(map: Map<string, T>, most: number, key: string, value: T): void {
  map.delete(key);
  map.set(key, value);
  for (const oldest of map.keys()) {
    if (map.size <= most) return;
    map.delete(oldest);
  }
}

/** What was read of a file elsewhere. */
export const takeRead = (want: Want, read: FileRead): void => remember(tapes, TAPES, nameOf(want), read);

export type HeldReading =
  | { readonly kind: 'read'; readonly reading: JobReading }
  | { readonly kind: 'wants'; readonly wants: readonly Want[]; readonly drawings: boolean };

/** Reads a job with what is known of its files; where that is not enough, says which must be read first. */
export function readHeld({ text, files }: OwnRequest): HeldReading {
  const wants = new Map<string, Want>();
  let drawn = false;
  const mesh = (request: MeshRequest): MeshReading => {
    const { file, unit } = request;
    const held = heldIn(files, file);
    if (held === undefined)
      return { ok: false, found: quoted(file), expected: 'a file that can be read beside the job file' };
    const want = { file, unit, held };
    const name = nameOf(want);
    const read = tapes.get(name);
    if (read === undefined) {
      wants.set(name, want);
      return { ok: false, found: quoted(file), expected: 'a file that was read' };
    }
    remember(tapes, TAPES, name, read);
    if (!read.ok) return { ok: false, found: read.found, expected: read.expected };
    const key = `${name} ${JSON.stringify(request)}`;
    const reading = readings.get(key) ?? siftOut(request, held.size, read.tape);
    remember(readings, READINGS, key, reading);
    return reading;
  };
  const drawing: DrawingReader = (own, options) => {
    if (drawings !== undefined) return drawings(own, options);
    drawn = true;
    return { ok: false, found: 'a drawing', expected: 'a drawing that was read' };
  };
  const reading = readJob(text, (name) => textIn(files, name), mesh, drawing);
  return wants.size > 0 || drawn
    ? { kind: 'wants', wants: [...wants.values()], drawings: drawn }
    : { kind: 'read', reading };
}

function siftOut(request: MeshRequest, size: number, tape: Tape): MeshReading {
  const sift = siftFor(request);
  try {
    play(tape, sift);
  } catch (error) {
    if (!(error instanceof MeshFault)) throw error;
    return { ok: false, found: `${quoted(request.file)}: ${error.found}`, expected: error.expected };
  }
  return sifted(request, size, sift);
}

/** Loads the reader of drawings. */
export async function openDrawings(): Promise<void> {
  drawings ??= await drawingReader();
}

/** Reads, in this thread, whatever files a job names that are not known here yet. */
export async function openFiles(request: OwnRequest): Promise<JobReading> {
  for (;;) {
    const now = readHeld(request);
    if (now.kind === 'read') return now.reading;
    if (now.drawings) await openDrawings();
    for (const want of now.wants) takeRead(want, await readWant(want));
  }
}

/** Reads all of a file. @param told bytes read so far */
export async function readWant(
  { file, unit, held }: Want,
  told: (bytes: number) => void = () => {},
): Promise<FileRead> {
  const recorder = new TapeRecorder();
  const trouble = await readTriangles(file, unit, await sourceFor(held, told), recorder);
  return trouble === undefined ? { ok: true, tape: recorder.tape() } : { ok: false, ...trouble };
}

/** What only the threads beside the page's own have. */
interface SyncReader {
  readAsArrayBuffer(blob: Blob): ArrayBuffer;
}

/** Piece by piece where the thread can do that, so that a file of any size is never held twice. */
async function sourceFor({ blob, size }: HeldFile, told: (bytes: number) => void): Promise<ByteSource> {
  const { FileReaderSync } = globalThis as { FileReaderSync?: new () => SyncReader };
  if (FileReaderSync === undefined) {
    const bytes = new Uint8Array(await blob.arrayBuffer());
    return { size, read: (offset, length) => bytes.subarray(offset, offset + length) };
  }
  const reader = new FileReaderSync();
  return {
    size,
    read(offset, length) {
      const piece = new Uint8Array(reader.readAsArrayBuffer(blob.slice(offset, offset + length)));
      told(Math.min(offset + piece.length, size));
      return piece;
    },
  };
}
