import { setTimeout as pause } from 'node:timers/promises';
import { PgBoss } from 'pg-boss';
import type { Farm, FarmJob, JobHands, JobKind } from '../../ports.ts';

const KINDS: readonly JobKind[] = ['read', 'hash', 'decode', 'sheet'];
const SCHEMA = 'gemel_jobs';
const DEAD = 'gemel-put-aside';
/** Silence after which a worker counts as dead and its job is given to another; pg-boss allows no less. */
const SILENCE_S = 10;
/** Longer than any job takes: reading 32 clips from a slow share, hashing a card, decoding an hour. */
const MOST_S: Readonly<Record<JobKind, number>> = { read: 1800, hash: 6 * 3600, decode: 6 * 3600, sheet: 600 };
const JOBS_AT_ONCE = 500;
const LOOK_MS = { least: 100, most: 1000 };

/** How a farm's own clockwork runs; tests look more often. */
export interface FarmTiming {
  /** How often a worker asks for jobs, in seconds. */
  readonly askS: number;
  /** How often somebody looks for dead workers, in seconds. */
  readonly superviseS: number;
}

const TIMING: FarmTiming = { askS: 0.5, superviseS: 10 };

/** Jobs in PostgreSQL, kept and handed out by pg-boss. */
export class BossFarm implements Farm {
  readonly #boss: PgBoss;
  readonly #timing: FarmTiming;

  private constructor(boss: PgBoss, timing: FarmTiming) {
    this.#boss = boss;
    this.#timing = timing;
  }

  /** @throws {Error} when the server does not answer or refuses. `onTrouble` hears what goes wrong later on. */
  static async open(databaseUrl: string, onTrouble: (reason: string) => void, timing: FarmTiming = TIMING): Promise<BossFarm> {
    const boss = new PgBoss({
      connectionString: databaseUrl, schema: SCHEMA, application_name: 'gemel', max: 4, schedule: false,
      superviseIntervalSeconds: timing.superviseS, monitorIntervalSeconds: timing.superviseS,
    });
    // Without a listener the first lost connection would end the process.
    boss.on('error', (problem: unknown) => onTrouble(problem instanceof Error ? problem.message : String(problem)));
    await boss.start();
    await boss.createQueue(DEAD, { retentionSeconds: 90 * 24 * 3600 });
    for (const kind of KINDS) {
      const options = { retryLimit: 2, retryDelay: 1, retryBackoff: true, expireInSeconds: MOST_S[kind], heartbeatSeconds: SILENCE_S, deleteAfterSeconds: 3600 };
      await boss.createQueue(queueOf(kind), { policy: 'exclusive', deadLetter: DEAD, ...options });
    }
    return new BossFarm(boss, timing);
  }

  async have(kind: JobKind, jobs: readonly FarmJob[], signal: AbortSignal, onDone?: (jobs: number) => void): Promise<void> {
    for (let first = 0; first < jobs.length; first += JOBS_AT_ONCE) {
      signal.throwIfAborted();
      const part = jobs.slice(first, first + JOBS_AT_ONCE).map(({ key, work }) => ({ singletonKey: key, data: { kind, key, work } }));
      await this.#boss.insert(queueOf(kind), part);
    }
    let open = jobs.map(({ key }) => key);
    for (let lookMs = LOOK_MS.least; open.length > 0; lookMs = Math.min(LOOK_MS.most, lookMs * 1.5)) {
      const left = await this.#stillOpen(kind, open);
      if (left.length < open.length) onDone?.(open.length - left.length);
      open = left;
      if (open.length > 0) await pause(lookMs, undefined, { signal });
    }
  }

  async serve(hands: Partial<Readonly<Record<JobKind, JobHands>>>, signal: AbortSignal): Promise<void> {
    for (const kind of KINDS) {
      const hand = hands[kind];
      if (hand === undefined) continue;
      for (let slot = 0; slot < hand.atOnce; slot += 1) await this.#workSlot(kind, hand, signal);
    }
    await new Promise<void>((resolve) => {
      if (signal.aborted) resolve();
      else signal.addEventListener('abort', () => resolve(), { once: true });
    });
    for (const kind of KINDS) if (hands[kind] !== undefined) await this.#boss.offWork(queueOf(kind));
  }

  async putAside(): Promise<Awaited<ReturnType<Farm['putAside']>>> {
    // What was put aside keeps the job; why it failed stands with the last try, as long as that is kept.
    const query = `select aside.data, tried.output from ${SCHEMA}.job aside
      left join ${SCHEMA}.job tried on tried.name = any($2) and tried.state = 'failed' and tried.singleton_key = aside.data->>'key'
      where aside.name = $1`;
    const { rows } = await this.#boss.getDb().executeSql(query, [DEAD, KINDS.map(queueOf)]);
    return rows
      .map(({ data, output }: { data: JobData; output: unknown }) => ({ kind: data.kind, key: data.key, reason: reasonOf(output) }))
      .toSorted((a, b) => (a.key < b.key ? -1 : 1));
  }

  async close(): Promise<void> {
    await this.#boss.stop({ graceful: true, timeout: 30_000 });
  }

  /** One job at a time, and after it at once the next: only who found none waits before asking again. */
  async #workSlot(kind: JobKind, hand: JobHands, signal: AbortSignal): Promise<void> {
    const options = { batchSize: 1, pollingIntervalSeconds: this.#timing.askS, heartbeatRefreshSeconds: SILENCE_S / 3 };
    let slot = '';
    slot = await this.#boss.work<JobData>(queueOf(kind), options, async (jobs) => {
      try {
        for (const job of jobs) await hand.work(job.data.work, AbortSignal.any([signal, job.signal]));
      } finally {
        this.#boss.notifyWorker(slot);
      }
    });
  }

  async #stillOpen(kind: JobKind, keys: readonly string[]): Promise<string[]> {
    const left: string[] = [];
    for (let first = 0; first < keys.length; first += 2000) {
      const { rows } = await this.#boss
        .getDb()
        .executeSql(`select distinct singleton_key from ${SCHEMA}.job where name = $1 and singleton_key = any($2) and state in ('created', 'retry', 'active')`, [
          queueOf(kind),
          keys.slice(first, first + 2000),
        ]);
      left.push(...rows.map(({ singleton_key: key }: { singleton_key: string }) => key));
    }
    return left;
  }
}

interface JobData {
  readonly kind: JobKind;
  readonly key: string;
  readonly work: string;
}

function queueOf(kind: JobKind): string {
  return `gemel-${kind}`;
}

function reasonOf(output: unknown): string {
  return typeof output === 'object' && output !== null && 'message' in output ? String(output.message) : 'the reason is not kept any more';
}
