import fc from 'fast-check';
import { eigs } from 'mathjs';
import { describe, expect, test } from 'vitest';
import { add, distance, dot, length, scale, type Vec3 } from '../../geometry/math/vec.ts';
import { symmetricEigen } from '../../src/rigging/eigen.ts';
import { type Equilibrium, equilibrium } from '../../src/rigging/equilibrium.ts';
import { type HungLoad, type Line, lengthWithoutLoad, UNHOOKED, weightOf } from '../../src/rigging/load.ts';
import { underPush } from '../../src/rigging/movement.ts';
import { NO_TURN, type Pose, placeOf, turnBetween, turned, turnFurther } from '../../src/rigging/pose.ts';
import { drawnPose, energyAt, type HungSystem, hungSystem, slopeAt } from '../../src/rigging/system.ts';
import { dry, line, ROPE, STIFF, UP } from './loads.ts';

const RUNS = { numRuns: 60 };

function rest(system: HungSystem, lengths: readonly number[], from: Pose = drawnPose(system)): Equilibrium {
  const result = equilibrium(system, lengths, from);
  if (!result.found) throw new Error(result.why);
  return result.equilibrium;
}

/** A load of some tonnes on two to six ropes, drawn near to where it will hang. */
const hung = fc
  .record({
    weight: fc.double({ min: 5e3, max: 3e5, noNaN: true }),
    afloat: fc.double({ min: 0, max: 0.6, noNaN: true }),
    count: fc.integer({ min: 1, max: 6 }),
    noise: fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 60, maxLength: 60 }),
  })
  .map(({ weight, afloat, count, noise }) => {
    const n = (k: number): number => noise[k] as number;
    const load: HungLoad = {
      weight,
      buoyancy: afloat * weight,
      centre: [100 * n(0), 100 * n(1), -3000 + 200 * n(2)],
      buoyancyCentre: [100 * n(3), 100 * n(4), -3000 + 200 * n(5)],
    };
    const lines: Line[] = Array.from({ length: count }, (_, i) => {
      const a = (2 * Math.PI * i) / count;
      const k = 6 + 6 * i;
      return line(
        String(i + 1),
        [1500 * Math.cos(a) + 300 * n(k), 1500 * Math.sin(a) + 300 * n(k + 1), 100 * n(k + 2)],
        [900 * Math.cos(a) + 200 * n(k + 3), 900 * Math.sin(a) + 200 * n(k + 4), -2200 + 200 * n(k + 5)],
      );
    });
    const up: Vec3 = scale([0.01 * n(50), 0.03 * n(51), 1], 1 / Math.hypot(0.01 * n(50), 0.03 * n(51), 1));
    const lengths = lines.map((l, i) => distance(l.pin, l.attachment) * (1 + 0.05 * n(52 + i)));
    return { load, lines, up, lengths };
  });

describe('eigenvalues', () => {
  test('against a general-purpose library (mathjs)', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: -5, max: 5, noNaN: true }), { minLength: 21, maxLength: 21 }), (half) => {
        const rows = Array.from({ length: 6 }, () => new Array<number>(6).fill(0));
        let k = 0;
        for (let i = 0; i < 6; i++)
          for (let j = 0; j <= i; j++) {
            const x = half[k++] as number;
            (rows[i] as number[])[j] = x;
            (rows[j] as number[])[i] = x;
          }
        const got = symmetricEigen(Float64Array.from(rows.flat()), 6);
        const want = (eigs(rows, { eigenvectors: false }).values as number[]).toSorted((a, b) => a - b);
        got.values.forEach((value, i) => {
          expect(value).toBeCloseTo(want[i] as number, 9);
          const v = got.vectors[i] as Float64Array;
          rows.forEach((row, r) => {
            expect(row.reduce((sum, x, c) => sum + x * (v[c] as number), 0)).toBeCloseTo(value * (v[r] as number), 9);
          });
        });
      }),
      { numRuns: 30 },
    );
  });
});

