import type { Vec3 } from '../../geometry/math/vec.ts';
import { DefaultsUsed } from './defaults.ts';
import { valueAt } from './faults.ts';
import type { Lift, LiftLine, LiftStep } from './lifttypes.ts';
import { readQuantity } from './quantity.ts';
import type { RawLift } from './schema.ts';
import { pathText, quoted, shown } from './shown.ts';
import type { Assumption, Fault } from './types.ts';
import { type Kind, STANDARD_GRAVITY } from './units.ts';
import { quantityText } from './write.ts';

/** A walk is looked at in this many parts where the job says nothing, a set of lengths in one. */
const PARTS = { walk: 4, set: 1 } as const;

/** Stretch of a line of which nothing is known, under the load's whole weight in air. */
const DEFAULT_STRETCH = 0.005;

function value(text: string, kind: Kind): number {
  const reading = readQuantity(text, kind);
  if (!reading.ok) throw new Error(`a quantity that passed the schema does not read: ${quoted(text)}`);
  return reading.value;
}

const point = ([x, y, z]: readonly [string, string, string]): Vec3 => [
  value(x, 'length'),
  value(y, 'length'),
  value(z, 'length'),
];

/** The lift of a job that has passed the schema and `liftFaults`, with the defaults that it took. */
export function convertLift(raw: RawLift): { readonly lift: Lift; readonly assumptions: readonly Assumption[] } {
  const used = new DefaultsUsed();
  const own: Assumption[] = [];
  const or = (text: string | undefined, kind: Kind, path: Parameters<DefaultsUsed['value']>[0]): number =>
    text === undefined ? used.value(path) : value(text, kind);
  const mass = value(raw.load.mass, 'mass');
  const centre = point(raw.load.centre);
  if (raw.load.buoyancyCentre === undefined) {
    own.push({
      path: 'lift.load.buoyancyCentre',
      value: 'as lift.load.centre',
      reason: 'a load of one material: where it holds air or foam, enter the centre of its volume',
      standing: 'choice',
    });
  }
  const ea = (mass * STANDARD_GRAVITY) / DEFAULT_STRETCH;
  const lines = raw.lines.map((line, i): LiftLine => {
    let stretch: LiftLine['stretch'];
    if (line.ea !== undefined) stretch = { kind: 'axial', ea: value(line.ea, 'force') };
    else if (line.stretch !== undefined) {
      stretch = { kind: 'spring', k: value(line.stretch.under, 'force') / value(line.stretch.by, 'length') };
    } else {
      stretch = { kind: 'axial', ea };
      own.push({
        path: `lift.lines[${i}].ea`,
        value: quantityText(ea, 'force', 'metric'),
        reason:
          "half a per cent of stretch under the load's whole weight, about what its chain or wire rope gives; with more than three taut lines it decides who carries what: enter the maker's figure",
        standing: 'choice',
      });
    }
    return {
      id: line.id,
      from:
        line.fitting === undefined
          ? { point: point(line.from as [string, string, string]) }
          : { fitting: line.fitting },
      to: point(line.to),
      stretch,
      ...(line.shortest === undefined ? {} : { shortest: value(line.shortest, 'length') }),
      ...(line.longest === undefined ? {} : { longest: value(line.longest, 'length') }),
      mass: line.mass === undefined ? 0 : value(line.mass, 'mass'),
    };
  });
  const waterDensity = or(raw.waterDensity, 'density', 'lift.waterDensity');
  return {
    lift: {
      load: {
        name: raw.load.name ?? 'load',
        mass,
        displaced: displaced(raw.load, mass, waterDensity),
        centre,
        buoyancyCentre: raw.load.buoyancyCentre === undefined ? centre : point(raw.load.buoyancyCentre),
        outline: (raw.load.outline ?? []).map(point),
      },
      waterDensity,
      lines,
      steps: raw.steps.map(convertStep),
      pushes: (raw.pushes ?? []).map((push) => ({
        name: push.name,
        force: value(push.force, 'force'),
        ...(push.direction === undefined ? {} : { direction: push.direction }),
        at: push.at === undefined ? centre : point(push.at),
      })),
      keepClear: (raw.keepClear ?? []).map((solid) => ({
        name: solid.name,
        from: point(solid.from),
        to: point(solid.to),
        ...(solid.radius === undefined ? {} : { radius: value(solid.radius, 'length') }),
      })),
      limits: {
        clearance: or(raw.limits?.clearance, 'length', 'lift.limits.clearance'),
        stretch: or(raw.limits?.stretch, 'share', 'lift.limits.stretch'),
        miss: or(raw.limits?.miss, 'length', 'lift.limits.miss'),
        unhookShare: or(raw.limits?.unhookShare, 'share', 'lift.limits.unhookShare'),
        tilt: or(raw.limits?.tilt, 'angle', 'lift.limits.tilt'),
      },
    },
    assumptions: [...used.assumptions, ...own],
  };
}

