import { describe, expect, test } from 'vitest';
import { dot } from '../../geometry/math/vec.ts';
import { type Context, contextsOf } from '../../src/sheets/context.ts';
import { type Drawing, flattened, type Page, type PathItem, type Point } from '../../src/sheets/drawing.ts';
import { flatFoot, grown, toeOnShell } from '../../src/sheets/flatten.ts';
import { textBox } from '../../src/sheets/fonts.ts';
import { markoutDxf, markoutSheet } from '../../src/sheets/markout.ts';
import { behindOf, markoutLines } from '../../src/sheets/markout-drawing.ts';
import { turnToLie } from '../../src/sheets/markout-tiles.ts';
import { writePdf } from '../../src/sheets/pdf.ts';
import { boards } from '../../src/sheets/trial.ts';
import { arcJob, contextOf, fonts, planOf, sampleJobs, wedgeJob } from './plans.ts';
import { openPdf, polylinesOn, readDxf, strokedLines, textItems, wordsOf } from './readback.ts';

// biome-ignore lint/suspicious/noExplicitAny: a test takes files apart at will
type Loose = any;

/** A length that the sheet prints behind some words, mm. */
function printed(text: string, words: string): number {
  const found = new RegExp(`${words} ([\\d.]+) mm`).exec(text)?.[1];
  if (found === undefined) throw new Error(`no length behind "${words}"`);
  return Number(found);
}

const long = (p: Point, q: Point): number => Math.hypot(p.x - q.x, p.y - q.y);

