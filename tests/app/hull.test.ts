import { describe, expect, test } from 'vitest';
import { HULL_KINDS, pastedSection, startingHull } from '../../src/app/sentence/hull.ts';
import { BLANK } from '../../src/app/store/blank.ts';
import { type Json, setIn, valueIn } from '../../src/app/store/jsontext.ts';
import { gather } from '../../src/app/store/samples.ts';
import { readRequest } from '../../src/app/worker/answer.ts';

const faults = (text: string, files: Record<string, string> = {}) => readRequest({ text, files, drawn: 0 });

test('the job to start from is good as it stands', () => {
  expect(faults(BLANK.text)).toEqual([]);
});

describe('a hull given in another way', () => {
  const hull = valueIn(JSON.parse(BLANK.text) as Json, ['ship', 'hull']);
  test.each(HULL_KINDS.map((k) => k.value))('%s starts from what is known and has no fault of form', (kind) => {
    const text = setIn(BLANK.text, ['ship', 'hull'], startingHull(kind, hull));
    const found = faults(text, { 'offsets.csv': ',0,1\n0,1,2\n10,1,2\n' }).filter((f) => f.path !== 'ship.hull.kind');
    // A drawing or a scan is not here before somebody drops it on the window.
    const missing = kind === 'drawing' || kind === 'mesh' ? ['ship.hull.file'] : [];
    expect(found.map((f) => f.path)).toEqual(missing);
  });
});

describe('rows pasted for a section', () => {
  const points = (hull: Json) => valueIn(hull, ['points']);
  test.each([
    ['0 m\t0.2 m\n2 m\t1 m', ['0 m', '0.2 m']],
    ['out m;up m\n0;0,2\n2;1', ['0 m', '0,2 m']],
    ['out (ft), up (ft)\n0, 0.5\n8, 3', ['0 ft', '0.5 ft']],
    ['0 mm, 200 mm\n2000 mm, 1000 mm', ['0 mm', '200 mm']],
    ['y m  z m\n0  0.2\n2  1', ['0 m', '0.2 m']],
  ])('%j', (text, start) => {
    const reading = pastedSection(text);
    expect(reading.ok).toBe(true);
    if (!reading.ok) return;
    expect(points(reading.hull)).toMatchObject([{ y: start[0], z: start[1] }, {}]);
    expect(faults(setIn(BLANK.text, ['ship', 'hull'], reading.hull))).toEqual([]);
  });

  test('without a unit they are refused: feet are not metres', () => {
    expect(pastedSection('0 0.2\n2 1').ok).toBe(false);
  });

  test('a wrong row is named', () => {
    const reading = pastedSection('0 m, 1 m\n2 m, one');
    expect(!reading.ok && reading.fault).toMatch(/Row 2.*“one”/);
    expect(pastedSection('0 m, 1 m, 2 m\n1 m, 2 m, 3 m')).toMatchObject({ ok: false });
    expect(pastedSection('0 m, 1 m')).toMatchObject({ ok: false });
  });
});

test('samples are gathered by folder, in order, each with its line and its tables', () => {
  const list = gather({
    '../samples/b/job.json': '{"title": "B"}',
    '../samples/a/job.json': '{"title": "A"}',
    '../samples/a/about.txt': 'shows a\n',
    '../samples/a/offsets.csv': '1',
    '../samples/c/about.txt': 'no job here',
  });
  expect(list.map((s) => [s.name, s.title, s.about, Object.keys(s.document.files)])).toEqual([
    ['a', 'A', 'shows a', ['offsets.csv']],
    ['b', 'B', '', []],
  ]);
});
