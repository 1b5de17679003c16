import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { ReadDay } from '../../../src/core/material/day.ts';
import { readDay } from '../../../src/steps/read/read-day.ts';
import type { ReadMemory } from '../../../src/steps/read/read-options.ts';
import { makeMovie, makeSequence, sharedFolder } from '../../support/make-media.ts';
import { MemoryCatalogue } from '../../support/memory-catalogue.ts';
import type { MemoryFile } from '../../support/memory-ports.ts';
import { memoryPorts, MemoryStore, readOptions } from '../../support/memory-ports.ts';

const NOW = 1_000_000;
const LOG = 'File,Slate,Take\nA003C012.mov,27B,3\n';
const SIDECAR = '<Clip><Scene>27</Scene></Clip>';
let movie: Uint8Array;
let other: Uint8Array;
let pictures: readonly Uint8Array[];

beforeAll(async () => {
  const folder = sharedFolder();
  await makeMovie(join(folder, 'a.mov'), { timecode: '10:00:00:00' });
  await makeMovie(join(folder, 'b.mov'), { timecode: '11:00:00:00', frames: 30 });
  await makeSequence(folder, 'p', 'exr', 3);
  movie = readFileSync(join(folder, 'a.mov'));
  other = readFileSync(join(folder, 'b.mov'));
  pictures = [1, 2, 3].map((number) => readFileSync(join(folder, `p.000100${number}.exr`)));
});

type Files = Readonly<Record<string, MemoryFile>>;

/** Reads a day with a memory; which files were opened on the way is told too. */
async function read(files: Files, memory?: ReadMemory, settleSeconds = 0): Promise<{ readonly day: ReadDay; readonly opened: readonly string[] }> {
  const store = new MemoryStore(files);
  const day = await readDay(memoryPorts(store, memory === undefined ? {} : { memory }, NOW), readOptions({ settleSeconds }), new AbortController().signal);
  expect(store.held).toBe(0);
  return { day, opened: [...new Set(store.opened)].toSorted() };
}

const fresh = (over: Partial<ReadMemory> = {}): ReadMemory => ({ catalogue: new MemoryCatalogue(), readers: 'these readers', ...over });
const sequence = (folder: string): Files => Object.fromEntries(pictures.map((bytes, index) => [`${folder}/p.${1001 + index}.exr`, { bytes }]));
const day = (): Files => ({ 'card/A003C012.mov': { bytes: movie, modifiedMs: 5 }, ...sequence('card'), 'card/A003C012.xml': { bytes: SIDECAR }, 'log.csv': { bytes: LOG } });

