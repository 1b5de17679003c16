import { appendFileSync, chmodSync, copyFileSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ExiftoolTagReader } from '../../../src/adapters/exiftool/exiftool-tag-reader.ts';
import { FfprobeClipProbe } from '../../../src/adapters/ffmpeg/ffprobe-clip-probe.ts';
import { DiskStore } from '../../../src/adapters/filesystem/disk-store.ts';
import type { ReadDay } from '../../../src/core/material/day.ts';
import { systemClock } from '../../../src/pipeline/system-clock.ts';
import type { Clock } from '../../../src/ports.ts';
import { readDay } from '../../../src/steps/read/read-day.ts';
import { fingerprint, makeMovie, makeSequence, programPath, sharedFolder, temporaryFolder, withoutRootRights } from '../../support/make-media.ts';
import { memoryPorts, readOptions } from '../../support/memory-ports.ts';

const never = new AbortController().signal;
const tags = new ExiftoolTagReader();
let good: string;

beforeAll(async () => {
  const folder = sharedFolder();
  good = join(folder, 'good.mov');
  await makeMovie(good, { timecode: '10:00:00:00' });
  await makeMovie(join(folder, 'good.mp4'), { codec: ['-c:v', 'mpeg4', '-pix_fmt', 'yuv420p'] });
  await makeMovie(join(folder, 'good.mxf'), { codec: ['-c:v', 'mpeg2video', '-b:v', '2M', '-pix_fmt', 'yuv420p'], timecode: '10:00:00:00', rate: '25' });
  await makeMovie(join(folder, 'good.avi'));
});
afterAll(async () => tags.close());

/** A folder with one good clip beside whatever the test adds: the rest of the day must still be done. */
function dayFolder(): string {
  const folder = temporaryFolder();
  copyFileSync(good, join(folder, 'good.mov'));
  return folder;
}

async function read(folder: string, settleSeconds = 0, clock: Clock = systemClock): Promise<ReadDay> {
  const ports = memoryPorts(new DiskStore([folder]), { probe: new FfprobeClipProbe(await programPath('ffprobe')), tags, clock });
  return readDay(ports, readOptions({ settleSeconds }), never);
}

/** Every problem of a day as "code severity file place", and a check that the good clip is among the usable ones. */
function faultsOf(day: ReadDay): readonly string[] {
  expect(day.clips.find(({ file }) => file === 'good.mov')).toMatchObject({ usable: true, problems: [] });
  const all = [...day.clips.flatMap(({ problems }) => problems), ...day.problems];
  return all.map(({ code, severity, file, place }) => `${code} ${severity} ${file} ${place}`.trim());
}

describe('bad clips on a disk', () => {
  it.each(['mov', 'mp4', 'mxf', 'avi', 'r3d'])('an empty .%s is unreadable', async (extension) => {
    const folder = dayFolder();
    writeFileSync(join(folder, `a.${extension}`), '');
    expect(faultsOf(await read(folder))).toEqual([`unreadable-clip stop a.${extension}`]);
  });

  it.each(['mov', 'mp4', 'mxf'])('a .%s cut in the middle is cut off', async (extension) => {
    const folder = dayFolder();
    const whole = readFileSync(good.replace('mov', extension).replace(/\.\w+$/, `.${extension}`));
    for (const share of [0.2, 0.5, 0.9]) writeFileSync(join(folder, `cut${share}.${extension}`), whole.subarray(0, Math.floor(whole.length * share)));
    const day = await read(folder);
    expect(faultsOf(day)).toEqual([0.2, 0.5, 0.9].map((share) => `truncated-clip stop cut${share}.${extension}`));
    expect(day.clips.filter(({ usable }) => usable).map(({ file }) => file)).toEqual(['good.mov']);
  });

  it.each(['mov', 'mp4', 'mxf', 'avi', 'r3d', 'exr', 'dpx'])('a text renamed to .%s is unreadable', async (extension) => {
    const folder = dayFolder();
    writeFileSync(join(folder, `a.${extension}`), 'Dear diary, today we shot the twins again.\n'.repeat(40));
    expect(faultsOf(await read(folder))).toEqual([`unreadable-clip stop a.${extension}`]);
  });

  it('a clip that is being written while it is read is still growing', async () => {
    const folder = dayFolder();
    const growing = join(folder, 'growing.mov');
    writeFileSync(growing, readFileSync(good).subarray(0, 3000));
    // What a copy does in the second for which gemel waits.
    const clock = { nowMs: () => Date.now(), pause: async () => appendFileSync(growing, 'more') };
    const day = await read(folder, 600, clock);
    expect(faultsOf(day)).toEqual(['still-growing warn growing.mov']);
    expect(day.clips.find(({ file }) => file === 'growing.mov')).toMatchObject({ usable: false, complete: false });
  });

  it('a clip that may not be read says so, and what to do', async () => {
    const folder = dayFolder();
    copyFileSync(good, join(folder, 'closed.mov'));
    mkdirSync(join(folder, 'folder'));
    chmodSync(folder, 0o755);
    chmodSync(join(folder, 'good.mov'), 0o644);
    chmodSync(join(folder, 'closed.mov'), 0);
    chmodSync(join(folder, 'folder'), 0);
    const day = await withoutRootRights(async () => read(folder));
    expect(faultsOf(day)).toEqual(['unreadable-clip stop closed.mov', 'unreadable-file stop folder']);
    expect(day.clips[0]?.problems[0]).toMatchObject({ found: 'reading it is not permitted', remedy: expect.stringContaining('right to read') });
  });

  it.each(['-x.mov', '@x.mov', 'a b.mov', 'a\nb.mov', `q'"$(x);\`y\`.mov`, 'http:x.mov', 'concat:a|b.mov', 'n%04d.mov', '\u00e9.mov', 'e\u0301.mov', '#x.mov', '~.mov'])(
    'a clip named %j reads like any other, by every program',
    async (name) => {
      const folder = dayFolder();
      copyFileSync(good, join(folder, name));
      copyFileSync(good.replace('.mov', '.avi'), join(folder, `${name}.avi`));
      const day = await read(folder);
      expect(faultsOf(day)).toEqual([]);
      expect(day.clips.filter(({ file }) => file.startsWith(name)).map(({ frames, usable }) => [frames, usable])).toEqual([[24, true], [24, true]]);
    },
  );

  it('twins that differ in how an accent is stored are two clips with a note each', async () => {
    const folder = dayFolder();
    copyFileSync(good, join(folder, 'caf\u00e9.mov'));
    await makeMovie(join(folder, 'cafe\u0301.mov'), { frames: 30 });
    expect(faultsOf(await read(folder))).toEqual(['duplicate-clip note cafe\u0301.mov', 'duplicate-clip note caf\u00e9.mov']);
  });

  it('a copied card is listed and left out', async () => {
    const folder = dayFolder();
    mkdirSync(join(folder, 'copy'));
    copyFileSync(good, join(folder, 'copy/good.mov'));
    const day = await read(folder);
    expect(day.clips.map(({ file, usable }) => [file, usable])).toEqual([['copy/good.mov', true], ['good.mov', false]]);
  });

  it('a picture cut off in a sequence is named', async () => {
    const folder = dayFolder();
    await makeSequence(join(folder, 's'), 'p', 'dpx', 3);
    const path = join(folder, 's/p.0001002.dpx');
    writeFileSync(path, readFileSync(path).subarray(0, 3000));
    expect(faultsOf(await read(folder))).toEqual(['unreadable-file stop s/p.#######.dpx frame 1002']);
  });
});

