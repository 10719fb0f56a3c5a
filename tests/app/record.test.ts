import { describe, expect, test } from 'vitest';
import { RECORD_VERSION, readRecord } from '../../src/app/store/record.ts';

const now = {
  version: RECORD_VERSION,
  id: 'one',
  revision: 3,
  savedAt: '2026-01-01T00:00:00.000Z',
  document: { text: '{}', files: { 'a.csv': '1,2' }, stops: [], fileName: 'a.json' },
};

describe('what the browser kept', () => {
  test('reads back as it was written', () => {
    expect(readRecord(now)).toEqual({ kind: 'read', record: now });
  });

  test('of the first version is brought forward', () => {
    const old = { version: 1, id: 'one', revision: 3, savedAt: now.savedAt, text: '{"a":1}', files: { 'a.csv': '1' } };
    expect(readRecord(old)).toEqual({
      kind: 'read',
      record: { ...now, document: { text: '{"a":1}', files: { 'a.csv': '1' }, stops: [], fileName: 'job.json' } },
    });
  });

  test('by a newer program is left alone', () => {
    expect(readRecord({ ...now, version: RECORD_VERSION + 1 })).toEqual({ kind: 'newer', version: RECORD_VERSION + 1 });
  });

  test.each([
    null,
    undefined,
    7,
    'x',
    [],
    {},
    { version: 0 },
    { ...now, document: undefined },
    { ...now, id: 1 },
    { ...now, document: { text: 5 } },
  ])('damaged (%j) is called so and never thrown over', (stored) => {
    expect(readRecord(stored).kind).toBe('corrupt');
  });

  test('loses only the parts that are damaged', () => {
    const reading = readRecord({
      ...now,
      document: { text: '{}', files: { a: 1, b: 'x' }, stops: [1], fileName: null },
    });
    expect(reading.kind === 'read' && reading.record.document).toEqual({
      text: '{}',
      files: { b: 'x' },
      stops: [],
      fileName: 'job.json',
    });
  });
});
