import type { Vec3 } from '../../geometry/math/vec.ts';
import { DefaultsUsed } from './defaults.ts';
import { draftMarkFaults, floatingOf } from './draftmarks.ts';
import { faultsFrom, valueAt } from './faults.ts';
import { HullFiles } from './hull.ts';
import { readJson } from './json.ts';
import { convertLift, liftFaults } from './lift.ts';
import type { Lift } from './lifttypes.ts';
import type { MeshReading, MeshRequest } from './meshfile/load.ts';
import { migrate } from './migrate.ts';
import { readQuantity } from './quantity.ts';
import { jobSchema, type RawFitting, type RawJob } from './schema.ts';
import type { DrawingReader } from './sectiondrawing.ts';
import { quoted, shown } from './shown.ts';
import { convertStructure, structureFaults } from './structure.ts';
import type { AsBuilt, CarbonEquivalent, Fault, Fitting, Job, LoadSpec, Papers, Ship, Stem } from './types.ts';
import { uncertainIn } from './uncertain.ts';
import { type Kind, STANDARD_GRAVITY } from './units.ts';

export type JobReading =
  | { readonly ok: true; readonly job: Job }
  | { readonly ok: false; readonly faults: readonly Fault[] };

const MOST_CHARACTERS = 5_000_000;

/**
 * Reads a job file: text in, a job in internal units (mm, N, MPa, rad, kg, min) out, or every fault that was found, in
 * one go. Never throws, whatever the text.
 *
 * @param file gives the text of a file named in the job, relative to the job's folder; undefined where there is none
 * @param mesh gives what was read of a scan or a model; without it such a hull is refused (see `readJobFiles`)
 * @param drawing reads a section from a drawing's text; without it such a hull is refused (see `readJobFiles`)
 */
export function readJob(
  text: string,
  file: (name: string) => string | undefined,
  mesh?: (request: MeshRequest) => MeshReading,
  drawing?: DrawingReader,
): JobReading {
  if (text.length > MOST_CHARACTERS) {
    return refused([{ path: '', found: `${text.length} characters`, expected: `at most ${MOST_CHARACTERS}` }]);
  }
  const json = readJson(text);
  if (!json.ok) {
    const found = `line ${json.line}, column ${json.column}: ${json.found}`;
    return refused([{ path: '', found, expected: json.expected }]);
  }
  const migration = migrate(json.value);
  if (!migration.ok) return refused([migration.fault]);
  const { raw } = migration;
  const parsed = jobSchema.safeParse(raw);
  const faults = parsed.success ? [] : faultsFrom(parsed.error.issues, raw);
  faults.push(
    ...repeatedIds(raw),
    ...gapLimits(raw),
    ...stub(raw),
    ...liftFaults(raw),
    ...pullFaults(raw),
    ...structureFaults(raw),
  );
  const hulls = new HullFiles(raw, { file, mesh, drawing });
  faults.push(...hulls.faults);
  if (!parsed.success || faults.length > 0) return refused(faults);
  const late = [...draftMarkFaults(parsed.data), ...hulls.readMeshes(parsed.data)];
  if (late.length > 0) return refused(late);
  const read = (data: RawJob) => convert(data, hulls);
  const job = read(parsed.data);
  const uncertain = uncertainIn(parsed.data, job, read);
  return { ok: true, job: uncertain.length === 0 ? job : { ...job, uncertain } };
}

function refused(faults: readonly Fault[]): JobReading {
  return { ok: false, faults };
}

function listAt(raw: unknown, path: readonly PropertyKey[]): readonly unknown[] {
  const value = valueAt(raw, path);
  return Array.isArray(value) ? value : [];
}

function repeatedIds(raw: unknown): Fault[] {
  const first = new Map<string, number>();
  return listAt(raw, ['fittings']).flatMap((fitting, i) => {
    const id = valueAt(fitting, ['id']);
    if (typeof id !== 'string') return [];
    const before = first.get(id);
    if (before === undefined) {
      first.set(id, i);
      return [];
    }
    return [{ path: `fittings[${i}].id`, found: quoted(id), expected: `another id than that of fittings[${before}]` }];
  });
}

/** A lug that is given no pull has to have it from a line of the movement, and its stem from elsewhere. */
function pullFaults(raw: unknown): Fault[] {
  const lines = listAt(raw, ['lift', 'lines']).map((line) => valueAt(line, ['fitting']));
  return listAt(raw, ['fittings']).flatMap((fitting, i) => {
    if (typeof fitting !== 'object' || fitting === null || valueAt(fitting, ['load']) !== undefined) return [];
    const found = shown(undefined);
    const path = `fittings[${i}].load`;
    if (!lines.includes(valueAt(fitting, ['id']))) {
      return [
        {
          path,
          found,
          expected: 'one of toward, direction beside force, or a line of lift that hangs from this fitting',
        },
      ];
    }
    if (valueAt(fitting, ['stem']) !== 'toward-load') return [];
    return [{ path, found, expected: 'a load for the stem to point to, or another stem' }];
  });
}

