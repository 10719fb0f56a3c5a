import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { newHit } from '../../geometry/hull/shell.ts';
import { type Context, contextsOf } from '../../src/sheets/context.ts';
import { footEdge, torchSettings } from '../../src/sheets/cut.ts';
import { flattened, type WindowItem } from '../../src/sheets/drawing.ts';
import { FOOT_LAYERS, largeTemplate, templateDxf, tiledTemplate } from '../../src/sheets/foottemplate.ts';
import { writePdf } from '../../src/sheets/pdf.ts';
import { writeSvg } from '../../src/sheets/svg.ts';
import { templateView } from '../../src/sheets/template-view.ts';
import { tileLayout } from '../../src/sheets/tiles.ts';
import { contextOf, fonts, planOf, sampleJobs, wedgeJob } from './plans.ts';
import { heightAt, layersOf, openPdf, polylinesOn, readDxf, strokedLines } from './readback.ts';

const UNIT = { metric: 1, us: 25.4 } as const;

describe('the cut read back from the DXF and laid over the shell leaves the gaps the plan promised', () => {
  for (const { name, job, file } of sampleJobs()) {
    for (const display of ['metric', 'us'] as const) {
      test(`${name}, ${display}`, async () => {
        for (const context of await contextsOf(planOf({ ...job, display }, file), { fonts })) {
          const { fitting } = context;
          const dxf = readDxf(templateDxf(context));
          expect(dxf.header.$INSUNITS).toBe(display === 'us' ? 1 : 4);
          const hit = newHit();
          let widest = 0;
          for (const [layer, c] of [
            ['FOOT_EDGE_FACE_PLUS', fitting.field.halfThickness],
            ['FOOT_EDGE_FACE_MINUS', -fitting.field.halfThickness],
          ] as const) {
            const edge = polylinesOn(dxf, layer)[0];
            if (edge === undefined) throw new Error(`no ${layer}`);
            const n = 400;
            for (let k = 0; k <= n; k++) {
              const a = fitting.field.halfFoot * ((2 * k) / n - 1) * (1 - 1e-9);
              const b = heightAt(edge, a / UNIT[display]);
              if (b === undefined || !fitting.field.cast(a, c, hit)) throw new Error(`nothing at ${a}`);
              const gap = b * UNIT[display] - hit.f;
              expect(gap).toBeGreaterThan(-0.05);
              widest = Math.max(widest, gap);
            }
          }
          const promised = fitting.fit[fitting.fit.chosen].maxGap;
          expect(widest).toBeLessThan(promised + 0.05);
          // The widest gap of a plane over a shell that bulges or hollows along the foot lies on a face.
          if (fitting.fit.chosen === 'straight') expect(widest).toBeGreaterThan(promised - 0.05);
        }
      });
    }
  }
});

describe('a wedge has its template in closed form', () => {
  const deadrise = 0.3;

  test('a plumb lug under a flat bottom of this deadrise: bevel, edges and torch', async () => {
    const context = await contextOf(wedgeJob(deadrise));
    // Port, bottom rising outboard, stem down: C = A x B points outboard; b grows downward, so face+ stands higher by t tan.
    const rise = 30 * Math.tan(deadrise);
    for (const [face, sign] of [
      ['face+', 1],
      ['face-', -1],
    ] as const) {
      for (const p of footEdge(context.fitting, face))
        expect(Math.abs(p.y - (sign * context.fitting.frame.face[1] * -rise) / 2)).toBeLessThan(1e-6);
    }
    const [setting] = torchSettings(context.fitting);
    expect(Math.abs(setting?.torch ?? 0)).toBeCloseTo(deadrise, 9);
  });

  test('the torch stands off square by atan(p2 / sqrt(1 + p1^2)): the angle between cut and a square cut through the same edge', async () => {
    const context = await contextOf(wedgeJob(deadrise, { fitting: { heading: '35 deg', stem: 'normal' } }));
    const leaned = await contextOf(wedgeJob(deadrise, { fitting: { heading: '35 deg' } }));
    expect(torchSettings(context.fitting)[0]?.torch).toBeCloseTo(0, 9);
    const { p1, p2 } = leaned.fitting.fit.straight;
    // Cut plane's normal (-p1, 1, -p2); a square cut has none of it across the plate.
    const across = Math.asin(Math.abs(p2) / Math.hypot(1, p1, p2));
    expect(Math.abs(torchSettings(leaned.fitting)[0]?.torch ?? 0)).toBeCloseTo(across, 9);
  });
});

test('layers in trade words, every one in the file, nothing on another', async () => {
  const dxf = readDxf(templateDxf(await contextOf(wedgeJob(0.3))));
  expect(layersOf(dxf)).toEqual(expect.arrayContaining(Object.keys(FOOT_LAYERS)));
  for (const entity of dxf.entities) expect(Object.keys(FOOT_LAYERS)).toContain(entity.layer);
});

