import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { frameRate } from '../../../src/core/timecode/rate.ts';
import type { WrittenClip, WrittenTimeline } from '../../../src/formats/otio/format-otio.ts';
import { formatOtio } from '../../../src/formats/otio/format-otio.ts';
import { parseOtio } from '../../../src/formats/otio/parse-otio.ts';

const NTSC = frameRate(24000, 1001);

function clip(name: string, at: number, frames: number, sourceStart: number, more: Partial<WrittenClip> = {}): WrittenClip {
  return { name, at, frames, sourceStart, media: { kind: 'file', url: `${name}.mov` }, ...more };
}

const timeline = (tracks: WrittenTimeline['tracks']): WrittenTimeline => ({ name: 'SMR_027_0100', rate: NTSC, start: 86_400, tracks });
const read = (written: WrittenTimeline) => parseOtio(formatOtio(written), { file: 'shot.otio' });

describe('a written timeline', () => {
  it('gives back the same ranges when it is read', () => {
    const part = fc.tuple(fc.string(), fc.integer({ min: 0, max: 50 }), fc.integer({ min: 1, max: 5000 }), fc.integer({ min: 0, max: 2_073_599 }));
    const tracks = fc.array(fc.array(part, { maxLength: 5 }), { minLength: 1, maxLength: 4 });
    fc.assert(fc.property(tracks, fc.constantFrom(NTSC, frameRate(24), frameRate(25), frameRate(60000, 1001)), (written, rate) => {
      const laid = written.map((parts, index) => {
        let at = 0;
        return {
          name: `track ${index}`,
          clips: parts.map(([name, hole, frames, source]) => {
            const one = clip(`c${name}`, at + hole, frames, source);
            at += hole + frames;
            return one;
          }),
        };
      });
      const back = parseOtio(formatOtio({ name: 'x', rate, start: 3600, tracks: laid }), { file: 'x.otio' });
      expect(back.problems).toEqual([]);
      expect(back.rate).toEqual(rate);
      expect(back.events.map(({ track, record, source }) => [track, record.start, record.end, source.range.start, source.range.end])).toEqual(
        laid.flatMap(({ clips }, index) => clips.map(({ at, frames, sourceStart }) => [`V${index + 1}`, 3600 + at, 3600 + at + frames, sourceStart, sourceStart + frames])),
      );
    }), { numRuns: 60 });
  });

  it('pads every track to one length, so that missing frames are gaps', () => {
    const cut = read(timeline([{ name: 'swapped', clips: [clip('s', 4, 90, 10)] }, { name: 'lead', clips: [clip('l', 0, 96, 100)] }]));
    expect(cut.gaps).toEqual([{ place: 'tracks/0/0', track: 'V1', frames: 4 }, { place: 'tracks/0/2', track: 'V1', frames: 2 }]);
  });

  it('gives back speeds, freezes, markers and sequences', () => {
    const [warped, frozen] = read(timeline([{
      name: 'lead',
      clips: [
        clip('w', 0, 10, 100, { timeScalar: 2, markers: [{ sourceFrame: 104, name: 'contact', comment: 'hand on sleeve' }] }),
        clip('f', 10, 5, 200, { timeScalar: 0, available: { start: 180, end: 300 }, media: { kind: 'sequence', base: 'plates', prefix: 'A.', suffix: '.exr', firstNumber: 1001, padding: 4 } }),
      ],
    }])).events;
    expect(warped).toMatchObject({ retime: { kind: 'speed', ratio: 2 }, source: { range: { start: 100, end: 119 } }, markers: [{ frame: 86_404, text: 'contact hand on sleeve' }] });
    expect(frozen).toMatchObject({ retime: { kind: 'freeze' }, sourceFile: 'plates/A.####.exr', source: { range: { start: 200, end: 201 }, firstNumber: 1001, available: { start: 180, end: 300 } } });
  });

  it('writes whole file numbers without a decimal point and rates as the library does', () => {
    const text = formatOtio(timeline([{ name: 'lead', clips: [clip('l', 0, 1, 0, { media: { kind: 'sequence', base: '', prefix: 'A.', suffix: '.exr', firstNumber: 1001, padding: 4 } })] }]));
    expect(text).toContain('"start_frame": 1001,');
    expect(text).toContain('"rate": 23.976023976023978');
  });

  it('refuses clips that lie over each other, and half frames', () => {
    expect(() => formatOtio(timeline([{ name: 'x', clips: [clip('a', 0, 10, 0), clip('b', 9, 10, 0)] }]))).toThrow(RangeError);
    expect(() => formatOtio(timeline([{ name: 'x', clips: [clip('a', 0, 1.5, 0)] }]))).toThrow(RangeError);
    expect(() => formatOtio(timeline([{ name: 'x', clips: [clip('a', 0, 1, 0, { sourceRate: frameRate(25) })] }]))).toThrow(RangeError);
  });
});
