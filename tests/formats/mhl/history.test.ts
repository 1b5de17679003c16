import { beforeAll, describe, expect, it } from 'vitest';
import { runningHashes } from '../../../src/adapters/hash/running-hashes.ts';
import { findRenamed } from '../../../src/formats/mhl/find-renamed.ts';
import { digestFolder, utf8 } from '../../../src/formats/mhl/folder-digests.ts';
import { folderTree } from '../../../src/formats/mhl/folder-tree.ts';
import type { Digest } from '../../../src/formats/mhl/hash-format.ts';
import type { KnownFile } from '../../../src/formats/mhl/history.ts';
import { assembleHistory } from '../../../src/formats/mhl/history.ts';
import type { FileRecord, FolderRecord, HashAction, Manifest } from '../../../src/formats/mhl/manifest.ts';
import { FULL } from '../../support/written-manifest.ts';

const file = (path: string, value: string, action: HashAction, previousPath?: string, format: 'xxh64' | 'md5' = 'xxh64'): FileRecord => ({
  kind: 'file', path, digests: [{ format, value, action }], ...(previousPath === undefined ? {} : { previousPath }),
});
const folder = (path: string, previousPath?: string): FolderRecord => ({ kind: 'folder', path, content: {}, structure: {}, ...(previousPath === undefined ? {} : { previousPath }) });
const history = (...generations: readonly (readonly (FileRecord | FolderRecord)[])[]): ReturnType<typeof assembleHistory> =>
  assembleHistory(generations.map((records, index) => ({ sequence: index + 1, file: `${index + 1}`, manifest: { ...FULL, ignore: [`p${index}`], records } satisfies Manifest })));
const trusted = (known: ReturnType<typeof assembleHistory>): readonly string[] =>
  [...known.files.values()].map(({ path, trusted: digests }) => `${path} ${[...digests].map(([format, { value, generation }]) => `${format}=${value}@${generation}`).join(',')}`).toSorted();

describe('what all generations together know', () => {
  it('holds the earliest good digest of each format, and never one that failed', () => {
    const known = history([file('a', '1', 'original')], [file('a', '2', 'failed')], [file('a', '1', 'verified'), file('b', '9', 'failed')], [file('a', '7', 'verified', undefined, 'md5')]);
    expect(trusted(known)).toEqual(['a xxh64=1@1,md5=7@4', 'b ']);
  });

  it('keeps files that later generations do not list, and every pattern', () => {
    const known = history([file('a', '1', 'original'), file('b', '2', 'original')], [file('c', '3', 'original')]);
    expect(trusted(known)).toEqual(['a xxh64=1@1', 'b xxh64=2@1', 'c xxh64=3@2']);
    expect([known.ignore, known.latest]).toEqual([['p0', 'p1'], 2]);
  });

  it('follows renames one generation at a time, and two files that swap names', () => {
    const known = history([file('a', '1', 'original'), file('b', '2', 'original')], [file('b', '1', 'verified', 'a'), file('a', '2', 'verified', 'b')], [file('c', '1', 'verified', 'b')]);
    expect(trusted(known)).toEqual(['a xxh64=2@1', 'c xxh64=1@1']);
    expect(known.strayRenames).toEqual([]);
  });

  it('takes files along with a renamed folder, whether they have a rename of their own or not', () => {
    const first = [file('x/a', '1', 'original'), file('x/y/b', '2', 'original'), file('xx/c', '3', 'original'), folder('x'), folder('x/y')];
    const known = history(first, [folder('z', 'x'), file('z/y/new', '2', 'verified', 'x/y/b')]);
    expect(trusted(known)).toEqual(['xx/c xxh64=3@1', 'z/a xxh64=1@1', 'z/y/new xxh64=2@1']);
    expect([...known.folders.keys()].toSorted()).toEqual(['z', 'z/y']);
  });

  it('names a rename from nowhere', () => {
    // The file is new under its name, so only its own record speaks for it.
    expect(history([file('a', '1', 'original')], [file('c', '3', 'verified', 'b')]).strayRenames).toEqual([{ file: '2', path: 'c', previousPath: 'b' }]);
  });
});

