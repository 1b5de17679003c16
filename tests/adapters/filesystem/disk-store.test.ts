import { execFileSync } from 'node:child_process';
import { chmodSync, mkdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { DiskStore } from '../../../src/adapters/filesystem/disk-store.ts';
import { UnreachableFileError } from '../../../src/core/material/errors.ts';
import { temporaryFolder, withoutRootRights } from '../../support/make-media.ts';

const never = new AbortController().signal;

/** A folder with these files in it; each holds its own name. */
function folderOf(...files: readonly string[]): string {
  const folder = temporaryFolder();
  for (const file of files) {
    const path = join(folder, file);
    mkdirSync(join(path, '..'), { recursive: true });
    writeFileSync(path, file);
  }
  return folder;
}

async function namesIn(...folders: readonly string[]): Promise<readonly string[]> {
  return (await new DiskStore(folders).list(never)).files.map(({ file }) => file);
}

describe('listing media folders', () => {
  it('names files relative to the only root, sorted by code units', async () => {
    const folder = folderOf('b/z.mov', 'a.mov', 'B/é.mov', 'b/10.mov', 'b/9.mov');
    expect(await namesIn(folder)).toEqual(['B/é.mov', 'a.mov', 'b/10.mov', 'b/9.mov', 'b/z.mov']);
  });

  it('tells several roots apart by their base names, whatever the order they are given in', async () => {
    const parent = folderOf('one/day/a.mov', 'two/day/a.mov', 'other/b.mov');
    const roots = [join(parent, 'two/day'), join(parent, 'other'), join(parent, 'one/day')];
    expect(await namesIn(...roots)).toEqual(['day-2/a.mov', 'day/a.mov', 'other/b.mov']);
    expect(await namesIn(...roots.toReversed())).toEqual(await namesIn(...roots));
  });

  it('lists nothing twice when one root lies in another or is given twice', async () => {
    const folder = folderOf('card/a.mov');
    expect(await namesIn(folder, join(folder, 'card'), `${folder}/`)).toEqual(['card/a.mov']);
  });

  it('passes over what systems leave behind, hash lists and its own output', async () => {
    const folder = folderOf('a.mov', '._a.mov', '.DS_Store', 'Thumbs.db', '.Trashes/x.mov', 'ascmhl/0001.mhl', 'gemel-out/s.png', 'out/s.png');
    const { files } = await new DiskStore([folder], [join(folder, 'out')]).list(never);
    expect(files.map(({ file }) => file)).toEqual(['a.mov']);
  });

  it('keeps odd names as they are', async () => {
    const odd = ['-x.mov', '@x.mov', 'a b.mov', 'a\nb.mov', `q'"$(x).mov`, 'http:x.mov', 'concat:x.mov', 'n%04d.mov', 'e\u0301.mov', '\u00e9.mov'];
    expect(await namesIn(folderOf(...odd))).toEqual(odd.toSorted((a, b) => (a < b ? -1 : 1)));
  });

  it('never follows a link, and says where it leads', async () => {
    const outside = folderOf('secret.mov');
    const folder = folderOf('a.mov');
    symlinkSync(join(outside, 'secret.mov'), join(folder, 'out.mov'));
    symlinkSync(outside, join(folder, 'outside'));
    symlinkSync('.', join(folder, 'loop'));
    symlinkSync('nothing', join(folder, 'dangling'));
    const { files, unreachable } = await new DiskStore([folder]).list(never);
    expect(files.map(({ file }) => file)).toEqual(['a.mov']);
    expect(unreachable.map(({ file, kind, reason }) => [file, kind, reason])).toEqual([
      ['dangling', 'link', 'it is a link to nothing'],
      ['loop', 'link', 'it is a link into the media folders; what it points to is read where it lies'],
      ['out.mov', 'link', 'it is a link out of the media folders; links are not followed'],
      ['outside', 'link', 'it is a link out of the media folders; links are not followed'],
    ]);
  });

  it('lists names that are not UTF-8 as unreachable, files and folders alike', async () => {
    const folder = folderOf('good.mov');
    const bad = (name: string): Buffer => Buffer.concat([Buffer.from(`${folder}/${name}`), Buffer.from([0xe9])]);
    writeFileSync(bad('file'), '');
    mkdirSync(bad('folder'));
    const { files, unreachable } = await new DiskStore([folder]).list(never);
    expect(files.map(({ file }) => file)).toEqual(['good.mov']);
    expect(unreachable).toMatchObject([
      { file: 'file\uFFFD', kind: 'name', reason: 'its name is not valid UTF-8, so it cannot be named in a report' },
      { file: 'folder\uFFFD', kind: 'name' },
    ]);
  });

  it('a name with a true replacement character is an ordinary name', async () => {
    expect(await namesIn(folderOf('odd\uFFFD.mov'))).toEqual(['odd\uFFFD.mov']);
  });

  it('says of a folder that may not be read why and what to do, and lists the rest', async () => {
    const folder = folderOf('closed/a.mov', 'open/b.mov');
    chmodSync(folder, 0o755);
    chmodSync(join(folder, 'closed'), 0);
    const { files, unreachable } = await withoutRootRights(async () => new DiskStore([folder]).list(never));
    chmodSync(join(folder, 'closed'), 0o755);
    expect(files.map(({ file }) => file)).toEqual(['open/b.mov']);
    expect(unreachable).toEqual([
      { file: 'closed', kind: 'denied', reason: 'reading it is not permitted', remedy: 'give the user who runs gemel the right to read it, then run again' },
    ]);
  });

  it('says of a root that is not there that it is not there', async () => {
    const { files, unreachable } = await new DiskStore([join(folderOf(), 'nowhere')]).list(never);
    expect(files).toEqual([]);
    expect(unreachable).toMatchObject([{ file: 'nowhere', kind: 'denied', reason: 'it is no longer there' }]);
  });

  it('passes over pipes without waiting at them', async () => {
    const folder = folderOf('a.mov');
    execFileSync('mkfifo', [join(folder, 'pipe.mov')]);
    const store = new DiskStore([folder]);
    const { files, unreachable } = await store.list(never);
    expect(files.map(({ file }) => file)).toEqual(['a.mov']);
    expect(unreachable).toMatchObject([{ file: 'pipe.mov', kind: 'no-file' }]);
    await expect(store.open(join(folder, 'pipe.mov'), never)).rejects.toThrow('it is not an ordinary file');
  });

  it('stops when it is told to', async () => {
    await expect(new DiskStore([folderOf('a.mov')]).list(AbortSignal.abort())).rejects.toThrow('aborted');
  });
});

describe('reading files', () => {
  it('reads any stretch, and less at the end of the file', async () => {
    const folder = folderOf('abcdef');
    const file = await new DiskStore([folder]).open(join(folder, 'abcdef'), never);
    const text = async (offset: number, length: number): Promise<string> => Buffer.from(await file.read(offset, length)).toString();
    expect(file.size).toBe(6);
    expect([await text(0, 6), await text(2, 2), await text(4, 100), await text(6, 1), await text(100, 5)]).toEqual(['abcdef', 'cd', 'ef', '', '']);
    await file.close();
  });

  it('notices that a file grew while it was open', async () => {
    const folder = folderOf('a.mov');
    const path = join(folder, 'a.mov');
    const file = await new DiskStore([folder]).open(path, never);
    expect(await file.hasChanged()).toBe(false);
    writeFileSync(path, 'more than there was');
    expect(await file.hasChanged()).toBe(true);
    await file.close();
  });

  it('refuses a whole file beyond the bound, and reads it within', async () => {
    const folder = folderOf('report.csv');
    const store = new DiskStore([folder]);
    await expect(store.readWhole(join(folder, 'report.csv'), 9, never)).rejects.toThrow('it holds 10 bytes, more than the 9 gemel reads');
    expect(Buffer.from(await store.readWhole(join(folder, 'report.csv'), 10, never)).toString()).toBe('report.csv');
    expect(Buffer.from(await store.readBytes(join(folder, 'report.csv'), 7, 3, never)).toString()).toBe('csv');
  });

  it('says of a file that may not be read why and what to do', async () => {
    const folder = folderOf('a.mov');
    const path = join(folder, 'a.mov');
    chmodSync(folder, 0o755);
    chmodSync(path, 0);
    const failure: unknown = await withoutRootRights(async () => new DiskStore([folder]).open(path, never)).catch((caught: unknown) => caught);
    expect(failure).toBeInstanceOf(UnreachableFileError);
    expect(failure).toMatchObject({ reason: 'reading it is not permitted' });
  });

  it('opens for reading only: no flag or method of it writes', () => {
    const source = readFileSync(new URL('../../../src/adapters/filesystem/open-file.ts', import.meta.url), 'utf8');
    expect(source).not.toMatch(/O_WRONLY|O_RDWR|O_CREAT|O_TRUNC|O_APPEND|\.write|truncate|utimes|chmod/);
  });
});
