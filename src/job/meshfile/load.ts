import type { Triangles } from '../../../geometry/hull/triangles.ts';
import type { Phrase } from '../../../geometry/phrase.ts';
import { quoted } from '../shown.ts';
import { internalPer } from '../units.ts';
import type { ByteSource } from './bytes.ts';
import { MeshFault, type MeshUnit, type Placing, Sift } from './sift.ts';
import { readStl } from './stl.ts';

/** A mesh that a job names, and what of it is wanted. Lengths in mm, ship axes. */
export interface MeshRequest {
  readonly file: string;
  readonly unit: MeshUnit;
  readonly axes: Placing['axes'];
  readonly origin: Placing['origin'];
  /** Stations of the fittings, half the diagonal of the largest foot, radius of the patch round a place. */
  readonly stations: readonly number[];
  readonly reach: number;
  readonly patch: number;
  readonly lpp: number;
}

export type MeshReading =
  | { readonly ok: true; readonly triangles: Triangles; readonly notes: readonly Phrase[] }
  | { readonly ok: false; readonly found: string; readonly expected: string };

/** mm. Kept on either side of a fitting beyond what is fitted: enough to see the lug on. */
const SURROUND = 600;
const UNITS: readonly MeshUnit[] = ['mm', 'cm', 'm', 'in', 'ft'];
/** A mesh longer than this many times the length between perpendiculars is in another unit. */
const TOO_LONG = 3;

/** Takes the triangles of a file one after the other: nine numbers each, as the file has them. */
export type TriangleSink = Pick<Sift, 'add'>;

/** What is wrong with a file; undefined where all of it was read. */
export type MeshTrouble = Omit<Extract<MeshReading, { ok: false }>, 'ok'> | undefined;

const MODELS: Readonly<Record<string, 'step' | 'iges' | undefined>> = {
  stp: 'step',
  step: 'step',
  igs: 'iges',
  iges: 'iges',
};

const endingOf = (file: string): string | undefined => /\.([a-z0-9]+)$/i.exec(file)?.[1]?.toLowerCase();

/** Whether a file is a model of surfaces, whose triangles are in millimetres whatever its unit. */
export const isModel = (file: string): boolean => MODELS[endingOf(file) ?? ''] !== undefined;

/**
 * Reads all triangles of a mesh file in their order. Of a model the unit must be its own; triangles of it are in mm.
 * Never throws for what stands in the file.
 */
export async function readTriangles(
  file: string,
  unit: MeshUnit,
  source: ByteSource | undefined,
  sink: TriangleSink,
): Promise<MeshTrouble> {
  if (source === undefined) return { found: quoted(file), expected: 'a file that can be read beside the job file' };
  const refused = (found: string, expected: string): MeshTrouble => ({ found: `${quoted(file)}: ${found}`, expected });
  if (source.size === 0) return refused('an empty file', 'a mesh');
  const ending = endingOf(file);
  const model = MODELS[ending ?? ''];
  try {
    if (ending === 'stl') readStl(source, sink);
    else if (ending === 'obj' || ending === 'ply') {
      const { readObj, readPly } = await import('./polygons.ts');
      await (ending === 'obj' ? readObj : readPly)(source, sink);
    } else if (model !== undefined) {
      const { readModel } = await import('./model.ts');
      await readModel(source, model, unit, sink);
    } else
      return refused(
        ending === undefined ? 'a name without an ending' : `a file that ends in .${ending}`,
        'a file that ends in .stl, .obj, .ply, .stp, .step, .igs or .iges',
      );
  } catch (error) {
    if (!(error instanceof MeshFault)) throw error;
    return refused(error.found, error.expected);
  }
  return undefined;
}

/** Keeps what lies near the fittings of the triangles that it is given. */
export function siftFor({ file, unit, axes, origin, stations, patch }: MeshRequest): Sift {
  const scale = isModel(file) ? 1 : internalPer(unit);
  return new Sift({ scale, axes, origin }, stations, patch + SURROUND);
}

/** What was kept of a file of so many bytes, or why it cannot lie where the job puts it. */
export function sifted(request: MeshRequest, size: number, sift: Sift): MeshReading {
  const { file } = request;
  const fault = misplaced(sift, request);
  if (fault !== undefined) return { ok: false, found: `${quoted(file)}: ${fault[0]}`, expected: fault[1] };
  const triangles = sift.triangles(
    `${file}: ${size} bytes, ${sift.seen} triangles, ${JSON.stringify({ ...request, lpp: 0 })}`,
  );
  return { ok: true, triangles, notes: notesOn(sift, triangles, request) };
}

/** Reads a mesh file and keeps of it what lies near the fittings. Never throws for what stands in the file. */
export async function loadMesh(request: MeshRequest, source: ByteSource | undefined): Promise<MeshReading> {
  const sift = siftFor(request);
  const trouble = await readTriangles(request.file, request.unit, source, sift);
  return trouble === undefined ? sifted(request, source?.size ?? 0, sift) : { ok: false, ...trouble };
}

/** What shows that the mesh does not lie where the job's unit, axes and origin put it. */
function misplaced(
  { seen, low, high }: Sift,
  { unit, lpp, stations, reach, patch }: MeshRequest,
): [string, string] | undefined {
  if (seen === 0) return ['no triangle', 'a mesh of at least one'];
  const size = Math.max(...high.map((h, k) => h - (low[k] as number)));
  const m = (mm: number): string =>
    Math.abs(mm) >= 1000 ? `${Number((mm / 1000).toPrecision(4))} m` : `${Number(mm.toPrecision(4))} mm`;
  const would = (good: (mm: number) => boolean): string => {
    const list = UNITS.filter((u) => u !== unit && good((size / internalPer(unit)) * internalPer(u)));
    return list.length === 0
      ? ''
      : `; its numbers would make ${list.map((u) => `${m((size / internalPer(unit)) * internalPer(u))} in ${u}`).join(', ')}`;
  };
  if (size > TOO_LONG * lpp)
    return [
      `a mesh ${m(size)} long in ${unit}`,
      `one not much longer than the ship (lpp ${m(lpp)})${would((s) => s < 1.3 * lpp && s > 0.02 * lpp)}`,
    ];
  if (size < 2 * reach)
    return [
      `a mesh of ${m(size)} in all in ${unit}`,
      `one larger than a foot (${m(2 * reach)})${would((s) => s > 4 * reach && s < 1.3 * lpp)}`,
    ];
  const missed = stations.filter((x) => x + patch < low[0] || x - patch > high[0]);
  if (missed.length > 0) {
    return [
      `a mesh from station ${m(low[0])} to ${m(high[0])}`,
      `one that covers the lug at station ${m(missed[0] as number)}: look at axes, origin and unit`,
    ];
  }
  return undefined;
}

function notesOn({ seen, flat }: Sift, triangles: Triangles, { file, unit }: MeshRequest): Phrase[] {
  const notes: Phrase[] = [
    [
      `The shell is the mesh ${file} in ${unit}: `,
      { count: seen },
      ' triangles, of which ',
      { count: triangles.count },
      ' lie near the fittings and were kept',
      ...(flat > 0 ? ['; ', { count: flat }, ' of these without area were passed over'] : []),
      '. Which way round a triangle is wound plays no part.',
    ],
  ];
  return notes;
}
