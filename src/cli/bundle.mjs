import { cp, readFile, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

/*
 * The command line, dist/cli/plan.mjs: it starts in a fraction of the time that the sources would take. What only --out needs
 * stands in files of its own beside it, with the typefaces of the sheets.
 */

const project = fileURLToPath(new URL('../..', import.meta.url));

/** @typedef {readonly [what: RegExp, times: number, by: string]} Change what stands there, how often, what is put in its place */

/**
 * The reader of typefaces brings, for files that are none of ours, tables of East Asian encodings and a dictionary for compressed
 * web fonts, and unpacks tables of scripts as it is loaded. A third of the time that the sheets take to load goes there. Without
 * them a web font would be refused and a name in an encoding of old would stay bytes; the tables of scripts are unpacked when a
 * script asks for them.
 * @type {readonly Change[]}
 */
const LEAN_READER = [
  [/= (createCommonjsModule|getCjsExportFromNamespace)\(/g, 32, '= /* @__PURE__ */ $1('],
  [/^var lib = /gm, 1, 'var lib = undefined;\nvar codecs = '],
  [/^var decompress = .*;$/gm, 1, 'var decompress = undefined;'],
  [/^dictionary\.init\(.*\);$/gm, 1, ''],
  [/^var (trieData(?:\$\d)?) = (pako\.inflate\(.*\));$/gm, 4, 'var $1 = function () { return $2; };'],
  [
    /^var (trie(?:\$\d)?) = new unicodeTrie\((trieData(?:\$\d)?)\);$/gm,
    4,
    'var $1 = { get: function (code) { return ($1.made || ($1.made = new unicodeTrie($2()))).get(code); } };',
  ],
];

/** A library's file with changes. One that does not find what it expects stops the build: the library is another one. */
const leanReader = {
  name: 'lean reader of typefaces',
  /** @param {import('esbuild').PluginBuild} build */
  setup({ onLoad }) {
    onLoad({ filter: /[\\/]fontkit\.es\.js$/ }, async ({ path }) => {
      let source = await readFile(path, 'utf8');
      for (const [what, times, by] of LEAN_READER) {
        const found = [...source.matchAll(what)].length;
        if (found !== times) throw new Error(`${path}: found ${what} ${found} times, expected ${times}`);
        source = source.replace(what, by);
      }
      return { contents: source, loader: 'js' };
    });
  },
};

/** The metrics of a printer's own typefaces, which no sheet uses: theirs are embedded. */
const noPrinterFonts = {
  name: "no printer's typefaces",
  /** @param {import('esbuild').PluginBuild} build */
  setup({ onResolve, onLoad }) {
    onResolve({ filter: /^@pdf-lib\/standard-fonts$/ }, ({ path }) => ({ path, namespace: 'left-out' }));
    onLoad({ filter: /.*/, namespace: 'left-out' }, () => ({
      contents:
        'const Font = { load() { throw new Error("the typefaces of printers are left out"); } };\nexport { Font };\nexport const FontNames = {};\nexport const Encodings = {};',
    }));
  },
};

/**
 * @param {string} target folder, made anew: what stood there is gone. It is made beside its place and put there when it is whole, so
 *   that a command can be run meanwhile and a build that fails leaves the old one.
 */
export async function bundleCommand(target) {
  const folder = `${target}.${process.pid}.new`;
  try {
    await bundleInto(folder);
    await rm(target, { recursive: true, force: true });
    await rename(folder, target);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

/** @param {string} folder */
async function bundleInto(folder) {
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
    plugins: [leanReader, noPrinterFonts],
    // Loaded only for a job that names a model, from where it is installed: it reads its machine code from beside itself.
    external: ['occt-import-js'],
    logLevel: 'warning',
  });
  await cp(`${project}src/sheets/fonts`, join(folder, 'fonts'), { recursive: true });
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await bundleCommand(join(project, 'dist/cli'));
