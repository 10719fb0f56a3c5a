import { Triangles } from '../../geometry/hull/triangles.ts';
import type { ByteSource } from './meshfile/bytes.ts';
import type { MeshReading, MeshRequest } from './meshfile/load.ts';
import { type JobReading, readJob } from './read.ts';
import { drawingReader } from './sectiondrawing.ts';

/** The files that lie beside a job: text for tables, bytes for scans and models; undefined where there is none. */
export interface JobFiles {
  readonly text: (name: string) => string | undefined;
  readonly bytes: (name: string) => ByteSource | undefined;
}

/**
 * As `readJob`, for jobs that may name a scan, a model or a drawing as well: the readers of those are loaded when one is
 * named, so that all other jobs start as fast as ever.
 */
export async function readJobFiles(text: string, files: JobFiles): Promise<JobReading> {
  const wanted = new Map<string, MeshRequest>();
  let drawn = false;
  const first = readJob(
    text,
    files.text,
    (request) => {
      wanted.set(JSON.stringify(request), request);
      return { ok: true, triangles: new Triangles(new Float32Array(0), [0, 0, 0], ''), notes: [] };
    },
    () => {
      drawn = true;
      return { ok: true, layers: [], hull: { kind: 'spline', points: [] } };
    },
  );
  if (wanted.size === 0 && !drawn) return first;
  const drawing = drawn ? await drawingReader() : undefined;
  const read = new Map<string, MeshReading>();
  if (wanted.size > 0) {
    const { loadMesh } = await import('./meshfile/load.ts');
    for (const [key, request] of wanted) read.set(key, await loadMesh(request, files.bytes(request.file)));
  }
  const mesh = (request: MeshRequest): MeshReading =>
    read.get(JSON.stringify(request)) ?? { ok: false, found: 'a scan that was not read', expected: 'a scan' };
  return readJob(text, files.text, mesh, drawing);
}
