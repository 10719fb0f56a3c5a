import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Behind, behindPlating, framesAbout, nearestFrame } from '../../src/sheets/behind.ts';
import type { Context } from '../../src/sheets/context.ts';
import { flatFoot, flatSpot } from '../../src/sheets/flatten.ts';
import { markoutDxf, markoutSheet } from '../../src/sheets/markout.ts';
import { markoutItems } from '../../src/sheets/markout-drawing.ts';
import { band, clearance, clipped, inside, within } from '../../src/sheets/planar.ts';
import { record } from '../../src/sheets/record.ts';
import { arcJob, contextOf, HOSTILE_ID, wedgeJob } from './plans.ts';
import { polylinesOn, readDxf, wordsOf } from './readback.ts';

// biome-ignore lint/suspicious/noExplicitAny: a test takes files apart at will
type Loose = any;

/** A square lug of 300 by 30 at station 10 m, girth 1000 mm, of a bottom that unrolls without stretch. */
function withStructure(structure: Loose, side: 'port' | 'starboard' = 'port', more: Loose = {}): Loose {
  const job = arcJob(1500, side, { stem: 'normal', ...more });
  job.ship.structure = structure;
  return job;
}

/** Outlines as plain rectangles: what is expected can be worked out by hand. */
const rectangle = (x: number, y: number) => [
  { x: -x, y: -y },
  { x, y: -y },
  { x, y },
  { x: -x, y },
];
const OUTLINES = { footprint: rectangle(150, 15), toes: rectangle(165, 30), clean: rectangle(215, 80) };

async function found(structure: Loose, side: 'port' | 'starboard' = 'port'): Promise<Behind[]> {
  const { plan, fitting } = await contextOf(withStructure(structure, side));
  return behindPlating(plan, fitting, flatFoot(plan, fitting), OUTLINES);
}

describe('on a cylinder everything lies on the flat as given: along is station, round is girth', () => {
  test('frames, longitudinals, seams and zones, with their distance from rectangles (by hand)', async () => {
    const list = await found({
      frames: [
        { name: 'frame 12', station: '9.76 m' },
        { name: 'frame 13', station: '10.36 m' },
      ],
      longitudinals: [
        { name: 'L4', girth: '1100 mm' },
        { name: 'L5', girth: '1010 mm', from: '10.2 m', to: '12 m' },
        { name: 'other side', girth: '1000 mm', side: 'starboard' },
      ],
      // Rises by 100 mm of girth over 1 m of length, through a place 60 mm inboard of O.
      seams: [{ name: 'C', from: { station: '9 m', girth: '840 mm' }, to: { station: '11 m', girth: '1040 mm' } }],
      keepClear: [
        { name: 'sea chest', from: { station: '10 m', girth: '700 mm' }, radius: '200 mm' },
        {
          name: 'pipe',
          from: { station: '10.3 m', girth: '500 mm' },
          to: { station: '10.3 m', girth: '1400 mm' },
          radius: '150 mm',
        },
      ],
    });
    const of = (name: string) => list.find((each) => each.name === name);
    expect(list.map(({ name }) => name)).not.toContain('other side');
    expect(of('frame 12')).toMatchObject({ kind: 'frame', crosses: null });
    expect(of('frame 12')?.along).toBeCloseTo(-240, 6);
    expect(of('frame 12')?.clear).toBeCloseTo(240 - 165, 6);
    expect(of('frame 13')?.along).toBeCloseTo(360, 6);
    expect(of('L4')?.round).toBeCloseTo(100, 6);
    expect(of('L4')?.clear).toBeCloseTo(70, 6);
    expect(of('L4')?.crosses).toBeNull();
    // Begins 200 mm forward of O, abreast of the foot: 35 mm clear of the toes, in the clean metal.
    expect(of('L5')?.clear).toBeCloseTo(35, 6);
    expect(of('L5')?.crosses).toBe('clean zone');
    expect(of('L5')?.round).toBeUndefined();
    const seam = of('C');
    expect(seam?.round).toBeCloseTo(-60, 6);
    // y = -60 + x / 10; the corner of the toes at (165, -30): (-60 + 16.5 + 30) below it, square to the line.
    expect(seam?.clear).toBeCloseTo(13.5 / Math.hypot(1, 0.1), 6);
    expect(seam?.crosses).toBe('clean zone');
    // A disc of 200 about a place 300 inboard: 300 - 200 - 30.
    expect(of('sea chest')?.clear).toBeCloseTo(70, 6);
    // A band of 150 either side of 300 forward: 300 - 150 - 165 = -15, into the weld but not to the foot's print at 150.
    expect(of('pipe')?.clear).toBeCloseTo(-15, 6);
    expect(of('pipe')?.crosses).toBe('footprint');
    expect(list.map(({ clear }) => clear)).toEqual(list.map(({ clear }) => clear).sort((p, q) => p - q));
  });

  test('what goes under the foot, the weld, the clean metal', async () => {
    const list = await found({
      frames: ['10.1', '10.16', '10.2', '10.25'].map((station) => ({ name: station, station: `${station} m` })),
    });
    const crosses = Object.fromEntries(list.map((each) => [each.name, each.crosses]));
    expect(crosses).toEqual({ '10.1': 'footprint', '10.16': 'weld', '10.2': 'clean zone', '10.25': null });
  });

  test('on starboard it is the mirror image', async () => {
    const structure = {
      frames: [{ name: 'f', station: '9.9 m' }],
      seams: [{ name: 's', from: { station: '9 m', girth: '840 mm' }, to: { station: '11 m', girth: '1040 mm' } }],
      keepClear: [{ name: 'k', from: { station: '10.3 m', girth: '900 mm' }, radius: '50 mm' }],
    };
    const strip = (list: readonly Behind[]) =>
      list.map(({ name, clear, along, round }) => ({ name, clear, along, round }));
    const [port, starboard] = [await found(structure), await found(structure, 'starboard')];
    strip(port).forEach((each, i) => {
      const other = strip(starboard)[i];
      expect(other?.name).toBe(each.name);
      for (const key of ['clear', 'along', 'round'] as const) {
        if (each[key] !== undefined) expect(other?.[key]).toBeCloseTo(each[key], 6);
      }
    });
  });
});

