import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { describe, expect, test } from 'vitest';
import { slopeShown, upOf } from '../../geometry/hull/attitude.ts';
import { shellFrom } from '../../geometry/hull/from.ts';
import type { Shell } from '../../geometry/hull/shell.ts';
import type { HullSpec } from '../../geometry/hull/spec.ts';
import { addScaled, dot, length, sub } from '../../geometry/math/vec.ts';
import { Refusal } from '../../geometry/refusal.ts';
import { showPhrase } from '../../src/job/show.ts';
import { cylinder } from '../geometry/hulls.ts';
import { deg, RAD, standLug } from '../geometry/lugs.ts';
import { hasSeries60, series60 } from './series60.ts';
import { takeReadings } from './takereadings.ts';

/* What a diver would have read on shells whose shape is known, and the shell made from that. mm, rad. */

const LEVEL = { lpp: 60_000, draftAft: 3000, draftForward: 3000, heel: 0 };
const TRIMMED = { lpp: 60_000, draftAft: 3600, draftForward: 2900, heel: 1.3 * RAD };
const MARKS = [-500, -250, 0, 250, 500];
const BAR = [-600, -300, 300, 600];

/** Wigley's parabolic hull as a fine loft, built to a real ship's size. Closed form: y = B/2 (1 - (2x/L)^2) (1 - (z/T)^2). */
const WIGLEY = { L: 60_000, B: 9000, T: 5000 };
function wigley(): HullSpec {
  const { L, B, T } = WIGLEY;
  return {
    kind: 'sections',
    sections: Array.from({ length: 61 }, (_, i) => {
      const x = (L * i) / 60;
      return {
        station: x,
        points: Array.from({ length: 41 }, (_, j) => {
          const z = (T * j) / 40;
          return { y: (B / 2) * (1 - ((2 * x) / L - 1) ** 2) * (1 - (1 - z / T) ** 2), z };
        }),
      };
    }),
  };
}

const notesOf = (shell: Shell) => shell.notes.map((n) => showPhrase(n, 'metric')).join('\n');

