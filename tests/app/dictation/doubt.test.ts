import { describe, expect, test } from 'vitest';
import { doubtGap, doubtMark, doubtSlope, needsOf, readingsIn } from '../../../src/app/dictation/doubt.ts';
import type { Json } from '../../../src/app/store/jsontext.ts';
import { showPhrase } from '../../../src/job/show.ts';

/* What is questioned, on a shell whose slopes are known: a circle of radius R in section turns by s/R along the tape. */
const R = 2600;
const DEG = Math.PI / 180;
const turned = (s: number): number => (10 * DEG + s / R) / DEG;

function job(
  marks: readonly number[],
  gaps: readonly (readonly [number, number])[],
  off: Record<number, number> = {},
): Json {
  return {
    format: 'lugwright.job',
    version: 1,
    title: 'x',
    display: 'metric',
    ship: {
      lpp: '60 m',
      draftAft: '3 m',
      draftForward: '3 m',
      heel: '0 deg',
      hull: {
        kind: 'readings',
        start: { y: '1 m', z: '0.5 m' },
        girth: marks.map((s) => ({ at: `${s} mm`, slope: `${(turned(s) + (off[s] ?? 0)).toFixed(4)} deg` })),
        fore: { gaps: gaps.map(([at, gap]) => ({ at: `${at} mm`, gap: `${gap.toFixed(2)} mm` })) },
      },
    },
    fittings: [
      {
        id: 'P1',
        at: { station: '9 m', side: 'port', girth: '400 mm' },
        lug: {
          foot: '300 mm',
          thickness: '32 mm',
          pinHeight: '200 mm',
          hole: '50 mm',
          topRadius: '90 mm',
          shoulder: '48 mm',
        },
        stem: 'plumb',
        heading: '0 deg',
        load: { toward: ['9 m', '1.2 m', '-4 m'], force: '60 kN' },
        weld: { leg: '14 mm' },
      },
    ],
  };
}
const spec = (...of: Parameters<typeof job>) => {
  const found = readingsIn(job(...of));
  if (found === undefined) throw new Error('no readings');
  return found;
};
const words = (phrase: ReturnType<typeof doubtSlope>) => phrase && showPhrase(phrase, 'metric');
const at = (s: number, off = 0): [number, number] => [s, (turned(s) + off) * DEG];

test('readings are read however few there are, and those that stand in are left out', () => {
  expect(spec([], []).girth).toEqual([]);
  expect(spec([], []).fore.gaps).toEqual([]);
  expect(spec([0], []).girth).toHaveLength(1);
  expect(readingsIn({ ship: { hull: { kind: 'spline' } } })).toBeUndefined();
  expect(readingsIn({ ship: { hull: { kind: 'readings' } } })).toBeUndefined();
});

describe('slopes', () => {
  test('one that lies on the shell is never questioned, however many there are', () => {
    for (let n = 0; n < 8; n++) {
      const before = Array.from({ length: n }, (_, i) => i * 200);
      expect(words(doubtSlope(spec(before, []), ...at(n * 200)))).toBeUndefined();
    }
  });

  test('six degrees off its neighbours is questioned, with what they lead to', () => {
    const said = words(doubtSlope(spec([0, 200, 400, 600], []), ...at(300, 6)));
    expect(said).toContain('6.0° off its neighbours');
    expect(said).toContain(`${turned(300).toFixed(1)}° rising outboard`);
  });

  test('so is a digit or a direction misheard after two readings', () => {
    const two = spec([0, 200], []);
    expect(words(doubtSlope(two, 400, -turned(400) * DEG))).toContain('ask again');
    expect(words(doubtSlope(two, 400, (turned(400) + 30) * DEG))).toContain('ask again');
  });

  test('four that agree make it finer: a degree is questioned, half of one is not', () => {
    const many = spec([0, 200, 400, 600], []);
    expect(words(doubtSlope(many, ...at(500, 1)))).toContain('1.0° off');
    expect(words(doubtSlope(many, ...at(500, 0.4)))).toBeUndefined();
  });

  test('an earlier one put right is held against the others alone', () => {
    const wrong = spec([0, 200, 400, 600, 800], [], { 400: 6 });
    expect(words(doubtSlope(wrong, ...at(400), 2))).toBeUndefined();
    expect(words(doubtSlope(wrong, ...at(400, 6), 2))).toContain('ask again');
  });

  test('a second reading at the same mark that says something else', () => {
    expect(words(doubtSlope(spec([0, 200], []), ...at(200, 3)))).toContain('at this mark already');
    expect(words(doubtSlope(spec([0, 200], []), ...at(200, 0.2)))).toBeUndefined();
  });

  test('a bend tighter than plating takes, from one mark to the next', () => {
    // 40 degrees within 200 mm is a radius of 200 / (40 pi/180) = 286 mm.
    expect(words(doubtSlope(spec([0], []), 200, (turned(0) + 40) * DEG))).toContain('286 mm radius');
    expect(words(doubtSlope(spec([0], []), 200, (turned(0) + 30) * DEG))).toBeUndefined();
  });

  test('with heel the inclinometer shows another slope, and is understood so', () => {
    const heeled = job([0, 200, 400, 600], []) as { ship: { heel: string; hull: { side?: string } } };
    heeled.ship.heel = '5 deg';
    const found = readingsIn(heeled as unknown as Json);
    if (found === undefined) throw new Error('no readings');
    // Read in the water, all of them are five degrees off alike: their neighbours agree with them all the same.
    expect(words(doubtSlope(found, ...at(300)))).toBeUndefined();
  });
});

