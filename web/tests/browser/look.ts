// What every picture of the phone is held against: the checker of accessibility, contrast at 7:1, sizes for a glove.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

import { expect } from 'vitest';
import type { Browser, BrowserContext, Page } from 'playwright-core';

import { sizes } from './phone';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

export interface Opened {
  context: BrowserContext;
  page: Page;
  /** Requests to another host, and what the page complained of. */
  wrong: string[];
}

export async function open(chromium: Browser, size: keyof typeof sizes = 'phone'): Promise<Opened> {
  // The checker of accessibility is put in by the test, past the page's own policy; nothing else is.
  const context = await chromium.newContext({ viewport: sizes[size] });
  const page = await context.newPage();
  const wrong: string[] = [];
  page.on('request', (request) => { if (!/^(blob:)?http:\/\/127\.0\.0\.1:/.test(request.url())) wrong.push(request.url()); });
  page.on('console', (message) => { if (message.type() === 'error') wrong.push(message.text()); });
  page.on('pageerror', (error) => wrong.push(String(error)));
  return { context, page, wrong };
}

/** Every rule of the checker, contrast at 7:1, the sizes that a glove needs, and the main number's, by day and by night. */
export async function looksRight(page: Page, night?: () => Promise<void>): Promise<void> {
  await looks(page);
  const look = await page.evaluate(() => document.documentElement.className);
  await page.evaluate((other) => { document.documentElement.className = other; }, look === 'night' ? 'day' : 'night');
  await night?.();
  await looks(page);
  await page.evaluate((own) => { document.documentElement.className = own; }, look);
}

async function looks(page: Page): Promise<void> {
  await page.evaluate(axe);
  const violations = await page.evaluate(async () => {
    const checker = (globalThis as unknown as { axe: { run(where: unknown, options: unknown): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> } }).axe;
    const rules = { 'color-contrast-enhanced': { enabled: true } };
    const { violations: found } = await checker.run(document, { rules });
    return found.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(' ')}`);
  });
  expect(violations).toEqual([]);
  const small = await page.evaluate(() =>
    [...document.querySelectorAll<HTMLElement>('button, input, .file')]
      .filter((element) => !element.closest('.file') || element.matches('.file'))
      .map((element) => ({ box: element.getBoundingClientRect(), says: element.textContent }))
      .filter(({ box }) => box.width < 72 || box.height < 72)
      .map(({ says, box }) => `${says} ${box.width}x${box.height}`));
  expect(small).toEqual([]);
  // What lies under the foot while the page stands still is not beside it.
  const near = await page.evaluate(() => ['.foot', '.head', ':not(.foot, .head)'].flatMap((where) => {
    const boxes = [...document.querySelectorAll('button, .file')].filter((one) => (where.startsWith(':') ? !one.closest('.foot, .head') : one.closest(where)))
      .map((one) => ({ box: one.getBoundingClientRect(), says: one.textContent }));
    return boxes.flatMap(({ box: a, says }, i) => boxes.slice(i + 1).filter(({ box: b }) => {
      const [x, y] = [Math.max(a.left, b.left) - Math.min(a.right, b.right), Math.max(a.top, b.top) - Math.min(a.bottom, b.bottom)];
      return Math.max(x, y) < 7.9;
    }).map((other) => `${says} | ${other.says}`));
  }));
  expect(near).toEqual([]);
  if (await page.locator('.number').count()) {
    const { height, text, fits } = await digitHeight(page);
    expect(height, text).toBeGreaterThanOrEqual(76);
    expect(text.length, text).toBeLessThanOrEqual(5);
    expect(fits, text).toBe(true);
  }
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  expect(wide).toBeLessThanOrEqual(0);
}

/** The height of the figures of the main number, as they are drawn. */
function digitHeight(page: Page): Promise<{ height: number; text: string; fits: boolean }> {
  return page.evaluate(() => {
    const element = document.querySelector<HTMLElement>('.number')!;
    const style = getComputedStyle(element);
    const canvas = document.createElement('canvas').getContext('2d')!;
    canvas.font = `${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
    const { actualBoundingBoxAscent: up, actualBoundingBoxDescent: down } = canvas.measureText('7');
    return { height: up + down, text: element.textContent ?? '', fits: element.getBoundingClientRect().right <= innerWidth };
  });
}

