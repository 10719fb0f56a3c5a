import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { HullSpec } from '../../geometry/hull/spec.ts';
import { planJob } from '../../src/plan/plan.ts';
import { planFile } from '../../src/plan/planfile.ts';
import { deg, shellOf } from '../geometry/lugs.ts';
import { jobOn } from '../plan/jobs.ts';

/*
 * Series 60 parents of block 0.60 and 0.80 (F. H. Todd, DTMB Report 1712, 1963), 121.92 m between perpendiculars. Read
 * from a folder beside the project, not part of it. Block coefficients computed from the same table elsewhere.
 */

const folder = new URL('../../../shared/hulls/series60/', import.meta.url);
const LPP = 121_920;

/** Offsets in mm: a cell is a fraction of its own waterline's greatest half-breadth, row MaxBm that as a fraction of B/2. */
function offsets(name: string, beam: number, draught: number, every = 1): Extract<HullSpec, { kind: 'offsets' }> {
  const rows = readFileSync(new URL(name, folder), 'utf8')
    .trim()
    .split(/\r?\n/)
    .map((line) => line.split(','));
  const waterlines = (rows[0] as string[]).slice(1, -1).map((w) => Number(w) * draught);
  const most = (rows.find((r) => r[0] === 'MaxBm') as string[]).slice(1, -1).map(Number);
  const stations = rows
    .filter((r) => Number.isFinite(Number(r[0])) && r[0] !== '')
    // Rows run from the forward perpendicular, 0, to the aft one, 20.
    .map((r) => ({
      station: LPP * (1 - Number(r[0]) / 20),
      cells: r.slice(1, -1).map((x, k) => (Number(x) * (most[k] as number) * beam) / 2),
    }))
    .sort((p, q) => p.station - q.station)
    .filter((_, i, list) => i % every === 0 || i === list.length - 1);
  return {
    kind: 'offsets',
    stations: stations.map((s) => s.station),
    waterlines,
    halfBreadths: stations.map((s) => s.cells),
  };
}

/** Area of the half section up to height z, by its drawn line. */
function sectionArea(hull: HullSpec, station: number, z: number): number {
  const line = shellOf(hull).sectionLine(station, 0.5);
  let area = 0;
  for (let k = 1; k < line.length; k++) {
    const [, y0, z0] = line[k - 1] as readonly [number, number, number];
    const [, y1, z1] = line[k] as readonly [number, number, number];
    const t = z1 > z0 ? Math.min(1, Math.max(0, (z - z0) / (z1 - z0))) : 1;
    area += ((y0 + (y0 + t * (y1 - y0))) / 2) * t * (z1 - z0);
  }
  return area;
}

const HULLS = [
  { name: 'cb0p6.csv', block: 0.5974, beam: LPP / 7.5 },
  { name: 'cb0p8.csv', block: 0.7998, beam: LPP / 6.5 },
] as const;

describe.skipIf(!existsSync(folder))(
  'Series 60 from its offset table (skipped without ../shared/hulls/series60)',
  () => {
    for (const { name, block, beam } of HULLS) {
      const draught = beam / 2.5;

      test(`${name}: block coefficient ${block} of the lofted hull`, () => {
        const hull = offsets(name, beam, draught);
        // Simpson along the length, two parts to the closest stations.
        const n = 160;
        let volume = 0;
        for (let i = 0; i <= n; i++) {
          const w = i === 0 || i === n ? 1 : i % 2 === 1 ? 4 : 2;
          volume += (w * 2 * sectionArea(hull, (LPP * i) / n, draught) * (LPP / n)) / 3;
        }
        const got = volume / (LPP * beam * draught);
        console.log(`${name}: block ${got.toFixed(4)} (${block})`);
        expect(Math.abs(got - block)).toBeLessThan(0.002);
        // Midship coefficient .977 of the report (from memory), .9730 by the table, which has no bilge radius.
        const midship = (2 * sectionArea(hull, LPP / 2, draught)) / (beam * draught);
        if (block < 0.7) expect(Math.abs(midship - 0.973)).toBeLessThan(0.005);
        else expect(midship).toBeGreaterThan(0.985);
      });

      test(`${name}: a plumb lug aft on the table and on every other station of it`, () => {
        const at = { station: LPP * 0.225, side: 'port', by: 'height', value: 0.3 * draught } as const;
        const ship = { lpp: LPP, draftAft: draught + 300, draftForward: draught };
        const [full, half] = [1, 2].map((every) => {
          const plan = planJob(jobOn(offsets(name, beam, draught, every), { at, stem: { kind: 'plumb' } }, ship));
          planFile(plan);
          return plan.fittings[0];
        });
        if (!full || !half) throw new Error('no fitting');
        // Aft the shell rises outboard and narrows aft: outward normal down and aft, bevel with the rise, keel side first.
        expect(full.anchor.normal[2]).toBeLessThan(0);
        expect(full.anchor.normal[0]).toBeLessThan(0);
        expect(deg(full.fit.straight.bevel)).toBeLessThan(0);
        expect(full.sequence.start.side).not.toBe('face+');
        expect(full.sequence.finish.side).not.toBe('face-');
        expect(full.sequence.sealedLength).toBeLessThanOrEqual(5);
        // The faces' dihedrals add up to 180 within the turn of the shell through the plate.
        const mean = (side: string) => deg(full.weld.sides.find((s) => s.side === side)?.dihedral ?? 0);
        expect(Math.abs(mean('face-') + mean('face+') - 180)).toBeLessThan(2);
        expect(full.fit.straight.maxGap).toBeLessThan(10);
        // With half the stations the shell between them is another guess: how far apart the two are, and no farther.
        const off = {
          place: Math.hypot(...full.anchor.position.map((x, d) => x - (half.anchor.position[d] as number))),
          bevel: deg(full.fit.straight.bevel - half.fit.straight.bevel),
          slope: deg(full.slope - half.slope),
          gap: full.fit.straight.maxGap - half.fit.straight.maxGap,
        };
        console.log(
          `${name}: every other station moves place ${off.place.toFixed(1)} mm, bevel ${off.bevel.toFixed(2)} deg, slope ${off.slope.toFixed(2)} deg, gap ${off.gap.toFixed(2)} mm; bevel ${deg(full.fit.straight.bevel).toFixed(2)} deg, gap ${full.fit.straight.maxGap.toFixed(2)} mm`,
        );
        expect(off.place).toBeLessThan(60);
        expect(Math.abs(off.bevel)).toBeLessThan(2);
        expect(Math.abs(off.slope)).toBeLessThan(2);
        expect(Math.abs(off.gap)).toBeLessThan(1);
      });
    }
  },
);
