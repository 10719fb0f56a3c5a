import { cp, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

/*
 * The command line, dist/cli/plan.mjs: it starts in a fraction of the time that the sources would take. What only --out needs
 * stands in files of its own beside it, with the typefaces of the sheets.
 */

const project = fileURLToPath(new URL('../..', import.meta.url));

/**
 * The reader of typefaces unpacks a dictionary of a tenth of a second as it is loaded, for compressed web fonts alone: the sheets
 * have none. Without it such a font would be refused, nothing else changes.
 */
const withoutWebFonts = {
  name: 'without web fonts',
  /** @param {import('esbuild').PluginBuild} build */
  setup({ onLoad }) {
    onLoad({ filter: /[\\/]fontkit\.es\.js$/ }, async ({ path }) => {
      const source = await readFile(path, 'utf8');
      const unpacking = '\ndictionary.init(BrotliDecompressBuffer);\n';
      const parts = source.split(unpacking);
      if (parts.length !== 2) throw new Error(`${path}: the dictionary is unpacked elsewhere than it was`);
      return { contents: parts.join('\n'), loader: 'js' };
    });
  },
};

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
    // Modules where a package has them: what is not used of them is left out, and what is left out is not read at every start.
    mainFields: ['module', 'main'],
    plugins: [withoutWebFonts],
    // Loaded only for a job that names a model, from where it is installed: it reads its machine code from beside itself.
    external: ['occt-import-js'],
    logLevel: 'warning',
  });
  await cp(`${project}src/sheets/fonts`, join(folder, 'fonts'), { recursive: true });
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await bundleCommand(join(project, 'dist/cli'));
