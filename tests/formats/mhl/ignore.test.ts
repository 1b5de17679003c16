import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ignoresOf } from '../../../src/formats/mhl/ignore.ts';
import { outsideProgram } from '../../support/outside.ts';

const FILES = [
  'a.txt', 'b.tmp', 'keep.tmp', '.DS_Store', 'A', 'tmp/a.txt', 'x/tmp/a.txt', 'x/y/z/a.txt', 'x/a.txt', 'x/b/a.txt', 'foo/bar', 'x/foo/bar', 'foo/x/bar', 'foo/x/y/bar',
  'logs/one.log', 'logs/deep/two.log', 'logs/keep.log', 'a[1].txt', 'a1.txt', 'b1.txt', 'c1.txt', '!odd', '#odd', 'sp ace', 'trail ', 'a-b', 'é.txt', 'ascmhl/x', 'x/ascmhl/y', 'Thumbs.db', 'star*', 'back',
];
const LISTS: readonly (readonly string[])[] = [
  ['*.tmp'], ['*.tmp', '!keep.tmp'], ['tmp'], ['tmp/'], ['/tmp'], ['/tmp/'], ['x/'], ['x/*'], ['x/*', '!x/a.txt'], ['x/', '!x/a.txt'], ['**/bar'], ['foo/**'], ['foo/**/bar'], ['foo/*/bar'], ['**/foo/bar'],
  ['/**'], ['**'], ['*'], ['*', '!*/'], ['?'], ['?1.txt'], ['[ab]1.txt'], ['[!a]1.txt'], ['[^a]1.txt'], ['[a-b]1.txt'], ['[]a]1.txt'], ['a\\[1\\].txt'], ['a[[]1].txt'], ['[[:alpha:]]1.txt'], ['\\!odd'], ['\\#odd'], ['#odd'],
  ['trail\\ '], ['sp ace   '], ['a.txt '], ['logs/*', '!logs/keep.log'], ['logs/**/*.log'], ['*.log', '!logs/', '!keep.log'], ['é.txt'], ['star\\*'], ['star*'], ['a*t'], ['*a*'], ['x/**/a.txt'], ['x**a.txt'], ['/a.txt'], ['./a.txt'], ['a.txt/'],
  ['ascmhl', 'ascmhl/'], [''], ['/'], ['!a.txt'], ['a.txt', '!a.txt', 'a.txt'], ['[a-'], ['back\\'], ['a?b'], ['**/'], ['x/y/**/'], ['**/z'],
];

describe('ignore patterns', () => {
  let folder = '';
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'gemel-ignore-'));
    for (const file of FILES) {
      mkdirSync(dirname(join(folder, file)), { recursive: true });
      writeFileSync(join(folder, file), '');
    }
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  // The standard has one .gitignore line a pattern, so git itself is the judge.
  it.skipIf(!outsideProgram('git'))('leave out what git leaves out', () => {
    const own = { ...process.env, GIT_CONFIG_GLOBAL: '/dev/null', GIT_CONFIG_SYSTEM: '/dev/null' };
    execFileSync('git', ['init', '-q', folder], { env: own });
    for (const list of LISTS) {
      writeFileSync(join(folder, '.git', 'info', 'exclude'), `${list.join('\n')}\n`);
      const shown = execFileSync('git', ['-C', folder, 'ls-files', '--others', '--exclude-standard', '-z'], { encoding: 'utf8', env: own }).split('\0');
      const ignores = ignoresOf(list);
      expect(FILES.filter((file) => !ignores(file, false)).toSorted(), JSON.stringify(list)).toEqual(FILES.filter((file) => shown.includes(file)).toSorted());
    }
  });

  it('answer in no time whatever stars a stranger wrote', () => {
    const ignores = ignoresOf([`${'*a'.repeat(200)}b`, `${'**/'.repeat(100)}nothing`]);
    const start = process.cpuUsage();
    expect(ignores(`${'a'.repeat(2000)}c`, false)).toBe(false);
    expect(process.cpuUsage(start).user).toBeLessThan(5_000_000);
  });
});