function gapLimits(raw: unknown): Fault[] {
  const used = new DefaultsUsed();
  const value = (name: 'fitGap' | 'recutGap'): number | undefined => {
    const text = valueAt(raw, ['limits', name]);
    if (text === undefined) return used.value(`limits.${name}`);
    const reading = typeof text === 'string' ? readQuantity(text, 'length') : undefined;
    return reading?.ok === true ? reading.value : undefined;
  };
  const [fit, recut] = [value('fitGap'), value('recutGap')];
  if (fit === undefined || recut === undefined || recut >= fit) return [];
  const given = valueAt(raw, ['limits', 'recutGap']) === undefined ? 'fitGap' : 'recutGap';
  const expected = given === 'fitGap' ? 'no more than limits.recutGap' : 'no less than limits.fitGap';
  return [{ path: `limits.${given}`, found: shown(valueAt(raw, ['limits', given])), expected }];
}

/** What is thrown away of an electrode is shorter than the electrode. */
function stub(raw: unknown): Fault[] {
  const read = (path: readonly string[], other: number): number => {
    const text = valueAt(raw, path);
    const reading = typeof text === 'string' ? readQuantity(text, 'length') : undefined;
    return reading?.ok === true ? reading.value : other;
  };
  const thrown = read(['welding', 'stub'], 0);
  const whole = read(['electrode', 'length'], new DefaultsUsed().value('electrode.length'));
  if (thrown < whole) return [];
  const found = shown(valueAt(raw, ['welding', 'stub']));
  return [{ path: 'welding.stub', found, expected: 'a stub shorter than the electrode (electrode.length)' }];
}

/** Value of a quantity that the schema has read once already. */
function value(text: string, kind: Kind): number {
  const reading = readQuantity(text, kind);
  if (!reading.ok) throw new Error(`a quantity that passed the schema does not read: ${quoted(text)}`);
  return reading.value;
}

const length = (text: string): number => value(text, 'length');

function convert(raw: RawJob, hulls: HullFiles): Job {
  const used = new DefaultsUsed();
  const or = (text: string | undefined, kind: Kind, path: Parameters<DefaultsUsed['value']>[0]): number =>
    text === undefined ? used.value(path) : value(text, kind);
  const { limits, steel, electrode, welding } = raw;
  const lift = raw.lift === undefined ? undefined : convertLift(raw.lift);
  const fittings = raw.fittings.map((fitting, i) => convertFitting(fitting, i, used, lift?.lift));
  const share = limits?.sidewaysShare;
  return {
    title: raw.title,
    display: raw.display,
    ship: convertShip(raw, hulls, fittings),
    fittings,
    basis: raw.basis ?? used.text('basis'),
    limits: {
      fitGap: or(limits?.fitGap, 'length', 'limits.fitGap'),
      recutGap: or(limits?.recutGap, 'length', 'limits.recutGap'),
      sidewaysShare: typeof share === 'number' ? share : or(share, 'share', 'limits.sidewaysShare'),
      ...(limits?.offPlane === undefined ? {} : { offPlane: value(limits.offPlane, 'angle') }),
      bevel: or(limits?.bevel, 'angle', 'limits.bevel'),
      stemToShell: or(limits?.stemToShell, 'angle', 'limits.stemToShell'),
      level: or(limits?.level, 'length', 'limits.level'),
      sealedLength: or(limits?.sealedLength, 'length', 'limits.sealedLength'),
      ...(raw.ship.structure?.seams === undefined
        ? {}
        : { seamClear: or(limits?.seamClear, 'length', 'limits.seamClear') }),
    },
    steel: {
      lug: {
        yield: or(steel?.lug?.yield, 'stress', 'steel.lug.yield'),
        tensile: or(steel?.lug?.tensile, 'stress', 'steel.lug.tensile'),
      },
      shell: {
        yield: or(steel?.shell?.yield, 'stress', 'steel.shell.yield'),
        tensile: or(steel?.shell?.tensile, 'stress', 'steel.shell.tensile'),
        thickness: or(steel?.shell?.thickness, 'length', 'steel.shell.thickness'),
        stressPresent: or(steel?.shell?.stressPresent, 'stress', 'steel.shell.stressPresent'),
        carbon: carbon(steel?.shell, used),
      },
      frameSpacing: or(steel?.frameSpacing, 'length', 'steel.frameSpacing'),
      longitudinalSpacing: or(steel?.longitudinalSpacing, 'length', 'steel.longitudinalSpacing'),
    },
    electrode: {
      kind: electrode?.kind ?? used.text('electrode.kind'),
      diameter: or(electrode?.diameter, 'length', 'electrode.diameter'),
      length: or(electrode?.length, 'length', 'electrode.length'),
      tensile: or(electrode?.tensile, 'stress', 'electrode.tensile'),
    },
    welding: { runLength: or(welding?.runLength, 'length', 'welding.runLength'), ...weldingGiven(welding) },
    factors: factorsGiven(raw.factors),
    coefficients: given({
      bth: raw.coefficients?.bth && given(raw.coefficients.bth),
      en: raw.coefficients?.en && given(raw.coefficients.en),
    }),
    ...(lift === undefined ? {} : { lift: lift.lift }),
    papers: papersGiven(raw.papers, used),
    assumptions: [...used.assumptions, ...(lift?.assumptions ?? [])],
  };
}

