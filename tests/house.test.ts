import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';

/* The house rules that a reader may rely on: imports go one way, geometry stands alone, no text ties the project to a machine. */

const project = fileURLToPath(new URL('..', import.meta.url));

/** Which folders a folder may import from, besides itself. A folder that is missing here is a fault of its own. */
const ALLOWED: Readonly<Record<string, readonly string[]>> = {
  'geometry/math': [],
  'geometry/hull': ['geometry/math'],
  'geometry/lug': ['geometry/math'],
  'geometry/fit': ['geometry/math', 'geometry/hull', 'geometry/lug'],
  'geometry/align': ['geometry/math', 'geometry/hull', 'geometry/lug', 'geometry/fit'],
  'geometry/sequence': ['geometry/math', 'geometry/hull', 'geometry/lug', 'geometry/fit'],
  'geometry/asbuilt': [
    'geometry/math',
    'geometry/hull',
    'geometry/lug',
    'geometry/fit',
    'geometry/align',
    'geometry/sequence',
  ],
  'geometry/uncertainty': [
    'geometry/math',
    'geometry/hull',
    'geometry/lug',
    'geometry/fit',
    'geometry/align',
    'geometry/sequence',
  ],
  'src/job': ['geometry'],
  'src/rigging': ['geometry'],
  'src/strength': ['geometry'],
  'src/weld': ['geometry'],
  'src/plan': ['geometry', 'src/job', 'src/rigging', 'src/strength', 'src/weld'],
  'src/sheets': ['geometry', 'src/job', 'src/rigging', 'src/strength', 'src/weld', 'src/plan'],
  'src/cli': ['geometry', 'src/job', 'src/rigging', 'src/strength', 'src/weld', 'src/plan', 'src/sheets'],
  'src/app': ['geometry', 'src/job', 'src/rigging', 'src/strength', 'src/weld', 'src/plan', 'src/sheets'],
};

/** Files at the top of geometry that any of it may import: the words in which it speaks and refuses. */
const FREE = ['geometry/phrase.ts', 'geometry/refusal.ts'];

const SKIPPED = ['node_modules', 'dist', 'coverage', 'reports', '.git', '.stryker-tmp'];

function filesBelow(folder: string): string[] {
  return readdirSync(join(project, folder), { withFileTypes: true }).flatMap((entry) => {
    const path = folder === '' ? entry.name : `${folder}/${entry.name}`;
    if (SKIPPED.includes(entry.name)) return [];
    return entry.isDirectory() ? filesBelow(path) : [path];
  });
}

