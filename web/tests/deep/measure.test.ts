// What a slow phone would need: a quarter of this machine. The figures are printed; a test fails only far beyond them.
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { brotliCompressSync, gzipSync } from 'node:zlib';

import { expect, test } from 'vitest';
import type { Page } from 'playwright-core';

import { Engine } from '../../../apps/browser/engine.mjs';
import { open } from '../browser/look';
import { hosted, practise, ready, serve, stop, tap } from '../browser/phone';
import { page as built, quickFile, top } from '../places';

const slower = 4;
const at = hosted();

const says = (what: string) => process.stdout.write(`${what}\n`);

test('the first load: what a phone fetches before it can be used', () => {
  const files = (readdirSync(built, { recursive: true, encoding: 'utf8' }) as string[]).filter((name) => statSync(join(built, name)).isFile());
  const first = files.filter((name) => !/engine-.*wasm$|512\.png$|^sw\.js$|^workbox/.test(name));
  const size = (names: string[], pack: (bytes: Buffer) => Buffer) => names.reduce((sum, name) => sum + pack(readFileSync(join(built, name))).length, 0) / 1000;
  for (const name of files) says(`  ${name}: ${(statSync(join(built, name)).size / 1000).toFixed(0)} KB`);
  const [brotli, gzip, all] = [size(first, brotliCompressSync), size(first, gzipSync), size(files, brotliCompressSync)];
  says(`first load ${brotli.toFixed(0)} KB (brotli), ${gzip.toFixed(0)} KB (gzip); with the engine of every question ${all.toFixed(0)} KB`);
  expect(brotli).toBeLessThanOrEqual(600);
  expect(gzip).toBeLessThanOrEqual(600);
});

const median = (all: number[]) => [...all].sort((a, b) => a - b)[Math.floor(all.length / 2)]!;

/** Milliseconds of this process's processor, which others on this machine do not change much. */
function processorOf(work: () => void): number {
  const begun = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(begun);
  return (user + system) / 1000;
}

interface Traced {
  name: string;
  ph: string;
  ts: number;
  tid: number;
  pid: number;
  tdur?: number;
  args?: { name?: string };
}

/** Taps a button, waits until something stands on the screen and is painted. Answers the processor's milliseconds of the
 * page's main thread between, and how long it took by the clock. */
async function tapped(page: Page, button: string, selector: string): Promise<{ main: number; clock: number }> {
  await at.chromium.startTracing(page, { categories: ['toplevel', 'blink.user_timing', 'devtools.timeline', 'disabled-by-default-devtools.timeline'] });
  const clock = await page.evaluate(([name, wanted]) => new Promise<number>((resolve) => {
    const target = [...document.querySelectorAll('button')].find((one) => one.textContent === name)!;
    const begun = performance.now();
    performance.mark('tapped');
    const painted = () => setTimeout(() => { performance.mark('painted'); resolve(performance.now() - begun); });
    const observer = new MutationObserver(() => { if (document.querySelector(wanted!)) { observer.disconnect(); requestAnimationFrame(painted); } });
    observer.observe(document.body, { childList: true, subtree: true, characterData: true });
    target.click();
  }), [button, selector]);
  const { traceEvents } = JSON.parse((await at.chromium.stopTracing()).toString()) as { traceEvents: Traced[] };
  const mark = (name: string) => traceEvents.find((one) => one.name === name && /^[RIn]$/.test(one.ph))!;
  const [from, to] = [mark('tapped'), mark('painted')];
  const tasks = traceEvents.filter(({ name, pid, tid, ts, tdur }) =>
    name === 'RunTask' && tdur !== undefined && pid === from.pid && tid === from.tid && ts + tdur >= from.ts && ts < to.ts);
  return { main: tasks.reduce((sum, { tdur }) => sum + tdur!, 0) / 1000, clock };
}

test('the pipe found: engine time in node four times over, and main-thread time four times over', async () => {
  const engine = await Engine.start(readFileSync(quickFile));
  const hashOf = (kind: string, file: string) => engine.load(kind, readFileSync(join(top, file)), file);
  const request = {
    question: 'squeeze', size: 'IPS 4', dr: 11.5, material: 'PE2708', year: '1994', pressure: '25psig', pipe_temperature: '60degF',
    inserted: 'no', cased: 'no', layered: 'no', lined: 'no', procedure: hashOf('profile', 'profiles/demo-company.json'),
    tool: `${hashOf('tools', 'profiles/demo-tools.json')}#T-4`, exposed: '0in:84in', features: 'joint@8in',
  };
  const inEngine = median(Array.from({ length: 15 }, () => processorOf(() => engine.ask(request))));
  const runs: { main: number; clock: number }[] = [];
  for (let i = 0; i < 5; i += 1) {
    const { context, page } = await open(at.chromium);
    await practise(page, at.host.url);
    await tap(page, 'Read the pipe');
    await tap(page, /^DR or SDR/);
    await tap(page, '11.5');
    runs.push(await tapped(page, 'This is the pipe', '.figure .number'));
    await context.close();
  }
  const main = median(runs.map((run) => run.main));
  const whole = slower * (inEngine + main);
  says(`pipe found: ${slower} x (engine ${inEngine.toFixed(1)} ms + main thread ${main.toFixed(1)} ms) = ${whole.toFixed(0)} ms of processor, to the stop painted`);
  says(`  by the clock at full speed: ${median(runs.map((run) => run.clock)).toFixed(0)} ms; main thread of each run: ${runs.map((run) => run.main.toFixed(1)).join(', ')} ms`);
  expect(whole).toBeLessThan(1000);
});

test('a cold start without signal, to a job that can be used', async () => {
  const own = await serve();
  const { context, page } = await open(at.chromium);
  await page.goto(own.url);
  await ready(page);
  await stop(own);
  await page.close();
  const cold = await context.newPage();
  const session = await context.newCDPSession(cold);
  await session.send('Emulation.setCPUThrottlingRate', { rate: slower });
  const begun = Date.now();
  await cold.goto(own.url, { waitUntil: 'commit' });
  await tap(cold, /^Gas is blowing/);
  await tap(cold, /^Clear of the gas/);
  await cold.getByRole('button', { name: 'Read the pipe' }).waitFor();
  const took = Date.now() - begun;
  says(`cold, without signal, to a job that can be used: ${took} ms at a quarter`);
  expect(took).toBeLessThan(9000);
  await context.close();
});
