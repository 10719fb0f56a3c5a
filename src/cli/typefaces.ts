import { existsSync, readFileSync } from 'node:fs';
import type { FontBytes } from '../sheets/index.ts';

/** The typefaces of the sheets: beside the bundle, or beside the sheets' sources. Throws where neither stands. */
export function typefaces(): FontBytes {
  const folder = [new URL('./fonts/', import.meta.url), new URL('../sheets/fonts/', import.meta.url)].find((url) =>
    existsSync(url),
  );
  if (folder === undefined)
    throw new Error('the typefaces of the sheets are not beside the program: run "npm run build:cli"');
  const face = (name: string) => new Uint8Array(readFileSync(new URL(name, folder)));
  return { regular: face('DejaVuSans.ttf'), bold: face('DejaVuSans-Bold.ttf') };
}