describe('tapes as printed, in closed form', () => {
  // Square to a cylinder of radius R a place (a, c) of the foot lies at girth R asin(v / R), v its way across the axis.
  const R = 1500;
  for (const side of ['port', 'starboard'] as const) {
    for (const heading of [0, 30, 75, 90]) {
      test(`square to a cylinder, ${side}, heading ${heading}: sides and diagonals, corners from O, to the tenth printed`, async () => {
        const { plan, fitting, ...rest } = await contextOf(
          arcJob(R, side, { heading: `${heading} deg`, stem: 'normal' }),
        );
        const text = wordsOf(markoutSheet({ plan, fitting, ...rest }));
        const { frame, anchor } = fitting;
        const corners = [
          [-150, -15],
          [150, -15],
          [150, 15],
          [-150, 15],
        ].map(([a, c]): Point => {
          const across =
            (a as number) * dot(frame.foot, anchor.tGirth) + (c as number) * dot(frame.face, anchor.tGirth);
          const along = (a as number) * dot(frame.foot, anchor.tFore) + (c as number) * dot(frame.face, anchor.tFore);
          return { x: along, y: R * Math.asin(across / R) };
        });
        const between = (i: number, j: number) => long(corners[i] as Point, corners[j] as Point);
        const faults: string[] = [];
        const hold = (what: string, value: number, exact: number) => {
          if (Math.abs(value - exact) > 0.051) faults.push(`${what}: ${value}, in closed form ${exact}`);
        };
        for (const [words, i, j] of [
          ['1 to 2', 0, 1],
          ['2 to 3', 1, 2],
          ['3 to 4', 2, 3],
          ['4 to 1', 3, 0],
          ['diagonal 1 to 3', 0, 2],
          ['diagonal 2 to 4', 1, 3],
        ] as const)
          hold(words, printed(text, words), between(i, j));
        const rows = [...text.matchAll(/corner ([\d.]+) mm (fwd|aft) ([\d.]+) mm (outboard|inboard) /g)];
        expect(rows.length).toBe(4);
        rows.forEach(([, along, way, round, off], i) => {
          const corner = corners[i] as Point;
          hold(`corner ${i + 1} along`, (way === 'fwd' ? 1 : -1) * Number(along), corner.x);
          hold(`corner ${i + 1} round`, (off === 'outboard' ? 1 : -1) * Number(round), corner.y);
        });
        expect(faults).toEqual([]);
        expect(text).toContain('true: between the corners no length differs');
      });
    }
  }

  test('across the keel of a V bottom, a plumb athwartships foot: 300 / cos(deadrise) round, counted on over the keel', async () => {
    const deadrise = 0.2;
    for (const side of ['port', 'starboard'] as const) {
      const at = { station: '10 m', side, girth: '60 mm' };
      const context = await contextOf(wedgeJob(deadrise, { fitting: { at, heading: '90 deg' } }));
      const flat = flatFoot(context.plan, context.fitting);
      const y0 = 60 * Math.cos(deadrise);
      const girths = flat.corners.map((corner) => corner.girth).sort((p, q) => p - q);
      for (const [k, y] of [y0 - 150, y0 - 150, y0 + 150, y0 + 150].entries())
        expect(girths[k]).toBeCloseTo(y / Math.cos(deadrise), 3);
      const text = wordsOf(markoutSheet(context));
      const across = 300 / Math.cos(deadrise);
      for (const words of ['1 to 2', '3 to 4']) expect(Math.abs(printed(text, words) - across)).toBeLessThan(0.051);
      for (const words of ['diagonal 1 to 3', 'diagonal 2 to 4'])
        expect(Math.abs(printed(text, words) - Math.hypot(across, 30))).toBeLessThan(0.051);
      expect(flat.stretch).toBeLessThan(0.001);
      // The keel is drawn where it is, and the way over it goes to the other side.
      const other = side === 'port' ? 'STARBOARD' : 'PORT';
      expect(text).toContain(`TO ${other}`);
      expect(text).not.toMatch(/[◄►▲▼] KEEL|KEEL [◄►▲▼]/);
      const keel = polylinesOn(readDxf(markoutDxf(context)), 'CENTRE_LINES').filter((line) =>
        line.vertices.every((v) => Math.abs(v.y + 60) < 1e-6),
      );
      expect(keel.length).toBe(1);
      // Which side of the keel each tape is laid on.
      const beyond = ((150 - y0) / Math.cos(deadrise)).toFixed(1);
      expect(text).toContain(`${beyond} mm ${side === 'port' ? 'stbd' : 'port'}`);
      expect(text).toContain('from the centreline at the keel');
    }
  });

  test('on a sphere of 4 m: tapes as the integral along them has it, the misfit of the flat said as large as it is', async () => {
    const radius = 4000;
    const at = (x: number, angle: number): [number, number, number] => {
      const r = Math.sqrt(radius ** 2 - (x - 10_000) ** 2);
      return [x, r * Math.sin(angle), radius - r * Math.cos(angle)];
    };
    const job = wedgeJob(0.2, {
      fitting: { at: { station: '11.5 m', side: 'port', girth: '1.5 m' }, heading: '40 deg', stem: 'normal' },
    });
    job.fittings[0].lug.foot = '600 mm';
    job.ship.hull = {
      kind: 'sections',
      sections: Array.from({ length: 21 }, (_, i) => {
        const x = 8000 + 250 * i;
        return {
          station: `${x} mm`,
          points: Array.from({ length: 31 }, (_, k) => {
            const [, y, z] = at(x, k * 0.03);
            return { y: `${y} mm`, z: `${z} mm` };
          }),
        };
      }),
    };
    const context = await contextOf(job);
    const flat = flatFoot(context.plan, context.fitting);
    const radiusAt = (x: number) => Math.sqrt(radius ** 2 - (x - 10_000) ** 2);
    /** Straight in station and girth on the sphere itself. */
    const tape = (i: number, j: number): number => {
      const [p, q] = [flat.corners[i], flat.corners[j]];
      if (p === undefined || q === undefined) throw new Error('no corner');
      let sum = 0;
      let before = at(p.station, p.girth / radiusAt(p.station));
      for (let k = 1; k <= 20_000; k++) {
        const x = p.station + ((q.station - p.station) * k) / 20_000;
        const next = at(x, (p.girth + ((q.girth - p.girth) * k) / 20_000) / radiusAt(x));
        sum += Math.hypot(next[0] - before[0], next[1] - before[1], next[2] - before[2]);
        before = next;
      }
      return sum;
    };
    const text = wordsOf(markoutSheet(context));
    let most = 0;
    for (const [words, i, j] of [
      ['1 to 2', 0, 1],
      ['2 to 3', 1, 2],
      ['3 to 4', 2, 3],
      ['4 to 1', 3, 0],
      ['diagonal 1 to 3', 0, 2],
      ['diagonal 2 to 4', 1, 3],
    ] as const) {
      const exact = tape(i, j);
      expect(Math.abs(printed(text, words) - exact), words).toBeLessThan(0.08);
      most = Math.max(most, Math.abs(exact - long(flat.corners[i] as Point, flat.corners[j] as Point)));
    }
    expect(most).toBeGreaterThan(0.2);
    expect(Math.abs(printed(text, 'between the corners lengths differ by') - most)).toBeLessThan(0.1);
  });

  test('a straight edge held to the shell is another length than a tape: on the cylinder chord and arc, the sheet gives the arc', async () => {
    const R2 = 400;
    const context = await contextOf(
      arcJob(R2, 'port', { heading: '90 deg', stem: 'normal', at: { station: '10 m', side: 'port', girth: '250 mm' } }),
    );
    const text = wordsOf(markoutSheet(context));
    const arc = 2 * R2 * Math.asin(150 / R2);
    expect(arc - 300).toBeGreaterThan(5);
    expect(Math.abs(printed(text, '1 to 2') - arc)).toBeLessThan(0.06);
    expect(text).toContain('Tape, held to shell');
  });
});

