// The page's half: cancelling, and a worker that dies.
import { readFileSync } from 'node:fs';

import { expect, test } from 'vitest';

import { BadInput, Cancelled, EngineClient, Stopped, type WorkerLike } from '../../worker/client';
import { Host } from '../../worker/host';
import type { Answer, Call } from '../../worker/protocol';
import { engineFile } from '../places';

const wasm = WebAssembly.compile(readFileSync(engineFile));

/** A worker in this thread. `deaf` answers nothing, as one that reckons for ever. */
class Here implements WorkerLike {
  static begun: Here[] = [];
  ended = false;
  #host = new Host();
  #turn: Promise<void> = Promise.resolve();
  #hear: (event: { data: Answer }) => void = () => undefined;
  fail: (event: { message?: string }) => void = () => undefined;

  constructor(private readonly deaf = false) {
    Here.begun.push(this);
  }
  postMessage(message: unknown): void {
    if (this.deaf) return;
    this.#turn = this.#turn.then(async () => this.#hear({ data: await this.#host.answer(message as Call) }));
  }
  terminate(): void {
    this.ended = true;
  }
  addEventListener(type: 'message' | 'error', hear: never): void {
    if (type === 'message') this.#hear = hear;
    else this.fail = hear;
  }
}

const question = { question: 'pace', size: 'IPS 4', dr: 11 };

test('asks, and says bad input by field', async () => {
  const client = new EngineClient(() => wasm, () => new Here());
  expect((await client.ask<{ question: string }>(question)).document.question).toBe('pace');
  const bad = await client.ask({ ...question, pressure: '60' }).catch((error: unknown) => error);
  expect(bad).toBeInstanceOf(BadInput);
  expect((bad as BadInput).trouble.where).toContain('pressure');
});

test('cancel ends the worker; the next call has a new one with the same documents', async () => {
  let deaf = false;
  const client = new EngineClient(() => wasm, () => new Here(deaf));
  const hash = await client.load('profile', readFileSync('../profiles/demo-company.json', 'utf8'), 'p');
  deaf = true;
  client.cancel();
  const waiting = client.ask(question).catch((error: unknown) => error);
  await wasm;
  await Promise.resolve();
  deaf = false;
  client.cancel();
  expect(await waiting).toBeInstanceOf(Cancelled);
  expect(Here.begun.at(-1)!.ended).toBe(true);
  const again = await client.ask<{ profile?: unknown; findings: unknown[] }>({ ...question, procedure: hash });
  expect(again.document.findings).toBeDefined();
});

test('a worker that dies is said, and another begins', async () => {
  const client = new EngineClient(() => wasm, () => new Here());
  await client.ask(question);
  const waiting = client.ask(question).catch((error: unknown) => error);
  await wasm;
  await Promise.resolve();
  Here.begun.at(-1)!.fail({ message: 'gone' });
  expect(await waiting).toBeInstanceOf(Stopped);
  expect((await client.ask(question)).outcome).toBeLessThan(2);
});
