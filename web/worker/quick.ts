// Two engines, two workers: the quick one is loaded first and holds what a crew asks with a hand on the pump; the long one
// holds every question, and a town. Ending the long one never makes a pace wait.
import type { EngineClient, Reply } from './client';

/** The questions of apps/browser/quick.cpp. */
export const quickQuestions = [
  'squeeze', 'pace', 'watch', 'vent', 'gauge', 'job-state', 'job-handover', 'job-verify', 'job-plan', 'job-radio',
  'print-line', 'pipes',
];

/** A question by its name, and what it is asked with. */
export type Request = { question: string } & Record<string, unknown>;

type Loaded = Parameters<EngineClient['load']>;

const remembered = 16;

interface Asked {
  asked: Promise<Reply<unknown>>;
  document?: unknown;
}

export class Engines {
  /** What was asked last. An answer depends on its request alone (documents go by their hash), so it is the same again. */
  #asked = new Map<string, Asked>();

  constructor(
    private readonly quick: EngineClient,
    private readonly long: EngineClient,
  ) {}

  /** A document for both; a network only for the one that has room for it. */
  async load(...document: Loaded): Promise<string> {
    if (document[0] === 'network') return this.long.load(...document);
    const hash = await this.quick.load(...document);
    this.long.later(...document);
    return hash;
  }

  ask<Document>(request: Request): Promise<Reply<Document>> {
    const text = JSON.stringify(request);
    const one = this.#asked.get(text) ?? this.#begin(text, request);
    this.#asked.delete(text);
    this.#asked.set(text, one);
    if (this.#asked.size > remembered) this.#asked.delete(this.#asked.keys().next().value!);
    return one.asked as Promise<Reply<Document>>;
  }

  /** The answer, where it is there already. */
  known<Document>(request: Request): Document | undefined {
    return this.#asked.get(JSON.stringify(request))?.document as Document | undefined;
  }

  #begin(text: string, request: Request): Asked {
    const one: Asked = { asked: (quickQuestions.includes(request.question) ? this.quick : this.long).ask<unknown>(request) };
    one.asked.then(({ document }) => { one.document = document; }, () => this.#asked.delete(text));
    return one;
  }

  /** Breaks off long work. */
  cancel(): void {
    this.long.cancel();
  }
}
