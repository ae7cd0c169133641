// The worker's half that is no worker: holds one engine, and starts another when it stops. The tests run it in node.
import { Engine, EngineStopped, Trouble } from '../../apps/browser/engine.mjs';
import type { Answer, Call, DocumentKind } from './protocol';

interface Loaded {
  kind: DocumentKind;
  bytes: Uint8Array;
  where: string;
}

export class Host {
  #module: WebAssembly.Module | undefined;
  #engine: Engine | undefined;
  /** Every document by its hash, so that a new engine knows what the old one knew. */
  #loaded = new Map<string, Loaded>();

  async answer(call: Call): Promise<Answer> {
    try {
      return await this.#do(call);
    } catch (error) {
      if (error instanceof Trouble) return { id: call.id, is: 'trouble', trouble: error.trouble };
      if (!(error instanceof EngineStopped)) throw error;
      return { id: call.id, is: 'stopped', says: error.message, restarted: await this.#restart() };
    }
  }

  async #do(call: Call): Promise<Answer> {
    if (call.call === 'start') {
      this.#module = call.wasm;
      this.#engine = await Engine.start(call.wasm);
      return { id: call.id, is: 'done' };
    }
    const engine = this.#engine;
    if (engine === undefined) throw new EngineStopped('no engine was started');
    switch (call.call) {
      case 'load': {
        const hash: string = engine.load(call.kind, call.bytes, call.where);
        this.#loaded.set(hash, { kind: call.kind, bytes: call.bytes, where: call.where });
        return { id: call.id, is: 'done', hash };
      }
      case 'ask': {
        const { outcome, document } = engine.ask(call.request);
        return { id: call.id, is: 'reply', outcome, document };
      }
      case 'drop':
        engine.drop(call.hash);
        this.#loaded.delete(call.hash);
        return { id: call.id, is: 'done' };
    }
  }

  async #restart(): Promise<boolean> {
    this.#engine = undefined;
    if (this.#module === undefined) return false;
    try {
      const engine = await Engine.start(this.#module);
      for (const { kind, bytes, where } of this.#loaded.values()) engine.load(kind, bytes, where);
      this.#engine = engine;
      return true;
    } catch (error) {
      if (error instanceof EngineStopped || error instanceof RangeError) return false;
      throw error;
    }
  }
}
