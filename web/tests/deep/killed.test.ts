// Killed after each tap that counts, as a pulled battery does it.
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

import { afterAll, beforeAll, expect, test } from 'vitest';
import type { BrowserContext, Page } from 'playwright-core';

import { Engine } from '../../../apps/browser/engine.mjs';
import { engineFile } from '../places';
import { foundPipe, phoneIn, serve, stop, tap, type Host } from '../browser/phone';
import { goTo, planFile, type } from '../browser/plan';

let host: Host;

beforeAll(async () => { host = await serve(); });
afterAll(() => stop(host));

type Tap = (page: Page) => Promise<void>;

const squeezed: Tap[] = [
  async (page) => { await tap(page, /^Practise/); await page.getByRole('heading', { name: 'Where is this phone?' }).waitFor(); },
  async (page) => { await tap(page, /^Clear of the gas/); await page.getByRole('button', { name: 'Read the pipe' }).waitFor(); },
  foundPipe,
  async (page) => { await tap(page, 'Close it'); await tap(page, /begin to close/); await page.getByText('ON PACE').first().waitFor(); },
  async (page) => { await tap(page, 'A gap was measured'); await tap(page, /^Record/); await page.getByText(/Last measured/).waitFor(); },
  async (page) => { await tap(page, 'Both stops bear'); await page.getByRole('button', { name: 'Is it off?' }).waitFor(); },
];

const planned: Tap[] = [
  async (page) => { await page.locator('input[type=file]').setInputFiles(planFile); await page.getByRole('heading', { name: 'Where is this phone?' }).waitFor(); },
  async (page) => { await tap(page, /^Clear of the gas/); await page.getByRole('button', { name: 'Take the plan on' }).waitFor(); },
  async (page) => { await goTo(page, 'The plan'); await type(page, /^Your number/, 'P-7'); await tap(page, 'I take this plan on'); await page.getByRole('button', { name: 'Next step of the plan' }).waitFor(); },
  async (page) => { await goTo(page, 'Its steps'); await tap(page, /^Done/); await page.getByRole('heading', { name: 'Step 2 of 31' }).waitFor(); },
  async (page) => {
    await goTo(page, 'Before the cut');
    await type(page, /^Second person/, 'P-9');
    await type(page, /^Reason/, 'main blowing');
    await tap(page, /^Pass/);
    await page.getByText('NOTHING FOUND AGAINST IT').waitFor();
  },
  async (page) => { await tap(page, 'The main is cut: record it'); await page.getByRole('button', { name: 'Next step of the plan' }).waitFor(); },
  async (page) => { await goTo(page, 'Customers off'); await page.getByRole('button', { name: 'Shut' }).first().click(); await page.getByText('Shut: 1 of 5').waitFor(); },
];

test.each([['a squeeze', squeezed], ['a job on a plan', planned]])('%s, killed after each tap: every entry that was shown is there, in one chain', async (_, taps) => {
  const folder = mkdtempSync(join(tmpdir(), 'ditch-'));
  const engine = await Engine.start(readFileSync(engineFile));
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