test('a mark farther off than a tape is laid', () => {
  expect(doubtMark(spec([0, 200], []), 25_000)).toBeDefined();
  expect(doubtMark(spec([0, 200], []), 600)).toBeUndefined();
  expect(doubtMark(spec([], []), 25_000)).toBeUndefined();
});

describe('gaps under the bar', () => {
  // The sagitta of a circle of radius 9 m: 9000 - sqrt(9000^2 - t^2).
  const sagitta = (t: number): number => 9000 - Math.sqrt(9000 ** 2 - t ** 2);
  const three = spec(
    [0, 400],
    [
      [-500, sagitta(500)],
      [500, sagitta(500)],
      [-250, sagitta(250)],
    ],
  );
  test('one on the arc is not questioned, one far off is', () => {
    expect(doubtGap(three, 250, sagitta(250))).toBeUndefined();
    expect(doubtGap(three, 250, sagitta(250) + 8)).toBeDefined();
    expect(words(doubtGap(three, 250, sagitta(250) + 12))).toContain('12.0 mm off the arc');
  });
  test('a gap in the middle of a bar that touches there', () => {
    expect(doubtGap(three, 0, 3)).toBeDefined();
    expect(doubtGap(three, 0, 0)).toBeUndefined();
  });
});

describe('what is needed still', () => {
  const needs = (...of: Parameters<typeof job>) => needsOf(spec(...of));
  const help = (...of: Parameters<typeof job>) => words(needs(...of).help) ?? '';
  test('counted from nothing to enough', () => {
    expect(needs([], [])).toMatchObject({ slopes: 2, gaps: 1 });
    expect(needs([0], [])).toMatchObject({ slopes: 1, gaps: 1 });
    expect(needs([0, 0], [])).toMatchObject({ slopes: 1 });
    expect(needs([0, 400], [])).toMatchObject({ slopes: 0, gaps: 1 });
    expect(needs([0, 400], [[0, 0]])).toMatchObject({ slopes: 0, gaps: 1 });
    expect(needs([0, 400], [[500, 0]])).toMatchObject({ slopes: 0, gaps: 0 });
  });
  test('which one would help most', () => {
    expect(help([], [])).toBe('slopes either side of the lug, which stands at 400 mm on the tape');
    // The lug stands at 400 on the tape: past it as far as the first lies before it.
    expect(help([0], [])).toBe('one more slope, best at 800 mm on the tape');
    expect(help([0, 400], [])).toContain('a gap towards either end of the bar');
    expect(help([0, 400], [[500, 0]])).toContain('best at 200 mm');
    expect(help([0, 400, 800], [[500, 0]])).toBe('a gap 500 mm aft of the middle of the bar');
  });
  test('the odd one out among many is named', () => {
    expect(needs([0, 200, 400, 600, 800, 1000], [[500, 0]], { 400: 6 })).toMatchObject({ odd: 2 });
    expect(needs([0, 200, 400, 600, 800, 1000], [[500, 0]]).odd).toBeUndefined();
  });
});
