import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { HullSpec } from '../../geometry/hull/spec.ts';

/* Offsets of the Series 60 parents (F. H. Todd, DTMB Report 1712, 1963), where they lie beside the project. */

const folder = fileURLToPath(new URL('../../../shared/hulls/series60/', import.meta.url));
export const hasSeries60 = existsSync(folder);

export const LPP = 121_920;
const SHAPE = { cb0p6: { LB: 7.5 }, cb0p8: { LB: 6.5 } } as const;

export interface Table {
  readonly rows: readonly (readonly number[])[];
  readonly stations: readonly number[];
  readonly waterlines: readonly number[];
  readonly greatest: readonly number[];
}

/** Cells as printed: fractions of each waterline's greatest half-breadth; stations from the forward perpendicular. */
export function series60Table(name: keyof typeof SHAPE): Table {
  const lines = readFileSync(`${folder}${name}.csv`, 'utf8').trim().split('\n');
  const cells = lines.map((line) => line.split(','));
  const [head = [], ...body] = cells;
  const waterlines = head.slice(1, -1).map(Number);
  const last = body[body.length - 1] as string[];
  return {
    waterlines,
    stations: body.slice(0, -1).map((row) => Number(row[0])),
    rows: body.slice(0, -1).map((row) => row.slice(1, 1 + waterlines.length).map(Number)),
    greatest: last.slice(1, 1 + waterlines.length).map(Number),
  };
}

/** The table in mm and ship axes. */
export function series60(name: keyof typeof SHAPE): Extract<HullSpec, { kind: 'offsets' }> {
  const { stations, waterlines, rows, greatest } = series60Table(name);
  const B = LPP / SHAPE[name].LB;
  const T = B / 2.5;
  const order = stations.map((_, i) => i).reverse();
  return {
    kind: 'offsets',
    stations: order.map((i) => LPP * (1 - (stations[i] as number) / 20)),
    waterlines: waterlines.map((w) => w * T),
    halfBreadths: order.map((i) => (rows[i] as number[]).map((c, j) => (c * (greatest[j] as number) * B) / 2)),
  };
}
