import { describe, expect, test } from 'vitest';
import { type Context, contextsOf } from '../../src/sheets/context.ts';
import { type Drawing, flattened, type Page, type TextItem, type WindowItem } from '../../src/sheets/drawing.ts';
import { textBox } from '../../src/sheets/fonts.ts';
import { tiledTemplate } from '../../src/sheets/foottemplate.ts';
import { fewestSheets, type Piece, tileLayout, tilePages, tilesIn } from '../../src/sheets/tiles.ts';
import { trialTemplate } from '../../src/sheets/trial.ts';
import { contextOf, fonts, HOSTILE, HOSTILE_ID, planOf, sampleJobs, wedgeJob } from './plans.ts';

/** mm. */
const OVERLAP = 12;

const lug = (foot: number, thickness: number) => ({
  foot: `${foot} mm`,
  thickness: `${thickness} mm`,
  pinHeight: `${Math.max(120, 0.7 * foot)} mm`,
  hole: '26 mm',
  topRadius: `${Math.min(0.45 * foot, 120)} mm`,
  shoulder: `${Math.max(20, 0.2 * foot)} mm`,
});

const tilesOf = (drawing: Drawing): { page: Page; window: WindowItem }[] =>
  drawing.pages.flatMap((page) => {
    const window = page.items.find((item): item is WindowItem => item.kind === 'window');
    return window === undefined ? [] : [{ page, window }];
  });

/** What a tile shows of its drawing, in the drawing's own coordinates. */
const shown = ({ clip, dx, dy }: WindowItem) => ({
  x0: clip.x - dx,
  x1: clip.x - dx + clip.width,
  y0: clip.y - dy,
  y1: clip.y - dy + clip.height,
});

/** Corners of the box round a text, turned as it is. */
function corners(context: Context, item: TextItem): [number, number][] {
  const box = textBox(context.fonts, item);
  const [cos, sin] = [Math.cos(item.rotation), Math.sin(item.rotation)];
  return (
    [
      [box.x0, box.y0],
      [box.x1, box.y0],
      [box.x1, box.y1],
      [box.x0, box.y1],
    ] as const
  ).map(([x, y]) => {
    const [u, v] = [x - item.at.x, y - item.at.y];
    return [item.at.x + u * cos - v * sin, item.at.y + u * sin + v * cos];
  });
}

/** What is wrong with the tiles of a drawing: words cut, words off the paper, words over a register cross. */
function faults(context: Context, drawing: Drawing): string[] {
  return tilesOf(drawing).flatMap(({ page, window }, i) => {
    const frame = shown(window);
    const items = flattened(window.items);
    const crosses = items.filter((item) => item.kind === 'circle' && item.radius === 2);
    const out: string[] = [];
    if (window.clip.x < 6.35 || window.clip.x + window.clip.width > page.width - 6.35)
      out.push(`${i}: beyond what prints`);
    for (const item of items) {
      if (item.kind !== 'text') continue;
      const box = corners(context, item);
      const inside = box.every(
        ([x, y]) => x > frame.x0 - 1e-3 && x < frame.x1 + 1e-3 && y > frame.y0 - 1e-3 && y < frame.y1 + 1e-3,
      );
      if (!inside) out.push(`${i}: "${item.text}" is cut`);
      if (item.size < 8) out.push(`${i}: "${item.text}" is ${item.size} pt`);
      for (const cross of crosses) {
        if (cross.kind !== 'circle') continue;
        const [xs, ys] = [box.map(([x]) => x), box.map(([, y]) => y)];
        const apart =
          cross.centre.x + 4 < Math.min(...xs) ||
          cross.centre.x - 4 > Math.max(...xs) ||
          cross.centre.y + 4 < Math.min(...ys) ||
          cross.centre.y - 4 > Math.max(...ys);
        if (!apart) out.push(`${i}: "${item.text}" on a register cross`);
      }
    }
    return out;
  });
}

/** Boxes to write in that a cut goes through: each stands whole on a tile or in the strip that the next one has whole. */
const boxesCut = (drawing: Drawing): string[] =>
  tilesOf(drawing).flatMap(({ window }, i) =>
    flattened(window.items).flatMap((item) => {
      if (item.kind !== 'path' || item.layer !== 'SHELL_EDGE' || !item.closed) return [];
      const [x0, x1] = [Math.min(...item.points.map((p) => p.x)), Math.max(...item.points.map((p) => p.x))];
      const { x0: from, x1: to } = shown(window);
      return (x0 > from && x1 < to) || x1 < from + OVERLAP || x0 > to - OVERLAP ? [] : [`${i}: ${x0} to ${x1}`];
    }),
  );

