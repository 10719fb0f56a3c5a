import { ROUND_OFF_MM } from '../math/tolerance.ts';
import type { Phrase } from '../phrase.ts';
import { Refusal } from '../refusal.ts';
import { unfairCells } from './fairness.ts';
import type { LoftSection } from './loft.ts';
import type { HullPoint, HullSpec } from './spec.ts';

type OffsetsSpec = Extract<HullSpec, { kind: 'offsets' }>;

/**
 * Sections from a table of offsets. Each station's half-breadths, from the lowest waterline that has one to the last
 * before a blank, are the points of its section.
 *
 * Below them: where the keel's height is given, the section is closed down to it, out to the tangent line of the flat of bottom
 * (a corner at the keel where there is none), from which it starts level. Without a keel the shell below the lowest waterline of a
 * table that has breadth there is taken as flat to the centreline, with a knuckle at its edge. Either way girth counts from the
 * centreline; a station whose lowest cells are blank, with no keel given, starts where its data starts.
 * Above them: the tangent line of the flat of side and the deck at side are further points, where given.
 */
export function offsetSections(spec: OffsetsSpec): {
  sections: LoftSection[];
  notes: Phrase[];
} {
  const { stations, waterlines, halfBreadths, keel, deck, flatBottom, flatSide } = spec;
  const assumed = keel === undefined && halfBreadths.some((row) => (row[0] ?? 0) > ROUND_OFF_MM);
  const twoRuns = assumed || flatBottom !== undefined;
  const sections: LoftSection[] = [];
  let skipped = 0;
  for (let i = 0; i < stations.length; i++) {
    const station = stations[i] as number;
    const row = halfBreadths[i] as readonly (number | null)[];
    let from = 0;
    while (from < row.length && row[from] === null) from++;
    let to = from;
    while (to + 1 < row.length && row[to + 1] !== null) to++;
    if (from >= row.length || to === from) {
      skipped++;
      continue;
    }
    const points: HullPoint[] = [];
    for (let j = from; j <= to; j++) points.push({ y: row[j] as number, z: waterlines[j] as number });
    const [lowest, last] = [points[0] as HullPoint, points[points.length - 1] as HullPoint];
    const side = flatSide && at(flatSide, station, 'flatSide', 'z');
    if (
      side !== undefined &&
      side > lowest.z &&
      side < last.z - LEAST &&
      points.every((p) => Math.abs(p.z - side) > LEAST)
    )
      insert(points, { y: last.y, z: side });
    const edge = deck && { y: at(deck, station, 'deck', 'y'), z: at(deck, station, 'deck', 'z') };
    if (edge !== undefined && edge.z > last.z + LEAST) points.push(edge);
    const bottom = keel && at(keel, station, 'keel', 'z');
    if (bottom === undefined) {
      const flat = { y: from === 0 ? 0 : lowest.y, z: lowest.z };
      sections.push({ station, runs: assumed ? [runOf([flat, lowest]), runOf(points)] : [runOf(points)] });
      continue;
    }
    if (bottom > lowest.z + LEAST) {
      throw new Refusal(
        'degenerate-hull',
        'hull.keel',
        [{ mm: bottom }, ' at station ', { mm: station }],
        ['no more than ', { mm: lowest.z }, ', the lowest waterline with a half-breadth there'],
      );
    }
    const out = Math.max(0, flatBottom === undefined ? 0 : at(flatBottom, station, 'flatBottom', 'y'));
    if (out > lowest.y + LEAST) {
      throw new Refusal(
        'degenerate-hull',
        'hull.flatBottom',
        [{ mm: out }, ' at station ', { mm: station }],
        ['no more than ', { mm: lowest.y }, ', the half-breadth of the lowest waterline there'],
      );
    }
    const start: HullPoint = { y: out, z: bottom };
    // A keel on the lowest waterline: the edge of the flat and the table's first cell are the same place, or lie level.
    const rest = lowest.z - bottom < LEAST && Math.abs(lowest.y - out) < LEAST ? points.slice(1) : points;
    const run = runOf([start, ...rest]);
    if (!twoRuns) sections.push({ station, runs: [run] });
    else {
      const level = out > LEAST ? { ...run, start: { y: run.length, z: 0 } } : run;
      sections.push({ station, runs: [runOf([{ y: 0, z: bottom }, start]), level] });
    }
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
  if (keel !== undefined) {
    notes.push([
      `Below the lowest waterline with a half-breadth the sections are closed down to the keel that was given${flatBottom === undefined ? ', with a corner there' : ', out to the edge of the flat of bottom and level from there'}: how they run in between is a smooth curve, and nothing else is known of it.`,
    ]);
  }
  if (assumed) {
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

/** mm. Nearer than this two points are one. */
const LEAST = 1;

/** A run of a section through points, over its chord length; `length`: the whole of it, mm. */
function runOf(points: readonly HullPoint[]) {
  const n = points.length;
  const t = new Float64Array(n);
  for (let j = 1; j < n; j++) {
    const [p, q] = [points[j - 1] as HullPoint, points[j] as HullPoint];
    t[j] = (t[j - 1] as number) + Math.hypot(q.y - p.y, q.z - p.z);
  }
  const length = t[n - 1] as number;
  // A flat of no breadth is still a run: all sections have the same.
  const share = (x: number, j: number) => (length > 0 ? x / length : j / (n - 1));
  return {
    t: t.map(share),
    y: Float64Array.from(points, (p) => p.y),
    z: Float64Array.from(points, (p) => p.z),
    length,
  };
}

function insert(points: HullPoint[], point: HullPoint): void {
  const k = points.findIndex((p) => p.z > point.z);
  points.splice(k < 0 ? points.length : k, 0, point);
}

/** A line given by stations, straight in between. Throws `Refusal` at a station that it does not reach. */
function at<K extends string>(
  line: readonly ({ readonly station: number } & Readonly<Record<K, number>>)[],
  station: number,
  name: string,
  key: K,
): number {
  const k = line.findIndex((p) => p.station >= station - ROUND_OFF_MM);
  const [q, p] = [line[k], line[Math.max(0, k - 1)]];
  if (p === undefined || q === undefined || station < p.station - ROUND_OFF_MM) {
    throw new Refusal(
      'degenerate-hull',
      `hull.${name}`,
      ['stations from ', { mm: line[0]?.station ?? 0 }, ' to ', { mm: line[line.length - 1]?.station ?? 0 }, ' only'],
      ['all stations of the table, ', { mm: station }, ' too'],
    );
  }
  const h = q.station - p.station;
  const w = h > 0 ? Math.min(1, (station - p.station) / h) : 1;
  return (1 - w) * p[key] + w * q[key];
}
