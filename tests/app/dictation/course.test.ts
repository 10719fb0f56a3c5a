import { describe, expect, test } from 'vitest';
import {
  type Entry,
  entryIn,
  inFigures,
  nextMark,
  type Part,
  sayBack,
  sayMark,
  takenIn,
  understand,
  waysOf,
  withAnswer,
  withoutAnswer,
  writtenEntry,
} from '../../../src/app/dictation/course.ts';

const NAMES = { 'face-': 'keel side', 'face+': 'outboard side', 'end-': 'aft end', 'end+': 'fore end' };
const RAD = Math.PI / 180;

function understood(
  typed: string,
  part: Part,
  step: 'mark' | 'value',
  more: Partial<Parameters<typeof understand>[3]> = {},
) {
  return understand(typed, part, step, {
    ways: waysOf(part, step, NAMES),
    chosen: 0,
    like: '',
    display: 'metric',
    ...more,
  });
}
function entry(...asked: Parameters<typeof understood>): Entry {
  const reading = understood(...asked);
  if (!reading.ok) throw new Error(reading.why);
  return reading.entry;
}

describe('a figure as it is typed', () => {
  test('takes the unit of the job, and of the marks before it', () => {
    expect(writtenEntry(entry('250', 'tape', 'mark'))).toBe('250 mm');
    expect(writtenEntry(entry('12 1/8', 'tape', 'mark', { display: 'us' }))).toBe('12 1/8 in');
    expect(entry('12 1/8', 'tape', 'mark', { display: 'us' }).value).toBeCloseTo(12.125 * 25.4, 9);
    expect(writtenEntry(entry('0.25', 'tape', 'mark', { like: '0.1 m' }))).toBe('0.25 m');
    expect(writtenEntry(entry('10 in', 'tape', 'mark'))).toBe('10 in');
  });

  test('says which way by a letter, by a button or by its sign; otherwise it is asked', () => {
    expect(entry('14.5 r', 'tape', 'value')).toEqual({ text: '14.5 deg', sign: 1, value: 14.5 * RAD });
    expect(entry('14.5f', 'tape', 'value').value).toBeCloseTo(-14.5 * RAD, 12);
    expect(entry('-14.5', 'tape', 'value').value).toBeCloseTo(-14.5 * RAD, 12);
    expect(entry('14.5', 'tape', 'value', { chosen: -1 }).value).toBeCloseTo(-14.5 * RAD, 12);
    expect(entry('14.5', 'tape', 'value').sign).toBe(0);
    expect(entry('0', 'tape', 'value').sign).toBe(1);
    expect(writtenEntry(entry('500 a', 'bar', 'mark'))).toBe('-500 mm');
    // The typed letter wins over the button: it is what was said last.
    expect(entry('14.5 r', 'tape', 'value', { chosen: -1 }).sign).toBe(1);
  });

  test('a unit that ends in such a letter stays a unit', () => {
    expect(writtenEntry(entry('2 ft', 'bar', 'mark', { chosen: 1 }))).toBe('2 ft');
    expect(writtenEntry(entry('0.2 rad', 'tape', 'value', { chosen: 1 }))).toBe('0.2 rad');
  });

  test('what is no reading of its kind is turned away', () => {
    for (const [typed, part, step] of [
      ['14.5 kg', 'tape', 'value'],
      ['abc', 'tape', 'mark'],
      ['-2', 'bar', 'value'],
      ['95', 'slope', 'value'],
      ['190', 'tape', 'value'],
      ['', 'tape', 'mark'],
    ] as const)
      expect(understood(typed, part, step).ok, typed).toBe(false);
  });
});

