import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { UnreachableFileError } from '../../../src/core/material/errors.ts';
import type { ReadDay } from '../../../src/core/material/day.ts';
import { readDay } from '../../../src/steps/read/read-day.ts';
import { makeMovie, makeSequence, sharedFolder } from '../../support/make-media.ts';
import type { MemoryFile } from '../../support/memory-ports.ts';
import { memoryPorts, MemoryStore, readOptions } from '../../support/memory-ports.ts';

const never = new AbortController().signal;
const REPORT = 'File,Slate,Take,Lens,T-Stop\nA003C012.mov,27B,3,Halden 35,2.8\n';
let movie: Uint8Array;
let other: Uint8Array;
let pictures: readonly Uint8Array[];

beforeAll(async () => {
  const folder = sharedFolder();
  await makeMovie(join(folder, 'a.mov'), { timecode: '10:00:00:00' });
  await makeMovie(join(folder, 'b.mov'), { timecode: '11:00:00:00', frames: 30 });
  await makeSequence(folder, 'p', 'exr', 4);
  movie = readFileSync(join(folder, 'a.mov'));
  other = readFileSync(join(folder, 'b.mov'));
  pictures = [1, 2, 3, 4].map((number) => readFileSync(join(folder, `p.000100${number}.exr`)));
});

async function read(files: Readonly<Record<string, MemoryFile>>, ...[ports, options]: [Parameters<typeof memoryPorts>[1]?, Parameters<typeof readOptions>[0]?]): Promise<ReadDay> {
  return readDay(memoryPorts(new MemoryStore(files), ports), readOptions(options), never);
}

/** What is wrong with a clip, as code and severity. */
function faultsOf(day: ReadDay, file: string): readonly string[] | undefined {
  return day.clips.find((clip) => clip.file === file)?.problems.map(({ code, severity }) => `${code} ${severity}`);
}

describe('reading a day', () => {
  it('brings in clips with their facts and what the report says', async () => {
    const day = await read({ 'card/A003C012.mov': { bytes: movie }, 'report.csv': { bytes: REPORT } });
    expect(day.clips).toMatchObject([{ file: 'card/A003C012.mov', kind: 'movie', frames: 24, complete: true, usable: true, decodable: true, problems: [] }]);
    const said = day.clips[0]?.statements.map(({ field, value, source }) => [field, value, source.kind]);
    expect(said).toContainEqual(['fps', { num: 24, den: 1 }, 'embedded']);
    expect(said).toContainEqual(['tcIn', '10:00:00:00', 'embedded']);
    expect(said).toContainEqual(['clip', 'C012', 'name']);
    expect(day.notes).toHaveLength(1);
    expect(day.notes[0]?.statements).toContainEqual(expect.objectContaining({ field: 'slate', value: '27B', source: { kind: 'report', file: 'report.csv', place: 'line 2, column "Slate"' } }));
    expect(day.problems).toEqual([]);
  });

  it('reads a sequence as one clip, with its holes', async () => {
    const day = await read(Object.fromEntries([1001, 1002, 1004, 1005].map((number, index) => [`s/p.${number}.exr`, { bytes: pictures[index] ?? '' }])));
    expect(day.clips).toMatchObject([
      { file: 's/p.####.exr', kind: 'sequence', frames: 4, complete: false, completeness: '1 numbers are missing', usable: true, decodable: true, sequence: { first: 1001, last: 1005, missing: [{ start: 1003, end: 1004 }] } },
    ]);
  });

  it('gives the same day whatever the order of the listing, and when the disk answers in another', async () => {
    const files: Record<string, MemoryFile> = {
      'a/A003C012.mov': { bytes: movie },
      'b/A003C012.mov': { bytes: movie },
      'b/A003C013.mov': { bytes: other },
      'b/e\u0301.mov': { bytes: other },
      'b/\u00e9.mov': { bytes: movie },
      'cut.mov': { bytes: movie.subarray(0, 2000) },
      's/p.1001.exr': { bytes: pictures[0] ?? '' },
      's/p.1002.exr': { bytes: pictures[1] ?? '' },
      'report.csv': { bytes: REPORT },
      'log.csv': { bytes: REPORT.replace('27B', '28A') },
      'a/A003C012.xml': { bytes: '<Clip><Scene>27</Scene></Clip>' },
      'sound.wav': {},
      'cut.edl': {},
    };
    const expected = await read(files);
    const names = Object.keys(files);
    await fc.assert(
      fc.asyncProperty(fc.shuffledSubarray(names, { minLength: names.length }), async (shuffled) => {
        const store = new MemoryStore(Object.fromEntries(shuffled.map((name) => [name, files[name] ?? {}])));
        expect(await readDay(memoryPorts(store), readOptions(), never)).toEqual(expected);
        expect(store.held).toBe(0);
      }),
      { numRuns: 20 },
    );
    expect(expected.clips).toHaveLength(7);
  });

  it('tells the progress: every clip once, and all its bytes', async () => {
    const told: string[] = [];
    const progress = {
      start: (task: string, files: number, bytes: number) => void told.push(`${task} ${files} ${bytes}`),
      advance: (files: number, bytes: number) => void told.push(`${files} ${bytes}`),
      done: () => void told.push('done'),
    };
    await read({ 'a.mov': { bytes: movie }, 's/p.1.exr': { bytes: pictures[0] ?? '' }, 'x.csv': { bytes: REPORT } }, { progress });
    const [one, two] = [movie.length, pictures[0]?.length ?? 0];
    expect(told.at(0)).toBe(`reading 2 ${one + two}`);
    expect(told.slice(1, 3).toSorted()).toEqual([`1 ${one}`, `1 ${two}`].toSorted());
    expect(told.slice(3)).toEqual(['done']);
  });

  it('ends at once when it is told to stop', async () => {
    const stop = new AbortController();
    const reading = readDay(memoryPorts(new MemoryStore({ 'a.mov': { hangs: true } })), readOptions(), stop.signal);
    stop.abort(new Error('enough'));
    await expect(reading).rejects.toThrow('enough');
  });
});

