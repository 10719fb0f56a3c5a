import { DxfWriter, point3d } from '@tarikjabiri/dxf';
import { describe, expect, test } from 'vitest';
import { sourceOf } from '../../src/job/meshfile/bytes.ts';
import { readJob } from '../../src/job/read.ts';
import { readJobFiles } from '../../src/job/readfiles.ts';
import { readSectionDrawing } from '../../src/job/sectiondrawing.ts';
import { planJob } from '../../src/plan/plan.ts';
import { cylinderAt, triangleList } from '../hull/meshes.ts';
import { type Loose, plainJob } from './jobs.ts';

/* A section that comes as a drawing or as columns, as the hull of a job: from the file to the bevel. */

const R = 3000;
const GIRTH = 1500;
const T = 30;

function dxf(draw: (dxf: DxfWriter) => void): string {
  const writer = new DxfWriter();
  writer.addLayer('FRAME', 1, 'CONTINUOUS');
  writer.setCurrentLayerName('FRAME');
  draw(writer);
  return writer.stringify();
}

function circleJob(hull: Loose): Loose {
  const job = plainJob();
  job.ship = { lpp: '40 m', draftAft: '2.4 m', draftForward: '2.4 m', heel: '0 deg', hull };
  job.fittings[0].at = { station: '10 m', side: 'port', girth: `${GIRTH} mm` };
  job.fittings[0].load = { direction: [0, 0, -1], force: '60 kN' };
  return job;
}

const readWith = (job: Loose, files: Record<string, string>) =>
  readJobFiles(JSON.stringify(job), { text: (name) => files[name], bytes: () => undefined });

async function bevelOf(hull: Loose, files: Record<string, string> = {}): Promise<number> {
  const reading = await readWith(circleJob(hull), files);
  if (!reading.ok) throw new Error(reading.faults.map((f) => `${f.path}: ${f.found} | ${f.expected}`).join('\n'));
  const schedule = planJob(reading.job).fittings[0]?.bevel;
  return Math.abs(schedule?.max ?? Number.NaN);
}

/** A plumb lug, foot fore and aft, on a circle about (0, R): rise of the circle over the thickness (closed form). */
const height = (y: number) => R - Math.sqrt(R * R - y * y);
const y0 = R * Math.sin(GIRTH / R);
const BEVEL = Math.atan((height(y0 + T / 2) - height(y0 - T / 2)) / T);
/** 0.01 deg, asked of what has a closed form. */
const ANGLE = (0.01 * Math.PI) / 180;

