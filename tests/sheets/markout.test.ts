import { describe, expect, test } from 'vitest';
import { flatFoot, grown, toeOnShell } from '../../src/sheets/flatten.ts';
import { markoutDxf, markoutSheet } from '../../src/sheets/markout.ts';
import { MARKOUT_LAYERS, markoutLines } from '../../src/sheets/markout-drawing.ts';
import { boards, TRIAL_LAYERS, trialDxf } from '../../src/sheets/trial.ts';
import { arcJob, contextOf, wedgeJob } from './plans.ts';
import { layersOf, polylinesOn, readDxf, wordsOf } from './readback.ts';

/* A bottom that is a cylinder unrolls without stretch: every figure of the mark-out in closed form. */

const R = 1500;

describe('on a cylinder of 1.5 m', () => {
  for (const side of ['port', 'starboard'] as const) {
    test(`${side}: girth is radius times angle, along is along; sides and diagonals with it`, async () => {
      const context = await contextOf(arcJob(R, side, { heading: '30 deg', stem: 'normal' }));
      const flat = flatFoot(context.plan, context.fitting);
      for (const corner of flat.corners) {
        const angle = Math.atan2(Math.abs(corner.position[1]), R - corner.position[2]);
        expect(corner.girth).toBeCloseTo(R * angle, 5);
        expect(corner.y).toBeCloseTo(R * angle - 1000, 5);
        expect(corner.x).toBeCloseTo(corner.position[0] - 10_000, 6);
      }
      const length = (i: number, j: number) => {
        const [p, q] = [flat.corners[i], flat.corners[j]];
        return Math.hypot((p?.x ?? 0) - (q?.x ?? 0), (p?.y ?? 0) - (q?.y ?? 0));
      };
      flat.sides.forEach((side, k) => {
        expect(Math.abs(side - length(k, (k + 1) % 4))).toBeLessThan(0.02);
      });
      expect(Math.abs(flat.diagonals[0] - length(0, 2))).toBeLessThan(0.02);
      expect(Math.abs(flat.diagonals[1] - length(1, 3))).toBeLessThan(0.02);
      expect(flat.stretch).toBeLessThan(0.02);
      // Port seen from the water has forward to the left.
      expect(flat.forwardSign).toBe(side === 'port' ? -1 : 1);
    });
  }

  test('starboard is the mirror image of port', async () => {
    const of = async (side: 'port' | 'starboard') => {
      const context = await contextOf(arcJob(R, side, { stem: 'normal' }));
      return flatFoot(context.plan, context.fitting);
    };
    const [port, starboard] = [await of('port'), await of('starboard')];
    const sorted = (flat: typeof port) => flat.corners.map((p) => `${p.x.toFixed(3)} ${p.y.toFixed(3)}`).sort();
    expect(sorted(starboard)).toEqual(sorted(port));
  });
});

test('weld toes lie a leg outside the footprint, square to each side (leg of a tee: the leg asked for)', async () => {
  const context = await contextOf(wedgeJob(0.2, { fitting: { stem: 'normal' } }));
  const flat = flatFoot(context.plan, context.fitting);
  expect(toeOnShell(context.fitting, 'face-')).toBeCloseTo(context.fitting.weld.sides[0]?.calledLegAlongPlate ?? 0, 9);
  const toes = grown(flat, (side) => toeOnShell(context.fitting, side));
  const leg = toeOnShell(context.fitting, 'face-');
  const xs = toes.map((p) => p.x);
  const ys = toes.map((p) => p.y);
  expect(Math.max(...xs)).toBeCloseTo(150 + leg, 6);
  expect(Math.min(...xs)).toBeCloseTo(-150 - leg, 6);
  expect(Math.max(...ys)).toBeCloseTo(15 + leg, 6);
  expect(Math.min(...ys)).toBeCloseTo(-15 - leg, 6);
});

test('where two sides have toes of their own width the corner is a quarter of an ellipse that runs on straight into both (closed form)', async () => {
  const context = await contextOf(wedgeJob(0.2, { fitting: { stem: 'normal' } }));
  const flat = flatFoot(context.plan, context.fitting);
  const by = (side: string) => (side.startsWith('face') ? 25 : 16);
  const points = grown(flat, by);
  // The footprint is 300 x 30: along x the ends, along y the faces.
  const [along, round] = [16, 25];
  for (const p of points) {
    // Nothing bulges beyond a side's own line.
    expect(Math.abs(p.x)).toBeLessThan(150 + along + 1e-6);
    expect(Math.abs(p.y)).toBeLessThan(15 + round + 1e-6);
    const [u, v] = [(Math.abs(p.x) - 150) / along, (Math.abs(p.y) - 15) / round];
    if (u > 1e-6 && v > 1e-6) expect(u * u + v * v).toBeCloseTo(1, 6);
  }
  // All four corners are round.
  const round4 = points.filter((p) => Math.abs(p.x) > 151 && Math.abs(p.y) > 16);
  expect(new Set(round4.map((p) => `${Math.sign(p.x)} ${Math.sign(p.y)}`)).size).toBe(4);
});