/** Words with the other system's lengths: but for the check bars none may. */
function strangeUnits({ pages }: Drawing, display: 'metric' | 'us'): string[] {
  const other = display === 'us' ? /\d mm\b/ : /\d in\b/;
  return pages
    .flatMap((page) => flattened(page.items))
    .flatMap((item) => (item.kind === 'text' && other.test(item.text) ? [item.text] : []))
    .filter((text) => text !== '100 mm' && text !== '4 in');
}

/** Words of a drawing that stand on one of its tiles at the least. */
const wordsOf = (drawing: Drawing): Set<string> =>
  new Set(
    tilesOf(drawing).flatMap(({ window }) =>
      flattened(window.items).flatMap((item) => (item.kind === 'text' ? [item.text] : [])),
    ),
  );

describe('no word and no box to write in is cut at the edge of a tile, no word under 8 pt, on a register cross or in the other system’s units', () => {
  for (const { name, job, file } of sampleJobs()) {
    test(name, async () => {
      for (const display of ['metric', 'us'] as const) {
        for (const paper of ['a4', 'letter'] as const) {
          for (const context of await contextsOf(planOf({ ...job, display }, file), { fonts, paper })) {
            for (const drawing of [tiledTemplate(context), trialTemplate(context)]) {
              expect(faults(context, drawing)).toEqual([]);
              expect(boxesCut(drawing)).toEqual([]);
              expect(strangeUnits(drawing, display)).toEqual([]);
            }
          }
        }
      }
    });
  }

  test('feet of 60 to 900 mm, thick plate, names as long and strange as may be', async () => {
    for (const [foot, thickness] of [
      [60, 20],
      [109, 25],
      [150, 30],
      [300, 90],
      [600, 60],
      [900, 40],
    ] as const) {
      for (const paper of ['a4', 'letter'] as const) {
        for (const more of [{}, { stem: 'normal' }, { heading: '35 deg' }]) {
          const fitting = { lug: lug(foot, thickness), id: HOSTILE_ID, ...more };
          const context = await contextOf(
            wedgeJob(0.3, { fitting, job: { title: HOSTILE, display: paper === 'a4' ? 'metric' : 'us' } }),
            { paper },
          );
          const drawing = tiledTemplate(context);
          expect(faults(context, drawing)).toEqual([]);
          expect(faults(context, trialTemplate(context))).toEqual([]);
          const words = [...wordsOf(drawing)].join(' ');
          for (const part of ['OUTBOARD', 'KEEL', 'FORWARD', 'AFT', 'sight line', 'leg line', 'g ']) {
            expect(words).toContain(part);
          }
        }
      }
    }
  });

  test('a check that cannot fail is none: words across a cut are found', async () => {
    const context = await contextOf(wedgeJob(0.3));
    const drawing = tiledTemplate(context);
    const [first] = tilesOf(drawing);
    if (first === undefined) throw new Error('no tile');
    const { window } = first;
    const text: TextItem = {
      kind: 'text',
      layer: 'TEXT',
      text: 'across',
      at: { x: shown(window).x1 - 1, y: shown(window).y0 + 30 },
      size: 8,
      align: 'left',
      rotation: 0,
      bold: false,
      italic: false,
      grey: 0,
    };
    const pages = [{ ...first.page, items: [{ ...window, items: [...window.items, text] }] }];
    expect(faults(context, { title: '', pages }).join()).toContain('"across" is cut');
  });
});