describe('faults that cost one clip and no more', () => {
  it('keeps a clip that the system refuses, with the reason and the remedy', async () => {
    const refusal = new UnreachableFileError('reading it is not permitted', 'give the right to read it');
    const day = await read({ 'a.mov': { refusal }, 'b.mov': { bytes: movie } });
    expect(day.clips).toMatchObject([
      { file: 'a.mov', usable: false, complete: null, problems: [{ code: 'unreadable-clip', severity: 'stop', found: 'reading it is not permitted', remedy: 'give the right to read it' }] },
      { file: 'b.mov', usable: true },
    ]);
  });

  it('calls a clip that changes while it is read still growing, and nothing else', async () => {
    const day = await read({ 'a.mov': { bytes: movie.subarray(0, 2000), grows: true }, 'b.mov': { bytes: movie } });
    expect(faultsOf(day, 'a.mov')).toEqual(['still-growing warn']);
    expect(day.clips).toMatchObject([{ usable: false, complete: false }, { usable: true }]);
  });

  it('calls a clip that is cut off and lies still cut off, however lately it was changed', async () => {
    const day = await read({ 'a.mov': { bytes: movie.subarray(0, 2000), modifiedMs: 999_000 } }, {}, { settleSeconds: 10 });
    expect(faultsOf(day, 'a.mov')).toEqual(['truncated-clip stop']);
  });

  it('calls a clip that nothing proves whole still growing within the settling time, and trusts it after', async () => {
    const raw = new Uint8Array([0, 0, 1, 0, ...Buffer.from('RED2'), ...new Uint8Array(800)]);
    const lately = { 'a.r3d': { bytes: raw, modifiedMs: 995_000 } };
    expect(faultsOf(await read(lately, {}, { settleSeconds: 10 }), 'a.r3d')).toEqual(['still-growing warn']);
    expect(faultsOf(await read(lately, {}, { settleSeconds: 4 }), 'a.r3d')).toEqual([]);
    expect(faultsOf(await read(lately, {}, { settleSeconds: 0 }), 'a.r3d')).toEqual([]);
  });

  it('never waits for clips that prove themselves whole', async () => {
    const clock = { nowMs: () => 1_000_000, pause: async () => Promise.reject(new Error('waited')) };
    const day = await read({ 'a.mov': { bytes: movie, modifiedMs: 999_999 } }, { clock }, { settleSeconds: 10 });
    expect(day.clips).toMatchObject([{ usable: true }]);
  });

  it('names the broken pictures of a sequence and keeps the rest', async () => {
    const day = await read({ 'p.1001.exr': { bytes: pictures[0] ?? '' }, 'p.1002.exr': {}, 'p.1003.exr': { bytes: 'these are words' }, 'p.1004.exr': { bytes: pictures[3] ?? '' } });
    expect(day.clips).toMatchObject([{ file: 'p.####.exr', frames: 4, usable: true, complete: false, completeness: '2 pictures are broken' }]);
    expect(day.clips[0]?.problems).toMatchObject([{ code: 'unreadable-file', severity: 'stop', place: 'frame 1002, 1003', found: '2 pictures that are empty or cut off' }]);
  });

  it('does not use a sequence of which no picture reads', async () => {
    const day = await read({ 'p.1001.exr': {}, 'p.1002.exr': {} });
    expect(faultsOf(day, 'p.####.exr')).toEqual(['unreadable-clip stop']);
    expect(day.clips).toMatchObject([{ usable: false }]);
  });

  it('takes no start timecode from a later picture when the first one is broken', async () => {
    const dpx = new Uint8Array(2048 + 64);
    const view = new DataView(dpx.buffer);
    dpx.set(Buffer.from('SDPX'));
    view.setUint32(4, 2048);
    dpx.set(Buffer.from('V2.0'), 8);
    view.setUint32(16, dpx.length);
    view.setUint32(24, 1664);
    view.setUint32(28, 384);
    view.setUint32(772, 4);
    view.setUint32(776, 4);
    view.setFloat32(1940, 24);
    view.setUint32(1920, 0x10000001);
    const second = { 'p.1002.dpx': { bytes: dpx } };
    const said = (day: ReadDay): readonly string[] => day.clips[0]?.statements.map(({ field }) => field) ?? [];
    expect(said(await read(second))).toContain('tcIn');
    expect(said(await read({ 'p.1001.dpx': {}, ...second }))).not.toContain('tcIn');
  });
});