/** What a page's picture says of itself: its scale, the middle of its frame, the corners of the foot in it. */
function pictureOf(page: Page) {
  const scale = Number(
    /scale 1:([\d.]+)/.exec(
      textItems(page)
        .map((text) => text.text)
        .join(' '),
    )?.[1],
  );
  const frame = page.items.find(
    (item): item is PathItem =>
      item.kind === 'path' && item.closed && item.points.length === 4 && item.pen?.width === 0.18,
  );
  if (frame === undefined) throw new Error('no frame');
  const [x, y] = [frame.points.map((p) => p.x), frame.points.map((p) => p.y)];
  const box = { x0: Math.min(...x), x1: Math.max(...x), y0: Math.min(...y), y1: Math.max(...y) };
  const corners = page.items.flatMap((item) => (item.kind === 'circle' && item.radius === 0.7 ? [item.centre] : []));
  return { scale, box, middle: { x: (box.x0 + box.x1) / 2, y: (box.y0 + box.y1) / 2 }, corners };
}

describe('the picture', () => {
  for (const side of ['port', 'starboard'] as const) {
    for (const heading of [0, 90, 40]) {
      test(`${side}, heading ${heading}: to the scale it says, the right way round whether turned or not`, async () => {
        const context = await contextOf(arcJob(1500, side, { heading: `${heading} deg`, stem: 'normal' }));
        const flat = flatFoot(context.plan, context.fitting);
        const page = markoutSheet(context).pages[0] as Page;
        const { scale, middle, corners } = pictureOf(page);
        expect(corners.length).toBe(4);
        corners.forEach((corner, i) => {
          const next = (i + 1) % 4;
          expect(scale * long(corner, corners[next] as Point)).toBeCloseTo(
            long(flat.corners[i] as Point, flat.corners[next] as Point),
            4,
          );
        });
        // The way a tape runs forward on the picture is the way its word stands; outboard likewise.
        const words = (start: string) => {
          const found = textItems(page).find((text) => text.bold && text.text.replaceAll(/[◄►▲▼ ]/g, '') === start);
          if (found === undefined) throw new Error(`no word ${start}`);
          const x = found.align === 'centre' ? 0 : found.align === 'right' ? 1 : -1;
          return x === 0 ? { x: 0, y: Math.sign(found.at.y - middle.y) } : { x, y: 0 };
        };
        for (const [word, of] of [
          ['FORWARD', (k: number) => (flat.corners[k] as Point).x],
          ['OUTBOARD', (k: number) => (flat.corners[k] as Point).y],
        ] as const) {
          const way = words(word);
          corners.forEach((corner, k) => {
            const shown = (corner.x - middle.x) * way.x + (corner.y - middle.y) * way.y;
            expect(scale * shown).toBeCloseTo(of(k), 4);
          });
        }
      });
    }
  }

  test('the bar measured from the written file is as long as it says, at the scale it says', async () => {
    for (const display of ['metric', 'us'] as const) {
      const context = await contextOf({ ...arcJob(1500, 'port', { heading: '90 deg', stem: 'normal' }), display });
      const drawing = markoutSheet(context);
      const pdf = await openPdf(await writePdf(drawing, context.fonts));
      [0, 1].forEach((k) => {
        const page = drawing.pages[k] as Page;
        const { scale } = pictureOf(page);
        const bar = textItems(page).find((text) => text.layer === 'CHECK_BAR')?.text ?? '';
        const mm = Number.parseFloat(bar) * (bar.endsWith('in') ? 25.4 : 1);
        const lines = strokedLines(pdf.getPage(k)).filter((line) => Math.abs(line.length - mm / scale) < 0.005);
        expect(lines.length, `${display} page ${k + 1}: ${bar} at 1:${scale}`).toBeGreaterThan(0);
      });
    }
  });

  test('as large as the page permits: every sample fills the frame one way or the other, none smaller than 1:5', async () => {
    for (const { job, file } of sampleJobs()) {
      for (const display of ['metric', 'us'] as const) {
        for (const context of await contextsOf(planOf({ ...job, display }, file), { fonts })) {
          const page = markoutSheet(context).pages[0] as Page;
          const { scale, box } = pictureOf(page);
          expect(scale).toBeLessThanOrEqual(5);
          const clean = page.items.filter(
            (item): item is PathItem => item.kind === 'path' && item.layer === 'CLEAN_ZONE',
          );
          const points = clean.flatMap((item) => item.points);
          const reach = (of: (p: Point) => number) => Math.max(...points.map(of)) - Math.min(...points.map(of));
          const share = Math.max(
            reach((p) => p.x) / (box.x1 - box.x0),
            // Strips over and under it are for the words at the edges.
            reach((p) => p.y) / (box.y1 - box.y0 - 15),
          );
          expect(share, `${context.title} ${display} 1:${scale}`).toBeGreaterThan(0.7);
        }
      }
    }
  });
});

