import { describe, expect, it } from 'vitest';
import { UnreachableFileError } from '../../../src/core/material/errors.ts';
import type { ReadDay } from '../../../src/core/material/day.ts';
import { readDay } from '../../../src/steps/read/read-day.ts';
import { madeSample } from '../../formats/opentrackio/made-samples.ts';
import type { MemoryFile } from '../../support/memory-ports.ts';
import { memoryPorts, MemoryStore, readOptions } from '../../support/memory-ports.ts';

const never = new AbortController().signal;
const TEN = Array.from({ length: 10 }, (_, frame) => madeSample(frame));
const LINES = TEN.map((sample) => JSON.stringify(sample)).join('\n');

async function read(files: Readonly<Record<string, MemoryFile>>): Promise<ReadDay> {
  return readDay(memoryPorts(new MemoryStore(files)), readOptions(), never);
}

describe('reading what trackers recorded', () => {
  it('brings in a recording of one sample a line, of a list, and of one sample a file', async () => {
    const singles = Object.fromEntries(TEN.map((sample, frame) => [`c/take_${String(frame).padStart(4, '0')}.json`, { bytes: JSON.stringify(sample) }]));
    const { moves, problems } = await read({ 'a/27B-1.jsonl': { bytes: LINES }, 'b/27B-2_frames.json': { bytes: JSON.stringify(TEN) }, ...singles });
    expect(problems).toEqual([]);
    expect(moves?.map(({ file, folder, stem, samples }) => [file, folder, stem, samples.length])).toEqual([
      ['a/27B-1.jsonl', 'a', '27B-1', 10], ['b/27B-2_frames.json', 'b', '27B-2', 10], ['c/take_0000.json', 'c', 'take', 10],
    ]);
  });

  it('leaves a day without moves as it was', async () => {
    expect('moves' in (await read({}))).toBe(false);
  });

  it('passes over other JSON with the one quiet note for files nothing uses', async () => {
    const { moves, problems } = await read({ 'report.json': { bytes: '{"schema":"gemel/report/1"}' }, 'x.json': { bytes: '' }, 'y.jpg': { bytes: 'jpg' } });
    expect(moves).toBeUndefined();
    expect(problems).toEqual([expect.objectContaining({ code: 'unreadable-file', severity: 'note', file: 'report.json', found: '3 files that the check does not use: .jpg (1), .json (2)' })]);
  });

  it('says of samples of another version, with a value that is no number, or as raw packets what is wrong and where', async () => {
    const [first, ...others] = TEN;
    const later = { ...first, protocol: { name: 'OpenTrackIO', version: [2, 0, 0] } };
    const holed = [LINES.split('\n')[0], (LINES.split('\n')[1] ?? '').replace(/"pan":[^,}]+/u, '"pan":NaN'), ...others.slice(1).map((sample) => JSON.stringify(sample))].join('\n');
    const { moves, problems } = await read({ 'later.json': { bytes: JSON.stringify([later]) }, 'holed.jsonl': { bytes: holed }, 'raw.json': { bytes: 'OTrk\u0001\u0000' } });
    expect(moves).toHaveLength(1);
    expect(problems.map(({ file, place, severity }) => [file, place, severity])).toEqual(expect.arrayContaining([
      ['later.json', 'sample 1', 'warn'], ['holed.jsonl', 'line 2', 'warn'], ['raw.json', 'byte 0', 'warn'],
    ]));
    expect(problems.map(({ found }) => found).join('\n')).not.toMatch(/NaN|undefined/u);
  });

  it('goes on when one of the files cannot be read', async () => {
    const { moves, problems } = await read({ 'a.json': { bytes: LINES }, 'b.json': { bytes: LINES, refusal: new UnreachableFileError('permission denied', 'ask') } });
    expect(moves).toHaveLength(1);
    expect(problems).toMatchObject([{ code: 'unreadable-file', file: 'b.json', found: 'permission denied' }]);
  });
});