describe('clips that are there twice', () => {
  it('leaves the copy later in path order out of the matching', async () => {
    const day = await read({ 'z/A003C012.mov': { bytes: movie }, 'a/A003C012.MOV': { bytes: movie }, 'b/A003C012.mov': { bytes: other } });
    expect(day.clips.map(({ file, usable }) => [file, usable])).toEqual([['a/A003C012.MOV', true], ['b/A003C012.mov', true], ['z/A003C012.mov', false]]);
    expect(day.clips[2]?.problems).toMatchObject([{ code: 'duplicate-clip', severity: 'note', found: 'the same recording as a/A003C012.MOV' }]);
  });

  it('does not take clips for copies that differ in one byte of their first pictures, or in name', async () => {
    const changed = new Uint8Array(movie);
    const inPicture = Buffer.from(movie).indexOf('mdat') + 500;
    changed[inPicture] = (changed[inPicture] ?? 0) ^ 1;
    const day = await read({ 'a/x.mov': { bytes: movie }, 'b/x.mov': { bytes: changed }, 'b/y.mov': { bytes: movie } });
    expect(day.clips.every(({ usable }) => usable)).toBe(true);
  });

  it('finds sequences that were copied', async () => {
    const frames = (folder: string): Record<string, MemoryFile> => Object.fromEntries(pictures.map((bytes, index) => [`${folder}/p.${1001 + index}.exr`, { bytes }]));
    const day = await read({ ...frames('a'), ...frames('b') });
    expect(day.clips.map(({ file, usable }) => [file, usable])).toEqual([['a/p.####.exr', true], ['b/p.####.exr', false]]);
  });

  it('keeps clips whose names look the same, with a note on each', async () => {
    const day = await read({ 'e\u0301.mov': { bytes: movie }, '\u00e9.mov': { bytes: other }, 'f.mov': { bytes: other } });
    expect(day.clips.map(({ usable, problems }) => [usable, problems.map(({ severity, found }) => `${severity}: ${found.slice(0, 42)}`)])).toEqual([
      [true, ['note: another clip whose name looks the same: it']],
      [true, []],
      [true, ['note: another clip whose name looks the same: it']],
    ]);
  });
});

