import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Plugin } from 'vite';

/** Whose work is shipped with the app, and on what terms. */
export interface Licence {
  readonly name: string;
  readonly version: string;
  /** As the package itself names it. */
  readonly licence: string;
  readonly author: string;
  readonly home: string;
  /** The texts that came with it; empty where none did. */
  readonly text: string;
}

interface Manifest {
  readonly version?: string;
  readonly license?: string | { readonly type?: string };
  readonly author?: string | { readonly name?: string };
  readonly homepage?: string;
  readonly repository?: string | { readonly url?: string };
  readonly dependencies?: Readonly<Record<string, string>>;
}

/** What makes the app work with no network is put beside it by the build, and not named by the project's own manifest. */
const BUILT_IN = ['workbox-core', 'workbox-precaching', 'workbox-routing', 'workbox-strategies'];
const TERMS = /^(licen[cs]e|copying|notice|copyright)/i;

/** The packages that a project ships: what it depends on, what these depend on, and so on. Reads `node_modules` of a folder. */
export function gatherLicences(root: string): Licence[] {
  const manifest = (folder: string): Manifest =>
    JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8')) as Manifest;
  const place = (name: string): string => join(root, 'node_modules', name);
  const open = [...Object.keys(manifest(root).dependencies ?? {}), ...BUILT_IN];
  const found = new Map<string, Licence>();
  for (let name = open.pop(); name !== undefined; name = open.pop()) {
    // Declarations of types leave nothing in what is shipped.
    if (found.has(name) || name.startsWith('@types/') || !existsSync(place(name))) continue;
    const own = manifest(place(name));
    found.set(name, licenceOf(name, own, place(name)));
    open.push(...Object.keys(own.dependencies ?? {}));
  }
  return [...found.values(), fonts(root)].sort((a, b) => a.name.localeCompare(b.name));
}

function licenceOf(name: string, own: Manifest, folder: string): Licence {
  const { license, author, repository, homepage } = own;
  const url = typeof repository === 'string' ? repository : (repository?.url ?? '');
  return {
    name,
    version: own.version ?? '',
    licence: (typeof license === 'string' ? license : license?.type) ?? '',
    author: (typeof author === 'string' ? author : author?.name) ?? '',
    home:
      homepage ??
      url
        .replace(/^git\+/, '')
        .replace(/\.git$/, '')
        .replace(/^github:/, 'https://github.com/'),
    text: [folder, join(folder, 'dist')].flatMap(termsIn).join('\n\n'),
  };
}

/** Texts of licences in a folder itself. */
function termsIn(folder: string): string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder)
    .filter((f) => TERMS.test(f) && !/\.[cm]?js$|\.ts$/.test(f))
    .sort()
    .map((f) => readFileSync(join(folder, f), 'utf8').trim());
}

function fonts(root: string): Licence {
  return {
    name: 'DejaVu Sans (the letters of the papers)',
    version: '',
    licence: 'Bitstream Vera and Arev licence',
    author: 'DejaVu fonts team',
    home: 'https://dejavu-fonts.github.io',
    text: termsIn(join(root, 'src', 'sheets', 'fonts')).join('\n\n'),
  };
}

/** The list as a module, made when the app is built: it is always that of what is shipped. */
export function licences(root: string): Plugin {
  const id = 'virtual:licences';
  return {
    name: 'licences',
    resolveId: (asked) => (asked === id ? `\0${id}` : undefined),
    load: (asked) =>
      asked === `\0${id}`
        ? `export const LICENCES = JSON.parse(${JSON.stringify(JSON.stringify(gatherLicences(root)))});`
        : undefined,
  };
}