function convertShip(raw: RawJob, hulls: HullFiles, fittings: readonly Fitting[]): Ship {
  const floating = floatingOf(raw);
  const hull = (path: readonly PropertyKey[]) => hulls.spec(path, raw, fittings, floating);
  const others = raw.ship.compare?.map(({ name }, i) => ({ name, hull: hull(['ship', 'compare', i, 'hull']) }));
  const { structure } = raw.ship;
  return {
    ...floating,
    hull: hull(['ship', 'hull']),
    ...(others === undefined ? {} : { compare: others }),
    ...(structure === undefined ? {} : { structure: convertStructure(structure) }),
  };
}

/** The fields that are there: an optional field that is not given is left out, not undefined. */
function given<T extends object>(fields: T): { [K in keyof T]?: Exclude<T[K], undefined> } {
  const kept = Object.entries(fields).filter(([, value]) => value !== undefined);
  return Object.fromEntries(kept) as { [K in keyof T]?: Exclude<T[K], undefined> };
}

/** A quantity that may be left out. */
const maybe = (text: string | undefined, kind: Kind): number | undefined =>
  text === undefined ? undefined : value(text, kind);

function weldingGiven(raw: RawJob['welding']): Omit<Job['welding'], 'runLength'> {
  return given({
    bottomTime: maybe(raw?.bottomTime, 'time'),
    class: raw?.class,
    edition: raw?.edition,
    quality: raw?.quality,
    startStop: raw?.startStop,
    directional: raw?.directional,
    stub: maybe(raw?.stub, 'length'),
    recovery: raw?.recovery,
    burn: maybe(raw?.burn, 'time'),
    travel: maybe(raw?.travelPerMinute, 'length'),
    change: maybe(raw?.change, 'time'),
    grindStop: maybe(raw?.grindStop, 'time'),
    cleanMetre: maybe(raw?.cleanMetre, 'time'),
    hold: maybe(raw?.hold, 'time'),
    diveOverhead: maybe(raw?.diveOverhead, 'time'),
    stagger: maybe(raw?.stagger, 'length'),
    cornerClear: maybe(raw?.cornerClear, 'length'),
    arcVolts: maybe(raw?.arcVolts, 'potential'),
    leadLength: maybe(raw?.leadLength, 'length'),
    leadDrop: maybe(raw?.leadDrop, 'potential'),
  });
}

function papersGiven(raw: RawJob['papers'], used: DefaultsUsed): Papers {
  const or = (text: string | undefined, path: 'papers.stock' | 'papers.cleanMargin') =>
    text === undefined ? used.value(path) : value(text, 'length');
  return {
    stock: or(raw?.stock, 'papers.stock'),
    cleanMargin: or(raw?.cleanMargin, 'papers.cleanMargin'),
    ...given({ revision: raw?.revision, date: raw?.date, kerf: maybe(raw?.kerf, 'length'), paper: raw?.paper }),
  };
}

function factorsGiven(raw: RawJob['factors']): Job['factors'] {
  const allowance = raw?.sidewaysAllowance;
  return given({
    dynamic: raw?.dynamic,
    skew: raw?.skew,
    consequence: raw?.consequence,
    load: raw?.load,
    sidewaysAllowance: typeof allowance === 'number' ? allowance : maybe(allowance, 'share'),
  });
}

type RawShell = NonNullable<NonNullable<RawJob['steel']>['shell']>;

