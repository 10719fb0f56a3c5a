import { PDFDocument } from 'pdf-lib';
import { describe, expect, test } from 'vitest';
import { dot, length, type Vec3 } from '../../geometry/math/vec.ts';
import type { LiftPlan } from '../../src/plan/movement/types.ts';
import type { Plan } from '../../src/plan/types.ts';
import { placeOf } from '../../src/rigging/pose.ts';
import { balanceAt } from '../../src/sheets/calculation-balance.ts';
import { type Context, contextsOf } from '../../src/sheets/context.ts';
import { type CircleItem, flattened, type Page, type PathItem, type TextItem } from '../../src/sheets/drawing.ts';
import { textBox } from '../../src/sheets/fonts.ts';
import { writeSheets } from '../../src/sheets/index.ts';
import { greatestOf } from '../../src/sheets/liftchart.ts';
import { liftingPlan } from '../../src/sheets/liftingplan.ts';
import { hullOf, keySteps, liftViews } from '../../src/sheets/liftscene.ts';
import { lifts, twoLines } from './liftjobs.ts';
import { fonts, HOSTILE_ID, planOf, sampleJobs } from './plans.ts';
import { strokedLines } from './readback.ts';

interface Lifted {
  readonly name: string;
  readonly plan: Plan;
  readonly lift: LiftPlan;
}

const lifted = (name: string, plan: Plan): Lifted[] => (plan.lift === null ? [] : [{ name, plan, lift: plan.lift }]);

const known = new Map<string, Lifted[]>();

/** Samples with a movement and the kinds made for the purpose; planned once. */
function everyLift(display: 'metric' | 'us'): Lifted[] {
  const found = known.get(display) ?? [
    ...sampleJobs()
      .filter(({ job }) => job.lift !== undefined)
      .flatMap(({ name, job, file }) => lifted(name, planOf({ ...job, display }, file))),
    ...lifts(display).flatMap(({ name, job }) => lifted(name, planOf(job))),
  ];
  known.set(display, found);
  return found;
}

const contextOf = async (plan: Plan): Promise<Context> => (await contextsOf(plan, { fonts }))[0] as Context;

interface Picture {
  readonly step: number;
  readonly lines: readonly PathItem[];
  readonly pins: readonly CircleItem[];
  readonly ends: readonly CircleItem[];
  readonly centre: CircleItem | undefined;
  readonly words: readonly TextItem[];
  readonly frame: { x0: number; y0: number; x1: number; y1: number };
}

/** The pictures of a page from its items: by the frames round them, with the caption of the step above each pair. */
function picturesOf(page: Page): Picture[] {
  const items = flattened(page.items);
  const captions = items.filter(
    (item): item is TextItem => item.kind === 'text' && /^Step \d+ of \d+: /.test(item.text),
  );
  return items
    .filter((item): item is PathItem => item.kind === 'path' && item.layer === 'FRAME')
    .map((frame) => {
      const xs = frame.points.map((p) => p.x);
      const ys = frame.points.map((p) => p.y);
      const box = { x0: Math.min(...xs), y0: Math.min(...ys), x1: Math.max(...xs), y1: Math.max(...ys) };
      const within = (p: { x: number; y: number } | undefined): boolean =>
        p !== undefined && p.x >= box.x0 - 1e-6 && p.x <= box.x1 + 1e-6 && p.y >= box.y0 - 1e-6 && p.y <= box.y1 + 1e-6;
      const caption = captions.filter((item) => item.at.y > box.y1).toSorted((p, q) => p.at.y - q.at.y)[0];
      const circles = (layer: string) =>
        items.filter(
          (item): item is CircleItem => item.kind === 'circle' && item.layer === layer && within(item.centre),
        );
      return {
        step: Number(/\d+/.exec(caption?.text ?? '')?.[0]) - 1,
        lines: items.filter((i): i is PathItem => i.kind === 'path' && i.layer === 'LINES' && within(i.points[0])),
        pins: circles('PINS'),
        ends: circles('LINE ENDS'),
        centre: circles('CG')[0],
        words: items.filter((item): item is TextItem => item.kind === 'text' && within(item.at)),
        frame: box,
      };
    });
}

const scaleOf = (pages: readonly Page[]): number => {
  const words = pages
    .flatMap((page) => flattened(page.items))
    .flatMap((item) => (item.kind === 'text' ? [item.text] : []));
  return Number(/All at 1 : (\d+)/.exec(words.join(' '))?.[1]);
};