describe('energy, slope and second derivatives', () => {
  test('slope and second derivatives against differences of the energy', () => {
    fc.assert(
      fc.property(hung, fc.double({ min: -0.3, max: 0.3, noNaN: true }), ({ load, lines, up, lengths }, lean) => {
        const push = { force: [500, -300, 200] as Vec3, at: add(load.centre, [300, 200, -100]) };
        const system = hungSystem(load, lines, up, [push]);
        const taut = lengths.map((L) => 0.97 * L);
        const pose: Pose = { centre: add(load.centre, [20, -30, 40]), turn: turnFurther(NO_TURN, [lean, 0.1, -lean]) };
        const slope = new Float64Array(6);
        const second = new Float64Array(36);
        slopeAt(system, taut, pose, slope, second);
        const at = (x: readonly number[]): number =>
          energyAt(system, taut, {
            centre: add(pose.centre, [x[0] as number, x[1] as number, x[2] as number]),
            turn: turnFurther(pose.turn, scale([x[3] as number, x[4] as number, x[5] as number], 1 / system.size)),
          });
        const h = 0.5;
        const unit = (i: number, k: number): number[] => [0, 1, 2, 3, 4, 5].map((j) => (j === i ? k : 0));
        const plus = (p: number[], q: number[]): number[] => p.map((x, i) => x + (q[i] as number));
        const most = Math.max(...slope.map(Math.abs));
        const stiffest = Math.max(...second.map(Math.abs));
        const nearKink = lines.some((l, i) => {
          const d = distance(l.pin, placeOf(pose, load.centre, l.attachment));
          return Math.abs(d - (taut[i] as number)) < 4;
        });
        if (nearKink) return;
        for (let i = 0; i < 6; i++) {
          const d = (at(unit(i, h)) - at(unit(i, -h))) / (2 * h);
          expect(Math.abs(d - (slope[i] as number))).toBeLessThan(1e-5 * most + 1e-4 * stiffest * h);
          for (let j = 0; j < 6; j++) {
            const dd =
              (at(plus(unit(i, h), unit(j, h))) -
                at(plus(unit(i, h), unit(j, -h))) -
                at(plus(unit(i, -h), unit(j, h))) +
                at(plus(unit(i, -h), unit(j, -h)))) /
              (4 * h * h);
            expect(Math.abs(dd - (second[i * 6 + j] as number))).toBeLessThan(2e-4 * stiffest);
          }
        }
      }),
      RUNS,
    );
  });
});

