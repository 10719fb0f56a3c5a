import { describe, expect, test } from 'vitest';
import { shellFrom } from '../../geometry/hull/from.ts';
import type { HullSpec } from '../../geometry/hull/spec.ts';
import { Refusal } from '../../geometry/refusal.ts';
import { readJob } from '../../src/job/read.ts';
import { showPhrase } from '../../src/job/show.ts';
import { plainJob } from '../job/jobs.ts';

/* Keel, tangent lines and deck close the sections of a table below its lowest waterline and above its last: closed forms. */

type Offsets = Extract<HullSpec, { kind: 'offsets' }>;

/** Flat of bottom to 2 m, quarter circle of 1 m, flat of side from 1 m up: half-breadth at a height (closed form). */
const breadth = (z: number) => (z >= 1000 ? 3000 : 2000 + Math.sqrt(1000 ** 2 - (1000 - z) ** 2));
const STATIONS = [0, 5000, 10_000, 15_000, 20_000];
const WATERLINES = [200, 450, 700, 2000];
const barge = (more: Partial<Offsets> = {}): Offsets => ({
  kind: 'offsets',
  stations: STATIONS,
  waterlines: WATERLINES,
  halfBreadths: STATIONS.map(() => WATERLINES.map(breadth)),
  ...more,
});
const ends = <T extends object>(value: T) => [
  { station: 0, ...value },
  { station: 20_000, ...value },
];
const CLOSED = {
  keel: ends({ z: 0 }),
  flatBottom: ends({ y: 2000 }),
  flatSide: ends({ z: 1000 }),
  deck: ends({ y: 3000, z: 3000 }),
};

describe('a barge with a round bilge', () => {
  const shell = shellFrom(barge(CLOSED));
  test('the bottom is flat to its tangent line, and level there', () => {
    const bottom = shell.pointAt(10_000, 1000, 'port').position;
    expect(bottom[1]).toBeCloseTo(1000, 9);
    expect(bottom[2]).toBeCloseTo(0, 9);
    const edge = shell.pointAt(10_000, 2000, 'port');
    expect(edge.position[1]).toBeCloseTo(2000, 6);
    const after = shell.pointAt(10_000, 2000.01, 'port');
    // Level on either side of the edge: no corner.
    expect(after.normal[2]).toBeCloseTo(-1, 4);
  });
  test('below the lowest waterline the bilge is the circle to within millimetres; as it was without a keel it was not', () => {
    const off = (s: ReturnType<typeof shellFrom>, z: number) => {
      const girth = s.girthAt(10_000, 'height', z);
      return Math.abs(s.pointAt(10_000, girth, 'port').position[1] - breadth(z));
    };
    for (const z of [20, 50, 100, 150]) expect(off(shell, z), `${z}`).toBeLessThan(12);
    for (const z of [300, 550]) expect(off(shell, z), `${z}`).toBeLessThan(3);
    expect(() => off(shellFrom(barge()), 100)).toThrow(Refusal);
  });
  test('section area, side and deck', () => {
    const line = shell.sectionLine(10_000, 0.2);
    let area = 0;
    for (let k = 1; k < line.length; k++) {
      const [p, q] = [line[k - 1], line[k]] as [(typeof line)[0], (typeof line)[0]];
      area += ((p[1] + q[1]) / 2) * (q[2] - p[2]);
    }
    // Half of the section up to 3 m: 3 x 3 less the corner outside the quarter circle, 1 - pi / 4 (closed form), m^2.
    expect(area / 1e6).toBeCloseTo(9 - (1 - Math.PI / 4), 2);
    expect(line[line.length - 1]?.[1]).toBeCloseTo(3000, 6);
    expect(line[line.length - 1]?.[2]).toBeCloseTo(3000, 6);
    const girth = shell.girthAt(10_000, 'height', 1500);
    expect(Math.abs(shell.pointAt(10_000, girth, 'port').normal[2])).toBeLessThan(0.01);
  });
  test('said in the notes', () => {
    const said = (spec: Offsets) =>
      shellFrom(spec)
        .notes.map((n) => showPhrase(n, 'metric'))
        .join('\n');
    expect(said(barge(CLOSED))).toMatch(
      /closed down to the keel that was given, out to the edge of the flat of bottom/,
    );
    expect(said(barge({ keel: CLOSED.keel }))).toMatch(/closed down to the keel that was given, with a corner there/);
    expect(said(barge())).toMatch(/the bottom is taken as flat to the centreline/);
  });
});

