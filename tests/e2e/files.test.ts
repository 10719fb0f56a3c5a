import { execFile } from 'node:child_process';
import { copyFileSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { showFigure } from '../../src/job/show.ts';
import type { PlanFile } from '../../src/plan/planfile.ts';
import { figure, planned, type Stand, savedJob, startStand, visit } from './stand.ts';

// A busy machine paints its software picture slowly: what is measured here is what happens, not how fast.
vi.setConfig({ testTimeout: 180_000 });

let stand: Stand;
let folder: string;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'lugwright-files-'));
  stand = await startStand();
}, 240_000);
afterAll(async () => {
  await stand?.stop();
  rmSync(folder, { recursive: true, force: true });
});

const SAMPLE = 'samples/l-one-hull-four-ways';
const sample = (name: string): string => join(SAMPLE, name);
const run = promisify(execFile);

/** The plan file as the command line prints it, byte for byte. */
async function commandLine(file: string): Promise<string> {
  if (!existsSync('dist/cli/plan.mjs')) await run(process.execPath, ['src/cli/bundle.mjs']);
  const { stdout } = await run(process.execPath, ['dist/cli/plan.mjs', file, '--json'], { maxBuffer: 1e8 }).catch(
    (failed: { code?: number; stdout?: string }) => {
      // 1: planned, some check fails
      if (failed.code === 1 && failed.stdout !== undefined) return { stdout: failed.stdout };
      throw failed;
    },
  );
  return stdout;
}

/** Drops files on the window, all at once; they reach the page as files do, without passing through a script. */
async function open(page: Page, paths: readonly string[]): Promise<void> {
  await page.evaluate(() => {
    const input = document.createElement('input');
    Object.assign(input, { type: 'file', multiple: true, id: 'to-be-dropped', hidden: true });
    input.addEventListener('change', () => {
      const transfer = new DataTransfer();
      for (const file of input.files ?? []) transfer.items.add(file);
      input.remove();
      for (const kind of ['dragenter', 'dragover', 'drop'])
        window.dispatchEvent(new DragEvent(kind, { dataTransfer: transfer, bubbles: true, cancelable: true }));
    });
    document.body.append(input);
  });
  await page.setInputFiles('#to-be-dropped', [...paths]);
}

const titled = (page: Page, title: string): Promise<unknown> =>
  page.waitForFunction((t) => (document.querySelector('.name') as HTMLInputElement).value === t, title);

const answer = (page: Page, asked: string) => page.locator('.answer', { hasText: asked });
const openFit = async (page: Page) => {
  const card = answer(page, 'Does it fit?');
  const button = card.getByRole('button').first();
  if ((await button.getAttribute('aria-expanded')) !== 'true') await button.click();
  return card;
};

/**
 * Every figure of the two alike, to a share of the larger of itself and one: sines and roots of another engine differ
 * in the last digits, and sums over ten thousand samples carry that on.
 */
function expectAlike(own: unknown, other: unknown, to: number, path = ''): void {
  if (typeof own === 'number' && typeof other === 'number') {
    expect(Math.abs(own - other), path).toBeLessThanOrEqual(to * Math.max(1, Math.abs(other)));
  } else if (typeof own === 'object' && own !== null && typeof other === 'object' && other !== null) {
    expect(Object.keys(own), path).toEqual(Object.keys(other));
    for (const [key, value] of Object.entries(own))
      expectAlike(value, (other as Record<string, unknown>)[key], to, `${path}.${key}`);
  } else expect(own, path).toBe(other);
}
const expectSamePlan = (own: string, other: string, to = 1e-6): void =>
  expectAlike(JSON.parse(own), JSON.parse(other), to);

async function planFileOf(page: Page): Promise<string> {
  const card = answer(page, 'What leaves with the dive?');
  if ((await card.getByRole('button').first().getAttribute('aria-expanded')) !== 'true')
    await card.getByRole('button').first().click();
  const [download] = await Promise.all([
    page.waitForEvent('download', { timeout: 120_000 }),
    page.getByRole('button', { name: 'plan file', exact: true }).click(),
  ]);
  return readFileSync(await download.path(), 'utf8');
}

