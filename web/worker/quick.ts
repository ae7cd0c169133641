// Two engines, two workers: the quick one is loaded first and holds what a crew asks with a hand on the pump; the long one
// holds every question, and a town. Ending the long one never makes a pace wait.
import type { EngineClient, Reply } from './client';

/** The questions of apps/browser/quick.cpp. */
export const quickQuestions = [
  'squeeze', 'pace', 'watch', 'vent', 'pressure-test', 'job-state', 'job-handover', 'job-verify', 'job-plan', 'job-radio',
  'print-line', 'pipes',
];

/** A question by its name, and what it is asked with. */
export type Request = { question: string } & Record<string, unknown>;

type Loaded = Parameters<EngineClient['load']>;

export class Engines {
  /** What is being asked: who asks the same meanwhile gets the same answer. */
  #asking = new Map<string, Promise<Reply<unknown>>>();

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
    const engine = quickQuestions.includes(request.question) ? this.quick : this.long;
    const asked = this.#asking.get(text) ?? engine.ask<unknown>(request).finally(() => this.#asking.delete(text));
    this.#asking.set(text, asked);
    return asked as Promise<Reply<Document>>;
  }

  /** Breaks off long work. */
  cancel(): void {
    this.long.cancel();
  }
}
