// The built page in real Chromium, served from this machine, with every request to another place counted.
import { createServer, type Server } from 'node:http';
import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { extname, join } from 'node:path';

import { afterAll, beforeAll } from 'vitest';
import { chromium, type Browser, type BrowserContext, type Page } from 'playwright-core';

import { page as built, pictures } from '../places';

const types: Record<string, string> = {
  '.html': 'text/html', '.js': 'text/javascript', '.css': 'text/css', '.svg': 'image/svg+xml', '.png': 'image/png',
  '.wasm': 'application/wasm', '.webmanifest': 'application/manifest+json',
};

export interface Host {
  server: Server;
  url: string;
  /** Files that stand in the place of built ones, by their path: another version of the page. */
  instead: Map<string, string>;
}

export async function serve(port = 0): Promise<Host> {
  const instead = new Map<string, string>();
  const server = createServer((request, response) => {
    const path = new URL(request.url ?? '/', 'http://here').pathname;
    const file = join(built, path === '/' ? 'index.html' : path);
    if (!existsSync(file)) return void response.writeHead(404).end();
    response.writeHead(200, { 'content-type': types[extname(file)] ?? 'text/plain', 'cache-control': 'no-cache' });
    response.end(instead.get(path) ?? readFileSync(file));
  });
  await new Promise<void>((resolve) => server.listen(port, '127.0.0.1', resolve));
  return { server, url: `http://127.0.0.1:${(server.address() as AddressInfo).port}/`, instead };
}

export function stop(host: Host): Promise<void> {
  host.server.closeAllConnections();
  return new Promise((resolve) => host.server.close(() => resolve()));
}

const flags = ['--no-sandbox', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'];

export function browser(more: string[] = []): Promise<Browser> {
  return chromium.launch({ executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium', args: [...flags, ...more] });
}

/** The page served, and a browser, while the tests of one file run. */
export function hosted(): { host: Host; chromium: Browser } {
  const at = {} as { host: Host; chromium: Browser };
  beforeAll(async () => {
    at.host = await serve();
    at.chromium = await browser();
  });
  afterAll(async () => {
    await at.chromium.close();
    await stop(at.host);
  });
  return at;
}

/** A context whose storage outlives the browser: for killing it. */
export function phoneIn(folder: string): Promise<BrowserContext> {
  return chromium.launchPersistentContext(folder, {
    executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium', args: flags, viewport: sizes.phone,
  });
}

export const sizes = { phone: { width: 390, height: 844 }, tablet: { width: 820, height: 1180 }, desk: { width: 1280, height: 800 } };

export async function ready(page: Page): Promise<void> {
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
}

export async function picture(page: Page, name: string): Promise<void> {
  mkdirSync(pictures, { recursive: true });
  await page.screenshot({ path: join(pictures, `${name}.png`) });
}

export const tap = (page: Page, name: string | RegExp) => page.getByRole('button', { name }).first().click();

/** Practice up to the verdict: the map's pipe, then the wall that stands on the pipe. */
export async function practise(page: Page, url: string): Promise<void> {
  await page.goto(url);
  await tap(page, /^Practise/);
  await tap(page, /^Clear of the gas/);
  await page.getByRole('button', { name: 'Read the pipe' }).waitFor();
}

export async function foundPipe(page: Page): Promise<void> {
  await tap(page, 'Read the pipe');
  await tap(page, /^DR or SDR/);
  await tap(page, '11.5');
  await tap(page, 'This is the pipe');
  await page.getByRole('button', { name: 'Close it' }).waitFor();
}
