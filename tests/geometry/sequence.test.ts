import { describe, expect, test } from 'vitest';
import type { HullSpec } from '../../geometry/hull/spec.ts';
import { gasOf, leastSealed, sealedByPlan } from './gas.ts';
import { cylinder, hollow, plane } from './hulls.ts';
import { RAD, type Stand, type Standing, standLug } from './lugs.ts';

/* Order of the root: gas rises along the crevice and must find its way out (common practice, no source). */

/** Runs cover 0..perimeter, each stretch once. */
function expectCoveredOnce({ sequence, joint }: Standing): void {
  const runs = sequence.runs.map((r) => [Math.min(r.fromS, r.toS), Math.max(r.fromS, r.toS)] as const);
  runs.sort((p, q) => p[0] - q[0]);
  let reached = runs[0]?.[0] as number;
  const start = reached;
  for (const [lo, hi] of runs) {
    expect(Math.abs(lo - reached)).toBeLessThan(1e-9);
    expect(hi).toBeGreaterThan(lo);
    reached = hi;
  }
  expect(Math.abs(reached - start - joint.perimeter)).toBeLessThan(1e-9);
}

/** Everything that must hold of any sequence, vents by the slow way. */
function expectSound(lug: Standing): void {
  expectCoveredOnce(lug);
  const gas = gasOf(lug);
  const { sequence } = lug;
  // The slow and the quick way agree where gas comes out, to within the quick one's step.
  const off: string[] = [];
  gas.forEach((e, i) => {
    const vent = sequence.elements.vents[i] as (typeof sequence.elements.vents)[number];
    const inside = vent.kind === 'trapped' || vent.kind === 'level';
    if (inside !== (e.exit.kind === 'inside')) off.push(`s ${e.s}: ${vent.kind}, slowly ${e.exit.kind}`);
    else if ('s' in vent && 's' in e.exit) {
      const d = Math.abs(vent.s - e.exit.s);
      if (Math.min(d, lug.joint.perimeter - d) > 1) off.push(`s ${e.s}: out at ${vent.s}, slowly ${e.exit.s}`);
    }
  });
  expect(off).toEqual([]);
  const sealed = sealedByPlan(lug, gas);
  expect(sealed).toBeLessThanOrEqual(leastSealed(lug, gas) + 1);
  expect(sealed).toBeLessThanOrEqual(sequence.sealedLength + 1);
  expect(sequence.runs.reduce((sum, r) => sum + r.sealed, 0)).toBeCloseTo(sequence.sealedLength, 9);
  for (const r of sequence.runs) expect(r.toHeight).toBeGreaterThanOrEqual(r.fromHeight - 0.02);
}

describe('A plumb lug, fore and aft, under a bottom that rises 20 degrees', () => {
  const lug = standLug(plane(20 * RAD), { stem: { kind: 'plumb' } });
  test('acute side first, up by the ends, the high side last, nothing sealed', () => {
    expectSound(lug);
    expect(lug.sequence.runs.map((r) => r.side).join(' ')).toBe('face- face- end+ end- face+ face+');
    expect(lug.sequence.sealedLength).toBe(0);
    expect(lug.sequence.start.side).toBe('face-');
    expect(lug.sequence.finish.side).toBe('face+');
    expect(lug.sequence.level).toBe(false);
  });

  test('on starboard and with the foot turned about, the side nearest the keel still comes first', () => {
    for (const change of [{ side: 'starboard' }, { heading: Math.PI }] as const) {
      const other = standLug(plane(20 * RAD), { stem: { kind: 'plumb' }, ...change });
      expectSound(other);
      expect(other.sequence.start.side).toBe('face+');
      expect(other.sequence.finish.side).toBe('face-');
    }
  });
});

test('flat bottom, no trim: level, and said so', () => {
  const lug = standLug(plane(0));
  expectCoveredOnce(lug);
  expect(lug.sequence.level).toBe(true);
  expect(lug.sequence.sealedLength).toBe(0);
  for (const v of lug.sequence.elements.vents) expect(v.kind).toBe('level');
});

test('a trim of 1 mm in the metre is a way up that counts: forward end last', () => {
  const lug = standLug(plane(0), { up: [0.004, 0, 1] });
  expectSound(lug);
  expect(lug.sequence.level).toBe(false);
  expect(lug.sequence.start.s).toBe(0);
  expect(lug.sequence.finish.side).toBe('end+');
});

test('vertical side: a vertical plate is climbed up both faces, a level one closes along its top', () => {
  const side: HullSpec = { kind: 'segments', start: { y: 4000, z: 0 }, path: [{ to: { y: 4000, z: 5000 } }] };
  const vertical = standLug(side, { heading: 90 * RAD });
  expectSound(vertical);
  expect(vertical.sequence.start.side).toBe('end-');
  expect(vertical.sequence.finish.side).toBe('end+');
  for (const r of vertical.sequence.runs.filter((q) => q.side.startsWith('face'))) expect(r.travel.towards).toBe('up');
  const level = standLug(side);
  expectSound(level);
  expect(level.sequence.runs[0]?.fromHeight).toBeCloseTo(level.joint.lowest.height, 6);
  expect(level.sequence.finish.side).toBe('face+');
});

test('athwartships under a rising bottom: from the keel end outboard and up both faces', () => {
  const lug = standLug(plane(20 * RAD), { stem: { kind: 'plumb' }, heading: 90 * RAD });
  expectSound(lug);
  expect(lug.sequence.start.side).toBe('end-');
  expect(lug.sequence.finish.side).toBe('end+');
  for (const r of lug.sequence.runs.filter((q) => q.side.startsWith('face'))) expect(r.travel.towards).toBe('outboard');
});

test('at the crown of a hollow shell the gas is trapped: said, with the place and a notch', () => {
  const dome = standLug(hollow(3000), { girth: 0, heading: 90 * RAD });
  expectCoveredOnce(dome);
  const { trap, trappedLength, runs } = dome.sequence;
  expect(trappedLength).toBeGreaterThan(600);
  expect(Math.abs(trap?.a ?? 99)).toBeLessThan(5);
  expect(trap?.height).toBeCloseTo(0, 3);
  // The notch that frees it is the highest place of the root: in the middle of a face.
  expect(Math.min(...[150, 150 + 300 + 38].map((s) => Math.abs((trap?.notchS ?? 0) - s)))).toBeLessThan(2);
  expect(runs.every((r) => !r.ventOpen)).toBe(true);
});

describe('Every heading on a rounded bottom, plumb and square, trimmed and heeled: nothing sealed that need not be', () => {
  const cases: [string, HullSpec, Stand][] = [];
  for (let heading = 0; heading < 360; heading += 30) {
    const side = heading % 60 === 0 ? 'port' : 'starboard';
    const change = { heading: heading * RAD, girth: 1050, up: [0.008, 0.012, 1], side } as const;
    cases.push([`plumb, ${side}, heading ${heading}`, cylinder(3000), { ...change, stem: { kind: 'plumb' } }]);
    cases.push([`square, ${side}, heading ${heading}`, cylinder(1200), { ...change, girth: 900 }]);
    cases.push([
      `hollow, ${side}, heading ${heading}`,
      hollow(1500),
      { ...change, girth: 700, stem: { kind: 'plumb' } },
    ]);
  }
  test.each(cases)('%s', (_, hull, change) => {
    expectSound(standLug(hull, change));
  });
});
