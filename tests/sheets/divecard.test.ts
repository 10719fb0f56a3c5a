import { describe, expect, test } from 'vitest';
import type { Context } from '../../src/sheets/context.ts';
import { contextsOf } from '../../src/sheets/context.ts';
import { diveCard, LEAST_FIGURE, LEAST_TYPE, standLines, strikeLines } from '../../src/sheets/divecard.ts';
import type { Drawing, TextItem } from '../../src/sheets/drawing.ts';
import { textBox } from '../../src/sheets/fonts.ts';
import { numberPlaces } from '../../src/sheets/jointlayout.ts';
import { plainText } from '../../src/sheets/text.ts';
import { depthOf, diverView } from '../../src/sheets/view.ts';
import { contextOf, fonts, HOSTILE, HOSTILE_ID, planOf, sampleJobs, wedgeJob } from './plans.ts';

/** What keeps a card from being read by a head lamp: each fault in words. */
function faults(context: Context, drawing: Drawing): string[] {
  const out: string[] = [];
  if (drawing.pages.length !== 1) out.push(`${drawing.pages.length} pages`);
  const page = drawing.pages[0];
  if (page === undefined) return ['no page'];
  const texts = page.items.filter((item): item is TextItem => item.kind === 'text');
  const marks = [context.digest, context.revision, context.title, context.id].map((mark) => mark.slice(0, 6));
  for (const text of texts) {
    if (text.size < LEAST_TYPE) out.push(`"${text.text}" in ${text.size} pt`);
    const mark = marks.some((each) => text.text.startsWith(each));
    if (/\d/.test(text.text) && text.size < LEAST_FIGURE && !mark) out.push(`figure "${text.text}" in ${text.size} pt`);
    if (text.grey !== 0 && text.grey !== 1) out.push(`"${text.text}" in grey`);
    const box = textBox(context.fonts, text);
    if (box.x0 < 3 || box.x1 > page.width - 3 || box.y0 < 3 || box.y1 > page.height - 3)
      out.push(`"${text.text}" off the page`);
  }
  for (const item of page.items) {
    const points = item.kind === 'path' ? item.points : item.kind === 'circle' ? [item.centre] : [];
    for (const p of points) {
      if (p.x < 3 || p.y < 3 || p.x > page.width - 3 || p.y > page.height - 3) out.push(`${item.kind} off the page`);
    }
  }
  const lap = 0.25;
  texts.forEach((p, i) => {
    const a = textBox(context.fonts, p);
    texts.slice(i + 1).forEach((q) => {
      const b = textBox(context.fonts, q);
      const over =
        Math.min(a.x1, b.x1) - Math.max(a.x0, b.x0) > lap && Math.min(a.y1, b.y1) - Math.max(a.y0, b.y0) > lap;
      if (over) out.push(`"${p.text}" over "${q.text}"`);
    });
    for (const item of page.items) {
      if (item.kind !== 'circle' || item.radius < 3) continue;
      const inside =
        Math.abs(p.at.x - item.centre.x) < 0.01 && p.align === 'centre' && Math.abs(p.at.y - item.centre.y) < 3;
      const near = {
        x: Math.max(a.x0, Math.min(item.centre.x, a.x1)),
        y: Math.max(a.y0, Math.min(item.centre.y, a.y1)),
      };
      const gap = Math.hypot(near.x - item.centre.x, near.y - item.centre.y) - item.radius;
      if (!inside && gap < -lap) out.push(`"${p.text}" under a run's number`);
    }
  });
  return out;
}

describe('every card can be read: type, contrast, nothing over another, nothing off the page', () => {
  for (const { name, job, file } of sampleJobs()) {
    for (const display of ['metric', 'us'] as const) {
      for (const paper of ['a4', 'letter'] as const) {
        test(`${name}, ${display}, ${paper}`, async () => {
          const plan = planOf({ ...job, display }, file);
          for (const context of await contextsOf(plan, { fonts, paper, revision: 'B', date: '2026-03-14' })) {
            expect(faults(context, diveCard(context))).toEqual([]);
          }
        });
      }
    }
  }

  for (const display of ['metric', 'us'] as const) {
    test(`every sample with the place from a frame by name, ${display}`, async () => {
      for (const { job, file } of sampleJobs()) {
        // The movement of the load stands on no card.
        const { lift: _, ...still } = job;
        // As far off as a frame may be to be named: the longest figures.
        const { station } = planOf(still, file).fittings[0]?.anchor ?? { station: 0 };
        for (const name of ['frame 112½', 'watertight bulkhead aft of the stores', HOSTILE_ID]) {
          const named = structuredClone(still);
          named.ship.structure = { frames: [{ name: name.slice(0, 40), station: `${station - 1980} mm` }] };
          const plan = planOf({ ...named, display }, file);
          for (const paper of ['a4', 'letter'] as const) {
            for (const context of await contextsOf(plan, { fonts, paper })) {
              const card = diveCard(context);
              expect(faults(context, card)).toEqual([]);
              // The name whole, or the place from the aft perpendicular: never a part of a name.
              if (name === 'frame 112½') expect(words(card)).toMatch(/of frame 112½: |fwd of aft perp\./);
              else if (words(card).includes('of frame')) expect(words(card)).toContain(plainText(name.slice(0, 40)));
            }
          }
        }
      }
    });
  }

  test('long names and hostile text', async () => {
    const id = 'LUG-PORT-SIDE-AFT-OF-FRAME-41-UPPER-ROW';
    for (const title of [
      'Lowering of the upper rudder stock bearing, motor vessel Northern Wanderer, third attempt',
      HOSTILE,
    ]) {
      const job = wedgeJob(0.3, { fitting: { id: title === HOSTILE ? HOSTILE_ID : id }, job: { title } });
      for (const display of ['metric', 'us'] as const) {
        const context = await contextOf({ ...job, display });
        expect(faults(context, diveCard(context))).toEqual([]);
      }
    }
  });

  test('a check that cannot fail is none: a card with small type over other type is found out', async () => {
    const context = await contextOf(wedgeJob(0.3));
    const card = diveCard(context);
    const page = card.pages[0];
    if (page === undefined) throw new Error('no page');
    const text = page.items.find((item): item is TextItem => item.kind === 'text' && item.text === 'HOLD');
    if (text === undefined) throw new Error('no HOLD');
    const spoilt = { ...page, items: [...page.items, { ...text, text: 'x 7', size: 9, grey: 0.5 }] };
    expect(faults(context, { ...card, pages: [spoilt] }).length).toBeGreaterThanOrEqual(4);
  });
});

