import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { add, distance, scale, type Vec3 } from '../../geometry/math/vec.ts';
import type { Surroundings } from '../../src/rigging/contact.ts';
import { equilibrium } from '../../src/rigging/equilibrium.ts';
import { answerToLengths, lengthsFor } from '../../src/rigging/lengths.ts';
import { UNHOOKED } from '../../src/rigging/load.ts';
import { levelDirections, type MovementLimits, movementOf, type Step } from '../../src/rigging/movement.ts';
import { follow } from '../../src/rigging/path.ts';
import { NO_TURN, turnBetween, turned } from '../../src/rigging/pose.ts';
import { drawnPose, type HungSystem, hungSystem } from '../../src/rigging/system.ts';
import { dry, line, STIFF, UP } from './loads.ts';

const OPEN: Surroundings = { solids: [], outline: [], clearance: 0 };
const LIMITS: MovementLimits = { stretch: 0.02, miss: 5, unhookShare: 0.01 };

const three = (): HungSystem =>
  hungSystem(
    { weight: 9e4, buoyancy: 1.2e4, centre: [0, 0, -3000], buoyancyCentre: [40, 0, -3050] },
    [
      line('1', [-1500, 100, 0], [-600, 0, -2200]),
      line('2', [1700, -200, 100], [700, 50, -2200]),
      line('3', [200, 1500, 100], [0, 300, -2250]),
    ],
    UP,
  );

const go = (system: HungSystem, steps: readonly Step[], around: Surroundings = OPEN) =>
  movementOf(system, steps, [], around, LIMITS);

const kinds = (state: { failures: readonly { kind: string }[] }): string[] => state.failures.map((f) => f.kind);

describe('lengths', () => {
  test('the answer to a length against two equilibria', () => {
    const system = three();
    const L = [2300, 2350, 2500];
    const at = equilibrium(system, L, drawnPose(system));
    if (!at.found) throw new Error(at.why);
    const answers = answerToLengths(system, L, at.equilibrium);
    L.forEach((_, i) => {
      const h = 0.5;
      const [plus, minus] = [h, -h].map((d) => {
        const r = equilibrium(
          system,
          L.map((x, k) => (k === i ? x + d : x)),
          at.equilibrium.pose,
        );
        if (!r.found) throw new Error(r.why);
        return r.equilibrium.pose;
      });
      if (!plus || !minus) throw new Error('no pose');
      const move = plus.centre.map((x, k) => (x - (minus.centre[k] as number)) / (2 * h));
      const turn = turnBetween(minus.turn, plus.turn).map((x) => (x * system.size) / (2 * h));
      [...move, ...turn].forEach((x, k) => {
        expect(x).toBeCloseTo(answers[i]?.[k] as number, 4);
      });
    });
  });

  test('three lines bring the centre anywhere between their pins', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.15, max: 0.6, noNaN: true }),
        fc.double({ min: 0.15, max: 0.35, noNaN: true }),
        fc.double({ min: 2500, max: 5000, noNaN: true }),
        (u, v, depth) => {
          const system = three();
          const pins = system.lines.map((l) => l.pin);
          const [p, q, r] = pins as [Vec3, Vec3, Vec3];
          const over = add(add(scale(p, u), scale(q, v)), scale(r, 1 - u - v));
          const centre: Vec3 = [over[0], over[1], -depth];
          const result = lengthsFor(
            system,
            [2300, 2300, 2300],
            [0, 1, 2],
            { centre, turn: NO_TURN },
            drawnPose(system),
          );
          if (!result.found) throw new Error(result.why);
          expect(result.missed).toBeLessThan(0.01);
          // What it says is what hangs: the same lengths, from another start.
          const again = equilibrium(system, result.lengths, drawnPose(system));
          if (!again.found) throw new Error(again.why);
          expect(distance(again.equilibrium.pose.centre, centre)).toBeLessThan(0.1);
        },
      ),
      { numRuns: 40 },
    );
  });

  test('six lines set place and attitude both', () => {
    const lines = Array.from({ length: 6 }, (_, i) => {
      const a = (Math.PI * i) / 3;
      const b = a + (i % 2 === 0 ? 0.8 : -0.8);
      return line(
        String(i),
        [2500 * Math.cos(b), 2500 * Math.sin(b), 0],
        [800 * Math.cos(a), 800 * Math.sin(a), -2500],
      );
    });
    const system = hungSystem(dry(8e4, [0, 0, -3200]), lines, UP);
    const centre: Vec3 = [60, -40, -3300];
    const all = [0, 1, 2, 3, 4, 5];
    const result = lengthsFor(
      system,
      all.map(() => 2900),
      all,
      { centre, turn: NO_TURN },
      drawnPose(system),
    );
    if (!result.found) throw new Error(result.why);
    expect(result.missed).toBeLessThan(0.01);
    const [x, y, z] = turnBetween(NO_TURN, result.equilibrium.pose.turn);
    expect(Math.hypot(x, y, z)).toBeLessThan(0.01);
  });

  test('one plumb line cannot walk a load aft', () => {
    const centre: Vec3 = [0, 0, -2500];
    const system = hungSystem(dry(5e4, centre), [line('1', [0, 0, 0], [0, 0, -2000])], UP);
    const [start, walk] = go(system, [
      { label: 'take up', parts: 1, kind: 'walk', to: { centre } },
      { label: 'aft', parts: 1, kind: 'walk', to: { by: [-400, 0, 0] } },
    ]);
    expect(start && kinds(start)).toEqual([]);
    expect(walk && kinds(walk)).toEqual(['out-of-reach']);
  });
});

