import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { guessed, objectionTo } from '../../src/app/hullfile/asked.ts';
import { hold } from '../../src/app/store/heldfile.ts';
import { asStored, keysIn, RECORD_VERSION, readRecord } from '../../src/app/store/record.ts';
import { filesFor, planRequest } from '../../src/app/worker/answer.ts';
import { openFiles, readHeld } from '../../src/app/worker/held.ts';
import { play, TapeRecorder } from '../../src/app/worker/tape.ts';
import { sourceOf } from '../../src/job/meshfile/bytes.ts';
import { readJobFiles } from '../../src/job/readfiles.ts';
import { planJob } from '../../src/plan/plan.ts';
import { planFile } from '../../src/plan/planfile.ts';

const SAMPLE = 'samples/l-one-hull-four-ways';
const text = readFileSync(`${SAMPLE}/scan.json`, 'utf8');
const bytes = new Uint8Array(readFileSync(`${SAMPLE}/scan.stl`));
const held = await hold(bytes.slice().buffer);
const request = { text, files: { 'scan.stl': held }, drawn: 0 };

describe('a scan beside the job', () => {
  test('is asked for before the job is planned, and once only', async () => {
    expect(planRequest(request, '').kind).toBe('wants');
    await openFiles(request);
    expect(planRequest(request, '').kind).toBe('planned');
    // Moved along the ship: another stretch of the scan, and no file is asked for again.
    const moved = text.replace('"24 m"', '"24.3 m"');
    expect(moved).not.toBe(text);
    expect(readHeld({ ...request, text: moved }).kind).toBe('read');
  });

  test('is planned on as the command line does, to the byte', async () => {
    await openFiles(request);
    const reading = await readJobFiles(text, {
      text: () => undefined,
      bytes: (name) => (name === 'scan.stl' ? sourceOf(bytes) : undefined),
    });
    if (!reading.ok) throw new Error('the sample does not read');
    const plan = `${JSON.stringify(planFile(planJob(reading.job)), null, 1)}\n`;
    expect(filesFor(request)[0]?.content).toBe(plan);
  });

  test('that is damaged is a fault of its field, in one line', async () => {
    const short = { text, files: { 'scan.stl': await hold(bytes.slice(0, 9999).buffer) }, drawn: 0 };
    const reading = await openFiles(short);
    expect(reading.ok).toBe(false);
    const faults = reading.ok ? [] : reading.faults;
    expect(faults.map((f) => f.path)).toEqual(['ship.hull.file']);
    expect(faults[0]?.found).toContain('cut short');
  });

  test('that is missing is a fault of its field', () => {
    const reply = planRequest({ text, files: {}, drawn: 0 }, '');
    expect(reply.kind === 'refused' && reply.faults.map((f) => f.path)).toEqual(['ship.hull.file']);
  });

  test('drawn again for a lug moved a little, the ship is the same drawing', async () => {
    await openFiles(request);
    const first = planRequest(request, '');
    if (first.kind !== 'planned' || first.drawing.kind !== 'drawn') throw new Error('no drawing');
    const moved = { ...request, text: text.replace('"24 m"', '"24.01 m"') };
    const next = planRequest(moved, first.drawing.drawing.key);
    expect(next.kind === 'planned' && next.drawing.kind).toBe('same');
  });
});

describe('a tape of triangles', () => {
  test.each([
    ['single', [0.5, 1.25, -3, 4, 5, 6, 7, 8, 9], Float32Array],
    ['double', [0.1, 1.25, -3, 4, 5, 6, 7, 8, 1e-9], Float64Array],
  ] as const)('gives back what it took, in %s precision', (_, nine, kind) => {
    const recorder = new TapeRecorder();
    for (let i = 0; i < 20_000; i++) recorder.add(i === 19_999 ? nine : [i, 0, 0, 0, 1, 0, 0, 0, 1]);
    const tape = recorder.tape();
    expect(tape.numbers).toBeInstanceOf(kind);
    let n = 0;
    let last: number[] = [];
    play(tape, {
      add: (numbers, at = 0) => {
        if (n < 19_999) expect(numbers[at]).toBe(n);
        last = Array.from({ length: 9 }, (_unused, k) => numbers[at + k] as number);
        n++;
      },
    });
    expect(n).toBe(20_000);
    expect(last).toEqual([...nine]);
    expect(tape.high[0]).toBe(19_998);
    expect(tape.low[2]).toBe(-3);
  });
});

describe('what the numbers of a file say', () => {
  const words = {
    unit: 'mm',
    forward: 'x',
    port: 'y',
    up: 'z',
    origin: ['0 m', '0 m', '0 m'],
    half: false,
  } as const;

  test('the longest axis runs fore and aft, and the axes stay right-handed whichever it is', () => {
    for (const size of [
      [20, 3, 2],
      [3, 20, 2],
      [3, 2, 20],
    ]) {
      const guess = guessed(words, [0, 0, 0], size, false);
      expect(guess.forward).toBe(['x', 'y', 'z'][size.indexOf(20)]);
      expect(guess.unit).toBe('m');
      expect(objectionTo(guess)).toBeUndefined();
    }
  });

  test('a shell on one side of its zero is one half; on both it is whole', () => {
    expect(guessed(words, [0, 0, 0], [20, 3, 2], false).half).toBe(true);
    expect(guessed(words, [0, -3, 0], [20, 0, 2], false).half).toBe(true);
    expect(guessed(words, [0, -3, 0], [20, 3, 2], false).half).toBe(false);
  });

  test('a mirrored ship and an axis named twice are refused in words', () => {
    expect(objectionTo({ ...words, port: '-y' })).toContain('left-handed');
    expect(objectionTo({ ...words, port: 'z' })).toContain('three different axes');
    expect(objectionTo({ ...words, forward: '-x', port: '-y' })).toBeUndefined();
    expect(objectionTo({ ...words, origin: ['0 m', 'x', '0 m'] })).toContain('expected');
  });
});

describe('what the browser keeps of a scan', () => {
  test('its label stands in the record, its bytes beside it', () => {
    const document = { text: '{}', files: { 'a.csv': '1', 'scan.stl': held }, stops: [], fileName: 'a.json' };
    const stored = {
      version: RECORD_VERSION,
      id: 'one',
      revision: 1,
      savedAt: '2026-01-01T00:00:00.000Z',
      document: asStored(document),
    };
    expect(JSON.parse(JSON.stringify(stored)).document.files['scan.stl']).toEqual({ key: held.key, size: held.size });
    expect(keysIn(stored)).toEqual([held.key]);
    const whole = readRecord(stored, new Map([[held.key, held.blob]]));
    expect(whole.kind === 'read' && whole.record.document).toEqual(document);
    const without = readRecord(stored);
    expect(without.kind === 'read' && Object.keys(without.record.document.files)).toEqual(['a.csv']);
  });

  test('a record of version 2 is brought forward', () => {
    const old = {
      version: 2,
      id: 'one',
      revision: 1,
      savedAt: '2026-01-01T00:00:00.000Z',
      document: { text: '{}', files: { 'a.csv': '1' }, stops: [], fileName: 'a.json' },
    };
    expect(readRecord(old)).toEqual({ kind: 'read', record: { ...old, version: RECORD_VERSION } });
  });
});
