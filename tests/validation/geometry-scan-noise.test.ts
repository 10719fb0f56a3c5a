import { expect, test } from 'vitest';
import { LocalFit } from '../../geometry/hull/localfit.ts';
import { StationIndex, Triangles } from '../../geometry/hull/triangles.ts';
import type { Vec3 } from '../../geometry/math/vec.ts';
import { cylinderAt, normalNumbers, triangleList } from '../hull/meshes.ts';

/*
 * How far the bevel on a scan is off, by the noise of its points and by the radius of the patch: a shell of 2 m radius (closed
 * form), a point every 8 mm, noise free from point to point. The table that the README prints.
 */

const R = 2000;
const GIRTH = 1200;
const ANGLE = GIRTH / R;
const ABOUT: Vec3 = [10_000, R * Math.sin(ANGLE), R * (1 - Math.cos(ANGLE))];
const OUT: Vec3 = [0, Math.sin(ANGLE), -Math.cos(ANGLE)];
const ALONG: Vec3 = [0, Math.cos(ANGLE), Math.sin(ANGLE)];
const REPEATS = 8;
const deg = (x: number) => (x * 180) / Math.PI;

/** Error of the slope along the girth at the place, and the standard error the fit says of itself; degrees, root mean square. */
function errors(sigma: number, patch: number): { off: number; stated: number } {
  let off = 0;
  let stated = 0;
  for (let k = 0; k < REPEATS; k++) {
    const g = normalNumbers(400 + k);
    const reach = patch + 20;
    const list = triangleList({
      at: cylinderAt(R),
      x: [10_000 - reach, 10_000 + reach],
      s: [GIRTH - reach, GIRTH + reach],
      step: [8, 8],
      ripple: () => sigma * g(),
    });
    const triangles = new Triangles(
      Float32Array.from(list, (v, i) => v - (ABOUT[i % 3] as number)),
      ABOUT,
      'noise',
    );
    const fit = new LocalFit(triangles, new StationIndex(triangles), ABOUT, OUT, patch, 1);
    const { hu, hv } = fit.height(0, 0);
    const n = [0, 1, 2].map((i) => (fit.n0[i] as number) - hu * (fit.e1[i] as number) - hv * (fit.e2[i] as number));
    const tilt = n.reduce((sum, x, i) => sum + x * (ALONG[i] as number), 0) / Math.hypot(...n);
    off += deg(Math.asin(tilt)) ** 2 / REPEATS;
    stated += deg(1) ** 2 * (fit.slopeVariance(ALONG) / REPEATS);
  }
  return { off: Math.sqrt(off), stated: Math.sqrt(stated) };
}

test('bevel error against noise and patch: printed, bounded, and as large as the scan itself says', () => {
  const patches = [160, 220, 300, 400];
  const lines = [0.2, 0.5, 1, 2].map((sigma) => {
    const row = patches.map((patch) => {
      const { off, stated } = errors(sigma, patch);
      // A tilted plane through n points in a disc: sigma / (r sqrt(n) / 2), n = pi r^2 / 64 mm^2 (closed form); the surface has
      // more freedom, its points weigh less to the rim, and a power more costs some: up to three times that.
      const plane = deg((2 * sigma * 8) / (Math.sqrt(Math.PI) * patch * patch));
      expect(off, `${sigma} mm, patch ${patch}`).toBeLessThan(4 * plane);
      // Eight repeats tell a standard deviation to a quarter.
      expect(off / stated, `${sigma} mm, patch ${patch}`).toBeLessThan(1.8);
      expect(off / stated, `${sigma} mm, patch ${patch}`).toBeGreaterThan(0.35);
      return off.toFixed(3);
    });
    return `| ${sigma} mm | ${row.join(' | ')} |`;
  });
  console.log(['bevel error, RMS in degrees, by noise and patch (160, 220, 300, 400 mm)', ...lines].join('\n'));
}, 120_000);
