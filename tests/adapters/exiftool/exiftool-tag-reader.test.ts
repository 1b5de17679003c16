import { spawnSync } from 'node:child_process';
import { copyFileSync, existsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { ExiftoolTagReader } from '../../../src/adapters/exiftool/exiftool-tag-reader.ts';
import { makeMovie, temporaryFolder } from '../../support/make-media.ts';
import { outsideProgram } from '../../support/outside.ts';

const never = new AbortController().signal;
const reader = new ExiftoolTagReader();
afterAll(async () => reader.close());

describe('asking ExifTool', () => {
  it('answers tags under their groups, numbers as stored', async () => {
    const path = join(temporaryFolder(), 'a.mov');
    await makeMovie(path, { size: '128x72' });
    expect(await reader.tags(path, never)).toMatchObject({ 'Track1:ImageWidth': 128, 'Track1:VideoFrameRate': 24, 'QuickTime:MajorBrand': 'qt  ' });
  });

  it.each(['-x.mov', '@x.mov', '#x.mov', 'touch x|.mov', '|touch x.mov', '&x.mov', '-if.mov', 'http:x.mov', 'a\nb.mov', 'a\rb.mov', ' a .mov', `q'"$(x).mov`, 'n%04d.mov', '\u00e9.mov', 'e\u0301.mov'])('reads a file named %j', async (name) => {
    const folder = temporaryFolder();
    await makeMovie(join(folder, 'plain.mov'));
    copyFileSync(join(folder, 'plain.mov'), join(folder, name));
    expect(await reader.tags(join(folder, name), never)).toMatchObject({ 'Track1:ImageWidth': 128 });
  });

  it.skipIf(process.platform === 'win32')('runs nothing, even where a name ends as a command does', async () => {
    const folder = temporaryFolder();
    writeFileSync(join(folder, 'run'), `#!/bin/sh\ntouch '${join(folder, 'ran')}'\n`, { mode: 0o755 });
    await makeMovie(join(folder, 'a.mov'));
    copyFileSync(join(folder, 'a.mov'), join(folder, 'run|'));
    expect(await reader.tags(join(folder, 'run|'), never)).toMatchObject({ 'File:FileType': 'MOV' });
    expect(existsSync(join(folder, 'ran'))).toBe(false);
  });

  it('has no answer for a file that is not there, and few words on one that is no movie', async () => {
    const folder = temporaryFolder();
    await expect(reader.tags(join(folder, 'missing.mov'), never)).rejects.toThrow();
    writeFileSync(join(folder, 'text.mov'), 'these are words');
    expect(await reader.tags(join(folder, 'text.mov'), never)).toMatchObject({ 'File:FileType': 'TXT' });
  });

  it('does not wait for an answer once it is told to stop', async () => {
    await expect(reader.tags('/dev/null', AbortSignal.abort(new Error('enough')))).rejects.toThrow('enough');
  });

  it.skipIf(!outsideProgram('pgrep'))('answers again after its process was killed, and leaves no process behind', async () => {
    const path = join(temporaryFolder(), 'a.mov');
    await makeMovie(path);
    const own = new ExiftoolTagReader();
    const before = children();
    await own.tags(path, never);
    const started = children().filter((pid) => !before.includes(pid));
    expect(started.length).toBeGreaterThan(0);
    for (const pid of started) process.kill(pid, 'SIGKILL');
    expect(await own.tags(path, never)).toMatchObject({ 'Track1:ImageWidth': 128 });
    await own.close();
    expect(children().filter((pid) => !before.includes(pid))).toEqual([]);
  });
});

/** Processes of ExifTool that this one started. pgrep ends with 1 when it finds none. */
function children(): readonly number[] {
  const { stdout } = spawnSync('pgrep', ['-P', String(process.pid), '-f', 'exiftool'], { encoding: 'utf8' });
  return stdout.split('\n').filter((line) => line !== '').map(Number);
}