describe('what is said beside the clips', () => {
  it('names the line of a sidecar that is not XML, and reads the clip without it', async () => {
    const day = await read({ 'a.mov': { bytes: movie }, 'a.xml': { bytes: '<Clip>\n\n<Scene>27</Take></Clip>' } });
    expect(day.problems).toMatchObject([{ code: 'unreadable-file', severity: 'warn', file: 'a.xml', place: 'line 3' }]);
    expect(day.clips).toMatchObject([{ usable: true }]);
  });

  it('refuses an entity bomb at once', async () => {
    const levels = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h', 'i', 'j'];
    const bomb = `<!DOCTYPE x [<!ENTITY a "lol">${levels.slice(1).map((name, index) => `<!ENTITY ${name} "${`&${levels[index]};`.repeat(10)}">`).join('')}]><x>&j;</x>`;
    const day = await read({ 'a.xml': { bytes: bomb } });
    expect(day.problems).toMatchObject([{ file: 'a.xml', found: expect.stringContaining('DOCTYPE') }]);
  });

  it('notes an XML file that says nothing of a clip, a text that is no table, and files it does not use', async () => {
    const day = await read({ 'a.xml': { bytes: '<playlist><entry/></playlist>' }, 'todo.txt': { bytes: 'buy tape' }, 'a.wav': {}, 'b.wav': {}, 'cut.aaf': {} });
    expect(day.notes).toEqual([]);
    expect(day.problems.map(({ code, severity, file, found }) => [code, severity, file, found])).toEqual([
      ['unreadable-file', 'note', 'todo.txt', expect.stringContaining('no heading row')],
      ['unused-sidecar', 'note', 'a.xml', expect.stringContaining('no element')],
      ['unreadable-file', 'note', 'a.wav', '3 files that the check does not use: .aaf (1), .wav (2)'],
    ]);
  });

  it('warns of a table that is none, for it may be the report', async () => {
    const day = await read({ 'report.csv': { bytes: '' } });
    expect(day.problems).toMatchObject([{ code: 'unreadable-file', severity: 'warn', file: 'report.csv', found: 'no text' }]);
  });

  it('lists places that could not be looked into, worse where a clip may hide', async () => {
    const at = (file: string, kind: 'denied' | 'name' | 'link') => ({ file, kind, reason: 'why', remedy: 'what to do' });
    const store = new MemoryStore({}, [at('closed', 'denied'), at('odd.mov', 'name'), at('odd.csv', 'name'), at('other', 'link')]);
    const { problems } = await readDay(memoryPorts(store), readOptions(), never);
    expect(problems.map(({ file, severity, remedy }) => [file, severity, remedy])).toEqual([
      ['closed', 'stop', 'what to do'],
      ['odd.mov', 'stop', 'what to do'],
      ['odd.csv', 'warn', 'what to do'],
      ['other', 'note', 'what to do'],
    ]);
  });

  it('takes the shot list that was asked for and sets others aside with a note', async () => {
    const shots = (shot: string): string => `shot,slate,cut_in,cut_out\n${shot},27B,10:00:00:00,10:00:02:00\n`;
    const files = { 'one.csv': { bytes: shots('A010') }, 'two.csv': { bytes: shots('A020') } };
    expect((await read(files)).shots.map(({ shot }) => shot)).toEqual(['A010', 'A020']);
    const day = await read(files, {}, { shotList: '/media/two.csv' });
    expect(day.shots.map(({ shot }) => shot)).toEqual(['A020']);
    expect(day.problems).toMatchObject([{ code: 'unused-row', severity: 'note', file: 'one.csv' }]);
  });
});

describe('asking other programs', () => {
  const probed = { streams: [{ codec_type: 'video', codec_name: 'h264', width: 64, height: 36, r_frame_rate: '25/1', avg_frame_rate: '25/1', nb_frames: '50' }], format: { format_name: 'avi' } };

  it('asks nobody about a clip whose header says all', async () => {
    const refuse = async () => Promise.reject(new Error('was asked'));
    const day = await read({ 'a.mov': { bytes: movie } }, { probe: { probe: refuse }, tags: { tags: refuse, close: async () => {} } });
    expect(day.clips).toMatchObject([{ usable: true, problems: [] }]);
  });

  it('asks ffprobe about a kind of movie it has no reader for, and says so when there is none', async () => {
    const files = { 'a.avi': { bytes: 'RIFF' } };
    const day = await read(files, { probe: { probe: async () => probed } });
    expect(day.clips).toMatchObject([{ usable: true, complete: null, frames: 50 }]);
    expect((await read(files)).clips).toMatchObject([{ usable: false, problems: [{ code: 'unreadable-clip', found: 'a kind of movie that only ffprobe reads, and there is no ffprobe' }] }]);
  });

  it('says what ffprobe said when it cannot read the file', async () => {
    const day = await read({ 'a.avi': { bytes: 'RIFF' } }, { probe: { probe: async () => Promise.reject(new Error('ffprobe said: Invalid data')) } });
    expect(day.clips).toMatchObject([{ usable: false, problems: [{ code: 'unreadable-clip', found: 'ffprobe said: Invalid data' }] }]);
  });

  it('adds what ExifTool knows where the header leaves something out, and never over the header', async () => {
    const raw = new Uint8Array([0, 0, 1, 0, ...Buffer.from('RED2'), ...new Uint8Array(800)]);
    const tags = { tags: async () => ({ 'Red:FocalLength': 35, 'Red:FNumber': 2.8 }), close: async () => {} };
    const day = await read({ 'a.r3d': { bytes: raw } }, { tags });
    const said = day.clips[0]?.statements.map(({ field, value }) => [field, value]);
    expect(said).toContainEqual(['focalLength', 35]);
    expect(said).toContainEqual(['stop', { kind: 'f', number: 2.8 }]);
    expect(day.clips).toMatchObject([{ kind: 'header-only', decodable: false }]);
  });

  it('does without them when they fail', async () => {
    const raw = new Uint8Array([0, 0, 1, 0, ...Buffer.from('RED2'), ...new Uint8Array(800)]);
    const day = await read({ 'a.r3d': { bytes: raw } }, { tags: { tags: async () => Promise.reject(new Error('no perl')), close: async () => {} } });
    expect(day.clips).toMatchObject([{ usable: true, kind: 'header-only' }]);
  });
});
