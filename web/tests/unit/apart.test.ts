// Two phones on one job, apart and together, as the engine reads their logs.
import 'fake-indexeddb/auto';
import { readFileSync } from 'node:fs';

import { expect, test } from 'vitest';

import { Store } from '../../shared/store';
import { read } from '../../ditch/src/job';
import { Engine } from '../../../apps/browser/engine.mjs';
import { quickFile } from '../places';

const engine = await Engine.start(readFileSync(quickFile));
const tapped = 'tapped' as const;

async function apart(): Promise<{ one: Store; two: Store; job: string }> {
  const [one, two] = [await Store.open(`one ${Math.random()}`), await Store.open(`two ${Math.random()}`)];
  const job = await one.begin({ kind: 'opened', fact: { title: 'Quay Street', work: 'emergency' }, source: tapped });
  await two.take(job, (await one.lines(job)).trim().split('\n'));
  await one.append(job, { kind: 'act', fact: { did: 'shut', about: 'A' }, source: tapped });
  await two.append(job, { kind: 'act', fact: { did: 'shut', about: 'B' }, source: tapped });
  return { one, two, job };
}

const state = async (store: Store, job: string) => engine.ask({ question: 'job-state', log: await store.lines(job) }).document;

test('what each did alone is in both after they met, in chains that stand', async () => {
  const { one, two, job } = await apart();
  expect(await one.take(job, (await two.lines(job)).trim().split('\n'))).toBe(1);
  expect(await two.take(job, (await one.lines(job)).trim().split('\n'))).toBe(1);
  expect(await two.take(job, (await one.lines(job)).trim().split('\n'))).toBe(0);
  const [a, b] = [await state(one, job), await state(two, job)];
  expect(a.shutoffs).toEqual(b.shutoffs);
  expect(a.conflicts).toEqual([]);
  expect(a.verdict).toBe('nothing_found');
  const after = await one.append(job, { kind: 'note', fact: { says: 'met' }, source: tapped });
  expect(after.seen).toHaveLength(1);
  for (const store of [one, two]) expect(engine.ask({ question: 'job-verify', log: await store.lines(job) }).document.verdict).toBe('nothing_found');
  expect([...read(await one.events(job)).acts.keys()].sort()).toEqual(['A', 'B']);
});

test('what was heard over the radio agrees with the log that comes later', async () => {
  const { one, two, job } = await apart();
  const said = engine.ask({ question: 'job-radio', log: await two.lines(job), about: 'B' }).document;
  expect(said.code).toMatch(/^[0-9A-Y]{12}$/);
  const heard = engine.ask({ question: 'job-radio', log: await one.lines(job), code: said.code.toLowerCase(), heard_at: new Date().toISOString() }).document;
  expect(heard.says).toBe(said.says);
  for (const draft of heard.drafts) await one.append(job, draft);
  expect((await state(one, job)).shutoffs.find((shutoff: { id: string }) => shutoff.id === 'B').shut).toBe(true);
  await one.take(job, (await two.lines(job)).trim().split('\n'));
  expect((await state(one, job)).conflicts).toEqual([]);
});

test('a code of another job enters nothing', async () => {
  const { one, job } = await apart();
  const other = await apart();
  const said = engine.ask({ question: 'job-radio', log: await other.one.lines(other.job), about: 'A' }).document;
  const heard = engine.ask({ question: 'job-radio', log: await one.lines(job), code: said.code, heard_at: new Date().toISOString() }).document;
  if (heard.verdict !== 'halt') return expect(heard.verdict).toBe('info'); // one job in 961 has the same mark
  expect(heard.drafts).toEqual([]);
});

test('a picture is kept under its hash', async () => {
  const { one } = await apart();
  const hash = await one.keepBlob(new Blob(['abc'], { type: 'image/png' }));
  expect(hash).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'); // FIPS 180-4, the example "abc"
  expect(await (await one.blob(hash))!.text()).toBe('abc');
});

test('a store of version 1 grows, and its chain goes on', async () => {
  const name = `old ${Math.random()}`;
  const young = await Store.open(`young ${Math.random()}`);
  const job = await young.begin({ kind: 'opened', fact: { title: 'x', work: 'drill' }, source: tapped });
  const line = (await young.lines(job)).trim();
  await new Promise<void>((resolve) => {
    const request = indexedDB.open(name, 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore('events', { keyPath: ['job', 'sequence'] }).add({ job, sequence: 1, line });
      request.result.createObjectStore('kept').add(young.device, 'device');
    };
    request.onsuccess = () => { request.result.close(); resolve(); };
  });
  const grown = await Store.open(name);
  expect(await grown.lines(job)).toBe(`${line}\n`);
  const next = await grown.append(job, { kind: 'note', fact: { says: 'after' }, source: tapped });
  expect(next).toMatchObject({ sequence: 2, previous: (JSON.parse(line) as { hash: string }).hash });
});
