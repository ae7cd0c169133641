// The worker: one engine, one call after the other.
import { Host } from './host';
import type { Call } from './protocol';

const host = new Host();
let turn: Promise<void> = Promise.resolve();

self.addEventListener('message', (event: MessageEvent<Call>) => {
  turn = turn.then(async () => self.postMessage(await host.answer(event.data)));
});
