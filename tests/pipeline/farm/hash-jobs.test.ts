import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { BossFarm } from '../../../src/adapters/farm/boss-farm.ts';
import { openPostgresCatalogue } from '../../../src/adapters/catalogue/open-postgres-catalogue.ts';
import { explainFailure } from '../../../src/adapters/filesystem/explain-failure.ts';
import { FileHasher } from '../../../src/adapters/hash/file-hasher.ts';
import { hasherOnFarm, hashingHands } from '../../../src/pipeline/farm/hash-jobs.ts';
import type { Hasher } from '../../../src/ports.ts';
import type { TestServer } from '../../support/postgres.ts';
import { startPostgres } from '../../support/postgres.ts';

const folder = mkdtempSync(join(tmpdir(), 'gemel-hash-jobs-'));
const signal = new AbortController().signal;
let server: TestServer | undefined;

beforeAll(async () => {
  server = await startPostgres();
}, 60_000);

afterAll(async () => {
  await server?.stop();
  rmSync(folder, { recursive: true, force: true });
});

const md5 = (text: string): string => createHash('md5').update(text).digest('hex');

describe('hashing on a farm, on a real PostgreSQL', () => {
  it('reads every byte anew for each run, keeps nothing, and leaves small files and those the farm cannot read to this machine', async ({ skip }) => {
    const database = await server?.database();
    if (database === undefined) return skip('no server here');
    const catalogue = await openPostgresCatalogue(database, 'saltmarsh');
    const farm = await BossFarm.open(database, () => {}, { askS: 0.5, superviseS: 1 });
    const stop = new AbortController();
    await using own = await FileHasher.open({ explain: explainFailure });
    const here: string[] = [];
    const watched: Hasher = { filesAtOnce: 1, digest: own.digest, expect: () => {}, hashFile: async (path, ...rest) => (here.push(path), own.hashFile(path, ...rest)) };
    let hashedThere = 0;
    const hands = hashingHands(catalogue, { day: folder }, 1, (files) => (hashedThere += files));
    const serving = farm.serve({ hash: hands }, stop.signal);
    try {
      const [large, small] = [join(folder, 'large.mov'), join(folder, 'small.mov')];
      writeFileSync(large, 'a'.repeat(2000));
      writeFileSync(small, 'a');
      const { mtime } = statSync(large);
      const hasher = (run: string): Hasher => hasherOnFarm(watched, { farm, mounts: { day: folder }, catalogue, run, worthAskingBytes: 1000 });
      let advanced = 0;
      const count = (bytes: number): void => void (advanced += bytes);
      // MD5 as Node's own crypto has it.
      expect(await hasher('first').hashFile(large, ['md5', 'xxh64'], signal, count)).toMatchObject({ sizeBytes: 2000, digests: { md5: md5('a'.repeat(2000)), xxh64: expect.stringMatching(/^[0-9a-f]{16}$/) } });
      expect([hashedThere, here, advanced]).toEqual([1, [], 2000]);
      expect((await hasher('first').hashFile(small, ['md5'], signal, count)).digests).toEqual({ md5: md5('a') });
      expect([hashedThere, here]).toEqual([1, [small]]);
      // Altered, and made to look as before: only the bytes tell.
      writeFileSync(large, 'b'.repeat(2000));
      utimesSync(large, mtime, mtime);
      expect((await hasher('second').hashFile(large, ['md5'], signal, count)).digests).toEqual({ md5: md5('b'.repeat(2000)) });
      expect(hashedThere).toBe(2);
      expect(await catalogue.keys('hashed')).toEqual([]);
      await expect(hasher('third').hashFile(join(folder, 'gone.mov'), ['md5'], signal, count)).rejects.toThrow();
    } finally {
      stop.abort();
      await serving;
      await hands.close();
      await farm.close();
      await catalogue.close();
    }
  }, 120_000);
});
