import { spawnSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { bundleCommand } from '../../src/cli/bundle.mjs';
import { staleness } from '../../src/cli/stale.ts';
import { plainFitting, plainJob } from '../job/jobs.ts';

/* The command as a process of its own, built from the sources as they stand. */

const project = fileURLToPath(new URL('../..', import.meta.url));
let folder = '';
let bundle = '';

beforeAll(async () => {
  // Inside the project, so that libraries it loads only when asked are found as they are for the real one.
  mkdirSync(join(project, 'dist'), { recursive: true });
  folder = mkdtempSync(join(project, 'dist', 'command-'));
  bundle = join(folder, 'plan.mjs');
  await bundleCommand(folder);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function run(...args: string[]) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [bundle, ...args], { cwd: folder, encoding: 'utf8' });
  return { status, stdout, stderr };
}

function save(name: string, job: unknown): string {
  writeFileSync(join(folder, name), typeof job === 'string' ? job : JSON.stringify(job));
  return name;
}

/** Over a frame, thick shell, small pull along the stem: nothing to fail it. */
function goodJob() {
  const job = plainJob();
  job.fittings = [{ ...plainFitting('A'), stem: 'toward-load', load: { direction: [0, 0.2, -1], force: '2 kN' } }];
  return job;
}

test('0 and 1: the plan file alone on standard output', () => {
  const good = run(save('good.json', goodJob()), '--json');
  expect([good.status, good.stderr]).toEqual([0, '']);
  expect(JSON.parse(good.stdout).pass).toBe(true);
  const job = goodJob();
  job.fittings[0] = { ...plainFitting('A'), load: { direction: [0, 1, -1], force: '60 kN' } };
  const failing = run(save('failing.json', job), '--json');
  expect([failing.status, failing.stderr]).toEqual([1, '']);
  expect(JSON.parse(failing.stdout).pass).toBe(false);
});

test('2: lines on standard error, nothing on standard output, nothing written', () => {
  const job = goodJob();
  job.fittings[0].lug.foot = '12';
  job.ship.lpp = 4;
  const { status, stdout, stderr } = run(save('bad.json', job), '--json', '--out', 'never');
  expect([status, stdout]).toEqual([2, '']);
  expect(stderr.trimEnd().split('\n')).toEqual([
    'bad.json: ship.lpp: found 4, expected a length with its unit, like "62 m"',
    'bad.json: fittings[0].lug.foot: found "12", expected a length with its unit, like "310 mm"',
  ]);
  expect(existsSync(join(folder, 'never'))).toBe(false);
});

test('2: a folder, no file, no argument, a folder that cannot be made', () => {
  save('good.json', goodJob());
  for (const args of [['.'], ['none.json'], [], ['good.json', '--out', 'good.json']]) {
    const { status, stdout, stderr } = run(...args);
    expect([status, stdout, stderr.trimEnd().split('\n').length], args.join(' ')).toEqual([2, '', 1]);
  }
});

test('2: the reader at the other end of the pipe has gone', () => {
  save('good.json', goodJob());
  const script = `"${process.execPath}" "${bundle}" good.json --json 2>err.txt | true; echo \${PIPESTATUS[0]}`;
  // Whether the pipe is closed before or after the plan is written is a race; what may never come is a stack trace.
  for (let i = 0; i < 3; i++) {
    const { stdout } = spawnSync('bash', ['-c', script], { cwd: folder, encoding: 'utf8' });
    const err = readFileSync(join(folder, 'err.txt'), 'utf8');
    expect(['0', '2']).toContain(stdout.trim());
    expect(err === '' || err === 'standard output: it was closed before everything was written\n', err).toBe(true);
  }
});

test('--out: complete files, a table read from beside the job', () => {
  const job = goodJob();
  job.ship.hull = { kind: 'offsets', file: 'lines.csv', unit: 'm' };
  job.fittings[0].at = { station: '10 m', side: 'port', height: '0.8 m' };
  writeFileSync(
    join(folder, 'lines.csv'),
    'st,0,0.5,1,2,3\n0,0.5,1.5,2,2.5,2.8\n10,0.6,1.7,2.3,2.9,3.1\n20,0.6,1.6,2.2,2.8,3\n',
  );
  const { status, stderr, stdout } = run(save('offsets.json', job), '--json', '--out', 'made/here');
  expect([0, 1], stderr).toContain(status);
  const names = readdirSync(join(folder, 'made/here'));
  expect(names).toEqual(expect.arrayContaining(['plan.json', 'report.txt', 'A-bevel-table.csv']));
  expect(names.filter((name) => name.startsWith('.'))).toEqual([]);
  expect(readFileSync(join(folder, 'made/here/plan.json'), 'utf8')).toBe(stdout);
});

test('a bundle older than its sources says so in one line; one that stands alone says nothing', () => {
  expect(staleness(new URL(`file://${bundle}`).href)).toBeUndefined();
  const inside = join(project, 'dist', 'cli');
  if (!existsSync(join(inside, 'plan.mjs'))) return;
  const copy = join(inside, 'stale-test.mjs');
  try {
    writeFileSync(copy, '');
    utimesSync(copy, new Date(0), new Date(0));
    expect(staleness(new URL(`file://${copy}`).href)).toContain('npm run build:cli');
  } finally {
    rmSync(copy, { force: true });
  }
});
