import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { bundleCommand } from '../../src/cli/bundle.mjs';
import { writeSheets } from '../../src/sheets/index.ts';
import { fonts, planOf, wedgeJob } from '../sheets/plans.ts';

/* The bundle leaves out parts of its libraries. What it writes is what the sources write with all of them. */

const project = fileURLToPath(new URL('../..', import.meta.url));
let folder = '';

beforeAll(async () => {
  // Inside the project, where what the bundle loads from elsewhere is found.
  mkdirSync(join(project, 'dist'), { recursive: true });
  folder = mkdtempSync(join(project, 'dist', 'bundled-'));
  await bundleCommand(join(folder, 'cli'));
}, 120_000);

afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('the bundled command', () => {
  for (const [what, title] of [
    ['plain letters', 'Grating off, lighter Plover'],
    ['letters of many scripts, joined and from the right', 'سفينة النور שלום Жук ½ ﬂ 船 “<b>”'],
  ] as const) {
    test(`writes the bytes that the sources write: ${what}`, async () => {
      const job = { ...wedgeJob(0.3), title };
      const file = join(folder, 'job.json');
      writeFileSync(file, JSON.stringify(job));
      const out = join(folder, 'out');
      const { status, stderr } = spawnSync(process.execPath, [join(folder, 'cli', 'plan.mjs'), file, '--out', out], {
        encoding: 'utf8',
      });
      expect([0, 1], stderr).toContain(status);
      const sheets = await writeSheets(planOf(job), { fonts });
      for (const { name, bytes } of sheets) expect(Buffer.compare(readFileSync(join(out, name)), bytes), name).toBe(0);
      rmSync(out, { recursive: true });
    }, 120_000);
  }

  test('built again over itself it stands whole, and nothing is left beside it', async () => {
    const before = readdirSync(join(folder, 'cli')).sort();
    await bundleCommand(join(folder, 'cli'));
    expect(readdirSync(join(folder, 'cli')).sort()).toEqual(before);
    expect(readdirSync(folder).filter((name) => name.includes('.new'))).toEqual([]);
  }, 120_000);
});
