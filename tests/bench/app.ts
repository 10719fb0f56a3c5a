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
    const clock = await context.newCDPSession(page);
    await clock.send('Performance.enable');
    // The processor's time of that thread alone: what other programs take of the machine is not in it.
    const meter = await context.newCDPSession(page);
    await meter.send('Performance.enable', { timeDomain: 'threadTicks' });
    const worked = async (of: typeof clock): Promise<{ readonly all: number; readonly script: number }> => {
      const { metrics } = await of.send('Performance.getMetrics');
      const ms = (name: string): number => 1000 * (metrics.find((m) => m.name === name)?.value ?? Number.NaN);
      return { all: ms('TaskDuration'), script: ms('ScriptDuration') };
    };
    const frames = (): Promise<number> =>
      page.evaluate(() => Number((document.querySelector('.water') as HTMLElement).dataset.frames));
    await page.evaluate(() => {
      const long: number[] = [];
      new PerformanceObserver((list) => long.push(...list.getEntries().map((e) => e.duration))).observe({
        type: 'longtask',
      });
      Object.assign(window, { longTasks: long });
    });
    await page.mouse.move(x, y);
    await page.mouse.down();
    const drag = async (of: typeof clock): Promise<{ readonly all: number[]; readonly script: number[] }> => {
      const all: number[] = [];
      const script: number[] = [];
      for (let i = 1; i <= MOVES; i++) {
        const before = await worked(of);
        await page.mouse.move(x + (i % 30) * 4, y);
        await page.waitForTimeout(30);
        const after = await worked(of);
        all.push(after.all - before.all);
        script.push(after.script - before.script);
      }
      return { all: all.sort((p, q) => p - q), script: script.sort((p, q) => p - q) };
    };
    const painted = await frames();
    const wall = await drag(clock);
    const paints = (await frames()) - painted;
    const own = await drag(meter);
    await page.mouse.up();
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
        value: at(wall.all, 0.5),
        unit: 'ms',
        wanted: { most: 16 },
      },
      {
        group,
        what: 'main thread per move of a drag, 95 of 100',
        value: at(wall.all, 0.95),
        unit: 'ms',
        wanted: { most: 33 },
      },
      { group, what: "the same, processor's time, median", value: at(own.all, 0.5), unit: 'ms' },
      { group, what: "the same, processor's time, 95 of 100", value: at(own.all, 0.95), unit: 'ms' },
      { group, what: 'of it script (React, scene, worker), median', value: at(own.script, 0.5), unit: 'ms' },
      { group, what: 'paintings of the water per move', value: paints / MOVES, unit: '' },
      { group, what: 'longest task while dragging', value: Math.max(0, ...long), unit: 'ms', wanted: { most: 50 } },
      { group, what: 'scripts of the page, as sent', value: script, unit: 'bytes' },
    ];
  } finally {
    await stand.stop();
  }
}
