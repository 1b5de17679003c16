import { describe, expect, it } from 'vitest';
import { checkCollisions, checkEntries } from '../../../src/formats/mhl/odd-entries.ts';
import { pathFault } from '../../../src/formats/mhl/safe-path.ts';

const here = (file: string): string => file;

describe('a recorded path', () => {
  it.each(['a', 'Lead/A017C003.mov', ' a b ', 'a..b', '...', '日本/é.mov', 'ab:c', 'x/C:y', '👩‍🎬.mov', '-rf'])('may be "%s"', (path) => {
    expect(pathFault(path)).toBeUndefined();
  });

  it.each([
    '', '/', '/a', '..', '../a', 'a/..', 'a/../b', '.', './a', 'a/.', 'a//b', 'a/', 'a\\b', '\\\\server\\share', 'C:', 'C:/a', 'c:a', 'a\u0000b', 'a\nb', 'a\u001b[2J', 'a\u009b', '\ud800', 'a\udc00b', 'a\ufffe', 'x'.repeat(5000),
  ])('may not be %j', (path) => {
    expect(pathFault(path)).toBeDefined();
  });
});

describe('names that another system takes for one', () => {
  it.each([
    ['letter case', ['Lead/A.mov', 'Lead/a.mov'], ['Lead/A.mov']],
    ['letter case of a folder', ['Lead/a.mov', 'lead/b.mov'], ['Lead']],
    ['the form of an accent', ['caf\u00e9.mov', 'cafe\u0301.mov'], ['cafe\u0301.mov']],
    ['both at once', ['CAF\u00c9/x', 'cafe\u0301/y'], ['CAF\u00c9']],
  ])('are found: %s', (_what, paths, first) => {
    expect(checkCollisions(paths, here).map(({ file, code, severity }) => [file, code, severity])).toEqual(first.map((file) => [file, 'path-unsafe', 'stop']));
  });

  it('are not found where every name is its own', () => {
    expect(checkCollisions(['a', 'b', 'a b', 'x/a', 'x/b', 'A2'], here)).toEqual([]);
  });
});

describe('an entry of a folder', () => {
  it('that is a link, a pipe, or has a name nobody can write down is unsafe; one that cannot be read is told', () => {
    const codes = checkEntries([{ file: 'a', kind: 'link' }, { file: 'b', kind: 'other' }, { file: 'c\uFFFD', kind: 'unnamed' }, { file: 'd', kind: 'denied' }, { file: 'e\\f', kind: 'file' }, { file: 'g', kind: 'file' }, { file: 'h', kind: 'folder' }], here);
    expect(codes.map(({ file, code }) => `${file} ${code}`)).toEqual(['a path-unsafe', 'b path-unsafe', 'c\uFFFD path-unsafe', 'd unreadable-file', 'e\\f path-unsafe']);
  });
});
