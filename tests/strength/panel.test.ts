import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { navierSeries, navierState, navierStates } from '../../src/strength/navier.ts';
import { PANEL_TERMS, panelBending, panelMixer, worstPanelBending } from '../../src/strength/panel.ts';
import { type Panel, type Patch, surfaceStress } from '../../src/strength/platemoments.ts';
import { Room } from '../../src/strength/room.ts';

/** A foot of two rows of square patches somewhere on a panel, pulled and bent. */
const feet = fc
  .record({
    a: fc.double({ min: 450, max: 900, noNaN: true }),
    b: fc.double({ min: 450, max: 900, noNaN: true }),
    x: fc.double({ min: 0.1, max: 0.9, noNaN: true }),
    y: fc.double({ min: 0.1, max: 0.9, noNaN: true }),
    turn: fc.double({ min: 0, max: Math.PI, noNaN: true }),
    size: fc.double({ min: 12, max: 22, noNaN: true }),
    pull: fc.double({ min: 500, max: 3000, noNaN: true }),
    bend: fc.double({ min: -4000, max: 4000, noNaN: true }),
    side: fc.double({ min: -3000, max: 3000, noNaN: true }),
  })
  .map(({ a, b, x, y, turn, size, pull, bend, side }) => {
    const panel: Panel = { a, b, thickness: 12, e: 210_000, nu: 0.3 };
    const [c, s] = [Math.cos(turn), Math.sin(turn)];
    const at = (force: (u: number, v: number) => number): Patch[] =>
      [-1, 1].flatMap((v) =>
        Array.from({ length: 18 }, (_, i) => {
          const u = (i - 8.5) / 8.5;
          const [along, across] = [140 * u, 18 * v];
          return {
            x: x * a + c * along - s * across,
            y: y * b + s * along + c * across,
            force: force(u, v),
            sizeX: size,
            sizeY: size,
          };
        }),
      );
    return {
      panel,
      cases: [at(() => 1), at((u) => u), at((_, v) => v)] as const,
      shares: [pull, bend, side] as const,
      patches: at((u, v) => pull + bend * u + side * v),
    };
  });

const everywhere = { ...PANEL_TERMS, kept: Number.POSITIVE_INFINITY };
const seed = 4711;

describe('Twist of a panel whose edges are free to turn', () => {
  /*
   * Under an even load q the corners of a simply supported plate are held down by R = 2 mxy (Timoshenko and Woinowsky-Krieger, section 30):
   * R/(q a^2) by b/a from their Table 8, from memory.
   */
  it.each([
    [1, 0.065],
    [2, 0.092],
  ])(
    'even load, b/a = %d: half the corner reaction; where that is more than the middle bends, it is found',
    (ratio, reaction) => {
      const [a, q] = [600, 0.1];
      const panel: Panel = { a, b: ratio * a, thickness: 12, e: 210_000, nu: 0.3 };
      const even = { x: a / 2, y: panel.b / 2, force: q * a * panel.b, sizeX: a, sizeY: panel.b };
      const twist = Math.abs(navierState(navierSeries(panel, [even], 300), 0, 0).mxy);
      expect(Math.abs((2 * twist) / (q * a * a) - reaction)).toBeLessThan(0.0006);
      const { stress, x, y } = panelBending(panel, [even]).simplySupported;
      const corner = surfaceStress({ deflection: 0, mx: 0, my: 0, mxy: twist }, panel.thickness);
      const middle = surfaceStress(navierState(navierSeries(panel, [even], 300), a / 2, panel.b / 2), panel.thickness);
      expect(stress / Math.max(corner, middle)).toBeCloseTo(1, 2);
      if (corner > middle) {
        expect([0, a]).toContain(x);
        expect([0, panel.b]).toContain(y);
      }
    },
  );

  it('nowhere along the edges or within is there more than is found: looked at on a grid', () => {
    fc.assert(
      fc.property(feet, ({ panel, patches }) => {
        const inside = patches.filter((p) => p.x > 0 && p.x < panel.a && p.y > 0 && p.y < panel.b);
        const series = navierSeries(panel, inside, 100);
        const { stress } = panelBending(panel, patches).simplySupported;
        for (let k = 0; k <= 20; k++) {
          for (const place of [
            { x: (panel.a * k) / 20, y: 0 },
            { x: (panel.a * k) / 20, y: panel.b },
            { x: 0, y: (panel.b * k) / 20 },
            { x: panel.a, y: (panel.b * k) / 20 },
          ])
            expect(surfaceStress(navierState(series, place.x, place.y), panel.thickness)).toBeLessThan(stress * 1.005);
        }
      }),
      { seed, numRuns: 20 },
    );
  });
});

