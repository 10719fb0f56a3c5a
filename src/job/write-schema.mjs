import { writeFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

/* Writes lugwright.job.schema.json from schema.ts: node src/job/write-schema.mjs */

const here = (name) => fileURLToPath(new URL(name, import.meta.url));

const { outputFiles } = await build({
  entryPoints: [here('jsonschema.ts')],
  bundle: true,
  platform: 'node',
  format: 'esm',
  write: false,
  logLevel: 'warning',
});
const code = Buffer.from(outputFiles[0].contents).toString('base64');
const { jobJsonSchema } = await import(`data:text/javascript;base64,${code}`);
await writeFile(here('lugwright.job.schema.json'), jobJsonSchema());