describe('bad tables and sidecars on a disk', () => {
  const rows = 'File,Slate,Take\r\ngood.mov,27B,3\r\n';

  it.each([
    ['with a byte order mark', Buffer.from(`\uFEFF${rows}`)],
    ['in UTF-16, low byte first', Buffer.from(`\uFEFF${rows}`, 'utf16le')],
    ['in UTF-16, high byte first', Buffer.from(`\uFEFF${rows}`, 'utf16le').swap16()],
  ])('a report %s reads like any other', async (_how, bytes) => {
    const folder = dayFolder();
    writeFileSync(join(folder, 'report.csv'), bytes);
    const day = await read(folder);
    expect(faultsOf(day)).toEqual([]);
    expect(day.notes.map(({ statements }) => statements.map(({ raw }) => raw))).toEqual([['good.mov', '27B', '3']]);
  });

  it.each([
    ['unbalanced quotes', 'File,Slate,Take\ngood.mov,"27B,3\nother.mov,27C,1\n'],
    ['a doubled heading', 'File,Slate,Slate\ngood.mov,27B,28A\n'],
    ['no headings', 'good.mov,27B,3\n'],
    ['a cell that no reader knows', 'File,Slate,T-Stop\ngood.mov,27B,wide open-ish\n'],
    ['no bytes', ''],
    ['bytes that are no text', '\0\u0001\u0002\0'],
  ])('a report with %s names itself', async (_what, text) => {
    const folder = dayFolder();
    writeFileSync(join(folder, 'report.csv'), text);
    const faults = faultsOf(await read(folder));
    expect(faults.length).toBeGreaterThan(0);
    for (const fault of faults) expect(fault).toContain('report.csv');
  });

  it('a sidecar that is a bomb, cut off or of an unknown encoding names itself', async () => {
    const folder = dayFolder();
    writeFileSync(join(folder, 'good.xml'), '<!DOCTYPE a [<!ENTITY b "b">]><a>&b;</a>');
    writeFileSync(join(folder, 'cut.xml'), '<Clip><Scene>27');
    writeFileSync(join(folder, 'odd.xml'), '<?xml version="1.0" encoding="x-nonsense"?><Clip/>');
    expect(faultsOf(await read(folder))).toEqual(['unreadable-file warn cut.xml', 'unreadable-file warn good.xml', 'unreadable-file warn odd.xml']);
  });

  it('a sidecar without a clip and a clip without a sidecar are both brought in, for grouping to tie', async () => {
    const folder = dayFolder();
    writeFileSync(join(folder, 'lost.xml'), '<Clip><Scene>27</Scene></Clip>');
    const day = await read(folder);
    expect(faultsOf(day)).toEqual([]);
    expect(day.notes).toMatchObject([{ kind: 'sidecar', file: 'lost.xml', stem: 'lost' }]);
  });
});

describe('the media', () => {
  it('is not touched: every byte and every time of change is as it was, on media that may only be read too', async () => {
    const folder = dayFolder();
    for (const extension of ['mp4', 'mxf', 'avi']) copyFileSync(good.replace('.mov', `.${extension}`), join(folder, `good.${extension}`));
    await makeSequence(join(folder, 's'), 'p', 'exr', 3);
    writeFileSync(join(folder, 'cut.mov'), readFileSync(good).subarray(0, 3000));
    writeFileSync(join(folder, 'report.csv'), 'File,Slate\ngood.mov,27B\n');
    writeFileSync(join(folder, 'good.xml'), '<Clip><Scene>27</Scene></Clip>');
    const before = fingerprint(folder);
    const first = await read(folder);
    expect(fingerprint(folder)).toEqual(before);
    for (const path of [join(folder, 's'), folder]) chmodSync(path, 0o555);
    const again = await withoutRootRights(async () => read(folder));
    for (const path of [join(folder, 's'), folder]) chmodSync(path, 0o755);
    expect(again).toEqual(first);
    expect(fingerprint(folder)).toEqual(before);
  });
});
