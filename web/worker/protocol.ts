// What passes between a page and the worker that holds an engine. Every message has an answer with the same id.

export type DocumentKind = 'network' | 'profile' | 'tools' | 'plan' | 'time-left' | 'order' | 'log';

export interface TroubleText {
  code: string;
  where: string;
  value: string;
  fix: string;
}

export type Call =
  | { id: number; call: 'start'; wasm: WebAssembly.Module }
  | { id: number; call: 'load'; kind: DocumentKind; bytes: Uint8Array; where: string }
  | { id: number; call: 'ask'; request: unknown }
  | { id: number; call: 'drop'; hash: string };

export type Answer =
  | { id: number; is: 'done'; hash?: string }
  | { id: number; is: 'reply'; outcome: number; document: unknown }
  | { id: number; is: 'trouble'; trouble: TroubleText }
  /** The engine stopped. `restarted`: a new one stands ready with the same documents loaded. */
  | { id: number; is: 'stopped'; says: string; restarted: boolean };