/** Windows of the pages at true size: what each shows, and what is drawn in it. */
const windowsOf = ({ pages }: Drawing) =>
  pages.flatMap((page) => page.items.flatMap((item) => (item.kind === 'window' ? [{ page, window: item }] : [])));

describe('true size on tiles', () => {
  test('any heading, both papers: two pages for a foot of 300 mm, about evenly filled; the print as long as it is flat', async () => {
    for (const heading of [0, 17, 45, 90, -60]) {
      for (const paper of ['a4', 'letter'] as const) {
        const context = await contextOf(arcJob(1500, 'port', { heading: `${heading} deg`, stem: 'normal' }), { paper });
        const flat = flatFoot(context.plan, context.fitting);
        const windows = windowsOf(markoutSheet(context));
        expect(windows.length).toBe(2);
        const widths = windows.map(({ window }) => window.clip.width);
        expect(Math.min(...widths) / Math.max(...widths)).toBeGreaterThan(0.6);
        const print = windows[0]?.window.items.find(
          (item): item is PathItem => item.kind === 'path' && item.layer === 'FOOTPRINT',
        );
        if (print === undefined) throw new Error('no footprint');
        const around = print.points.reduce((sum, p, i, all) => sum + long(p, all[(i + 1) % all.length] as Point), 0);
        expect(around).toBeCloseTo(
          flat.sides.reduce((sum, each) => sum + each, 0),
          1,
        );
        const ys = print.points.map((p) => p.y);
        // Lies along the page but for the bend that unrolling gives its edges.
        expect(Math.max(...ys) - Math.min(...ys)).toBeLessThan(33);
      }
    }
  });

  test('no word is cut, no page all but empty: every sample, both systems of units, feet of 60 and of 600 mm', async () => {
    const jobs: { job: Loose; file: (name: string) => string | undefined }[] = sampleJobs();
    for (const [foot, thickness, leg] of [
      ['60 mm', '12 mm', '6 mm'],
      ['600 mm', '50 mm', '20 mm'],
    ] as const) {
      const job = wedgeJob(0.3);
      Object.assign(job.fittings[0].lug, { foot, thickness });
      job.fittings[0].weld.leg = leg;
      if (foot === '60 mm')
        Object.assign(job.fittings[0].lug, {
          pinHeight: '60 mm',
          hole: '14 mm',
          topRadius: '25 mm',
          shoulder: '20 mm',
        });
      jobs.push({ job, file: () => undefined });
    }
    const faults: string[] = [];
    for (const { job, file } of jobs) {
      for (const display of ['metric', 'us'] as const) {
        for (const context of await contextsOf(planOf({ ...job, display }, file), { fonts })) {
          for (const { page, window } of windowsOf(markoutSheet(context))) {
            const { clip, dx, dy } = window;
            if (clip.width < 0.45 * (page.width - 14)) faults.push(`${context.title}: a tile of ${clip.width} mm`);
            for (const item of flattened(window.items)) {
              if (item.kind !== 'text' || item.rotation !== 0) continue;
              const box = textBox(context.fonts, item);
              const inside =
                box.x0 + dx > clip.x - 0.01 &&
                box.x1 + dx < clip.x + clip.width + 0.01 &&
                box.y0 + dy > clip.y - 0.01 &&
                box.y1 + dy < clip.y + clip.height + 0.01;
              if (!inside) faults.push(`${context.title}: "${item.text}" cut`);
              if (item.size < 8) faults.push(`${context.title}: "${item.text}" in ${item.size} pt`);
            }
          }
        }
      }
    }
    expect(faults).toEqual([]);
  });

  test('the turn is the shorter way to lie, none for a foot that lies', async () => {
    const turn = async (heading: number) => {
      const { plan, fitting } = await contextOf(arcJob(1500, 'port', { heading: `${heading} deg`, stem: 'normal' }));
      return turnToLie(flatFoot(plan, fitting));
    };
    expect(await turn(0)).toBe(0);
    expect(Math.abs(await turn(30))).toBeCloseTo(Math.PI / 6, 2);
    expect(Math.abs(await turn(120))).toBeCloseTo(Math.PI / 3, 2);
    expect(Math.abs(await turn(180))).toBe(0);
  });
});

