// The phone as a crew meets it: two taps, gas, a pipe that is not the map's, no signal, a kill at every tap.
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Browser, BrowserContext, Page } from 'playwright-core';

import { Engine } from '../../../apps/browser/engine.mjs';
import { engineFile } from '../places';
import { browser, foundPipe, phoneIn, picture, practise, ready, serve, sizes, stop, tap, type Host } from './phone';

let host: Host;
let chromium: Browser;
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

beforeAll(async () => {
  host = await serve();
  chromium = await browser();
});
afterAll(async () => {
  await chromium.close();
  await stop(host);
});

interface Opened {
  context: BrowserContext;
  page: Page;
  /** Requests to another host, and what the page complained of. */
  wrong: string[];
}

async function open(size: keyof typeof sizes = 'phone'): Promise<Opened> {
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
async function looksRight(page: Page): Promise<void> {
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

test('an emergency begins in two taps, and the log with the first', async () => {
  const { context, page, wrong } = await open();
  await page.goto(host.url);
  await picture(page, 'start');
  await looksRight(page);
  await tap(page, /^Gas is blowing/);
  await page.getByRole('heading', { name: 'Where is this phone?' }).waitFor();
  await picture(page, 'zone');
  await looksRight(page);
  await tap(page, /^Clear of the gas/);
  await page.getByRole('button', { name: 'Read the pipe' }).waitFor();
  await picture(page, 'now');
  await looksRight(page);
  expect(await page.getByText('2 entries are safe on this phone').count()).toBe(1);
  expect(wrong).toEqual([]);
  await context.close();
});

test('in the gas there is one thing to do with the phone', async () => {
  const { context, page } = await open();
  await page.goto(host.url);
  await tap(page, /^Gas is blowing/);
  await tap(page, /^In the gas/);
  await page.getByRole('heading', { name: 'LEAVE THE PHONE' }).waitFor();
  expect(await page.getByRole('button').count()).toBe(1);
  await picture(page, 'leave');
  await looksRight(page);
  await page.reload();
  await page.getByRole('heading', { name: 'LEAVE THE PHONE' }).waitFor();
  await context.close();
});

for (const size of ['phone', 'tablet'] as const)
  test(`every screen of a practice job at ${size} size`, async () => {
    const { context, page, wrong } = await open(size);
    const seen = async (name: string) => { await picture(page, `${size}-${name}`); await looksRight(page); };
    await practise(page, host.url);
    await seen('now');
    await tap(page, 'Read the pipe');
    await seen('pipe');
    await tap(page, /^Pressure in the pipe/);
    await seen('pad');
    await tap(page, 'Back');
    await tap(page, /^DR or SDR/);
    await seen('choice');
    await tap(page, '11.5');
    await tap(page, 'This is the pipe');
    await page.getByRole('columnheader', { name: 'Before' }).waitFor();
    await seen('verdict');
    const { height, text, fits } = await digitHeight(page);
    expect(height).toBeGreaterThanOrEqual(76);
    expect(text.length).toBeLessThanOrEqual(5);
    expect(fits).toBe(true);
    for (const [button, name] of [['All reasons', 'reasons'], ['The hole, to scale', 'hole'], ['Before a hand', 'safety'], ['Hand over', 'handover'], ['The log', 'log'], ['Company', 'company']] as const) {
      await tap(page, 'The rest');
      if (name === 'reasons') await seen('rest');
      await tap(page, new RegExp(`^${button}`));
      await page.waitForTimeout(150);
      await seen(name);
    }
    await tap(page, 'The rest');
    await tap(page, 'Close');
    await seen('close-before');
    await tap(page, /begin to close/);
    await page.getByText('ON PACE').first().waitFor();
    await seen('close');
    await tap(page, 'A gap was measured');
    for (let i = 0; i < 12; i += 1) await page.getByRole('button', { name: /^Smaller/ }).first().click();
    await seen('stepper');
    await tap(page, /^Record/);
    await page.getByText('SLOW DOWN').first().waitFor();
    await seen('close-slow');
    await tap(page, /^Pump at its limit/);
    await seen('limit');
    await tap(page, 'Back');
    await tap(page, 'Both stops bear');
    await tap(page, 'Is it off?');
    await seen('watch-question');
    await tap(page, 'Are the shut-offs tight?');
    for (const [field, keys] of [['Volume closed in', '20'], ['Let-by', '2'], ['Smallest division', '2']] as const) {
      await tap(page, new RegExp(`^${field}`));
      for (const key of keys) await page.getByRole('button', { name: key, exact: true }).click();
      await tap(page, 'Take it');
    }
    await tap(page, 'Enter a reading');
    await page.getByRole('button', { name: '0', exact: true }).click();
    await tap(page, 'Take it');
    await page.getByRole('button', { name: 'Enter a reading' }).waitFor();
    await page.getByText('The question: are the shut-offs tight?').waitFor();
    await seen('watch');
    await tap(page, 'Go on: open in steps');
    await tap(page, 'Begin to open');
    await page.getByText('ON PACE').first().waitFor();
    await seen('open');
    await tap(page, 'The rest');
    await tap(page, /^Look: Day/);
    await seen('night-rest');
    await tap(page, 'The job');
    await seen('night-now');
    await tap(page, /^Units/);
    await tap(page, 'The rest');
    await tap(page, 'Stop and verdict');
    await page.getByText('mm', { exact: true }).first().waitFor();
    await seen('night-metric');
    expect(wrong).toEqual([]);
    await context.close();
  });

test('found pipe: the answer is on the screen, before beside after, with the reason', async () => {
  const { context, page } = await open();
  await practise(page, host.url);
  await foundPipe(page);
  const row = page.getByRole('row', { name: /^Stop/ });
  await row.waitFor();
  expect(await row.textContent()).toBe('StopS-4-11S-4-11.5');
  expect(await page.getByText(/^S-4-11: /).count()).toBe(1);
  await context.close();
});

test('without signal: the page and the engine come back', async () => {
  const own = await serve();
  const { context, page, wrong } = await open();
  await page.goto(own.url);
  await ready(page);
  await stop(own);
  await context.setOffline(true);
  await page.reload();
  await tap(page, /^Practise/);
  await tap(page, /^Clear of the gas/);
  await foundPipe(page);
  expect(wrong.filter((what) => what.startsWith('http'))).toEqual([]);
  await context.close();
});

test('a newer version is told, waits while a job is open, and is taken by a tap', async () => {
  const own = await serve();
  const { context, page } = await open();
  await page.goto(own.url);
  await ready(page);
  await page.reload();
  await tap(page, /^Practise/);
  await tap(page, /^Clear of the gas/);
  own.instead.set('/sw.js', `${await (await fetch(`${own.url}sw.js`)).text()}\n// a newer version\n`);
  await page.evaluate(() => navigator.serviceWorker.ready.then((worker) => worker.update()).then(() => undefined));
  await page.getByText('A newer version is on this phone.').waitFor();
  expect(await page.getByRole('button', { name: 'Change to it now' }).count()).toBe(0);
  await picture(page, 'newer');
  await tap(page, 'The rest');
  await tap(page, 'Leave this job');
  await tap(page, 'Change to it now');
  await page.getByText('A newer version is on this phone.').waitFor({ state: 'detached' });
  await context.close();
  await stop(own);
});

test('killed after each tap: every entry that was shown is there, in one chain', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'ditch-'));
  const engine = await Engine.start(readFileSync(engineFile));
  const taps: ((page: Page) => Promise<void>)[] = [
    async (page) => tap(page, /^Practise/),
    async (page) => tap(page, /^Clear of the gas/),
    foundPipe,
    async (page) => { await tap(page, 'Close it'); await tap(page, /begin to close/); await page.getByText('ON PACE').first().waitFor(); },
    async (page) => { await tap(page, 'A gap was measured'); await tap(page, /^Record/); await page.getByText(/Last measured/).waitFor(); },
    async (page) => { await tap(page, 'Both stops bear'); await page.getByRole('button', { name: 'Is it off?' }).waitFor(); },
  ];
  let address = host.url;
  let entries = 0;
  for (const act of taps) {
    const context = await phoneIn(folder);
    const page = context.pages()[0] ?? (await context.newPage());
    await page.goto(address);
    if (entries > 0) expect(await logOf(page)).toHaveLength(entries);
    await act(page);
    const lines = await logOf(page);
    expect(lines.length).toBeGreaterThan(entries);
    entries = lines.length;
    const { document } = engine.ask({ question: 'job-verify', log: lines.map((line) => `${line}\n`).join('') });
    expect(document.verdict).toBe('nothing_found');
    address = page.url();
    await kill(context, page);
  }
  rmSync(folder, { recursive: true, force: true, maxRetries: 5 });
});