function carbon(shell: RawShell | undefined, used: DefaultsUsed): CarbonEquivalent {
  const { carbonEquivalent, composition } = shell ?? {};
  if (typeof carbonEquivalent === 'number') return { kind: 'given', value: carbonEquivalent };
  if (typeof composition === 'object') {
    const given = Object.entries(composition).filter((entry): entry is [string, number] => entry[1] !== undefined);
    return { kind: 'composition', percent: Object.fromEntries(given) };
  }
  if (carbonEquivalent === undefined && composition === undefined) used.text('steel.shell.carbonEquivalent');
  return { kind: 'unknown' };
}

function convertFitting(raw: RawFitting, index: number, used: DefaultsUsed, lift: Lift | undefined): Fitting {
  const { at, lug, shackle, hoist, behind, asBuilt, stopped } = raw;
  return {
    id: raw.id,
    at: { station: length(at.station), side: at.side, ...place(at) },
    lug: {
      foot: length(lug.foot),
      thickness: length(lug.thickness),
      pinHeight: length(lug.pinHeight),
      hole: length(lug.hole),
      topRadius: length(lug.topRadius),
      shoulder: length(lug.shoulder),
      ...(lug.cheek === undefined
        ? {}
        : { cheek: { radius: length(lug.cheek.radius), thickness: length(lug.cheek.thickness) } }),
    },
    stem: convertStem(raw.stem),
    heading: value(raw.heading, 'angle'),
    ...(raw.load === undefined
      ? { load: firstPull(raw.id, lift), pulledByLift: true as const }
      : { load: convertLoad(raw.load) }),
    weld: { leg: length(raw.weld.leg) },
    cut: raw.cut ?? used.text('cut', `fittings[${index}].cut`),
    ...(shackle === undefined
      ? {}
      : {
          shackle: {
            wll: value(shackle.wll, 'load'),
            pin: length(shackle.pin),
            jaw: length(shackle.jaw),
            ...given({
              insideLength: maybe(shackle.insideLength, 'length'),
              bowWidth: maybe(shackle.bowWidth, 'length'),
              bar: maybe(shackle.bar, 'length'),
            }),
          },
        }),
    ...(hoist === undefined ? {} : { hoist: { wll: value(hoist.wll, 'load') } }),
    ...(behind === undefined
      ? {}
      : {
          behind: given({
            fromFrame: maybe(behind.fromFrame, 'length'),
            fromLongitudinal: maybe(behind.fromLongitudinal, 'length'),
          }),
        }),
    ...given({ over: raw.over }),
    ...(asBuilt === undefined ? {} : { asBuilt: convertAsBuilt(asBuilt) }),
    ...(stopped === undefined
      ? {}
      : {
          stopped: stopped.map(({ run, s, order, at: when, dive, note }) => ({
            run,
            s: length(s),
            ...given({ order, at: when, dive, note }),
          })),
        }),
  };
}

function convertAsBuilt(raw: NonNullable<RawFitting['asBuilt']>): AsBuilt {
  const { face, foot } = raw;
  return {
    ...given({
      faceLean: face && value(face.fromPlumb, 'angle') * (face.looksUp === 'face+' ? 1 : -1),
      footRise: foot && value(foot.fromLevel, 'angle') * (foot.higher === 'end+' ? 1 : -1),
      turned: maybe(raw.turned, 'angle'),
    }),
    gaps: (raw.gaps ?? []).map((g) => ({ s: length(g.s), gap: length(g.gap) })),
  };
}

function place(at: RawFitting['at']): Pick<Fitting['at'], 'by' | 'value'> {
  if (at.girth !== undefined) return { by: 'girth', value: length(at.girth) };
  if (at.height !== undefined) return { by: 'height', value: length(at.height) };
  return { by: 'halfBreadth', value: length(at.halfBreadth ?? '') };
}

function convertStem(stem: RawFitting['stem']): Stem {
  return typeof stem === 'string' ? { kind: stem } : { kind: 'lean', angle: value(stem.lean, 'angle') };
}

/** Where a lug without a pull of its own is pulled to before the movement has been worked out. */
function firstPull(id: string, lift: Lift | undefined): LoadSpec {
  const line = lift?.lines.find(({ from }) => 'fitting' in from && from.fitting === id);
  if (lift === undefined || line === undefined) throw new Error(`a pull that was checked is none: ${quoted(id)}`);
  return { toward: line.to, force: lift.load.mass * STANDARD_GRAVITY };
}

function convertLoad(load: NonNullable<RawFitting['load']>): LoadSpec {
  const force = value(load.force, 'force');
  if (load.direction !== undefined) return { direction: load.direction, force };
  const [x = '', y = '', z = ''] = load.toward ?? [];
  const toward: Vec3 = [length(x), length(y), length(z)];
  return { toward, force };
}
