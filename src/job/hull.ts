import type { HullPoint, HullSpec, SplinePoint } from '../../geometry/hull/spec.ts';
import { valueAt } from './faults.ts';
import { fileNameFault } from './files.ts';
import type { MeshReading, MeshRequest } from './meshfile/load.ts';
import { meshFaults, meshRequest, meshSpec } from './meshhull.ts';
import { type OffsetsTable, type OffsetsUnit, readOffsets } from './offsets.ts';
import { readQuantity } from './quantity.ts';
import { readingsFaults, readingsSpec } from './readings.ts';
import type { RawHull, RawJob } from './schema.ts';
import { type DrawingReader, readSectionColumns, type SectionReading, type SectionUnit } from './sectiondrawing.ts';
import { pathText, quoted, shown } from './shown.ts';
import type { Fault, Fitting, Ship } from './types.ts';

/*
 * From the hulls of a job file (that of the ship, and the other sources it is compared with) to the hulls the geometry knows:
 * files beside the job are read once, and every fault has the path of its hull.
 */

type Path = readonly PropertyKey[];

/** Where the files beside a job come from. Without `mesh` a scan is refused, without `drawing` a drawing. */
export interface HullSources {
  readonly file: (name: string) => string | undefined;
  readonly mesh?: ((request: MeshRequest) => MeshReading) | undefined;
  readonly drawing?: DrawingReader | undefined;
}

/** Paths of all hulls of a job: the ship's first. */
function hullPaths(raw: unknown): Path[] {
  const also = valueAt(raw, ['ship', 'compare']);
  const others = Array.isArray(also) ? also.map((_, i): Path => ['ship', 'compare', i, 'hull']) : [];
  return [['ship', 'hull'], ...others];
}

type Scan = Extract<MeshReading, { ok: true }>;
type Section = Extract<SectionReading, { ok: true }>;

/** What was read of the files that the hulls of a job name; `faults` where something was wrong with one. */
export class HullFiles {
  readonly faults: Fault[] = [];
  private readonly tables = new Map<string, OffsetsTable>();
  private readonly sections = new Map<string, Section>();
  private readonly scans = new Map<string, Scan>();
  private readonly sources: HullSources;

  /** @param raw a job file that the schema may have found faults in: what it refuses is passed over here */
  constructor(raw: unknown, sources: HullSources) {
    this.sources = sources;
    for (const path of hullPaths(raw)) {
      const hull = valueAt(raw, path);
      const fault = (field: string, found: string, expected: string) =>
        this.faults.push({ path: `${pathText(path)}${field}`, found, expected });
      const kind = valueAt(hull, ['kind']);
      if (kind === 'offsets') {
        this.table(hull, path, fault);
        this.faults.push(...closingStations(hull, path));
      } else if (kind === 'drawing') this.drawing(hull, path, fault);
      else if (kind === 'columns') this.columns(hull, path, fault);
      else if (kind === 'sections') this.faults.push(...sectionStations(hull, path));
      else if (kind === 'readings') this.faults.push(...readingsFaults(raw, path));
      else if (kind === 'mesh') {
        if (sources.mesh !== undefined) this.faults.push(...meshFaults(raw, path));
        else fault('.kind', quoted(kind), `a hull a fitting can be planned on: ${WITHOUT_MESH}`);
      }
    }
  }

  /** Reads the scans and models: their places are those of a job that the schema has found good. @returns faults */
  readMeshes(raw: RawJob): Fault[] {
    return hullPaths(raw).flatMap((path) => {
      const hull = valueAt(raw, path) as RawHull;
      if (hull.kind !== 'mesh') return [];
      const scan = this.sources.mesh?.(meshRequest(hull, raw));
      if (scan?.ok === true) this.scans.set(pathText(path), scan);
      return scan?.ok === false ? [{ path: `${pathText(path)}.file`, found: scan.found, expected: scan.expected }] : [];
    });
  }

