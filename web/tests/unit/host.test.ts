// The worker's engine against the contract corpus, and what it does when the engine stops.
import { readFileSync } from 'node:fs';

import { describe, expect, test } from 'vitest';

import { differences } from '../../../tests/contract/alike.mjs';
import { Host } from '../../worker/host';
import type { Answer, DocumentKind } from '../../worker/protocol';
import { corpus, withHashes } from '../corpus';
import { engineFile, quickFile } from '../places';
import { quickQuestions } from '../../worker/quick';

const wasm = await WebAssembly.compile(readFileSync(engineFile));
const bytes = (text: string) => new TextEncoder().encode(text);

async function started(module = wasm): Promise<Host> {
  const host = new Host();
  await host.answer({ id: 0, call: 'start', wasm: module });
  return host;
}

function hashOf(answer: Answer): string {
  if (answer.is !== 'done' || answer.hash === undefined) throw new Error(JSON.stringify(answer));
  return answer.hash;
}

const quick = await WebAssembly.compile(readFileSync(quickFile));
const questionOf = (request: unknown): string => (request as { question?: string }).question ?? '';
const ofCrews = corpus().filter(({ request }) => quickQuestions.includes(questionOf(request)));
const both = [...corpus().map((one) => ({ ...one, module: wasm })), ...ofCrews.map((one) => ({ ...one, name: `quick, ${one.name}`, module: quick }))];

describe('the contract corpus through the worker', () => {
  test.each(both)('$name', async ({ loads, request, outcome, reply, module }) => {
    const host = await started(module);
    const hashes: Record<string, string> = {};
    for (const { name, kind, file, text } of loads)
      hashes[name] = hashOf(await host.answer({ id: 1, call: 'load', kind: kind as DocumentKind, bytes: bytes(text), where: file }));
    const asked = typeof request === 'string' ? request : withHashes(request, hashes);
    const answer = await host.answer({ id: 2, call: 'ask', request: asked });
    if (answer.is !== 'reply') throw new Error(JSON.stringify(answer));
    expect(answer.outcome).toBe(outcome);
    expect(differences(reply, answer.document)).toEqual([]);
  });
});

test('the quick engine answers what it is asked for, and names it all when it is asked for more', async () => {
  const answer = await (await started(quick)).answer({ id: 1, call: 'ask', request: { question: 'plan' } });
  if (answer.is !== 'reply') throw new Error(JSON.stringify(answer));
  const { fix } = (answer.document as { trouble: { fix: string } }).trouble;
  expect(fix).toBe(`ask one of: ${quickQuestions.join(', ')}`);
});

test('a document that is none is trouble, and the engine goes on', async () => {
  const host = await started();
  expect((await host.answer({ id: 1, call: 'load', kind: 'network', bytes: bytes('{'), where: 'x' })).is).toBe('trouble');
  expect((await host.answer({ id: 2, call: 'ask', request: { question: 'pace', size: 'IPS 4' } })).is).toBe('reply');
});

test('want of memory is said, and a new engine knows the same documents', async () => {
  const host = await started();
  const profile = readFileSync('../profiles/demo-company.json', 'utf8');
  const hash = hashOf(await host.answer({ id: 1, call: 'load', kind: 'profile', bytes: bytes(profile), where: 'p' }));
  // More than a 32-bit engine can hold, without this test holding it: only the length is asked for.
  const endless = new Proxy(new Uint8Array(1), {
    get: (target, key) => (key === 'length' ? 0xf0000000 : Reflect.get(target, key)),
  });
  const stopped = await host.answer({ id: 2, call: 'load', kind: 'network', bytes: endless, where: 'n' });
  expect(stopped).toMatchObject({ is: 'stopped', restarted: true });
  const again = await host.answer({ id: 3, call: 'ask', request: { question: 'pace', size: 'IPS 4', procedure: hash } });
  expect(again).toMatchObject({ is: 'reply' });
});

test('an engine that was never started says so', async () => {
  expect(await new Host().answer({ id: 1, call: 'ask', request: {} })).toMatchObject({ is: 'stopped', restarted: false });
});
