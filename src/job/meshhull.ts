import type { HullSpec } from '../../geometry/hull/spec.ts';
import type { Vec3 } from '../../geometry/math/vec.ts';
import { valueAt } from './faults.ts';
import { fileNameFault } from './files.ts';
import type { MeshReading, MeshRequest } from './meshfile/load.ts';
import { readQuantity } from './quantity.ts';
import type { RawHull, RawJob } from './schema.ts';
import { pathText, quoted, shown } from './shown.ts';
import type { Fault, Fitting } from './types.ts';

type RawMesh = Extract<RawHull, { kind: 'mesh' }>;

/** How much of the mesh is made smooth round a place, where the job does not say: more than half the foot, and this at least. */
const PATCH_SHARE = 1.35;
const LEAST_PATCH = 220;

/** Three axes that are one another, or a name that leads out of the folder: what the fields alone do not show. */
export function meshFaults(raw: unknown, at: readonly PropertyKey[]): Fault[] {
  const hull = valueAt(raw, at);
  const base = pathText(at);
  const faults: Fault[] = [];
  const name = valueAt(hull, ['file']);
  const bad = typeof name === 'string' && name !== '' ? fileNameFault(name) : undefined;
  if (bad !== undefined) faults.push({ path: `${base}.file`, found: shown(name), expected: bad });
  const axes = ['forward', 'port', 'up'].map((k) => valueAt(hull, ['axes', k]));
  if (axes.every((a) => typeof a === 'string')) {
    const letters = new Set(axes.map((a) => (a as string).slice(-1)));
    if (letters.size < 3)
      faults.push({
        path: `${base}.axes`,
        found: axes.join(', '),
        expected: 'three different axes of the file for forward, port and up',
      });
  }
  return faults;
}

const length = (text: string): number => {
  const reading = readQuantity(text, 'length');
  if (!reading.ok) throw new Error(`a quantity that passed the schema does not read: ${quoted(text)}`);
  return reading.value;
};

const reachOf = ({ fittings }: RawJob): number =>
  Math.max(...fittings.map(({ lug }) => Math.hypot(length(lug.foot), length(lug.thickness)) / 2));

const patchOf = (hull: RawMesh, raw: RawJob): number =>
  hull.patch === undefined ? Math.max(LEAST_PATCH, PATCH_SHARE * reachOf(raw)) : length(hull.patch);

/** What has to be read of the mesh for this job. */
export function meshRequest(hull: RawMesh, raw: RawJob): MeshRequest {
  const [x, y, z] = hull.origin;
  const origin: Vec3 = [length(x), length(y), length(z)];
  return {
    file: hull.file,
    unit: hull.unit,
    axes: hull.axes,
    origin,
    stations: [...new Set(raw.fittings.map(({ at }) => length(at.station)))],
    reach: reachOf(raw),
    patch: patchOf(hull, raw),
    lpp: length(raw.ship.lpp),
  };
}

/** The hull from what was read. */
export function meshSpec(
  hull: RawMesh,
  raw: RawJob,
  reading: Extract<MeshReading, { ok: true }>,
  fittings: readonly Fitting[],
): HullSpec {
  return {
    kind: 'mesh',
    triangles: reading.triangles,
    half: hull.half,
    reach: reachOf(raw),
    places: fittings.map(({ at }) => at),
    patch: patchOf(hull, raw),
    notes: reading.notes,
  };
}