describe('the load at rest', () => {
  test('forces and moments balance, summed anew from the lines', () => {
    fc.assert(
      fc.property(hung, ({ load, lines, up, lengths }) => {
        const system = hungSystem(load, lines, up);
        const e = rest(system, lengths);
        let force = scale(up, load.buoyancy - load.weight);
        const B = placeOf(e.pose, load.centre, load.buoyancyCentre);
        const W = e.pose.centre;
        const moment = (p: Vec3, f: Vec3): Vec3 => [
          p[1] * f[2] - p[2] * f[1],
          p[2] * f[0] - p[0] * f[2],
          p[0] * f[1] - p[1] * f[0],
        ];
        let turning = add(moment(B, scale(up, load.buoyancy)), moment(W, scale(up, -load.weight)));
        lines.forEach((l, i) => {
          const end = placeOf(e.pose, load.centre, l.attachment);
          const d = distance(l.pin, end);
          const L = lengths[i] as number;
          const T = Math.max(0, (2e7 * (d - L)) / L);
          expect(e.lines[i]?.tension).toBeCloseTo(T, 4);
          const f = scale([l.pin[0] - end[0], l.pin[1] - end[1], l.pin[2] - end[2]], T / d);
          force = add(force, f);
          turning = add(turning, moment(end, f));
        });
        expect(length(force) / system.net).toBeLessThan(1e-6);
        expect(length(turning) / (system.net * system.size)).toBeLessThan(1e-6);
      }),
      { numRuns: 300 },
    );
  });

  test('no other pose near by has less energy: minimised by another method (downhill simplex, no derivatives)', () => {
    fc.assert(
      fc.property(hung, ({ load, lines, up, lengths }) => {
        const system = hungSystem(load, lines, up);
        const e = rest(system, lengths);
        const at = (x: readonly number[]): number =>
          energyAt(system, lengths, {
            centre: add(load.centre, [x[0] as number, x[1] as number, x[2] as number]),
            turn: turnFurther(NO_TURN, scale([x[3] as number, x[4] as number, x[5] as number], 1 / system.size)),
          });
        const found = downhill(at, [0, 0, 0, 0, 0, 0], 150);
        const here = energyAt(system, lengths, e.pose);
        // The simplex may stop a little short of the minimum; it must not get below what was called one.
        expect(here).toBeLessThanOrEqual(found.value + 1e-6 * system.net);
        expect(found.value - here).toBeLessThan(0.5 * system.net);
        // Heights agree: the weight hangs where the other method puts it (within 1 mm; other directions may be free).
        expect(
          Math.abs(
            dot(up, add(load.centre, [found.x[0] as number, found.x[1] as number, found.x[2] as number])) -
              dot(up, e.pose.centre),
          ),
        ).toBeLessThan(1);
      }),
      { numRuns: 25 },
    );
  }, 60_000);

  test('a plain pendulum: one line, the centre plumb below the pin, the line carries all; it may spin', () => {
    const system = hungSystem(dry(5e4, [300, 0, -2000]), [line('1', [0, 0, 0], [200, 100, -1500])], UP);
    const L = 1400;
    const e = rest(system, [L]);
    const arm = Math.hypot(100, 100, 500);
    expect(e.pose.centre[0]).toBeCloseTo(0, 6);
    expect(e.pose.centre[1]).toBeCloseTo(0, 6);
    expect(e.pose.centre[2]).toBeCloseTo(-(L * (1 + 5e4 / 2e7) + arm), 6);
    expect(e.lines[0]?.tension).toBeCloseTo(5e4, 6);
    expect(e.stability.kind).toBe('neutral');
    expect(e.stability.free).toHaveLength(1);
    // Free is the spin about plumb: no move of the centre, the turn along up.
    const [spin] = e.stability.free;
    expect(Math.abs(dot(scale(spin?.turn ?? [0, 0, 0], 1 / length(spin?.turn ?? [0, 0, 1])), UP))).toBeCloseTo(1, 9);
  });

  test('a pushed pendulum stands at tan(angle) = push / weight, its line at the root of the sum of squares', () => {
    const [W, F] = [4e4, 1e4];
    const centre: Vec3 = [0, 0, -3000];
    const system = hungSystem(dry(W, centre), [line('1', [0, 0, 0], centre, STIFF)], UP);
    const still = rest(system, [3000]);
    const { rest: pushed, swing } = underPush(system, [3000], still, [F, 0, 0], centre);
    if (!pushed.found) throw new Error(pushed.why);
    const T = Math.hypot(W, F);
    const l = 3000 * (1 + T / 1e10);
    const c = pushed.equilibrium.pose.centre;
    expect(c[0]).toBeCloseTo((l * F) / T, 5);
    expect(c[2]).toBeCloseTo((-l * W) / T, 5);
    expect(pushed.equilibrium.lines[0]?.tension).toBeCloseTo(T, 5);
    expect(swing.distance).toBeCloseTo(distance(c, still.pose.centre), 9);
  });

  test('a load in water hangs with the resultant of weight and buoyancy under its line', () => {
    // Box of 8 t and 2 m^3 in sea water, lifted at one point; centre of buoyancy 400 mm forward of that of gravity, same height.
    const W = weightOf(8000);
    const B = 2 * 1025 * 9.80665;
    const load: HungLoad = { weight: W, buoyancy: B, centre: [0, 0, -3000], buoyancyCentre: [400, 0, -3000] };
    // The resultant acts at x = -B 400 / (W - B): a pick straight above it lets the box hang level.
    const x = (-B * 400) / (W - B);
    const e = rest(hungSystem(load, [line('1', [x, 0, 0], [x, 0, -2500], STIFF)], UP), [2500]);
    expect(length(turnBetween(NO_TURN, e.pose.turn))).toBeLessThan(1e-6);
    expect(e.lines[0]?.tension).toBeCloseTo(W - B, 5);
    // A pick above the centre of gravity instead: it leans until tan = 400 B / (500 (W - B)), by moments about the pick:
    // W 500 sin - B (500 sin + 400 cos) = 0 with the nose up.
    const leans = rest(hungSystem(load, [line('1', [0, 0, 0], [0, 0, -2500], STIFF)], UP), [2500]);
    expect(length(turnBetween(NO_TURN, leans.pose.turn))).toBeCloseTo(Math.atan((400 * B) / (500 * (W - B))), 6);
    expect(turned(leans.pose.turn, [1, 0, 0])[2]).toBeGreaterThan(0);
  });

  test('a pendulum set upright falls over, and hangs', () => {
    const centre: Vec3 = [0, 0, 3000];
    const system = hungSystem(dry(4e4, centre), [line('1', [0, 0, 0], centre)], UP);
    const L = lengthWithoutLoad(ROPE, 3000, -4e4);
    const e = rest(system, [L * 0.99], { centre: [0, 0, 2995], turn: NO_TURN });
    expect(e.pose.centre[2]).toBeLessThan(-2900);
    expect(e.stability.kind).not.toBe('unstable');
  });

  test('a beam hung below its own weight turns over', () => {
    // Attachments 200 mm below the centre of gravity: it stands only until something touches it.
    const system = hungSystem(
      dry(2e4, [0, 0, -2000]),
      [line('1', [-1000, 0, 0], [-1000, 0, -2200]), line('2', [1000, 0, 0], [1000, 0, -2200])],
      UP,
    );
    const e = rest(system, [2195, 2195]);
    expect(e.pose.centre[2]).toBeLessThan(-2350);
    expect(e.stability.kind).toBe('stable');
    // Its least stiffness is that of swinging or of heeling about the attachments: both positive now.
    expect(e.stability.least).toBeGreaterThan(0);
  });

  test('slack lines pull nothing, and a line that is off is as if it were not there', () => {
    const two = [line('1', [-1000, 0, 0], [-800, 0, -2000]), line('2', [1000, 0, 0], [800, 0, -2000])];
    const third = line('3', [0, 500, 0], [0, 100, -2000]);
    const load = dry(6e4, [50, 0, -2500]);
    const without = rest(hungSystem(load, two, UP), [2010, 2015]);
    const slack = rest(hungSystem(load, [...two, third], UP), [2010, 2015, 2600]);
    const off = rest(hungSystem(load, [...two, third], UP), [2010, 2015, UNHOOKED]);
    expect(slack.lines[2]?.tension).toBe(0);
    expect(off.lines[2]?.tension).toBe(0);
    for (const e of [slack, off]) {
      expect(distance(e.pose.centre, without.pose.centre)).toBeLessThan(1e-6);
      expect(e.lines[0]?.tension).toBeCloseTo(without.lines[0]?.tension as number, 5);
    }
  });

  test('four lines of one stiffness over a square carry a quarter each; one made longer gives its share to its neighbours', () => {
    const corners: readonly Vec3[] = [
      [-1, -1, 0],
      [1, -1, 0],
      [1, 1, 0],
      [-1, 1, 0],
    ];
    const lines = corners.map((c, i) => line(String(i), scale(c, 1000), add(scale(c, 1000), [0, 0, -2000])));
    const system = hungSystem(dry(8e4, [0, 0, -2500]), lines, UP);
    const even = rest(system, [2000, 2000, 2000, 2000]);
    for (const l of even.lines) expect(l.tension).toBeCloseTo(2e4, 4);
    // Plumb springs: a corner 4 mm longer loses k d / 4, its opposite loses as much, the neighbours gain it (closed form of
    // four springs under a rigid plate). The lines' lengths differ by a thousandth, and so do their stiffnesses.
    const k = 2e7 / 2000;
    const uneven = rest(system, [2004, 2000, 2000, 2000]);
    const share = (k * 4) / 4;
    const want = [2e4 - share, 2e4 + share, 2e4 - share, 2e4 + share];
    uneven.lines.forEach((l, i) => {
      expect(Math.abs(l.tension - (want[i] as number))).toBeLessThan(0.01 * share);
    });
  });

  test('what floats is said to float, and what nothing holds to drift', () => {
    const light: HungLoad = { weight: 1e4, buoyancy: 1.2e4, centre: [0, 0, -1], buoyancyCentre: [0, 0, -1] };
    const lines = [line('1', [0, 0, 0], [0, 0, -1])];
    expect(equilibrium(hungSystem(light, lines, UP), [1], { centre: [0, 0, -1], turn: NO_TURN })).toMatchObject({
      found: false,
      why: 'floats',
    });
    const heavy = dry(1e4, [0, 0, -1]);
    expect(equilibrium(hungSystem(heavy, lines, UP), [UNHOOKED], { centre: [0, 0, -1], turn: NO_TURN })).toMatchObject({
      found: false,
      why: 'drifts',
    });
  });
});