/** Triangles of the port side of a round-bottomed hull, radius 3 m, 20 m long: points in metres, corners by number. */
function roundNet(along: number, round: number): { readonly points: number[][]; readonly corners: number[][] } {
  const points: number[][] = [];
  const corners: number[][] = [];
  for (let i = 0; i <= along; i++)
    for (let k = 0; k <= round; k++) {
      const angle = (k / round) * (Math.PI / 2);
      points.push([(20 * i) / along, 3 * Math.sin(angle), 3 - 3 * Math.cos(angle)]);
    }
  for (let i = 0; i < along; i++)
    for (let k = 0; k < round; k++) {
      const a = i * (round + 1) + k;
      const [b, c, d] = [a + round + 1, a + round + 2, a + 1];
      corners.push([a, b, c], [a, c, d]);
    }
  return { points, corners };
}

/** The same as a binary STL. */
function roundHull(along: number, round: number): Buffer {
  const { points, corners } = roundNet(along, round);
  const bytes = Buffer.alloc(84 + 50 * corners.length);
  bytes.writeUInt32LE(corners.length, 80);
  corners.forEach((three, t) => {
    const figures = three.flatMap((p) => points[p] as number[]);
    for (const [n, x] of figures.entries()) bytes.writeFloatLE(x, 84 + 50 * t + 12 + 4 * n);
  });
  return bytes;
}

/** The same as text: an OBJ counts its points from 1, a PLY from 0. */
function roundText(kind: 'obj' | 'ply', along: number, round: number): string {
  const { points, corners } = roundNet(along, round);
  const lines = points.map((p) => p.map((x) => x.toFixed(7)).join(' '));
  if (kind === 'obj')
    return `${[...lines.map((l) => `v ${l}`), ...corners.map((c) => `f ${c.map((n) => n + 1).join(' ')}`)].join('\n')}\n`;
  const head = [
    'ply',
    'format ascii 1.0',
    `element vertex ${points.length}`,
    ...['x', 'y', 'z'].map((axis) => `property float ${axis}`),
    `element face ${corners.length}`,
    'property list uchar int vertex_indices',
    'end_header',
  ];
  return `${[...head, ...lines, ...corners.map((c) => `3 ${c.join(' ')}`)].join('\n')}\n`;
}

/** The job on the screen with a hull out of a file, written with that file beside it. */
async function jobOn(page: Page, file: string, content: Buffer | string): Promise<readonly [string, string]> {
  const job = JSON.parse(await savedJob(page)) as { title: string; ship: { hull: unknown } };
  job.title = `On ${file}`;
  job.ship.hull = {
    kind: 'mesh',
    file,
    unit: 'm',
    axes: { forward: 'x', port: 'y', up: 'z' },
    origin: ['0 m', '0 m', '0 m'],
    half: true,
  };
  const paths = [join(folder, `${file}.json`), join(folder, file)] as const;
  writeFileSync(paths[0], JSON.stringify(job));
  writeFileSync(paths[1], content);
  return paths;
}