test('a tape along a hull that bends along its length is longer than the difference of stations (Pythagoras on a cone)', async () => {
  // Two sections, every point of the forward one 1 m farther out per 10 m of length: lines at constant girth are straight.
  const job = wedgeJob(0.2, { fitting: { at: { station: '10 m', side: 'port', girth: '2 m' } } });
  job.ship.hull = {
    kind: 'sections',
    sections: [
      {
        station: '0 m',
        points: [
          { y: '0 m', z: '0 m' },
          { y: '4 m', z: '0 m' },
        ],
      },
      {
        station: '20 m',
        points: [
          { y: '0 m', z: '2 m' },
          { y: '4 m', z: '2 m' },
        ],
      },
    ],
  };
  const { plan, fitting } = await contextOf(job);
  const spot = flatSpot(plan, fitting, 11_000, 2000);
  // 1000 along and 100 up.
  expect(spot?.x).toBeCloseTo(Math.hypot(1000, 100), 4);
  expect(spot?.y).toBeCloseTo(0, 9);
  expect(flatSpot(plan, fitting, 30_000, 2000)).toBeUndefined();
  expect(flatSpot(plan, fitting, 11_000, 9000)).toBeUndefined();
});

describe('the nearest frames', () => {
  const frames = (...stations: number[]) => ({
    frames: stations.map((mm) => ({ name: `frame ${mm}`, station: `${mm} mm` })),
  });
  const about = async (...stations: number[]) => {
    const { plan, fitting } = await contextOf(withStructure(frames(...stations)));
    const { abaft, fore } = framesAbout(plan, fitting);
    return { abaft: abaft?.name, fore: fore?.name, nearest: nearestFrame(plan, fitting)?.name };
  };

  test('one abaft, one forward, the nearer to lay a tape from, none that is far', async () => {
    expect(await about(9000, 9760, 10_360, 11_000)).toEqual({
      abaft: 'frame 9760',
      fore: 'frame 10360',
      nearest: 'frame 9760',
    });
    expect((await about(9000, 10_360)).nearest).toBe('frame 10360');
    expect(await about(10_000)).toMatchObject({ abaft: 'frame 10000', nearest: 'frame 10000' });
    expect(await about(12_100)).toEqual({ abaft: undefined, fore: 'frame 12100', nearest: undefined });
  });

  test('the mark-out and the record say it by name, the corners with it', async () => {
    const context = await contextOf(withStructure(frames(9760, 10_360)));
    const text = wordsOf(markoutSheet(context));
    expect(text).toContain('O is 240.0 mm forward of frame 9760, 360.0 mm abaft frame 10360');
    expect(text).toContain('from frame 9760');
    // Corners at 150 mm either way of O: 90 and 390 forward of the frame.
    for (const words of ['90.0 mm fwd', '390.0 mm fwd']) expect(text).toContain(words);
    expect(text).not.toContain('From frame no.');
    expect(text).not.toContain('frame found at');
    expect(text).toContain('longitudinal found at');
    expect(wordsOf(record(context))).toMatch(/Corner 1 forward of frame 9760, along (90|390)\.0 mm/);
    const plain = await contextOf(withStructure(undefined));
    expect(wordsOf(markoutSheet(plain))).toContain('From frame no. ____ (write in)');
    for (const blank of ['frame found at', 'longitudinal found at', 'seam or butt at']) {
      expect(wordsOf(markoutSheet(plain))).toContain(blank);
    }
    expect(wordsOf(record(plain))).toContain('Corner 1 from frame no. ____, along');
  });

  test('a job that says two things of the frame is told so', async () => {
    const text = async (fromFrame: string) =>
      wordsOf(markoutSheet(await contextOf(withStructure(frames(9760), 'port', { behind: { fromFrame } }))));
    expect(await text('120 mm')).toContain('THE JOB SAYS TWO THINGS: frame 9760 is 240.0 mm abaft O');
    expect(await text('250 mm')).not.toContain('TWO THINGS');
  });
});

