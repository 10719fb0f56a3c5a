import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { jobJsonSchema } from '../../src/job/jsonschema.ts';
import { migrate } from '../../src/job/migrate.ts';
import { editDistance, nearest } from '../../src/job/nearest.ts';
import { escaped, pathText, shown } from '../../src/job/shown.ts';

test('the schema for editors is up to date', () => {
  const file = new URL('../../src/job/lugwright.job.schema.json', import.meta.url);
  expect(readFileSync(file, 'utf8'), 'run: node src/job/write-schema.mjs').toBe(jobJsonSchema());
});

test('the schema for editors names what a job must and may hold', () => {
  const schema = JSON.parse(jobJsonSchema());
  expect(schema.required).toEqual(['format', 'version', 'title', 'display', 'ship', 'fittings']);
  expect(schema.additionalProperties).toBe(false);
  const kinds = schema.properties.ship.properties.hull.oneOf.map(
    (h: { properties: { kind: { const: string } } }) => h.properties.kind.const,
  );
  expect(kinds).toEqual(['segments', 'spline', 'sections', 'offsets', 'readings', 'mesh', 'drawing', 'columns']);
  expect(schema.properties.fittings.items.properties.at.oneOf).toHaveLength(3);
});

test('migrations run one after the other, up to the version of today and no further', () => {
  const steps = {
    1: (raw: object) => ({ ...raw, first: true }),
    2: (raw: object) => ({ ...raw, second: true }),
  };
  expect(migrate({ version: 1 }, steps, 3)).toEqual({ ok: true, raw: { version: 3, first: true, second: true } });
  expect(migrate({ version: 2 }, steps, 3)).toEqual({ ok: true, raw: { version: 3, second: true } });
  expect(migrate({ version: 3 }, steps, 3)).toEqual({ ok: true, raw: { version: 3 } });
  expect(migrate({ version: 4 }, steps, 3)).toMatchObject({ ok: false, fault: { path: 'version', found: '4' } });
  expect(migrate({ version: 0 }, steps, 3)).toMatchObject({ ok: false });
  for (const raw of [null, 7, [], { version: 'x' }, { version: 1.5 }, {}])
    expect(migrate(raw)).toEqual({ ok: true, raw });
});

test('edit distances', () => {
  // Standard examples: kitten-sitting is 3; exchanging two neighbours counts once in the optimal string alignment.
  expect(editDistance('kitten', 'sitting')).toBe(3);
  expect(editDistance('ca', 'ac')).toBe(1);
  expect(editDistance('', 'abc')).toBe(3);
  const fields = ['foot', 'thickness', 'pinHeight', 'hole', 'topRadius'];
  expect(nearest('pinheigth', fields)).toBe('pinHeight');
  expect(nearest('thicknes', fields)).toBe('thickness');
  expect(nearest('footLength', fields)).toBe('foot');
  expect(nearest('colour', fields)).toBeUndefined();
});

test('foreign text is shown on one line and harmless', () => {
  expect(shown('a"b\n\t\u202Ec\u0007\u2028\uD800')).toBe('"a\\"b\\n\\t\\u202ec\\u0007\\u2028\\ud800"');
  expect(shown('x'.repeat(500))).toBe(`"${'x'.repeat(60)}…"`);
  expect(shown('ü€ß')).toBe('"ü€ß"');
  expect(shown(Number.POSITIVE_INFINITY)).toBe('a number too large to hold');
  expect(shown([1, 'a', null])).toBe('[1, "a", null]');
  expect(shown([[], []])).toBe('a list of 2');
  expect(escaped('a\u001B[31mb\u200F')).toBe('a\\u001b[31mb\\u200f');
  expect(pathText(['fittings', 1, 'lug', 'foot'])).toBe('fittings[1].lug.foot');
  expect(pathText(['a', 'b c', 'd'])).toBe('a["b c"].d');
});
