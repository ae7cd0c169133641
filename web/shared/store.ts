// The phone's store: the log of every job, of this phone and of others that it met; pictures by their hash; and what is
// not yet a fact (half-filled forms, the company's files). An event is durable before its promise resolves; nothing is
// shown as recorded before that. Events are only added.
import { rfc3339, sealedLine, uuid7, type Draft, type JobEvent } from './event';

const version = 2;

function done<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

function written(transaction: IDBTransaction): Promise<void> {
  return new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onabort = () => reject(transaction.error);
  });
}

export interface JobSummary {
  job: string;
  opened: JobEvent;
  count: number;
}

interface Row {
  job: string;
  device: string;
  sequence: number;
  line: string;
}

const eventKey = ['job', 'device', 'sequence'];

/** Version 1 held the events of one device only. */
function grow(db: IDBDatabase, transaction: IDBTransaction, from: number): void {
  if (from === 0) {
    db.createObjectStore('events', { keyPath: eventKey });
    db.createObjectStore('kept');
  }
  if (from === 1) {
    const all = transaction.objectStore('events').getAll() as IDBRequest<Row[]>;
    all.onsuccess = () => {
      db.deleteObjectStore('events');
      const events = db.createObjectStore('events', { keyPath: eventKey });
      for (const row of all.result) events.add({ ...row, device: (JSON.parse(row.line) as JobEvent).device });
    };
  }
  db.createObjectStore('blobs');
}

const hex = (bytes: ArrayBuffer) => [...new Uint8Array(bytes)].map((byte) => byte.toString(16).padStart(2, '0')).join('');

export class Store {
  readonly #boot = crypto.randomUUID();
  #turn: Promise<unknown> = Promise.resolve();

  private constructor(
    private readonly db: IDBDatabase,
    readonly device: string,
  ) {}

  static async open(name = 'bellhole'): Promise<Store> {
    const request = indexedDB.open(name, version);
    request.onupgradeneeded = ({ oldVersion }) => grow(request.result, request.transaction!, oldVersion);
    const db = await done(request);
    const store = new Store(db, '');
    const device = (await store.kept<string>('device')) ?? `phone-${crypto.randomUUID().slice(0, 8)}`;
    await store.keep('device', device);
    return new Store(db, device);
  }

  /** A new job begins with its first event. Answers its id. */
  async begin(first: Draft): Promise<string> {
    const job = uuid7(new Date(), crypto.getRandomValues(new Uint8Array(10)));
    await this.append(job, first);
    return job;
  }

  /** Adds one event, one after the other, also when two pages of this phone write. */
  append(job: string, draft: Draft): Promise<JobEvent> {
    const happened = draft.happened_at ?? rfc3339(new Date());
    const mine = this.#turn.then(() => this.#locked(() => this.#append(job, { ...draft, happened_at: happened })));
    this.#turn = mine.catch(() => undefined);
    return mine;
  }

  /** Takes over the lines of another device. Answers how many were new. Lines are kept byte for byte. */
  async take(job: string, lines: string[]): Promise<number> {
    return this.#locked(async () => {
      const known = new Set((await this.#rows(job)).map(({ device, sequence }) => `${device} ${sequence}`));
      const transaction = this.db.transaction('events', 'readwrite', { durability: 'strict' });
      let added = 0;
      for (const line of lines) {
        const { device, sequence } = JSON.parse(line) as JobEvent;
        if (known.has(`${device} ${sequence}`)) continue;
        transaction.objectStore('events').add({ job, device, sequence, line } satisfies Row);
        added += 1;
      }
      await written(transaction);
      return added;
    });
  }

  /** Keeps bytes under their SHA-256, and answers it. */
  async keepBlob(blob: Blob): Promise<string> {
    const bytes = await blob.arrayBuffer();
    const hash = hex(await crypto.subtle.digest('SHA-256', bytes));
    const transaction = this.db.transaction('blobs', 'readwrite', { durability: 'strict' });
    transaction.objectStore('blobs').put({ type: blob.type, bytes }, hash);
    await written(transaction);
    return hash;
  }

