import { valueAt } from './faults.ts';
import { readQuantity } from './quantity.ts';
import { pathText, quoted, shown } from './shown.ts';
import type { RawStructure } from './structureschema.ts';
import type { ShellSpot, Structure } from './structuretypes.ts';
import type { Fault } from './types.ts';

const lengthOf = (text: unknown): number | undefined => {
  const reading = typeof text === 'string' ? readQuantity(text, 'length') : undefined;
  return reading?.ok === true ? reading.value : undefined;
};

const length = (text: string): number => {
  const value = lengthOf(text);
  if (value === undefined) throw new Error(`a length that was checked is none: ${text}`);
  return value;
};

/** The structure of a file that is known to be good. */
export function convertStructure(raw: RawStructure): Structure {
  const spot = (of: { readonly station: string; readonly girth: string }): ShellSpot => ({
    station: length(of.station),
    girth: length(of.girth),
  });
  const on = ({ side }: { readonly side?: 'port' | 'starboard' | undefined }) => (side === undefined ? {} : { side });
  return {
    frames: (raw.frames ?? [])
      .map((frame) => ({ name: frame.name, station: length(frame.station) }))
      .sort((p, q) => p.station - q.station),
    longitudinals: (raw.longitudinals ?? []).map((l) => ({
      name: l.name,
      girth: length(l.girth),
      ...(l.from === undefined ? {} : { from: length(l.from) }),
      ...(l.to === undefined ? {} : { to: length(l.to) }),
      ...on(l),
    })),
    seams: (raw.seams ?? []).map((s) => ({ name: s.name, from: spot(s.from), to: spot(s.to), ...on(s) })),
    keepClear: (raw.keepClear ?? []).map((zone) => ({
      name: zone.name,
      from: spot(zone.from),
      ...(zone.to === undefined ? {} : { to: spot(zone.to) }),
      radius: length(zone.radius),
      ...on(zone),
    })),
  };
}

/** What the fields of the structure say against each other; fields that are wrong by themselves are passed over. */
export function structureFaults(raw: unknown): Fault[] {
  const at = (...path: readonly PropertyKey[]) => valueAt(raw, ['ship', 'structure', ...path]);
  const items = (what: string): readonly unknown[] => {
    const value = at(what);
    return Array.isArray(value) ? value : [];
  };
  const faults: Fault[] = [];
  const say = (path: readonly PropertyKey[], found: string, expected: string) => {
    faults.push({ path: pathText(['ship', 'structure', ...path]), found, expected });
  };

  // Only frames are what a place is given from: two of one name, or two at one station, and a diver may count from the wrong one.
  const names = new Map<string, number>();
  const stations = new Map<number, number>();
  items('frames').forEach((frame, i) => {
    const name = valueAt(frame, ['name']);
    const station = lengthOf(valueAt(frame, ['station']));
    if (typeof name === 'string') {
      const first = names.get(name);
      if (first === undefined) names.set(name, i);
      else say(['frames', i, 'name'], quoted(name), `another name than that of frames[${first}]`);
    }
    if (station !== undefined) {
      const first = stations.get(station);
      if (first === undefined) stations.set(station, i);
      else {
        say(
          ['frames', i, 'station'],
          shown(valueAt(frame, ['station'])),
          `another station than that of frames[${first}]`,
        );
      }
    }
  });
  items('longitudinals').forEach((item, i) => {
    const from = lengthOf(valueAt(item, ['from']));
    const to = lengthOf(valueAt(item, ['to']));
    if (from !== undefined && to !== undefined && to <= from) {
      say(['longitudinals', i, 'to'], shown(valueAt(item, ['to'])), 'a station forward of "from"');
    }
  });
  for (const what of ['seams', 'keepClear']) {
    items(what).forEach((item, i) => {
      const [p, q] = ['from', 'to'].map((end) =>
        ['station', 'girth'].map((field) => lengthOf(valueAt(item, [end, field]))),
      ) as [(number | undefined)[], (number | undefined)[]];
      if (q.includes(undefined)) return;
      if (p[0] === q[0] && p[1] === q[1]) {
        const instead = what === 'keepClear' ? '; leave it out for a disc' : '';
        say([what, i, 'to'], 'the place of "from"', `another place than "from"${instead}`);
      }
    });
  }
  return faults;
}