describe('a day that was read before', () => {
  it('opens no file that stayed the same, and comes to the same', async () => {
    const memory = fresh();
    const first = await read(day(), memory);
    expect(first.opened).toEqual(Object.keys(day()).toSorted());
    const second = await read(day(), memory);
    expect(second.opened).toEqual([]);
    expect(second.day).toEqual(first.day);
    expect(second.day).toEqual((await read(day())).day);
  });

  it('knows a moved clip and sequence again, and reads anew what their new names say', async () => {
    const memory = fresh();
    await read({ 'card/A003C012.mov': { bytes: movie, modifiedMs: 5 }, ...sequence('card') }, memory);
    // The movie under another roll and clip number: the names of roll and clip are in its name alone.
    const moved: Files = { 'renamed/B004C001.mov': { bytes: movie, modifiedMs: 5 }, ...sequence('renamed') };
    const puts: string[] = [];
    const keeping = memory.catalogue.keep.bind(memory.catalogue);
    memory.catalogue.keep = async (kind, entries) => {
      puts.push(...[...entries.keys()].map((key) => `${kind} ${key}`));
      await keeping(kind, entries);
    };
    const again = await read(moved, memory);
    expect(puts).toEqual([]);
    expect(again.day).toEqual((await read(moved)).day);
    expect(again.day.clips.map(({ file }) => file)).toEqual(['renamed/B004C001.mov', 'renamed/p.####.exr']);
    expect(again.day.clips[0]?.statements).toContainEqual(expect.objectContaining({ field: 'clip', value: 'C001' }));
    expect(JSON.stringify(again.day)).not.toContain('card/');
    expect((await memory.catalogue.places()).has('card/A003C012.mov')).toBe(false);
  });

  it('knows a card again that was deleted and offloaded anew', async () => {
    const memory = fresh();
    const first = await read(day(), memory);
    expect((await read({ 'log.csv': { bytes: LOG } }, memory)).day.clips).toEqual([]);
    const back = await read(day(), memory);
    expect(back.day).toEqual(first.day);
    // The clips were opened to know them by their content; notes go by place, size and time.
    expect(back.opened).not.toContain('log.csv');
  });

  it('reads a clip anew that changed, though its size and place are the same', async () => {
    const memory = fresh();
    await read({ 'A003C012.mov': { bytes: movie, modifiedMs: 5 } }, memory);
    const altered = Uint8Array.from(movie);
    altered.set(new TextEncoder().encode('XXXX'), 4);
    const again = await read({ 'A003C012.mov': { bytes: altered, modifiedMs: 6 } }, memory);
    expect(again.day).toEqual((await read({ 'A003C012.mov': { bytes: altered, modifiedMs: 6 } })).day);
    expect(again.day.clips[0]?.usable).toBe(false);
    const exchanged = await read({ 'A003C012.mov': { bytes: other, modifiedMs: 5 } }, memory);
    expect(exchanged.day.clips[0]?.frames).toBe(30);
  });

  it('reads a sequence anew to which a picture was added', async () => {
    const memory = fresh();
    await read(sequence('s'), memory);
    const longer = { ...sequence('s'), 's/p.1004.exr': { bytes: pictures[0] ?? '' } };
    expect((await read(longer, memory)).day.clips[0]?.frames).toBe(4);
  });

  it('reads everything anew for other readers', async () => {
    const catalogue = new MemoryCatalogue();
    await read(day(), fresh({ catalogue }));
    const other = await read(day(), fresh({ catalogue, readers: 'a newer version' }));
    expect(other.opened).toEqual(expect.arrayContaining(['card/A003C012.mov', 'card/A003C012.xml', 'log.csv']));
  });

  it('reads a report anew that changed, and recalls it under no other name', async () => {
    const memory = fresh();
    await read({ 'log.csv': { bytes: LOG, modifiedMs: 5 } }, memory);
    const changed = await read({ 'log.csv': { bytes: LOG.replace('27B', '28A'), modifiedMs: 6 } }, memory);
    expect(changed.day.notes[0]?.statements).toContainEqual(expect.objectContaining({ field: 'slate', value: '28A' }));
    const renamed = await read({ 'copy.csv': { bytes: LOG, modifiedMs: 5 } }, memory);
    expect(renamed.day.notes[0]?.statements[0]?.source).toMatchObject({ file: 'copy.csv' });
  });

  it('uses nothing that a catalogue was not given by gemel', async () => {
    const memory = fresh();
    const first = await read(day(), memory);
    for (const kind of ['reading', 'note']) {
      const keys = await memory.catalogue.keys(kind);
      await memory.catalogue.keep(kind, new Map(keys.map((key, index) => [key, ['{"cut off', '7', 'null', '[]'][index % 4] ?? ''])));
    }
    expect((await read(day(), memory)).day).toEqual(first.day);
  });
});

describe('what may still be growing', () => {
  it('is never kept, and read again until it has come to rest', async () => {
    const memory = fresh();
    // Cut off in the middle of its index, and changed just now.
    const files = (modifiedMs: number): Files => ({ 'A003C012.mov': { bytes: movie.subarray(0, 3000), modifiedMs } });
    await read(files(NOW - 1000), memory, 10);
    expect(await memory.catalogue.keys('reading')).toEqual([]);
    await read(files(NOW - 60_000), memory, 10);
    expect(await memory.catalogue.keys('reading')).toHaveLength(1);
  });

  it('is not kept when it changed while it was read', async () => {
    const memory = fresh();
    await read({ 'A003C012.mov': { bytes: movie, grows: true } }, memory);
    expect(await memory.catalogue.keys('reading')).toEqual([]);
  });
});

describe('clips read elsewhere', () => {
  it('are recalled from what was kept there, and read here when nothing came of them', async () => {
    const catalogue = new MemoryCatalogue();
    const files: Files = { 'a/A003C012.mov': { bytes: movie, modifiedMs: 5 }, 'a/A003C013.mov': { bytes: other, modifiedMs: 5 } };
    const here = await read(files);
    const asked: string[] = [];
    const memory = fresh({
      catalogue,
      elsewhere: async (clips) => {
        asked.push(...clips.map(({ found }) => found.file));
        // A worker that does the first clip alone.
        const apart = fresh();
        await read({ 'a/A003C012.mov': { bytes: movie, modifiedMs: 5 } }, apart);
        const [key = ''] = await apart.catalogue.keys('reading');
        expect(clips.map((clip) => clip.key)).toContain(key);
        await catalogue.keep('reading', await apart.catalogue.find('reading', [key]));
      },
    });
    expect((await read(files, memory)).day).toEqual(here.day);
    expect(asked).toEqual(['a/A003C012.mov', 'a/A003C013.mov']);
    await read(files, memory);
    expect(asked).toHaveLength(2);
  });
});
