import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readJson } from '../../src/job/json.ts';

const where = (text: string): string => {
  const reading = readJson(text);
  if (reading.ok) throw new Error(`${JSON.stringify(text)} was read`);
  return `${reading.line}:${reading.column} ${reading.found} | ${reading.expected}`;
};

test('whatever JSON.parse reads is read alike', () => {
  const seed = 7;
  fc.assert(
    fc.property(fc.json({ maxDepth: 8 }), fc.constantFrom(undefined, 1, '\t'), (text, indent) => {
      const value = JSON.parse(text);
      expect(readJson(JSON.stringify(value, null, indent))).toEqual({ ok: true, value });
    }),
    { seed, numRuns: 500 },
  );
});

test('whatever JSON.parse refuses is refused', () => {
  const seed = 11;
  const piece = fc.constantFrom(
    '{',
    '}',
    '[',
    ']',
    ',',
    ':',
    '"a"',
    '"b"',
    '1',
    '-',
    '01',
    '1.',
    '.5',
    'true',
    'nul',
    ' ',
    '"\\x"',
    '\n',
    '"',
  );
  fc.assert(
    fc.property(fc.array(piece, { maxLength: 9 }), (pieces) => {
      const text = pieces.join('');
      let good = true;
      try {
        JSON.parse(text);
      } catch {
        good = false;
      }
      const reading = readJson(text);
      if (!good) expect(reading.ok, text).toBe(false);
      else if (!reading.ok) expect(reading.expected, text).toBe('each field once');
    }),
    { seed, numRuns: 5000 },
  );
});

test('a fault is told with its line and column', () => {
  expect(where('')).toBe('1:1 the end of the file | a value');
  expect(where('{\n  "a": 1,\n}')).toBe('3:1 "}" | the name of a field in double quotes');
  expect(where('{\r\n  "a": tru\r\n}')).toBe('2:8 "t" | a value');
  expect(where('[1, 2,]')).toBe('1:7 "]" | a value');
  expect(where('{"a": 1} x')).toBe('1:10 "x" | the end of the file');
  expect(where('{"a" 1}')).toBe('1:6 "1" | ":"');
  expect(where("{'a': 1}")).toContain('1:2 ');
  expect(where('{"a": "1\n2"}')).toContain('1:7 ');
});

test('a name that stands twice is refused, also when it is written differently', () => {
  expect(where('{"a": 1,\n "a": 2}')).toBe('2:2 "a" a second time | each field once');
  expect(where('{"a": 1, "\\u0061": 2}')).toContain('1:10 ');
  expect(readJson('[{"a": 1}, {"a": 2}]').ok).toBe(true);
});

test('a byte order mark at the start is passed over and not counted', () => {
  expect(readJson('\uFEFF{}')).toEqual({ ok: true, value: {} });
  expect(where('\uFEFF{,')).toContain('1:2 ');
});

test('names with a meaning to the language are names like any other', () => {
  const reading = readJson('{"__proto__": {"a": 1}, "constructor": 2}');
  const value = reading.ok ? (reading.value as Record<string, unknown>) : {};
  expect(Object.keys(value)).toEqual(['__proto__', 'constructor']);
  expect(Object.getPrototypeOf(value)).toBe(Object.prototype);
  expect(({} as { a?: unknown }).a).toBeUndefined();
});

test('depth and length do not bring it down', () => {
  expect(where('['.repeat(1e6))).toContain('at most 40 levels');
  expect(readJson(`"${'a'.repeat(4e6)}"`).ok).toBe(true);
  expect(readJson(`"${'\\n'.repeat(1e6)}"`).ok).toBe(true);
  expect(readJson(`"${'a'.repeat(4e6)}`).ok).toBe(false);
});