describe('how the place is told', () => {
  const structure = {
    frames: [
      { name: 'frame 1', station: '0.6 m' },
      { name: 'frame 0', station: '0 m' },
      { name: 'frame -1', station: '-0.6 m' },
    ],
    longitudinals: [{ name: 'L3', girth: '0.9 m' }],
    seams: [{ name: 'B-C', from: { station: '-3 m', girth: '1.2 m' }, to: { station: '3 m', girth: '1.2 m' } }],
  };
  const told = async (station: string, side: 'port' | 'starboard') => {
    const job = arcJob(1500, side, { stem: 'normal', at: { station, side, girth: '1000 mm' } });
    job.ship.structure = structure;
    return wordsOf(markoutSheet(await contextOf(job)));
  };

  test('from frame, longitudinal and seam by name, and from the perpendicular, before it and abaft it, both sides', async () => {
    for (const side of ['port', 'starboard'] as const) {
      const forward = await told('0.25 m', side);
      expect(forward).toContain(`250.0 mm forward of the aft perpendicular, ${side} side`);
      expect(forward).toContain('O is 250.0 mm forward of frame 0, 350.0 mm abaft frame 1');
      expect(forward).toContain('O is 100.0 mm outboard of longitudinal L3, 200.0 mm inboard of seam B-C');
      const abaft = await told('-0.4 m', side);
      expect(abaft).toContain(`400.0 mm abaft the aft perpendicular, ${side} side`);
      expect(abaft).toContain('O is 200.0 mm forward of frame -1, 400.0 mm abaft frame 0');
      // Corners at 150 mm either way of a place 200 mm forward of it.
      for (const words of ['from frame -1', '50.0 mm fwd', '350.0 mm fwd']) expect(abaft).toContain(words);
    }
  });

  test('what lies beyond the keel is found by its own side, and only there', async () => {
    const job = wedgeJob(0.2, {
      fitting: { at: { station: '10 m', side: 'port', girth: '60 mm' }, heading: '90 deg' },
    });
    job.ship.structure = {
      longitudinals: [{ name: 'G1', girth: '400 mm' }],
      keepClear: [
        { name: 'plug', from: { station: '10 m', girth: '250 mm' }, radius: '50 mm', side: 'starboard' },
        { name: 'anode', from: { station: '10 m', girth: '500 mm' }, radius: '50 mm', side: 'port' },
      ],
    };
    const context: Context = await contextOf(job);
    const flat = flatFoot(context.plan, context.fitting);
    const found = new Map(behindOf(context, flat).map((each) => [each.name, each]));
    expect([...found.keys()].sort()).toEqual(['G1', 'G1, starboard', 'anode', 'plug, starboard']);
    expect(found.get('G1')?.round).toBeCloseTo(340, 6);
    expect(found.get('G1, starboard')?.round).toBeCloseTo(-460, 6);
    expect(found.get('plug, starboard')?.round).toBeCloseTo(-310, 6);
    // The foot reaches 150 / cos beyond the place, its toe a leg farther: less than the zone's edge at 260.
    const toe = Math.min(
      ...polylinesOn(readDxf(markoutDxf(context)), 'WELD_TOES').flatMap((line) => line.vertices.map((v) => v.y)),
    );
    expect(found.get('plug, starboard')?.clear).toBeCloseTo(toe + 310 - 50, 1);
    expect(found.get('anode')?.clear).toBeGreaterThan(200);
  });
});

