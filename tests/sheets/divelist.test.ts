import { describe, expect, test } from 'vitest';
import { showFigure } from '../../src/job/show.ts';
import { planFile } from '../../src/plan/planfile.ts';
import { type Context, contextsOf } from '../../src/sheets/context.ts';
import { diveCard, strikeLines } from '../../src/sheets/divecard.ts';
import { diveList, wholeMinutes } from '../../src/sheets/divelist.ts';
import { endOf, partsOf, workList } from '../../src/sheets/dives.ts';
import { type Drawing, flattened, type TextItem } from '../../src/sheets/drawing.ts';
import { cardLength } from '../../src/sheets/figures.ts';
import { spotText } from '../../src/sheets/sides.ts';
import { divesToCome, standingOf } from '../../src/sheets/standing.ts';
import { contextOf, fonts, planOf, sampleJobs, wedgeJob } from './plans.ts';
import { textItems } from './readback.ts';

const textsOf = ({ pages }: Drawing): TextItem[] =>
  pages.flatMap((page) => textItems(page).filter(({ text }) => text !== ''));

const wordsOf = (drawing: Drawing): string =>
  textsOf(drawing)
    .map(({ text }) => text)
    .join(' ');

async function contexts(): Promise<Context[]> {
  const out: Context[] = [];
  for (const { job, file } of sampleJobs())
    for (const display of ['metric', 'us'] as const)
      out.push(...(await contextsOf(planOf({ ...job, display }, file), { fonts })));
  return out;
}

