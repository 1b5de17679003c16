import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { frameRate } from '../../../src/core/timecode/rate.ts';
import { parseEdl } from '../../../src/formats/edl/parse-edl.ts';
import { readCuts } from '../../../src/steps/read/read-cuts.ts';
import type { ReadOptions } from '../../../src/steps/read/read-options.ts';
import { sortFiles } from '../../../src/steps/read/sort-files.ts';
import { readClip } from '../../support/make-clips.ts';
import { MemoryStore, memoryPorts, readOptions } from '../../support/memory-ports.ts';

const never = new AbortController().signal;
const line = (reel: string, record = '01:00:00:00 01:00:01:00'): string => `001 ${reel} V C 10:00:00:00 10:00:01:00 ${record}`;

async function read(files: Readonly<Record<string, string>>, options: Partial<ReadOptions> = {}, clips = [readClip('a.mov'), readClip('b.mov'), readClip('c.mov', { fps: frameRate(25) })]) {
  const store = new MemoryStore(Object.fromEntries(Object.entries(files).map(([name, bytes]) => [name, { bytes }])));
  const { files: found } = await store.list();
  return readCuts(sortFiles(found).cuts, clips, memoryPorts(store), { ...readOptions(), ...options }, never);
}

describe('the cut of a day', () => {
  it('is the one that lies among the media', async () => {
    const { cuts, problems } = await read({ 'cut/r1.EDL': line('A1') }, { baseRate: frameRate(24) });
    expect(cuts).toMatchObject([{ file: 'cut/r1.EDL', rate: { num: 24 } }]);
    expect(problems).toEqual([]);
  });

  it('is read at the rate of most clips where the show has none, and that is said', async () => {
    const { cuts, problems } = await read({ 'r1.edl': line('A1') }, { baseRate: undefined });
    expect(cuts).toMatchObject([{ rate: { num: 24, den: 1 } }]);
    expect(problems).toMatchObject([{ severity: 'note', expected: 'read at 24 fps, the rate of most clips, which is assumed' }]);
  });

  it('may be tracks in files of their own', async () => {
    expect((await read({ 'r1_V1.edl': line('A1'), 'r1_V2.edl': line('B1') })).cuts).toHaveLength(2);
  });

  it.each([
    ['versions that show the same at the same place', { 'r1_v1.edl': line('A1'), 'r1_v2.edl': line('A1', '01:00:00:12 01:00:01:12') }],
    ['lists of different names', { 'r1.edl': line('A1'), 'x.edl': line('B1') }],
  ])('is none of %s, and each is told', async (_what, files) => {
    const { cuts, problems } = await read(files, { baseRate: frameRate(24) });
    expect(cuts).toEqual([]);
    expect(problems).toMatchObject([{ code: 'unused-row', severity: 'warn' }, { code: 'unused-row', severity: 'warn' }]);
  });

  it('is the one that is named, whatever else lies there', async () => {
    const files = { 'r1.edl': line('A1'), 'x.edl': line('B1') };
    expect((await read(files, { cuts: ['/media/x.edl'] })).cuts).toMatchObject([{ file: 'x.edl' }]);
  });

  it('that lies among the media and cannot be read is kept as that, beside the track that can', async () => {
    const { cuts } = await read({ 'r1_V1.edl': line('A1'), 'r1_V2.edl': 'nothing here' });
    expect(cuts.map(({ file, events, unread = [] }) => [file, events.length, unread.length])).toEqual([['r1_V1.edl', 1, 0], ['r1_V2.edl', 0, 1]]);
  });

  it('that is not there, or no list, is a problem and ends nothing', async () => {
    const { cuts, problems } = await read({ 'r1.edl': 'nothing here' }, { cuts: ['/media/r1.edl', '/elsewhere/gone.edl'] });
    expect(cuts.map(({ file, events, unread = [] }) => [file, events.length, unread.length])).toEqual([['r1.edl', 0, 1], ['gone.edl', 0, 1]]);
    expect(problems.map(({ code, file }) => [code, file])).toEqual([['unreadable-file', 'r1.edl'], ['unreadable-file', 'gone.edl']]);
  });
});

it('the list in the manual reads without a problem, on two tracks', () => {
  const manual = readFileSync(new URL('../../../docs/cuts.md', import.meta.url), 'utf8');
  const [, text = ''] = /```edl\n([\s\S]*?)```/.exec(manual) ?? [];
  const cut = parseEdl(text, { file: 'r1.edl', rate: frameRate(24) });
  expect(cut.problems).toEqual([]);
  expect(cut.events.map(({ track, markers, source }) => [track, markers[0]?.text, source.range.end - source.range.start])).toEqual([['V1', 'SMR_027_0100', 40], ['V2', undefined, 40]]);
});
