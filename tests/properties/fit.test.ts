import { describe, expect, test } from 'vitest';
import { stemGap } from '../../geometry/fit/cuts.ts';
import { vecAt } from '../../geometry/fit/rootline.ts';
import { newHit } from '../../geometry/hull/shell.ts';
import { minimaxPlane } from '../../geometry/math/minimax.ts';
import { angleBetween } from '../../geometry/math/vec.ts';
import { deg, type Standing } from '../geometry/lugs.ts';
import { forLugs } from './arbitrary.ts';

/* What must hold of any foot on any shell. */

const SEED = 20_260_301;
const CUTS = ['square', 'straight', 'faceted', 'scribed'] as const;

/** Places all over the foot, not on its grid. */
function* places({ field }: Standing, n: number, m: number) {
  for (let i = 0; i <= n; i++) {
    for (let j = 0; j <= m; j++)
      yield [field.halfFoot * ((2 * i) / n - 1), field.halfThickness * ((2 * j) / m - 1)] as const;
  }
}

describe(`Cuts (seed ${SEED})`, () => {
  test('no cut enters the shell, none gapes wider than it says', () => {
    forLugs(80, SEED, (lug) => {
      for (const name of CUTS) {
        const cut = lug.cuts[name];
        let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
        for (const [a, c] of places(lug, 47, 9)) {
          const gap = stemGap(lug.field, cut.surface, a, c);
          least = Math.min(least, gap);
          most = Math.max(most, gap);
        }
        expect(least, name).toBeGreaterThan(-1e-6);
        expect(most, name).toBeLessThan(cut.maxGap + 1e-6);
      }
    });
  });

  test('the simpler the cut, the wider it gapes; the root opening is never wider than the stem gap', () => {
    forLugs(80, SEED + 1, ({ cuts }, _, { tolerance = 0 }) => {
      const { square, straight, faceted } = cuts;
      expect(square.maxGap).toBeGreaterThan(straight.maxGap - 1e-6);
      expect(straight.maxGap).toBeGreaterThan(faceted.maxGap - 1e-6);
      if (faceted.withinTolerance) expect(faceted.maxGap).toBeLessThan(tolerance + 1e-6);
      for (const name of CUTS) expect(cuts[name].maxRootOpening, name).toBeLessThan(cuts[name].maxGap + 1e-9);
    });
  });

  test('no plane does better than the straight cut: a minimax plane of four times as many samples', () => {
    forLugs(40, SEED + 2, (lug) => {
      const hit = newHit();
      const [a, c, f]: [number[], number[], number[]] = [[], [], []];
      for (const [x, y] of places(lug, 120, 16)) {
        lug.field.cast(x, y, hit);
        a.push(x);
        c.push(y);
        f.push(hit.f);
      }
      const best = minimaxPlane({ a, c, f, count: a.length }, [0, 120 * 17, 120 * 17 + 16, 16], 1e-9);
      expect(2 * best.error).toBeGreaterThan(lug.cuts.straight.maxGap - 5e-3);
      expect(2 * best.error).toBeLessThan(lug.cuts.straight.maxGap + 1e-5);
    });
  });

  test('no division of the foot into fewer facets keeps the tolerance: every division on a fine grid of joints', () => {
    let several = 0;
    forLugs(25, SEED + 3, (lug, _, { tolerance = 0 }) => {
      const { facets, withinTolerance } = lug.cuts.faceted;
      if (!withinTolerance || facets.length > 6) return;
      if (facets.length > 1) several++;
      const [n, m] = [48, 9];
      const hit = newHit();
      const [a, c, f]: [number[], number[], number[]] = [[], [], []];
      for (const [x, y] of places(lug, n, m - 1)) {
        lug.field.cast(x, y, hit);
        a.push(x);
        c.push(y);
        f.push(hit.f);
      }
      const samples = { a, c, f, count: a.length };
      const keeps = (i: number, j: number) =>
        2 * minimaxPlane(samples, [i * m, j * m, j * m + m - 1, i * m + m - 1], 1e-9, i * m, (j + 1) * m).error <=
        tolerance;
      // fewest[j]: facets that cover columns 0..j, a joint at column j.
      const fewest = new Int32Array(n + 1).fill(99);
      fewest[0] = 0;
      for (let j = 1; j <= n; j++) {
        for (let i = 0; i < j; i++) {
          if ((fewest[i] as number) + 1 < (fewest[j] as number) && keeps(i, j)) fewest[j] = (fewest[i] as number) + 1;
        }
      }
      expect(fewest[n]).toBeGreaterThanOrEqual(facets.length);
    });
    expect(several).toBeGreaterThan(3);
  });
});

describe(`Root line (seed ${SEED})`, () => {
  test('it closes, s grows by the distance, every height lies between lowest and highest', () => {
    forLugs(80, SEED + 4, ({ root, joint, sequence }) => {
      const [first, last] = [vecAt(root.position, 0), vecAt(root.position, root.count - 1)];
      expect(Math.hypot(...first.map((x, d) => x - (last[d] as number)))).toBeLessThan(1e-7);
      for (let k = 1; k < root.count; k++) {
        const [p, q] = [vecAt(root.position, k - 1), vecAt(root.position, k)];
        const chord = Math.hypot(...p.map((x, d) => x - (q[d] as number)));
        const ds = (root.s[k] as number) - (root.s[k - 1] as number);
        expect(ds).toBeGreaterThan(chord - 1e-6);
        expect(ds).toBeLessThan(1.01 * chord + 1e-3);
        expect(chord).toBeLessThan(10 + 1e-9);
      }
      for (const p of joint.points) {
        expect(p.height).toBeGreaterThan(joint.lowest.height - 1e-9);
        expect(p.height).toBeLessThan(joint.highest.height + 1e-9);
      }
      const runs = sequence.runs.map((r) => [Math.min(r.fromS, r.toS), Math.max(r.fromS, r.toS)] as const);
      runs.sort((p, q) => p[0] - q[0]);
      let at = runs[0]?.[0] as number;
      for (const [lo, hi] of runs) {
        expect(Math.abs(lo - at)).toBeLessThan(1e-9);
        at = hi;
      }
      expect(Math.abs(at - (runs[0]?.[0] as number) - joint.perimeter)).toBeLessThan(1e-9);
      expect(sequence.sealedLength).toBeLessThan(5);
    });
  });

  test('dihedrals of the two faces at the same place along the foot sum to 180, less or more at most the turn of the shell between', () => {
    forLugs(80, SEED + 5, ({ root, joint }) => {
      const plus = new Map<string, number[]>();
      joint.points.forEach((p, k) => {
        if (p.side === 'face+') plus.set(p.a.toFixed(9), [...(plus.get(p.a.toFixed(9)) ?? []), k]);
      });
      joint.points.forEach((p, k) => {
        if (p.side !== 'face-') return;
        for (const other of plus.get(p.a.toFixed(9)) ?? []) {
          const turn = angleBetween(vecAt(root.normal, k), vecAt(root.normal, other));
          const sum = p.dihedral + (joint.points[other]?.dihedral ?? 0);
          expect(Math.abs(deg(sum) - 180)).toBeLessThan(deg(turn) + 1e-6);
        }
      });
    });
  });
});