describe('the load followed', () => {
  test('a hand-off: two lines on one eye, the tension at each length by the triangle of forces', () => {
    // A point load between two pins 3 m apart, walked from under one to under the other.
    const eye: Vec3 = [0, 0, -2500];
    const system = hungSystem(
      dry(6e4, eye),
      [line('1', [0, 0, 0], eye, STIFF), line('2', [3000, 0, 0], eye, STIFF)],
      UP,
    );
    const states = go(system, [
      { label: 'start', parts: 1, kind: 'walk', to: { centre: [100, 0, -2500] } },
      { label: 'across', parts: 14, kind: 'walk', to: { centre: [2900, 0, -2500] } },
    ]);
    expect(states).toHaveLength(15);
    for (const state of states) {
      expect(kinds(state)).toEqual([]);
      if (!state.rest.found) throw new Error(state.rest.why);
      const { pose, lines, residual } = state.rest.equilibrium;
      expect(residual).toBeLessThan(1e-6);
      const [x, , z] = pose.centre;
      expect(z).toBeCloseTo(-2500, 1);
      // Moments about the other pin's plumb: T1 cos a1 = W (1 - x/3000).
      const [t1, t2] = lines.map((l) => l.tension) as [number, number];
      expect(t1).toBeCloseTo(((6e4 * (3000 - x)) / 3000) * (Math.hypot(x, z) / -z), 0);
      expect(t2).toBeCloseTo(((6e4 * x) / 3000) * (Math.hypot(3000 - x, z) / -z), 0);
    }
    const share = states.map((s) => (s.rest.found ? (s.rest.equilibrium.lines[1]?.tension as number) : 0));
    expect(share).toEqual(share.toSorted((a, b) => a - b));
  });

  test('a line slackened away hands its load over without a jump; taken off under load it lets the load swing', () => {
    const system = three();
    const L = [2300, 2350, 2500];
    const start = equilibrium(system, L, drawnPose(system));
    if (!start.found) throw new Error(start.why);
    const gentle = follow(system, L, [2300, 2350, 4200], start.equilibrium.pose);
    expect(gentle.found && gentle.swing).toBe(null);
    expect(gentle.found && gentle.equilibrium.lines[2]?.tension).toBe(0);
    const abrupt = follow(system, L, [2300, 2350, UNHOOKED], start.equilibrium.pose);
    if (!abrupt.found || !gentle.found) throw new Error('no pose');
    expect(abrupt.swing?.distance).toBeGreaterThan(100);
    // Both ways the load ends up in the same pose.
    expect(distance(abrupt.equilibrium.pose.centre, gentle.equilibrium.pose.centre)).toBeLessThan(0.01);
    const states = go(system, [
      { label: 'hang', parts: 1, kind: 'lengths', lengths: new Map(L.map((x, i) => [i, x])) },
      { label: 'take 3 off', parts: 1, kind: 'lengths', lengths: new Map([[2, UNHOOKED]]) },
    ]);
    expect(states[1] && kinds(states[1])).toEqual(expect.arrayContaining(['unhooked-under-load', 'swings']));
  });

  test('a load hung below its own weight and tilted until its centre is past its lines turns over: the step says so', () => {
    // Four plumb lines, 300 mm to either side, end 400 mm below the centre of gravity: past atan(300/400) it falls.
    const sides = [1, -1].flatMap((y) => [900, -900].map((x) => [x, 300 * y] as const));
    const lines = sides.map(([x, y], i) => line(String(i), [x, y, 0], [x, y, -2400]));
    const system = hungSystem(dry(5e4, [0, 0, -2000]), lines, UP);
    const port = (length: number): ReadonlyMap<number, number> =>
      new Map([
        [0, length],
        [1, length],
        [2, 2400],
        [3, 2400],
      ]);
    const tilts = (upTo: number) =>
      go(system, [
        { label: 'hang', parts: 1, kind: 'lengths', lengths: port(2400) },
        { label: 'tilt', parts: 6, kind: 'lengths', lengths: port(2400 - upTo) },
      ]);
    // Tilted by about asin(300/600) = 30 deg it still stands; the lines lean with it, so the edge is not at 36.9 itself.
    const half = tilts(150);
    expect(half.flatMap(kinds)).toEqual([]);
    const over = tilts(560);
    expect(over.slice(1).flatMap(kinds)).toContain('swings');
    const last = over.at(-1)?.rest;
    if (!last?.found) throw new Error('no pose');
    // Its keel side is up now.
    expect(turned(last.equilibrium.pose.turn, UP)[2]).toBeLessThan(0);
    expect(last.equilibrium.stability.kind).toBe('stable');
  });
});

