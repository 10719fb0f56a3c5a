import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { planned, type Stand, savedJob, settle, startStand, visit } from './stand.ts';

// A busy machine paints its software picture slowly: what is measured here is what happens, not how fast.
vi.setConfig({ testTimeout: 180_000 });

let stand: Stand;
beforeAll(async () => {
  stand = await startStand();
}, 240_000);
afterAll(() => stand?.stop());

/** LUGWRIGHT_PICTURES: a folder for pictures of the screens, to be looked at. */
async function picture(page: Page, name: string): Promise<void> {
  const folder = process.env.LUGWRIGHT_PICTURES;
  if (folder === undefined) return;
  mkdirSync(folder, { recursive: true });
  await page.screenshot({ path: join(folder, `${name}.png`) });
}

const field = (page: Page) => page.locator('.dictation input.big');
const said = (page: Page) => page.locator('.dictation .said');
const standing = (page: Page) => page.locator('.dictation .standing');
const button = (page: Page, name: string | RegExp) => page.locator('.dictation').getByRole('button', { name });

async function type(page: Page, ...figures: readonly string[]): Promise<void> {
  for (const figure of figures) {
    if (figure !== '') await page.keyboard.type(figure);
    await page.keyboard.press('Enter');
    await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  }
}

interface Saved {
  ship: {
    hull: Record<string, unknown> & { girth: unknown[]; fore: { gaps: unknown[]; slope?: string } };
    compare?: unknown[];
  };
  fittings: { asBuilt?: unknown; at: unknown }[];
}
const saved = async (page: Page): Promise<Saved> => JSON.parse(await savedJob(page)) as Saved;

async function startOnCylinder(page: Page): Promise<void> {
  await page.keyboard.press('r');
  await page.waitForSelector('.dictation .start');
  await page.getByLabel('The tape’s zero: out from the centreline').fill('1.2 m');
  await page.getByLabel('The tape’s zero: up from the baseline').fill('0.4 m');
  await page.getByLabel(/^The lug stands on the tape at/).fill('400');
  await picture(page, 'start');
  await button(page, 'take readings at this place').click();
  await page.waitForSelector('.dictation .big');
}

test('readings on a hull of another kind: asked first, then one figure at a time, by the keyboard alone', async () => {
  const { page, context, complaints } = await visit(stand);
  const before = await savedJob(page);
  await startOnCylinder(page);
  expect(await standing(page).textContent()).toContain('Needed still: 2 slopes and 1 gap');
  expect((await saved(page)).ship.hull.girth).toEqual([]);

  await type(page, '0');
  expect(await said(page).textContent()).toContain('at zero millimetres');
  await type(page, '10');
  expect(await page.locator('.dictation .fault').textContent()).toContain('rising outboard, or falling outboard');
  await page.keyboard.press('Control+a');
  await type(page, '10 r', '200', '14.4');
  expect(await said(page).textContent()).toContain(
    'at two zero zero millimetres: one four decimal four degrees, rising outboard',
  );
  await picture(page, 'tape');
  // The next mark by the same step, on Enter alone.
  await type(page, '', '18.8', '', '23.2');
  expect((await saved(page)).ship.hull.girth).toEqual([
    { at: '0 mm', slope: '10 deg' },
    { at: '200 mm', slope: '14.4 deg' },
    { at: '400 mm', slope: '18.8 deg' },
    { at: '600 mm', slope: '23.2 deg' },
  ]);

  // A figure that cannot be: questioned at once, and not taken.
  await type(page, '', '72.6');
  expect(await page.locator('.dictation .doubt').textContent()).toContain('45.0° off its neighbours');
  await picture(page, 'doubt');
  expect((await saved(page)).ship.hull.girth).toHaveLength(4);
  await page.keyboard.press('Enter'); // "ask again" has the focus
  await type(page, '27.6');
  expect((await saved(page)).ship.hull.girth).toHaveLength(5);

  // The last one back, and again.
  await page.keyboard.press('Control+z');
  expect((await saved(page)).ship.hull.girth).toHaveLength(4);
  await type(page, '800', '27.6');

  // An earlier one put right.
  await button(page, /200 mm/).click();
  await type(page, '14.5 r');
  expect((await saved(page)).ship.hull.girth[1]).toEqual({ at: '200 mm', slope: '14.5 deg' });

  await page.keyboard.press('Shift+Enter');
  await type(page, '500 f', '13.9', '500 a', '13.9');
  expect((await saved(page)).ship.hull.fore.gaps).toEqual([
    { at: '500 mm', gap: '13.9 mm' },
    { at: '-500 mm', gap: '13.9 mm' },
  ]);
  await page.keyboard.press('Shift+Enter');
  await type(page, '0.5 a');
  expect((await saved(page)).ship.hull.fore.slope).toBe('-0.5 deg');
  await planned(page);
  await page.waitForFunction(() => document.querySelector('.standing')?.textContent?.includes('Enough to plan on'));
  await picture(page, 'through');
  const job = await saved(page);
  expect(job.ship.compare).toHaveLength(1);
  expect(job.fittings[0]?.at).toEqual({ station: expect.any(String), side: expect.any(String), girth: '400 mm' });

  // Each was one step of history: all the way back, the file is what it was.
  await page.keyboard.press('Escape');
  for (let i = 0; i < 40 && !(await page.getByRole('button', { name: 'undo' }).isDisabled()); i++)
    await page.getByRole('button', { name: 'undo' }).click();
  await settle(page);
  expect(await savedJob(page)).toBe(before);
  expect(complaints).toEqual([]);
  await context.close();
});

