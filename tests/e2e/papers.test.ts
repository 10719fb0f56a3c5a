import { readFileSync } from 'node:fs';
import { unzipSync } from 'three/addons/libs/fflate.module.js';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { digestOf } from '../../src/sheets/digest.ts';
import { SHEETS, writeSheets } from '../../src/sheets/index.ts';
import { fonts, HOSTILE, HOSTILE_ID, planOf, wedgeJob } from '../sheets/plans.ts';
import { figure, type Stand, savedJob, settle, startStand, visit } from './stand.ts';

vi.setConfig({ testTimeout: 120_000 });

let stand: Stand;
beforeAll(async () => {
  stand = await startStand();
}, 180_000);
afterAll(() => stand?.stop());

test('all papers in one archive, stopped or to the end; a sheet in hand is told from an older one', async () => {
  const { page, context, complaints } = await visit(stand);
  await page.locator('.answer', { hasText: 'What leaves with the dive?' }).getByRole('button').first().click();
  const job = JSON.parse(await savedJob(page));
  const digest = await digestOf(planOf(job).job);

  // Stopped, there is no archive, and the button is there again.
  const came: string[] = [];
  page.on('download', (d) => came.push(d.suggestedFilename()));
  // By keyboard alone: the same button starts and stops, and keeps the focus.
  const inFocus = () => page.evaluate(() => document.activeElement?.textContent);
  await page.getByRole('button', { name: 'all papers', exact: true }).focus();
  await page.keyboard.press('Enter');
  await page.getByRole('progressbar', { name: 'all papers' }).waitFor();
  expect(await inFocus()).toBe('stop');
  await page.keyboard.press('Enter');
  await page.getByRole('button', { name: 'all papers', exact: true }).waitFor();
  expect(await inFocus()).toBe('all papers');
  expect(await page.getByRole('progressbar', { name: 'all papers' }).count()).toBe(0);
  expect(came).toEqual([]);

  const [archive] = await Promise.all([
    page.waitForEvent('download', { timeout: 90_000 }),
    page.getByRole('button', { name: 'all papers', exact: true }).click(),
  ]);
  expect(archive.suggestedFilename()).toMatch(/-papers\.zip$/);
  const files = unzipSync(readFileSync(await archive.path()));
  for (const { name } of SHEETS) expect(Object.keys(files).some((file) => file.includes(name))).toBe(true);
  expect(JSON.parse(Buffer.from(files['job/job.json'] ?? []).toString('utf8'))).toEqual(job);
  const dxf = Object.entries(files).find(([name]) => name.endsWith('-plate.dxf'))?.[1];
  expect(Buffer.from(dxf ?? []).toString('utf8')).toContain(digest);

  const typed = page.getByLabel('Type the digest at its foot');
  const told = page.getByRole('status').filter({ hasText: /digest|job/ });
  await expect.poll(() => told.textContent()).toContain(`now stands bear ${digest}`);
  await typed.fill(digest.slice(0, 9));
  await expect.poll(() => told.textContent()).toContain('Not a whole digest yet');
  await typed.fill(` ${digest.toUpperCase().replaceAll('-', ' ')}`);
  await expect.poll(() => told.textContent()).toContain('It belongs to the job as it now stands');
  // The job changes: the same sheet is an old one.
  const foot = figure(page, 'Length of the foot');
  await foot.fill('301 mm');
  await foot.press('Enter');
  await settle(page);
  await expect.poll(() => told.textContent()).toContain(`Do not use it: ${digest}`);
  expect(complaints).toEqual([]);
  await context.close();
});

test('an SVG with hostile text in it is well formed to a browser, shows the text, and runs nothing', async () => {
  const job = wedgeJob(0.3, {
    fitting: { id: HOSTILE_ID },
    job: { title: `${HOSTILE}<script>document.title=1</script>` },
  });
  const files = (await writeSheets(planOf(job), { fonts })).filter((file) => file.name.endsWith('.svg'));
  expect(files.length).toBe(2);
  const { page, context } = await visit(stand);
  for (const { bytes } of files) {
    const read = await page.evaluate((text) => {
      const svg = new DOMParser().parseFromString(text, 'image/svg+xml');
      const words = [...svg.querySelectorAll('text')].map((each) => each.textContent ?? '').join(' ');
      return {
        fault: svg.querySelector('parsererror')?.textContent,
        words,
        scripts: svg.querySelectorAll('script').length,
      };
    }, Buffer.from(bytes).toString('utf8'));
    expect(read.fault).toBeUndefined();
    expect(read.scripts).toBe(0);
    expect(read.words).toContain('<b>&amp; \\U+00B0 %%u');
    expect(read.words).toContain('<script>');
  }
  await context.close();
});