describe('exact readings give the shell back', () => {
  test('a circle in section, straight fore and aft: closed form', () => {
    const radius = 2600;
    const known = shellFrom(cylinder(radius));
    const spec = takeReadings(known, {
      station: 9500,
      girth: 1500,
      side: 'port',
      ship: TRIMMED,
      marks: MARKS,
      bar: BAR,
    });
    const shell = shellFrom(spec);
    for (const tape of [0, 400, 500, 777, 1000]) {
      const p = shell.pointAt(9500, tape, 'port');
      const angle = (1000 + tape) / radius;
      expect(p.position[1]).toBeCloseTo(radius * Math.sin(angle), 6);
      expect(p.position[2]).toBeCloseTo(radius * (1 - Math.cos(angle)), 6);
      expect(p.normal[1]).toBeCloseTo(Math.sin(angle), 9);
      expect(p.curvature.k1).toBeCloseTo(1 / radius, 9);
      expect(p.curvature.k2).toBeCloseTo(0, 9);
    }
  });

  test('two readings are an arc, and it is said that none checks the other', () => {
    const known = shellFrom(cylinder(2600));
    const shell = shellFrom(
      takeReadings(known, { station: 9500, girth: 1500, side: 'port', ship: LEVEL, marks: [-300, 300], bar: [500] }),
    );
    expect(shell.pointAt(9500, 400, 'port').position[1]).toBeCloseTo(2600 * Math.sin(1600 / 2600), 6);
    expect(notesOf(shell)).toContain('no reading checks another');
    expect(notesOf(shell)).toContain('one side of the middle of the bar only');
  });

  test('a ball: the section carried along the bar is exact, off the middle too', () => {
    const R = 4000;
    // Circle of radius R about (y 0, z R) as the section at the widest station; the bar's gap is the sagitta (closed form).
    const gap = (t: number) => R - Math.sqrt(R * R - t * t);
    const spec: HullSpec = {
      kind: 'readings',
      start: { y: R * Math.sin(0.4), z: R * (1 - Math.cos(0.4)) },
      girth: [0, 200, 400, 600].map((at) => ({ at, slope: 0.4 + at / R })),
      fore: { gaps: [-500, 500].map((at) => ({ at, gap: gap(at) })), touch: 'middle' },
      up: [0, 0, 1],
      side: 'port',
      station: 10_000,
    };
    const { field, bevel, shell } = standLug(spec, {
      girth: 300,
      station: 10_000,
      stem: { kind: 'normal' },
      heading: 40 * RAD,
    });
    for (let k = 0; k < field.f.length; k++) {
      const [i, j] = [Math.floor(k / field.c.length), k % field.c.length];
      const r2 = (field.a[i] as number) ** 2 + (field.c[j] as number) ** 2;
      // Below the tangent plane of a ball: R - sqrt(R^2 - r^2).
      expect(field.f[k] as number).toBeCloseTo(-(R - Math.sqrt(R * R - r2)), 5);
    }
    // Every radial plane stands square on a ball.
    expect(deg(bevel.max)).toBeCloseTo(0, 5);
    expect(deg(bevel.min)).toBeCloseTo(0, 5);
    const p = shell.pointAt(10_200, 300, 'starboard');
    expect(length(sub(p.position, [10_000, 0, R]))).toBeCloseTo(R, 6);
    expect(p.curvature.k1).toBeCloseTo(1 / R, 9);
    expect(p.curvature.k2).toBeCloseTo(1 / R, 9);
  });

  test('a hollow fore and aft, the bar touching at its ends: R = (c^2/4 + s^2)/(2 s)', () => {
    // Closed form: chord 1200, sagitta 20 -> R = (360000 + 400)/40 = 9010.
    const base: HullSpec = {
      kind: 'readings',
      start: { y: 2000, z: 500 },
      girth: [
        { at: 0, slope: 0.3 },
        { at: 500, slope: 0.3 },
      ],
      fore: { gaps: [{ at: 0, gap: 20 }], touch: 'ends', length: 1200 },
      up: [0, 0, 1],
      side: 'port',
      station: 5000,
    };
    expect(shellFrom(base).pointAt(5000, 200, 'port').curvature.k2).toBeCloseTo(-1 / 9010, 9);
    const ends = {
      ...base,
      fore: { touch: 'ends' as const, gaps: [-600, 0, 600].map((at) => ({ at, gap: at === 0 ? 20 : 0 })) },
    };
    expect(shellFrom(ends).pointAt(5000, 200, 'port').curvature.k2).toBeCloseTo(-1 / 9010, 9);
  });

  // What one bar cannot tell is twist: how the section's slope changes fore and aft. On this hull, from its closed form,
  // dy/dz changes by 2.7e-5 x 4500 x 2/5000 x 0.76 a mm at station 18 m: 0.12 degrees from the middle of the foot to its end.
  test('a Wigley hull: bevels within 0.03 degrees amidships, within the twist elsewhere, on both sides and heeled', () => {
    const known = shellFrom(wigley());
    for (const side of ['port', 'starboard'] as const) {
      for (const station of [18_000, 30_000, 44_000]) {
        const girth = known.girthAt(station, 'height', 1200);
        const spec = takeReadings(known, {
          station,
          girth,
          side,
          ship: TRIMMED,
          marks: MARKS,
          bar: BAR,
          withSlope: true,
        });
        const up = upOf(TRIMMED);
        const a = standLug(wigley(), { station, girth, side, up, stem: { kind: 'plumb' }, heading: 30 * RAD });
        const b = standLug(spec, { station, girth: 500, side, up, stem: { kind: 'plumb' }, heading: 30 * RAD });
        const most = 0.03 + (0.13 / 0.4) * Math.abs((2 * station) / WIGLEY.L - 1);
        expect(deg(Math.abs(a.bevel.max - b.bevel.max)), `${side} ${station}`).toBeLessThan(most);
        expect(deg(Math.abs(a.bevel.min - b.bevel.min)), `${side} ${station}`).toBeLessThan(most);
        expect(deg(Math.abs(a.slope - b.slope))).toBeLessThan(0.02);
        expect(length(sub(a.anchor.position, b.anchor.position))).toBeLessThan(0.05);
      }
    }
  });

  test.skipIf(!hasSeries60)('Series 60: bevels within 0.1 degrees of the lofted table', () => {
    const known = shellFrom(series60('cb0p6'));
    for (const station of [40_000, 85_000]) {
      const girth = known.girthAt(station, 'height', 2400);
      const spec = takeReadings(known, {
        station,
        girth,
        side: 'port',
        ship: LEVEL,
        marks: MARKS,
        bar: BAR,
        withSlope: true,
      });
      const a = standLug(series60('cb0p6'), { station, girth, heading: 30 * RAD });
      const b = standLug(spec, { station, girth: 500, heading: 30 * RAD });
      expect(deg(Math.abs(a.bevel.max - b.bevel.max)), `${station}`).toBeLessThan(0.1);
      expect(deg(Math.abs(a.bevel.min - b.bevel.min)), `${station}`).toBeLessThan(0.1);
    }
  });

  test('flat of bottom into bilge: joined without overshoot, and said so', () => {
    const known = shellFrom({
      kind: 'segments',
      start: { y: 0, z: 0 },
      path: [{ to: { y: 3000, z: 0 } }, { to: { y: 4000, z: 1000 }, radius: 1000 }],
    });
    const spec = takeReadings(known, {
      station: 0,
      girth: 3000,
      side: 'port',
      ship: LEVEL,
      marks: [-600, -400, -200, 0, 200, 400],
      bar: BAR,
    });
    const shell = shellFrom(spec);
    expect(notesOf(shell)).toContain('without overshoot');
    for (const s of [0, 200, 400, 600]) expect(shell.pointAt(0, s, 'port').normal[2]).toBeCloseTo(-1, 9);
    expect(shell.pointAt(0, 800, 'port').curvature.k1).toBeGreaterThan(0.5e-3);
  });
});

