import { execFileSync } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import type { RunningSum } from '../../../src/adapters/filesystem/package-folder.ts';
import { PackageFolder } from '../../../src/adapters/filesystem/package-folder.ts';
import { UsageError } from '../../../src/core/material/errors.ts';
import { quickSum } from '../../../src/pipeline/quick-sum.ts';
import { temporaryFolder, withoutRootRights } from '../../support/make-media.ts';

/** A sum of bytes, good enough to tell that pieces come in order and all of them. */
function kindOfSum(kind: string): RunningSum {
  let sum = 0;
  return { start: () => { sum = 0; }, add: (piece) => { for (const byte of piece) sum = (sum * 31 + byte) % 1_000_003; }, end: () => `${kind} ${sum}` };
}

const bytes = new TextEncoder().encode('frame');

describe('a package being built', () => {
  it('is nowhere under its name until it is whole', async () => {
    const place = temporaryFolder();
    const build = await PackageFolder.open(join(place, 't1'));
    await build.write('SMR/plates/a.1001.dpx', bytes, 'recipe');
    expect(existsSync(join(place, 't1'))).toBe(false);
    await build.commit();
    expect(readFileSync(join(place, 't1', 'SMR', 'plates', 'a.1001.dpx'), 'utf8')).toBe('frame');
    expect(readdirSync(place)).toEqual(['t1']);
  });

  it.each([['the plain check sum', undefined], ['the quick one', quickSum()]])('takes over from a broken run what was made alike and is unharmed, nothing else: by %s', async (_how, sum) => {
    const place = temporaryFolder();
    const broken = await PackageFolder.open(join(place, 't1'), sum);
    for (const name of ['same', 'other', 'harmed', 'cut', 'left']) await broken.write(name, bytes, 'recipe');
    await broken.release();
    const building = join(place, '.t1.building');
    writeFileSync(join(building, 'package', 'harmed'), 'fra!e');
    writeFileSync(join(building, 'package', 'cut'), 'fra');
    writeFileSync(join(building, 'package', 'unknown'), 'frame');
    writeFileSync(join(building, 'notes'), `${readFileSync(join(building, 'notes'), 'utf8')}{"file":"cut off, si`);
    const build = await PackageFolder.open(join(place, 't1'), sum);
    const holds = async (name: string, recipe = 'recipe'): Promise<boolean> => build.holds(name, recipe);
    expect([await holds('same'), await holds('other', 'another recipe'), await holds('harmed'), await holds('cut'), await holds('unknown')]).toEqual([true, false, false, false, false]);
    await build.tidy();
    await build.commit();
    expect(readdirSync(join(place, 't1'))).toEqual(['same']);
  });

  it('makes anew what was noted by a check sum of another kind, and notes a file another program wrote as one it wrote itself', async () => {
    const place = temporaryFolder();
    const first = await PackageFolder.open(join(place, 't1'), kindOfSum('a'));
    await first.write('own', bytes, 'recipe');
    writeFileSync(await first.pathFor('other'), bytes);
    await first.kept('other', 'recipe');
    await first.release();
    const alike = await PackageFolder.open(join(place, 't1'), kindOfSum('a'));
    expect([await alike.holds('own', 'recipe'), await alike.holds('other', 'recipe')]).toEqual([true, true]);
    await alike.release();
    const unlike = await PackageFolder.open(join(place, 't1'), kindOfSum('b'));
    expect([await unlike.holds('own', 'recipe'), await unlike.holds('other', 'recipe')]).toEqual([false, false]);
    await unlike.release();
  });

  it('never touches a package that is there', async () => {
    const place = temporaryFolder();
    mkdirSync(join(place, 't1'));
    writeFileSync(join(place, 't1', 'turnover.json'), '{}');
    await expect(PackageFolder.open(join(place, 't1'))).rejects.toThrow('a package that was handed over is never changed');
  });

  it('is built by one gemel at a time, and by the next when that one is gone', async () => {
    const place = temporaryFolder();
    mkdirSync(join(place, '.t1.building'));
    writeFileSync(join(place, '.t1.building', 'lock'), '1');
    await expect(PackageFolder.open(join(place, 't1'))).rejects.toThrow('another gemel (process 1) is building this package');
    writeFileSync(join(place, '.t1.building', 'lock'), '4194304000');
    await expect(PackageFolder.open(join(place, 't1'))).resolves.toBeDefined();
  });

  it('says where it may not write, and what to do', async () => {
    const place = temporaryFolder();
    chmodSync(place, 0o555);
    onTestFinished(() => chmodSync(place, 0o755));
    const refused = withoutRootRights(async () => PackageFolder.open(join(place, 'closed', 't1')));
    await expect(refused).rejects.toThrow(UsageError);
    await expect(withoutRootRights(async () => PackageFolder.open(join(place, 't1')))).rejects.toThrow('you may not write there; give --out where you may');
  });

  it('says that the disk is full, leaves no package, and goes on when there is room', async (context) => {
    const place = temporaryFolder();
    try {
      execFileSync('mount', ['-t', 'tmpfs', '-o', 'size=256k', 'tmpfs', place], { stdio: 'ignore' });
    } catch {
      process.stderr.write('left out: a small tmpfs cannot be mounted here\n');
      return context.skip();
    }
    onTestFinished(() => void execFileSync('umount', ['-l', place]));
    const build = await PackageFolder.open(join(place, 't1'));
    await build.write('a.1001.dpx', new Uint8Array(100_000), 'recipe');
    await expect(build.write('a.1002.dpx', new Uint8Array(400_000), 'recipe')).rejects.toThrow('the disk is full; make room or give --out on another disk');
    await build.release();
    expect(existsSync(join(place, 't1'))).toBe(false);
    execFileSync('mount', ['-o', 'remount,size=2m', place]);
    const again = await PackageFolder.open(join(place, 't1'));
    expect(await again.holds('a.1001.dpx', 'recipe')).toBe(true);
    await again.write('a.1002.dpx', new Uint8Array(400_000), 'recipe');
    await again.commit();
    expect(readdirSync(join(place, 't1'))).toEqual(['a.1001.dpx', 'a.1002.dpx']);
  });
});