test('a hull with a sharp keel: the lines below the lowest waterline are those of the formula', () => {
  // Wigley: y = B/2 (1 - (2x/L)^2) (1 - (z/T)^2), z from the waterline down; keel at z = -T. Here z counts from the keel.
  const [L, B, T] = [40_000, 8000, 3000];
  const y = (x: number, z: number) => (B / 2) * (1 - ((2 * x) / L - 1) ** 2) * (1 - ((T - z) / T) ** 2);
  const stations = Array.from({ length: 17 }, (_, i) => 4000 + 2000 * i);
  const waterlines = [600, 1200, 1800, 2400, 3000];
  const shell = shellFrom({
    kind: 'offsets',
    stations,
    waterlines,
    halfBreadths: stations.map((x) => waterlines.map((z) => y(x, z))),
    keel: [
      { station: 4000, z: 0 },
      { station: 36_000, z: 0 },
    ],
  });
  for (const z of [50, 150, 300, 450]) {
    const at = shell.pointAt(13_000, shell.girthAt(13_000, 'height', z), 'port').position;
    // Cubic through points 600 mm apart in height.
    expect(Math.abs(at[1] - y(13_000, z)), `${z}`).toBeLessThan(6);
  }
});

describe('what does not fit together', () => {
  const refusal = (more: Partial<Offsets>): string => {
    try {
      shellFrom(barge(more));
    } catch (e) {
      if (e instanceof Refusal)
        return `${e.field}: ${showPhrase(e.found, 'metric')} | ${showPhrase(e.expected, 'metric')}`;
      throw e;
    }
    return 'not refused';
  };
  test('a keel that stops short, that lies too high, a flat that is too broad', () => {
    expect(
      refusal({
        keel: [
          { station: 0, z: 0 },
          { station: 12_000, z: 0 },
        ],
      }),
    ).toMatch(/^hull\.keel: stations from 0\.0 mm to 12\.000 m only \| all stations of the table, 15\.000 m too/);
    expect(refusal({ keel: ends({ z: 300 }) })).toMatch(
      /^hull\.keel: 300\.0 mm at station 0\.0 mm \| no more than 200\.0 mm/,
    );
    expect(refusal({ ...CLOSED, flatBottom: ends({ y: 2700 }) })).toMatch(
      /^hull\.flatBottom: 2\.700 m at station 0\.0 mm \| no more than 2\.600 m/,
    );
  });
  test('in the job: read with units, faults with their path', () => {
    const job = plainJob();
    const csv = `,${WATERLINES.join(',')}\n${STATIONS.map((s) => [s, ...WATERLINES.map(breadth)].join(',')).join('\n')}\n`;
    job.ship.hull = {
      kind: 'offsets',
      file: 'o.csv',
      unit: 'mm',
      keel: [
        { station: '0 m', z: '0 m' },
        { station: '20 m', z: '0 m' },
      ],
      flatBottom: [
        { station: '0 m', y: '2 m' },
        { station: '20 m', y: '2 m' },
      ],
    };
    const read = () => readJob(JSON.stringify(job), () => csv);
    const good = read();
    if (!good.ok) throw new Error(JSON.stringify(good.faults));
    expect(good.job.ship.hull).toMatchObject({ keel: CLOSED.keel, flatBottom: CLOSED.flatBottom });
    job.ship.hull.keel[1].station = '0 m';
    const order = read();
    expect(order.ok ? [] : order.faults.map((f) => f.path)).toEqual(['ship.hull.keel[1].station']);
    delete job.ship.hull.keel;
    const alone = read();
    expect(alone.ok ? [] : alone.faults.map((f) => `${f.path}: ${f.expected}`)).toEqual([
      'ship.hull: keel beside flatBottom: the height at which the bottom is flat',
    ]);
  });
});
