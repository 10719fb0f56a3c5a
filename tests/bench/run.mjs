import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

/* Bundles the bench to dist/bench/bench.mjs and runs it. Arguments go through: --json, and names of groups to run. */

const project = fileURLToPath(new URL('../..', import.meta.url));

await build({
  absWorkingDir: project,
  entryPoints: ['tests/bench/main.ts'],
  outfile: 'dist/bench/bench.mjs',
  bundle: true,
  platform: 'node',
  format: 'esm',
  target: 'node20',
  sourcemap: true,
  // It loads its own binary from where it lies.
  external: ['manifold-3d', 'playwright-core', '@sparticuz/chromium'],
  logLevel: 'warning',
});
const bench = ['--expose-gc', '--enable-source-maps', 'dist/bench/bench.mjs', ...process.argv.slice(2)];
process.exitCode = spawnSync(process.execPath, bench, { cwd: project, stdio: 'inherit' }).status ?? 1;