describe('dive list', () => {
  test('runs of the root bear the numbers drawn on the card and begin where those runs do; other work bears that of the plan file; holds H1, H2, H3', async () => {
    for (const context of await contexts()) {
      const { fitting, plan } = context;
      const texts = textsOf(diveList(context)).map(({ text }) => text);
      const list = texts.slice(texts.indexOf('Every run in order'));
      const listed = list.flatMap((text, i) => {
        const run = /^run (\d+)$/.exec(text)?.[1];
        return run === undefined ? [] : [{ no: list[i - 3], run: Number(run), from: list[i + 1] as string }];
      });
      const drawn = new Set(textsOf(diveCard(context)).map(({ text }) => text));
      expect(new Set(listed.map(({ run }) => run)).size).toBe(fitting.sequence.runs.length);
      for (const { run, from } of listed) {
        expect(drawn.has(String(run))).toBe(true);
        const planned = fitting.sequence.runs.find((each) => each.run === run);
        if (planned === undefined) throw new Error('no such run on the card');
        // The first words of a place: the side, which the list says without its `side` or `end`.
        const spot = spotText(fitting, planned.fromS, (mm) => cardLength(mm, plan.job.display), planned.side);
        const first = listed.findIndex((each) => each.run === run);
        if (listed[first]?.from === from) expect(from.split(/,| /)[0]).toBe(spot.split(' ')[0]);
      }
      // As in the plan file, read back.
      const written = JSON.parse(JSON.stringify(planFile(plan))).fittings.find(
        (each: { id: string }) => each.id === fitting.id,
      );
      const work: { no: number; task: string; layer?: number }[] = written.weld.work;
      const holds = work.filter(({ task }) => task === 'hold');
      expect(list.filter((text) => /^H\d+$/.test(text))).toEqual(holds.map((_, i) => `H${i + 1}`));
      const root = work.filter(({ layer }) => layer === 1);
      expect(listed.map(({ no }) => no)).toEqual(root.map(({ no }) => String(no)));
      const numbers = holds
        .map(({ no }) => no)
        .join(', ')
        .replace(/, (\d+)$/, ' and $1');
      expect(wordsOf(diveList(context))).toContain(`numbers ${numbers} are the hold points H1, H2 and H3.`);
    }
  });

  test('a run is marked F where its own side has no such bead, felt for millimetre by millimetre; no other is', async () => {
    let marked = 0;
    for (const context of await contexts()) {
      const { root, weld } = context.fitting;
      const items = textsOf(diveList(context));
      const list = items.slice(items.findIndex(({ text }) => text === 'Every run in order'));
      const column = (title: string) => list.find(({ text }) => text === title)?.at.x as number;
      const [noX, diveX, fromX, toX] = [column('No.'), column('dive'), column('from'), column('to')];
      /** The side on which a place lies, by its corners; whether it has the bead, by what is laid there. */
      const bare = (s: number, layer: number, bead: number): boolean => {
        const wrapped = ((s % root.perimeter) + root.perimeter) % root.perimeter;
        const k = [1, 2, 3, 4].findIndex((corner) => wrapped < (root.corners[corner] as number));
        const side = ['face-', 'end+', 'face+', 'end-'][k];
        const laid = weld.sides.find((each) => each.side === side)?.stack.layers[layer - 1]?.beads[bead - 1];
        return !((laid?.area ?? 0) > 0);
      };
      let from = 0;
      for (const item of weld.work) {
        if (item.task === 'hold') continue;
        const row = list.findIndex(
          ({ text, at: { x } }, i) => i >= from && text === String(item.no) && Math.abs(x - noX) < 0.01,
        );
        // Behind the number the dive; a run that one leaves off and the next goes on with bears both.
        const dives = context.fitting.weld.schedule;
        if (dives?.kind !== 'planned') throw new Error('no dives');
        const of = dives.dives.filter(({ pieces }) => pieces.some(({ no }) => no === item.no));
        expect(list[row + 1]).toMatchObject({ text: of.map(({ dive }) => dive).join(', ') });
        expect(list[row + 1]?.at.x).toBeCloseTo(diveX, 2);
        const at = row + 1;
        expect(list[at + 1]?.text).toBe(`${item.layer} ${item.kind}`);
        from = at + 1;
        // A place too long for its cell goes on in a second line.
        const next = list.findIndex(({ at: { x } }, i) => i > at + 2 && x > toX + 0.01);
        const cell = (x: number) => list.slice(at + 3, next).filter((each) => Math.abs(each.at.x - x) < 0.01);
        const texts = [[list[at + 2] as TextItem], cell(fromX), cell(toX)];
        const cells = texts.map((lines) => /(^| )F$/.test(lines.at(-1)?.text ?? ''));
        const way = Math.sign(item.toS - item.fromS);
        const long = Math.abs(item.toS - item.fromS);
        const felt = Array.from({ length: Math.floor(long) }, (_, mm) =>
          bare(item.fromS + way * (mm + 0.5), item.layer, item.bead),
        );
        expect(cells[1], `${context.id} ${item.no} from`).toBe(felt[0]);
        expect(cells[2], `${context.id} ${item.no} to`).toBe(felt.at(-1));
        if (!cells[0] && !cells[1] && !cells[2]) expect(felt.filter((each) => each).length).toBeLessThanOrEqual(1);
        if (felt.every((each) => each)) expect(item.feathered).toBeCloseTo(item.volume, 9);
        if (!felt.some((each) => each)) expect(item.feathered).toBeLessThan(1);
        if (cells.some((each) => each)) marked++;
      }
      if (marked > 0)
        expect(wordsOf(diveList(context))).toMatch(
          /F after a (place|bead’s number): there the run is on a side that lacks/,
        );
    }
    expect(marked).toBeGreaterThan(0);
  });

  test('what is to be ground where the lug stands goes down with the list, told from a corner; of no other lug', async () => {
    let told = 0;
    for (const context of await contexts()) {
      const { asBuilt } = context.fitting;
      const text = wordsOf(diveList(context));
      expect(text.includes('As built: before an arc is struck')).toBe((asBuilt?.orders.length ?? 0) > 0);
      const us = context.plan.job.display === 'us';
      const said = [...text.matchAll(/Grind (\S+) .*? off the foot on the .+?, (\S+) (\S+ in|mm) from \w+ corner/g)];
      const ordered = (asBuilt?.orders ?? []).filter((order) => order[0] === 'Grind ');
      expect(said.length).toBe(ordered.length);
      said.forEach(([, off = '', whole = '', rest = ''], k) => {
        const [grind = 0, s = 0] = (ordered[k] ?? []).flatMap((part) =>
          typeof part === 'object' && 'mm' in part ? [part.mm] : [],
        );
        expect(Math.abs(Number(off) * (us ? 25.4 : 1) - grind)).toBeLessThan(0.051);
        // Along the root from one corner on, or up to one.
        const [over = '0', under = '1'] = us ? rest.replace(' in', '').split('/') : ['0'];
        const way = us ? (Number(whole) + Number(over) / Number(under)) * 25.4 : Number(whole);
        const { corners } = context.fitting.root;
        expect(Math.min(...corners.map((corner) => Math.abs(Math.abs(corner - s) - way)))).toBeLessThan(0.6);
        told++;
      });
    }
    expect(told).toBeGreaterThan(0);
  });

  test('runs said of the dives add up to all runs of the weld, and each dive ends where its last piece does', async () => {
    for (const context of await contexts()) {
      const schedule = divesToCome(context.fitting, standingOf(context.fitting));
      if (schedule?.kind !== 'planned') continue;
      const text = wordsOf(diveList(context));
      let runs = 0;
      for (const dive of schedule.dives) {
        const parts = partsOf(context, dive);
        const said = workList(context, parts);
        expect(said).not.toContain('in part');
        for (const [, low, high] of said.matchAll(/root runs? (\d+)(?: to (\d+))?/g))
          runs += Number(high ?? low) - Number(low) + 1;
        for (const [, count] of said.matchAll(/bead \d+, (\d+) runs?/g)) runs += Number(count);
        // No bead stands without how many of its runs.
        expect(said.match(/bead \d+(?!, \d+ runs?)/)).toBe(null);
        expect(text).toContain(said);
        const last = parts.at(-1);
        if (last === undefined) throw new Error('an empty dive');
        const end = endOf(context, last.item, last.piece);
        expect(text).toContain(end);
        if (last.item.task === 'hold') expect(end).toMatch(/^at the hold: (fit-up|root|finished weld)$/);
      }
      expect(runs).toBe(context.fitting.weld.work.filter(({ task }) => task !== 'hold').length);
    }
  });

  test('minutes of the dives in whole ones add up to the bottom time that the work and what each dive loses take', async () => {
    for (const context of await contexts()) {
      const { weld } = context.fitting;
      const schedule = divesToCome(context.fitting, standingOf(context.fitting));
      if (schedule?.kind !== 'planned') continue;
      const { dives, terms } = schedule;
      const listed = wholeMinutes(dives.map(({ minutes }) => minutes));
      listed.forEach((whole, i) => {
        expect(Math.abs(whole - (dives[i]?.minutes ?? 0))).toBeLessThan(1 + 1e-9);
        expect(whole).toBeLessThanOrEqual(Math.ceil(terms.bottomTime));
      });
      const sum = listed.reduce((total, each) => total + each, 0);
      // From the work itself, not from the dives: every item's minutes, what a dive loses, and a stop ground where an item is taken up again.
      const again = dives.flatMap(({ pieces }) => pieces).filter(({ fromShare }) => fromShare > 0).length;
      const work = weld.work.reduce((total, { minutes }) => total + minutes, 0);
      if (standingOf(context.fitting).kind === 'none')
        expect(Math.abs(sum - work - dives.length * terms.overhead - again * terms.restart)).toBeLessThan(0.5 + 1e-6);
      expect(wordsOf(diveList(context))).toContain(
        `is not work; all together ${showFigure({ minutes: sum }, context.plan.job.display)}.`,
      );
    }
  });

  test('a run taken up again is said to be done in part', async () => {
    const job = (stopped?: unknown) =>
      wedgeJob(0.3, {
        fitting: stopped === undefined ? {} : { stopped: [stopped] },
        job: { welding: { bottomTime: '60 min' } },
      });
    const run = (await contextOf(job())).fitting.sequence.runs[1];
    if (run === undefined) throw new Error('no second run');
    const half = await contextOf(job({ run: run.run, s: `${(run.fromS + run.toS) / 2} mm`, dive: 1 }));
    const schedule = divesToCome(half.fitting, standingOf(half.fitting));
    if (schedule?.kind !== 'planned' || schedule.dives[0] === undefined) throw new Error('no dives');
    expect(workList(half, partsOf(half, schedule.dives[0]))).toMatch(/^root runs 2 to \d+, the first in part/);
  });

  test('a hold between runs of a dive stands in the line that the card has of it, where it comes', async () => {
    let seen = 0;
    for (const context of await contexts()) {
      const standing = standingOf(context.fitting);
      const schedule = divesToCome(context.fitting, standing);
      if (schedule?.kind !== 'planned' || standing.kind === 'void') continue;
      const items = partsOf(context, schedule.dives[0] as (typeof schedule.dives)[number]).map(({ item }) => item);
      const at = items.findIndex((item, i) => item.task === 'hold' && i > 0 && i < items.length - 1);
      const hold = items[at];
      if (hold?.task !== 'hold') continue;
      const line = strikeLines(context).at(-1) ?? '';
      expect(line).toMatch(new RegExp(`^DIVE \\d+ of \\d+: runs? [\\d–]+, HOLD ${hold.hold}, layers? `));
      seen += 1;
    }
    expect(seen).toBeGreaterThan(0);
  });

  test('beside a line of the ship on a steep side the place is up or down from it, under the bottom inboard or outboard of it', async () => {
    const said = async (deadrise: number, girth: string, display: 'metric' | 'us') => {
      const job = wedgeJob(deadrise, { job: { display } });
      job.ship.structure = { longitudinals: [{ name: 'L4', girth }] };
      return wordsOf(diveList(await contextOf(job)));
    };
    // The place is 2 m round from the keel; on a side that stands at 69 deg the girth goes up.
    expect(await said(1.2, '1.9 m', 'metric')).toContain('100.0 mm up from longitudinal L4');
    expect(await said(1.2, '2.1 m', 'metric')).toContain('100.0 mm down from longitudinal L4');
    expect(await said(0.2, '1.9 m', 'metric')).toContain('100.0 mm outboard of longitudinal L4');
    expect(await said(0.2, '2.1 m', 'metric')).toContain('100.0 mm inboard of longitudinal L4');
    // 100 mm is 3.937 in: 3 15/16 on the tape; 2 mm is 0.0787 in: 3/32, no thousandths under water.
    expect(await said(1.2, '2.1 m', 'us')).toContain('3 15/16 in down from longitudinal L4');
    expect(await said(1.2, '1.998 m', 'us')).toContain('3/32 in up from longitudinal L4');
  });

  test('a list does not end on a page with a row or two', async () => {
    for (const context of await contexts()) {
      const { pages } = diveList(context);
      const last = pages.at(-1);
      const rows = new Set(
        flattened(last?.items ?? []).flatMap((item) => (item.kind === 'text' ? [Math.round(item.at.y)] : [])),
      );
      // Head, foot and the head of the table take six.
      expect([context.title, rows.size > 10]).toEqual([context.title, true]);
    }
  });
});
