// The phone's store: the log of every job, and what is not yet a fact (half-filled forms, the company's files).
// An event is durable before its promise resolves; nothing is shown as recorded before that. Events are only added.
import { rfc3339, sealedLine, uuid7, type Draft, type JobEvent } from './event';

const version = 1;

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
  sequence: number;
  line: string;
}

export class Store {
  readonly #boot = crypto.randomUUID();
  #turn: Promise<unknown> = Promise.resolve();

  private constructor(
    private readonly db: IDBDatabase,
    readonly device: string,
  ) {}

  static async open(name = 'bellhole'): Promise<Store> {
    const request = indexedDB.open(name, version);
    request.onupgradeneeded = () => {
      request.result.createObjectStore('events', { keyPath: ['job', 'sequence'] });
      request.result.createObjectStore('kept');
    };
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

  async events(job: string): Promise<JobEvent[]> {
    return (await this.#rows(job)).map((row) => JSON.parse(row.line) as JobEvent);
  }

  /** The log as a file: one event a line, byte for byte as it was sealed. */
  async lines(job: string): Promise<string> {
    return (await this.#rows(job)).map((row) => `${row.line}\n`).join('');
  }

  async jobs(): Promise<JobSummary[]> {
    const rows = await done(this.db.transaction('events').objectStore('events').getAll() as IDBRequest<Row[]>);
    const found = new Map<string, JobSummary>();
    for (const row of rows) {
      const summary = found.get(row.job);
      if (summary) summary.count += 1;
      else found.set(row.job, { job: row.job, opened: JSON.parse(row.line) as JobEvent, count: 1 });
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
    const range = IDBKeyRange.bound([job, 0], [job, Infinity]);
    return done(this.db.transaction('events').objectStore('events').getAll(range) as IDBRequest<Row[]>);
  }

  #locked<T>(work: () => Promise<T>): Promise<T> {
    const locks = globalThis.navigator?.locks as LockManager | undefined;
    return locks ? (locks.request('bellhole-log', work) as Promise<T>) : work();
  }

  async #append(job: string, draft: Draft): Promise<JobEvent> {
    const rows = await this.#rows(job);
    const last = rows.at(-1);
    const previous = last ? (JSON.parse(last.line) as JobEvent).hash : null;
    const sequence = (last?.sequence ?? 0) + 1;
    const line = await sealedLine(draft, {
      job,
      device: this.device,
      boot: this.#boot,
      sequence,
      previous,
      now: new Date(),
      monotonic_s: performance.now() / 1000,
      random: crypto.getRandomValues(new Uint8Array(10)),
    });
    const transaction = this.db.transaction('events', 'readwrite', { durability: 'strict' });
    transaction.objectStore('events').add({ job, sequence, line } satisfies Row);
    await written(transaction);
    return JSON.parse(line) as JobEvent;
  }
}
