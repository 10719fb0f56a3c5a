import { readFileSync } from 'node:fs';
import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { figure, planned, type Stand, savedJob, settle, startStand, visit } from './stand.ts';

// A busy machine paints its software picture slowly: what is measured here is what happens, not how fast.
vi.setConfig({ testTimeout: 180_000 });

let stand: Stand;
beforeAll(async () => {
  stand = await startStand();
}, 180_000);
afterAll(() => stand?.stop());

const text = readFileSync('samples/a-plumb-lug-rounded-bottom/job.json', 'utf8');

/** The map of the job as it stands, all of it. */
const mapDone = (page: Page): Promise<unknown> =>
  page.waitForFunction(
    () => {
      const chart = document.querySelector<HTMLElement>('.mapchart');
      return chart?.dataset.stale === 'false' && document.querySelector('.places progress') === null;
    },
    undefined,
    { timeout: 120_000 },
  );

const clean = async (page: Page, what: string): Promise<void> => {
  const { violations } = await new AxeBuilder({ page }).options({ resultTypes: ['violations'] }).analyze();
  const said = violations.map(
    (v) => `${what}: ${v.id}: ${v.nodes.map((n) => `${n.target.join(' ')} ${n.failureSummary ?? ''}`).join('; ')}`,
  );
  expect(said).toEqual([]);
};

describe('where may it go', () => {
  test('by keyboard: opened, walked, the lug put there in one step of history, and back', async () => {
    const { page, context, complaints } = await visit(stand);
    await page.keyboard.press('m');
    await mapDone(page);
    const chart = page.locator('.mapchart .chart');
    await chart.focus();
    const before = await chart.getAttribute('aria-label');
    await chart.press('ArrowRight');
    await chart.press('ArrowRight');
    expect(await chart.getAttribute('aria-label')).not.toBe(before);
    expect(await page.locator('.reading').textContent()).toMatch(/binds/);
    await chart.press('Enter');
    await settle(page);
    // Two spots of 37.5 mm forward of 6.30 m.
    expect(JSON.parse(await savedJob(page))).toMatchObject({
      fittings: [{ at: { station: '6.375 m', girth: '2.4 m' } }],
    });
    await mapDone(page);
    await clean(page, 'map of places');
    await page.getByRole('button', { name: 'heading and lean' }).click();
    await mapDone(page);
    expect(await chart.getAttribute('aria-label')).toMatch(/heading/);
    await clean(page, 'map of stances');
    await page.getByRole('button', { name: 'undo' }).click();
    await settle(page);
    expect(await savedJob(page)).toBe(text);
    expect(complaints).toEqual([]);
    await context.close();
  });

  test('the shell painted with the map is clicked: the lug goes to the spot that was pointed at', async () => {
    const { page, context, complaints } = await visit(stand);
    await page.waitForSelector('canvas');
    await page.keyboard.press('m');
    await mapDone(page);
    await page.waitForTimeout(500);
    const clear = await page.locator('.stage > .clear').boundingBox();
    if (clear === null) throw new Error('no clear part');
    const chart = page.locator('.mapchart .chart');
    // Round the lug the shell is painted; where a look from aside misses it nothing is said and another spot is tried.
    const untouched = await chart.getAttribute('aria-label');
    let said = untouched;
    let spot: readonly [number, number] = [0, 0];
    for (const [across, down] of [
      [0.68, 0.22],
      [0.72, 0.3],
      [0.75, 0.16],
      [0.3, 0.2],
      [0.8, 0.4],
      [0.25, 0.35],
    ] as const) {
      spot = [clear.x + clear.width * across, clear.y + clear.height * down];
      await page.mouse.move(...spot);
      await page.waitForTimeout(400);
      said = await chart.getAttribute('aria-label');
      if (said !== untouched && (await page.locator('.reading').textContent())?.match(/binds/)) break;
    }
    expect(said).not.toBe(untouched);
    const place = () =>
      Promise.all([
        figure(page, 'Station, forward of the aft perpendicular').inputValue(),
        figure(page, 'Place, round from the keel').inputValue(),
      ]);
    const before = await place();
    await page.mouse.click(...spot);
    await settle(page);
    const now = await place();
    expect(now).not.toEqual(before);
    // The chart names its spot to the centimetre.
    const metres = (text: string): number => Number.parseFloat(text);
    const named = [...(said ?? '').matchAll(/(\d+(?:\.\d+)?) m\b/g)].map((m) => Number(m[1]));
    for (const figureNow of now)
      expect(Math.min(...named.map((n) => Math.abs(n - metres(figureNow)))), `${said} | ${now}`).toBeLessThanOrEqual(
        0.006,
      );
    await page.getByRole('button', { name: 'undo' }).click();
    await settle(page);
    expect(await savedJob(page)).toBe(text);
    expect(complaints).toEqual([]);
    await context.close();
  });

  test('on a phone a finger looks first and puts the lug there when it comes again', async () => {
    const { page, context } = await visit(stand, { width: 390, height: 844, touch: true });
    await page.getByRole('button', { name: 'five answers' }).click();
    await page.getByRole('button', { name: 'Where may it go?' }).click();
    await mapDone(page);
    const chart = page.locator('.mapchart .chart');
    await chart.scrollIntoViewIfNeeded();
    const box = await chart.boundingBox();
    if (box === null) throw new Error('no chart');
    const [x, y] = [box.x + box.width * 0.62, box.y + box.height / 2];
    await page.touchscreen.tap(x, y);
    await page.waitForTimeout(300);
    expect(await figure(page, 'Station, forward of the aft perpendicular').inputValue()).toBe('6.30 m');
    await page.touchscreen.tap(x, y);
    await page.waitForFunction(
      () =>
        document.querySelector<HTMLInputElement>('input[aria-label="Station, forward of the aft perpendicular"]')
          ?.value !== '6.30 m',
    );
    await planned(page);
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);
    await context.close();
  });
});

