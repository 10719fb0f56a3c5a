import { beforeEach, describe, expect, test } from 'vitest';
import { beginDrag, openDocument, redo, setField, undo, useDocument } from '../../src/app/store/document.ts';
import { setIn } from '../../src/app/store/jsontext.ts';

const text = '{"a": "1 mm", "b": "2 mm"}';
const steps = () => useDocument.temporal.getState().pastStates.length;

beforeEach(() => openDocument({ text, files: {}, stops: [], fileName: 'x.json' }));

test('opening a job leaves nothing to undo', () => {
  setField(['a'], '5 mm');
  openDocument({ text, files: {}, stops: [], fileName: 'y.json' });
  expect(steps()).toBe(0);
});

test('every change can be undone and done again, to the byte', () => {
  setField(['a'], '5 mm');
  setField(['b'], '6 mm');
  const last = useDocument.getState().text;
  undo();
  undo();
  expect(useDocument.getState().text).toBe(text);
  undo();
  expect(useDocument.getState().text).toBe(text);
  redo();
  redo();
  expect(useDocument.getState().text).toBe(last);
});

test('a change that changes nothing is no step', () => {
  setField(['a'], '1 mm');
  expect(steps()).toBe(0);
});

test('a mark of where the dive stopped is undone like a figure', () => {
  useDocument.setState({ stops: [{ fitting: 'P1', run: 1, s: 3, order: '', at: '' }] });
  expect(steps()).toBe(1);
  undo();
  expect(useDocument.getState().stops).toEqual([]);
});

describe('a drag', () => {
  test('is one step, whatever passed by', () => {
    const drag = beginDrag();
    for (let i = 0; i < 50; i++) drag.move((t) => setIn(t, ['a'], `${i} mm`));
    drag.end();
    expect(steps()).toBe(1);
    setField(['b'], '9 mm');
    expect(steps()).toBe(2);
    undo();
    expect(useDocument.getState().text).toContain('49 mm');
    undo();
    expect(useDocument.getState().text).toBe(text);
    redo();
    expect(useDocument.getState().text).toContain('49 mm');
  });

  test('that moves nothing is no step', () => {
    const drag = beginDrag();
    drag.move((t) => t);
    drag.end();
    expect(steps()).toBe(0);
  });
});

test('text that is not JSON is not edited', () => {
  openDocument({ text: 'no job', files: {}, stops: [], fileName: 'x' });
  setField(['a'], 1);
  expect(useDocument.getState().text).toBe('no job');
});