describe('scans and models', () => {
  // A surface through the scattered points of a scan carries such last digits farther: the two engines were found 0.0002 degrees and
  // 0.0001 mm apart. On one engine the plans are the same to the byte (tests/app/held.test.ts).
  test.each([
    ['scan.json', 'scan.stl', 1e-3],
    ['model.json', 'model.igs', 1e-6],
  ] as const)(
    'a job and the file that it names (%s, %s) are planned on; the plan file is that of the command line',
    async (job, file, to) => {
      const { page, context, complaints } = await visit(stand);
      await open(page, [sample(job), sample(file)]);
      await titled(page, (JSON.parse(readFileSync(sample(job), 'utf8')) as { title: string }).title);
      await planned(page);
      expectSamePlan(await planFileOf(page), await commandLine(sample(job)), to);
      // A reload loses nothing: the bytes are kept too.
      await page.waitForSelector('.kept:has-text("saved")');
      await page.reload();
      await planned(page);
      expect(await page.locator('.fault').count()).toBe(0);
      expectSamePlan(await planFileOf(page), await commandLine(sample(job)), to);
      expect(complaints).toEqual([]);
      await context.close();
    },
  );

  test.each(['obj', 'ply'] as const)('a mesh as %s is read and planned on as the command line does', async (kind) => {
    const { page, context, complaints } = await visit(stand);
    const paths = await jobOn(page, `round.${kind}`, roundText(kind, 40, 60));
    await open(page, paths);
    await titled(page, `On round.${kind}`);
    await planned(page);
    expectSamePlan(await planFileOf(page), await commandLine(paths[0]), 1e-3);
    expect(complaints).toEqual([]);
    await context.close();
  });

  test('the reading of a large scan is stopped: the last plan stands, said to be that, and it can be read after all', async () => {
    const { page, context } = await visit(stand);
    const before = await answer(page, 'Does it fit?').textContent();
    // Pressed the moment it is there: on a quick machine the file would be read before a test's hand arrives.
    await page.evaluate(() => {
      const watch = new MutationObserver(() => {
        const progress = document.querySelector('.filereading progress');
        const button = progress?.parentElement?.querySelector('button');
        if (button?.textContent !== 'stop') return;
        watch.disconnect();
        Object.assign(window, { pressed: progress?.getAttribute('aria-label') });
        button.click();
      });
      watch.observe(document.body, { subtree: true, childList: true });
    });
    await open(page, await jobOn(page, 'vast.stl', roundHull(1200, 800)));
    await page.waitForFunction(() => 'pressed' in window, undefined, { timeout: 60_000 });
    expect(await page.evaluate(() => (window as unknown as { pressed: string }).pressed)).toBe('Reading vast.stl');
    await page.getByText('vast.stl was not read to its end.').waitFor();
    await page.locator('.faults li', { hasText: 'not read: stopped' }).waitFor();
    expect(await answer(page, 'Does it fit?').textContent()).toBe(before);
    await page.getByRole('button', { name: 'read it', exact: true }).click();
    await planned(page);
    expect(await page.locator('.fault').count()).toBe(0);
    expect(await answer(page, 'Does it fit?').textContent()).not.toBe(before);
    await context.close();
  });

  test('a job whose scan is missing says so at its place, and is planned when the scan comes', async () => {
    const { page, context } = await visit(stand);
    await open(page, [sample('scan.json')]);
    await page.waitForSelector('text=The job needs scan.stl too');
    await page.waitForSelector('text=a file that can be read beside the job file');
    await open(page, [sample('scan.stl')]);
    await planned(page);
    await context.close();
  });

  test('a damaged scan is one clear line', async () => {
    const { page, context } = await visit(stand);
    const cut = join(folder, 'scan.stl');
    writeFileSync(cut, readFileSync(sample('scan.stl')).subarray(0, 100_000));
    await open(page, [sample('scan.json'), cut]);
    await page.waitForSelector('text=a file cut short');
    await context.close();
  });

  test('a scan dropped on a job of another hull is asked about, and taking it is one step back', async () => {
    const { page, context } = await visit(stand);
    const before = await savedJob(page);
    const file = join(folder, 'round.stl');
    writeFileSync(file, roundHull(40, 60));
    await open(page, [file]);
    const box = page.getByRole('dialog', { name: 'What is round.stl?' });
    await box.getByText('Its numbers run x 0 to 20, y 0 to 3, z 0 to 3').waitFor();
    expect(await box.getByLabel('Unit of the file').inputValue()).toBe('m');
    expect(await box.getByLabel('How much of the hull it is').inputValue()).toBe('half');
    // Axes that make a mirrored ship are refused in words.
    await box.getByLabel('Axis that points to port').selectOption('-y');
    await box.getByText('left-handed').waitFor();
    expect(await box.getByRole('button', { name: 'plan on it' }).isDisabled()).toBe(true);
    await box.getByLabel('Axis that points to port').selectOption('y');
    await box.getByRole('button', { name: 'plan on it' }).click();
    await planned(page);
    const saved = JSON.parse(await savedJob(page)) as { ship: { hull: unknown } };
    expect(saved.ship.hull).toEqual({
      kind: 'mesh',
      file: 'round.stl',
      unit: 'm',
      axes: { forward: 'x', port: 'y', up: 'z' },
      origin: ['0 m', '0 m', '0 m'],
      half: true,
    });
    await page.getByRole('button', { name: 'undo' }).click();
    await planned(page);
    expect(await savedJob(page)).toBe(before);
    await context.close();
  });

  test('while a scan of 200 000 triangles is read the screen goes on', async () => {
    const { page, context } = await visit(stand);
    const paths = await jobOn(page, 'large.stl', roundHull(400, 250));
    // How late a timer of 10 ms comes is how long the page's own thread was taken: nothing of a scan may be read there.
    await page.evaluate(() => {
      const late: number[] = [];
      Object.assign(window, { late });
      let last = performance.now();
      setInterval(() => {
        late.push(performance.now() - last - 10);
        last = performance.now();
      }, 10);
    });
    const idle = await page.evaluate(async () => {
      await new Promise((done) => setTimeout(done, 1500));
      return Math.max(...(window as unknown as { late: number[] }).late.splice(0));
    });
    await open(page, paths);
    await titled(page, 'On large.stl');
    await planned(page);
    const { most, beats } = await page.evaluate(() => {
      const { late } = window as unknown as { late: number[] };
      return { most: Math.max(...late), beats: late.length };
    });
    console.log(
      `page's own thread: longest stretch ${most.toFixed(0)} ms while reading, ${idle.toFixed(0)} ms idle, ${beats} beats`,
    );
    expect(beats).toBeGreaterThan(10);
    // 65 ms were found on a busy machine, the first picture of the new hull included; a machine may be busier.
    expect(most).toBeLessThan(500);
    await context.close();
  });
});

