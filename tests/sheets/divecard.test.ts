import { describe, expect, test } from 'vitest';
import { orderMark } from '../../src/plan/runorder.ts';
import { LEAST_FIGURE, LEAST_TYPE } from '../../src/sheets/cardtype.ts';
import type { Context } from '../../src/sheets/context.ts';
import { contextsOf } from '../../src/sheets/context.ts';
import { diveCard, standLines, strikeLines } from '../../src/sheets/divecard.ts';
import { diveList } from '../../src/sheets/divelist.ts';
import { nextDive, partsOf } from '../../src/sheets/dives.ts';
import type { Drawing, Point, TextItem } from '../../src/sheets/drawing.ts';
import { textBox } from '../../src/sheets/fonts.ts';
import { numberPlaces } from '../../src/sheets/jointlayout.ts';
import { divesToCome, standingOf } from '../../src/sheets/standing.ts';
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
    // The name of the job may go on in a second line.
    const named = context.title.includes(text.text.replace(/^\u200F?(?:… )?|…$/g, ''));
    const mark = named || marks.some((each) => text.text.startsWith(each));
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

/** Least distance between two segments in the plane: at an end of one of them, or none where they cross. */
function apart([a, b]: readonly [Point, Point], [c, d]: readonly [Point, Point]): number {
  const turn = (p: Point, q: Point, r: Point) => (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
  if (turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0) return 0;
  const to = (p: Point, q: Point, r: Point): number => {
    const [ux, uy] = [r.x - q.x, r.y - q.y];
    const t = Math.max(0, Math.min(1, ((p.x - q.x) * ux + (p.y - q.y) * uy) / (ux * ux + uy * uy || 1)));
    return Math.hypot(p.x - q.x - t * ux, p.y - q.y - t * uy);
  };
  return Math.min(to(a, c, d), to(b, c, d), to(c, a, b), to(d, a, b));
}

type Segment = readonly [Point, Point];

/** The way of the gas, shafts and heads, and every other line of a card; mm. */
function gasAndLines({ pages }: Drawing): { gas: Segment[]; lines: Segment[] } {
  const gas: Segment[] = [];
  const lines: Segment[] = [];
  for (const item of pages[0]?.items ?? []) {
    if (item.kind !== 'path') continue;
    const points = item.closed ? [...item.points, item.points[0] as Point] : item.points;
    const segments = points.slice(1).map((p, i): Segment => [points[i] as Point, p]);
    const grey = item.fill === GAS_GREY || (item.pen?.dash !== undefined && item.pen.grey === GAS_GREY);
    (grey ? gas : lines).push(...segments);
  }
  return { gas, lines };
}

/** The grey that nothing of a card has but the arrows of gas. */
const GAS_GREY = 0.25;
/** mm. What is seen as a gap at arm's length by a head lamp: two widths of the outline. A choice. */
const SEEN_APART = 1;

describe('the way of the gas is seen', () => {
  for (const display of ['metric', 'us'] as const) {
    test(`arrows of gas clear of every line and of the numbers: every sample, ${display}`, async () => {
      let arrows = 0;
      for (const { name, job, file } of sampleJobs()) {
        const { lift: _, ...still } = job;
        for (const context of await contextsOf(planOf({ ...still, display }, file), { fonts })) {
          const card = diveCard(context);
          const { gas, lines } = gasAndLines(card);
          arrows += gas.length;
          if (context.fitting.sequence.runs.some(({ ventS }) => ventS !== null))
            expect(gas.length, name).toBeGreaterThan(0);
          for (const arrow of gas)
            for (const line of lines) expect(apart(arrow, line), `${name} ${context.id}`).toBeGreaterThan(SEEN_APART);
          const discs = (card.pages[0]?.items ?? []).flatMap((item) => (item.kind === 'circle' ? [item] : []));
          for (const arrow of gas)
            for (const { centre, radius } of discs)
              expect(apart(arrow, [centre, centre]) - radius, `${name} ${context.id}`).toBeGreaterThan(SEEN_APART / 2);
        }
      }
      expect(arrows).toBeGreaterThan(50);
    });
  }
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

  test('a run across an end is told by that end, not by the face whose corner it begins at', async () => {
    const context = await contextOf(sampleJobs().find(({ name }) => name.startsWith('b-'))?.job);
    expect(context.fitting.sequence.runs[0]?.side).toBe('end-');
    expect(strikeLines(context)[0]).toBe('STRIKE FIRST: run 1, KEEL end, AFT corner, go FWD.');
    expect(strikeLines(context)[1]).toMatch(/^CLOSE LAST: run 8, OUTB’D end, (FWD|AFT) corner\.$/);
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

/** The plain lug with bottom time, and ends of dives on its root. The faces of its foot are 300 mm long. */
const stoppedJob = (stopped?: readonly unknown[]) =>
  wedgeJob(0.3, { fitting: stopped === undefined ? {} : { stopped }, job: { welding: { bottomTime: '60 min' } } });

describe('where earlier dives ended', () => {
  test('nothing done: the first dive of the plan, and the electrodes of this dive alone', async () => {
    const context = await contextOf(stoppedJob());
    const standing = standingOf(context.fitting);
    expect(standing).toEqual({ kind: 'none' });
    const { schedule, work, totals } = context.fitting.weld;
    expect(divesToCome(context.fitting, standing)).toBe(schedule);
    if (schedule?.kind !== 'planned') throw new Error('no dives');
    const numbers = new Set(schedule.dives[0]?.pieces.map((piece) => piece.no));
    // Every piece of this first dive is a whole item here: the sum in the plainest way.
    expect(schedule.dives[0]?.pieces.every((piece) => piece.fromShare === 0 && piece.finishes)).toBe(true);
    const rods = Math.ceil(work.reduce((sum, item) => sum + (numbers.has(item.no) ? item.electrodes : 0), 0));
    expect(nextDive(context, standing)?.rods).toBe(rods);
    expect(rods).toBeLessThan(totals.electrodes / 2);
    expect(words(diveCard(context))).toContain(`take nickel ${rods}×2.4`);
    expect(words(diveCard(context))).not.toContain('DONE,');
  });

  test('a run left in the middle: what is done, where to grind and go on, the dives that are left', async () => {
    const plain = await contextOf(stoppedJob());
    const { runs } = plain.fitting.sequence;
    // The faces are welded in two runs of 150 mm each, the keel side first.
    const second = runs[1];
    if (second === undefined) throw new Error('no second run');
    const s = second.fromS + 0.4 * (second.toS - second.fromS);
    const context = await contextOf(stoppedJob([{ run: second.run, s: `${s} mm`, dive: 4, order: orderMark(runs) }]));
    const standing = standingOf(context.fitting);
    if (standing.kind !== 'stands') throw new Error(standing.kind);
    expect(standing.done).toBe(1);
    expect(standing.partTo).toBeCloseTo(s, 6);
    const item = context.fitting.weld.work[standing.progress.index];
    expect(item).toMatchObject({ task: 'run', layer: 1 });
    expect(standing.progress.share).toBeCloseTo(0.4, 6);
    const lines = strikeLines(context);
    expect(lines[0]).toBe('DONE, black bar: run 1 and part of 2.');
    expect(lines[1]).toMatch(/^GRIND THE STOP, GO ON: run 2, KEEL side, \d+ mm from AFT corner, go (FWD|AFT)\.$/);
    // 150 mm and 60 of the next, told from the aft corner whichever way they go.
    const along = Number(/(\d+) mm from/.exec(lines[1] as string)?.[1]);
    expect(along).toBe(lines[1]?.endsWith('FWD.') ? 210 : 90);
    const schedule = divesToCome(context.fitting, standing);
    if (schedule?.kind !== 'planned') throw new Error('no dives');
    expect(schedule.dives[0]?.dive).toBe(5);
    expect(lines.at(-1)).toMatch(/^DIVE 5 of \d+: runs 2–/);
    // Nothing welded twice, nothing left out: shares of what is left of every item add up to all but what is done.
    const left = new Map<number, number>();
    for (const dive of schedule.dives)
      for (const { piece } of partsOf(context, dive))
        left.set(piece.no, (left.get(piece.no) ?? 0) + piece.toShare - piece.fromShare);
    context.fitting.weld.work.forEach(({ no }, index) => {
      const expected = index < standing.progress.index ? 0 : index === standing.progress.index ? 0.6 : 1;
      expect(left.get(no) ?? 0).toBeCloseTo(expected, 6);
    });
    const texts = diveList(context)
      .pages.flatMap((page) => page.items)
      .filter((each): each is TextItem => each.kind === 'text');
    const all = texts.map(({ text }) => text).join(' ');
    expect(all).toContain('Dive 4 has ended: of the root run 1 and run 2 as far as keel side');
    // Fit-up and the first run; hold points and heads of the table are set bold.
    const marks = texts.map(({ text }) => text).filter((text) => text === 'done' || text === 'in part');
    const heads = texts.filter(({ text, bold }) => text === 'done' && bold).length;
    expect(standing.progress.index).toBe(2);
    expect(marks.filter((text) => text === 'in part').length).toBe(1);
    expect(marks.filter((text) => text === 'done').length).toBe(
      2 + texts.filter(({ text }) => text === 'min').length - 1,
    );
    expect(heads).toBeGreaterThan(0);
  });

  test('the black bars of the picture are as long as what is welded', async () => {
    const plain = await contextOf(stoppedJob());
    const [first, second] = plain.fitting.sequence.runs;
    if (first === undefined || second === undefined) throw new Error('no runs');
    const s = second.fromS + 0.5 * (second.toS - second.fromS);
    const context = await contextOf(stoppedJob([{ run: second.run, s: `${s} mm` }]));
    const bars = (card: Drawing) =>
      (card.pages[0]?.items ?? []).flatMap((item) =>
        item.kind === 'path' && item.pen !== undefined && item.pen.width > 2.5 ? [item.points] : [],
      );
    expect(bars(diveCard(plain))).toEqual([]);
    const [whole, part] = bars(diveCard(context)).map(([p, q]) =>
      p === undefined || q === undefined ? 0 : Math.hypot(p.x - q.x, p.y - q.y),
    );
    // Runs of one length; a bar begins, and that of a whole run ends, 3 of 100 short of its run.
    expect((part as number) / (whole as number)).toBeCloseTo((0.5 - 0.03) / (1 - 0.06), 3);
  });

  test('the end of a run is no stop to grind; a closed root is not struck again', async () => {
    const { runs } = (await contextOf(stoppedJob())).fitting.sequence;
    const [first, last] = [runs[0], runs.at(-1)];
    if (first === undefined || last === undefined) throw new Error('no runs');
    const one = strikeLines(await contextOf(stoppedJob([{ run: first.run, s: `${first.toS} mm` }])));
    expect(one[0]).toBe('DONE, black bar: run 1.');
    expect(one[1]).toMatch(/^STRIKE NEXT: run 2, /);
    const all = strikeLines(await contextOf(stoppedJob([{ run: last.run, s: `${last.toS} mm` }])));
    expect(all[0]).toMatch(/ROOT IS CLOSED: HOLD POINT root/);
    expect(all.join(' ')).not.toMatch(/STRIKE|CLOSE LAST/);
  });

  test('an end on another order of runs says nothing of what is done, and says so', async () => {
    const context = await contextOf(stoppedJob([{ run: 2, s: '150 mm', order: '00000000' }]));
    expect(standingOf(context.fitting).kind).toBe('void');
    expect(strikeLines(context)[0]).toMatch(/STRIKE NOTHING/);
    expect(words(diveCard(context))).not.toContain('STRIKE FIRST');
    const list = diveList(context).pages.flatMap((page) => page.items);
    const text = list.flatMap((item) => (item.kind === 'text' ? [item.text] : [])).join(' ');
    expect(text).toContain('BELONGS TO ANOTHER ORDER');
  });

  test('the mark of an order is 32-bit FNV-1a as published: of none its offset basis, of one run worked out apart', () => {
    expect(orderMark([{ run: 1, fromS: 0, toS: 100 }])).toBe('ceff4a57');
    expect(orderMark([])).toBe('811c9dc5');
  });

  test('every sample with its root half done can be read', async () => {
    for (const { job, file } of sampleJobs()) {
      const { lift: _, ...still } = job;
      for (const display of ['metric', 'us'] as const) {
        const plan = planOf({ ...still, display }, file);
        const half = structuredClone(still);
        plan.fittings.forEach(({ sequence }, i) => {
          const run = sequence.runs[Math.floor(sequence.runs.length / 2)];
          if (run === undefined) throw new Error('no runs');
          half.fittings[i].stopped = [{ run: run.run, s: `${(run.fromS + 2 * run.toS) / 3} mm` }];
        });
        for (const paper of ['a4', 'letter'] as const) {
          for (const context of await contextsOf(planOf({ ...half, display }, file), { fonts, paper }))
            expect([context.title, faults(context, diveCard(context))]).toEqual([context.title, []]);
        }
      }
    }
  }, 60_000);
});

test('letters that the face lacks are explained where they occur, and only there', async () => {
  const line = '[U+…]: letters that cannot be printed here.';
  const strange = await contextOf(wedgeJob(0.3, { fitting: { id: '船-1' } }));
  expect(words(diveCard(strange))).toContain(line);
  // The whole name, smaller rather than cut.
  expect(words(diveCard(strange))).toContain('船-1');
  expect(faults(strange, diveCard(strange))).toEqual([]);
  expect(words(diveCard(await contextOf(wedgeJob(0.3))))).not.toContain(line);
});

test('the dive list gives the place from frame, longitudinal, seam and keel, in type of 8 pt or more', async () => {
  const job = stoppedJob();
  job.ship.structure = {
    frames: [{ name: '16', station: '9.76 m' }],
    longitudinals: [{ name: 'L4', girth: '1.85 m' }],
    seams: [{ name: 'D-E', from: { station: '8 m', girth: '2.3 m' }, to: { station: '12 m', girth: '2.3 m' } }],
  };
  const items = diveList(await contextOf(job)).pages.flatMap((page) => page.items);
  const texts = items.filter((item): item is TextItem => item.kind === 'text');
  const all = texts.map((item) => item.text).join(' ');
  for (const part of [
    'port, 10.000 m forward of the aft perpendicular',
    '150.0 mm outboard of longitudinal L4',
    '300.0 mm inboard of seam D-E',
    '2000.0 mm round from the keel',
    '240.0 mm forward of 16',
  ])
    expect(all).toContain(part);
  expect(Math.min(...texts.map((item) => item.size))).toBeGreaterThanOrEqual(8);
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