describe('steps that cannot be done are named', () => {
  test('a line too short', () => {
    const system = three();
    const states = go(system, [
      {
        label: 'hang',
        parts: 1,
        kind: 'lengths',
        lengths: new Map([
          [0, 900],
          [1, 900],
          [2, 900],
        ]),
      },
    ]);
    expect(states[0] && kinds(states[0])).toContain('line-too-short');
    expect(states[0]?.failures.find((f) => f.kind === 'line-too-short')?.line).toBeDefined();
  });

  test('a hoist that does not draw in so far, nothing that holds, a load that floats', () => {
    const system = three();
    const first: Step = { label: 'hang', parts: 1, kind: 'walk', to: { centre: [0, 0, -3000] } };
    const states = movementOf(system, [first], [{ shortest: 2400 }, {}, { longest: 1000 }], OPEN, LIMITS);
    expect(states[0]?.failures.map((f) => [f.kind, f.line])).toEqual([
      ['beyond-hoist', 0],
      ['beyond-hoist', 2],
    ]);
    const none = go(system, [{ label: 'let go', parts: 1, kind: 'lengths', lengths: new Map([[0, UNHOOKED]]) }]);
    expect(none[0] && kinds(none[0])).toEqual(['no-pose']);
    const light = hungSystem({ ...system.load, buoyancy: 1e5 }, system.lines, UP);
    const floats = go(light, [first]);
    expect(floats[0] && kinds(floats[0])).toEqual(['floats']);
  });

  test('a step after a failed one goes on from the last pose', () => {
    const system = three();
    const states = go(system, [
      { label: 'hang', parts: 1, kind: 'walk', to: { centre: [0, 0, -3000] } },
      {
        label: 'off',
        parts: 1,
        kind: 'lengths',
        lengths: new Map([
          [0, UNHOOKED],
          [1, UNHOOKED],
          [2, UNHOOKED],
        ]),
      },
      {
        label: 'again',
        parts: 1,
        kind: 'lengths',
        lengths: new Map([
          [0, 2300],
          [1, 2350],
          [2, 2500],
        ]),
      },
    ]);
    expect(states[1]?.rest.found).toBe(false);
    expect(states[2]?.rest.found).toBe(true);
  });

  test('a line across a bar, and a load set down on one', () => {
    const system = three();
    const bar = {
      kind: 'bar',
      name: 'the shaft',
      from: [-1200, -1000, -1200],
      to: [-1200, 1000, -1200],
      radius: 250,
    } as const;
    const around: Surroundings = {
      solids: [bar],
      outline: [
        [-600, 0, -2200],
        [700, 0, -2200],
        [0, 0, -4000],
      ],
      clearance: 50,
    };
    const first: Step = { label: 'hang', parts: 1, kind: 'walk', to: { centre: [0, 0, -3000] } };
    const [state] = go(system, [first], around);
    expect(state?.contacts.map((c) => [c.line, c.with])).toEqual([[0, 'the shaft']]);
    const block = { kind: 'block', name: 'the dock', from: [-3000, -3000, -5000], to: [3000, 3000, -3980] } as const;
    const [low] = go(system, [first], { ...around, solids: [block] });
    expect(low?.contacts.map((c) => [c.line, c.with])).toEqual([[undefined, 'the dock']]);
  });
});

test('level directions are level, of unit length and spread evenly', () => {
  const up = scale([0.02, 0.05, 1], 1 / Math.hypot(0.02, 0.05, 1));
  const all = levelDirections(up, 8);
  all.forEach((d, i) => {
    expect(d[0] * up[0] + d[1] * up[1] + d[2] * up[2]).toBeCloseTo(0, 12);
    const next = all[(i + 1) % 8] as Vec3;
    expect(d[0] * next[0] + d[1] * next[1] + d[2] * next[2]).toBeCloseTo(Math.SQRT1_2, 12);
  });
});
