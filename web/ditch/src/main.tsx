import { render } from 'preact';
import { registerSW } from 'virtual:pwa-register';

import engineUrl from '@engine.wasm?url';
import { EngineClient } from '../../worker/client';
import { Store } from '../../shared/store';
import type { Units } from '../../shared/units';
import { App } from './app';
import { Companies } from './companies';
import './look.css';

async function begin(): Promise<void> {
  const wasm = fetch(engineUrl).then(async (response) => WebAssembly.compile(await response.arrayBuffer()));
  const engine = new EngineClient(wasm, () => new Worker(new URL('../../worker/worker.ts', import.meta.url), { type: 'module' }));
  const store = await Store.open();
  const companies = new Companies(store, engine);
  const settings = (await store.kept<{ units: Units; night: boolean }>('settings')) ?? { units: 'us', night: false };
  const root = document.getElementById('phone')!;
  const show = (newer: boolean) =>
    render(
      <App store={store} engine={engine} companies={companies} settings={settings} newer={newer} changeVersion={() => void change(true)} />,
      root);
  const change = registerSW({ onNeedRefresh: () => show(true) });
  show(false);
}

void begin();
