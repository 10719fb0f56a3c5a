import { ROUND_OFF_MM } from '../math/tolerance.ts';
import type { Phrase } from '../phrase.ts';
import { Refusal } from '../refusal.ts';
import { unfairCells } from './fairness.ts';
import type { LoftSection } from './loft.ts';
import type { HullSpec } from './spec.ts';

/**
 * Sections from a table of offsets. Each station's half-breadths, from the lowest waterline that has one to the last
 * before a blank, are the points of its section. Where the lowest waterline of the table has breadth, the shell below it
 * is taken as flat to the centreline (the flat of bottom), with a knuckle at its edge: girth counts from the centreline.
 * A station whose lowest cells are blank starts where its data starts.
 */
export function offsetSections(spec: Extract<HullSpec, { kind: 'offsets' }>): {
  sections: LoftSection[];
  notes: Phrase[];
} {
  const { stations, waterlines, halfBreadths } = spec;
  const hasFlat = halfBreadths.some((row) => (row[0] ?? 0) > ROUND_OFF_MM);
  const sections: LoftSection[] = [];
  let skipped = 0;
  for (let i = 0; i < stations.length; i++) {
    const row = halfBreadths[i] as readonly (number | null)[];
    let from = 0;
    while (from < row.length && row[from] === null) from++;
    let to = from;
    while (to + 1 < row.length && row[to + 1] !== null) to++;
    if (from >= row.length || to === from) {
      skipped++;
      continue;
    }
    const y: number[] = [];
    const z: number[] = [];
    for (let j = from; j <= to; j++) {
      y.push(row[j] as number);
      z.push(waterlines[j] as number);
    }
    const n = y.length;
    const t = new Float64Array(n);
    for (let j = 1; j < n; j++) {
      t[j] =
        (t[j - 1] as number) +
        Math.hypot((y[j] as number) - (y[j - 1] as number), (z[j] as number) - (z[j - 1] as number));
    }
    const total = t[n - 1] as number;
    const side = { t: t.map((x) => x / total), y: Float64Array.from(y), z: Float64Array.from(z) };
    const y0 = y[0] as number;
    const z0 = z[0] as number;
    const inner = from === 0 ? 0 : y0;
    const flat = { t: Float64Array.of(0, 1), y: Float64Array.of(inner, y0), z: Float64Array.of(z0, z0) };
    sections.push({ station: stations[i] as number, runs: hasFlat ? [flat, side] : [side] });
  }
  if (sections.length < 2) {
    throw new Refusal(
      'degenerate-hull',
      'hull.file',
      [{ count: sections.length }, ' stations with at least two half-breadths one above the other'],
      ['at least 2'],
    );
  }
  const notes: Phrase[] = [
    [
      'The shell between stations and between waterlines is a smooth surface through the table: ',
      { count: sections.length },
      ' stations, ',
      { count: waterlines.length },
      ' waterlines. Nothing else is known of it there.',
    ],
  ];
  if (hasFlat) {
    notes.push([
      'Below the lowest waterline of the table, at ',
      { mm: waterlines[0] as number },
      ', the bottom is taken as flat to the centreline, with a corner where the table starts.',
    ]);
  }
  for (const cell of unfairCells(spec)) {
    notes.push([
      'The half-breadth at station ',
      { mm: cell.station },
      ' on waterline ',
      { mm: cell.waterline },
      ' looks wrong: the table says ',
      { mm: cell.value },
      ', its neighbours ',
      { mm: cell.proposed },
      '. It was used as it stands: look at the drawing.',
    ]);
  }
  if (skipped > 0) notes.push([{ count: skipped }, ' stations with fewer than two half-breadths were left out.']);
  return { sections: sections.sort((p, q) => p.station - q.station), notes };
}
