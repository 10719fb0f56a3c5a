import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  append,
  type Json,
  pathOf,
  removeIn,
  setIn,
  spanOf,
  valueIn,
  writtenPath,
} from '../../src/app/store/jsontext.ts';

// Edits of JSON text are checked against the language's own JSON.parse: an independent reader of the same text.

const ODD = '{\r\n\t"a" :  1.50 ,\r\n\t"list":[ 1,\t{"b":"x, ] }\\""} ],\r\n\t"empty": { }\r\n}\r\n';

const parse = (text: string): Json => JSON.parse(text) as Json;

describe('an edit leaves every other byte alone', () => {
  test('a value is replaced where it stands', () => {
    expect(setIn(ODD, ['list', 1, 'b'], 'new')).toBe(ODD.replace('"x, ] }\\""', '"new"'));
    expect(setIn(ODD, ['a'], '2 m')).toBe(ODD.replace('1.50', '"2 m"'));
  });

  test('setting what stands there already changes nothing', () => {
    const text = '{"a": "5 mm", "b": [true, null]}';
    expect(setIn(text, ['a'], '5 mm')).toBe(text);
  });

  test('a missing field comes after the last one, laid out as its neighbours', () => {
    expect(setIn('{\n  "a": 1,\n  "b": 2\n}', ['c'], 3)).toBe('{\n  "a": 1,\n  "b": 2,\n  "c": 3\n}');
    expect(setIn('{"a": 1, "b": 2}', ['c'], 3)).toBe('{"a": 1, "b": 2, "c": 3}');
  });

  test('missing objects on the way are made', () => {
    const text = setIn('{\n  "a": 1\n}\n', pathOf('limits.fitGap'), '2 mm');
    expect(parse(text)).toEqual({ a: 1, limits: { fitGap: '2 mm' } });
    expect(text.endsWith('}\n')).toBe(true);
  });

  test('an added field taken out again gives back the text', () => {
    for (const text of ['{\n  "a": 1\n}\n', '{"a": {"b": 1}}', ODD]) {
      expect(removeIn(setIn(text, ['zz'], 'x'), ['zz'])).toBe(text);
    }
  });

  test('the first, a middle and the last member can go', () => {
    const text = '{"f": [ 1, 2, 3 ]}';
    expect(parse(removeIn(text, ['f', 0]))).toEqual({ f: [2, 3] });
    expect(parse(removeIn(text, ['f', 1]))).toEqual({ f: [1, 3] });
    expect(parse(removeIn(text, ['f', 2]))).toEqual({ f: [1, 2] });
    expect(parse(removeIn('{"f": [1]}', ['f', 0]))).toEqual({ f: [] });
    expect(removeIn(text, ['g'])).toBe(text);
  });

  test('a byte order mark stays', () => {
    expect(setIn('\uFEFF{"a": 1}', ['a'], 2)).toBe('\uFEFF{"a": 2}');
  });

  test('of equal keys the last one counts, as for JSON.parse', () => {
    const text = '{"a": 1, "a": 2}';
    expect(spanOf(text, ['a'])).toEqual({ from: 14, to: 15 });
    expect(parse(setIn(text, ['a'], 3))).toEqual({ a: 3 });
  });
});

describe('for any JSON whatever', () => {
  const json = fc.jsonValue({ maxDepth: 4 }) as fc.Arbitrary<Json>;
  const indent = fc.constantFrom(undefined, 0, 1, 2, '\t');

  test('setting, adding and taking out do what they do to the parsed value', () => {
    fc.assert(
      fc.property(
        fc.dictionary(fc.string(), json, { minKeys: 1 }),
        json,
        indent,
        fc.nat(),
        (root, value, space, pick) => {
          const text = JSON.stringify(root, null, space);
          const keys = Object.keys(root);
          const key = keys[pick % keys.length] as string;
          const set = parse(setIn(text, [key], value)) as Record<string, Json>;
          const plain = parse(text) as Record<string, Json>;
          expect(Object.entries(set)).toEqual(
            Object.entries(plain).map(([k, v]) => [k, k === key ? parse(JSON.stringify(value)) : v]),
          );
          const gone = parse(removeIn(text, [key])) as Record<string, Json>;
          expect(Object.keys(gone)).toEqual(Object.keys(plain).filter((k) => k !== key));
          const fresh = `${keys.join('')}+`;
          const added = parse(setIn(text, [fresh], value)) as Record<string, Json>;
          expect(added[fresh]).toEqual(parse(JSON.stringify(value)));
        },
      ),
      { numRuns: 300 },
    );
  });

  test('appending to a list at any depth', () => {
    fc.assert(
      fc.property(fc.array(json), json, indent, (list, value, space) => {
        const text = JSON.stringify({ a: { list } }, null, space);
        expect(valueIn(parse(append(text, ['a', 'list'], value)), ['a', 'list'])).toEqual(
          parse(JSON.stringify([...list, value])),
        );
      }),
    );
  });
});

test('paths are written and read alike', () => {
  expect(pathOf('fittings[1].lug.foot')).toEqual(['fittings', 1, 'lug', 'foot']);
  expect(writtenPath(['fittings', 1, 'load', 'toward', 2])).toBe('fittings[1].load.toward[2]');
});
