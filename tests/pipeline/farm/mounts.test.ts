import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { UsageError } from '../../../src/core/material/errors.ts';
import { fromShared, parseMounts, toShared } from '../../../src/pipeline/farm/mounts.ts';

const HERE = { shuttle: '/Volumes/SHUTTLE_01', day: '/Volumes/SHUTTLE_01/DAY_04' };

describe('a path on a shared volume', () => {
  it('means the same on a machine that has the volume elsewhere', () => {
    const shared = toShared('/Volumes/SHUTTLE_01/DAY_03/A003/a b.mov', HERE);
    expect(shared).toEqual({ mount: 'shuttle', path: 'DAY_03/A003/a b.mov' });
    expect(fromShared(shared, { shuttle: '/mnt/shuttle' })).toBe('/mnt/shuttle/DAY_03/A003/a b.mov');
  });

  it('goes by the innermost volume that holds it', () => {
    expect(toShared('/Volumes/SHUTTLE_01/DAY_04/a.mov', HERE)).toEqual({ mount: 'day', path: 'a.mov' });
  });

  it('stays as it is when no volume holds it, not even one whose name begins alike', () => {
    expect(toShared('/Volumes/SHUTTLE_012/a.mov', HERE)).toEqual({ mount: '', path: '/Volumes/SHUTTLE_012/a.mov' });
    expect(fromShared({ mount: '', path: '/Volumes/SHUTTLE_012/a.mov' }, HERE)).toBe('/Volumes/SHUTTLE_012/a.mov');
  });

  it('comes back as it was, whatever its name', () => {
    const part = fc.string({ minLength: 1, unit: 'grapheme' }).filter((name) => !name.includes('/') && !name.includes('\0') && name !== '.' && name !== '..');
    fc.assert(
      fc.property(fc.array(part, { minLength: 1, maxLength: 4 }), (parts) => {
        const path = `/Volumes/SHUTTLE_01/${parts.join('/')}`;
        expect(fromShared(toShared(path, HERE), HERE)).toBe(path);
      }),
    );
  });

  it('that leads out of its volume is refused', () => {
    for (const path of ['..', '../etc/passwd', 'a/../../b', 'a//b', '/etc/passwd', '', 'a\0b']) {
      expect(() => fromShared({ mount: 'shuttle', path }, HERE), path).toThrow(/leads out of the volume "shuttle"/);
    }
    expect(() => fromShared({ mount: '', path: 'a.mov' }, HERE)).toThrow(/no absolute path/);
  });

  it('on a volume this machine does not know is refused, with what to do', () => {
    expect(() => fromShared({ mount: 'vault', path: 'a.mov' }, HERE)).toThrow('start it with --mount vault=FOLDER');
  });
});

describe('--mount', () => {
  it('takes a name and a folder, which may hold "="', () => {
    expect(parseMounts(['shuttle=/Volumes/SHUTTLE_01/', 'day-4=/media/a=b'])).toEqual({ shuttle: '/Volumes/SHUTTLE_01', 'day-4': '/media/a=b' });
  });

  it('names every one that is wrong at once', () => {
    const problem = (() => {
      try {
        return parseMounts(['shuttle', '=x', 'a b=/c', 'ok=/d', 'empty=']);
      } catch (thrown) {
        return thrown;
      }
    })();
    expect(problem).toBeInstanceOf(UsageError);
    expect(problem instanceof UsageError ? problem.problems : []).toHaveLength(4);
  });
});
