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

/** An engine that traps when it is asked: what a page needs of a module, with `unreachable` in the place of an answer. */
function trapping(): Promise<WebAssembly.Module> {
  const text = (word: string) => [word.length, ...new TextEncoder().encode(word)];
  const section = (id: number, ...items: number[][]) => { const body = [items.length, ...items.flat()]; return [id, body.length, ...body]; };
  const [nothing, address, given, asked, loaded] = [0, 1, 2, 3, 4];
  const functions: [string, number, number[]][] = [
    ['_initialize', nothing!, []], ['alloc', given!, [0x41, 8]], ['free', address!, []], ['ask', asked!, [0x00]],
    ['load', loaded!, [0x41, 0]], ['result_data', 5, [0x41, 8]], ['result_size', 5, [0x41, 0]],
  ];
  const i32 = 0x7f;
  return WebAssembly.compile(new Uint8Array([
    0, 0x61, 0x73, 0x6d, 1, 0, 0, 0,
    ...section(1, [0x60, 0, 0], [0x60, 1, i32, 0], [0x60, 1, i32, 1, i32], [0x60, 2, i32, i32, 1, i32],
      [0x60, 6, i32, i32, i32, i32, i32, i32, 1, i32], [0x60, 0, 1, i32]),
    ...section(3, ...functions.map(([, type]) => [type])),
    ...section(5, [0, 1]),
    ...section(7, [...text('memory'), 2, 0], ...functions.map(([name], i) => [...text(name), 0, i])),
    ...section(10, ...functions.map(([, , body]) => [body.length + 2, 0, ...body, 0x0b])),
  ]));
}

test('a trap is said, a new engine stands in its place, and it is asked again', async () => {
  const host = await started(await trapping());
  await host.answer({ id: 1, call: 'load', kind: 'profile', bytes: bytes('{}'), where: 'p' });
  for (const id of [2, 3]) {
    const answer = await host.answer({ id, call: 'ask', request: {} });
    expect(answer).toMatchObject({ id, is: 'stopped', restarted: true });
    expect((answer as { says: string }).says).toContain('unreachable');
  }
});

test('an engine that was never started says so', async () => {
  expect(await new Host().answer({ id: 1, call: 'ask', request: {} })).toMatchObject({ is: 'stopped', restarted: false });
});
