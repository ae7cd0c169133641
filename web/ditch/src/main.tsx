import { options, render } from 'preact';
import { registerSW } from 'virtual:pwa-register';

import engineUrl from '@engine.wasm?url';
import quickUrl from '@quick.wasm?url';
import { EngineClient } from '../../worker/client';
import { Engines } from '../../worker/quick';
import { Store } from '../../shared/store';
import type { Units } from '../../shared/units';
import { App } from './app';
import { Companies } from './companies';
import './look.css';

/** Fetched and compiled once, when it is first asked for; after a failure, again. */
function compiled(url: string): () => Promise<WebAssembly.Module> {
  let module: Promise<WebAssembly.Module> | undefined;
  return () => {
    module ??= fetch(url).then(async (response) => WebAssembly.compile(await response.arrayBuffer()));
    module.catch(() => { module = undefined; });
    return module;
  };
}

// One drawing for all that one tap changes: an event that was kept and the screen that follows it.
options.debounceRendering = (draw) => void setTimeout(draw);

async function begin(): Promise<void> {
  const worker = () => new Worker(new URL('../../worker/worker.ts', import.meta.url), { type: 'module' });
  const quick = compiled(quickUrl);
  void quick();
  const engine = new Engines(new EngineClient(quick, worker), new EngineClient(compiled(engineUrl), worker));
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
