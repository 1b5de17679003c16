import { chmodSync, copyFileSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { FfprobeClipProbe } from '../../../src/adapters/ffmpeg/ffprobe-clip-probe.ts';
import { locateProgram } from '../../../src/adapters/ffmpeg/locate-program.ts';
import { makeMovie, programPath, temporaryFolder } from '../../support/make-media.ts';

const never = new AbortController().signal;

/** Names that a program could take for an option, a protocol, a pattern or a command. */
const ODD_NAMES = ['-x.mov', '@x.mov', 'a b.mov', 'a\nb.mov', `q'"$(x);.mov`, 'http:x.mov', 'concat:a|b.mov', 'n%04d.mov', 'pipe:0.mov', '-i.mov', 'data:,x.mov', 'subfile,,start,0,end,9,,:x.mov', '\u00e9.mov', 'e\u0301.mov'];

async function builds(): Promise<readonly string[]> {
  const npm = await locateProgram('ffprobe', { asked: undefined, searchPath: undefined });
  return [...new Set([await programPath('ffprobe'), ...(npm.kind === 'found' ? [npm.path] : [])])];
}

describe('asking ffprobe', () => {
  it.each(ODD_NAMES)('reads a file named %j with every build at hand', async (name) => {
    const folder = temporaryFolder();
    await makeMovie(join(folder, 'plain.mov'), { timecode: '10:00:00:00' });
    copyFileSync(join(folder, 'plain.mov'), join(folder, name));
    for (const build of await builds()) {
      const answer = await new FfprobeClipProbe(build).probe(join(folder, name), never);
      expect(answer).toMatchObject({ streams: [{ codec_name: 'mjpeg', width: 128, r_frame_rate: '24/1' }, { tags: { timecode: '10:00:00:00' } }] });
    }
  });

  it('says what ffprobe said of a file it cannot read, without the place on this machine', async () => {
    const folder = temporaryFolder();
    const path = join(folder, 'A003C012.mov');
    await makeMovie(path);
    writeFileSync(path, readFileSync(path).subarray(0, 2000));
    const failure = await new FfprobeClipProbe(await programPath('ffprobe')).probe(path, never).catch(String);
    expect(failure).toMatch(/^Error: ffprobe said: /);
    expect(failure).not.toContain(folder);
  });

  it('opens no further file that a list calling itself .mov names', async () => {
    const folder = temporaryFolder();
    await makeMovie(join(folder, 'other.mov'));
    writeFileSync(join(folder, 'list.mov'), `ffconcat version 1.0\nfile '${join(folder, 'other.mov')}'\n`);
    await expect(new FfprobeClipProbe(await programPath('ffprobe')).probe(join(folder, 'list.mov'), never)).rejects.toThrow('ffprobe said');
  });

  it('gives up on a program that takes too long, and at once when told to stop', async () => {
    const slow = join(temporaryFolder(), 'ffprobe');
    writeFileSync(slow, '#!/bin/sh\nexec sleep 60\n');
    chmodSync(slow, 0o755);
    const started = performance.now();
    await expect(new FfprobeClipProbe(slow, 100).probe('/a.mov', never)).rejects.toThrow('ffprobe took longer than 0.1 s');
    const stop = new AbortController();
    const asked = new FfprobeClipProbe(slow).probe('/a.mov', stop.signal);
    stop.abort(new Error('enough'));
    await expect(asked).rejects.toThrow('enough');
    expect(performance.now() - started).toBeLessThan(20_000);
  });

  it('bounds what it listens to', async () => {
    const chatty = join(temporaryFolder(), 'ffprobe');
    writeFileSync(chatty, '#!/bin/sh\nexec yes\n');
    chmodSync(chatty, 0o755);
    await expect(new FfprobeClipProbe(chatty).probe('/a.mov', never)).rejects.toThrow('maxBuffer');
  });
});