describe('a drawing', () => {
  const quarter = dxf((d) => d.addArc(point3d(0, R), R, 270, 360));
  test('an arc of a circle gives the bevel of the circle', async () => {
    const bevel = await bevelOf(
      { kind: 'drawing', file: 'frame.dxf', unit: 'mm', layer: 'FRAME' },
      { 'frame.dxf': quarter },
    );
    expect(Math.abs(bevel - BEVEL)).toBeLessThan(ANGLE);
  });
  test('in metres on paper, on another scale, lying on its side, drawn to the left, drawn whole', async () => {
    const on = async (hull: Loose, draw: (d: DxfWriter) => void) =>
      Math.abs((await bevelOf({ kind: 'drawing', file: 'f.dxf', ...hull }, { 'f.dxf': dxf(draw) })) - BEVEL);
    // 1:25 in centimetres, the zero of the drawing elsewhere.
    const paper = { unit: 'cm', scale: 25, zero: [7, -3] };
    expect(await on(paper, (d) => d.addArc(point3d(7, -3 + R / 250), R / 250, 270, 360))).toBeLessThan(ANGLE);
    // Up is to the left of the page, outward is up it: the centre lies R to the left.
    const lying = { unit: 'mm', axes: { out: 'y', up: '-x' } };
    expect(await on(lying, (d) => d.addArc(point3d(-R, 0), R, 0, 90))).toBeLessThan(ANGLE);
    // Seen from forward: outward is to the left, and the arc turns clockwise.
    const left = { unit: 'mm', axes: { out: '-x', up: 'y' } };
    expect(await on(left, (d) => d.addArc(point3d(0, R), R, 180, 270))).toBeLessThan(ANGLE);
    expect(await on({ unit: 'mm' }, (d) => d.addArc(point3d(0, R), R, 180, 270))).toBeLessThan(ANGLE);
    // A half circle through the keel, of which one half is wanted; a deck line across is cut at the centreline.
    const whole = (d: DxfWriter) => {
      d.addArc(point3d(0, R), R, 181, 359);
    };
    for (const half of ['left', 'right']) expect(await on({ unit: 'mm', half }, whole)).toBeLessThan(ANGLE);
  });
  test('a line and an arc across the centreline are cut there', async () => {
    const text = dxf((d) => {
      d.addLine(point3d(-1000, 100), point3d(1000, 300));
      d.addLine(point3d(1000, 300), point3d(1000, 900));
      d.addLine(point3d(-1000, 100), point3d(-1000, 900));
    });
    const right = await readSectionDrawing(text, { unit: 'mm', half: 'right' });
    expect(right.ok && right.hull.kind === 'segments' && right.hull.start).toEqual({ y: '0 mm', z: '200 mm' });
    const left = await readSectionDrawing(text, { unit: 'mm', half: 'left' });
    expect(left.ok && left.hull.kind === 'segments' && left.hull.path[0]?.to).toEqual({ y: '1 m', z: '100 mm' });
  });
  test('a spline is the curve of its control points', async () => {
    // The usual cubic of a quarter circle, k = 4 (sqrt 2 - 1) / 3: 0.027 % off in radius (closed form), 0.3 % in slope at most.
    const k = (4 / 3) * (Math.SQRT2 - 1) * R;
    const spline = dxf((d) =>
      d.addSpline({
        controlPoints: [point3d(0, 0), point3d(k, 0), point3d(R, R - k), point3d(R, R)],
        degreeCurve: 3,
        knots: [0, 0, 0, 0, 1, 1, 1, 1],
      }),
    );
    const bevel = await bevelOf({ kind: 'drawing', file: 'f.dxf', unit: 'mm' }, { 'f.dxf': spline });
    expect(Math.abs(bevel - BEVEL)).toBeLessThan((0.15 * Math.PI) / 180);
  });
  test('every fault has the path of its field', async () => {
    const faults = async (hull: Loose, files: Record<string, string> = { 'f.dxf': quarter }) => {
      const reading = await readWith(circleJob({ kind: 'drawing', file: 'f.dxf', unit: 'mm', ...hull }), files);
      return reading.ok ? [] : reading.faults.map((f) => `${f.path}: ${f.found} | ${f.expected}`);
    };
    expect(await faults({ file: '../f.dxf' })).toEqual([
      expect.stringMatching(/^ship\.hull\.file: "\.\.\/f\.dxf" \| a file in/),
    ]);
    expect(await faults({ file: 'g.dxf' })).toEqual([
      expect.stringMatching(/^ship\.hull\.file: "g\.dxf" \| a file that can be read/),
    ]);
    expect(await faults({ layer: 'HULL' })).toEqual([
      'ship.hull.file: no line, arc, ellipse, polyline or spline on layer "HULL" | a section drawn with them; the layers are "FRAME"',
    ]);
    expect(await faults({ unit: 'furlong' })).toEqual([expect.stringMatching(/^ship\.hull\.unit: "furlong"/)]);
    expect(await faults({ scale: 0 })).toEqual([expect.stringMatching(/^ship\.hull\.scale: 0 \|/)]);
    expect(await faults({ axes: { out: 'x', up: '-x' } })).toEqual([
      'ship.hull.file: x outward and -x up | two different axes of the drawing',
    ]);
    for (const text of [
      '',
      'no drawing',
      quarter.slice(0, quarter.length / 2),
      '\u0000\u0001'.repeat(400),
      quarter.replaceAll('3000', '1e308'),
    ])
      expect(await faults({}, { 'f.dxf': text })).toHaveLength(1);
    // Without a reader of drawings it is refused, not taken for something else.
    const plain = readJob(JSON.stringify(circleJob({ kind: 'drawing', file: 'f.dxf' })), () => quarter);
    expect(plain.ok ? '' : plain.faults[0]?.path).toBe('ship.hull.kind');
  });
});