const words = (drawing: Drawing): string =>
  (drawing.pages[0]?.items ?? []).flatMap((item) => (item.kind === 'text' ? [item.text] : [])).join(' ');

describe('what the card says', () => {
  test('the place from the nearer frame by name; from the aft perpendicular where none is named', async () => {
    // The place is 10 m forward of the aft perpendicular on a bottom with one section: along the shell is along the ship.
    const job = wedgeJob(0.3);
    expect(words(diveCard(await contextOf(job)))).toContain('fwd of aft perp. 10.000 m');
    job.ship.structure = {
      frames: [
        { name: 'frame 16', station: '9.76 m' },
        { name: 'frame 17', station: '10.36 m' },
      ],
    };
    expect(words(diveCard(await contextOf(job)))).toContain('FWD of frame 16: 240 mm');
    job.ship.structure.frames[0].station = '9.6 m';
    expect(words(diveCard(await contextOf(job)))).toContain('AFT of frame 17: 360 mm');
    const at = structuredClone(job);
    at.ship.structure.frames[1].station = '10 m';
    expect(words(diveCard(await contextOf(at)))).toContain('AT frame 17 round from keel');
    // 360 mm is 14.17 in: 14 3/16 to the sixteenth.
    expect(words(diveCard(await contextOf({ ...job, display: 'us' })))).toContain('AFT of frame 17: 14 3/16 in');
  });

  test('a plumb fore-and-aft lug under a rising bottom is struck first on the keel side (common practice, no source)', async () => {
    const context = await contextOf(wedgeJob(0.3));
    expect(strikeLines(context)[0]).toMatch(/^STRIKE FIRST: run 1, KEEL side, (AFT|FWD) corner/);
    expect(strikeLines(context)[1]).toMatch(/^CLOSE LAST: run \d+, OUTB’D side/);
    expect(standLines(context)).toEqual(['Finder on OUTB’D face: PLUMB', 'On sight line: LEVEL']);
  });

  test('cautions, hold points, current and polarity (common practice: nickel 2.4 mm, 80 to 95 A, electrode positive)', async () => {
    const text = words(diveCard(await contextOf(wedgeJob(0.3))));
    for (const word of [
      '80–95 A DCEP+',
      'fit-up OK',
      'root OK',
      'finished OK',
      'DC',
      'Knife',
      'Locked',
      'gas-free.',
      'dive',
      'supervisor,',
    ]) {
      expect(text).toContain(word);
    }
  });

  test('a lug leaned 5 degrees outboard says so: face angle and way in closed form', async () => {
    // The shell is flat and level across; heading 0, lean +5 degrees turns n (down) towards tGirth (outboard).
    const context = await contextOf(wedgeJob(1e-9, { fitting: { stem: { lean: '5 deg' } } }));
    expect(standLines(context)[0]).toMatch(/face: 5\.0° off plumb, pin OUTB’D$/);
    expect(standLines(context)[1]).toBe('On centre line: 5.0° off plumb, pin OUTB’D');
  });
});

describe('the diver before the shell', () => {
  test('on a port side that rises outboard forward is to the left, on starboard to the right', async () => {
    for (const [side, left] of [
      ['port', 'forward'],
      ['starboard', 'aft'],
    ] as const) {
      const context = await contextOf(wedgeJob(0.5, { fitting: { at: { station: '10 m', side, girth: '2 m' } } }));
      const { edges } = diverView(context.plan, context.fitting);
      expect(edges).toEqual({ top: 'outboard', bottom: 'keel', left, right: left === 'aft' ? 'forward' : 'aft' });
    }
  });

  test('depth of a point is how far it lies under the water plane: draft less height at the aft perpendicular', async () => {
    const { plan } = await contextOf(wedgeJob(0.3));
    expect(depthOf(plan, [0, 0, 0])).toBeCloseTo(2400, 6);
    expect(depthOf(plan, [20_000, 1000, 400])).toBeCloseTo(2000, 6);
    // Heel, starboard down: tan(heel) across, cosine square to the plane.
    const heeled = await contextOf({ ...wedgeJob(0.3), ship: { ...wedgeJob(0.3).ship, heel: '3 deg' } });
    const heel = (3 * Math.PI) / 180;
    expect(depthOf(heeled.plan, [0, -1000, 0])).toBeCloseTo((2400 + 1000 * Math.tan(heel)) * Math.cos(heel), 6);
  });
});

test('numbers on a short side are pushed apart, into two rows where one is too short', () => {
  const one = numberPlaces([0.1, 0.3, 0.5], 40);
  const at = one.map((place) => place.share * 40).sort((p, q) => p - q);
  for (let i = 1; i < at.length; i++) expect((at[i] as number) - (at[i - 1] as number)).toBeGreaterThan(8);
  expect(new Set(numberPlaces([0.1, 0.3, 0.5, 0.7, 0.9], 20).map((place) => place.row))).toEqual(new Set([0, 1]));
});