describe('what stands behind by the job’s own word', () => {
  const told = (behind: Loose, girth = '2 m') =>
    contextOf({
      ...wedgeJob(0.2, { fitting: { behind, at: { station: '10 m', side: 'port', girth } } }),
      steel: { frameSpacing: '600 mm', longitudinalSpacing: '700 mm' },
    });
  const namesOn = (context: Context) => {
    const flat = flatFoot(context.plan, context.fitting);
    return markoutLines(context, flat, 0, { x: 850, y: 850 }).names;
  };

  test('a lug on a frame has the next one abaft and the next one forward drawn, a spacing off, and said to be so', async () => {
    const context = await told({ fromFrame: '0 mm' });
    const frames = namesOn(context).filter(({ layer }) => layer === 'FRAMES_BEHIND');
    // Forward is to the left on port.
    expect(
      frames.map(({ words, line }) => [words, Math.round(line[0]?.x ?? 0)]).sort((p, q) => Number(p[1]) - Number(q[1])),
    ).toEqual([
      ['frame, by spacing', -600],
      ['frame', 0],
      ['frame, by spacing', 600],
    ]);
    expect(wordsOf(markoutSheet(context)).split('frame, by spacing').length - 1).toBe(2);
  });

  test('longitudinals by spacing end at the keel: beyond it are those of the other side', async () => {
    const off = async (girth: string) =>
      namesOn(await told({ fromLongitudinal: '100 mm' }, girth))
        .filter(({ layer }) => layer === 'LONGITUDINALS_BEHIND')
        .map(({ line }) => Math.round(line[0]?.y ?? 0))
        .sort((p, q) => p - q);
    expect(await off('2 m')).toEqual([-800, -100, 600]);
    expect(await off('500 mm')).toEqual([-100, 600]);
  });

  test('what nobody has found is said to be taken half-way, each by itself', async () => {
    const words = async (behind: Loose) => wordsOf(markoutSheet(await told(behind)));
    expect(await words({})).toContain(
      'Taken in the calculation: O in the middle of a panel, for the job gives neither frame nor longitudinal; frames every 600.0 mm',
    );
    expect(await words({ fromFrame: '250 mm' })).toContain(
      'frame 250.0 mm abaft O; O half-way between two longitudinals, for the job gives none; frames',
    );
    expect(await words({ fromLongitudinal: '100 mm' })).toContain(
      'O half-way between two frames, for the job gives none; longitudinal 100.0 mm inboard of O; frames',
    );
    expect(await words({ fromFrame: '250 mm', fromLongitudinal: '100 mm' })).not.toContain('half-way');
    // Spacings that the job gives are no assumption; those it leaves out are one, and said to be.
    expect(await words({})).not.toContain('(assumed)');
    expect(wordsOf(markoutSheet(await contextOf(wedgeJob(0.2))))).toMatch(
      /frames every [\d.]+ mm \(assumed\), longitudinals every [\d.]+ mm \(assumed\)/,
    );
  });
});