/** Ends the browser as a pulled battery does: no page is asked. */
async function kill(context: BrowserContext, page: Page): Promise<void> {
  const closed = new Promise<void>((resolve) => context.on('close', () => resolve()));
  const session = await context.newCDPSession(page);
  session.send('Browser.crash').catch(() => undefined);
  await closed;
}

function logOf(page: Page): Promise<string[]> {
  return page.evaluate(() => new Promise<string[]>((resolve, reject) => {
    const request = indexedDB.open('bellhole');
    request.onerror = () => reject(request.error);
    request.onsuccess = () => {
      const all = request.result.transaction('events').objectStore('events').getAll();
      all.onsuccess = () => { request.result.close(); resolve((all.result as { line: string }[]).map((row) => row.line)); };
    };
  }));
}

test('by keyboard alone, and as a screen reader hears it', async () => {
  const { context, page } = await open();
  await page.goto(host.url);
  const press = async (name: RegExp) => {
    for (let i = 0; i < 20; i += 1) {
      await page.keyboard.press('Tab');
      const text = await page.evaluate(() => document.activeElement?.textContent ?? '');
      if (name.test(text)) return page.keyboard.press('Enter');
    }
    throw new Error(`no ${name} by keyboard`);
  };
  await press(/^Practise/);
  await page.getByRole('heading', { name: 'Where is this phone?' }).waitFor();
  await press(/^Clear of the gas/);
  await page.getByRole('button', { name: 'Read the pipe' }).waitFor();
  await press(/^Read the pipe/);
  await page.getByRole('heading', { name: 'Pipe found' }).waitFor();
  expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Pipe found');
  await press(/^This is the pipe/);
  await page.getByRole('heading', { name: 'Stop and verdict' }).waitFor();
  await picture(page, 'keyboard');
  await page.getByRole('region', { name: /^Stop S-4-11: 0\.\d+ in/ }).waitFor();
  const heard = await page.locator('body').ariaSnapshot();
  expect(heard).toContain('heading "Stop and verdict" [level=1]');
  expect(heard).toContain('button "Close it"');
  await context.close();
});
