import { Triangles } from '../../geometry/hull/triangles.ts';
import type { ByteSource } from './meshfile/bytes.ts';
import type { MeshReading, MeshRequest } from './meshfile/load.ts';
import { type JobReading, readJob } from './read.ts';

/** The files that lie beside a job: text for tables, bytes for scans and models; undefined where there is none. */
export interface JobFiles {
  readonly text: (name: string) => string | undefined;
  readonly bytes: (name: string) => ByteSource | undefined;
}

/**
 * As `readJob`, for jobs that may name a scan or a model as well: the readers of those are loaded when one is named, so
 * that all other jobs start as fast as ever.
 */
export async function readJobFiles(text: string, files: JobFiles): Promise<JobReading> {
  let wanted: MeshRequest | undefined;
  const first = readJob(text, files.text, (request) => {
    wanted = request;
    return { ok: true, triangles: new Triangles(new Float32Array(0), [0, 0, 0], ''), notes: [] };
  });
  if (wanted === undefined) return first;
  const { loadMesh } = await import('./meshfile/load.ts');
  const mesh: MeshReading = await loadMesh(wanted, files.bytes(wanted.file));
  return readJob(text, files.text, () => mesh);
}
