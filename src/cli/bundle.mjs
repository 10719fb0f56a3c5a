import { cp, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

/*
 * The command line, dist/cli/plan.mjs: it starts in a fraction of the time that the sources would take. What only --out needs
 * stands in files of its own beside it, with the typefaces of the sheets.
 */

const project = fileURLToPath(new URL('../..', import.meta.url));

/** @param {string} folder made anew: what stood there is gone */
export async function bundleCommand(folder) {
  await rm(folder, { recursive: true, force: true });
  await build({
    absWorkingDir: project,
    entryPoints: { plan: 'src/cli/plan.ts' },
    outdir: folder,
    outExtension: { '.js': '.mjs' },
    bundle: true,
    splitting: true,
    platform: 'node',
    format: 'esm',
    target: 'node20',
    minify: true,
    // Loaded only for a job that names a model or a polygon file, from where they are installed.
    external: ['occt-import-js', 'three', 'three/*'],
    logLevel: 'warning',
  });
  await cp(`${project}src/sheets/fonts`, join(folder, 'fonts'), { recursive: true });
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await bundleCommand(join(project, 'dist/cli'));
