import { type ChildProcess, execFile, spawn } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';

/** The app as people get it: built, served on this machine alone, opened in a real browser. */
export interface Stand {
  readonly url: string;
  readonly browser: Browser;
  readonly stop: () => Promise<void>;
}

const run = promisify(execFile);
const VITE = join('node_modules', 'vite', 'bin', 'vite.js');
const { VITEST: _vitest, ...environment } = process.env;
const env = { ...environment, NODE_ENV: 'production' };

const FLAGS = [
  '--headless',
  '--no-sandbox',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
];

/** LUGWRIGHT_BROWSER, else the system's Chromium or Chrome, else the one that npm brings; none of them is a failure. */
async function browserPath(): Promise<string> {
  const named = process.env.LUGWRIGHT_BROWSER;
  if (named !== undefined && named !== '') {
    if (!existsSync(named)) throw new Error(`LUGWRIGHT_BROWSER names ${named}, and there is no such file`);
    return named;
  }
  const usual = [
    '/usr/bin/chromium',
    '/usr/bin/chromium-browser',
    '/usr/bin/google-chrome',
    '/usr/bin/google-chrome-stable',
  ];
  const found = usual.find((p) => existsSync(p));
  if (found !== undefined) return found;
  try {
    const { default: packed } = await import('@sparticuz/chromium');
    return await packed.executablePath();
  } catch (error) {
    throw new Error(
      `No browser: set LUGWRIGHT_BROWSER, or install chromium (apt-get install chromium), or npm ci. ${String(error)}`,
    );
  }
}

const freePort = (): Promise<number> =>
  new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address();
      probe.close(() =>
        typeof address === 'object' && address !== null ? resolve(address.port) : reject(new Error('no port')),
      );
    });
  });

async function answers(url: string, server: ChildProcess): Promise<void> {
  for (let i = 0; i < 200; i++) {
    if (server.exitCode !== null) throw new Error(`the preview server ended with ${server.exitCode}`);
    try {
      if ((await fetch(url)).ok) return;
    } catch {
      // not yet
    }
    await new Promise((r) => setTimeout(r, 100));
  }
  throw new Error('the preview server does not answer');
}

export async function startStand(): Promise<Stand> {
  const executablePath = await browserPath();
  const folder = mkdtempSync(join(tmpdir(), 'lugwright-app-'));
  await run(process.execPath, [VITE, 'build', '--outDir', folder, '--logLevel', 'error'], { env });
  const port = await freePort();
  const server = spawn(
    process.execPath,
    [VITE, 'preview', '--outDir', folder, '--port', String(port), '--strictPort'],
    {
      env,
      stdio: 'ignore',
    },
  );
  const url = `http://127.0.0.1:${port}/`;
  try {
    await answers(url, server);
    const browser = await chromium.launch({ executablePath, args: FLAGS });
    return {
      url,
      browser,
      stop: async () => {
        await browser.close();
        server.kill();
        rmSync(folder, { recursive: true, force: true });
      },
    };
  } catch (error) {
    server.kill();
    rmSync(folder, { recursive: true, force: true });
    throw error;
  }
}

/** Words of the console that are known and harmless. */
const HARMLESS = [/THREE\.Clock/, /GPU stall due to ReadPixels/, /GL Driver Message/];

export interface Visit {
  readonly context: BrowserContext;
  readonly page: Page;
  /** Errors and warnings that the page gave. */
  readonly complaints: string[];
}

export interface Size {
  readonly width: number;
  readonly height: number;
  readonly touch?: boolean;
}

export async function visit(stand: Stand, size: Size = { width: 1280, height: 800 }): Promise<Visit> {
  const context = await stand.browser.newContext({
    viewport: { width: size.width, height: size.height },
    hasTouch: size.touch === true,
    isMobile: size.touch === true,
    reducedMotion: 'reduce',
    acceptDownloads: true,
  });
  // Files go to the downloads, where a test can read them.
  await context.addInitScript(() => {
    Object.assign(window, { showSaveFilePicker: undefined, showOpenFilePicker: undefined });
  });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('console', (m) => {
    if (['error', 'warning'].includes(m.type()) && !HARMLESS.some((h) => h.test(m.text()))) complaints.push(m.text());
  });
  page.on('pageerror', (e) => complaints.push(e.message));
  await page.goto(stand.url);
  await planned(page);
  return { context, page, complaints };
}

/** Waits until the screen shows a plan of what stands on it. */
export const planned = (page: Page): Promise<unknown> =>
  page.waitForSelector('.screen[data-planned="true"]', { timeout: 60_000 });

export const settle = async (page: Page): Promise<void> => {
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  await planned(page);
};

/** Waits until the water was painted so many times more; a picture that is already painted and still counts for the first. */
export async function drawnFrames(page: Page, more: number): Promise<void> {
  const frames = (): Promise<number> =>
    page.evaluate(() => Number((document.querySelector('.water') as HTMLElement).dataset.frames ?? 0));
  const from = await frames();
  let last = from;
  let still = 0;
  for (let i = 0; i < 600 && !(last > 0 && (last >= from + more || still >= 5)); i++) {
    await page.waitForTimeout(50);
    const now = await frames();
    still = now === last ? still + 1 : 0;
    last = now;
  }
  if (last === 0) throw new Error('the water was never painted');
}

/** The job file as the page would write it. */
export async function savedJob(page: Page): Promise<string> {
  const [download] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Control+s')]);
  const { readFileSync } = await import('node:fs');
  return readFileSync(await download.path(), 'utf8');
}

export const figure = (page: Page, label: string) => page.getByLabel(label, { exact: true });

/** How many different colours the picture has, coarsely, and the share of the commonest. */
export async function colours(
  page: Page,
  png: Buffer,
): Promise<{ readonly kinds: number; readonly commonest: number }> {
  return page.evaluate(async (base64) => {
    const bytes = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));
    const bitmap = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
    const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
    const context = canvas.getContext('2d') as OffscreenCanvasRenderingContext2D;
    context.drawImage(bitmap, 0, 0);
    const { data } = context.getImageData(0, 0, bitmap.width, bitmap.height);
    const counts = new Map<number, number>();
    for (let i = 0; i < data.length; i += 4) {
      const key =
        ((data[i] as number) >> 4) * 256 + ((data[i + 1] as number) >> 4) * 16 + ((data[i + 2] as number) >> 4);
      counts.set(key, (counts.get(key) ?? 0) + 1);
    }
    return { kinds: counts.size, commonest: Math.max(...counts.values()) / (data.length / 4) };
  }, png.toString('base64'));
}
