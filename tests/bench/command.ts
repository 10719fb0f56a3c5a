import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { firstSampleFile } from './jobs.ts';
import { median } from './race.ts';
import type { Row } from './table.ts';

const ROUNDS = 7;
/** ms. */
const MOST = 300;
/** ms, from the start of the process to the last sheet of one fitting on the disk. */
const MOST_SHEETS = 1500;

/** The whole command as a process, over an empty Node process and over npm's own cost; in turn, round by round. */
export function command(): Row[] {
  const group = 'The whole command, first sample';
  const job = firstSampleFile();
  const folder = mkdtempSync(join(tmpdir(), 'bench-'));
  try {
    writeFileSync(join(folder, 'package.json'), JSON.stringify({ private: true, scripts: { nothing: 'exit 0' } }));
    const runs: [name: string, run: () => number][] = [
      ['node, nothing', () => processTime(process.execPath, ['-e', '0'])],
      ['node, plan', () => processTime(process.execPath, ['dist/cli/plan.mjs', job])],
      [
        'node, plan and every sheet',
        () => processTime(process.execPath, ['dist/cli/plan.mjs', job, '--out', join(folder, 'sheets')]),
      ],
      ['npm, nothing', () => processTime('npm', ['run', '--silent', 'nothing'], folder)],
      ['npm, plan', () => processTime('npm', ['run', '--silent', 'plan', '--', job])],
    ];
    const times = runs.map((): number[] => []);
    // The first round fills the disk's cache and is not counted.
    for (let round = -1; round < ROUNDS; round++) {
      runs.forEach(([, run], i) => {
        const t = run();
        if (round >= 0) times[i]?.push(t);
      });
    }
    const over = (i: number, j: number) => median((times[i] as number[]).map((t, k) => t - (times[j]?.[k] as number)));
    return [
      ...runs.map(
        ([what], i): Row => ({
          group,
          what,
          value: median(times[i] as number[]),
          least: Math.min(...(times[i] as number[])),
          unit: 'ms',
          ...(what.endsWith('sheet') ? { wanted: { most: MOST_SHEETS } } : {}),
        }),
      ),
      { group, what: 'plan over an empty node', value: over(1, 0), unit: 'ms', wanted: { most: MOST } },
      { group, what: "plan over npm's own cost", value: over(4, 3), unit: 'ms', wanted: { most: MOST } },
    ];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** ms from start to end of a process that plans or does nothing. */
function processTime(program: string, args: readonly string[], cwd = process.cwd()): number {
  const start = performance.now();
  const { status, stderr } = spawnSync(program, args, { cwd, encoding: 'utf8' });
  const took = performance.now() - start;
  // 1: planned, and some check fails.
  if (status !== 0 && status !== 1) throw new Error(`${program} ${args.join(' ')} ended with ${status}: ${stderr}`);
  return took;
}
