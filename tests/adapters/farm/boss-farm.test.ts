import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { setTimeout as pause } from 'node:timers/promises';
import { Client } from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { BossFarm } from '../../../src/adapters/farm/boss-farm.ts';
import type { TestServer } from '../../support/postgres.ts';
import { startPostgres } from '../../support/postgres.ts';

const TIMING = { askS: 0.5, superviseS: 1 };
let server: TestServer | undefined;
let database = '';

beforeAll(async () => {
  server = await startPostgres();
  database = (await server?.database()) ?? '';
});
afterAll(async () => server?.stop());

const within = (name: string, check: () => Promise<void>): void =>
  it(name, async ({ skip }) => {
    if (server === undefined) return skip('no server here');
    return check();
  });

const jobs = (prefix: string, count: number): readonly { readonly key: string; readonly work: string }[] => Array.from({ length: count }, (_, index) => ({ key: `${prefix} ${index}`, work: `${index}` }));

/** Waits until jobs of these keys stand in the database. */
async function offered(keys: readonly string[]): Promise<void> {
  const client = new Client({ connectionString: database });
  await client.connect();
  const standing = async (): Promise<number> => (await client.query('select from gemel_jobs.job where singleton_key = any($1)', [keys])).rows.length;
  while ((await standing()) < keys.length) await pause(10);
  await client.end();
}

describe('a farm', () => {
  within('does every job once, however many offer it and however many work', async () => {
    const troubles: string[] = [];
    const farms = await Promise.all(Array.from({ length: 3 }, async () => BossFarm.open(database, (reason) => void troubles.push(reason), TIMING)));
    const stop = new AbortController();
    const done: string[] = [];
    const offers = farms.slice(0, 2).map(async (farm, index) => farm.have('read', [...jobs('a', 30), { key: `own ${index}`, work: `${30 + index}` }], stop.signal));
    // Whoever offers a job that is done wants it done again: so nobody works before both have offered.
    await offered(['own 0', 'own 1']);
    const served = farms.map(async (farm) => farm.serve({ read: { atOnce: 2, work: async (work) => void (await pause(20), done.push(work)) } }, stop.signal));
    await Promise.all(offers);
    expect(done.toSorted((a, b) => Number(a) - Number(b))).toEqual(Array.from({ length: 32 }, (_, index) => String(index)));
    stop.abort();
    await Promise.all(served);
    for (const farm of farms) await farm.close();
    expect(troubles).toEqual([]);
  });

  within('tries a job again that failed, and puts it aside when it keeps failing', async () => {
    const farm = await BossFarm.open(database, () => {}, TIMING);
    const stop = new AbortController();
    const tries = new Map<string, number>();
    const work = async (text: string): Promise<void> => {
      tries.set(text, (tries.get(text) ?? 0) + 1);
      if (text === '0' || (text === '1' && tries.get(text) === 1)) throw new Error(`cannot read ${text}`);
    };
    const served = farm.serve({ sheet: { atOnce: 1, work } }, stop.signal);
    await farm.have('sheet', jobs('b', 3), stop.signal);
    expect(tries).toEqual(new Map([['0', 3], ['1', 2], ['2', 1]]));
    expect(await farm.putAside()).toEqual([{ kind: 'sheet', key: 'b 0', reason: 'cannot read 0' }]);
    stop.abort();
    await served;
    await farm.close();
  });

  within('gives the job of a worker that was killed to another', async () => {
    const module = new URL('../../../src/adapters/farm/boss-farm.ts', import.meta.url).href;
    const script = `
      const { BossFarm } = await import(${JSON.stringify(module)});
      const farm = await BossFarm.open(${JSON.stringify(database)}, () => {}, { askS: 0.5, superviseS: 1 });
      await farm.serve({ decode: { atOnce: 1, work: async () => { console.log('began'); await new Promise((resolve) => setTimeout(resolve, 600000)); } } }, new AbortController().signal);`;
    const victim = spawn(process.execPath, ['--input-type=module', '-e', script], { stdio: ['ignore', 'pipe', 'inherit'] });
    const farm = await BossFarm.open(database, () => {}, TIMING);
    const stop = new AbortController();
    const had = farm.have('decode', jobs('c', 1), stop.signal);
    await once(victim.stdout, 'data');
    victim.kill('SIGKILL');
    const done: string[] = [];
    const served = farm.serve({ decode: { atOnce: 1, work: async (work) => void done.push(work) } }, stop.signal);
    await had;
    expect(done).toEqual(['0']);
    stop.abort();
    await served;
    await farm.close();
  });
});
