import { readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/**
 * @param bundle address of the running bundle, two folders below the project
 * @returns a line for the developer whose sources are newer than the bundle; undefined where they are not, or not there
 */
export function staleness(bundle: string): string | undefined {
  try {
    const file = fileURLToPath(bundle);
    const built = statSync(file).mtimeMs;
    const project = join(file, '..', '..', '..');
    const newest = Math.max(...['geometry', 'src'].map((folder) => newestIn(join(project, folder))));
    return newest > built ? 'src or geometry is newer than this program: run "npm run build:cli"' : undefined;
  } catch {
    return undefined;
  }
}

/** What the command is not made from. */
const ELSEWHERE = ['app'];

/** Time of the newest TypeScript file below a folder, ms; -Infinity where there is none. */
function newestIn(folder: string): number {
  let newest = -Infinity;
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) {
      if (!ELSEWHERE.includes(entry.name)) newest = Math.max(newest, newestIn(path));
    } else if (entry.name.endsWith('.ts')) {
      newest = Math.max(newest, statSync(path).mtimeMs);
    }
  }
  return newest;
}
