import { readQuantity } from '../../job/quantity.ts';
import { unitCalled } from '../../job/units.ts';
import { type Json, valueIn } from '../store/jsontext.ts';
import type { Option } from './pieces.ts';

export const HULL_KINDS: readonly Option[] = [
  { value: 'segments', label: 'one section of lines and arcs' },
  { value: 'spline', label: 'one smooth section through points' },
  { value: 'sections', label: 'a surface through several sections' },
  { value: 'offsets', label: 'a table of offsets' },
  { value: 'readings', label: 'what a diver measured at the place' },
  { value: 'columns', label: 'one section as two columns of numbers' },
  { value: 'drawing', label: 'a section from a drawing in a file' },
  { value: 'mesh', label: 'a scan or a model in a file' },
];

const asPoint = (p: Json | undefined): { [key: string]: Json } => ({
  y: valueIn(p, ['y']) ?? '0 m',
  z: valueIn(p, ['z']) ?? '0 m',
});

/** Points of a hull that has one section, as they stand in the job. */
function pointsOf(hull: Json | undefined): { [key: string]: Json }[] {
  const kind = valueIn(hull, ['kind']);
  if (kind === 'segments') {
    const path = valueIn(hull, ['path']);
    return [
      asPoint(valueIn(hull, ['start'])),
      ...(Array.isArray(path) ? path.map((p) => asPoint(valueIn(p, ['to']))) : []),
    ];
  }
  const points = kind === 'sections' ? valueIn(hull, ['sections', 0, 'points']) : valueIn(hull, ['points']);
  return Array.isArray(points)
    ? points.map(asPoint)
    : [asPoint(null), { y: '3 m', z: '0.6 m' }, { y: '4 m', z: '3 m' }];
}

/** A length of the job as a bare number of millimetres; 0 where it cannot be read. */
function plainMm(written: Json | undefined): string {
  const reading = readQuantity(typeof written === 'string' ? written : '', 'length');
  return reading.ok ? String(Number(reading.value.toFixed(2))) : '0';
}

/** A hull of another kind that starts from what the job already says of its section. */
export function startingHull(kind: string, from: Json | undefined): Json {
  const points = pointsOf(from);
  switch (kind) {
    case 'segments':
      return { kind, start: points[0] ?? asPoint(null), path: points.slice(1).map((to) => ({ to })) };
    case 'spline':
      return { kind, points };
    case 'sections':
      return {
        kind,
        sections: [
          { station: '0 m', points },
          { station: '20 m', points },
        ],
      };
    case 'columns':
      return { kind, unit: 'mm', text: points.map((p) => `${plainMm(p.y)}\t${plainMm(p.z)}`).join('\n') };
    case 'drawing':
      return { kind, file: 'section.dxf' };
    case 'offsets':
      return { kind, file: 'offsets.csv', unit: 'm' };
    case 'readings':
      return {
        kind,
        start: points[0] ?? asPoint(null),
        girth: [
          { at: '0 mm', slope: '10 deg' },
          { at: '500 mm', slope: '14 deg' },
        ],
        fore: { gaps: [{ at: '500 mm', gap: '0 mm' }] },
      };
    default:
      return {
        kind: 'mesh',
        file: 'hull.stl',
        unit: 'mm',
        axes: { forward: 'x', port: 'y', up: 'z' },
        origin: ['0 m', '0 m', '0 m'],
        half: false,
      };
  }
}

export type PastedSection = { readonly ok: true; readonly hull: Json } | { readonly ok: false; readonly fault: string };

/**
 * Rows as they come from a spreadsheet or a message: two columns, out and up, parted by a tab, a semicolon, a comma
 * or blanks. A figure without a unit takes that of the heading; without any unit the rows are refused: a guess between
 * feet and metres could sink the job.
 */
export function pastedSection(text: string): PastedSection {
  const rows = text
    .split(/\r?\n/)
    .map((r) => r.trim())
    .filter((r) => r !== '');
  const units: (string | undefined)[] = [undefined, undefined];
  const points: Json[] = [];
  for (const [n, row] of rows.entries()) {
    const cells = cellsOf(row);
    if (n === 0 && !cells.some((c) => /\d/.test(c))) {
      const named = [...row.matchAll(/[A-Za-z"']+/g)].map((m) => m[0]).filter((w) => unitCalled(w)?.kind === 'length');
      [units[0], units[1]] = [named[0], named[1] ?? named[0]];
      continue;
    }
    const [y, z] = cells.map((c, k) => (/[A-Za-z"']/.test(c) || units[k] === undefined ? c : `${c} ${units[k]}`));
    if (y === undefined || z === undefined || cells.length > 2)
      return { ok: false, fault: `Row ${n + 1} has ${cells.length} columns; two are expected: out and up.` };
    for (const figure of [y, z]) {
      const reading = readQuantity(figure, 'length');
      if (!reading.ok) return { ok: false, fault: `Row ${n + 1}: found “${figure}”, expected ${reading.expected}.` };
    }
    points.push({ y, z });
  }
  if (points.length < 2) return { ok: false, fault: 'At least two points make a section.' };
  return { ok: true, hull: { kind: 'spline', points } };
}

function cellsOf(row: string): string[] {
  const parting = row.includes('\t')
    ? '\t'
    : row.includes(';')
      ? ';'
      : /,\s/.test(row) || /^[^,]*,[^,]*$/.test(row)
        ? ','
        : /\s{1,}(?=[-+\d.])/;
  return row
    .split(parting)
    .map((c) => c.trim())
    .filter((c) => c !== '');
}