/** mm over which two straight lines cover one another: within 0.3 mm and less than 10 degrees apart; 0 where nowhere. */
function shared(one: readonly { x: number; y: number }[], two: readonly { x: number; y: number }[]): number {
  const [[a, b], [p, q]] = [one, two] as unknown as [typeof one, typeof two];
  if (a === undefined || b === undefined || p === undefined || q === undefined) return 0;
  const long = Math.hypot(b.x - a.x, b.y - a.y);
  if (long === 0) return 0;
  const [u, v] = [(b.x - a.x) / long, (b.y - a.y) / long];
  const along = (at: { x: number; y: number }): number => (at.x - a.x) * u + (at.y - a.y) * v;
  const off = (at: { x: number; y: number }): number => (at.y - a.y) * u - (at.x - a.x) * v;
  const sine = Math.abs(off(q) - off(p)) / Math.max(Math.hypot(q.x - p.x, q.y - p.y), 1e-9);
  if (sine > Math.sin(Math.PI / 18) || Math.abs(off(p) + off(q)) / 2 > 0.3) return 0;
  return Math.max(0, Math.min(long, Math.max(along(p), along(q))) - Math.max(0, Math.min(along(p), along(q))));
}

describe('the lift to scale', () => {
  test('every line runs from its pin to where the load is at that step, every distance true to the scale that is printed', async () => {
    for (const { name, plan, lift } of everyLift('metric')) {
      const { pages } = liftingPlan(await contextOf(plan));
      const scale = scaleOf(pages);
      const pictures = pages.flatMap(picturesOf);
      // Two views of each step that is worth one.
      expect(pictures.map(({ step }) => step)).toEqual(keySteps(lift).flatMap(({ step }) => [step, step]));
      pictures.forEach((picture, k) => {
        const view = liftViews(plan.up)[k % 2] as ReturnType<typeof liftViews>[0];
        const state = lift.states[picture.step] as LiftPlan['states'][number];
        if (!state.rest.found) throw new Error(`${name}: not at rest`);
        const { pose } = state.rest.equilibrium;
        const g = picture.centre?.centre ?? { x: Number.NaN, y: Number.NaN };
        // Offsets from the centre of gravity: drawn by hand from the plan's pose, no code of the drawing.
        const off = (p: Vec3) => ({
          x: (dot(p, view.right) - dot(pose.centre, view.right)) / scale,
          y: (dot(p, view.up) - dot(pose.centre, view.up)) / scale,
        });
        const on = lift.lines.filter((_, i) => Number.isFinite(state.lengths[i]));
        expect(picture.pins.length, name).toBe(on.length);
        on.forEach((line, i) => {
          const pin = off(line.pin);
          const end = off(placeOf(pose, lift.load.centre, line.attachment));
          expect((picture.pins[i]?.centre.x ?? 0) - g.x).toBeCloseTo(pin.x, 6);
          expect((picture.pins[i]?.centre.y ?? 0) - g.y).toBeCloseTo(pin.y, 6);
          expect((picture.ends[i]?.centre.x ?? 0) - g.x).toBeCloseTo(end.x, 6);
          expect((picture.ends[i]?.centre.y ?? 0) - g.y).toBeCloseTo(end.y, 6);
        });
        // Slack lines are dashed, taut ones are not.
        picture.lines.forEach((drawn) => {
          const index = lift.lines.findIndex((line) => {
            const pin = off(line.pin);
            const [p] = drawn.points;
            return p !== undefined && Math.hypot(p.x - g.x - pin.x, p.y - g.y - pin.y) < 1e-6;
          });
          const tension = state.rest.found ? (state.rest.equilibrium.lines[index]?.tension ?? 0) : 0;
          expect(drawn.pen?.dash === undefined, name).toBe(tension > 0);
        });
      });
    }
  });

  test('a plumb line of two alike is drawn plumb, as long as it is: pin 200 mm under the bottom, end 1 m under it (closed form)', async () => {
    const plan = planOf(twoLines('metric'));
    const { pages } = liftingPlan(await contextOf(plan));
    const scale = scaleOf(pages);
    const first = pages.flatMap(picturesOf)[1] as Picture;
    // Load drawn with its ends at z = -1000 mm and brought to where it is drawn: 800 mm of line from the pin at z = -200 mm.
    const [p, q] = first.lines.map((line) => line.points);
    for (const line of [p, q]) {
      const [from, to] = [line?.[0], line?.[1]];
      expect((from?.x ?? 0) - (to?.x ?? 9)).toBeCloseTo(0, 6);
      expect(((from?.y ?? 0) - (to?.y ?? 9)) * scale).toBeCloseTo(800, 0);
    }
    // Port pin on the left from aft, as far from the starboard one as the lugs are apart: 2 m each way along a flat bottom.
    expect(((q?.[0]?.x ?? 0) - (p?.[0]?.x ?? 0)) * scale).toBeCloseTo(4000, 0);
  });

  test('the scale bar in the file is as long as it says, at the scale that is printed, in metres and in feet', async () => {
    for (const [display, unit] of [
      ['metric', 1000],
      ['us', 304.8],
    ] as const) {
      const plan = planOf(twoLines(display));
      const { pages } = liftingPlan(await contextOf(plan));
      const scale = scaleOf(pages);
      const words = pages.flatMap((page) => flattened(page.items)).flatMap((i) => (i.kind === 'text' ? [i.text] : []));
      const said = words.map((word) => /^(\d+|\d\.\d) (m|ft)$/.exec(word)).find((match) => match !== null);
      expect(said?.[2]).toBe(display === 'us' ? 'ft' : 'm');
      const long = (Number(said?.[1]) * unit) / scale;
      const [file] = (await writeSheets(plan, { fonts })).filter((each) => each.name === 'lifting-plan.pdf');
      const pdf = await PDFDocument.load(file?.bytes ?? new Uint8Array());
      const level = pdf
        .getPages()
        .flatMap((page) =>
          strokedLines(page).filter(
            (line) => Math.abs(line.y0 - line.y1) < 1e-6 && Math.abs(line.length - long) < 0.01,
          ),
        );
      // One in each view of each step.
      const bars = pages.flatMap(picturesOf).length;
      expect(level.length).toBeGreaterThanOrEqual(bars);
    }
  });

  test('no word lies over another or out of its frame, and every line that is on has its pull beside it', async () => {
    for (const display of ['metric', 'us'] as const) {
      for (const { name, plan, lift } of everyLift(display)) {
        const context = await contextOf(plan);
        const { pages } = liftingPlan(context);
        const all = pages.flatMap((page) => flattened(page.items)).flatMap((i) => (i.kind === 'text' ? [i.text] : []));
        expect(/Without room in the picture.{60}/.exec(all.join(' '))?.[0], name).toBeUndefined();
        for (const { step, words, frame } of pages.flatMap(picturesOf)) {
          const boxes = words.map((word) => textBox(context.fonts, word));
          boxes.forEach((box, i) => {
            const text = `${name}, step ${step + 1}, ${words[i]?.text}`;
            expect(
              box.x0 >= frame.x0 && box.x1 <= frame.x1 && box.y0 >= frame.y0 - 0.1 && box.y1 <= frame.y1,
              text,
            ).toBe(true);
            expect(words[i]?.size, text).toBeGreaterThanOrEqual(8);
            for (const other of boxes.slice(i + 1)) {
              const over = box.x0 < other.x1 && other.x0 < box.x1 && box.y0 < other.y1 && other.y0 < box.y1;
              expect(over, text).toBe(false);
            }
          });
          const state = lift.states[step] as LiftPlan['states'][number];
          lift.lines.forEach((line, k) => {
            const beside = words.filter((word) => word.text.startsWith(`${line.id} `)).length;
            expect(beside, name).toBe(Number.isFinite(state.lengths[k]) ? 1 : 0);
          });
        }
      }
    }
  });

  test('names that are long or read from the right leave the picture whole', async () => {
    const job = twoLines('metric');
    const old = job.fittings[0].id;
    job.fittings[0].id = HOSTILE_ID;
    for (const line of job.lift.lines) if (line.fitting === old) line.fitting = HOSTILE_ID;
    job.lift.lines[0].id = 'port hoist on the after towing post 12 t';
    job.lift.steps[0].name = 'take the weight, slowly, '.repeat(2);
    const context = await contextOf(planOf(job));
    for (const page of liftingPlan(context).pages) {
      for (const item of flattened(page.items)) {
        if (item.kind !== 'text') continue;
        const box = textBox(context.fonts, item);
        expect(box.x0 >= 0 && box.x1 <= page.width, item.text).toBe(true);
      }
    }
  });

  test('the steps that are drawn: first, last, hardest pull, worst across, first that cannot be done', () => {
    for (const { name, lift } of everyLift('metric')) {
      const key = keySteps(lift);
      const kinds = key.flatMap(({ why }) => why.map(({ kind }) => kind));
      expect(key[0]?.step, name).toBe(0);
      expect(key.at(-1)?.step, name).toBe(lift.states.length - 1);
      expect(new Set(key.map(({ step }) => step)).size).toBe(key.length);
      expect(kinds.includes('fails')).toBe(lift.states.some((state) => state.failures.length > 0));
      const most = Math.max(...lift.cases.flatMap(({ equilibrium }) => equilibrium.lines.map((line) => line.tension)));
      for (const { step, why } of key) {
        for (const reason of why) {
          if (reason.kind !== 'pull') continue;
          expect(reason.newton).toBeCloseTo(most, 0);
          // Named at the step at which the table of lines names it.
          expect(lift.lines[reason.line]?.greatest?.state).toBe(reason.at);
          const there = lift.cases.filter(({ state }) => state === step);
          expect(
            Math.max(...there.map(({ equilibrium }) => equilibrium.lines[reason.line]?.tension ?? 0)),
          ).toBeGreaterThanOrEqual(0.99 * most);
        }
      }
    }
  });

  test('every line that pulls anywhere at rest pulls in a picture and is named there', async () => {
    for (const { name, plan, lift } of everyLift('us')) {
      const pictures = liftingPlan(await contextOf(plan)).pages.flatMap(picturesOf);
      const pulls = (step: number, k: number): boolean => {
        const rest = lift.states[step]?.rest;
        return (
          rest?.found === true &&
          Number.isFinite(lift.states[step]?.lengths[k]) &&
          (rest.equilibrium.lines[k]?.tension ?? 0) > 0
        );
      };
      lift.lines.forEach(({ id }, k) => {
        if (!lift.states.some((_, step) => pulls(step, k))) return;
        const named = pictures.filter(
          ({ step, words }) => pulls(step, k) && words.some(({ text }) => text.startsWith(`${id} `)),
        );
        expect(named.length, `${name}, ${id}`).toBeGreaterThan(0);
      });
    }
  });

  test('no line that leads to a word lies over another such line, in any picture of any lift (plane geometry)', async () => {
    let pairs = 0;
    for (const display of ['metric', 'us'] as const) {
      for (const { name, plan } of everyLift(display)) {
        for (const page of liftingPlan(await contextOf(plan)).pages) {
          const leaders = flattened(page.items).filter(
            (item): item is PathItem => item.kind === 'path' && item.layer === 'LEADERS',
          );
          leaders.forEach((leader, i) => {
            for (const other of leaders.slice(i + 1)) {
              pairs += 1;
              expect(shared(leader.points, other.points), `${name}, ${display}`).toBeLessThan(1);
            }
          });
        }
      }
    }
    expect(pairs).toBeGreaterThan(20);
    // What is measured: collinear, side by side, square to one another, end to end.
    const line = (...xy: number[]) => [
      { x: xy[0] as number, y: xy[1] as number },
      { x: xy[2] as number, y: xy[3] as number },
    ];
    expect(shared(line(0, 0, 10, 0), line(4, 0, 20, 0))).toBeCloseTo(6, 6);
    expect(shared(line(0, 0, 10, 0), line(4, 2, 20, 2))).toBe(0);
    expect(shared(line(0, 0, 10, 0), line(5, -5, 5, 5))).toBe(0);
    expect(shared(line(0, 0, 10, 0), line(10, 0, 20, 0))).toBeCloseTo(0, 6);
  });

  test('convex hull: a square with points on its edges and inside has four corners and its area (closed form)', () => {
    const points = [0, 1, 2, 3, 4].flatMap((x) => [0, 1, 2, 3, 4].map((y) => ({ x, y })));
    const hull = hullOf(points);
    expect(hull).toHaveLength(4);
    const area = hull.reduce((sum, p, i) => {
      const q = hull[(i + 1) % 4] as { x: number; y: number };
      return sum + (p.x * q.y - q.x * p.y) / 2;
    }, 0);
    expect(area).toBeCloseTo(16, 12);
  });
});