test('a frame and a longitudinal on the centre lines are seen beside them: wide light bands, drawn before the lines, and said', async () => {
  const context = await contextOf(
    wedgeJob(0.2, { fitting: { behind: { fromFrame: '0 mm', fromLongitudinal: '0 mm' } } }),
  );
  const { items, names } = markoutLines(context, flatFoot(context.plan, context.fitting));
  const at = (layer: string) => items.findIndex((item) => item.kind === 'path' && item.layer === layer);
  for (const layer of ['FRAMES_BEHIND', 'LONGITUDINALS_BEHIND']) {
    const band = items[at(layer)];
    const centre = items[at('CENTRE_LINES')];
    if (band?.kind !== 'path' || centre?.kind !== 'path') throw new Error('no lines');
    expect(band.pen?.width ?? 0).toBeGreaterThan(5 * (centre.pen?.width ?? 0));
    expect(band.pen?.grey ?? 0).toBeGreaterThan(0.5);
    for (const line of ['CENTRE_LINES', 'FOOTPRINT', 'WELD_TOES', 'CLEAN_ZONE'])
      expect(at(layer)).toBeLessThan(at(line));
  }
  expect(names.map(({ layer }) => layer)).toEqual(expect.arrayContaining(['FRAMES_BEHIND', 'LONGITUDINALS_BEHIND']));
  expect(wordsOf(markoutSheet(context))).toContain('Grey band: frame or longitudinal behind the plating');
  const bare = await contextOf(wedgeJob(0.2));
  expect(wordsOf(markoutSheet(bare))).not.toContain('Grey band');
});

test('on a skewed joint the toe lies throat / cos(psi/2) along the shell from the root (isosceles triangle), both sides', async () => {
  const deadrise = 0.3;
  const context = await contextOf(wedgeJob(deadrise));
  const throat = 14 / Math.SQRT2;
  for (const [side, psi] of [
    ['face-', Math.PI / 2 - deadrise],
    ['face+', Math.PI / 2 + deadrise],
  ] as const) {
    // As called up on the job: not less, and not a millimetre more.
    const toe = toeOnShell(context.fitting, side);
    const exact = throat / Math.cos(psi / 2);
    expect(toe).toBeGreaterThan(exact - 1e-9);
    expect(toe).toBeLessThan(exact + 1);
  }
});

test('the flat mark-out as DXF: footprint 300 by 30, toes and clean zone closed, in mm and in inches', async () => {
  for (const display of ['metric', 'us'] as const) {
    const k = display === 'us' ? 25.4 : 1;
    const context = await contextOf(
      { ...wedgeJob(0.2, { fitting: { stem: 'normal' } }), display },
      { cleanMargin: 40 },
    );
    const dxf = readDxf(markoutDxf(context));
    expect(layersOf(dxf)).toEqual(expect.arrayContaining(Object.keys(MARKOUT_LAYERS)));
    const reach = (layer: string) => {
      const line = polylinesOn(dxf, layer)[0];
      if (line === undefined) throw new Error(`no ${layer}`);
      expect(line.shape).toBe(true);
      return { x: k * Math.max(...line.vertices.map((v) => v.x)), y: k * Math.max(...line.vertices.map((v) => v.y)) };
    };
    const print = reach('FOOTPRINT');
    expect(print.x).toBeCloseTo(150, 4);
    expect(print.y).toBeCloseTo(15, 4);
    expect(reach('CLEAN_ZONE').x - reach('WELD_TOES').x).toBeCloseTo(40, 4);
  }
});

describe('trial boards', () => {
  test('across a cylinder the edge is its arc: R - sqrt(R^2 - x^2) from the tangent', async () => {
    const context = await contextOf(arcJob(R, 'port', { stem: 'normal' }));
    const across = boards(context)[1];
    expect(across?.edge.length).toBeGreaterThan(40);
    for (const p of across?.edge ?? []) expect(p.y).toBeCloseTo(-(R - Math.sqrt(R * R - p.x * p.x)), 5);
  });

  test('along the foot it is the foot height the plan has, past both ends', async () => {
    const context = await contextOf(arcJob(R, 'port', { stem: 'normal', heading: '90 deg' }));
    const along = boards(context)[0];
    for (const p of along?.edge ?? []) expect(p.y).toBeCloseTo(-(R - Math.sqrt(R * R - p.x * p.x)), 5);
    expect(along?.edge.at(-1)?.x).toBeCloseTo(150 + 40, 9);
    const dxf = readDxf(trialDxf(context));
    expect(layersOf(dxf)).toEqual(expect.arrayContaining(Object.keys(TRIAL_LAYERS)));
    const outlines = polylinesOn(dxf, 'BOARD');
    expect(outlines.length).toBe(2);
    for (const outline of outlines) expect(outline.shape).toBe(true);
  });
});
