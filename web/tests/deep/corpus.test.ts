// The contract corpus once in Chromium: the built worker, the built engines.
import { readdirSync } from 'node:fs';
import { join } from 'node:path';

import { expect, test } from 'vitest';

import { differences } from '../../../tests/contract/alike.mjs';
import { corpus, withHashes } from '../corpus';
import { page as built } from '../places';
import { quickQuestions } from '../../worker/quick';
import { browser, serve, stop } from '../browser/phone';

function asset(start: string, end: string): string {
  const name = readdirSync(join(built, 'assets')).find((file) => file.startsWith(start) && file.endsWith(end));
  if (name === undefined) throw new Error(`no ${start}*${end} was built`);
  return `/assets/${name}`;
}

interface Got {
  outcome: number;
  document: unknown;
}

test('the contract corpus in Chromium', async () => {
  const host = await serve();
  const chromium = await browser();
  const page = await chromium.newPage();
  await page.goto(host.url);
  await page.evaluate(async ([worker, engine, quick]) => {
    const compiled = async (url: string) => WebAssembly.compile(await (await fetch(url)).arrayBuffer());
    const modules = { engine: await compiled(engine!), quick: await compiled(quick!) };
    let next = 0;
    const call = (message: object) => new Promise((resolve) => {
      const id = (next += 1);
      const hear = ({ data }: MessageEvent<{ id: number }>) => {
        if (data.id !== id) return;
        own.removeEventListener('message', hear);
        resolve(data);
      };
      own.addEventListener('message', hear);
      own.postMessage({ id, ...message });
    });
    let own: Worker;
    Object.assign(globalThis, {
      fresh: (which: 'engine' | 'quick') => { own?.terminate(); own = new Worker(worker!, { type: 'module' }); return call({ call: 'start', wasm: modules[which] }).then(() => undefined); },
      load: (kind: string, text: string, where: string) => call({ call: 'load', kind, bytes: new TextEncoder().encode(text), where }),
      ask: (request: unknown) => call({ call: 'ask', request }),
    });
  }, [asset('worker', '.js'), asset('engine', '.wasm'), asset('quick', '.wasm')]);
  for (const { name, loads, request, outcome, reply } of corpus()) {
    const which = quickQuestions.includes((request as { question?: string }).question ?? '') ? 'quick' : 'engine';
    const got = await page.evaluate(async ({ loads: documents, request: asked, put, which }) => {
      const door = globalThis as unknown as { fresh(which: string): Promise<void>; load(...texts: string[]): Promise<{ hash: string }>; ask(request: unknown): Promise<Got> };
      await door.fresh(which);
      let text = asked;
      for (const one of documents) text = text.replaceAll(JSON.stringify(one.name), JSON.stringify((await door.load(one.kind, one.text, one.file)).hash));
      return door.ask(put ? JSON.parse(text) : JSON.parse(asked));
    }, { loads, request: JSON.stringify(withHashes(request, {})), put: typeof request !== 'string', which });
    expect(got.outcome, name).toBe(outcome);
    expect(differences(reply, got.document), name).toEqual([]);
  }
  await chromium.close();
  await stop(host);
});