describe('balance of the load', () => {
  test('forces and moments add up to nothing at every step (statics), pulls as the plan has them', () => {
    for (const { name, plan, lift } of everyLift('metric')) {
      lift.states.forEach((state, step) => {
        const rows = balanceAt(lift, plan.up, step);
        if (!state.rest.found) {
          expect(rows).toBeUndefined();
          return;
        }
        const sum = rows?.at(-1);
        expect(length(sum?.force ?? [1, 1, 1]), name).toBeLessThan(1e-5 * lift.net);
        expect(length(sum?.moment ?? [1, 1, 1]), name).toBeLessThan(1e-5 * lift.net * 1000);
        const [weight] = rows ?? [];
        expect(length(weight?.force ?? [0, 0, 0])).toBeCloseTo(lift.load.weight, 6);
        const taut = state.rest.equilibrium.lines.filter((line) => line.tension > 0).map((line) => line.tension);
        const lines = (rows ?? []).filter((row) => row.name.startsWith('line '));
        expect(lines.map((row) => length(row.force))).toEqual(taut.map((t) => expect.closeTo(t, 6)));
      });
    }
  });

  test('the greatest of a chart is the greatest of rest and pushes', () => {
    const series = [
      { name: 'a', values: [1, 2, null], pushed: [null, 5, null] },
      { name: 'b', values: [3, 4, 4.5] },
    ];
    expect(greatestOf({ series })).toEqual({ step: 1, value: 5 });
    // Of equal ones, to round-off, the first.
    expect(greatestOf({ series: [{ name: 'd', values: [7, 7 + 1e-7, 6] }] })?.step).toBe(0);
    expect(greatestOf({ series: [{ name: 'c', values: [null, 0] }] })).toBeUndefined();
  });
});