describe('the mark-out says and draws what is in the way', () => {
  const structure = {
    seams: [{ name: 'C', from: { station: '9 m', girth: '990 mm' }, to: { station: '11 m', girth: '1010 mm' } }],
    keepClear: [
      { name: 'sea chest', from: { station: '10.3 m', girth: '1000 mm' }, radius: '160 mm' },
      { name: 'anode', from: { station: '9 m', girth: '1000 mm' }, radius: '100 mm' },
    ],
    longitudinals: [{ name: 'L4', girth: '1060 mm' }],
  };

  test('in words: seam and zone in the way, in capitals; what is clear with its distance', async () => {
    const text = wordsOf(markoutSheet(await contextOf(withStructure(structure))));
    expect(text).toContain('IN THE WAY: sea chest, seam C.');
    expect(text).toContain('CROSSES THE FOOTPRINT');
    expect(text).toContain('keep clear of anode, 100.0 mm about it');
    expect(text).toMatch(/longitudinal L4 60\.0 mm out/);
    const clear = wordsOf(
      markoutSheet(
        await contextOf(
          withStructure({
            seams: [
              {
                ...structure.seams[0],
                from: { station: '1 m', girth: '100 mm' },
                to: { station: '2 m', girth: '100 mm' },
              },
            ],
          }),
        ),
      ),
    );
    expect(clear).not.toContain('IN THE WAY');
    expect(clear).toContain('nothing lies within reach of the place');
  });

  for (const side of ['port', 'starboard'] as const) {
    test(`in lines, ${side}: where they lie for one who looks at the shell, cut at the edge of the drawing`, async () => {
      const context = await contextOf(withStructure(structure, side));
      const forward = flatFoot(context.plan, context.fitting).forwardSign;
      const dxf = readDxf(markoutDxf(context));
      const [longitudinal] = polylinesOn(dxf, 'LONGITUDINALS_BEHIND');
      for (const v of longitudinal?.vertices ?? []) expect(v.y).toBeCloseTo(60, 6);
      const seam = polylinesOn(dxf, 'SEAMS').flatMap((line) => line.vertices);
      expect(seam.length).toBeGreaterThan(1);
      for (const v of seam) expect(v.y).toBeCloseTo((forward * v.x) / 100, 4);
      // The chest: chords of a circle of 160 about (300 forward, 0), as far as it comes in.
      const chest = polylinesOn(dxf, 'KEEP_CLEAR').flatMap((line) => line.vertices);
      expect(chest.length).toBeGreaterThan(4);
      for (const v of chest) {
        const r = Math.hypot(v.x - forward * 300, v.y);
        expect(r).toBeGreaterThan(159.8);
        expect(r).toBeLessThan(160.001);
      }
      // Shades are for paper alone.
      const items = markoutItems(context, flatFoot(context.plan, context.fitting));
      expect(items.some((item) => item.kind === 'path' && item.fill !== undefined && item.pen === undefined)).toBe(
        true,
      );
    });
  }

  test('what the plan fails is in the way on the mark-out, what it passes is not, but for the width of a pencil', async () => {
    // Two computations that share nothing: straight distances on the shell there, tapes on the flat here.
    let [failed, passed] = [0, 0];
    for (const [kind, toes] of [
      ['keep-clear', 100],
      ['seam-clear', 50],
    ] as const) {
      for (let away = -60; away <= 60; away += 15) {
        const girth = `${1000 + 15 + 14 + toes + away} mm`;
        const structure =
          kind === 'keep-clear'
            ? { keepClear: [{ name: 'sluice', from: { station: '10 m', girth }, radius: '100 mm' }] }
            : { seams: [{ name: 'sluice', from: { station: '8 m', girth }, to: { station: '12 m', girth } }] };
        const context = await contextOf(withStructure(structure));
        const found = context.fitting.checks.find(({ id }) => id === kind);
        if (found === undefined) throw new Error(`no check ${kind}`);
        const inTheWay = wordsOf(markoutSheet(context)).includes('IN THE WAY');
        if (Math.abs(found.demand - found.limit) > 3) expect(inTheWay, `${kind} ${girth}`).toBe(!found.pass);
        if (found.pass) passed++;
        else failed++;
      }
    }
    expect(Math.min(failed, passed)).toBeGreaterThan(5);
  });

  test('names from the job are text: hostile ones break no drawing', async () => {
    const names = {
      frames: [{ name: HOSTILE_ID, station: '10 m' }],
      keepClear: [{ ...structure.keepClear[0], name: HOSTILE_ID }],
    };
    const context: Context = await contextOf(withStructure(names));
    const dxf = readDxf(markoutDxf(context));
    expect(dxf.entities.length).toBeGreaterThan(5);
    expect(wordsOf(markoutSheet(context))).toContain('=1+1,"A";<b>& 0');
  });
});

