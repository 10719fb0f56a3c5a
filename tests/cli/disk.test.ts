import { spawnSync } from 'node:child_process';
import { chmodSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { bundleCommand } from '../../src/cli/bundle.mjs';
import { plainJob } from '../job/jobs.ts';

/* All deliverables, sheets among them, into places that do not take them: one line, status 2, and no half file anywhere. */

const project = fileURLToPath(new URL('../..', import.meta.url));
let folder = '';
let bundle = '';

beforeAll(async () => {
  mkdirSync(join(project, 'dist'), { recursive: true });
  folder = mkdtempSync(join(project, 'dist', 'disk-'));
  chmodSync(folder, 0o755);
  // Deep enough that it finds no sources to be older than.
  bundle = join(folder, 'deep', 'down', 'plan.mjs');
  await bundleCommand(join(folder, 'deep', 'down'));
  writeFileSync(join(folder, 'job.json'), JSON.stringify(plainJob()));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const quote = (text: string): string => `'${text.replaceAll("'", "'\\''")}'`;
const command = (out: string): string =>
  [process.execPath, bundle, join(folder, 'job.json'), '--out', out].map(quote).join(' ');

interface Ended {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

function refusedWith(ended: Ended, why: string): void {
  expect([ended.status, ended.stdout], ended.stderr).toEqual([2, '']);
  expect(ended.stderr).toMatch(/^--out: found "[^\n]*", expected a folder that can be written to: [^\n]*\n$/);
  expect(ended.stderr).toContain(why);
}

const shell = (script: string): Ended => spawnSync('bash', ['-c', script], { cwd: folder, encoding: 'utf8' });

describe('what stood in the folder stays as it was', () => {
  test('a sheet is larger than may be written: the writing breaks off in the middle of a file', () => {
    const out = join(folder, 'limited');
    mkdirSync(out);
    writeFileSync(join(out, 'report.txt'), 'of yesterday');
    // 8 blocks of 1024 bytes: the report fits, a sheet with its letters does not.
    refusedWith(shell(`ulimit -f 8; ${command(out)}`), 'more than may be written there');
    expect(readdirSync(out)).toEqual(['report.txt']);
    expect(readFileSync(join(out, 'report.txt'), 'utf8')).toBe('of yesterday');
  });

  test('a folder stands where a sheet is to go', () => {
    const out = join(folder, 'taken');
    mkdirSync(join(out, 'A-record.pdf'), { recursive: true });
    refusedWith(shell(command(out)), 'A-record.pdf is a folder there');
    expect(readdirSync(out)).toEqual(['A-record.pdf']);
  });

  test('a file stands where the folder is to be', () => {
    const out = join(folder, 'file');
    writeFileSync(out, 'of yesterday');
    refusedWith(shell(command(out)), 'a file where a folder should be');
    refusedWith(shell(command(join(out, 'deeper'))), 'a file where a folder should be');
    expect(readFileSync(out, 'utf8')).toBe('of yesterday');
  });
});

/** A disk of 300 kB that only this command sees; not every system lets one be made. */
const mounted = (script: string): string =>
  `unshare -rm bash -c ${quote(`mount -t tmpfs -o size=300k none ${quote(join(folder, 'small'))} && ${script}`)}`;
const canMount = spawnSync('unshare', ['-rm', 'bash', '-c', 'mount -t tmpfs none /mnt']).status === 0;

test.skipIf(!canMount)('the disk is full: nothing is left on it', () => {
  mkdirSync(join(folder, 'small'), { recursive: true });
  const ended = shell(
    mounted(`${command(join(folder, 'small'))}; status=$?; ls -A ${quote(join(folder, 'small'))}; exit $status`),
  );
  refusedWith(ended, 'no room left on the disk');
});

/** Root may write anywhere: then the command runs as somebody else. */
const other = process.getuid?.() === 0 ? { uid: 65534, gid: 65534 } : {};

test('no leave to write there', () => {
  const out = join(folder, 'closed');
  mkdirSync(out);
  chmodSync(out, 0o555);
  const run = (...args: string[]) =>
    spawnSync(process.execPath, [bundle, ...args], { cwd: folder, encoding: 'utf8', ...other });
  // Where that somebody may not even read the command there is nothing to see.
  if (run('--help').status !== 0) return;
  refusedWith(run('job.json', '--out', out), 'no leave to open it');
  refusedWith(run('job.json', '--out', join(out, 'deeper')), 'no leave to open it');
  expect(readdirSync(out)).toEqual([]);
});
