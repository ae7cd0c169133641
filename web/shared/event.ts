// An event of a job's log as one sealed line: the shape of schema/event.schema.json, which `bellhole job` reads.
import { canonical, sha256 } from './canonical';

export type Kind =
  | 'opened' | 'planned' | 'plan_accepted' | 'pipe_found' | 'joined' | 'prompt' | 'step' | 'reading' | 'bars' | 'act'
  | 'gate_passed' | 'signed' | 'handed_over' | 'tested' | 'purged' | 'meter' | 'laid' | 'result' | 'photo' | 'note'
  | 'closed';
export type Source = 'tapped' | 'typed' | 'imported';
export type Fact = Record<string, unknown>;

export interface Draft {
  kind: Kind;
  fact: Fact;
  source: Source;
  by?: string;
  happened_at?: string;
}

export interface JobEvent {
  job: string;
  device: string;
  sequence: number;
  previous: string | null;
  seen: string[];
  happened_at: string;
  entered_at: string;
  by?: string;
  kind: string;
  fact: Fact;
  hash: string;
}

export interface Entering {
  job: string;
  device: string;
  boot: string;
  sequence: number;
  previous: string | null;
  /** Hashes of the last events of other devices that this phone knows. */
  seen: string[];
  now: Date;
  monotonic_s: number;
  random: Uint8Array;
}

const two = (value: number) => String(value).padStart(2, '0');

/** RFC 3339 with the offset of the place, to the millisecond. */
export function rfc3339(now: Date, offsetMinutes = -now.getTimezoneOffset()): string {
  const local = new Date(now.getTime() + offsetMinutes * 60000).toISOString().slice(0, -1);
  const size = Math.abs(offsetMinutes);
  return `${local}${offsetMinutes < 0 ? '-' : '+'}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}

/** A UUID of version 7 (RFC 9562): 48 bits of milliseconds, the rest from `random` (10 bytes). */
export function uuid7(now: Date, random: Uint8Array): string {
  const time = now.getTime().toString(16).padStart(12, '0');
  const bytes = Uint8Array.from(random);
  bytes[0] = ((bytes[0] ?? 0) & 0x0f) | 0x70;
  bytes[2] = ((bytes[2] ?? 0) & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
  return `${time.slice(0, 8)}-${time.slice(8)}-${hex.slice(0, 4)}-${hex.slice(4, 8)}-${hex.slice(8)}`;
}

/** The line, sealed: its last member is the SHA-256 of the line without that member. */
export async function sealedLine(draft: Draft, entering: Entering): Promise<string> {
  const entered = rfc3339(entering.now);
  const body = JSON.stringify({
    document: 'bellhole.event',
    version: 1,
    id: uuid7(entering.now, entering.random),
    job: entering.job,
    device: entering.device,
    sequence: entering.sequence,
    previous: entering.previous,
    seen: entering.seen,
    happened_at: draft.happened_at ?? entered,
    entered_at: entered,
    boot: entering.boot,
    monotonic_s: entering.monotonic_s,
    ...(draft.by ? { by: draft.by } : {}),
    source: draft.source,
    kind: draft.kind,
    fact: draft.fact,
  });
  return `${body.slice(0, -1)},"hash":"${await sha256(body)}"}`;
}

/** The fact that an answer was given, by the hashes of what was asked and what came. */
export async function resultFact(request: unknown, reply: { engine: string; question: string; verdict: string }) {
  return {
    question: reply.question,
    engine: reply.engine,
    verdict: reply.verdict,
    request: await sha256(canonical(request)),
    result: await sha256(canonical(reply)),
  };
}