function displaced(load: RawLift['load'], mass: number, waterDensity: number): number {
  if (load.volume !== undefined) return value(load.volume, 'volume') * waterDensity;
  if (load.massInWater !== undefined) return mass - value(load.massInWater, 'mass');
  return (mass / value(load.density as string, 'density')) * waterDensity;
}

function convertStep(step: RawLift['steps'][number]): LiftStep {
  const { name } = step;
  if (step.set !== undefined) {
    const lengths = Object.entries(step.set).map(([line, text]) => ({
      line,
      length: text === 'off' ? ('off' as const) : value(text, 'length'),
    }));
    return { kind: 'set', name, parts: step.parts ?? PARTS.set, lengths };
  }
  return {
    kind: 'walk',
    name,
    parts: step.parts ?? PARTS.walk,
    target:
      step.to !== undefined
        ? { to: point(step.to) }
        : step.by !== undefined
          ? { by: point(step.by) }
          : { lower: value(step.lower as string, 'length') },
    ...(step.with === undefined ? {} : { with: step.with }),
  };
}

/** What is wrong with a lift beyond single fields: names that lead nowhere, a load heavier in water than in air. */
export function liftFaults(raw: unknown): Fault[] {
  const lift = valueAt(raw, ['lift']);
  if (typeof lift !== 'object' || lift === null) return [];
  const faults: Fault[] = [];
  const listAt = (of: unknown, path: readonly PropertyKey[]): readonly unknown[] => {
    const list = valueAt(of, path);
    return Array.isArray(list) ? list : [];
  };
  const texts = (list: readonly unknown[], key: string): string[] =>
    list.flatMap((item) => {
      const id = valueAt(item, [key]);
      return typeof id === 'string' ? [id] : [];
    });
  const fittings = texts(listAt(raw, ['fittings']), 'id');
  const lines = listAt(lift, ['lines']);
  const ids = texts(lines, 'id');
  const known = (list: readonly string[]): string => `one of ${list.map(quoted).join(', ')}`;
  lines.forEach((line, i) => {
    const id = valueAt(line, ['id']);
    const before = lines.findIndex((other) => valueAt(other, ['id']) === id);
    if (typeof id === 'string' && before < i) {
      faults.push({
        path: `lift.lines[${i}].id`,
        found: quoted(id),
        expected: `another id than that of lines[${before}]`,
      });
    }
    const fitting = valueAt(line, ['fitting']);
    if (typeof fitting === 'string' && !fittings.includes(fitting)) {
      faults.push({ path: `lift.lines[${i}].fitting`, found: quoted(fitting), expected: known(fittings) });
    }
    if (valueAt(line, ['ea']) !== undefined && valueAt(line, ['stretch']) !== undefined) {
      faults.push({ path: `lift.lines[${i}]`, found: 'ea and stretch', expected: 'at most one of ea, stretch' });
    }
    const [shortest, longest] = ['shortest', 'longest'].map((key) => read(valueAt(line, [key]), 'length'));
    if (shortest !== undefined && longest !== undefined && longest <= shortest) {
      faults.push({
        path: `lift.lines[${i}].longest`,
        found: shown(valueAt(line, ['longest'])),
        expected: 'a length greater than shortest',
      });
    }
  });
  listAt(lift, ['steps']).forEach((step, i) => {
    const set = valueAt(step, ['set']);
    if (typeof set === 'object' && set !== null) {
      if (Object.keys(set).length === 0) {
        faults.push({ path: `lift.steps[${i}].set`, found: 'no line', expected: 'the length of at least one line' });
      }
      for (const id of Object.keys(set)) {
        if (ids.includes(id)) continue;
        faults.push({ path: pathText(['lift', 'steps', i, 'set', id]), found: quoted(id), expected: known(ids) });
      }
      if (valueAt(step, ['with']) !== undefined) {
        faults.push({
          path: `lift.steps[${i}].with`,
          found: 'with beside set',
          expected: 'with only beside to, by or lower',
        });
      }
    }
    listAt(step, ['with']).forEach((id, k) => {
      if (typeof id !== 'string' || ids.includes(id)) return;
      faults.push({ path: `lift.steps[${i}].with[${k}]`, found: quoted(id), expected: known(ids) });
    });
  });
  const mass = read(valueAt(lift, ['load', 'mass']), 'mass');
  const inWater = read(valueAt(lift, ['load', 'massInWater']), 'mass');
  if (mass !== undefined && inWater !== undefined && inWater > mass) {
    faults.push({
      path: 'lift.load.massInWater',
      found: shown(valueAt(lift, ['load', 'massInWater'])),
      expected: 'no more than lift.load.mass',
    });
  }
  return faults;
}

function read(text: unknown, kind: Kind): number | undefined {
  const reading = typeof text === 'string' ? readQuantity(text, kind) : undefined;
  return reading?.ok === true ? reading.value : undefined;
}