describe('attitude', () => {
  test('the slope shown on a known plane is the one an inclinometer shows', () => {
    const up = upOf(TRIMMED);
    for (const side of ['port', 'starboard'] as const) {
      const tape = [0, (side === 'port' ? 1 : -1) * Math.cos(0.25), Math.sin(0.25)] as const;
      expect(slopeShown(0.25, up, side)).toBeCloseTo(Math.asin(dot(tape, up)), 12);
    }
    // Heel alone adds to one side and takes from the other.
    const heeled = upOf({ ...LEVEL, heel: 0.02 });
    expect(slopeShown(0.25, heeled, 'port')).toBeCloseTo(0.27, 12);
    expect(slopeShown(0.25, heeled, 'starboard')).toBeCloseTo(0.23, 12);
  });
});

describe('readings with errors', () => {
  test('the stated standard error of the slope holds: seeded repetition on a circle', () => {
    const seed = 20_240_611;
    const rng = xoroshiro128plus(seed);
    const gauss = () => {
      const u = () => ((rng.next() >>> 0) + 0.5) / 2 ** 32;
      return Math.sqrt(-2 * Math.log(u())) * Math.cos(2 * Math.PI * u());
    };
    const sigma = 0.3 * RAD;
    const radius = 2600;
    let squares = 0;
    const rounds = 400;
    for (let k = 0; k < rounds; k++) {
      const spec: HullSpec = {
        kind: 'readings',
        start: { y: 1500, z: 500 },
        girth: [0, 200, 400, 600, 800, 1000].map((at) => ({
          at,
          slope: 0.5 + at / radius + sigma * gauss(),
          error: sigma,
        })),
        fore: { gaps: [{ at: 500, gap: 0 }], touch: 'middle' },
        up: [0, 0, 1],
        side: 'port',
        station: 0,
      };
      const p = shellFrom(spec).pointAt(0, 500, 'port');
      squares += (Math.atan2(p.tGirth[2], p.tGirth[1]) - (0.5 + 500 / radius)) ** 2;
    }
    const rms = Math.sqrt(squares / rounds);
    // A straight line through six readings, in their middle: sigma / sqrt(6) (closed form); now and then a power more is taken.
    expect(rms / (sigma / Math.sqrt(6)), `seed ${seed}`).toBeGreaterThan(0.9);
    expect(rms / (sigma / Math.sqrt(6)), `seed ${seed}`).toBeLessThan(1.25);
  });

  test.each(['Wigley', 'Series 60'] as const)(
    'on the %s hull: the slope at the place is off by what the readings say of themselves, and no more',
    (name) => {
      if (name === 'Series 60' && !hasSeries60) return;
      const known = shellFrom(name === 'Wigley' ? wigley() : series60('cb0p6'));
      const [station, height] = name === 'Wigley' ? [24_000, 1200] : [40_000, 2400];
      const exact = takeReadings(known, {
        station,
        girth: known.girthAt(station, 'height', height),
        side: 'port',
        ship: LEVEL,
        marks: MARKS,
        bar: BAR,
      });
      const slopeOf = (spec: HullSpec) => {
        const { tGirth } = shellFrom(spec).pointAt(station, 500, 'port');
        return Math.atan2(tGirth[2], tGirth[1]);
      };
      const truth = slopeOf(exact);
      const seed = 77;
      const rng = xoroshiro128plus(seed);
      const u = () => ((rng.next() >>> 0) + 0.5) / 2 ** 32;
      const gauss = () => Math.sqrt(-2 * Math.log(u())) * Math.cos(2 * Math.PI * u());
      for (const sigma of [0.1 * RAD, 0.3 * RAD, 1 * RAD]) {
        let squares = 0;
        const rounds = 200;
        for (let k = 0; k < rounds; k++) {
          const girth = exact.girth.map((r) => ({ ...r, slope: r.slope + sigma * gauss(), error: sigma }));
          squares += (slopeOf({ ...exact, girth }) - truth) ** 2 / rounds;
        }
        // Five readings, evenly spaced, in their middle: a straight line knows it to sigma / sqrt 5, a parabola to
        // sigma sqrt(17 / 35) (closed forms); what the line misses of the shell's own bend comes on top where it is taken. All
        // of it is less than one reading alone is off.
        const rms = Math.sqrt(squares) / sigma;
        expect(rms, `seed ${seed}, sigma ${deg(sigma)}`).toBeGreaterThan(0.4);
        expect(rms, `seed ${seed}, sigma ${deg(sigma)}`).toBeLessThan(1);
      }
    },
  );

  test('one wrong reading among six is named and left out', () => {
    const radius = 2600;
    const girth = [0, 200, 400, 600, 800, 1000].map((at) => ({
      at,
      slope: 0.5 + at / radius + (at === 600 ? 5 * RAD : 0),
    }));
    const shell = shellFrom({
      kind: 'readings',
      start: { y: 1500, z: 500 },
      girth,
      fore: { gaps: [{ at: 500, gap: 0 }], touch: 'middle' },
      up: [0, 0, 1],
      side: 'port',
      station: 0,
    });
    expect(notesOf(shell)).toContain('The slope read at 600 mm on the tape is 5.0° away');
    expect(shell.pointAt(0, 600, 'port').tGirth[2]).toBeCloseTo(Math.sin(0.5 + 600 / radius), 9);
  });
});

