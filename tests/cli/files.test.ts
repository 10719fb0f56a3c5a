import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { readFileBeside, readTextFile, writeAllFiles } from '../../src/cli/files.ts';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'files-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

test('all files stand there, complete, and nothing else', () => {
  const target = join(folder, 'a', 'b');
  const bytes = new Uint8Array([0, 255, 1]);
  expect(
    writeAllFiles(target, [
      { name: 'x.txt', content: 'ü\n' },
      { name: 'y.bin', content: bytes },
    ]),
  ).toBeUndefined();
  expect(readdirSync(target).sort()).toEqual(['x.txt', 'y.bin']);
  expect(readFileSync(join(target, 'x.txt'), 'utf8')).toBe('ü\n');
  expect(new Uint8Array(readFileSync(join(target, 'y.bin')))).toEqual(bytes);
  expect(writeAllFiles(target, [{ name: 'x.txt', content: 'new' }])).toBeUndefined();
  expect(readFileSync(join(target, 'x.txt'), 'utf8')).toBe('new');
  expect(readdirSync(target).sort()).toEqual(['x.txt', 'y.bin']);
});

test('where one cannot be written none is, and what stood there stays', () => {
  const files = [
    { name: 'x.txt', content: 'new' },
    { name: 'y.txt', content: 'new' },
  ];
  writeFileSync(join(folder, 'x.txt'), 'old');
  mkdirSync(join(folder, 'y.txt'));
  expect(writeAllFiles(folder, files)).toContain('y.txt is a folder');
  expect(readFileSync(join(folder, 'x.txt'), 'utf8')).toBe('old');
  expect(readdirSync(folder).sort()).toEqual(['x.txt', 'y.txt']);
  const broken = [
    { name: 'a.txt', content: 'new' },
    { name: `${'n'.repeat(300)}.txt`, content: 'new' },
  ];
  expect(writeAllFiles(join(folder, 'p', 'q'), broken)).toContain('too long');
  expect(existsSync(join(folder, 'p'))).toBe(false);
});

test('a file where the folder should be', () => {
  writeFileSync(join(folder, 'x'), 'old');
  expect(writeAllFiles(join(folder, 'x'), [])).toContain('a file where a folder should be');
  expect(writeAllFiles(join(folder, 'x', 'y'), [])).toContain('a file where a folder should be');
  expect(readFileSync(join(folder, 'x'), 'utf8')).toBe('old');
});

test('reading: not there, a folder, not UTF-8, with a byte order mark', () => {
  expect(readTextFile(join(folder, 'none'))).toEqual({ ok: false, why: 'no such file' });
  expect(readTextFile(folder)).toEqual({ ok: false, why: 'a folder' });
  writeFileSync(join(folder, 'latin'), new Uint8Array([0x67, 0xfc, 0x74]));
  expect(readTextFile(join(folder, 'latin'))).toMatchObject({ ok: false });
  writeFileSync(join(folder, 'mark'), '\uFEFFa');
  expect(readTextFile(join(folder, 'mark'))).toEqual({ ok: true, text: '\uFEFFa' });
});

test.skipIf(process.getuid?.() === 0)('reading: a file one may not open', () => {
  writeFileSync(join(folder, 'x'), 'x');
  chmodSync(join(folder, 'x'), 0);
  expect(readTextFile(join(folder, 'x'))).toEqual({ ok: false, why: 'no leave to open it' });
});

test('a file named in a job is read from the job’s folder and nowhere else', () => {
  mkdirSync(join(folder, 'job', 'lines'), { recursive: true });
  writeFileSync(join(folder, 'secret.csv'), 'secret');
  writeFileSync(join(folder, 'job', 'lines', 'a.csv'), 'a');
  symlinkSync(join(folder, 'secret.csv'), join(folder, 'job', 'link.csv'));
  const job = join(folder, 'job', 'job.json');
  expect(readFileBeside(job, 'lines/a.csv')).toBe('a');
  expect(readFileBeside(job, 'link.csv')).toBeUndefined();
  expect(readFileBeside(job, '../secret.csv')).toBeUndefined();
  expect(readFileBeside(job, 'lines')).toBeUndefined();
  expect(readFileBeside(job, 'none.csv')).toBeUndefined();
});