  async blob(hash: string): Promise<Blob | undefined> {
    const kept = await done(this.db.transaction('blobs').objectStore('blobs').get(hash) as IDBRequest<{ type: string; bytes: ArrayBuffer } | undefined>);
    return kept && new Blob([kept.bytes], { type: kept.type });
  }

  /** What an event knew of stands before it; otherwise as they were entered. */
  async events(job: string): Promise<JobEvent[]> {
    return (await this.#inOrder(job)).map(({ event }) => event);
  }

  /** The log as a file: one event a line, byte for byte as it was sealed. */
  async lines(job: string): Promise<string> {
    return (await this.#inOrder(job)).map(({ line }) => `${line}\n`).join('');
  }

  async jobs(): Promise<JobSummary[]> {
    const rows = await done(this.db.transaction('events').objectStore('events').getAll() as IDBRequest<Row[]>);
    const found = new Map<string, JobSummary>();
    for (const row of rows) {
      const event = JSON.parse(row.line) as JobEvent;
      const summary = found.get(row.job) ?? { job: row.job, opened: event, count: 0 };
      if (event.kind === 'opened') summary.opened = event;
      found.set(row.job, { ...summary, count: summary.count + 1 });
    }
    return [...found.values()].reverse();
  }

  async kept<T>(key: string): Promise<T | undefined> {
    return done(this.db.transaction('kept').objectStore('kept').get(key) as IDBRequest<T | undefined>);
  }

  async keep(key: string, value: unknown): Promise<void> {
    const transaction = this.db.transaction('kept', 'readwrite', { durability: 'strict' });
    transaction.objectStore('kept').put(value, key);
    await written(transaction);
  }

  close(): void {
    this.db.close();
  }

  #rows(job: string): Promise<Row[]> {
    const range = IDBKeyRange.bound([job], [job, []]);
    return done(this.db.transaction('events').objectStore('events').getAll(range) as IDBRequest<Row[]>);
  }

  async #inOrder(job: string): Promise<{ event: JobEvent; line: string }[]> {
    const rows = (await this.#rows(job)).map(({ line }) => ({ event: JSON.parse(line) as JobEvent, line }));
    const at = ({ event }: { event: JobEvent }) => Date.parse(event.entered_at);
    const waiting = rows.sort((a, b) => at(a) - at(b) || a.event.sequence - b.event.sequence);
    const missing = new Set(waiting.map(({ event }) => event.hash));
    const ordered: typeof waiting = [];
    while (waiting.length > 0) {
      const knew = ({ event }: { event: JobEvent }) => [...event.seen, event.previous].every((hash) => hash === null || !missing.has(hash));
      const [next] = waiting.splice(Math.max(waiting.findIndex(knew), 0), 1);
      missing.delete(next!.event.hash);
      ordered.push(next!);
    }
    return ordered;
  }

  #locked<T>(work: () => Promise<T>): Promise<T> {
    const locks = globalThis.navigator?.locks as LockManager | undefined;
    return locks ? (locks.request('bellhole-log', work) as Promise<T>) : work();
  }

  async #append(job: string, draft: Draft): Promise<JobEvent> {
    const rows = await this.#rows(job);
    const last = rows.filter((row) => row.device === this.device).at(-1);
    const previous = last ? (JSON.parse(last.line) as JobEvent).hash : null;
    const heads = new Map(rows.filter((row) => row.device !== this.device).map((row) => [row.device, row.line]));
    const seen = [...heads.values()].map((line) => (JSON.parse(line) as JobEvent).hash);
    const sequence = (last?.sequence ?? 0) + 1;
    const line = await sealedLine(draft, {
      job,
      device: this.device,
      boot: this.#boot,
      sequence,
      previous,
      seen,
      now: new Date(),
      monotonic_s: performance.now() / 1000,
      random: crypto.getRandomValues(new Uint8Array(10)),
    });
    const transaction = this.db.transaction('events', 'readwrite', { durability: 'strict' });
    transaction.objectStore('events').add({ job, device: this.device, sequence, line } satisfies Row);
    await written(transaction);
    return JSON.parse(line) as JobEvent;
  }
}
