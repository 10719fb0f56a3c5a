import { describe, expect, test } from 'vitest';
import { newHit } from '../../geometry/hull/shell.ts';
import { bevelRows } from '../../src/sheets/beveltable.ts';
import { type Context, contextsOf } from '../../src/sheets/context.ts';
import type { Page } from '../../src/sheets/drawing.ts';
import { largeTemplate } from '../../src/sheets/foottemplate.ts';
import { templateDxf } from '../../src/sheets/foottemplate-dxf.ts';
import { writeSvg } from '../../src/sheets/svg.ts';
import { sightLineAt } from '../../src/sheets/template-view.ts';
import { arcJob, contextOf, fonts, planOf, sampleJobs } from './plans.ts';
import { heightAt, polylinesOn, readDxf } from './readback.ts';

/*
 * The template as written, laid over the shell: its cut edge sampled back from the DXF and from the SVG leaves the gaps that the plan
 * promised. The shell is asked by its own ray, not by the plan's figures.
 */

const UNIT = { metric: 1, us: 25.4 } as const;
/** mm. */
const WITHIN = 0.05;
const CUTS = ['straight', 'faceted', 'scribed'] as const;
const FACES = ['face+', 'face-'] as const;
type Edges = Readonly<Record<(typeof FACES)[number], (a: number) => number | undefined>>;

/** Both edges as a reader of the DXF gets them, mm in the lug frame. */
function fromDxf(context: Context): Edges {
  const dxf = readDxf(templateDxf(context));
  const unit = UNIT[context.plan.job.display];
  expect(dxf.header.$INSUNITS).toBe(unit === 1 ? 4 : 1);
  const edge = (layer: string) => {
    const line = polylinesOn(dxf, layer)[0];
    if (line === undefined) throw new Error(`no ${layer}`);
    return (a: number) => {
      const b = heightAt(line, a / unit);
      return b === undefined ? undefined : b * unit;
    };
  };
  return { 'face+': edge('FOOT_EDGE_FACE_PLUS'), 'face-': edge('FOOT_EDGE_FACE_MINUS') };
}