describe('check bars of 100 mm and 4 in', () => {
  test('in the DXF', async () => {
    for (const display of ['metric', 'us'] as const) {
      const context = await contextOf({ ...wedgeJob(0.3), display });
      const lengths = polylinesOn(readDxf(templateDxf(context)), 'CHECK_BAR').map((line) => {
        const [p, q] = line.vertices;
        return Math.hypot((q?.x ?? 0) - (p?.x ?? 0), (q?.y ?? 0) - (p?.y ?? 0)) * UNIT[display];
      });
      expect(lengths.some((length) => Math.abs(length - 100) < 1e-6)).toBe(true);
      expect(lengths.some((length) => Math.abs(length - 101.6) < 1e-6)).toBe(true);
    }
  });

  test('on every tile and on the large page of the PDF, by the content streams', async () => {
    const context = await contextOf(wedgeJob(0.3));
    for (const drawing of [tiledTemplate(context), largeTemplate(context)]) {
      const pdf = await openPdf(await writePdf(drawing, context.fonts));
      const pages = pdf.getPages().slice(drawing.pages.length > 1 ? 1 : 0);
      expect(pages.length).toBeGreaterThan(0);
      for (const page of pages) {
        const lengths = strokedLines(page).map((line) => line.length);
        expect(lengths.filter((length) => Math.abs(length - 100) < 0.001).length).toBeGreaterThan(0);
        expect(lengths.filter((length) => Math.abs(length - 101.6) < 0.001).length).toBeGreaterThan(0);
      }
    }
  });

  const renders = spawnSync('pdftoppm', ['-v']).error === undefined;
  test.skipIf(!renders)('measured on a rendering at 254 dpi: 1000 and 1016 dots', async () => {
    const context = await contextOf(wedgeJob(0.3));
    const folder = mkdtempSync(join(tmpdir(), 'sheets-'));
    try {
      const file = join(folder, 'large.pdf');
      writeFileSync(file, await writePdf(largeTemplate(context), context.fonts));
      spawnSync('pdftoppm', ['-r', '254', '-gray', file, join(folder, 'large')]);
      const image = readPgm(readFileSync(join(folder, 'large-1.pgm')));
      const runs = new Set<number>();
      for (let y = 0; y < image.height; y++) for (const run of darkRuns(image, y)) runs.add(run);
      const near = (dots: number) => [...runs].some((run) => Math.abs(run - dots) <= 4);
      expect(near(1000)).toBe(true);
      expect(near(1016)).toBe(true);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });

  test('in the SVG, whose size is in millimetres', async () => {
    const context = await contextOf(wedgeJob(0.3));
    const page = largeTemplate(context).pages[0];
    if (page === undefined) throw new Error('no page');
    const svg = writeSvg(page, 'x');
    const [, width, height, box] = /width="([\d.]+)mm" height="([\d.]+)mm" viewBox="0 0 ([\d. ]+)"/.exec(svg) ?? [];
    expect(box).toBe(`${width} ${height}`);
    const lengths = [...svg.matchAll(/class="CHECK_BAR" d="M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)"/g)].map((match) => {
      const [x0, y0, x1, y1] = match.slice(1).map(Number) as [number, number, number, number];
      return Math.hypot(x1 - x0, y1 - y0);
    });
    expect(lengths.some((length) => Math.abs(length - 100) < 1e-5)).toBe(true);
    expect(lengths.some((length) => Math.abs(length - 101.6) < 1e-5)).toBe(true);
  });
});

describe('tiles', () => {
  test('cover the whole drawing, overlap, and carry the same crosses where they overlap', async () => {
    for (const paper of ['a4', 'letter'] as const) {
      const job = wedgeJob(0.3, {
        fitting: {
          lug: {
            foot: '620 mm',
            thickness: '40 mm',
            pinHeight: '400 mm',
            hole: '60 mm',
            topRadius: '150 mm',
            shoulder: '80 mm',
          },
        },
      });
      const context = await contextOf(job, { paper });
      const drawing = tiledTemplate(context);
      const tiles = drawing.pages.filter((page) => page.items.some((item) => item.kind === 'window'));
      expect(tiles.length).toBeGreaterThan(4);
      const windows = tiles.map((page) =>
        page.items.find((item): item is WindowItem => item.kind === 'window'),
      ) as WindowItem[];
      const half = windows.slice(0, windows.length / 2);
      // In the drawing's own coordinates a tile shows clip - (dx, dy).
      const shown = half.map((w) => ({ x0: w.clip.x - w.dx, x1: w.clip.x - w.dx + w.clip.width }));
      shown.forEach((tile, i) => {
        const next = shown[i + 1];
        if (next !== undefined) expect(tile.x1 - next.x0).toBeCloseTo(12, 9);
      });
      const [first, last] = [shown[0], shown.at(-1)];
      expect(first?.x0).toBeLessThanOrEqual(0);
      const crosses = half[0]?.items.filter((item) => item.kind === 'circle') ?? [];
      expect(crosses.length).toBeGreaterThan(0);
      for (const cross of crosses) {
        if (cross.kind !== 'circle') continue;
        const seen = shown.filter((tile) => cross.centre.x > tile.x0 && cross.centre.x < tile.x1).length;
        expect(seen).toBe(2);
      }
      expect(last?.x1).toBeGreaterThan(620 + 20);
      for (const page of tiles)
        expect([page.width, page.height].sort()).toEqual(paper === 'a4' ? [210, 297] : [215.9, 279.4].sort());
    }
  });

  test('no more of them than the drawing needs', () => {
    const a4 = { paper: 'a4', width: 210, height: 297 } as const;
    expect(tileLayout(a4, 180, 100)).toMatchObject({ columns: 1, rows: 1 });
    expect(tileLayout(a4, 270, 100)).toMatchObject({ columns: 1, rows: 1 });
    expect(tileLayout(a4, 300, 100)).toMatchObject({ columns: 2, rows: 1 });
  });
});

test('both faces: each its own edge solid, the other dashed, mirrored about the centre line', async () => {
  const context = await contextOf(wedgeJob(0.3, { fitting: { heading: '20 deg' } }));
  const large = largeTemplate(context);
  const windows = (large.pages[0]?.items ?? []).filter((item): item is WindowItem => item.kind === 'window');
  expect(windows.length).toBe(2);
  const edge = (w: WindowItem | undefined, layer: string) => {
    const item = w?.items.find((each) => each.kind === 'path' && each.layer === layer);
    if (item?.kind !== 'path') throw new Error(`no ${layer}`);
    return item;
  };
  const [plus, minus] = windows;
  expect(edge(plus, 'FOOT_EDGE_NEAR').pen?.dash).toBeUndefined();
  expect(edge(plus, 'FOOT_EDGE_FAR').pen?.dash).toBeDefined();
  const a = edge(plus, 'FOOT_EDGE_NEAR').points;
  const b = edge(minus, 'FOOT_EDGE_FAR').points;
  const width = 300 + 24;
  a.forEach((p, i) => {
    expect((b[i]?.x ?? 0) + p.x).toBeCloseTo(width, 9);
    expect((b[i]?.y ?? 0) - p.y).toBeCloseTo(0, 9);
  });
});

function readPgm(bytes: Buffer): { width: number; height: number; at: (x: number, y: number) => number } {
  const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(bytes.subarray(0, 60).toString('latin1'));
  if (head === null) throw new Error('no grey picture');
  const [width, height] = [Number(head[1]), Number(head[2])];
  const start = head[0].length;
  return { width, height, at: (x, y) => bytes[start + y * width + x] as number };
}

/** Lengths of the dark stretches in a row of dots, long ones. */
function darkRuns(image: ReturnType<typeof readPgm>, y: number): number[] {
  const out: number[] = [];
  let run = 0;
  for (let x = 0; x <= image.width; x++) {
    if (x < image.width && image.at(x, y) < 160) run++;
    else {
      if (run > 900) out.push(run);
      run = 0;
    }
  }
  return out;
}

test('where the errors of the readings were followed through, the metal to leave on stands below the cut at its size, and only there', async () => {
  const plan = planOf(wedgeJob(0.3));
  const spread = { mean: 0.31, deviation: 0.01, low: 0.29, median: 0.31, high: 0.33 };
  const known = (stock: number) => ({
    samples: 4000,
    seed: 7,
    fittings: [
      {
        id: 'A',
        bevel: spread,
        gap: spread,
        offPlane: spread,
        fits: 0.9,
        usable: 1,
        missed: 0,
        stock,
        gap95: 1.9,
        inputs: [],
      },
    ],
  });
  const contextWith = async (stock: number | undefined) => {
    const of = stock === undefined ? plan : { ...plan, uncertainty: known(stock) };
    return (await contextsOf(of, { fonts }))[0] as Context;
  };
  const bare = templateView(await contextWith(undefined), 'face+');
  for (const stock of [undefined, 0.04])
    expect(
      templateView(await contextWith(stock), 'face+').items.some(
        (item) => item.kind !== 'window' && item.layer === 'STOCK',
      ),
    ).toBe(false);
  const context = await contextWith(2.4);
  const view = templateView(context, 'face+');
  expect(view.height - bare.height).toBeCloseTo(2.4, 9);
  const line = view.items.find((item) => item.kind === 'path' && item.layer === 'STOCK' && item.pen !== undefined);
  const edge = view.items.find((item) => item.kind === 'path' && item.layer === 'FOOT_EDGE_NEAR');
  if (line?.kind !== 'path' || edge?.kind !== 'path') throw new Error('no line');
  edge.points.forEach((p, i) => {
    expect(p.x).toBeCloseTo(line.points[i]?.x ?? 0, 9);
    expect(p.y - (line.points[i]?.y ?? 0)).toBeCloseTo(2.4, 9);
  });
  const words = tiledTemplate(context)
    .pages.flatMap((page) => flattened(page.items))
    .flatMap((item) => (item.kind === 'text' ? [item.text] : []))
    .join(' ');
  expect(words).toContain('2.4 mm of metal left on');
  expect(words).toContain('no gap over 1.9 mm in 95 of 100 cases');
});