test('the best stance is looked for, stood, and taken back in one step', async () => {
  const { page, context } = await visit(stand);
  await page.locator('.answer[data-question="pull"] .say').click();
  await page.getByRole('button', { name: 'find the best stance' }).click();
  await page.waitForSelector('.best .verdict', { timeout: 120_000 });
  await clean(page, 'best stance');
  const then = await page.locator('.best tbody tr:first-child td:last-child').textContent();
  await page.getByRole('button', { name: 'stand it so' }).click();
  await settle(page);
  expect(await page.locator('.best').textContent()).toContain('It stands so now');
  // What was promised is what the plan of the job now says.
  const sideways = page
    .locator('.answer[data-question="pull"] .working > table tr', { hasText: 'sideways' })
    .locator('td');
  expect((await sideways.textContent())?.replace(/ towards .*/, '')).toBe(then);
  await page.getByRole('button', { name: 'undo' }).click();
  await settle(page);
  expect(await savedJob(page)).toBe(text);
  await context.close();
});

test('a movement is put in from nothing, said to be nobody’s, looked at step by step, and taken back', async () => {
  const { page, context, complaints } = await visit(stand);
  await page.locator('.answer[data-question="pull"] .say').click();
  await page.getByRole('button', { name: 'put in a movement' }).click();
  await page.waitForSelector('.movementchart', { timeout: 60_000 });
  await settle(page);
  expect(await page.locator('details[data-group="lift"]').getAttribute('open')).not.toBeNull();
  expect(await page.locator('.answer[data-question="pull"]').textContent()).toContain("nobody's figures");
  const step = page.getByRole('slider', { name: 'Step of the movement' }).first();
  await step.focus();
  await step.press('End');
  expect(await step.getAttribute('aria-valuetext')).toMatch(/^Step 4 of 4, lower away \(3 of 3\)/);
  await clean(page, 'movement');
  await page.getByRole('button', { name: 'undo' }).click();
  await settle(page);
  expect(await savedJob(page)).toBe(text);
  expect(complaints).toEqual([]);
  await context.close();
});

test('all five answers stand above the strip in a window of 1280 by 800', async () => {
  const { page, context } = await visit(stand);
  const foot = await page.locator('.foot').boundingBox();
  const last = await page.locator('.answer').nth(4).boundingBox();
  if (foot === null || last === null) throw new Error('not shown');
  expect(last.y + last.height).toBeLessThanOrEqual(foot.y);
  await context.close();
});
