import { describe, expect, test } from 'vitest';
import { bevelSheet } from '../../src/sheets/beveltable.ts';
import { calculation } from '../../src/sheets/calculation.ts';
import { type Context, contextsOf } from '../../src/sheets/context.ts';
import { diveCard } from '../../src/sheets/divecard.ts';
import { diveList } from '../../src/sheets/divelist.ts';
import type { Drawing, Item, Page, TextItem, WindowItem } from '../../src/sheets/drawing.ts';
import { type Fonts, textBox } from '../../src/sheets/fonts.ts';
import { largeTemplate, tiledTemplate } from '../../src/sheets/foottemplate.ts';
import { liftingPlan } from '../../src/sheets/liftingplan.ts';
import { markoutLarge, markoutSheet } from '../../src/sheets/markout.ts';
import { plateDrawing, plateSheet } from '../../src/sheets/plate.ts';
import { record } from '../../src/sheets/record.ts';
import { richLines } from '../../src/sheets/rich.ts';
import { trialTemplate } from '../../src/sheets/trial.ts';
import { fonts, planOf, sampleJobs } from './plans.ts';

/* What an eye sees first on paper: words over words, words that leave the page, pages all but empty. */

const SHEETS: Readonly<Record<string, (context: Context) => Drawing>> = {
  diveCard,
  diveList,
  liftingPlan,
  tiledTemplate,
  largeTemplate,
  plateSheet,
  plateDrawing,
  markoutSheet,
  markoutLarge,
  bevelSheet,
  trialTemplate,
  calculation,
  record,
};

interface Seen {
  readonly item: TextItem;
  /** Corners of the box round the letters, on the page, shrunk by what may touch. */
  readonly corners: readonly (readonly [number, number])[];
}

type Clip = WindowItem['clip'];

/** Every text of a page where it stands; of a window only what stands wholly inside, the rest is on the next page. */
function textsSeen(faces: Fonts, items: readonly Item[], dx = 0, dy = 0, clips: readonly Clip[] = []): Seen[] {
  return items.flatMap((item): Seen[] => {
    if (item.kind === 'window') {
      const { x, y, width, height } = item.clip;
      return textsSeen(faces, item.items, dx + item.dx, dy + item.dy, [
        ...clips,
        { x: x + dx, y: y + dy, width, height },
      ]);
    }
    if (item.kind !== 'text') return [];
    const box = textBox(faces, item);
    const [cos, sin] = [Math.cos(item.rotation), Math.sin(item.rotation)];
    const inset = 0.25;
    const corners = (
      [
        [box.x0 + inset, box.y0 + inset + 0.1 * (box.y1 - box.y0)],
        [box.x1 - inset, box.y0 + inset + 0.1 * (box.y1 - box.y0)],
        [box.x1 - inset, box.y1 - inset],
        [box.x0 + inset, box.y1 - inset],
      ] as const
    ).map(([x, y]): [number, number] => {
      const [u, v] = [x - item.at.x, y - item.at.y];
      return [item.at.x + dx + u * cos - v * sin, item.at.y + dy + u * sin + v * cos];
    });
    const inside = ([x, y]: readonly [number, number]) =>
      clips.every((clip) => x > clip.x && x < clip.x + clip.width && y > clip.y && y < clip.y + clip.height);
    return corners.every(inside) ? [{ item, corners }] : [];
  });
}

/** Whether two boxes, turned as they may be, share any ground: no line parts them along a side of either. */
function overlap(p: Seen['corners'], q: Seen['corners']): boolean {
  for (const box of [p, q]) {
    for (const k of [0, 1]) {
      const [ax, ay] = box[k] as readonly [number, number];
      const [bx, by] = box[k + 1] as readonly [number, number];
      const reach = (of: Seen['corners']) => of.map(([x, y]) => x * (bx - ax) + y * (by - ay));
      const [a, b] = [reach(p), reach(q)];
      if (Math.max(...a) <= Math.min(...b) || Math.max(...b) <= Math.min(...a)) return false;
    }
  }
  return true;
}

/** Sizes of headings, points. */
const HEADINGS = [15, 11.5, 9.5];
/** mm. What stands lower is the foot of a page of text. */
const FOOT = 16;

