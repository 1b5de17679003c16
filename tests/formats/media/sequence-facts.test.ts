import { describe, expect, it } from 'vitest';
import { sourceOf } from '../../../src/formats/media/byte-source.ts';
import { readExr } from '../../../src/formats/media/exr.ts';
import type { MediaFacts } from '../../../src/formats/media/media-facts.ts';
import { filesToSample, sequenceFacts } from '../../../src/formats/media/sequence-facts.ts';
import { groupSequences } from '../../../src/formats/media/sequence-name.ts';
import { exr, exrFloat, exrRational, exrTimecode } from './build-picture.ts';

/** A sequence of pictures whose header is what `picture` makes of their place in it, read as the read step does. */
async function sequence(frames: number, picture: (index: number) => Uint8Array, skip: readonly number[] = []): Promise<MediaFacts> {
  const indices = Array.from({ length: frames }, (_, index) => index).filter((index) => !skip.includes(index));
  const [group] = groupSequences(indices.map((index) => `p.${String(1001 + index)}.exr`));
  if (group === undefined) throw new Error('no group');
  const samples = await Promise.all(filesToSample(group).map(async ({ name, number }) => ({ name, number, facts: await readExr(sourceOf(picture(number - 1001))) })));
  return sequenceFacts(group, samples);
}

/** HHMMSSFF in decimal digits. */
function word(seconds: number, frames: number): number {
  return Number.parseInt(`0100${String(seconds).padStart(2, '0')}${String(frames).padStart(2, '0')}`, 16);
}

const AT_24 = exrRational('framesPerSecond', 24, 1);
const AT_50 = exrRational('framesPerSecond', 50, 1);

describe('a picture sequence', () => {
  it('starts where its first picture does and counts its files', async () => {
    const facts = await sequence(30, (index) => exr([AT_24, exrTimecode(word(Math.floor(index / 24), index % 24))]), [5, 6]);
    expect(facts).toMatchObject({ container: 'exr', frames: 28, rate: { num: 24, den: 1 }, timecode: { frame: 86_400, format: { base: 24, drop: false } }, problems: [], completeness: { condition: 'whole', complete: true } });
  });

  it('whose timecode stands still or jumps says so', async () => {
    const frozen = await sequence(10, () => exr([AT_24, exrTimecode(word(0, 12))]));
    expect(frozen.problems.map(({ found }) => found)).toEqual(['01:00:00:12 in frame 1001 but 01:00:00:12 in frame 1002']);
    const jump = await sequence(20, (index) => exr([AT_24, exrTimecode(word(index > 15 ? 10 : 0, index))]));
    expect(jump.problems.map(({ found }) => found)).toEqual(['01:00:00:00 in frame 1001 but 01:00:10:19 in frame 1020']);
  });

  it('that lacks timecode in some pictures says so', async () => {
    const facts = await sequence(8, (index) => exr(index === 7 ? [AT_24] : [AT_24, exrTimecode(word(0, index))]));
    expect(facts.problems.map(({ found }) => found)).toEqual(['5 of the 6 pictures looked at']);
  });

  it('above 30 frames a second has labels for pairs of pictures when each stands twice', async () => {
    // ST 12-1 counts frames 0 to 24 at 50 frames a second, one label a pair.
    for (const phase of [0, 1]) {
      const facts = await sequence(40, (index) => exr([AT_50, exrTimecode(word(Math.floor((index + phase) / 50), Math.floor((index + phase) / 2) % 25))]));
      expect(facts).toMatchObject({ rate: { num: 50, den: 1 }, timecodeRate: { num: 25, den: 1 }, timecode: { frame: 90_000, format: { base: 25, drop: false } }, problems: [] });
    }
  });

  it('above 30 frames a second has a label for every picture when they run so', async () => {
    const facts = await sequence(12, (index) => exr([AT_50, exrTimecode(word(0, index))]));
    expect(facts).toMatchObject({ timecodeRate: { num: 50, den: 1 }, timecode: { frame: 180_000, format: { base: 50, drop: false } }, problems: [] });
  });

  it('names what changes along it that should not, and leaves focus alone', async () => {
    const facts = await sequence(10, (index) => exr([AT_24, exrFloat('isoSpeed', index < 9 ? 800 : 1600), exrFloat('focus', 1 + index)]));
    expect(facts.problems.map(({ place, found, expected }) => [place, found, expected])).toEqual([['frame 1010', 'ei 1600', '800 as in frame 1001']]);
  });

  it('is no better than its worst picture, and names it', async () => {
    const facts = await sequence(10, (index) => (index === 9 ? exr().subarray(0, 500) : exr()));
    expect(facts.completeness).toMatchObject({ condition: 'truncated', complete: false });
    expect(facts.completeness.why).toMatch(/^p\.1010\.exr: /u);
    const empty = await sequence(3, (index) => (index === 1 ? new Uint8Array(0) : exr()));
    expect(empty.completeness).toMatchObject({ condition: 'empty', why: 'p.1002.exr: the file holds no bytes' });
  });

  it('names numbers that occur twice', () => {
    const [group] = groupSequences(['p.01.exr', 'p.1.exr']);
    const facts = group === undefined ? undefined : sequenceFacts(group, [{ name: 'p.01.exr', number: 1, facts: { container: 'exr', completeness: { condition: 'whole', complete: true, why: '' }, values: [], texts: [], problems: [], notUnderstood: [], moreMetadata: false } }]);
    expect(facts?.problems.map(({ found }) => found)).toEqual(['frame 1 twice, with different padding']);
  });

  it('is looked at in eight files at the most', () => {
    const [long] = groupSequences(Array.from({ length: 5000 }, (_, index) => `p.${1001 + index}.exr`));
    expect(long === undefined ? [] : filesToSample(long).map(({ number }) => number)).toEqual([1001, 1002, 1003, 1004, 2250, 3500, 4750, 6000]);
  });
});
