import { describe, expect, test } from 'vitest';
import { contextsOf } from '../../src/sheets/context.ts';
import { torchFromEdge, torchSettings } from '../../src/sheets/cut.ts';
import { arcOf, type Item, type Point, polylineOf, type TextItem, type Vertex } from '../../src/sheets/drawing.ts';
import { textBox } from '../../src/sheets/fonts.ts';
import { tiledTemplate } from '../../src/sheets/foottemplate.ts';
import { templateDxf } from '../../src/sheets/foottemplate-dxf.ts';
import { massCutSquare, nestingSize, plateDrawing, plateDxf, plateSheet } from '../../src/sheets/plate.ts';
import { plateCorners, withStep } from '../../src/sheets/plate-corners.ts';
import { PLATE_LAYERS } from '../../src/sheets/plate-items.ts';
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

const wordsOf = (pages: readonly { items: readonly Item[] }[]): string =>
  pages.flatMap((page) => page.items.flatMap((item) => (item.kind === 'text' ? [item.text] : []))).join(' ');

/** A drawn thing by where it is alone, to 0.0001; '' for text. */
function shapeOf(entity: unknown): string {
  const { type, vertices, center, radius } = entity as {
    type: string;
    vertices?: readonly { x: number; y: number }[];
    center?: { x: number; y: number };
    radius?: number;
  };
  const at = ({ x, y }: { x: number; y: number }) => `${x.toFixed(4)},${y.toFixed(4)}`;
  if (vertices) return vertices.map(at).join(' ');
  return center && type === 'CIRCLE' ? `${at(center)} ${(radius ?? 0).toFixed(4)}` : '';
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
          expect(cheeks).toBe(lug.cheek ? 2 : 0);
          // Bored when they are welded on: no line to cut by, or nothing is left to bore.
          const bored = dxf.entities.filter((e) => e.layer === 'CHEEK_BORE') as never as { radius: number }[];
          expect(bored.map(({ radius }) => radius * k)).toEqual(
            lug.cheek ? Array(2).fill(expect.closeTo(lug.hole / 2, 6)) : [],
          );

          // What the paper says of it: weight, corners, room on the plate it is cut from; on one page.
          const { pages } = plateSheet(context);
          expect(pages.length).toBe(1);
          const said = wordsOf(pages);
          const bore = (Math.PI * (lug.hole / k) ** 2) / 4;
          const volume =
            (areaOf(outline.vertices) - bore) * k * k * lug.thickness +
            (lug.cheek ? 2 * lug.cheek.thickness * (Math.PI * lug.cheek.radius ** 2 - bore * k * k) : 0);
          expect(massCutSquare(context) / (volume * 7850e-9)).toBeCloseTo(1, 9);
          const kg = volume * 7850e-9;
          // One pound is 0.45359237 kg (definition).
          const weight = display === 'us' ? `${(kg / 0.45359237).toFixed(2)} lb` : `${kg.toFixed(2)} kg`;
          expect(said).toContain(weight);
          const corners = plateCorners(context);
          for (const { at, both, stepTo } of corners) {
            for (const x of both ? [at.x, -at.x] : [at.x])
              for (const y of stepTo === undefined ? [at.y] : [at.y, stepTo])
                expect(outline.vertices.some((v) => Math.hypot(v.x * k - x, v.y * k - y) < 1e-5)).toBe(true);
          }
          const met = corners.reduce((sum, c) => sum + (c.both || c.stepTo !== undefined ? 2 : 1), 0);
          if (context.fitting.fit.chosen !== 'scribed') expect(met).toBe(outline.vertices.length);
          expect(nestSaid(said, display)).toBe(true);

          // Nothing stands twice, on whatever layer; parts lie clear of one another.
          const shapes = dxf.entities.map(shapeOf).filter((shape) => shape !== '');
          expect(new Set(shapes).size).toBe(shapes.length);
          const right = Math.max(...outline.vertices.map((v) => v.x));
          const rings = dxf.entities.filter((e) => e.type === 'CIRCLE' && e.layer === 'CHEEK_CUT') as never as {
            center: { x: number; y: number };
            radius: number;
          }[];
          for (const ring of rings) {
            expect((ring.center.x - ring.radius - right) * k).toBeGreaterThan(20);
            for (const other of rings) {
              const apart = Math.abs(other.center.y - ring.center.y);
              if (apart > 1e-9) expect((apart - ring.radius - other.radius) * k).toBeGreaterThan(20 - 1e-9);
            }
          }
          /** The rectangle said holds outline and stock, and is the least that can be set on a rule. */
          function nestSaid(text: string, system: 'metric' | 'us'): boolean {
            const size = nestingSize(context);
            const step = system === 'us' ? 25.4 / 32 : 1;
            const [w = 0, h = 0] =
              system === 'us'
                ? [...text.matchAll(/\(([\d.]+)\) × [^(]*\(([\d.]+)\)/g)].flatMap((m) => [
                    Number(m[1]) * 25.4,
                    Number(m[2]) * 25.4,
                  ])
                : [...text.matchAll(/(\d+) mm × (\d+) mm/g)].flatMap((m) => [Number(m[1]), Number(m[2])]);
            // Thousandths of an inch as printed.
            const fits = (room: number, need: number) => room > need - 0.013 && room < need + step + 0.013;
            return fits(w, size.width) && fits(h, size.height);
          }
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

test('the file taken apart with nothing but its own lines of text weighs what the sheet says (no reader of ours)', async () => {
  for (const { name, job, file } of sampleJobs()) {
    for (const context of await contextsOf(planOf({ ...job, display: 'metric' }, file), { fonts })) {
      const pairs = plateDxf(context)
        .split(/\r?\n/)
        .map((line) => line.trim());
      // Group codes and values in turn; the entity on the net layer, its corners (10, 20) and bulges (42), closed (70 = 1).
      const codes: [number, string][] = [];
      for (let i = 0; i + 1 < pairs.length; i += 2) codes.push([Number(pairs[i]), pairs[i + 1] as string]);
      const begins = codes.flatMap(([code], i) => (code === 0 ? [i] : []));
      const bodies = begins.map((at, i) => codes.slice(at, begins[i + 1]));
      const on = (layer: string, type: string) =>
        bodies.filter((b) => b[0]?.[1] === type && b.some(([code, value]) => code === 8 && value === layer));
      const [net, ...more] = on('CUT_NET', 'LWPOLYLINE');
      expect(more).toEqual([]);
      const corners: { x: number; y: number; bulge: number }[] = [];
      for (const [code, value] of net ?? []) {
        if (code === 10) corners.push({ x: Number(value), y: 0, bulge: 0 });
        if (code === 20) (corners.at(-1) as { y: number }).y = Number(value);
        if (code === 42) (corners.at(-1) as { bulge: number }).bulge = Number(value);
      }
      expect(net?.find(([code]) => code === 70)?.[1]).toBe('1');
      const fine = polylineOf(corners, true, 1e-4);
      const area = fine.reduce((sum, p, i) => {
        const q = fine[(i + 1) % fine.length] as Point;
        return sum + (p.x * q.y - q.x * p.y) / 2;
      }, 0);
      const bore = Number(on('HOLE', 'CIRCLE')[0]?.find(([code]) => code === 40)?.[1]);
      const { thickness, cheek } = context.fitting.input.lug;
      const rings = cheek ? 2 * cheek.thickness * Math.PI * (cheek.radius ** 2 - bore ** 2) : 0;
      const kg = ((area - Math.PI * bore ** 2) * thickness + rings) * 7850e-9;
      expect(Math.abs(massCutSquare(context) - kg), name).toBeLessThan(0.002);
      // Bevelling only takes away, and no more than the wedge between the two edges of the foot.
      expect(context.fitting.body.mass, name).toBeLessThan(kg + 0.002);
    }
  }
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

describe('the plate on paper', () => {
  const textsOf = (items: readonly Item[]): TextItem[] =>
    items.filter((item): item is TextItem => item.kind === 'text');

  test('the ring weld of the cheek plates has its size: two millimetres less than the plate, as its check has it; one that fails says so', async () => {
    const job = wedgeJob(0.3);
    job.fittings[0].lug.cheek = { radius: '70 mm', thickness: '10 mm' };
    const words = wordsOf(plateSheet(await contextOf(job)).pages);
    // What a fillet along an edge leaves of it, 2 mm (AISC 360 J2.2b, recalled).
    expect(words).toContain('fillet all round, leg 8.0 mm as calculated: the most that its edge takes');
    expect(words).not.toContain('NOT ENOUGH');
    const thin = wedgeJob(0.3, { fitting: { load: { direction: [0, 0, -1], force: '4000 kN' } } });
    thin.fittings[0].lug.cheek = { radius: '70 mm', thickness: '10 mm' };
    const context = await contextOf(thin);
    const check = context.fitting.strength.checks.find(({ id }) => id === 'cheek-weld');
    expect(check?.pass).toBe(false);
    const needed = Number(/NOT ENOUGH, ([\d.]+) mm needed/.exec(wordsOf(plateSheet(context).pages))?.[1]);
    // Leg in proportion to the line force: never rounded down.
    const exact = 8 * (check?.ratio ?? 0);
    expect(needed).toBeGreaterThanOrEqual(exact - 1e-6);
    expect(needed).toBeLessThan(exact + 0.11);
    expect(wordsOf(plateSheet(await contextOf(wedgeJob(0.3))).pages)).not.toContain('Ring weld');
  });

  test('of a step too small for a fraction the decimals alone are given, never two fractions alike', () => {
    expect(withStep('8 9/32 in (8.276)', '8 9/32 in (8.283)')).toBe('8 9/32 in (8.276, step to 8.283)');
    expect(withStep('8 9/32 in (8.276)', '8 5/16 in (8.312)')).toBe('8 9/32 in (8.276), step to 8 5/16 in (8.312)');
    expect(withStep('210.2 mm', '210.4 mm')).toBe('210.2 mm, step to 210.4 mm');
    expect(withStep('210.2 mm', '210.2 mm')).toBe('210.2 mm');
  });

  for (const { name, job, file } of sampleJobs()) {
    test(`${name}: the number of a corner stands by it, on no line and on no word`, async () => {
      for (const display of ['metric', 'us'] as const) {
        for (const context of await contextsOf(planOf({ ...job, display }, file), { fonts })) {
          const [page] = plateSheet(context).pages;
          if (page === undefined) throw new Error('no page');
          const corners = plateCorners(context);
          // In the picture alone: over the words that say from where it is seen.
          const texts = textsOf(page.items);
          const floor = texts.find(({ text }) => text.includes('do not measure'))?.at.y ?? 0;
          const numbers = texts.filter(
            ({ text, size, bold, align, at }) =>
              /^\d+$/.test(text) && size === 8 && bold && align === 'centre' && at.y > floor,
          );
          expect(numbers.map(({ text }) => text)).toEqual(corners.map((_, i) => String(i + 1)));
          const lines = page.items.flatMap((item): Point[][] => {
            if (item.kind === 'circle')
              return [
                Array.from({ length: 181 }, (_, k) => ({
                  x: item.centre.x + item.radius * Math.cos((k * Math.PI) / 90),
                  y: item.centre.y + item.radius * Math.sin((k * Math.PI) / 90),
                })),
              ];
            if (item.kind !== 'path' || item.pen === undefined) return [];
            const points = polylineOf(item.points, item.closed, 0.02);
            return [item.closed ? [...points, points[0] as Point] : points];
          });
          for (const number of numbers) {
            const box = textBox(context.fonts, number);
            // Figures have nothing under the base line.
            const inside = (p: Point) => p.x > box.x0 && p.x < box.x1 && p.y > number.at.y && p.y < box.y1;
            for (const line of lines) {
              for (let k = 0; k + 1 < line.length; k++) {
                const [p, q] = [line[k], line[k + 1]] as [Point, Point];
                const n = Math.ceil(Math.hypot(q.x - p.x, q.y - p.y) / 0.2) + 1;
                for (let j = 0; j <= n; j++) {
                  const at = { x: p.x + ((q.x - p.x) * j) / n, y: p.y + ((q.y - p.y) * j) / n };
                  if (inside(at)) throw new Error(`${display}: corner ${number.text} on a line at ${at.x}, ${at.y}`);
                }
              }
            }
            for (const other of texts) {
              if (other === number || other.rotation !== 0) continue;
              const its = textBox(context.fonts, other);
              const apart = its.x1 < box.x0 || its.x0 > box.x1 || its.y1 < number.at.y || its.y0 > box.y1;
              expect(apart, `${display}: ${number.text} on "${other.text}"`).toBe(true);
            }
          }
        }
      }
    });
  }
});

describe('what the picture of the plate says of its lines is so', () => {
  test('the torch is drawn where it can be told from the next line, else said to lie there', async () => {
    for (const [kerf, drawn] of [
      ['1.5 mm', false],
      ['12 mm', true],
    ] as const) {
      const context = await contextOf({ ...wedgeJob(0.2), papers: { kerf, stock: '3 mm' } });
      const { pages } = plateSheet(context);
      const dotted = pages
        .flatMap(({ items }) => items)
        .filter((item) => 'layer' in item && item.layer === 'TORCH_CENTRE');
      expect(dotted.length > 0).toBe(drawn);
      expect(wordsOf(pages).includes('Dots: the middle of the torch')).toBe(drawn);
      expect(wordsOf(pages).includes('The middle of the torch is not drawn')).toBe(!drawn);
      // The file to cut from has it always.
      expect(polylinesOn(readDxf(plateDxf(context)), 'TORCH_CENTRE').length).toBe(1);
    }
  });

  test('a square foot has one edge, a bevelled one a lower of two', async () => {
    const square = await contextOf(wedgeJob(0.2, { fitting: { stem: 'normal' } }));
    expect(wordsOf(plateSheet(square).pages)).toContain('through the plate at the edge of the foot');
    const bevelled = await contextOf(wedgeJob(0.2));
    expect(wordsOf(plateSheet(bevelled).pages)).toContain('at the lower of the two foot edges');
  });
});