test('what was entered, and a mark that waits for its angle, outlive the window', async () => {
  const { page, context } = await visit(stand);
  await startOnCylinder(page);
  await type(page, '0', '10 r', '250');
  await page.waitForTimeout(600);
  await page.reload();
  await page.waitForSelector('.screen');
  await page.keyboard.press('r');
  await page.waitForSelector('.dictation .big');
  expect(await page.locator('.dictation .ask').textContent()).toContain('at 250 mm');
  await type(page, '15 r');
  expect((await saved(page)).ship.hull.girth).toEqual([
    { at: '0 mm', slope: '10 deg' },
    { at: '250 mm', slope: '15 deg' },
  ]);
  await context.close();
});

test('the fit-up, spot by spot', async () => {
  const { page, context, complaints } = await visit(stand);
  await page.locator('.answer[data-question="fit"] .say').click();
  await page.getByRole('button', { name: 'take down the fit-up from the diver' }).click();
  await page.waitForSelector('.dictation .big');
  const [up] = await page.locator('.dictation .ways label').allTextContents();
  expect(up).toContain('looks up');
  // 20 degrees off the plan: questioned.
  await page.locator('.dictation .ways label').first().click();
  await type(page, '20');
  expect(await page.locator('.dictation .doubt').textContent()).toContain('off the plan');
  await button(page, 'ask again').click();
  await type(page, '0', '0');
  await button(page, 'skip').click();
  expect(await page.locator('.dictation .hint').textContent()).toContain('corner');
  await type(page, '', '0.4', '', '0.6');
  await picture(page, 'fitup');
  const { asBuilt } = (await saved(page)).fittings[0] as { asBuilt: { gaps: unknown[]; turned?: string } };
  expect(asBuilt.gaps).toHaveLength(2);
  expect(asBuilt.turned).toBeUndefined();
  expect(complaints).toEqual([]);
  await context.close();
});

test('on a phone: a pad for gloved fingers, nothing under 44 px, nothing beside the screen', async () => {
  const { page, context } = await visit(stand, { width: 390, height: 844, touch: true });
  await page.keyboard.press('r');
  await button(page, 'take readings at this place').tap();
  await page.waitForSelector('.dictation .pad');
  for (const key of ['2', '5', '0']) await button(page, key).tap();
  expect(await field(page).inputValue()).toBe('250');
  await picture(page, 'phone-mark');
  await button(page, /take it/).tap();
  await page.locator('.dictation .ways label').first().tap();
  for (const key of ['1', '4', '.', '5']) await button(page, key).tap();
  await button(page, /take it/).tap();
  await picture(page, 'phone');
  expect(await said(page).textContent()).toContain('one four decimal five degrees, rising outboard');
  const small = await page.evaluate(() =>
    [...document.querySelectorAll('.dictation button, .dictation .ways label, .dictation input.big')]
      .map((e) => ({ name: e.textContent, box: e.getBoundingClientRect() }))
      .filter(({ box }) => box.width > 0 && (box.width < 44 || box.height < 44))
      .map(({ name }) => name),
  );
  expect(small).toEqual([]);
  const wide = await page.evaluate(() => (document.querySelector('.dictation')?.scrollWidth ?? 0) - innerWidth);
  expect(wide).toBeLessThanOrEqual(0);
  await context.close();
});

