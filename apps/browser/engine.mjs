// The JavaScript half of the phone's door: the same three calls in a browser's worker and in node.
//
//   const engine = await Engine.start(bytesOfEngineWasm);
//   const hash = engine.load('network', bytes, 'town.json');   // throws Trouble
//   const { outcome, document } = engine.ask({ question: 'squeeze', … });
//   engine.drop(hash);
//
// A call takes as long as it takes and cannot be broken off: run it in a worker, and end the worker to cancel.

/** Bad input, as the engine says it: `trouble` has code, where, value and fix. */
export class Trouble extends Error {
  constructor(trouble) {
    super(`${trouble.where}: ${trouble.value} (${trouble.code}). ${trouble.fix}`);
    this.trouble = trouble;
  }
}

/** The engine stopped for good, by a fault of its own or for want of memory: start a new one and load again. */
export class EngineStopped extends Error {}

// The module is linked against WASI, of which it uses these six calls: no file, no clock, no environment. One
// that asked for more would not start.
function systemCalls(memory) {
  const badFile = 8;
  const view = () => new DataView(memory().buffer);
  return {
    environ_sizes_get(count, size) {
      view().setUint32(count, 0, true);
      view().setUint32(size, 0, true);
      return 0;
    },
    environ_get: () => 0,
    fd_close: () => badFile,
    fd_seek: () => badFile,
    // What the runtime says before it stops: the only thing ever written.
    fd_write(file, list, count, written) {
      let text = '';
      for (let i = 0; i < count; i += 1) {
        const start = view().getUint32(list + 8 * i, true);
        const size = view().getUint32(list + 8 * i + 4, true);
        text += new TextDecoder().decode(new Uint8Array(memory().buffer, start, size));
      }
      console.error(text);
      view().setUint32(written, new TextEncoder().encode(text).length, true);
      return 0;
    },
    proc_exit(code) {
      throw new EngineStopped(`the engine ended itself (${code})`);
    },
  };
}

export class Engine {
  #exports;
  #stopped = false;

  constructor(exports) {
    this.#exports = exports;
  }

  /** Starts an engine from the bytes of engine.wasm, or from a module compiled from them. */
  static async start(wasm) {
    const module = wasm instanceof WebAssembly.Module ? wasm : await WebAssembly.compile(wasm);
    let exports;
    const calls = systemCalls(() => exports.memory);
    const instance = await WebAssembly.instantiate(module, { wasi_snapshot_preview1: calls });
    exports = instance.exports;
    exports._initialize();
    return new Engine(exports);
  }

  /** Takes in a document of a kind (network, profile, tools, plan) and answers its hash. Throws Trouble. */
  load(kind, bytes, where = kind) {
    const outcome = this.#call('load', kind, bytes, where);
    if (outcome !== 0) throw new Trouble(JSON.parse(this.#result()).trouble);
    return this.#result();
  }

  /** Asks. `request` is a document or its text. Outcome: 0 answered, 1 attention, 2 bad input, 3 fault. */
  ask(request) {
    const text = typeof request === 'string' ? request : JSON.stringify(request);
    const outcome = this.#call('ask', text);
    return { outcome, document: JSON.parse(this.#result()) };
  }

  /** Lets go of a loaded document. */
  drop(hash) {
    this.#call('drop', hash);
  }

  #call(name, ...texts) {
    if (this.#stopped) throw new EngineStopped('this engine has stopped: start a new one');
    try {
      const given = texts.map((text) => this.#put(text));
      const outcome = this.#exports[name](...given.flat());
      for (const [address] of given) this.#exports.free(address);
      return outcome;
    } catch (error) {
      this.#stopped = true;
      if (error instanceof EngineStopped) throw error;
      throw new EngineStopped(`the engine stopped in ${name}: ${error.message}`, { cause: error });
    }
  }

  #put(text) {
    const bytes = typeof text === 'string' ? new TextEncoder().encode(text) : text;
    const address = this.#exports.alloc(Math.max(bytes.length, 1));
    if (address === 0) throw new EngineStopped('the engine is out of memory');
    new Uint8Array(this.#exports.memory.buffer, address, bytes.length).set(bytes);
    return [address, bytes.length];
  }

  #result() {
    const { memory, result_data: data, result_size: size } = this.#exports;
    return new TextDecoder().decode(new Uint8Array(memory.buffer, data(), size()));
  }
}
