import { setTimeout as pause } from 'node:timers/promises';
import { BossFarm } from '../src/adapters/farm/boss-farm.ts';
import { startPostgres } from '../tests/support/postgres.ts';

/** What a farm does with jobs that only wait, and with jobs that do nothing: then the queue is all there is. */
export interface FarmFigures {
  readonly jobMs: number;
  readonly oneWorkerS: number;
  readonly fourWorkersS: number;
  /** Jobs of no length, a second, by how many workers ask at the same time. */
  readonly queue: readonly { readonly workers: number; readonly jobsPerS: number }[];
}

/** Runs jobs on real PostgreSQL. Workers are connections of their own in this process; they spend their time waiting. */
export async function benchFarm(jobs = 40, jobMs = 1000): Promise<FarmFigures> {
  const server = await startPostgres();
  if (server === undefined) throw new Error('no PostgreSQL server here');
  try {
    const timed = async (workers: number, count: number, ms: number): Promise<number> => secondsOf(await server.database(), { workers, count, ms });
    const oneWorkerS = await timed(1, jobs, jobMs);
    const fourWorkersS = await timed(4, jobs, jobMs);
    const queue: { workers: number; jobsPerS: number }[] = [];
    for (const workers of [1, 4, 16]) queue.push({ workers, jobsPerS: 1000 / (await timed(workers, 1000, 0)) });
    return { jobMs, oneWorkerS, fourWorkersS, queue };
  } finally {
    await server.stop();
  }
}

async function secondsOf(database: string, { workers, count, ms }: { readonly workers: number; readonly count: number; readonly ms: number }): Promise<number> {
  const silent = (): void => {};
  const watch = await BossFarm.open(database, silent);
  const farms = await Promise.all(Array.from({ length: workers }, async () => BossFarm.open(database, silent)));
  const stop = new AbortController();
  const serving = farms.map(async (farm) => farm.serve({ read: { atOnce: 1, work: async () => pause(ms) } }, stop.signal));
  const jobs = Array.from({ length: count }, (_, index) => ({ key: String(index), work: '' }));
  const start = performance.now();
  await watch.have('read', jobs, stop.signal);
  const seconds = (performance.now() - start) / 1000;
  stop.abort();
  await Promise.all(serving);
  for (const farm of [...farms, watch]) await farm.close();
  return seconds;
}
