import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { add, cross, length, normalize, rotateAbout, scale, sub, type Vec3 } from '../../geometry/math/vec.ts';
import { eigenSymmetric3, type Symmetric3 } from '../../src/strength/symmetric3.ts';
import {
  elasticWeldGroup,
  lineForceAt,
  loadWeldBed,
  polylineQuadrature,
  weldBed,
  worstLineForce,
} from '../../src/strength/weldgroup.ts';

const SEED = { seed: 41_207, numRuns: 60, verbose: true };
const coordinate = fc.double({ min: -400, max: 400, noNaN: true });
const point = fc.tuple(coordinate, coordinate, coordinate);
const load = point.filter((p) => length(p) > 1);
const corners = fc.array(point, { minLength: 4, maxLength: 9 }).filter((list) => {
  const bed = bedOf(list);
  return (
    bed !== null && bed.length > 100 && Math.min(...bed.principal.values) > 1e-3 * Math.max(...bed.principal.values)
  );
});
function bedOf(list: readonly Vec3[]) {
  const q = polylineQuadrature(Float64Array.from(list.flat()), true);
  return q.ds.length > 0 ? weldBed(q.x, q.ds) : null;
}
const groupOf = (list: readonly Vec3[], force: Vec3, at: Vec3) => {
  const q = polylineQuadrature(Float64Array.from(list.flat()), true);
  return { group: elasticWeldGroup(q.x, q.ds, force, at), ...q };
};
const at = (x: Float64Array, i: number): Vec3 => [x[3 * i] as number, x[3 * i + 1] as number, x[3 * i + 2] as number];
const near = (p: Vec3, q: Vec3, size: number): void => expect(length(sub(p, q))).toBeLessThan(1e-7 * (size + 1e-12));

describe('Weld group, what must hold for any weld and load', () => {
  it('equilibrium: q and its moment add up to the load and its moment', () => {
    fc.assert(
      fc.property(corners, load, point, (list, force, pin) => {
        const { group, x, ds } = groupOf(list, force, pin);
        let f: Vec3 = [0, 0, 0];
        let m: Vec3 = [0, 0, 0];
        for (let i = 0; i < ds.length; i++) {
          const r = at(x, i);
          const q = scale(lineForceAt(group, r), ds[i] as number);
          f = add(f, q);
          m = add(m, cross(sub(r, group.centroid), q));
        }
        near(f, force, length(force));
        near(m, cross(sub(pin, group.centroid), force), length(force) * 1000);
        expect(group.uncarried).toBe(0);
      }),
      SEED,
    );
  });

  it('turning everything turns q; moving everything moves nothing; doubling the load doubles q', () => {
    fc.assert(
      fc.property(
        corners,
        load,
        point,
        point,
        fc.double({ min: -3, max: 3, noNaN: true }),
        (list, force, pin, shift, angle) => {
          const axis = normalize(add(shift, [500, 1, 2]));
          const turn = (p: Vec3): Vec3 => rotateAbout(p, axis, angle);
          const plain = groupOf(list, force, pin);
          const turned = groupOf(list.map(turn), turn(force), turn(pin));
          const far: Vec3 = [shift[0] + 60_000, shift[1] - 9000, shift[2]];
          const moved = groupOf(
            list.map((p) => add(p, far)),
            force,
            add(pin, far),
          );
          const doubled = groupOf(list, scale(force, 2), pin);
          const size = worstLineForce(plain.group, plain.x).force;
          for (const r of list) {
            const q = lineForceAt(plain.group, r);
            near(lineForceAt(turned.group, turn(r)), turn(q), size);
            near(lineForceAt(moved.group, add(r, far)), q, size);
            near(lineForceAt(doubled.group, r), scale(q, 2), size);
          }
        },
      ),
      SEED,
    );
  });

  it('port and starboard: the mirrored weld under the mirrored load has the mirrored q', () => {
    const mirror = (p: Vec3): Vec3 => [p[0], -p[1], p[2]];
    fc.assert(
      fc.property(corners, load, point, (list, force, pin) => {
        const plain = groupOf(list, force, pin);
        const other = groupOf(list.map(mirror), mirror(force), mirror(pin));
        const size = worstLineForce(plain.group, plain.x).force;
        for (const r of list) near(lineForceAt(other.group, mirror(r)), mirror(lineForceAt(plain.group, r)), size);
      }),
      SEED,
    );
  });

  it('no side load on a straight foot: both toes carry alike', () => {
    const list: Vec3[] = [
      [-155, -17.5, 0],
      [155, -17.5, 0],
      [155, 17.5, 0],
      [-155, 17.5, 0],
    ];
    const { group } = groupOf(list, [18_000, 0, 108_000], [0, 0, 215]);
    for (const x of [-155, -40, 80, 155]) {
      expect(length(lineForceAt(group, [x, -17.5, 0]))).toBeCloseTo(length(lineForceAt(group, [x, 17.5, 0])), 9);
    }
  });

  it('a side load bends the foot across: the toe on its tension side carries more (closed form on a rectangle)', () => {
    const [b, t, h, f] = [310, 35, 215, 9000];
    const list: Vec3[] = [
      [-b / 2, -t / 2, 0],
      [b / 2, -t / 2, 0],
      [b / 2, t / 2, 0],
      [-b / 2, t / 2, 0],
    ];
    const { group } = groupOf(list, [0, f, 0], [0, 0, h]);
    // Section modulus of the rectangle as a line, about its long axis: b t + t^2/3.
    const q = (f * h) / (b * t + t ** 2 / 3);
    expect(lineForceAt(group, [0, -t / 2, 0])[2]).toBeCloseTo(q, 9);
    expect(lineForceAt(group, [0, t / 2, 0])[2]).toBeCloseTo(-q, 9);
  });
});