describe('too few readings are refused with the one that would help most', () => {
  const base = {
    kind: 'readings',
    start: { y: 1500, z: 500 },
    girth: [{ at: 0, slope: 0.3 }],
    fore: { gaps: [{ at: 500, gap: 2 }], touch: 'middle' },
    up: [0, 0, 1],
    side: 'port',
    station: 0,
    place: { girth: 300 },
  } as const;
  const refusal = (run: () => unknown): string => {
    try {
      run();
    } catch (e) {
      if (e instanceof Refusal)
        return `${e.field}: ${showPhrase(e.found, 'metric')} | ${showPhrase(e.expected, 'metric')}`;
      throw e;
    }
    return 'not refused';
  };

  test('one slope', () => {
    expect(refusal(() => shellFrom(base))).toBe(
      'hull.girth: slopes at one place only, 0.0 mm on the tape: nothing tells how the shell curves | one more slope, best at 600 mm on the tape',
    );
  });
  test('no gap but where the bar touches', () => {
    const girth = [...base.girth, { at: 600, slope: 0.4 }];
    expect(refusal(() => shellFrom({ ...base, girth, fore: { ...base.fore, gaps: [{ at: 0, gap: 0 }] } }))).toMatch(
      /^hull.fore.gaps: .*a gap towards either end/,
    );
    expect(refusal(() => shellFrom({ ...base, girth, fore: { gaps: [{ at: 0, gap: 3 }], touch: 'ends' } }))).toMatch(
      /^hull.fore.gaps: .*length of the bar/,
    );
    expect(
      refusal(() => shellFrom({ ...base, girth, fore: { gaps: [{ at: 400, gap: 300 }], touch: 'middle' } })),
    ).toMatch(/^hull.fore.gaps\[0\].gap/);
  });
  test('a foot beyond the tape or the bar', () => {
    const girth = [...base.girth, { at: 200, slope: 0.4 }];
    expect(refusal(() => standLug({ ...base, girth }, { station: 0, girth: 100, heading: Math.PI / 2 }))).toMatch(
      /^at: a foot that reaches to -?\d+ mm on the tape.*one more slope: at/,
    );
    const gaps = [{ at: 100, gap: 0.2 }];
    expect(
      refusal(() => standLug({ ...base, girth, fore: { gaps, touch: 'middle' } }, { station: 0, girth: 100 })),
    ).toMatch(/^at: a foot that reaches \d+ mm along the bar.*one more gap: at/);
    expect(refusal(() => shellFrom({ ...base, girth }).pointAt(0, 900, 'port'))).toMatch(
      /^at.girth: .*One more slope, at 900 mm/,
    );
    expect(refusal(() => shellFrom({ ...base, girth }).pointAt(5000, 100, 'port'))).toMatch(/^at.station/);
  });
});

