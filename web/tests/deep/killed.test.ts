// Killed after each tap that counts, as a pulled battery does it.
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

import { afterAll, beforeAll, expect, test } from 'vitest';
import type { BrowserContext, Page } from 'playwright-core';

import { Engine } from '../../../apps/browser/engine.mjs';
import { engineFile } from '../places';
import { foundPipe, phoneIn, serve, stop, tap, type Host } from '../browser/phone';

let host: Host;

beforeAll(async () => { host = await serve(); });
afterAll(() => stop(host));

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