describe('a missing file and an unknown one', () => {
  const missing = (path: string, value: string): KnownFile => ({ path, sizeBytes: 1, generation: 1, trusted: new Map([['xxh64', { value, generation: 1 }]]) });
  it('are a rename when they alone have the same bytes', () => {
    expect([...findRenamed([missing('a', '1'), missing('b', '2')], new Map([['c', { xxh64: '1' }], ['d', { xxh64: '3' }]]))]).toEqual([['a', 'c']]);
  });
  it('are no rename when others are alike: nothing is guessed', () => {
    expect([...findRenamed([missing('a', '1')], new Map([['c', { xxh64: '1' }], ['d', { xxh64: '1' }]]))]).toEqual([]);
    expect([...findRenamed([missing('a', '1'), missing('b', '1')], new Map([['c', { xxh64: '1' }]]))]).toEqual([]);
  });
});

describe('digests of folders', () => {
  let digest: Digest;
  beforeAll(async () => {
    const hashes = await runningHashes();
    digest = (format, bytes) => {
      hashes[format].start();
      hashes[format].add(bytes);
      return hashes[format].end();
    };
  });
  const of = (files: Readonly<Record<string, string>>, folders: readonly string[] = []): ReturnType<typeof digestFolder> => {
    const tree = folderTree(Object.entries(files).map(([path, text]) => [path, digest('xxh64', utf8(text))] as const), folders, () => undefined, new Set());
    if (tree === undefined) throw new Error('no tree');
    return digestFolder(tree, 'xxh64', digest);
  };

  // ascmitc/mhl, examples/scenarios/Output/scenario_01: the folder Clips with two files of these bytes.
  it('are those of the published example', () => {
    const clips = of({ 'Clips/A002C006_141024_R2EC.mov': 'abcd\n', 'Clips/A002C007_141024_R2EC.mov': 'def\n' }).get('Clips');
    expect(clips).toEqual({ content: '4c226b42e27d7af3', structure: '906faa843d591a9f' });
  });

  it('tell a rename by the structure alone, and an edit or a move by both', () => {
    const before = of({ 'x/a': '1', 'y/b': '2' }).get('');
    const renamed = of({ 'x/c': '1', 'y/b': '2' }).get('');
    const edited = of({ 'x/a': '1', 'y/b': '3' }).get('');
    const moved = of({ 'x/b': '2', 'y/a': '1' }).get('');
    expect(renamed?.content).toBe(before?.content);
    expect(renamed?.structure).not.toBe(before?.structure);
    expect([edited?.content === before?.content, edited?.structure === before?.structure]).toEqual([false, false]);
    expect(moved?.structure).not.toBe(before?.structure);
  });

  it('of an empty folder are the digest of nothing, and it counts in the folder above', () => {
    const found = of({ a: '1' }, ['empty']);
    expect(found.get('empty')).toEqual({ content: 'ef46db3751d8e999', structure: 'ef46db3751d8e999' });
    expect(found.get('')).not.toEqual(of({ a: '1' }).get(''));
  });

  it('do not depend on the order files are given in', () => {
    const files = { 'x/a': '1', 'x/b': '2', 'x/y/c': '3', d: '4' };
    expect(new Map(of(Object.fromEntries(Object.entries(files).toReversed())))).toEqual(new Map(of(files)));
  });
});

describe('text as UTF-8', () => {
  it('is what the platform makes of it', () => {
    for (const text of ['', 'aé日👩‍🎬\u0000\u07ff\u0800\uffff', '\u{10ffff}']) expect([...utf8(text)]).toEqual([...new TextEncoder().encode(text)]);
  });
});
