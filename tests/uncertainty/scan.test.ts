import { describe, expect, test } from 'vitest';
import { shellFrom } from '../../geometry/hull/from.ts';
import { MeshShell } from '../../geometry/hull/mesh.ts';
import { shakenMesh, shakenPlaces } from '../../geometry/hull/shakenmesh.ts';
import { planJob } from '../../src/plan/plan.ts';
import { sampleFigures, uncertaintyFrom, uncertaintyOf, worthSampling } from '../../src/plan/uncertainty.ts';
import { cylinderAt, meshSpec, normalNumbers, triangleList } from '../hull/meshes.ts';
import { jobOn } from '../plan/jobs.ts';

/* What a scan's own scatter leaves open, against the shell it was taken from: closed form (a circular cylinder). */

const R = 1500;
/** Place by its height: girth 900 of the circle. */
const ANGLE = 900 / R;
const HEIGHT = R * (1 - Math.cos(ANGLE));
const T = 30;
/** Rise of the circle over the thickness of a plumb plate, foot fore and aft (closed form). */
const heightAt = (y: number) => R - Math.sqrt(R * R - y * y);
const y0 = R * Math.sin(ANGLE);
const BEVEL = Math.atan((heightAt(y0 + T / 2) - heightAt(y0 - T / 2)) / T);

function planOn(ripple: (x: number, s: number) => number, side: 'port' | 'starboard' = 'port') {
  const list = triangleList({ at: cylinderAt(R), x: [9650, 10_350], s: [500, 1300], step: [10, 10], ripple });
  const places = [{ station: 10_000, side, by: 'height', value: HEIGHT }];
  return planJob(
    jobOn(meshSpec(list, { station: 10_000, girth: 0 }, { places }), {
      at: { side, by: 'height', value: HEIGHT },
      lug: { foot: 300, thickness: T },
      stem: { kind: 'plumb' },
    }),
  );
}

/** Independent from corner to corner, of the given standard deviation. */
function free(seed: number, sigma: number) {
  const g = normalNumbers(seed);
  return () => sigma * g();
}

/** Ripple whose neighbours stray together: noise on a net of 15 mm, straight in between (its root mean square is 2/3 of the nodes'). */
function tied(seed: number, sigma: number) {
  const g = normalNumbers(seed);
  const net = Array.from({ length: 80 * 80 }, () => sigma * 1.5 * g());
  return (x: number, s: number) => {
    const [p, q] = [(x - 9600) / 15, (s - 400) / 15];
    const [i, j] = [Math.floor(p), Math.floor(q)];
    const [u, v] = [p - i, q - j];
    const at = (k: number, l: number) => net[k * 80 + l] as number;
    return (1 - u) * ((1 - v) * at(i, j) + v * at(i, j + 1)) + u * ((1 - v) * at(i + 1, j) + v * at(i + 1, j + 1));
  };
}

describe('coverage by repetition', () => {
  const REPEATS = 30;
  test.each([
    ['scatter free from corner to corner, 1 mm', free, 1],
    ['scatter free from corner to corner, 3 mm', free, 3],
    ['ripple whose neighbours stray together, 1 mm', tied, 1],
  ] as const)(
    'the true bevel lies within the stated limits: %s',
    (_, make, sigma) => {
      let within = 0;
      let squares = 0;
      let stated = 0;
      for (let k = 0; k < REPEATS; k++) {
        const plan = planOn(make(1000 + k, sigma));
        const got = uncertaintyOf(plan, { samples: 200 })?.fittings[0];
        if (got === undefined) throw new Error('not sampled');
        const { low, high, mean, deviation } = got.bevel;
        const [least, most] = [Math.min(Math.abs(low), Math.abs(high)), Math.max(Math.abs(low), Math.abs(high))];
        if (BEVEL >= least && BEVEL <= most) within++;
        squares += (Math.abs(mean) - BEVEL) ** 2 / REPEATS;
        stated += deviation / REPEATS;
      }
      const deg = (x: number) => ((x * 180) / Math.PI).toFixed(4);
      const told = `${within} of ${REPEATS} within; error ${deg(Math.sqrt(squares))} deg RMS, stated ${deg(stated)}`;
      // 0.95 of 30 is 28.5, standard deviation 1.2: three of them below.
      expect(within, told).toBeGreaterThanOrEqual(25);
      // And not by saying too much: stated and true error are alike.
      expect(stated / Math.sqrt(squares), told).toBeLessThan(1.8);
    },
    120_000,
  );
});

describe('what is sampled of a scan', () => {
  test('a clean scan has nothing to say, a rough one has, without any ±', () => {
    expect(worthSampling(planOn(() => 0))).toBe(false);
    const plan = planOn(free(5, 2));
    expect(worthSampling(plan)).toBe(true);
    const got = uncertaintyOf(plan, { samples: 500 })?.fittings[0];
    expect(got?.inputs.map((i) => i.path)).toEqual(['ship.hull.file']);
    // All there is comes from the scan: for a figure that is linear in it the shares sum to one.
    expect(got?.inputs[0]?.bevel).toBeGreaterThan(0.9);
    expect(got?.missed).toBe(0);
  });

  test('no draw moved by nothing: the sample is the plan', () => {
    const plan = planOn(free(6, 1));
    const { hull } = plan.job.ship;
    const shell = shellFrom(hull);
    if (!(shell instanceof MeshShell)) throw new Error('no mesh');
    const at = plan.fittings[0]?.input.at;
    const anchor = shell.pointAt(10_000, shell.girthAt(10_000, 'height', HEIGHT, 'port'), 'port');
    expect(at?.by).toBe('height');
    // Free of the section's ripple: the place stands at the height that was asked for.
    expect(anchor.position[2]).toBeCloseTo(HEIGHT, 6);
    const still = shakenMesh(shell, shakenPlaces(shell), (_, n) => new Float64Array(n));
    const again = still.pointAt(10_000, still.girthAt(10_000, 'height', HEIGHT, 'port'), 'port');
    for (const k of [0, 1, 2] as const) {
      expect(again.position[k]).toBeCloseTo(anchor.position[k], 6);
      expect(again.normal[k]).toBeCloseTo(anchor.normal[k], 9);
    }
  });

  test('starboard of a half model is the mirror image, sample by sample', () => {
    const port = sampleFigures(planOn(free(8, 1)), 5, 0, 30);
    const starboard = sampleFigures(planOn(free(8, 1), 'starboard'), 5, 0, 30);
    for (let i = 0; i < 30; i++) {
      expect(starboard[4 * i]).toBeCloseTo(-(port[4 * i] as number), 9);
      expect(starboard[4 * i + 1]).toBeCloseTo(port[4 * i + 1] as number, 6);
    }
  });

  test('shared out between threads the samples are the same', () => {
    const plan = planOn(free(7, 1));
    const whole = sampleFigures(plan, 5, 0, 40);
    const parts = [sampleFigures(plan, 5, 0, 13), sampleFigures(plan, 5, 13, 40)];
    expect([...(parts[0] as Float64Array), ...(parts[1] as Float64Array)]).toEqual([...whole]);
    expect(uncertaintyFrom(plan, 5, whole).samples).toBe(40);
  });
});