describe('Welds that cannot carry every moment', () => {
  const line = polylineQuadrature(Float64Array.from([0, 0, 0, 200, 100, 50]), false);

  it('a straight weld in a slanting direction: the moment about itself is reported, the rest carried', () => {
    const axis = normalize([200, 100, 50]);
    const force: Vec3 = [0, 1000, 0];
    const pin: Vec3 = [100, 50, 125];
    const g = elasticWeldGroup(line.x, line.ds, force, pin);
    const m = cross(sub(pin, g.centroid), force);
    expect(g.uncarried).toBeCloseTo(Math.abs(m[0] * axis[0] + m[1] * axis[1] + m[2] * axis[2]), 4);
    expect(g.uncarried).toBeGreaterThan(1);
  });

  it('a straight weld pulled through a point of its own line carries it', () => {
    const g = elasticWeldGroup(line.x, line.ds, [0, 1000, 0], [40, 20, 10]);
    expect(g.uncarried).toBe(0);
  });

  it('a weld on a single point carries no moment', () => {
    const g = elasticWeldGroup(Float64Array.from([1, 2, 3]), Float64Array.from([5]), [0, 0, 10], [3, 2, 3]);
    expect(g.uncarried).toBeCloseTo(20, 9);
    expect(g.u[2]).toBe(2);
  });

  it('no length, or arrays that do not match, is refused', () => {
    expect(() => weldBed(new Float64Array(3), new Float64Array(1))).toThrow(RangeError);
    expect(() => weldBed(new Float64Array(3), new Float64Array(2))).toThrow(RangeError);
    expect(() => weldBed(Float64Array.from([1, Number.NaN, 0]), Float64Array.from([Number.NaN]))).toThrow(RangeError);
  });
});

describe('Eigenvalues of a symmetric 3 x 3', () => {
  it('M v = lambda v, the vectors square to each other, the trace kept', () => {
    const n = fc.double({ min: -100, max: 100, noNaN: true });
    fc.assert(
      fc.property(fc.tuple(n, n, n, n, n, n), (m) => {
        const [xx, yy, zz, xy, yz, zx] = m as Symmetric3;
        const { values, vectors } = eigenSymmetric3([xx, yy, zz, xy, yz, zx]);
        const size = Math.hypot(...m) + 1e-300;
        for (let k = 0; k < 3; k++) {
          const v: Vec3 = [vectors[k] as number, vectors[3 + k] as number, vectors[6 + k] as number];
          const mv: Vec3 = [
            xx * v[0] + xy * v[1] + zx * v[2],
            xy * v[0] + yy * v[1] + yz * v[2],
            zx * v[0] + yz * v[1] + zz * v[2],
          ];
          expect(length(sub(mv, scale(v, values[k] as number))) / size).toBeLessThan(1e-12);
          expect(Math.abs(length(v) - 1)).toBeLessThan(1e-12);
        }
        expect(Math.abs(values[0] + values[1] + values[2] - (xx + yy + zz)) / size).toBeLessThan(1e-12);
      }),
      SEED,
    );
  });
});

it('a sweep of 1000 load directions over a root of 700 points stays under 200 ms', () => {
  const list = Array.from({ length: 700 }, (_, i): Vec3 => {
    const t = (2 * Math.PI * i) / 700;
    return [155 * Math.cos(t), 17.5 * Math.sin(t), 5 * Math.cos(3 * t)];
  });
  const vertices = Float64Array.from(list.flat());
  const { x, ds } = polylineQuadrature(vertices, true);
  const start = performance.now();
  const bed = weldBed(x, ds);
  let most = 0;
  for (let i = 0; i < 1000; i++) {
    const t = i * 0.01;
    const g = loadWeldBed(bed, [1e4 * Math.sin(t), 5e3 * Math.cos(t), -1e5], [0, 0, 215]);
    most = Math.max(most, worstLineForce(g, vertices).force);
  }
  expect(most).toBeGreaterThan(1e5 / bed.length);
  expect(performance.now() - start).toBeLessThan(200);
});