describe('an answer is one edit of the job', () => {
  const bare =
    '{\n  "ship": {\n    "hull": {\n      "kind": "readings",\n      "girth": [],\n      "fore": {\n        "gaps": []\n      }\n    }\n  },\n  "fittings": [\n    {\n      "id": "P1"\n    }\n  ]\n}\n';
  const json = (text: string) => JSON.parse(text);

  test('slopes, gaps and the slope of the bar, as the job file has them', () => {
    let text = bare;
    text = withAnswer(text, 'tape', 0, entryIn('0 mm', 'length'), entryIn('14.5 deg', 'angle'));
    text = withAnswer(text, 'tape', 0, entryIn('250 mm', 'length'), entryIn('-2 deg', 'angle'));
    text = withAnswer(text, 'bar', 0, entryIn('-500 mm', 'length'), entryIn('2 mm', 'length'));
    text = withAnswer(text, 'slope', 0, null, entryIn('-1.5 deg', 'angle'));
    expect(json(text).ship.hull).toEqual({
      kind: 'readings',
      girth: [
        { at: '0 mm', slope: '14.5 deg' },
        { at: '250 mm', slope: '-2 deg' },
      ],
      fore: { gaps: [{ at: '-500 mm', gap: '2 mm' }], slope: '-1.5 deg' },
    });
    const [first, second] = takenIn(json(text), 'tape', 0);
    expect(second?.value.sign).toBe(-1);
    const put = withAnswer(text, 'tape', 0, entryIn('200 mm', 'length'), entryIn('3 deg', 'angle'), 1);
    expect(json(put).ship.hull.girth[1]).toEqual({ at: '200 mm', slope: '3 deg' });
    expect(first && json(withoutAnswer(text, first, 0)).ship.hull.girth).toEqual([{ at: '250 mm', slope: '-2 deg' }]);
  });

  test('the fit-up, where none has been read before', () => {
    let text = bare;
    text = withAnswer(text, 'face', 0, null, entry('1.5 k', 'face', 'value'));
    text = withAnswer(text, 'foot', 0, null, entry('0.4 f', 'foot', 'value'));
    text = withAnswer(text, 'turned', 0, null, entry('1 o', 'turned', 'value'));
    text = withAnswer(text, 'feelers', 0, entryIn('120 mm', 'length'), entryIn('0.5 mm', 'length'));
    expect(json(text).fittings[0].asBuilt).toEqual({
      face: { fromPlumb: '1.5 deg', looksUp: 'face-' },
      foot: { fromLevel: '0.4 deg', higher: 'end+' },
      turned: '-1 deg',
      gaps: [{ s: '120 mm', gap: '0.5 mm' }],
    });
    for (const part of ['face', 'foot', 'turned', 'feelers'] as const)
      expect(takenIn(json(text), part, 0)).toHaveLength(1);
    expect(takenIn(json(text), 'face', 0)[0]?.value.value).toBeCloseTo(-1.5 * RAD, 12);
    const [face] = takenIn(json(text), 'face', 0);
    expect(face && json(withoutAnswer(text, face, 0)).fittings[0].asBuilt.face).toBeUndefined();
  });
});

describe('said back', () => {
  const said = (part: Part, mark: string | null, value: string) =>
    sayBack(
      {
        part,
        mark: mark === null ? null : entryIn(mark, 'length'),
        value: entryIn(value, part === 'bar' || part === 'feelers' ? 'length' : 'angle'),
      },
      NAMES,
    );

  test('in words, the sign as a way', () => {
    expect(said('tape', '250 mm', '14.5 deg')).toBe(
      'at two five zero millimetres: one four decimal five degrees, rising outboard',
    );
    expect(said('tape', '250 mm', '-14.5 deg')).toContain('falling outboard');
    expect(said('tape', '0 mm', '0 deg')).toBe('at zero millimetres: zero degrees');
    expect(said('bar', '-20 in', '1/8 in')).toBe('at two zero inches aft of the middle: gap one eighth inches');
    expect(said('slope', null, '-1.5 deg')).toBe('bar one decimal five degrees, aft end higher');
    expect(said('face', null, '-1.5 deg')).toBe('face from plumb one decimal five degrees, keel side looks up');
    expect(said('feelers', '120 mm', '0.5 mm')).toBe(
      'at mark one two zero millimetres: gap zero decimal five millimetres',
    );
    expect(sayMark(entryIn('-50 mm', 'length'), 'tape')).toBe('five zero millimetres inboard of the zero');
  });

  test('in figures beside the words', () => {
    const [mark, value] = [entryIn('250 mm', 'length'), entryIn('-14.5 deg', 'angle')];
    expect(inFigures({ part: 'tape', mark, value })).toBe('250 mm · 14.5° falling outboard');
  });
});

test('the next mark is one step on, and none is made up from marks without a step', () => {
  const taken = (marks: string[]) =>
    marks.map((m, index) => ({
      part: 'tape' as const,
      index,
      mark: entryIn(m, 'length'),
      value: entryIn('1 deg', 'angle'),
    }));
  const next = (marks: string[]) => {
    const found = nextMark(taken(marks));
    return found && writtenEntry(found);
  };
  expect(next(['0 mm', '250 mm'])).toBe('500 mm');
  expect(next(['-250 mm', '0 mm'])).toBe('250 mm');
  expect(next(['500 mm', '250 mm', '0 mm'])).toBe('-250 mm');
  expect(next(['0.1 m', '0.3 m'])).toBe('0.5 m');
  expect(next(['250 mm'])).toBeUndefined();
  expect(next(['0 mm', '10 in'])).toBeUndefined();
});

test('the foot turned right-handed about the stem goes towards face-', async () => {
  const { rotateAbout, dot, cross } = await import('../../../geometry/math/vec.ts');
  // A, B, C right-handed with C = A x B: A turned about B by a small positive angle, against C.
  const [A, B] = [
    [1, 0, 0],
    [0, 1, 0],
  ] as const;
  expect(dot(rotateAbout(A, B, 0.1), cross(A, B))).toBeLessThan(0);
  expect(waysOf('turned', 'value', NAMES)?.[0].word).toBe('fore end towards the keel');
});
