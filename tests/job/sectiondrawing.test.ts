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

describe('blocks and ellipses', () => {
  /** The bilge in a block of its own, drawn from (300, 500) on, put into the drawing by `put`. */
  const inBlock = (put: (dxf: DxfWriter) => void, layer = 'SECTION') =>
    bilge((dxf) => {
      const block = dxf.addBlock('HALF');
      block.layerName = layer;
      block.addLine(point3d(3100, 2800), point3d(3100, 1300));
      block.addArc(point3d(2300, 1300), 800, 270, 360);
      block.addLine(point3d(300, 500), point3d(2300, 500));
      put(dxf);
    });
  const atTheKeel = (scale: { x: number; y: number }, rotationAngle = 0) => ({
    scaleFactor: { ...scale, z: 1 },
    rotationAngle,
  });

  test('a block turned, scaled and moved: the same section', async () => {
    // Turned a quarter back: the drawing's x falls down the page; axes put it right. Twice the size: half by the scale.
    const text = inBlock((dxf) => dxf.addInsert('HALF', point3d(-1000, 600), atTheKeel({ x: 2, y: 2 }, 270)));
    const shell = shellOf(
      await readSectionDrawing(text, { unit: 'mm', scale: 0.5, zero: { x: 0, y: 0 }, axes: { out: '-y', up: 'x' } }),
    );
    expect(shell.girthRange(0).to).toBeCloseTo(GIRTH, 6);
    const p = shell.pointAt(0, 2000 + 200 * Math.PI, 'port');
    expect(p.curvature.k1).toBeCloseTo(1 / 800, 9);
  });

  test('a block in a mirror: folded over it is the same, hollows and all', async () => {
    const text = inBlock((dxf) => dxf.addInsert('HALF', point3d(300, -500), atTheKeel({ x: -1, y: 1 })));
    const shell = shellOf(await readSectionDrawing(text, { unit: 'mm' }));
    expect(shell.girthRange(0).to).toBeCloseTo(GIRTH, 6);
    const p = shell.pointAt(0, 2000 + 200 * Math.PI, 'port');
    expect(p.position[1]).toBeCloseTo(2000 + 800 * Math.SQRT1_2, 6);
    expect(p.curvature.k1).toBeCloseTo(1 / 800, 9);
  });

  test('a block in a block; what is on layer 0 is on the layer of where it is put', async () => {
    const text = bilge((dxf) => {
      const inner = dxf.addBlock('INNER');
      inner.layerName = '0';
      inner.addArc(point3d(0, 0), 800, 270, 360);
      const outer = dxf.addBlock('OUTER');
      outer.layerName = '0';
      outer.addInsert('INNER', point3d(0, 300));
      dxf.addInsert('OUTER', point3d(2000, 500));
      dxf.addLine(point3d(2800, 2300), point3d(2800, 800));
      dxf.addLine(point3d(0, 0), point3d(2000, 0));
    });
    const reading = await readSectionDrawing(text, { unit: 'mm', layer: 'SECTION' });
    expect(reading).toMatchObject({ ok: true, layers: ['SECTION'] });
    expect(shellOf(reading).girthRange(0).to).toBeCloseTo(GIRTH, 6);
  });

  test('a block that holds itself comes to an end', async () => {
    const text = bilge((dxf) => {
      const block = dxf.addBlock('A');
      block.addInsert('A', point3d(0, 0));
      block.addLine(point3d(0, 0), point3d(1000, 100));
      dxf.addInsert('A', point3d(0, 0));
    });
    expect((await readSectionDrawing(text, { unit: 'mm' })).ok).toBe(true);
  });

  /**
   * Quarter of an ellipse from (0, 0), level, to (3000, 1200), upright. Its length is 3000 E(e), the complete elliptic integral of the
   * second kind, here by Gauss's arithmetic-geometric mean (Abramowitz and Stegun 17.6).
   */
  const quarter = (() => {
    let [a, b, sum, power] = [1, 1200 / 3000, 0, 0.5];
    sum += power * (1 - b * b);
    for (let i = 0; i < 8; i++) {
      const c = (a - b) / 2;
      [a, b] = [(a + b) / 2, Math.sqrt(a * b)];
      power *= 2;
      sum += power * c * c;
    }
    return 3000 * (Math.PI / (2 * a)) * (1 - sum);
  })();
  const isTheQuarter = (reading: SectionReading) => {
    const shell = shellOf(reading);
    expect(shell.girthRange(0).to).toBeCloseTo(quarter, 2);
    for (const height of [50, 300, 700, 1100]) {
      const { position, normal } = shell.pointAt(0, shell.girthAt(0, 'height', height), 'port');
      const up = (1200 - height) / 1200;
      expect(position[1]).toBeCloseTo(3000 * Math.sqrt(1 - up * up), 2);
      // Gradient of (y/3000)^2 + ((z - 1200)/1200)^2.
      const slope = Math.atan2((height - 1200) / 1200 ** 2, (position[1] as number) / 3000 ** 2);
      expect(Math.atan2(normal[2] as number, normal[1] as number)).toBeCloseTo(slope, 3);
    }
  };

  test('an ellipse: its length and its slope by the closed form', async () => {
    isTheQuarter(
      await readSectionDrawing(
        bilge((dxf) => dxf.addEllipse(point3d(0, 1200), point3d(3000, 0), 0.4, 1.5 * Math.PI, 2 * Math.PI)),
        { unit: 'mm' },
      ),
    );
  });

  test('an ellipse drawn in a mirror has its minor axis the other way', async () => {
    const text = bilge((dxf) => dxf.addEllipse(point3d(0, 1200), point3d(3000, 0), 0.4, 0, Math.PI / 2));
    const seenFromBelow = text.replace(/(ELLIPSE[\s\S]*?\n\s*42\r?\n[^\n]*\n)/, '$1210\n0\n220\n0\n230\n-1\n');
    expect(seenFromBelow).not.toBe(text);
    isTheQuarter(await readSectionDrawing(seenFromBelow, { unit: 'mm' }));
  });

  test('a circle that a block draws out of round is that ellipse, arc or polyline', async () => {
    for (const draw of [
      (block: ReturnType<DxfWriter['addBlock']>) => block.addArc(point3d(0, 1200), 1200, 270, 360),
      (block: ReturnType<DxfWriter['addBlock']>) =>
        block.addLWPolyline([{ point: { x: 0, y: 0 }, bulge: Math.tan(Math.PI / 8) }, { point: { x: 1200, y: 1200 } }]),
    ]) {
      const text = bilge((dxf) => {
        draw(dxf.addBlock('ROUND'));
        dxf.addInsert('ROUND', point3d(0, 0), atTheKeel({ x: 2.5, y: 1 }));
      });
      isTheQuarter(await readSectionDrawing(text, { unit: 'mm' }));
    }
  });

  test('an arc drawn from below', async () => {
    const text = bilge((dxf) => {
      // In the entity's own axes to the left of its origin; seen from below it lies to the right.
      dxf.addArc(point3d(-2000, 800), 800, 180, 270);
      dxf.addLine(point3d(2800, 2300), point3d(2800, 800));
      dxf.addLine(point3d(0, 0), point3d(2000, 0));
    });
    const seenFromBelow = text.replace(/(\nARC[\s\S]*?\n\s*51\r?\n[^\n]*\n)/, '$1210\n0\n220\n0\n230\n-1\n');
    expect(seenFromBelow).not.toBe(text);
    const shell = shellOf(await readSectionDrawing(seenFromBelow, { unit: 'mm' }));
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
    /no line, arc, ellipse, polyline or spline on layer "HULL" \| .*the layers are "SECTION"/,
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