describe('Panel under a foot', () => {
  it('sorting the places by a short look finds the worst: within 0.5 % of looking everywhere in full', () => {
    fc.assert(
      fc.property(feet, ({ panel, patches }) => {
        const quick = panelBending(panel, patches);
        const full = panelBending(panel, patches, everywhere);
        for (const bound of ['simplySupported', 'clamped'] as const) {
          expect(quick[bound].stress).toBeLessThanOrEqual(full[bound].stress * (1 + 1e-12));
          expect(quick[bound].stress).toBeGreaterThanOrEqual(full[bound].stress * 0.995);
        }
      }),
      { seed, numRuns: 60 },
    );
  });

  it('terms enough: simply supported within 0.5 % of a series of 300 a side summed at the same place', () => {
    fc.assert(
      fc.property(feet, ({ panel, patches }) => {
        const { stress, x, y } = panelBending(panel, patches).simplySupported;
        const inside = patches.filter((p) => p.x > 0 && p.x < panel.a && p.y > 0 && p.y < panel.b);
        const long = surfaceStress(navierState(navierSeries(panel, inside, 300), x, y), panel.thickness);
        expect(Math.abs(stress / long - 1)).toBeLessThan(0.005);
      }),
      { seed, numRuns: 20 },
    );
  });

  it('bending is linear: unit cases mixed give what the mixed load gives', () => {
    fc.assert(
      fc.property(feet, ({ panel, cases, shares, patches }) => {
        const mixed = panelMixer(panel, cases)(shares);
        const whole = panelBending(panel, patches, everywhere);
        for (const bound of ['simplySupported', 'clamped'] as const) {
          expect(Math.abs(mixed[bound].stress / whole[bound].stress - 1)).toBeLessThan(1e-9);
        }
        expect(mixed.shareInside).toBeCloseTo(whole.shareInside, 9);
      }),
      { seed, numRuns: 25 },
    );
  });

  it('a foot across a member: the worse of the panels it stands on', () => {
    fc.assert(
      fc.property(feet, ({ panel, patches }) => {
        const loads = [0, -1, 1].flatMap((i) =>
          [0, -1, 1].map((j) => patches.map((p) => ({ ...p, x: p.x - i * panel.a, y: p.y - j * panel.b }))),
        );
        const worst = worstPanelBending(panel, loads);
        const each = loads.map((load) => panelBending(panel, load));
        for (const bound of ['simplySupported', 'clamped'] as const) {
          const most = Math.max(...each.map((r) => r[bound].stress));
          expect(Math.abs(worst[bound].stress / most - 1)).toBeLessThan(0.005);
        }
      }),
      { seed, numRuns: 15 },
    );
  });

  it('what stood in the memory before leaves nothing behind: series and panel come out to the last digit', () => {
    const used = new Room();
    fc.assert(
      fc.property(feet, feet, fc.integer({ min: 3, max: 40 }), (foot, other, terms) => {
        used.list(60 * 60).fill(Number.NaN);
        const fresh = navierSeries(foot.panel, foot.patches, terms);
        const again = navierSeries(foot.panel, foot.patches, terms, used);
        expect(again.w.subarray(0, terms * terms)).toEqual(fresh.w);
        const before = panelBending(foot.panel, foot.patches);
        panelBending(other.panel, other.patches, { ...PANEL_TERMS, series: 140, edge: 40 });
        expect(panelBending(foot.panel, foot.patches)).toEqual(before);
      }),
      { seed, numRuns: 15 },
    );
  });

  it('patches and places in line are summed together, and come to the double sum written out', () => {
    const terms = 12;
    fc.assert(
      fc.property(feet, fc.constantFrom(0, Math.PI / 2, 0.4), ({ panel, patches }, turn) => {
        const { a, b, nu } = panel;
        const size = (patches[0] as Patch).sizeX;
        const [c, s] = [Math.cos(turn), Math.sin(turn)];
        const foot = [-1, 1].flatMap((v) =>
          [-60, -20, 20, 60].map((u, i) => ({
            x: a / 2 + c * u - 18 * s * v,
            y: b / 2 + s * u + 18 * c * v,
            force: 1000 + 300 * i + 200 * v,
            sizeX: size,
            sizeY: size,
          })),
        );
        const sinc = (z: number) => Math.sin(z) / z;
        const d = (panel.e * panel.thickness ** 3) / (12 * (1 - nu ** 2));
        // Timoshenko and Woinowsky-Krieger, sections 28 and 30, term by term.
        const direct = (x: number, y: number) => {
          let [wxx, wyy, wxy] = [0, 0, 0];
          for (let m = 1; m <= terms; m++) {
            for (let n = 1; n ** 2 + (m - 1) ** 2 <= terms ** 2; n++) {
              const [al, be] = [(m * Math.PI) / a, (n * Math.PI) / b];
              let q = 0;
              for (const p of foot) {
                const spread = sinc((al * p.sizeX) / 2) * sinc((be * p.sizeY) / 2);
                q += (4 / (a * b)) * p.force * Math.sin(al * p.x) * Math.sin(be * p.y) * spread;
              }
              const w = q / (d * (al ** 2 + be ** 2) ** 2);
              wxx -= w * al ** 2 * Math.sin(al * x) * Math.sin(be * y);
              wyy -= w * be ** 2 * Math.sin(al * x) * Math.sin(be * y);
              wxy += w * al * be * Math.cos(al * x) * Math.cos(be * y);
            }
          }
          return { mx: -d * (wxx + nu * wyy), my: -d * (wyy + nu * wxx), mxy: -d * (1 - nu) * wxy };
        };
        const states = navierStates(navierSeries(panel, foot, terms), foot);
        const most = Math.max(...states.map(({ mx, my }) => Math.abs(mx) + Math.abs(my)));
        foot.forEach(({ x, y }, i) => {
          const state = states[i] as (typeof states)[number];
          const wanted = direct(x, y);
          for (const key of ['mx', 'my', 'mxy'] as const) {
            expect(Math.abs(state[key] - wanted[key]) / most).toBeLessThan(1e-11);
          }
        });
      }),
      { numRuns: 30, seed },
    );
  });
});
