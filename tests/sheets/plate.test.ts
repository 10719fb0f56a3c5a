import { describe, expect, test } from 'vitest';
import { contextsOf } from '../../src/sheets/context.ts';
import { torchFromEdge, torchSettings } from '../../src/sheets/cut.ts';
import { arcOf, type Item, type Point, polylineOf, type Vertex } from '../../src/sheets/drawing.ts';
import { templateDxf, tiledTemplate } from '../../src/sheets/foottemplate.ts';
import { nestingSize, PLATE_LAYERS, plateDrawing, plateDxf, plateSheet } from '../../src/sheets/plate.ts';
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

describe('kerf', () => {
  /** Least distance from p to a closed outline with arcs. */
  const distanceTo = (p: Point, outline: readonly Vertex[]): number => {
    const points = polylineOf(outline, true, 1e-5);
    return Math.min(
      ...points.map((a, i) => {
        const b = points[(i + 1) % points.length] as Point;
        const [ux, uy] = [b.x - a.x, b.y - a.y];
        const t = Math.min(1, Math.max(0, ((p.x - a.x) * ux + (p.y - a.y) * uy) / (ux * ux + uy * uy || 1)));
        return Math.hypot(p.x - a.x - t * ux, p.y - a.y - t * uy);
      }),
    );
  };

  for (const { name, job, file } of sampleJobs()) {
    test(`${name}: the middle of the torch runs stock and half the kerf outside the net outline, all round`, async () => {
      const plan = planOf({ ...job, papers: { kerf: '2.4 mm', stock: '2 mm' } }, file);
      for (const context of await contextsOf(plan, { fonts })) {
        const k = plan.job.display === 'us' ? 25.4 : 1;
        const dxf = readDxf(plateDxf(context));
        const scaled = (layer: string): Vertex[] =>
          (polylinesOn(dxf, layer)[0]?.vertices ?? []).map(({ x, y, bulge }) => ({
            x: k * x,
            y: k * y,
            ...(bulge ? { bulge } : {}),
          }));
        const [net, torch] = [scaled('CUT_NET'), scaled('TORCH_CENTRE')];
        const points = polylineOf(torch, true, 0.01);
        points.forEach((p, i) => {
          const q = points[(i + 1) % points.length] as Point;
          const middle = distanceTo({ x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 }, net);
          // Never into the metal that is to stand; off by so much more only beside a step between two facets and round a corner.
          expect(distanceTo(p, net)).toBeGreaterThan(3.2 - 0.005);
          expect(middle).toBeGreaterThan(3.2 - 0.02);
          if (Math.hypot(q.x - p.x, q.y - p.y) > 20) expect(middle).toBeCloseTo(3.2, 1);
        });
        const arc = torch.findIndex((v) => v.bulge);
        expect(arcOf(torch[arc] as Vertex, torch[arc + 1] as Vertex).radius).toBeCloseTo(
          context.fitting.input.lug.topRadius + 3.2,
          6,
        );
      }
    });
  }

  test('on a foot that slopes the line is off by so much square to it, not upright (closed form)', async () => {
    // A bottom that rises by tan(w), the foot athwartships, the stem plumb: the foot slopes by w.
    const context = await contextOf(wedgeJob(0.3, { fitting: { heading: '90 deg' } }), { kerf: 2, stock: 0 });
    const [a, b] = plateOutline(context);
    const [p, q] = plateOutline(context, 1);
    if (!a || !b || !p || !q) throw new Error('no foot');
    const slope = Math.atan2(b.y - a.y, b.x - a.x);
    expect(Math.abs(slope)).toBeCloseTo(0.3, 3);
    expect(Math.atan2(q.y - p.y, q.x - p.x)).toBeCloseTo(slope, 9);
    const off = ((p.x - a.x) * (b.y - a.y) - (p.y - a.y) * (b.x - a.x)) / Math.hypot(b.x - a.x, b.y - a.y);
    expect(off).toBeCloseTo(1, 9);
    expect(p.x).toBeCloseTo(-151, 9);
    const dxf = readDxf(plateDxf(context));
    expect(polylinesOn(dxf, 'CUT_WITH_STOCK')).toEqual([]);
    expect(polylinesOn(dxf, 'TORCH_CENTRE').length).toBe(1);
    // Cut and rectangle: the whole kerf lies outside.
    expect(nestingSize(context).width).toBeCloseTo(300 + 4, 6);
  });

  test('a torch off square stands farther from the edge, by one over the cosine (closed form), on every sheet that sets it', async () => {
    const deadrise = 0.3;
    const context = await contextOf(wedgeJob(deadrise), { kerf: 2 });
    const [setting] = torchSettings(context.fitting);
    if (setting === undefined) throw new Error('no setting');
    expect(torchFromEdge(setting, 2)).toBeCloseTo(1 / Math.cos(deadrise), 9);
    const shown = `${(1 / Math.cos(deadrise)).toFixed(2)} mm`;
    const words = (pages: readonly { items: readonly Item[] }[]) =>
      pages.flatMap((page) => page.items.flatMap((item) => (item.kind === 'text' ? [item.text] : []))).join(' ');
    expect(words(plateSheet(context).pages)).toContain(shown);
    expect(words(tiledTemplate(context).pages)).toContain(shown);
    expect(templateDxf(context)).toContain(`its middle ${shown} outside the edge`);
    const plain = await contextOf(wedgeJob(deadrise));
    for (const text of [words(plateSheet(plain).pages), words(tiledTemplate(plain).pages)]) {
      expect(text.replaceAll(/\s+/g, ' ')).toContain('kerf is the cutter’s to allow for');
    }
    expect(polylinesOn(readDxf(plateDxf(plain)), 'TORCH_CENTRE')).toEqual([]);
  });

  test('cheek plates get stock and torch line as circles', async () => {
    const job = wedgeJob(0.3);
    job.fittings[0].lug.cheek = { radius: '70 mm', thickness: '10 mm' };
    const circles = (await contextOf(job, { kerf: 2, stock: 3 }).then((c) => readDxf(plateDxf(c)))).entities.filter(
      (e) => e.type === 'CIRCLE',
    ) as never as { layer: string; radius: number }[];
    const radii = (layer: string) => circles.filter((c) => c.layer === layer).map((c) => c.radius);
    expect(radii('CUT_WITH_STOCK')).toEqual([73, 73]);
    expect(radii('TORCH_CENTRE')).toEqual([74, 74]);
  });
});

test('arcs are arcs in the SVG as well', async () => {
  const page = plateDrawing(await contextOf(wedgeJob(0.3))).pages[0];
  if (page === undefined) throw new Error('no page');
  const svg = writeSvg(page, 'plate');
  expect(svg).toMatch(/class="CUT_NET" d="M[^"]*A90 90 0 [01] 0 [^"]*Z"/);
  expect(svg).toMatch(/class="HOLE" cx="[\d.]+" cy="[\d.]+" r="25"/);
});