  /** The hull at a path of a job that was found good. */
  spec(path: Path, raw: RawJob, fittings: readonly Fitting[], attitude: Omit<Ship, 'hull'>): HullSpec {
    const hull = valueAt(raw, path) as RawHull;
    const name = pathText(path);
    switch (hull.kind) {
      case 'drawing':
      case 'columns': {
        const section = this.sections.get(name);
        if (section === undefined) throw new Error('a drawn section that was not read');
        return plainSpec(section.hull);
      }
      case 'offsets': {
        const table = this.tables.get(name);
        if (table === undefined) throw new Error('an offsets hull without its table');
        return { kind: 'offsets', ...table, ...closings(hull) };
      }
      case 'readings':
        return readingsSpec(hull, raw, attitude);
      case 'mesh': {
        const scan = this.scans.get(name);
        if (scan === undefined) throw new Error('a mesh hull without its mesh');
        return meshSpec(hull, raw, scan, fittings);
      }
      default:
        return plainSpec(hull);
    }
  }

  /** The text of the file that a hull names; undefined with a fault noted, or where the schema has refused the naming. */
  private text(hull: unknown, fault: Noting): string | undefined {
    const name = valueAt(hull, ['file']);
    if (typeof name !== 'string' || name === '') return undefined;
    const bad = fileNameFault(name);
    const text = bad === undefined ? this.sources.file(name) : undefined;
    if (text === undefined) fault('.file', quoted(name), bad ?? 'a file that can be read beside the job file');
    return text;
  }

  private table(hull: unknown, path: Path, fault: Noting): void {
    const unit = valueAt(hull, ['unit']);
    if (!OFFSETS_UNITS.includes(unit)) return;
    const text = this.text(hull, fault);
    if (text === undefined) return;
    const reading = readOffsets(text, unit as OffsetsUnit, valueAt(hull, ['file']) as string);
    if (reading.ok) this.tables.set(pathText(path), reading.table);
    else for (const { found, expected } of reading.faults) fault('.file', found, expected);
  }

  private drawing(hull: unknown, path: Path, fault: Noting): void {
    const { drawing } = this.sources;
    if (drawing === undefined) {
      fault('.kind', quoted('drawing'), 'a hull a fitting can be planned on without opening a drawing');
      return;
    }
    const text = this.text(hull, fault);
    if (text === undefined || !drawingOptionsGood(hull)) return;
    const { unit, scale, layer, zero, axes, half } = hull as Extract<RawHull, { kind: 'drawing' }>;
    const reading = drawing(text, {
      ...(unit && { unit }),
      ...(scale !== undefined && { scale }),
      ...(layer !== undefined && { layer }),
      ...(zero && { zero: { x: zero[0], y: zero[1] } }),
      ...(axes && { axes }),
      ...(half && { half }),
    });
    if (reading.ok) this.sections.set(pathText(path), reading);
    else fault('.file', reading.found, reading.expected);
  }

  private columns(hull: unknown, path: Path, fault: Noting): void {
    const [given, unit] = [valueAt(hull, ['text']), valueAt(hull, ['unit'])];
    if (!DRAWN_UNITS.includes(unit) || (given !== undefined && valueAt(hull, ['file']) !== undefined)) return;
    const text = typeof given === 'string' ? given : this.text(hull, fault);
    if (text === undefined) return;
    const reading = readSectionColumns(text, unit as SectionUnit);
    if (reading.ok) this.sections.set(pathText(path), reading);
    else fault(given === undefined ? '.file' : '.text', reading.found, reading.expected);
  }
}

type Noting = (field: string, found: string, expected: string) => void;

const OFFSETS_UNITS: readonly unknown[] = ['mm', 'cm', 'm', 'in', 'ft', 'ft-in-8'] satisfies readonly OffsetsUnit[];
const DRAWN_UNITS: readonly unknown[] = ['mm', 'cm', 'm', 'in', 'ft'] satisfies readonly SectionUnit[];
const WITHOUT_MESH = 'segments, spline, sections, offsets, readings, drawing or columns';