describe('on an upright side', () => {
  /** Flat bottom 3 m wide, then straight up. */
  const wall = (side: 'port' | 'starboard', heading = '0 deg') => {
    const job = wedgeJob(0, {
      fitting: {
        at: { station: '10 m', side, girth: '4.2 m' },
        stem: 'normal',
        heading,
        load: { direction: [0, side === 'port' ? 1 : -1, 0], force: '20 kN' },
      },
    });
    job.ship.hull.path = [{ to: { y: '3 m', z: '0 m' } }, { to: { y: '3 m', z: '3 m' } }];
    return contextOf(job);
  };

  test('up and down stand where outboard and keel stand under a bottom: on every page, in the tables, on the trial board', async () => {
    for (const side of ['port', 'starboard'] as const) {
      for (const heading of ['0 deg', '90 deg']) {
        const context = await wall(side, heading);
        const sheet = markoutSheet(context);
        const words = wordsOf(sheet);
        expect(words.replaceAll('the centreline at the keel', '')).not.toMatch(/outboard|inboard|keel/i);
        for (const page of sheet.pages.slice(2)) {
          // A tile that has no room for the arrows has none of them.
          const texts = textItems(page).map(({ text }) => text);
          expect(texts.includes('UP')).toBe(texts.includes('FORWARD'));
        }
        const first = textItems(sheet.pages[0] as Page).map(({ text }) => text);
        const edges = first
          .filter((text) => /^[▲▼◄]|►$/.test(text))
          .map((text) => text.replaceAll(/[^A-Z ]/g, '').trim());
        expect([...edges].sort()).toEqual(['AFT', 'DOWN', 'FORWARD', 'UP']);
        // Up is where the water plane says: the two upper corners are 'up' from O.
        const flat = flatFoot(context.plan, context.fitting);
        flat.corners.forEach((corner) => {
          expect(Math.sign(corner.y)).toBe(
            Math.sign(dot(corner.position, [0, 0, 1]) - context.fitting.anchor.position[2]),
          );
        });
        expect(words).toMatch(/mm up /);
        const across = boards(context)[1];
        if (heading === '0 deg') expect([across?.left, across?.right]).toEqual(['down', 'up']);
      }
    }
  });
});

test('where the clean metal runs on past the drawing at true size, the drawing says so; where it does not, it does not', async () => {
  const seen = { on: 0, whole: 0 };
  for (const foot of ['200 mm', '260 mm', '300 mm', '340 mm']) {
    for (const paper of ['a4', 'letter'] as const) {
      const job = wedgeJob(0.3);
      job.fittings[0].lug.foot = foot;
      const context = await contextOf(job, { paper });
      const flat = flatFoot(context.plan, context.fitting);
      const margin = context.options.cleanMargin;
      const clean = grown(flat, (side) => toeOnShell(context.fitting, side) + margin);
      const [xs, ys] = [clean.map((p) => Math.abs(p.x)), clean.map((p) => Math.abs(p.y))];
      const windows = windowsOf(markoutSheet(context));
      // What the tiles show together: each by its window, less what neighbours share.
      const x0 = Math.min(...windows.map(({ window }) => window.clip.x - window.dx));
      const x1 = Math.max(...windows.map(({ window }) => window.clip.x + window.clip.width - window.dx));
      const y1 = Math.max(...windows.map(({ window }) => window.clip.y + window.clip.height - window.dy));
      const y0 = Math.min(...windows.map(({ window }) => window.clip.y - window.dy));
      const cut = 2 * Math.max(...xs) > x1 - x0 + 1e-6 || 2 * Math.max(...ys) > y1 - y0 + 1e-6;
      const words = windows.flatMap(({ window }) =>
        flattened(window.items).flatMap((item) => (item.kind === 'text' ? [item.text] : [])),
      );
      expect(words.includes('it runs on past this drawing: set it off')).toBe(cut);
      seen[cut ? 'on' : 'whole']++;
    }
  }
  expect(Math.min(seen.on, seen.whole)).toBeGreaterThan(0);
});

test('a foot that runs round the girth lies on the true-size pages as in the picture on the first: turned to the right', async () => {
  for (const side of ['port', 'starboard'] as const) {
    for (const heading of ['90 deg', '-90 deg', '80 deg', '100 deg']) {
      const { plan, fitting } = await contextOf(arcJob(1500, side, { heading, stem: 'normal' }));
      const turn = turnToLie(flatFoot(plan, fitting));
      expect(turn).toBeLessThan(-Math.PI / 3);
      expect(turn).toBeGreaterThan((-2 * Math.PI) / 3);
    }
  }
});
