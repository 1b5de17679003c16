import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { groupSequences, isIgnoredName, parseFrameName } from '../../../src/formats/media/sequence-name.ts';

function summary(names: readonly string[]): readonly string[] {
  return groupSequences(names).map(({ displayName, facts, files }) => `${displayName} ${facts === undefined ? 'still' : `${facts.first}-${facts.last}`} ${files.length}`);
}

describe('the frame number of a picture', () => {
  // Common practice of picture sequences, no source.
  it.each([
    ['A041C003_261125_R1AB.0001001.exr', 'A041C003_261125_R1AB.', 1001],
    ['plate_1001.dpx', 'plate_', 1001],
    ['27B-0003.tif', '27B-', 3],
    ['plate0001.exr', 'plate', 1],
    ['0001.png', '', 1],
    ['plate.-0001.exr', 'plate.', -1],
    ['a.1.2.3.png', 'a.1.2.', 3],
  ])('of %s is its last run of digits', (name, prefix, number) => {
    expect(parseFrameName(name)).toMatchObject({ prefix, number });
  });

  it.each(['A041C003_261125_R1AB.exr', 'take3.png', 'still.png', '1001', 'x.1234567890123456.exr'])('is not in %s', (name) => {
    expect(parseFrameName(name)).toBeUndefined();
  });
});

describe('grouping', () => {
  it('puts pictures of one name together in the order of their numbers', () => {
    const [group] = groupSequences(['p.1002.exr', 'p.1001.exr', 'p.1000.exr']);
    expect(group).toEqual({
      displayName: 'p.####.exr',
      files: [{ name: 'p.1000.exr', number: 1000 }, { name: 'p.1001.exr', number: 1001 }, { name: 'p.1002.exr', number: 1002 }],
      facts: { first: 1000, last: 1002, padding: 4, missing: [] },
      duplicates: [],
    });
  });

  it('lists holes as half-open runs', () => {
    expect(groupSequences(['p.1001.exr', 'p.1004.exr', 'p.1005.exr', 'p.1007.exr'])[0]?.facts?.missing).toEqual([{ start: 1002, end: 1004 }, { start: 1006, end: 1007 }]);
  });

  it('lets numbers grow past their padding', () => {
    expect(summary(['p.9999.exr', 'p.10000.exr', 'p.10001.exr'])).toEqual(['p.####.exr 9999-10001 3']);
    expect(summary(['p.9.exr', 'p.10.exr'])).toEqual(['p.#.exr 9-10 2']);
  });

  it('keeps mixed padding together while no number occurs twice, else takes it apart and names the numbers', () => {
    expect(summary(['p.0001.exr', 'p.2.exr'])).toEqual(['p.####.exr 1-2 2']);
    const groups = groupSequences(['p.01.exr', 'p.02.exr', 'p.1.exr', 'p.3.exr']);
    expect(groups.map(({ displayName, files, duplicates }) => [displayName, files.length, duplicates])).toEqual([['p.##.exr', 2, [1]], ['p.#.exr', 2, [1]]]);
  });

  it('runs through negative numbers', () => {
    expect(summary(['p.-0001.exr', 'p.0000.exr', 'p.0001.exr'])).toEqual(['p.####.exr -1-1 3']);
  });

  it('calls one numbered picture a sequence of one, and one without a number a still', () => {
    expect(summary(['p.1001.exr', 'chart.tif'])).toEqual(['chart.tif still 1', 'p.####.exr 1001-1001 1']);
  });

  it('leaves out what is no picture', () => {
    for (const name of ['._p.1001.exr', '.DS_Store', 'Thumbs.db', 'p.1001.exr.part', 'p.1001.exr.tmp']) expect(isIgnoredName(name)).toBe(true);
    // Names as manuals give them: rsync(1) `--temp-dir`, rclone `--partial-suffix`, sftp clients, aria2c(1), lftp(1) `xfer:temp-file-name`, cp(1) `--backup`, emacs(1), browsers.
    for (const name of [
      '.A003C012.mov.Xa3f9Q', 'A003C012.mov.3f9a01cc.partial', 'A003C012.mov.filepart', 'A003C012.MOV.FILEPART', 'A003C012.mov.aria2', '.in.A003C012.mov', 'A003C012.mov~', 'A003C012.mov.~2~',
      '#log.csv#', '.#log.csv', '~$log.csv', 'A003C012.mov.crdownload', 'A003C012.mov.download', 'A003C012.mov.opdownload', 'log.csv.sb-1a2b3c4d-Xy12Zz', '.nfs000000000123abcd00000001', '~sync~A003C012.mov.tmp',
    ]) expect(isIgnoredName(name), name).toBe(true);
    for (const name of ['A003C012.mov', 'part.mov', 'A003C012_part.mov', 'tmp.1001.exr', 'partial.csv', 'A003C012.mov.copy.mov', 'temp', '~A003C012.mov', '#4 pick-up.csv', 'log~1.csv', 'download.mxf']) expect(isIgnoredName(name), name).toBe(false);
    expect(summary(['p.1001.exr', '._p.1001.exr', 'p.1002.exr.tmp'])).toEqual(['p.####.exr 1001-1001 1']);
  });

  it('does not depend on the order of the names, and loses none', () => {
    const name = fc.tuple(fc.constantFrom('p.', 'q_', 'r', 'A003C012.'), fc.nat(2000), fc.nat(5), fc.constantFrom('.exr', '.dpx')).map(([prefix, number, padding, extension]) => `${prefix}${String(number).padStart(padding, '0')}${extension}`);
    fc.assert(
      fc.property(fc.uniqueArray(name, { maxLength: 60 }), (names) => {
        const groups = groupSequences(names);
        expect(groupSequences(names.toReversed())).toEqual(groups);
        expect(groups.flatMap(({ files }) => files.map((file) => file.name)).toSorted()).toEqual(names.toSorted());
        for (const { facts, files } of groups) {
          if (facts === undefined) continue;
          const missing = facts.missing.reduce((sum, { start, end }) => sum + end - start, 0);
          expect(new Set(files.map(({ number }) => number)).size + missing).toBe(facts.last - facts.first + 1);
        }
      }),
    );
  });
});
