import { chmodSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { locateProgram } from '../../../src/adapters/ffmpeg/locate-program.ts';
import { toolVersions } from '../../../src/adapters/ffmpeg/tool-versions.ts';
import { temporaryFolder } from '../../support/make-media.ts';

function program(folder: string, name: string, mode = 0o755, text = '#!/bin/sh\necho "ffmpeg version 9.9-test Copyright"\n'): string {
  writeFileSync(join(folder, name), text);
  chmodSync(join(folder, name), mode);
  return join(folder, name);
}

describe('finding ffmpeg and ffprobe', () => {
  it('takes the one that was asked for before one on PATH', async () => {
    const [asked, onPath] = [temporaryFolder(), temporaryFolder()];
    const path = program(asked, 'my-ffmpeg');
    program(onPath, 'ffmpeg');
    expect(await locateProgram('ffmpeg', { asked: path, searchPath: onPath })).toEqual({ kind: 'found', name: 'ffmpeg', path, from: 'GEMEL_FFMPEG' });
  });

  it('falls back on nothing when the one asked for cannot run', async () => {
    const folder = temporaryFolder();
    program(folder, 'ffmpeg');
    const missing = await locateProgram('ffmpeg', { asked: join(folder, 'nowhere'), searchPath: folder });
    expect(missing).toEqual({ kind: 'missing', name: 'ffmpeg', tried: [`GEMEL_FFMPEG: ${join(folder, 'nowhere')} is not there`] });
  });

  it('takes the first on PATH, in the order of PATH, and never from a relative folder', async () => {
    const [first, second] = [temporaryFolder(), temporaryFolder()];
    const path = program(first, 'ffprobe');
    program(second, 'ffprobe');
    expect(await locateProgram('ffprobe', { asked: undefined, searchPath: `.:${first}:${second}` })).toMatchObject({ path, from: 'PATH' });
  });

  it('takes the build npm brought when PATH has none', async () => {
    const located = await locateProgram('ffmpeg', { asked: '', searchPath: temporaryFolder() });
    expect(located).toMatchObject({ kind: 'found', from: 'npm package @ffmpeg-installer/ffmpeg' });
  });

  it('says of a file that may not be run how to mend it', async () => {
    const path = program(temporaryFolder(), 'ffmpeg', 0o644);
    const missing = await locateProgram('ffmpeg', { asked: path, searchPath: undefined });
    expect(missing).toMatchObject({ kind: 'missing', tried: [expect.stringContaining('chmod a+rx')] });
  });
});

describe('what the programs can do', () => {
  const never = new AbortController().signal;

  it('says which version runs and which pictures it cannot decode', async () => {
    const located = await locateProgram('ffmpeg', { asked: undefined, searchPath: undefined });
    const [ffmpeg] = await toolVersions([located], never);
    // The build of npm's @ffmpeg-installer is of 2018 and decodes all of these (`ffmpeg -decoders`).
    expect(ffmpeg).toMatchObject({ name: 'ffmpeg', from: 'npm package @ffmpeg-installer/ffmpeg', lacks: [] });
    expect(ffmpeg?.version).toMatch(/^N-\d+|^\d/);
  });

  it('names decoders that are missing', async () => {
    const path = program(temporaryFolder(), 'ffmpeg');
    const [ffmpeg] = await toolVersions([{ kind: 'found', name: 'ffmpeg', path, from: 'PATH' }], never);
    expect(ffmpeg).toMatchObject({ version: '9.9-test', lacks: ['prores', 'dnxhd', 'h264', 'hevc', 'mpeg2video', 'mjpeg', 'exr', 'dpx', 'tiff', 'png'] });
  });

  it('tells a program that is something else, and one that does not start', async () => {
    const folder = temporaryFolder();
    const other = program(folder, 'ffprobe', 0o755, '#!/bin/sh\necho hello\n');
    const broken = program(folder, 'ffmpeg', 0o755, '#!/nowhere/sh\n');
    const [probe, ffmpeg, none] = await toolVersions(
      [
        { kind: 'found', name: 'ffprobe', path: other, from: 'PATH' },
        { kind: 'found', name: 'ffmpeg', path: broken, from: 'PATH' },
        { kind: 'missing', name: 'ffmpeg', tried: ['PATH: not there'] },
      ],
      never,
    );
    expect(probe?.fault).toBe('it does not answer as ffprobe does (exit code 0)');
    expect(ffmpeg?.fault).toContain('ENOENT');
    expect(none).toEqual({ name: 'ffmpeg', lacks: [], fault: 'PATH: not there' });
  });
});