test.each(['dark', 'light'] as const)('nothing an audit of accessibility objects to, %s', async (theme) => {
  const { page, context } = await visit(stand);
  if (theme === 'light') await page.getByRole('button', { name: 'light' }).first().click();
  await startOnCylinder(page);
  await type(page, '0', '10 r', '200', '14.4', '400', '70');
  await page.waitForSelector('.dictation .doubt');
  await picture(page, `doubt-${theme}`);
  const { violations } = await new AxeBuilder({ page }).include('.dictation').analyze();
  expect(violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.html).join(' ')}`)).toEqual([]);
  await context.close();
});

test('two sources of one shell, laid over each other at the foot', async () => {
  const { page, context, complaints } = await visit(stand);
  await page.locator('.answer[data-question="fit"] .say').click();
  await page.getByText('lay another source over this shell').click();
  await page.getByLabel('What it is, like “builder’s drawing”').fill('the yard’s drawing');
  await page.getByLabel(/^Its section from the keel outward/).fill('0 0\nnonsense');
  await page.getByRole('button', { name: 'compare with this' }).click();
  expect(await page.locator('.paste .fault').textContent()).toContain('two numbers on each line');
  // A flat of bottom rising one in twenty.
  await page.getByLabel(/^Its section from the keel outward/).fill('0 300\n2000 400\n4000 500');
  await page.getByRole('button', { name: 'compare with this' }).click();
  await settle(page);
  const source = page.locator('.other-source');
  expect(await source.count()).toBe(1);
  const text = (await source.textContent()) ?? '';
  expect(text).toContain('the yard’s drawing');
  expect(text).toMatch(/finds the shell/);
  expect(await source.locator('svg text', { hasText: 'true to scale' }).count()).toBe(1);
  await source.scrollIntoViewIfNeeded();
  await picture(page, 'compare');
  await page.getByRole('button', { name: 'light' }).first().click();
  await picture(page, 'compare-light');
  await page.getByRole('button', { name: 'plan on the yard’s drawing instead' }).click();
  await settle(page);
  const job = await saved(page);
  expect(job.ship.hull.kind).toBe('columns');
  expect(job.ship.compare).toHaveLength(1);
  expect(complaints).toEqual([]);
  await context.close();
});

test('the drawing against the tape: sure of itself, and magnified only when asked', async () => {
  const { page, context, complaints } = await visit(stand);
  await page.locator('.menu > summary').click();
  await page.getByRole('button', { name: /Sedge Warbler/ }).click();
  await settle(page);
  await page.locator('.answer[data-question="fit"] .say').click();
  const source = page.locator('.other-source');
  await source.waitFor();
  expect(await source.locator('.verdict').getAttribute('data-agreement')).toMatch(/^(within|beyond)$/);
  await source.locator('.verdict').scrollIntoViewIfNeeded();
  await picture(page, 'sample-n');
  await source.getByRole('button', { name: /times as large/ }).click();
  expect(await source.locator('svg text', { hasText: /heights × \d+/ }).count()).toBe(1);
  await picture(page, 'sample-n-large');
  const { violations } = await new AxeBuilder({ page }).include('.other-source').analyze();
  expect(violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.html).join(' ')}`)).toEqual([]);

  // What the diver read stands in the statement too, figure by figure, once it is planned on.
  await source.getByRole('button', { name: /^plan on .* instead$/ }).click();
  await settle(page);
  const hull = page.locator('.group[data-group="hull"]');
  if ((await hull.getAttribute('open')) === null) await hull.locator('summary').first().click();
  await page.getByLabel('Slope 2, mark on the tape').scrollIntoViewIfNeeded();
  await picture(page, 'hull-readings');
  expect(await page.getByLabel('Slope 2', { exact: true }).inputValue()).toContain('17.7°');
  expect((await saved(page)).ship.hull.girth).toHaveLength(5);
  expect(complaints).toEqual([]);
  await context.close();
});

test('a default that is looked at stays a default', async () => {
  const { page, context } = await visit(stand);
  const before = await savedJob(page);
  for (const group of await page.locator('.group > summary').all())
    if ((await group.evaluate((e) => (e.parentElement as HTMLDetailsElement).open)) === false) await group.click();
  const assumed = page.locator('input.figure.assumed');
  expect(await assumed.count()).toBeGreaterThan(3);
  for (const k of [0, 1, 2]) {
    await assumed.nth(k).focus();
    await page.keyboard.press('Tab');
  }
  expect(await savedJob(page)).toBe(before);
  await context.close();
});

test('where a dive stopped goes with the job file', async () => {
  const { page, context, complaints } = await visit(stand);
  await page.getByRole('button', { name: 'water', exact: true }).click();
  await page.getByRole('button', { name: 'next run' }).click();
  await page.getByRole('button', { name: 'stopped here' }).click();
  await settle(page);
  const job = JSON.parse(await savedJob(page)) as { fittings: { stopped?: { run: number; order: string }[] }[] };
  expect(job.fittings[0]?.stopped).toEqual([
    { run: 2, s: expect.stringMatching(/mm$/), order: expect.stringMatching(/^[0-9a-f]{8}$/), at: expect.any(String) },
  ]);
  expect(await page.locator('.player').textContent()).toMatch(/Last stop .*run 2/s);
  await page.getByRole('button', { name: 'undo' }).click();
  await settle(page);
  expect(await page.locator('.player').textContent()).toContain('marks where a dive ended');
  expect(complaints).toEqual([]);
  await context.close();
});