/** What a source imports: static, dynamic, re-exported, by type or for its effect. */
function importsOf(source: string): string[] {
  const bare = source.replaceAll(/\/\*[\s\S]*?\*\//g, '').replaceAll(/(^|[\s;{}])\/\/[^\n]*/g, '$1');
  const statement = /(?:\bfrom|\bimport|\bimport\s*\(|\brequire\s*\()\s*(['"])([\w@./:-]+)\1/g;
  const worker = /\bnew\s+URL\s*\(\s*(['"])([\w@./-]+\.(?:ts|tsx|js|mjs))\1/g;
  return [statement, worker].flatMap((pattern) => [...bare.matchAll(pattern)].map((match) => match[2] ?? ''));
}

function folderOf(path: string): string {
  return path.split('/').slice(0, 2).join('/');
}

/** The rule an import breaks, undefined where it breaks none. */
function broken(from: string, specifier: string): string | undefined {
  const inGeometry = from.startsWith('geometry/');
  if (!specifier.startsWith('.')) return inGeometry ? 'geometry imports no package' : undefined;
  const target = relative(project, join(project, dirname(from), specifier)).replaceAll('\\', '/');
  if (inGeometry && !target.startsWith('geometry/')) return 'geometry imports nothing outside itself';
  if (target.startsWith('tests/')) return 'no source imports a test';
  if (FREE.includes(target)) return undefined;
  if (inGeometry && from.split('/').length === 2)
    return FREE.includes(from) && target !== from ? 'phrase and refusal lean on nothing else' : undefined;
  const [own, other] = [folderOf(from), folderOf(target)];
  const allowed = ALLOWED[own];
  if (allowed === undefined) return `no rule for ${own}`;
  const fine = own === other || allowed.some((folder) => other === folder || other.startsWith(`${folder}/`));
  return fine ? undefined : `${own} may not import from ${other}`;
}

/** Files that import each other in a loop, each loop once, from its first file in the order of names. */
function circles(imports: ReadonlyMap<string, readonly string[]>): string[] {
  const found = new Set<string>();
  const done = new Set<string>();
  const walk = (path: readonly string[]): void => {
    const file = path.at(-1) as string;
    for (const next of imports.get(file) ?? []) {
      const back = path.indexOf(next);
      if (back >= 0) {
        const loop = path.slice(back);
        const first = loop.indexOf([...loop].sort()[0] as string);
        found.add([...loop.slice(first), ...loop.slice(0, first)].join(' -> '));
      } else if (!done.has(next)) walk([...path, next]);
    }
    done.add(file);
  };
  for (const file of imports.keys()) if (!done.has(file)) walk([file]);
  return [...found].sort();
}

const sources = ['geometry', 'src'].flatMap(filesBelow).filter((path) => /\.(ts|tsx|mjs)$/.test(path));

describe('imports go one way', () => {
  test('in every source there is', () => {
    let count = 0;
    const faults: string[] = [];
    for (const path of sources) {
      for (const specifier of importsOf(readFileSync(join(project, path), 'utf8'))) {
        count += 1;
        const rule = broken(path, specifier);
        if (rule !== undefined) faults.push(`${path} imports ${specifier}: ${rule}`);
      }
    }
    expect(faults).toEqual([]);
    // A reader of imports that has gone blind would find none.
    expect(count).toBeGreaterThan(sources.length);
  });

  test('and no file imports, by whatever way round, one that imports it', () => {
    const imports = new Map(
      sources.map((path) => {
        const own = importsOf(readFileSync(join(project, path), 'utf8')).filter((specifier) =>
          specifier.startsWith('.'),
        );
        return [
          path,
          own.map((to) => relative(project, join(project, dirname(path), to)).replaceAll('\\', '/')),
        ] as const;
      }),
    );
    expect(circles(imports)).toEqual([]);
    const three = new Map([
      ['c', ['d', 'a']],
      ['a', ['b']],
      ['b', ['c', 'b']],
    ]);
    expect(circles(three)).toEqual(['a -> b -> c', 'b']);
  });

  test('and a breach would be seen', () => {
    const seen = (from: string, line: string) => importsOf(line).map((specifier) => broken(from, specifier));
    expect(seen('geometry/hull/a.ts', "import { x } from 'mathjs';")).toEqual(['geometry imports no package']);
    expect(seen('geometry/hull/a.ts', "import type { x } from '../../src/job/types.ts';")).toEqual([
      'geometry imports nothing outside itself',
    ]);
    expect(seen('geometry/hull/a.ts', "export * from '../fit/cuts.ts';")).toEqual([
      'geometry/hull may not import from geometry/fit',
    ]);
    expect(seen('geometry/math/a.ts', "import { z } from '../refusal.ts';")).toEqual([undefined]);
    expect(seen('src/job/a.ts', "const p = await import('../plan/plan.ts');")).toEqual([
      'src/job may not import from src/plan',
    ]);
    expect(seen('src/plan/a.ts', "import {\n  a,\n  b,\n} from '../cli/main.ts';")).toEqual([
      'src/plan may not import from src/cli',
    ]);
    expect(seen('src/strength/a.ts', "import '../weld/legs.ts';")).toEqual([
      'src/strength may not import from src/weld',
    ]);
    expect(seen('src/other/a.ts', "import '../weld/legs.ts';")).toEqual(['no rule for src/other']);
    expect(seen('src/cli/a.ts', "// from '../app/x.ts'\nimport { a } from '../sheets/x.ts';")).toEqual([undefined]);
    expect(seen('src/cli/a.ts', "import { a } from '../app/x.ts';")).toEqual(['src/cli may not import from src/app']);
  });
});

describe('no file ties the project to a machine', () => {
  const slash = '/';
  const forbidden: readonly (readonly [string, RegExp])[] = [
    ['a path of one machine', new RegExp(`(?<![\\w.${slash}])${slash}(?:work|tmp|root|home)${slash}\\w`)],
    [
      'the host of a registry',
      new RegExp(
        [
          ['npmjs', 'org'],
          ['yarnpkg', 'com'],
        ]
          .map((host) => host.join('[.]'))
          .join('|'),
      ),
    ],
    ['a key or a token', new RegExp(`${'BEGIN'} [A-Z ]*PRIVATE KEY|${'_auth'}Token`)],
  ];

  test('in every file there is', () => {
    const paths = filesBelow('').filter((path) => path !== 'tests/house.test.ts');
    const faults = paths.flatMap((path) => {
      const bytes = readFileSync(join(project, path));
      if (bytes.subarray(0, 8000).includes(0)) return [];
      const text = bytes.toString('utf8');
      return forbidden.filter(([, pattern]) => pattern.test(text)).map(([what]) => `${path} holds ${what}`);
    });
    expect(faults).toEqual([]);
    expect(paths.length).toBeGreaterThan(50);
  });

  test('and such text would be seen', () => {
    const seen = (text: string) => forbidden.filter(([, pattern]) => pattern.test(text)).map(([what]) => what);
    expect(seen(`cd ${slash}work${slash}main`)).toHaveLength(1);
    expect(seen(`"resolved": "https://${['registry', 'npmjs', 'org'].join('.')}/zod"`)).toHaveLength(1);
    expect(seen('src/work/tmp.ts and ../tmp/x')).toEqual([]);
  });
});
