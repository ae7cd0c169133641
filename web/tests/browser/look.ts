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

/** Every rule of the checker, contrast at 7:1, and the sizes that a glove needs. */
export async function looksRight(page: Page): Promise<void> {
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
  const near = await page.evaluate(() => {
    const boxes = [...document.querySelectorAll('button')].filter((one) => !one.closest('.foot, .head')).map((one) => one.getBoundingClientRect());
    return boxes.flatMap((a, i) => boxes.slice(i + 1).filter((b) => {
      const [x, y] = [Math.max(a.left, b.left) - Math.min(a.right, b.right), Math.max(a.top, b.top) - Math.min(a.bottom, b.bottom)];
      return Math.max(x, y) < 7.9;
    })).length;
  });
  expect(near).toBe(0);
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  expect(wide).toBeLessThanOrEqual(0);
}

/** The height of the figures of the main number, as they are drawn. */
export function digitHeight(page: Page): Promise<{ height: number; text: string; fits: boolean }> {
  return page.evaluate(() => {
    const element = document.querySelector<HTMLElement>('.number')!;
    const style = getComputedStyle(element);
    const canvas = document.createElement('canvas').getContext('2d')!;
    canvas.font = `${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
    const { actualBoundingBoxAscent: up, actualBoundingBoxDescent: down } = canvas.measureText('7');
    return { height: up + down, text: element.textContent ?? '', fits: element.getBoundingClientRect().right <= innerWidth };
  });
}