/** Points of a path of straight lines in an SVG, y up. */
const pointsOf = (way: string): { x: number; y: number }[] =>
  [...way.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map((m) => ({ x: Number(m[1]), y: -Number(m[2]) }));

/** Both edges as the shop lays them on: centre line on the plate's centre line, sight line at its distance from the pin. mm. */
function fromSvg(context: Context): Edges {
  const svg = writeSvg(largeTemplate(context).pages[0] as Page, 'x');
  const groups = [...svg.matchAll(/<g clip-path[^>]*>([\s\S]*?)<\/g>/g)].map((m) => m[1] as string);
  expect(groups.length).toBe(2);
  const edge = (group: string, sense: 1 | -1) => {
    const paths = (layer: string) =>
      [...group.matchAll(new RegExp(`class="${layer}" d="([^"]+)"`, 'g'))].map((m) => pointsOf(m[1] as string));
    const centre = paths('CENTRE_LINE')[0]?.[0]?.x ?? Number.NaN;
    const sight = paths('SIGHT_LINE')[0]?.[0]?.y ?? Number.NaN;
    const near = paths('FOOT_EDGE_NEAR')[0]?.map((p) => ({
      x: sense * (p.x - centre),
      y: p.y - sight + sightLineAt(context),
    }));
    if (near === undefined) throw new Error('no edge');
    return (a: number) => heightAt({ vertices: near } as never, a);
  };
  return { 'face+': edge(groups[0] as string, 1), 'face-': edge(groups[1] as string, -1) };
}

/** Gap at a place of the foot between the edges: a plane or a straight line goes through the thickness. mm. */
function gapOf(context: Context, edges: Edges, a: number, across: number): number {
  const { field } = context.fitting;
  const hit = newHit();
  const [plus, minus] = [edges['face+'](a), edges['face-'](a)];
  if (plus === undefined || minus === undefined || !field.cast(a, across * field.halfThickness, hit)) {
    throw new Error(`nothing at ${a}`);
  }
  return minus + ((plus - minus) * (across + 1)) / 2 - hit.f;
}

function check(context: Context, edges: Edges, what: string): void {
  const { fitting } = context;
  const { halfFoot } = fitting.field;
  const promised = fitting.fit[fitting.fit.chosen].maxGap;
  let [least, widest] = [Infinity, -Infinity];
  const look = (a: number, across: number): void => {
    const gap = gapOf(context, edges, a, across);
    least = Math.min(least, gap);
    widest = Math.max(widest, gap);
  };
  const n = 160;
  // Both faces and the middle along the foot; both ends through the thickness.
  for (let k = 0; k <= n; k++) for (const across of [-1, 0, 1]) look(halfFoot * ((2 * k) / n - 1) * (1 - 1e-7), across);
  for (let k = 0; k <= 20; k++) for (const end of [-1, 1]) look(end * halfFoot * (1 - 1e-7), k / 10 - 1);
  expect(least, `${what}: into the shell`).toBeGreaterThan(-WITHIN);
  expect(widest, `${what}: more than the plan promised`).toBeLessThan(promised + WITHIN);
  expect(widest, `${what}: the gap promised is nowhere`).toBeGreaterThan(promised - Math.max(WITHIN, 0.02 * promised));
  for (const row of bevelRows(context)) {
    const a = Math.max(-1, Math.min(1, row.a / halfFoot)) * halfFoot * (1 - 1e-7);
    // At a step between facets either side's gap is right.
    if (fitting.fit.chosen === 'faceted' && fitting.fit.faceted.facets.some((f) => Math.abs(f.fromA - row.a) < 1e-3))
      continue;
    expect(Math.abs(gapOf(context, edges, a, 1) - row.gapPlus), `${what} station ${row.a}`).toBeLessThan(WITHIN);
    expect(Math.abs(gapOf(context, edges, a, -1) - row.gapMinus), `${what} station ${row.a}`).toBeLessThan(WITHIN);
  }
}

describe('laid over the shell the cut edge leaves the gaps promised within 0.05 mm: every sample, every kind of cut, both units', () => {
  for (const { name, job, file } of sampleJobs()) {
    test(name, async () => {
      for (const cut of [undefined, ...CUTS]) {
        for (const display of cut === undefined ? (['metric', 'us'] as const) : (['metric'] as const)) {
          const fittings = job.fittings.map((fitting: object) => (cut === undefined ? fitting : { ...fitting, cut }));
          const { asBuilt: _, lift: __, ...rest } = job;
          const plan = planOf({ ...(cut === undefined ? job : rest), fittings, display }, file);
          for (const context of await contextsOf(plan, { fonts })) {
            if (cut !== undefined) expect(context.fitting.fit.chosen).toBe(cut);
            check(context, fromDxf(context), `${context.id} ${cut ?? 'as planned'} ${display} DXF`);
            check(context, fromSvg(context), `${context.id} ${cut ?? 'as planned'} ${display} SVG`);
          }
        }
      }
    });
  }
});

describe('the same on one arc of shell, leaning and turned', () => {
  for (const radius of [420, 1500]) {
    for (const more of [
      { heading: '90 deg', stem: 'normal' },
      { heading: '90 deg', stem: { lean: '12 deg' } },
      { heading: '40 deg', stem: { lean: '-9 deg' } },
    ]) {
      test(`radius ${radius} mm, ${JSON.stringify(more)}`, async () => {
        for (const side of ['port', 'starboard'] as const) {
          for (const cut of CUTS) {
            const context = await contextOf(
              arcJob(radius, side, { at: { station: '10 m', side, girth: `${0.6 * radius} mm` }, ...more, cut }),
            );
            expect(context.fitting.fit.chosen).toBe(cut);
            check(context, fromDxf(context), `${side} ${cut} DXF`);
            check(context, fromSvg(context), `${side} ${cut} SVG`);
          }
        }
      });
    }
  }
});

test('a check that cannot fail is none: an edge a tenth of a millimetre too high, or turned end for end, is found out', async () => {
  const at = { station: '10 m', side: 'port', girth: '250 mm' };
  const context = await contextOf(
    arcJob(420, 'port', { at, heading: '40 deg', stem: { lean: '9 deg' }, cut: 'straight' }),
  );
  const edges = fromDxf(context);
  const moved = (edge: (a: number) => number | undefined, by: number) => (a: number) => (edge(a) ?? 0) + by;
  const high = { 'face+': moved(edges['face+'], 0.1), 'face-': moved(edges['face-'], 0.1) };
  expect(() => check(context, high, 'high')).toThrow();
  const turned = { 'face+': (a: number) => edges['face+'](-a), 'face-': (a: number) => edges['face-'](-a) };
  expect(() => check(context, turned, 'turned')).toThrow();
  expect(() => check(context, { 'face+': edges['face-'], 'face-': edges['face+'] }, 'faces')).toThrow();
});