describe('the shell as a surface', () => {
  const spec: HullSpec = {
    kind: 'readings',
    start: { y: 1500, z: 500 },
    girth: [0, 250, 500, 750, 1000].map((at) => ({ at, slope: 0.3 + at / 2500 + (at / 2000) ** 2 })),
    fore: { gaps: [-500, 500].map((at) => ({ at, gap: 6 })), touch: 'middle', slope: -0.01 },
    up: upOf(TRIMMED),
    side: 'port',
    station: 20_000,
  };
  const shell = shellFrom(spec);

  test('closest point is square to the shell, and the mirror image is the mirror image', () => {
    for (const [station, girth] of [
      [20_000, 500],
      [19_800, 300],
      [20_300, 820],
    ] as const) {
      const p = shell.pointAt(station, girth, 'port');
      const off = addScaled(p.position, p.normal, 37);
      const c = shell.closest(off);
      expect(c.distance).toBeCloseTo(37, 6);
      expect(length(sub(c.position, p.position))).toBeLessThan(1e-5);
      const m = shell.closest([off[0], -off[1], off[2]]);
      expect(m.distance).toBeCloseTo(37, 6);
      expect(m.position[1]).toBeCloseTo(-p.position[1], 5);
      const s = shell.pointAt(station, girth, 'starboard');
      expect(s.position).toEqual([p.position[0], -p.position[1], p.position[2]]);
    }
  });

  test('curvature agrees with differences of the normal', () => {
    const at = shell.pointAt(20_000, 500, 'port');
    const h = 1;
    const ahead = shell.pointAt(20_000, 500 + h, 'port');
    const bend = dot(sub(ahead.normal, at.normal), at.tGirth) / h;
    const fore = shell.pointAt(20_000 + h, 500, 'port');
    const along = dot(sub(fore.normal, at.normal), at.tFore) / h;
    const both = [at.curvature.k1, at.curvature.k2];
    expect(Math.min(...both.map((k) => Math.abs(k - bend)))).toBeLessThan(2e-6);
    expect(Math.min(...both.map((k) => Math.abs(k - along)))).toBeLessThan(2e-6);
  });

  test('places by height and half-breadth come back', () => {
    const p = shell.pointAt(20_150, 640, 'port');
    expect(shell.girthAt(20_150, 'height', p.position[2])).toBeCloseTo(640, 6);
    expect(shell.girthAt(20_150, 'halfBreadth', p.position[1])).toBeCloseTo(640, 6);
    expect(shell.sectionLine(20_000, 0.1).length).toBeGreaterThan(4);
    expect(shell.drawStations(0, 1e6, 0.1).length).toBeGreaterThan(2);
  });
});
