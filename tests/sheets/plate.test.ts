import { describe, expect, test } from 'vitest';
import { contextsOf } from '../../src/sheets/context.ts';
import { arcOf } from '../../src/sheets/drawing.ts';
import { nestingSize, PLATE_LAYERS, plateDrawing, plateDxf } from '../../src/sheets/plate.ts';
import { plateOutline } from '../../src/sheets/plate-shape.ts';
import { writeSvg } from '../../src/sheets/svg.ts';
import { contextOf, fonts, planOf, sampleJobs, wedgeJob } from './plans.ts';
import { layersOf, polylinesOn, readDxf } from './readback.ts';

/** Area inside a closed outline read back: the polygon by the shoelace formula, each arc by the segment it adds, r^2 (w - sin w) / 2. */
function areaOf(vertices: readonly { x: number; y: number; bulge?: number }[]): number {
  return vertices.reduce((sum, p, i) => {
    const q = vertices[(i + 1) % vertices.length] as { x: number; y: number };
    let area = (p.x * q.y - q.x * p.y) / 2;
    if (p.bulge) {
      const { radius, sweep } = arcOf(p, q);
      area += (radius * radius * (sweep - Math.sin(sweep))) / 2;
    }
    return sum + area;
  }, 0);
}

describe('the cutting file read back', () => {
  for (const { name, job, file } of sampleJobs()) {
    for (const display of ['metric', 'us'] as const) {
      test(`${name}, ${display}: one closed outline with its arc, hole and radius where the job puts them`, async () => {
        for (const context of await contextsOf(planOf({ ...job, display }, file), { fonts })) {
          const k = display === 'us' ? 25.4 : 1;
          const { lug } = context.fitting.input;
          const dxf = readDxf(plateDxf(context));
          expect(dxf.header.$INSUNITS).toBe(display === 'us' ? 1 : 4);
          expect(layersOf(dxf)).toEqual(expect.arrayContaining(Object.keys(PLATE_LAYERS)));
          const [outline, ...others] = polylinesOn(dxf, 'CUT_NET');
          if (outline === undefined) throw new Error('no outline');
          expect(others).toEqual([]);
          expect(outline.shape).toBe(true);
          const arcs = outline.vertices.filter((v) => v.bulge);
          expect(arcs.length).toBe(1);
          const i = outline.vertices.findIndex((v) => v.bulge);
          const arc = arcOf(outline.vertices[i] as never, outline.vertices[i + 1] as never);
          expect(arc.centre.x * k).toBeCloseTo(0, 6);
          expect(arc.centre.y * k).toBeCloseTo(lug.pinHeight, 6);
          expect(arc.radius * k).toBeCloseTo(lug.topRadius, 6);
          // Tangent: the lines into and out of the arc are square to its radius.
          const before = outline.vertices[i - 1];
          const at = outline.vertices[i];
          if (before === undefined || at === undefined) throw new Error('no line into the arc');
          const along = { x: at.x - before.x, y: at.y - before.y };
          const radius = { x: at.x - arc.centre.x, y: at.y - arc.centre.y };
          expect((along.x * radius.x + along.y * radius.y) / Math.hypot(along.x, along.y) / arc.radius).toBeCloseTo(
            0,
            9,
          );
          const holes = dxf.entities.filter((e) => e.type === 'CIRCLE' && e.layer === 'HOLE') as never as {
            center: { x: number; y: number };
            radius: number;
          }[];
          expect(holes.length).toBe(1);
          expect((holes[0]?.radius ?? 0) * k).toBeCloseTo(lug.hole / 2, 6);
          expect((holes[0]?.center.y ?? 0) * k).toBeCloseTo(lug.pinHeight, 6);
          const cheeks = dxf.entities.filter((e) => e.layer === 'CHEEK_CUT').length;
          expect(cheeks).toBe(lug.cheek ? 4 : 0);
        }
      });
    }
  }
});

test('area of the outline times thickness, less the hole, is the volume that is weighed (square foot on a flat shell)', async () => {
  const context = await contextOf(wedgeJob(0.3, { fitting: { stem: 'normal' } }));
  const outline = polylinesOn(readDxf(plateDxf(context)), 'CUT_NET')[0];
  if (outline === undefined) throw new Error('no outline');
  const volume = (areaOf(outline.vertices) - (Math.PI * 50 * 50) / 4) * 30;
  expect(volume / context.fitting.body.volume).toBeCloseTo(1, 6);
  // 7850 kg/m^3 (490 lb/ft^3 of rigging tables).
  expect(context.fitting.body.mass).toBeCloseTo(volume * 7850e-9, 4);
});

test('stock stands out by its width everywhere: half the steel of the strip is stock times girth', async () => {
  const context = await contextOf(wedgeJob(0, { fitting: { stem: 'normal' } }), { stock: 4 });
  const net = plateOutline(context);
  const grown = plateOutline(context, 4);
  const { shape, touch } = context.fitting.body.outline;
  const arc = grown.find((p) => p.bulge !== undefined);
  expect(Math.hypot(arc?.x ?? 0, (arc?.y ?? 0) - shape.pinHeight)).toBeCloseTo(shape.topRadius + 4, 9);
  // Distance of the grown leaning line from the net one, measured square to it.
  const i = net.findIndex((p) => p.bulge !== undefined);
  const [p, q, g] = [net[i - 1], net[i], grown[grown.findIndex((v) => v.bulge !== undefined) - 1]];
  if (!p || !q || !g) throw new Error('no leaning line');
  const long = Math.hypot(q.x - p.x, q.y - p.y);
  const off = ((g.x - p.x) * (q.y - p.y) - (g.y - p.y) * (q.x - p.x)) / long;
  expect(off).toBeCloseTo(4, 9);
  expect(touch).toBeGreaterThan(0);
  const size = nestingSize(context);
  expect(size.width).toBeCloseTo(300 + 8, 6);
  expect(size.height).toBeCloseTo(200 + 90 + 8, 2);
});

test('arcs are arcs in the SVG as well', async () => {
  const page = plateDrawing(await contextOf(wedgeJob(0.3))).pages[0];
  if (page === undefined) throw new Error('no page');
  const svg = writeSvg(page, 'plate');
  expect(svg).toMatch(/class="CUT_NET" d="M[^"]*A90 90 0 [01] 0 [^"]*Z"/);
  expect(svg).toMatch(/class="HOLE" cx="[\d.]+" cy="[\d.]+" r="25"/);
});