describe('what must stay true', () => {
  const same = (got: Equilibrium, want: Equilibrium, place: (p: Vec3) => Vec3, net: number) => {
    got.lines.forEach((l, i) => {
      expect(Math.abs(l.tension - (want.lines[i]?.tension as number)) / net).toBeLessThan(1e-7);
    });
    expect(distance(got.pose.centre, place(want.pose.centre))).toBeLessThan(1e-3);
  };

  test('turn ship, water and load together: everything turns along', () => {
    fc.assert(
      fc.property(
        hung.filter(stiff),
        fc.double({ min: -3, max: 3, noNaN: true }),
        ({ load, lines, up, lengths }, a) => {
          const q = turnFurther(NO_TURN, [a, 0.7 * a, -0.4 * a]);
          const t = (p: Vec3): Vec3 => turned(q, p);
          const spun = hungSystem(
            { ...load, centre: t(load.centre), buoyancyCentre: t(load.buoyancyCentre) },
            lines.map((l) => ({ ...l, pin: t(l.pin), attachment: t(l.attachment) })),
            t(up),
          );
          same(rest(spun, lengths), rest(hungSystem(load, lines, up), lengths), t, load.weight);
        },
      ),
      RUNS,
    );
  });

  test('port and starboard are mirror images', () => {
    const m = (p: Vec3): Vec3 => [p[0], -p[1], p[2]];
    fc.assert(
      fc.property(hung.filter(stiff), ({ load, lines, up, lengths }) => {
        const mirrored = hungSystem(
          { ...load, centre: m(load.centre), buoyancyCentre: m(load.buoyancyCentre) },
          lines.map((l) => ({ ...l, pin: m(l.pin), attachment: m(l.attachment) })),
          m(up),
        );
        same(rest(mirrored, lengths), rest(hungSystem(load, lines, up), lengths), m, load.weight);
      }),
      RUNS,
    );
  });

  test('twice as long everywhere: the same tensions; twice as heavy on lines twice as stiff: twice the tensions', () => {
    const double = (p: Vec3): Vec3 => scale(p, 2);
    fc.assert(
      fc.property(hung.filter(stiff), ({ load, lines, up, lengths }) => {
        const plain = rest(hungSystem(load, lines, up), lengths);
        const long = hungSystem(
          { ...load, centre: double(load.centre), buoyancyCentre: double(load.buoyancyCentre) },
          lines.map((l) => ({ ...l, pin: double(l.pin), attachment: double(l.attachment) })),
          up,
        );
        same(
          rest(
            long,
            lengths.map((L) => 2 * L),
          ),
          plain,
          double,
          load.weight,
        );
        const heavy = hungSystem(
          { ...load, weight: 2 * load.weight, buoyancy: 2 * load.buoyancy },
          lines.map((l) => ({ ...l, stretch: { kind: 'axial', ea: 4e7 } as const })),
          up,
        );
        const e = rest(heavy, lengths);
        e.lines.forEach((l, i) => {
          expect(Math.abs(l.tension / 2 - (plain.lines[i]?.tension as number)) / load.weight).toBeLessThan(1e-7);
        });
      }),
      RUNS,
    );
  });

  /** A pose held firmly enough that round-off cannot send the load another way. */
  function stiff({
    load,
    lines,
    up,
    lengths,
  }: {
    load: HungLoad;
    lines: Line[];
    up: Vec3;
    lengths: number[];
  }): boolean {
    const system = hungSystem(load, lines, up);
    const e = rest(system, lengths);
    const { pose } = e;
    const shaken = rest(system, lengths, {
      centre: add(pose.centre, [5, -5, 5]),
      turn: turnFurther(pose.turn, [0.005, 0.005, -0.005]),
    });
    return lines.length > 1 && e.stability.kind === 'stable' && distance(shaken.pose.centre, pose.centre) < 1e-4;
  }
});

