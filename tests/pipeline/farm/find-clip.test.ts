import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { DiskStore } from '../../../src/adapters/filesystem/disk-store.ts';
import { findClip } from '../../../src/pipeline/farm/find-clip.ts';
import { signatureOf } from '../../../src/steps/read/content-name.ts';
import { sortFiles } from '../../../src/steps/read/sort-files.ts';

const folder = mkdtempSync(join(tmpdir(), 'gemel-find-clip-'));
const signal = new AbortController().signal;

beforeAll(() => {
  mkdirSync(join(folder, 'below'));
  for (const name of ['a.mov', 'still.dpx', 'plate.1001.exr', 'plate.1002.exr', 'plate.1004.exr', 'other.1001.exr', 'below/plate.1003.exr']) writeFileSync(join(folder, name), name);
  symlinkSync(join(folder, 'a.mov'), join(folder, 'link.mov'));
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('a clip looked for where a job says it lies', () => {
  it('looks as it did in the listing of the day, be it a movie, a sequence with a hole or a single picture', async () => {
    const { movies, sequences } = sortFiles((await new DiskStore([folder]).list(signal)).files.filter(({ file }) => !file.includes('/')));
    const listed = new Map([...movies, ...sequences].map((clip) => [clip.file, signatureOf(clip)]));
    expect([...listed.keys()]).toEqual(['a.mov', 'other.####.exr', 'plate.####.exr', 'still.dpx']);
    for (const [file, signature] of listed) {
      const found = await findClip(join(folder, file), signal);
      expect(found === undefined ? undefined : signatureOf(found), file).toBe(signature);
    }
  });

  it('is not there when it is gone, or a folder or a link has its name', async () => {
    for (const name of ['gone.mov', 'gone.####.exr', 'below', 'link.mov', 'no/such/plate.####.exr']) expect(await findClip(join(folder, name), signal), name).toBeUndefined();
  });
});
