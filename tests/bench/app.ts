import type { Row } from './table.ts';

/** How often the lug is moved, and how often the page is opened. */
const MOVES = 120;
const VISITS = 5;

const at = (sorted: readonly number[], share: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? Number.NaN;

/** The app in a real browser: first answer, work of the main thread while the lug is dragged, long tasks. */
export async function app(): Promise<Row[]> {
  const { planned, startStand } = await import('../e2e/stand.ts');
  const stand = await startStand();
  try {
    const context = await stand.browser.newContext({ viewport: { width: 1280, height: 800 } });
    const first: number[] = [];
    for (let i = 0; i < VISITS; i++) {
      const page = await context.newPage();
      await page.addInitScript(() => {
        const watch = new MutationObserver(() => {
          if (document.querySelector('.answer') === null) return;
          watch.disconnect();
          Object.assign(window, { firstAnswer: performance.now() });
        });
        document.addEventListener('DOMContentLoaded', () =>
          watch.observe(document.body, { subtree: true, childList: true }),
        );
      });
      await page.goto(stand.url);
      await planned(page);
      const time = await page.evaluate(() => (window as unknown as { firstAnswer: number }).firstAnswer);
      if (i > 0) first.push(time); // the first visit fills the cache
      await page.close();
    }
    first.sort((p, q) => p - q);

    const page = await context.newPage();
    await page.goto(stand.url);
    await planned(page);
    await page.waitForSelector('canvas');
    await page.waitForTimeout(1500);
    const clear = await page.locator('.stage > .clear').boundingBox();
    if (clear === null) throw new Error('the page shows no water');
    const [x, y] = [clear.x + clear.width / 2, clear.y + clear.height / 2];
    const devtools = await context.newCDPSession(page);
    await devtools.send('Performance.enable');
    const worked = async (): Promise<number> =>
      1000 *
      ((await devtools.send('Performance.getMetrics')).metrics.find((m) => m.name === 'TaskDuration')?.value ??
        Number.NaN);
    await page.evaluate(() => {
      const long: number[] = [];
      new PerformanceObserver((list) => long.push(...list.getEntries().map((e) => e.duration))).observe({
        type: 'longtask',
      });
      Object.assign(window, { longTasks: long });
    });
    await page.mouse.move(x, y);
    await page.mouse.down();
    const moves: number[] = [];
    for (let i = 1; i <= MOVES; i++) {
      const before = await worked();
      await page.mouse.move(x + (i % 30) * 4, y);
      await page.waitForTimeout(30);
      moves.push((await worked()) - before);
    }
    await page.mouse.up();
    moves.sort((p, q) => p - q);
    const long = await page.evaluate(() => (window as unknown as { longTasks: number[] }).longTasks);
    const script = await page.evaluate(() =>
      performance
        .getEntriesByType('resource')
        .filter((e) => e.name.endsWith('.js'))
        .reduce((sum, e) => sum + (e as PerformanceResourceTiming).encodedBodySize, 0),
    );
    const group = 'the app in a browser, software picture';
    return [
      {
        group,
        what: 'first answer after navigation, warm, median',
        value: at(first, 0.5),
        unit: 'ms',
        wanted: { most: 1500 },
      },
      {
        group,
        what: 'main thread per move of a drag, median',
        value: at(moves, 0.5),
        unit: 'ms',
        wanted: { most: 16 },
      },
      {
        group,
        what: 'main thread per move of a drag, 95 of 100',
        value: at(moves, 0.95),
        unit: 'ms',
        wanted: { most: 33 },
      },
      { group, what: 'longest task while dragging', value: Math.max(0, ...long), unit: 'ms', wanted: { most: 50 } },
      { group, what: 'scripts of the page, as sent', value: script, unit: 'bytes' },
    ];
  } finally {
    await stand.stop();
  }
}