describe('plane geometry', () => {
  test('clearance by hand', () => {
    const box = rectangle(10, 5);
    expect(clearance([{ x: 13, y: 9 }], box)).toBeCloseTo(5, 12);
    expect(clearance([{ x: 0, y: 0 }], box)).toBe(0);
    expect(
      clearance(
        [
          { x: -20, y: 8 },
          { x: 20, y: 8 },
        ],
        box,
      ),
    ).toBeCloseTo(3, 12);
    expect(
      clearance(
        [
          { x: -20, y: 0 },
          { x: 20, y: 0 },
        ],
        box,
      ),
    ).toBe(0);
    expect(inside({ x: 9.9, y: 4.9 }, box)).toBe(true);
    expect(inside({ x: 10.1, y: 0 }, box)).toBe(false);
  });

  test('a line cut to a rectangle: what is left lies in it, on the line, and has the length of the part inside', () => {
    const coordinate = fc.double({ min: -30, max: 30, noNaN: true });
    const point = fc.record({ x: coordinate, y: coordinate });
    fc.assert(
      fc.property(fc.array(point, { minLength: 2, maxLength: 6 }), (line) => {
        const reach = { x: 10, y: 5 };
        const parts = clipped(line, reach);
        const long = (points: readonly { x: number; y: number }[]) =>
          points
            .slice(1)
            .reduce((sum, q, i) => sum + Math.hypot(q.x - (points[i]?.x ?? 0), q.y - (points[i]?.y ?? 0)), 0);
        for (const p of parts.flat()) {
          expect(Math.abs(p.x)).toBeLessThan(10 + 1e-9);
          expect(Math.abs(p.y)).toBeLessThan(5 + 1e-9);
        }
        // Against counting: the share of many points along the line that lie in the rectangle.
        const n = 4000;
        let counted = 0;
        line.slice(1).forEach((q, i) => {
          const p = line[i] as { x: number; y: number };
          const step = Math.hypot(q.x - p.x, q.y - p.y) / n;
          for (let k = 0; k < n; k++) {
            const t = (k + 0.5) / n;
            if (Math.abs(p.x + t * (q.x - p.x)) <= 10 && Math.abs(p.y + t * (q.y - p.y)) <= 5) counted += step;
          }
        });
        expect(Math.abs(parts.reduce((sum, part) => sum + long(part), 0) - counted)).toBeLessThan(0.2);
      }),
      { numRuns: 60, seed: 41 },
    );
  });

  test('a band is all places within its radius; cut to a rectangle it keeps its area (pi r^2 + 2 r L)', () => {
    const area = (points: readonly { x: number; y: number }[]) =>
      points.reduce((sum, p, i) => {
        const q = points[(i + 1) % points.length] as { x: number; y: number };
        return sum + (p.x * q.y - q.x * p.y) / 2;
      }, 0);
    const outline = band({ x: -3, y: 1 }, { x: 5, y: 7 }, 2, 400);
    expect(area(outline)).toBeCloseTo(Math.PI * 4 + 2 * 2 * 10, 2);
    expect(area(within(outline, { x: 100, y: 100 }))).toBeCloseTo(area(outline), 9);
    // Half of a disc, cut through its middle.
    expect(area(within(band({ x: 10, y: 0 }, { x: 10, y: 0 }, 3, 400), { x: 10, y: 50 }))).toBeCloseTo(
      (Math.PI * 9) / 2,
      2,
    );
  });
});