describe('tiles', () => {
  test('cover the whole drawing, overlap by 12 mm, and carry the same crosses, two at the least, where they overlap', async () => {
    for (const paper of ['a4', 'letter'] as const) {
      for (const foot of [300, 620]) {
        const context = await contextOf(wedgeJob(0.3, { fitting: { lug: lug(foot, 40) } }), { paper });
        for (const drawing of [tiledTemplate(context), trialTemplate(context)]) {
          const tiles = tilesOf(drawing);
          expect(tiles.length).toBeGreaterThan(1);
          const frames = tiles.map(({ window }) => shown(window));
          const reach = { x0: Math.min(...frames.map((f) => f.x0)), x1: Math.max(...frames.map((f) => f.x1)) };
          expect(reach.x0).toBeCloseTo(0, 9);
          expect(reach.x1).toBeGreaterThan(foot);
          frames.forEach((frame, i) => {
            const next = frames[i + 1];
            if (next === undefined || next.x0 < frame.x0 + 1) return;
            expect(frame.x1 - next.x0).toBeCloseTo(OVERLAP, 9);
            const middle = frame.x1 - OVERLAP / 2;
            const crosses = (k: number) =>
              flattened(tiles[k]?.window.items ?? [])
                .flatMap((item) => (item.kind === 'circle' && item.radius === 2 ? [item.centre] : []))
                .filter((centre) => Math.abs(centre.x - middle) < 1e-9);
            expect(crosses(i).length).toBeGreaterThanOrEqual(2);
            expect(crosses(i + 1)).toEqual(crosses(i));
            for (const { y } of crosses(i)) {
              expect(y - 4).toBeGreaterThan(frame.y0);
              expect(y + 4).toBeLessThan(frame.y1);
            }
          });
          for (const { page } of tiles)
            expect([page.width, page.height].sort()).toEqual(paper === 'a4' ? [210, 297] : [215.9, 279.4].sort());
        }
      }
    }
  });

  const A4 = { paper: 'a4', width: 210, height: 297 } as const;
  const LETTER = { paper: 'letter', width: 215.9, height: 279.4 } as const;

  test('no more of them than the drawing needs: what a page of 7 mm margin holds, by hand', () => {
    const count = (paper: typeof A4 | typeof LETTER, width: number, height: number) =>
      tilesIn(tileLayout(paper, { width, height }));
    expect(count(A4, 180, 100)).toBe(1);
    // 297 - 14 = 283 on its side; 196 upright, two of which share 12.
    expect(count(A4, 283, 100)).toBe(1);
    expect(count(A4, 284, 100)).toBe(2);
    expect(count(A4, 196, 253)).toBe(1);
    expect(count(A4, 380, 253)).toBe(2);
    expect(count(A4, 381, 253)).toBe(3);
    expect(count(LETTER, 265.4, 100)).toBe(1);
    expect(count(LETTER, 265.5, 100)).toBe(2);
  });

  test('of several ways to lay pieces out the one with the fewest sheets, then with the fewest joins', () => {
    const piece = (width: number, height: number): Piece => ({
      title: '',
      width,
      height,
      avoid: [],
      clear: [],
      outlines: [],
      draw: () => [],
    });
    const laid = (...ways: Piece[][]) => fewestSheets(A4, ways).map(({ layout }) => tilesIn(layout));
    // Two faces of 300: stacked they go on two sheets, each by itself on four.
    expect(laid([piece(304, 100), piece(304, 100)], [piece(304, 204)])).toEqual([2]);
    // Of 280: two either way, but each face whole on its own.
    expect(laid([piece(283, 100), piece(283, 100)], [piece(283, 204)])).toEqual([1, 1]);
  });

  test('a text longer than a tile is not lost', async () => {
    const context = await contextOf(wedgeJob(0.3));
    const text = (words: string, x: number): TextItem => ({
      kind: 'text',
      layer: 'TEXT',
      text: words,
      at: { x, y: 20 },
      size: 8,
      align: 'left',
      rotation: 0,
      bold: false,
      italic: false,
      grey: 0,
    });
    const piece: Piece = {
      title: 'x',
      width: 500,
      height: 100,
      avoid: [],
      clear: [],
      outlines: [],
      draw: () => [text('one that stands on the cut between two tiles', 225)],
    };
    const layout = tileLayout(A4, piece);
    expect(tilesIn(layout)).toBe(2);
    const pages = tilePages(context, piece, layout, 'x', 1, 2);
    const drawing = { title: '', pages };
    expect([...wordsOf(drawing)]).toEqual(['one that stands on the cut between two tiles']);
    expect(faults(context, drawing)).toEqual([]);
  });
});

describe('pages of the templates', () => {
  test('a foot of 300 mm takes two sheets for both faces, one of 280 mm on A4 one a face without a join, a small one no map', async () => {
    const pages = async (foot: number, paper: 'a4' | 'letter') => {
      const context = await contextOf(wedgeJob(0.3, { fitting: { lug: lug(foot, 30) } }), { paper });
      return tiledTemplate(context).pages.length;
    };
    expect(await pages(300, 'a4')).toBe(3);
    expect(await pages(300, 'letter')).toBe(3);
    expect(await pages(280, 'a4')).toBe(3);
    expect(await pages(150, 'a4')).toBe(2);
    expect(await pages(60, 'a4')).toBe(2);
    const context = await contextOf(wedgeJob(0.3, { fitting: { lug: lug(280, 30) } }));
    const words = tiledTemplate(context).pages.flatMap((page) => flattened(page.items));
    expect(words.filter((item) => item.kind === 'text' && item.text === 'whole on this page').length).toBe(2);
  });
});
