import { DxfWriter, point3d } from '@tarikjabiri/dxf';
import { describe, expect, test } from 'vitest';
import { shellFrom } from '../../geometry/hull/from.ts';
import { readJob } from '../../src/job/read.ts';
import { readSectionColumns, readSectionDrawing, type SectionReading } from '../../src/job/sectiondrawing.ts';
import { plainJob } from './jobs.ts';

/* A section drawn by another library, read back, against the section that was drawn. */

function shellOf(reading: SectionReading) {
  if (!reading.ok) throw new Error(`${reading.found} | ${reading.expected}`);
  const job = plainJob();
  job.ship.hull = reading.hull;
  const read = readJob(JSON.stringify(job), () => undefined);
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return shellFrom(read.job.ship.hull);
}

/** Flat of 2000 mm, quarter circle of 800 mm, side of 1500 mm: girth 2000 + 400 pi + 1500 (closed form). */
function bilge(draw: (dxf: DxfWriter) => void): string {
  const dxf = new DxfWriter();
  dxf.addLayer('SECTION', 1, 'CONTINUOUS');
  dxf.setCurrentLayerName('SECTION');
  draw(dxf);
  return dxf.stringify();
}
const GIRTH = 2000 + 400 * Math.PI + 1500;

describe('lines and arcs', () => {
  const pieces = bilge((dxf) => {
    // In no order, one against the others; the quarter circle about (2000, 800) from straight down to straight out.
    dxf.addLine(point3d(2800, 2300), point3d(2800, 800));
    dxf.addArc(point3d(2000, 800), 800, 270, 360);
    dxf.addLine(point3d(0, 0), point3d(2000, 0));
  });
  test('end to end from the keel outward', async () => {
    const shell = shellOf(await readSectionDrawing(pieces, { unit: 'mm', layer: 'SECTION' }));
    expect(shell.girthRange(0).to).toBeCloseTo(GIRTH, 6);
    const p = shell.pointAt(0, 2000 + 200 * Math.PI, 'port');
    expect(p.position[1]).toBeCloseTo(2000 + 800 * Math.SQRT1_2, 6);
    expect(p.curvature.k1).toBeCloseTo(1 / 800, 9);
  });
  test('unit, scale and the point on the centreline', async () => {
    const shell = shellOf(await readSectionDrawing(pieces, { unit: 'cm', scale: 2, zero: { x: 0, y: -10 } }));
    expect(shell.girthRange(0).to).toBeCloseTo(20 * GIRTH, 5);
    expect(shell.pointAt(0, 100, 'port').position[2]).toBeCloseTo(200, 6);
  });
  test('drawn to the left it is folded over; a hollow keeps its sense', async () => {
    const hollow = bilge((dxf) => {
      // Falling hollow: centre above and outside, drawn to port and to starboard.
      dxf.addArc(point3d(-1000, 1000), 1000, 270, 360);
    });
    const shell = shellOf(await readSectionDrawing(hollow, { unit: 'mm' }));
    // The circle about (1000, 1000) seen from the keel: from (0, 1000) down to (1000, 0) it has its centre to the left.
    expect(
      Math.abs(shell.pointAt(0, 500, 'port').curvature.k1) + Math.abs(shell.pointAt(0, 500, 'port').curvature.k2),
    ).toBeCloseTo(1 / 1000, 9);
    expect(shell.girthRange(0).to).toBeCloseTo(500 * Math.PI, 6);
  });
  test('a polyline with a bulge', async () => {
    const text = bilge((dxf) => {
      dxf.addLWPolyline([
        { point: { x: 0, y: 0 } },
        { point: { x: 2000, y: 0 }, bulge: Math.tan(Math.PI / 8) },
        { point: { x: 2800, y: 800 } },
        { point: { x: 2800, y: 2300 } },
      ]);
    });
    const shell = shellOf(await readSectionDrawing(text, { unit: 'mm' }));
    expect(shell.girthRange(0).to).toBeCloseTo(GIRTH, 6);
    expect(shell.pointAt(0, 2000 + 200 * Math.PI, 'port').curvature.k1).toBeCloseTo(1 / 800, 9);
  });
});

test('a spline: the curve of its control points', async () => {
  // A Bezier cubic: B(1/2) = (p0 + 3 p1 + 3 p2 + p3) / 8 (closed form).
  const control = [
    [0, 0],
    [1500, 0],
    [2500, 800],
    [2600, 2400],
  ] as const;
  const text = bilge((dxf) => {
    dxf.addSpline({
      controlPoints: control.map(([x, y]) => point3d(x, y)),
      degreeCurve: 3,
      knots: [0, 0, 0, 0, 1, 1, 1, 1],
    });
  });
  const shell = shellOf(await readSectionDrawing(text, { unit: 'mm' }));
  const middle = { y: (0 + 3 * 1500 + 3 * 2500 + 2600) / 8, z: (0 + 0 + 3 * 800 + 2400) / 8 };
  expect(shell.pointAt(0, shell.girthAt(0, 'height', middle.z), 'port').position[1]).toBeCloseTo(middle.y, 2);
});

test('what cannot be a section gives one line', async () => {
  const found = async (text: string, options = {}) => {
    const reading = await readSectionDrawing(text, { unit: 'mm', ...options });
    return reading.ok ? 'read' : `${reading.found} | ${reading.expected}`;
  };
  const one = bilge((dxf) => dxf.addLine(point3d(0, 0), point3d(1000, 100)));
  expect(await found('')).toMatch(/DXF/);
  expect(await found('hello\nworld')).toMatch(/DXF|no line/);
  expect(await found(one, { layer: 'HULL' })).toMatch(
    /no line, arc, polyline or spline on layer "HULL" \| .*the layers are "SECTION"/,
  );
  expect(
    await found(
      bilge((dxf) => [
        dxf.addLine(point3d(0, 0), point3d(1000, 100)),
        dxf.addLine(point3d(1500, 500), point3d(2000, 800)),
      ]),
    ),
  ).toMatch(/1 lines and arcs that do not join/);
  expect(await found(bilge((dxf) => dxf.addLine(point3d(-500, 0), point3d(1000, 100))))).toMatch(
    /crosses the centreline/,
  );
  const unsaid = await readSectionDrawing(one.replace(/\$INSUNITS\r?\n\s*70\r?\n\s*\d+/, '$INSUNITS\n70\n0'));
  expect(unsaid.ok).toBe(false);
});

test('columns of numbers', () => {
  const shell = shellOf(readSectionColumns('y\tz\n0\t0\n1,2\t0,1\n2.4\t0.8\n2.6\t2.0\n', 'm'));
  expect(shell.girthAt(0, 'height', 800)).toBeGreaterThan(2400);
  expect(shellOf(readSectionColumns('2.6, 2.0\n2.4, 0.8\n1.2, 0.1\n0, 0', 'm')).pointAt(0, 0, 'port').position).toEqual(
    [0, 0, 0],
  );
  expect(shellOf(readSectionColumns('0 0\n-1.2 0.1\n-2.4 0.8', 'm')).pointAt(0, 0, 'port').position[1]).toBe(0);
  const bad = readSectionColumns('0 0\n1 x\n', 'm');
  expect(bad.ok ? '' : bad.found).toBe('line 2: "1 x"');
  expect(readSectionColumns('0 0', 'm').ok).toBe(false);
});
