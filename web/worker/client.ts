// The page's half: calls become promises. A call cannot be broken off inside the engine, so `cancel` ends the worker
// and the next call begins with a new one, which is given the same documents.
import { plain } from '../shared/plain';
import type { Answer, Call, DocumentKind, TroubleText } from './protocol';

export interface Reply<Document> {
  outcome: number;
  document: Document;
}

export class BadInput extends Error {
  constructor(readonly trouble: TroubleText) {
    super([`${trouble.where}:`, trouble.value && `${trouble.value}.`, plain(trouble.fix)].filter(Boolean).join(' '));
  }
}

/** The engine stopped during this call. `restarted`: asking again will be heard. */
export class Stopped extends Error {
  constructor(
    says: string,
    readonly restarted: boolean,
  ) {
    super(says);
  }
}

export class Cancelled extends Error {}

type Unsent = Call extends infer One ? (One extends { id: number } ? Omit<One, 'id'> : never) : never;

interface Waiting {
  resolve: (answer: Answer) => void;
  reject: (error: Error) => void;
}

/** What of a Worker is used, so that a test may put something else in its place. */
export interface WorkerLike {
  postMessage(message: unknown): void;
  terminate(): void;
  addEventListener(type: 'message', hear: (event: { data: Answer }) => void): void;
  addEventListener(type: 'error', hear: (event: { message?: string }) => void): void;
}

export class EngineClient {
  #worker: WorkerLike | undefined;
  #waiting = new Map<number, Waiting>();
  #next = 1;
  /** By kind and text: what is loaded twice is remembered once. */
  #loaded = new Map<string, { kind: DocumentKind; bytes: Uint8Array; where: string }>();

  /** `wasm` is asked for with the first call. */
  constructor(
    private readonly wasm: () => Promise<WebAssembly.Module>,
    private readonly begin: () => WorkerLike,
  ) {}

  /** Takes in a document and answers its hash. Throws BadInput. */
  async load(kind: DocumentKind, text: string, where: string): Promise<string> {
    const bytes = new TextEncoder().encode(text);
    const { hash = '' } = await this.#call({ call: 'load', kind, bytes, where });
    this.#loaded.set(kind + text, { kind, bytes, where });
    return hash;
  }

  /** Remembers a document that was found good; it is taken in when this engine is used. */
  later(kind: DocumentKind, text: string, where: string): void {
    const document = { kind, bytes: new TextEncoder().encode(text), where };
    this.#loaded.set(kind + text, document);
    if (this.#worker) this.#send({ call: 'load', ...document }).catch(() => undefined);
  }

  /** Asks. Throws BadInput (outcome 2), Stopped (the engine's fault), Cancelled. */
  async ask<Document>(request: unknown): Promise<Reply<Document>> {
    const answer = await this.#call({ call: 'ask', request });
    const document = answer.document as Document & { trouble?: TroubleText };
    if (answer.outcome === 2 && document.trouble) throw new BadInput(document.trouble);
    if (answer.outcome >= 2) throw new Stopped(document.trouble?.value ?? '', true);
    return { outcome: answer.outcome, document };
  }

  /** Ends the worker. Whoever waits is told; what was loaded is loaded again before the next call. */
  cancel(): void {
    this.#end(new Cancelled('cancelled'));
  }

  #end(error: Error): void {
    this.#worker?.terminate();
    this.#worker = undefined;
    for (const waiting of this.#waiting.values()) waiting.reject(error);
    this.#waiting.clear();
  }

  async #call(call: Unsent): Promise<{ hash?: string; outcome: number; document: unknown }> {
    const wasm = await this.wasm();
    if (this.#worker === undefined) this.#start(wasm);
    const answer = await this.#send(call);
    if (answer.is === 'trouble') throw new BadInput(answer.trouble);
    if (answer.is === 'stopped') {
      if (!answer.restarted) this.#end(new Stopped(answer.says, false));
      throw new Stopped(answer.says, answer.restarted);
    }
    return answer.is === 'reply'
      ? { outcome: answer.outcome, document: answer.document }
      : { hash: answer.hash, outcome: 0, document: undefined };
  }

  // Messages are answered in order, so the first call may follow without waiting.
  #start(wasm: WebAssembly.Module): void {
    const worker = this.begin();
    worker.addEventListener('message', ({ data }) => {
      this.#waiting.get(data.id)?.resolve(data);
      this.#waiting.delete(data.id);
    });
    worker.addEventListener('error', ({ message }) => this.#end(new Stopped(message ?? 'the worker stopped', true)));
    this.#worker = worker;
    const nobody = () => undefined;
    this.#send({ call: 'start', wasm }).catch(nobody);
    for (const document of this.#loaded.values()) this.#send({ call: 'load', ...document }).catch(nobody);
  }

  #send(call: Unsent): Promise<Answer> {
    const id = this.#next;
    this.#next += 1;
    return new Promise((resolve, reject) => {
      this.#waiting.set(id, { resolve, reject });
      this.#worker?.postMessage({ id, ...call });
    });
  }
}