/** Whether the schema can have nothing against a drawing's fields: what it refuses is not read with. */
function drawingOptionsGood(hull: unknown): boolean {
  return drawingOptions.every(([name, good]) => {
    const value = valueAt(hull, [name]);
    return value === undefined || good(value);
  });
}
const axis = (x: unknown) => ['x', '-x', 'y', '-y'].includes(x as string);
const drawingOptions: readonly (readonly [string, (value: unknown) => boolean])[] = [
  ['unit', (x) => DRAWN_UNITS.includes(x)],
  ['scale', (x) => typeof x === 'number' && x > 0],
  ['layer', (x) => typeof x === 'string'],
  ['zero', (x) => Array.isArray(x) && x.length === 2 && x.every((n) => typeof n === 'number')],
  ['axes', (x) => axis(valueAt(x, ['out'])) && axis(valueAt(x, ['up']))],
  ['half', (x) => x === 'right' || x === 'left'],
];

function sectionStations(hull: unknown, path: Path): Fault[] {
  const sections = valueAt(hull, ['sections']);
  const seen = new Map<number, number>();
  return (Array.isArray(sections) ? sections : []).flatMap((section, i) => {
    const text = valueAt(section, ['station']);
    const reading = typeof text === 'string' ? readQuantity(text, 'length') : undefined;
    if (reading?.ok !== true) return [];
    const before = seen.get(reading.value);
    if (before === undefined) {
      seen.set(reading.value, i);
      return [];
    }
    return [
      {
        path: `${pathText(path)}.sections[${i}].station`,
        found: shown(text),
        expected: `another station than that of sections[${before}]`,
      },
    ];
  });
}

const CLOSINGS = ['keel', 'deck', 'flatBottom', 'flatSide'] as const;

/** Lines that close the sections run forward: each station beyond the one before. */
function closingStations(hull: unknown, path: Path): Fault[] {
  return CLOSINGS.flatMap((name) => {
    const line = valueAt(hull, [name]);
    let before = Number.NEGATIVE_INFINITY;
    return (Array.isArray(line) ? line : []).flatMap((point, i) => {
      const text = valueAt(point, ['station']);
      const reading = typeof text === 'string' ? readQuantity(text, 'length') : undefined;
      if (reading?.ok !== true) return [];
      const bad = reading.value <= before;
      before = reading.value;
      const at = `${pathText(path)}.${name}[${i}].station`;
      return bad ? [{ path: at, found: shown(text), expected: 'stations in order, going forward' }] : [];
    });
  });
}

function closings({ keel, deck, flatBottom, flatSide }: Extract<RawHull, { kind: 'offsets' }>) {
  return {
    ...(keel && { keel: keel.map(({ station, z }) => ({ station: length(station), z: length(z) })) }),
    ...(deck && { deck: deck.map(({ station, y, z }) => ({ station: length(station), y: length(y), z: length(z) })) }),
    ...(flatBottom && { flatBottom: flatBottom.map(({ station, y }) => ({ station: length(station), y: length(y) })) }),
    ...(flatSide && { flatSide: flatSide.map(({ station, z }) => ({ station: length(station), z: length(z) })) }),
  };
}

/** A length that the schema has read once already, mm. */
function length(text: string): number {
  const reading = readQuantity(text, 'length');
  if (!reading.ok) throw new Error(`a quantity that passed the schema does not read: ${quoted(text)}`);
  return reading.value;
}

type RawPoint = { readonly y: string; readonly z: string; readonly knuckle?: boolean | undefined };

const hullPoint = (point: RawPoint): HullPoint => ({ y: length(point.y), z: length(point.z) });
const splinePoint = (point: RawPoint): SplinePoint => ({
  ...hullPoint(point),
  ...(point.knuckle === undefined ? {} : { knuckle: point.knuckle }),
});

/** A hull that stands in the job itself, whole. */
function plainSpec(hull: Extract<RawHull, { kind: 'segments' | 'spline' | 'sections' }>): HullSpec {
  switch (hull.kind) {
    case 'segments':
      return {
        kind: 'segments',
        start: hullPoint(hull.start),
        path: hull.path.map(({ to, radius }) => ({
          to: hullPoint(to),
          ...(radius === undefined ? {} : { radius: length(radius) }),
        })),
      };
    case 'spline':
      return { kind: 'spline', points: hull.points.map(splinePoint) };
    case 'sections':
      return {
        kind: 'sections',
        sections: hull.sections
          .map(({ station, points }) => ({ station: length(station), points: points.map(splinePoint) }))
          .sort((a, b) => a.station - b.station),
      };
  }
}