/** A page of text that ends on a heading, or a last page with next to nothing on it. */
function badBreaks(pages: readonly Page[]): string[] {
  return pages.flatMap((page, i) => {
    const texts = page.items.filter((item) => item.kind === 'text' && item.rotation === 0) as TextItem[];
    // Upright pages with a numbered foot are those that text flows over, unless they show a part of a drawing.
    if (page.width > page.height || !texts.some((text) => /^page \d+ of /.test(text.text))) return [];
    if (page.items.some((item) => item.kind === 'window')) return [];
    const body = texts.filter((text) => text.at.y > FOOT && text.at.y < page.height - 12);
    const last = body.reduce((low, text) => (text.at.y < low.at.y ? text : low), body[0] as TextItem);
    const faults: string[] = [];
    if (last.bold && HEADINGS.includes(last.size)) faults.push(`page ${i + 1} ends on the heading "${last.text}"`);
    const lines = new Set(body.map((text) => Math.round(text.at.y))).size;
    if (i > 0 && i === pages.length - 1 && lines < 5) faults.push(`page ${i + 1} holds ${lines} lines only`);
    return faults;
  });
}

function faultsOf(page: Page, faces: Fonts): string[] {
  const seen = textsSeen(faces, page.items);
  const faults: string[] = [];
  seen.forEach((a, i) => {
    if (a.corners.some(([x, y]) => x < 3 || y < 3 || x > page.width - 3 || y > page.height - 3)) {
      faults.push(`"${a.item.text}" off the page`);
    }
    for (const b of seen.slice(i + 1)) {
      if (overlap(a.corners, b.corners)) faults.push(`"${a.item.text}" over "${b.item.text}"`);
    }
  });
  return faults;
}

test('a check that cannot fail is none: words over words, beside them, across them, off the page', async () => {
  const [context] = await contextsOf(planOf(sampleJobs()[0]?.job), { fonts });
  const faces = (context as Context).fonts;
  const word = (text: string, x: number, y: number, rotation = 0): TextItem => ({
    kind: 'text',
    layer: 'TEXT',
    text,
    at: { x, y },
    size: 9,
    align: 'left',
    rotation,
    bold: false,
    italic: false,
    grey: 0,
  });
  const page = (...items: Item[]): Page => ({ width: 100, height: 100, items });
  expect(faultsOf(page(word('one', 20, 20), word('two', 22, 21)), faces)).toEqual(['"one" over "two"']);
  expect(faultsOf(page(word('one', 20, 20), word('two', 20, 16)), faces)).toEqual([]);
  expect(faultsOf(page(word('longer', 20, 20), word('across', 25, 15, Math.PI / 2)), faces)).toEqual([
    '"longer" over "across"',
  ]);
  expect(faultsOf(page(word('gone', 96, 20)), faces)).toEqual(['"gone" off the page']);
  const foot = word('page 2 of 2', 80, 10);
  const heading = { ...word('Weld', 20, 40), bold: true, size: 11.5 };
  expect(badBreaks([page(foot, word('text', 20, 60), heading), page(foot, word('text', 20, 60))])).toEqual([
    'page 1 ends on the heading "Weld"',
    'page 2 holds 1 lines only',
  ]);
});

describe('no words over words, none off the page, no heading at the end of one, no last page of a few lines: every sheet, every sample, both systems of units', () => {
  for (const { name, job, file } of sampleJobs()) {
    test(name, async () => {
      for (const display of ['metric', 'us'] as const) {
        const faults: string[] = [];
        for (const context of await contextsOf(planOf({ ...job, display }, file), { fonts, revision: 'C' })) {
          for (const [what, make] of Object.entries(SHEETS)) {
            const { pages } = make(context);
            for (const fault of badBreaks(pages)) faults.push(`${display} ${context.id} ${what}: ${fault}`);
            pages.forEach((page, i) => {
              for (const fault of faultsOf(page, context.fonts))
                faults.push(`${display} ${context.id} ${what} page ${i + 1}: ${fault}`);
            });
          }
        }
        expect(faults).toEqual([]);
      }
    });
  }
});

test('a figure on the card is not parted from its fraction and unit at the end of a line, nor from the side it is of', async () => {
  const [context] = await contextsOf(planOf(sampleJobs()[0]?.job), { fonts });
  const faces = (context as Context).fonts;
  const text = 'DIVE 1 of 12 ends: layer 2 bead 1, KEEL side, 10 1/16 in from AFT 9/16, OUTB’D 12 mm done';
  for (let width = 35; width < 120; width += 0.5) {
    const lines = richLines(faces, text, width, { size: 11, figures: 15 });
    expect(lines.flatMap((line) => line.words.map((word) => word.text)).join(' ')).toBe(text);
    for (const line of lines) {
      const words = line.words.map((word) => word.text).join(' ');
      expect(words).not.toMatch(/^(1\/16|9\/16|12 mm|mm)/);
      expect(words).not.toMatch(/(\b10|1\/16|AFT|OUTB’D)$/);
      expect(line.words.reduce((sum, word) => sum + word.width, 0)).toBeLessThan(width);
    }
  }
});