test('a drawing dropped on a job is asked about and planned on', async () => {
  const { page, context } = await visit(stand);
  copyFileSync('samples/n-drawing-against-the-tape/frame.dxf', join(folder, 'my section.dxf'));
  await open(page, [join(folder, 'my section.dxf')]);
  const box = page.getByRole('dialog', { name: 'What is my section.dxf?' });
  await box.getByRole('button', { name: 'plan on it' }).click();
  await page.waitForFunction(() => document.querySelector('dialog[open]') === null);
  expect((JSON.parse(await savedJob(page)) as { ship: { hull: unknown } }).ship.hull).toEqual({
    kind: 'drawing',
    file: 'my section.dxf',
  });
  await context.close();
});

describe('how sure', () => {
  test('shares, spreads and the reading to take again are those of the command line; they go to the plan file', async () => {
    const { page, context, complaints } = await visit(stand);
    const job = sample('readings.json');
    await open(page, [job]);
    await titled(page, (JSON.parse(readFileSync(job, 'utf8')) as { title: string }).title);
    await planned(page);
    const card = await openFit(page);
    const sure = card.getByRole('region', { name: 'How sure' });
    await sure.getByText('sure that it fits as cut').waitFor({ timeout: 120_000 });
    const plan = JSON.parse(await commandLine(job)) as PlanFile;
    const found = plan.uncertainty?.fittings[0];
    if (found === undefined) throw new Error('the command line found nothing unsure');
    const text = (await sure.textContent()) ?? '';
    expect(text).toContain(`${Math.round(100 * found.fitsShare)} % sure that it fits as cut`);
    expect(text).toContain('again first');
    expect(text).toContain(showFigure({ mm: found.stockMm, bound: 'least' }, 'metric'));
    expectSamePlan(await planFileOf(page), await commandLine(job));
    expect(complaints).toEqual([]);
    await context.close();
  });

  test('a ± is typed into a figure and shown with it', async () => {
    const { page, context } = await visit(stand);
    const foot = figure(page, 'Heel, starboard side down');
    // Taking the figure up selects it, in the next frame.
    await foot.focus();
    await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
    await foot.fill('1.5 deg +/- 0.5 deg');
    await foot.press('Enter');
    await foot.blur();
    await planned(page);
    expect(await foot.inputValue()).toBe('1.5° ± 0.5°');
    const card = await openFit(page);
    await card.getByText('sure that it fits as cut').waitFor({ timeout: 120_000 });
    expect((await card.textContent()) ?? '').toContain('heel, starboard side down');
    await context.close();
  });
});
