import { describe, expect, it } from 'vitest';
import { isRaw, sortFiles } from '../../../src/steps/read/sort-files.ts';

const found = (...files: readonly string[]) => files.map((file) => ({ path: `/media/${file}`, file, sizeBytes: 1, modifiedMs: 0 }));
const names = (list: readonly { readonly file: string }[]): readonly string[] => list.map(({ file }) => file);

describe('sorting the files of a day', () => {
  it('tells movies, sequences, tables, sidecars and cuts by their endings, whatever the case of the letters', () => {
    const sorted = sortFiles(found('b.MOV', 'a.mxf', 'c.avi', 'r.R3D', 'log.CSV', 'notes.txt', 'move.f4', 'a.XML', 'cut.EDL', 'cut.otio', 'corrections.yaml', 'x'));
    expect(names(sorted.movies)).toEqual(['a.mxf', 'b.MOV', 'c.avi', 'r.R3D']);
    expect(names(sorted.tables)).toEqual(['log.CSV', 'move.f4', 'notes.txt']);
    expect(names(sorted.sidecars)).toEqual(['a.XML']);
    expect(names(sorted.cuts)).toEqual(['cut.EDL', 'cut.otio']);
    expect(names(sorted.unused)).toEqual(['x']);
  });

  it('counts copies that never ended among what it does not use, and names no clutter at all', () => {
    const sorted = sortFiles(found('A003C012.mov.part', 'log.csv~', '~$log.csv', '._a.mov', '.a.mov.Xa3f9Q', 'Thumbs.db'));
    expect(names(sorted.unused)).toEqual(['A003C012.mov.part', 'log.csv~', '~$log.csv']);
    expect([sorted.movies, sorted.tables].flatMap(names)).toEqual([]);
  });

  it('keeps sequences of one name in two folders apart', () => {
    const sorted = sortFiles(found('one/p.0001.exr', 'two/p.0001.exr', 'one/p.0002.exr', 'two/p.0004.exr'));
    expect(sorted.sequences.map(({ file, facts }) => [file, facts.first, facts.last, facts.missing])).toEqual([
      ['one/p.####.exr', 1, 2, []],
      ['two/p.####.exr', 1, 4, [{ start: 2, end: 4 }]],
    ]);
  });

  it('takes a single numbered EXR for a clip, but a single PNG or TIFF for a still beside the clips', () => {
    const sorted = sortFiles(found('clean.exr', 'p.0001.dpx', 'board.png', 'chart_01.tif', 'q.1.png', 'q.2.png'));
    expect(names(sorted.sequences)).toEqual(['clean.exr', 'p.####.dpx', 'q.#.png']);
    expect(names(sorted.unused)).toEqual(['board.png', 'chart_01.tif']);
  });

  it('puts every file in one list, in an order that does not depend on the listing', () => {
    const files = found('b.mov', 'a.mov', 'p.2.exr', 'p.10.exr', 'z.csv', 'a.xml', 'n.wav');
    expect(sortFiles(files.toReversed())).toEqual(sortFiles(files));
  });

  it('knows raw by its ending', () => {
    expect(['a.r3d', 'a.braw', 'a.dng', 'a.mov', 'a.exr'].map(isRaw)).toEqual([true, true, true, false, false]);
  });
});
