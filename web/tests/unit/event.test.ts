// Events as the engine reads them: the phone's own log is verified by the question job-verify.
import 'fake-indexeddb/auto';
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';

import { expect, test } from 'vitest';

import { canonical } from '../../shared/canonical';
import { rfc3339, uuid7 } from '../../shared/event';
import { Store } from '../../shared/store';
import { nextStep, phonePrompt, read } from '../../ditch/src/job';
import { Engine } from '../../../apps/browser/engine.mjs';
import { engineFile } from '../places';

const engine = await Engine.start(readFileSync(engineFile));

async function job(store: Store): Promise<string> {
  const id = await store.begin({ kind: 'opened', fact: { title: 'Quay Street', work: 'emergency' }, source: 'tapped' });
  await store.append(id, { kind: 'prompt', fact: { says: phonePrompt, answer: 'yes' }, source: 'tapped' });
  await store.append(id, { kind: 'pipe_found', fact: { about: 'A', pipe: { size: 'IPS 4', dr: 11.5, inserted: 'no' }, says: 'IPS 4 DR 11.5', map_said: 'DR 11' }, source: 'typed' });
  await store.append(id, { kind: 'bars', fact: { about: 'A', gap_m: 0.1143 }, source: 'tapped' });
  await store.append(id, { kind: 'act', fact: { did: 'shut', about: 'A' }, source: 'tapped' });
  await store.append(id, { kind: 'reading', fact: { point: 'A-part', typed: '14inWC', pressure: '14inWC' }, source: 'typed' });
  await store.append(id, { kind: 'handed_over', fact: { from: 'P-7', to: 'P-9' }, source: 'typed' });
  return id;
}

test('the engine finds nothing against the chain of a phone, and reads its facts', async () => {
  const store = await Store.open('verify');
  const log = await store.lines(await job(store));
  const { outcome, document } = engine.ask({ question: 'job-verify', log });
  expect(document).toMatchObject({ verdict: 'nothing_found' });
  expect(outcome).toBe(0);
  const card = engine.ask({ question: 'job-handover', log }).document;
  expect(JSON.stringify(card.lines)).toContain('IPS 4 DR 11.5');
  store.close();
});

test('one changed byte is found', async () => {
  const store = await Store.open('edited');
  const log = await store.lines(await job(store));
  expect(engine.ask({ question: 'job-verify', log: log.replace('"gap_m":0.1143', '"gap_m":0.1144') }).document.verdict).toBe('halt');
  store.close();
});

test('events written at once stand in one chain, and a store opened again goes on with it', async () => {
  const first = await Store.open('many');
  const id = await first.begin({ kind: 'opened', fact: { title: 'x', work: 'drill' }, source: 'tapped' });
  await Promise.all(Array.from({ length: 20 }, (_, i) => first.append(id, { kind: 'note', fact: { says: `n${i}` }, source: 'tapped' })));
  const { device } = first;
  first.close();
  const second = await Store.open('many');
  expect(second.device).toBe(device);
  await second.append(id, { kind: 'note', fact: { says: 'after' }, source: 'tapped' });
  const events = await second.events(id);
  expect(events.map((event) => event.sequence)).toEqual(Array.from({ length: 22 }, (_, i) => i + 1));
  for (const [i, event] of events.entries()) expect(event.previous).toBe(events[i - 1]?.hash ?? null);
  const lines = (await second.lines(id)).trim().split('\n');
  for (const line of lines) {
    const body = line.replace(/,"hash":"[0-9a-f]{64}"\}$/, '}');
    expect(createHash('sha256').update(body).digest('hex')).toBe((JSON.parse(line) as { hash: string }).hash);
  }
  second.close();
});

test('the screens read the log, and the log alone says what comes next', async () => {
  const store = await Store.open('view');
  const id = await job(store);
  const events = await store.events(id);
  const steps = events.map((_, count) => nextStep(read(events.slice(0, count + 1))));
  expect(steps).toEqual(['zone', 'pipe', 'verdict', 'close', 'watch', 'cut', 'cut']);
  expect(read(events)).toMatchObject({ squeezed: true, mapSaid: 'DR 11', handedTo: 'P-9' });
  store.close();
});

test('times and ids have their published shape', () => {
  expect(rfc3339(new Date('2026-11-25T11:41:00.250Z'), -60)).toBe('2026-11-25T10:41:00.250-01:00');
  expect(rfc3339(new Date('2026-11-25T00:10:00Z'), 330)).toBe('2026-11-25T05:40:00.000+05:30');
  // RFC 9562, appendix A.6: the UUIDv7 of 2022-02-22 14:22:22.00 -05:00
  const random = Uint8Array.from([0x0c, 0xc3, 0x18, 0xc4, 0xdc, 0x0c, 0x0c, 0x07, 0x39, 0x8f]);
  expect(uuid7(new Date('2022-02-22T19:22:22Z'), random)).toBe('017f22e2-79b0-7cc3-98c4-dc0c0c07398f');
});

test('canonical documents: the example of RFC 8785, 3.2.2 and 3.2.3', () => {
  const document = { numbers: [333333333.33333329, 1e30, 4.5, 2e-3, 1e-27], string: '€$\u000F\nA\'B"\\\\"/', literals: [null, true, false] };
  expect(canonical(document)).toBe(
    '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}');
});