describe('columns', () => {
  // The circle at every 5 degrees, half-breadth and height.
  const angles = Array.from({ length: 19 }, (_, i) => (i * Math.PI) / 36);
  const rows = (row: (y: number, z: number) => string) =>
    angles.map((a) => row((R / 1000) * Math.sin(a), (R / 1000) * (1 - Math.cos(a)))).join('\n');
  test('pasted or in a file, whatever parts them', async () => {
    const text = rows((y, z) => `${y.toFixed(5)}\t${z.toFixed(5)}`);
    const german = rows((y, z) => `${y.toFixed(5)} ; ${z.toFixed(5)}`).replaceAll('.', ',');
    for (const [hull, files] of [
      [{ kind: 'columns', text, unit: 'm' }, {}],
      [{ kind: 'columns', file: 'frame.txt', unit: 'm' }, { 'frame.txt': `y z\n${german}\n` }],
    ] as const) {
      // A spline through points 260 mm apart on a circle of 3 m.
      expect(Math.abs((await bevelOf(hull, files)) - BEVEL)).toBeLessThan(2 * ANGLE);
    }
  });
  test('they need no reader of drawings', () => {
    const job = circleJob({ kind: 'columns', text: rows((y, z) => `${y} ${z}`), unit: 'm' });
    expect(readJob(JSON.stringify(job), () => undefined).ok).toBe(true);
  });
  test('faults', () => {
    const faults = (hull: Loose) => {
      const reading = readJob(JSON.stringify(circleJob({ kind: 'columns', unit: 'm', ...hull })), () => undefined);
      return reading.ok ? [] : reading.faults.map((f) => `${f.path}: ${f.found} | ${f.expected}`);
    };
    expect(faults({ text: '0 0\n1 x' })).toEqual([
      'ship.hull.text: line 2: "1 x" | two numbers on each line, half-breadth and height',
    ]);
    expect(faults({})).toEqual([expect.stringMatching(/^ship\.hull: none of them \| exactly one of text, file/)]);
    expect(faults({ text: '0 0\n1 1', file: 'f' })).toEqual([
      expect.stringMatching(/^ship\.hull: text and file \| exactly one of text, file/),
    ]);
    expect(faults({ file: 'gone.txt' })).toEqual([expect.stringMatching(/^ship\.hull\.file: "gone\.txt"/)]);
  });
});

test('a drawing, a scan and a table as other sources, each from its own file, each fault with its own path', async () => {
  const list = triangleList({ at: cylinderAt(R), x: [9500, 10_500], s: [500, 2500], step: [25, 25] });
  const stl = new Uint8Array(84 + (50 * list.length) / 9);
  const view = new DataView(stl.buffer);
  view.setUint32(80, list.length / 9, true);
  list.forEach((v, i) => {
    view.setFloat32(84 + 50 * Math.floor(i / 9) + 12 + 4 * (i % 9), v, true);
  });
  const files: Record<string, string> = {
    'f.dxf': dxf((d) => d.addArc(point3d(0, R), R, 270, 360)),
    'o.csv': `,0,200,400,600,900,1200\n${[0, 10_000, 20_000].map((x) => [x, ...[0, 200, 400, 600, 900, 1200].map((z) => Math.sqrt(R * R - (R - z) ** 2))].join(',')).join('\n')}\n`,
  };
  const scan = {
    kind: 'mesh',
    file: 's.stl',
    unit: 'mm',
    axes: { forward: 'x', port: 'y', up: 'z' },
    origin: ['0 m', '0 m', '0 m'],
    half: true,
  };
  const job = circleJob({
    kind: 'segments',
    start: { y: '0 m', z: '0 m' },
    path: [{ to: { y: '3 m', z: '3 m' }, radius: '3 m' }],
  });
  job.ship.compare = [
    { name: 'drawing', hull: { kind: 'drawing', file: 'f.dxf', unit: 'mm' } },
    { name: 'scan', hull: scan },
    { name: 'table', hull: { kind: 'offsets', file: 'o.csv', unit: 'mm' } },
  ];
  const read = (raw: Loose) =>
    readJobFiles(JSON.stringify(raw), {
      text: (name) => files[name],
      bytes: (name) => (name === 's.stl' ? sourceOf(stl) : undefined),
    });
  const good = await read(job);
  if (!good.ok) throw new Error(JSON.stringify(good.faults));
  const [drawn, scanned, tabled] = planJob(good.job).compare.map(({ fittings }) => fittings[0]);
  // The same circle: by arcs, by chords of 25 mm (sagitta 0.03 mm), through six points up the section.
  for (const [f, most] of [
    [drawn, 0.01],
    [scanned, 0.1],
    [tabled, 12],
  ] as const) {
    if (f?.reached !== true) throw new Error('not reached');
    expect(Math.max(Math.abs(f.found.least), Math.abs(f.found.most))).toBeLessThan(most);
  }
  job.ship.compare[0].hull.layer = 'NONE';
  job.ship.compare[2].hull.file = 'gone.csv';
  const bad = await read(job);
  expect(bad.ok ? [] : bad.faults.map((f) => f.path)).toEqual([
    'ship.compare[0].hull.file',
    'ship.compare[2].hull.file',
  ]);
  job.ship.compare = [job.ship.compare[1]];
  job.ship.compare[0].hull.unit = 'm';
  const wrong = await read(job);
  expect(wrong.ok ? [] : wrong.faults.map((f) => f.path)).toEqual(['ship.compare[0].hull.file']);
});
