import { appendFileSync, copyFileSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { DiskStore } from '../../../src/adapters/filesystem/disk-store.ts';
import { readOnFarm, readingHands } from '../../../src/pipeline/farm/read-jobs.ts';
import type { Farm, FarmJob, FoundFile } from '../../../src/ports.ts';
import { signatureOf } from '../../../src/steps/read/content-name.ts';
import { sortFiles } from '../../../src/steps/read/sort-files.ts';
import { MemoryCatalogue } from '../../support/memory-catalogue.ts';
import { repository } from '../../support/run-gemel.ts';

const folder = mkdtempSync(join(tmpdir(), 'gemel-read-jobs-'));
const signal = new AbortController().signal;
const terms = { headings: {}, settleSeconds: 0, ffprobe: 'found' } as const;

afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A farm that only takes down what it is asked for. */
function asked(): { readonly farm: Farm; readonly jobs: FarmJob[] } {
  const jobs: FarmJob[] = [];
  const farm: Farm = {
    have: async (_kind, some, _signal, onDone) => {
      jobs.push(...some);
      for (const _job of some) onDone?.(1);
    },
    serve: async () => {},
    putAside: async () => [],
    close: async () => {},
  };
  return { farm, jobs };
}

const elsewhere = (found: FoundFile, key = found.file): { readonly found: FoundFile; readonly signature: string; readonly key: string } => ({ found, signature: signatureOf(found), key });

describe('reading on a farm', () => {
  it('asks for every clip once, in jobs so small that a hundred hands find work, and of 32 clips at most', async () => {
    for (const [clips, jobs, largest] of [[1, 1, 1], [40, 40, 1], [250, 84, 3], [10_000, 313, 32]] as const) {
      const { farm, jobs: taken } = asked();
      let done = 0;
      const files = Array.from({ length: clips }, (_, number): FoundFile => ({ path: `/media/A/${number}.mov`, file: `A/${number}.mov`, sizeBytes: 1, modifiedMs: 1 }));
      await readOnFarm({ farm, mounts: {} }, terms, signal)([...files.map((file) => elsewhere(file)), ...files.slice(0, 1).map((file) => elsewhere(file))], (some) => (done += some));
      const works = taken.map(({ work }): { clips: { file: string }[] } => JSON.parse(work));
      expect(taken).toHaveLength(jobs);
      expect(new Set(taken.map(({ key }) => key)).size).toBe(jobs);
      expect(Math.max(...works.map((work) => work.clips.length))).toBe(largest);
      expect(works.flatMap((work) => work.clips.map(({ file }) => file))).toEqual(files.map(({ file }) => file));
      expect(done).toBe(clips);
    }
  });

  it('keeps the clips that can be read beside one that changed, says which that was, and reads only that again', async () => {
    const card = join(folder, 'A014');
    mkdirSync(card);
    for (const number of [2, 3, 4]) copyFileSync(join(repository, 'sample-media', 'day-04', 'A014_K3QX', `A014C00${number}_261124_K3QX.mov`), join(card, `A014C00${number}.mov`));
    const { movies } = sortFiles((await new DiskStore([folder]).list(signal)).files);
    const { farm, jobs } = asked();
    // In one job, as on a large day.
    await readOnFarm({ farm, mounts: { day: folder } }, terms, signal)([...movies.map((movie) => elsewhere(movie)), ...Array.from({ length: 200 }, (_, number) => elsewhere({ path: join(folder, 'none'), file: 'none', sizeBytes: 0, modifiedMs: 0 }, `none ${number}`))], () => {});
    appendFileSync(join(card, 'A014C003.mov'), 'more');
    const catalogue = new MemoryCatalogue();
    let read = 0;
    const hands = readingHands(catalogue, { day: folder }, 1, (clips) => (read += clips));
    try {
      const work = jobs[0]?.work ?? '';
      await expect(hands.work(work, signal)).rejects.toThrow(/^A014\/A014C003\.mov: it is not as it was found/);
      expect(await catalogue.keys('reading')).toEqual(['A014/A014C002.mov', 'A014/A014C004.mov']);
      expect(read).toBe(2);
      await expect(hands.work(work, signal)).rejects.toThrow(/A014C003/);
      expect(read).toBe(2);
    } finally {
      await hands.close();
    }
  });

  it('refuses a job of another version, and one it would read otherwise', async () => {
    const hands = readingHands(new MemoryCatalogue(), {}, 1, () => {});
    const { farm, jobs } = asked();
    const file: FoundFile = { path: '/media/a.mov', file: 'a.mov', sizeBytes: 1, modifiedMs: 1 };
    await readOnFarm({ farm, mounts: {} }, { ...terms, ffprobe: 'missing' }, signal)([elsewhere(file)], () => {});
    await expect(hands.work(jobs[0]?.work ?? '', signal)).rejects.toThrow(/ffprobe is there on one machine and not on the other/);
    await expect(hands.work((jobs[0]?.work ?? '').replace(/"version":"[^"]*"/, '"version":"0.0.0"'), signal)).rejects.toThrow(/bring all machines to one version/);
    await hands.close();
  });
});
