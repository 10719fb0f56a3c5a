import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { gatherLicences } from '../../src/app/licences/gather.ts';

const all = gatherLicences(process.cwd());
const named = (name: string) => all.find((l) => l.name === name);

describe('licences of what is shipped', () => {
  test('every package that the project depends on is named, with its terms', () => {
    const { dependencies } = JSON.parse(readFileSync('package.json', 'utf8')) as {
      dependencies: Record<string, string>;
    };
    for (const [name, version] of Object.entries(dependencies)) {
      expect(named(name)?.version, name).toBe(version);
      expect(named(name)?.licence, name).not.toBe('');
    }
    for (const { name, licence } of all) expect(licence, name).not.toBe('');
  });

  test('so is what these depend on, and what makes the app work with no network', () => {
    // react-dom's own manifest names scheduler, d3-scale's d3-array.
    expect(named('scheduler')).toBeDefined();
    expect(named('d3-array')).toBeDefined();
    expect(named('workbox-core')?.licence).toBe('MIT');
  });

  test('a text that comes with a package is shown whole', () => {
    expect(named('react')?.text).toContain(readFileSync('node_modules/react/LICENSE', 'utf8').trim());
    expect(named('occt-import-js')?.licence).toContain('LGPL');
    expect(named('occt-import-js')?.text).toContain(
      readFileSync('node_modules/occt-import-js/dist/license.occt.txt', 'utf8').trim().slice(0, 200),
    );
    expect(existsSync('src/sheets/fonts/LICENSE.txt')).toBe(true);
    expect(all.find((l) => l.name.startsWith('DejaVu'))?.text.length).toBeGreaterThan(500);
  });
});