test('one equilibrium from a pose near by takes a millisecond at most', () => {
  const lines = [
    line('1', [-1500, 100, 0], [-600, 0, -1500]),
    line('2', [1700, -200, 100], [700, 50, -1500]),
    line('3', [200, 1500, 100], [0, 300, -1600]),
  ];
  const system = hungSystem(
    { weight: 9e4, buoyancy: 1.2e4, centre: [0, 0, -3000], buoyancyCentre: [50, 0, -3100] },
    lines,
    UP,
  );
  let { pose } = rest(system, [1800, 1900, 2000]);
  const walk = (from: number, to: number): void => {
    for (let i = from; i < to; i++) pose = rest(system, [1800 + i, 1900, 2000 - i / 3], pose).pose;
  };
  walk(0, 300);
  // Time of the processor, so that what else the machine does is not counted.
  const start = process.cpuUsage();
  walk(300, 600);
  const { user, system: kernel } = process.cpuUsage(start);
  expect((user + kernel) / 300 / 1000).toBeLessThan(1);
});

/** Nelder and Mead's simplex with restarts: slow, and knows nothing of slopes. */
function downhill(f: (x: readonly number[]) => number, start: readonly number[], size: number) {
  let x = [...start];
  let value = f(x);
  for (let round = 0; round < 30; round++) {
    const before = value;
    const n = x.length;
    const points = [x, ...x.map((_, i) => x.map((v, j) => (i === j ? v + size / (1 + round) : v)))].map((p) => ({
      p,
      v: f(p),
    }));
    for (let k = 0; k < 900; k++) {
      points.sort((a, b) => a.v - b.v);
      const worst = points[n] as { p: number[]; v: number };
      const best = points[0] as { p: number[]; v: number };
      const mean = x.map((_, j) => points.slice(0, n).reduce((sum, q) => sum + (q.p[j] as number), 0) / n);
      const at = (t: number): { p: number[]; v: number } => {
        const p = mean.map((m, j) => m + t * ((worst.p[j] as number) - m));
        return { p, v: f(p) };
      };
      const mirrored = at(-1);
      if (mirrored.v < best.v) {
        const further = at(-2);
        points[n] = further.v < mirrored.v ? further : mirrored;
      } else if (mirrored.v < (points[n - 1] as { v: number }).v) points[n] = mirrored;
      else {
        const nearer = at(mirrored.v < worst.v ? -0.5 : 0.5);
        if (nearer.v < Math.min(worst.v, mirrored.v)) points[n] = nearer;
        else {
          for (const q of points) {
            if (q === best) continue;
            q.p = q.p.map((v, j) => ((best.p[j] as number) + v) / 2);
            q.v = f(q.p);
          }
        }
      }
    }
    points.sort((a, b) => a.v - b.v);
    x = [...(points[0] as { p: number[] }).p];
    value = (points[0] as { v: number }).v;
    if (round > 10 && before - value < 1e-3) break;
  }
  return { x, value };
}
